//! What becomes of scanners that are devices of their own.

use super::say;
use crate::screen::Settings;

/// One thing about a scanner.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum ScannerNews {
    /// It is not there.
    Gone {
        /// Where it is looked for.
        source: String,
    },
    /// It is there again.
    Back,
    /// A picture has no code that can be read.
    NoCode {
        /// Its name.
        file: String,
    },
}

/// As one sentence, with what to do.
pub(super) fn news(news: &ScannerNews, settings: Settings) -> String {
    match news {
        ScannerNews::Gone { source } => say!(
            settings,
            "The scanner at {source} is not there. Check its plug and cable; the screen takes everything meanwhile.",
            "El lector en {source} no está. Revise su enchufe y cable; mientras tanto todo se puede hacer en la pantalla.",
        ),
        ScannerNews::Back => say!(settings, "The scanner is back.", "El lector está de vuelta."),
        ScannerNews::NoCode { file } => say!(
            settings,
            "No code can be read in {file}. Take the picture again, straight from above and in good light.",
            "No se puede leer ningún código en {file}. Tome la foto otra vez, de frente y con buena luz.",
        ),
    }
}
