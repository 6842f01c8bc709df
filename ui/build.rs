//! Compiles the screens. Debug information stays in: elements are found by their accessible name, in tests
//! and by rehearsal scripts, only when the compiler kept it.
//!
//! With `SPARKOUT_LONG_WORDS=1` there is a third language beside the two, "qps", of English texts drawn out by two
//! fifths: `ui/tests/expansion.rs` shows every screen in it. It is in no program that is released.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    println!("cargo:rerun-if-changed=lang");
    println!("cargo:rerun-if-env-changed=SPARKOUT_LONG_WORDS");
    println!("cargo:rustc-check-cfg=cfg(long_words)");
    let mut words = PathBuf::from("lang");
    if std::env::var("SPARKOUT_LONG_WORDS").is_ok_and(|value| value == "1") {
        println!("cargo:rustc-cfg=long_words");
        words = with_long_words(&words)?;
    }
    let config = slint_build::CompilerConfiguration::new()
        .with_debug_info(true)
        .with_default_translation_context(slint_build::DefaultTranslationContext::None)
        .with_bundled_translations(words);
    slint_build::compile_with_config("slint/app.slint", config)?;
    Ok(())
}

/// A copy of the translations with the long language beside them.
fn with_long_words(words: &Path) -> Result<PathBuf, Box<dyn std::error::Error>> {
    const FILE: &str = "LC_MESSAGES/sparkout-ui.po";
    let folder = PathBuf::from(std::env::var("OUT_DIR")?).join("lang");
    let spanish = std::fs::read_to_string(words.join("es").join(FILE))?;
    let mut long = String::new();
    let mut english = String::new();
    for line in spanish.lines() {
        if let Some(text) = line.strip_prefix("msgid \"").and_then(|rest| rest.strip_suffix('"')) {
            text.clone_into(&mut english);
        }
        if line.starts_with("msgstr \"") && !english.is_empty() {
            writeln!(long, "msgstr \"{}\"", drawn_out(&english))?;
        } else {
            writeln!(long, "{line}")?;
        }
    }
    for (language, text) in [("es", &spanish), ("qps", &long)] {
        std::fs::create_dir_all(folder.join(language).join("LC_MESSAGES"))?;
        std::fs::write(folder.join(language).join(FILE), text)?;
    }
    Ok(folder)
}

/// A text with two fifths more of itself: words of ordinary length, so that lines break where they would.
fn drawn_out(text: &str) -> String {
    let more = (text.chars().count() * 2).div_ceil(5);
    let mut filling = String::new();
    // A single word grows by a tail of its own; it cannot break.
    let parts = if text.contains(' ') { " ambar lento".chars() } else { "esamente".chars() };
    filling.extend(parts.cycle().take(more));
    format!("{text}{}", filling.trim_end())
}
