//! The embedded typefaces, as TTF bytes: Atkinson Hyperlegible, SIL Open Font License 1.1 (the licence lies beside the files).

/// For words.
pub static NEXT_REGULAR: &[u8] = include_bytes!("../fonts/AtkinsonHyperlegibleNext_400Regular.ttf");
/// For words that matter.
pub static NEXT_BOLD: &[u8] = include_bytes!("../fonts/AtkinsonHyperlegibleNext_700Bold.ttf");
/// For figures.
pub static MONO_REGULAR: &[u8] = include_bytes!("../fonts/AtkinsonHyperlegibleMono_400Regular.ttf");
/// For figures that matter.
pub static MONO_BOLD: &[u8] = include_bytes!("../fonts/AtkinsonHyperlegibleMono_700Bold.ttf");
