//! What keeps a printer from printing, and what to do about it.

use super::say;
use crate::screen::Settings;

/// Why a label is not out yet, or never came.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PrinterTrouble {
    /// Nothing answers at its address.
    Unreachable {
        /// Its address.
        at: String,
    },
    /// The connection stands and no answer comes in time, or it breaks off.
    Silent {
        /// Its address.
        at: String,
    },
    /// What answers is no printer, or none that speaks this way.
    NotAPrinter {
        /// Its address.
        at: String,
    },
    /// No labels left in it.
    OutOfMedia,
    /// Its cover or door is open.
    DoorOpen,
    /// A label is stuck in it.
    Jammed,
    /// Its ribbon is used up.
    OutOfRibbon,
    /// Somebody paused it.
    Paused,
    /// It is switched off, or not connected to what prints for it.
    Offline,
    /// It takes no jobs.
    NotAccepting,
    /// It wants something else, in its own word.
    Attention {
        /// The word.
        keyword: String,
    },
    /// It cannot print labels of this size.
    Size {
        /// Across, millimetres.
        width_mm: String,
        /// Down, millimetres.
        height_mm: String,
    },
    /// It prints at other resolutions than the label is drawn for.
    Resolution {
        /// What the label is drawn for, dots per inch.
        drawn: u32,
        /// What it prints at, dots per inch.
        prints: Vec<u32>,
    },
    /// It takes no picture of a kind that is written here.
    Format,
    /// It refused the job.
    Refused {
        /// Its own word.
        status: String,
    },
    /// It gave the job up.
    Aborted,
    /// Somebody cancelled the job at the printer.
    Cancelled,
    /// The job may have been printed or not; asking again could make a second label.
    InDoubt,
    /// The queue itself could not be kept.
    QueueNotKept,
}

/// What is wrong, as the beginning of a sentence, and what to do.
pub fn trouble(trouble: &PrinterTrouble, settings: Settings) -> String {
    match trouble {
        PrinterTrouble::Unreachable { at } => say!(
            settings,
            "the printer does not answer at {at}: check that it is on and its cable is in",
            "la impresora no responde en {at}: revise que esté encendida y su cable conectado",
        ),
        PrinterTrouble::Silent { at } => say!(
            settings,
            "the printer at {at} took the connection and then fell silent: switch it off and on",
            "la impresora en {at} aceptó la conexión y dejó de responder: apáguela y enciéndala",
        ),
        PrinterTrouble::NotAPrinter { at } => say!(
            settings,
            "what answers at {at} is no printer of this kind: check [printer] in the configuration",
            "lo que responde en {at} no es una impresora de este tipo: revise [printer] en la configuración",
        ),
        PrinterTrouble::Refused { status } => say!(
            settings,
            "the printer refused the label ({status}): check size and resolution in the configuration",
            "la impresora rechazó la etiqueta ({status}): revise tamaño y resolución en la configuración",
        ),
        PrinterTrouble::Attention { keyword } => say!(
            settings,
            "the printer wants attention ({keyword}): look at it",
            "la impresora pide atención ({keyword}): revísela",
        ),
        PrinterTrouble::Size { .. } | PrinterTrouble::Resolution { .. } | PrinterTrouble::Format => {
            unfit(trouble, settings)
        }
        PrinterTrouble::OutOfMedia
        | PrinterTrouble::DoorOpen
        | PrinterTrouble::Jammed
        | PrinterTrouble::OutOfRibbon
        | PrinterTrouble::Paused
        | PrinterTrouble::Offline
        | PrinterTrouble::NotAccepting => at_printer(trouble, settings),
        PrinterTrouble::Aborted
        | PrinterTrouble::Cancelled
        | PrinterTrouble::InDoubt
        | PrinterTrouble::QueueNotKept => ended(trouble, settings),
    }
}

fn unfit(trouble: &PrinterTrouble, settings: Settings) -> String {
    match trouble {
        PrinterTrouble::Size { width_mm, height_mm } => say!(
            settings,
            "the printer has no labels of {width_mm} × {height_mm} mm: load them, or set another size",
            "la impresora no tiene etiquetas de {width_mm} × {height_mm} mm: cárguelas o configure otro tamaño",
        ),
        PrinterTrouble::Resolution { drawn, prints } => {
            let prints: Vec<String> = prints.iter().map(u32::to_string).collect();
            let prints = prints.join(", ");
            say!(
                settings,
                "the label is drawn for {drawn} dpi and the printer prints at {prints}: set label.dpi",
                "la etiqueta está dibujada a {drawn} dpi y la impresora imprime a {prints}: corrija label.dpi",
            )
        }
        _ => say!(
            settings,
            "the printer takes neither PWG raster nor PNG: use another printer or a queue before it",
            "la impresora no acepta ni trama PWG ni PNG: use otra impresora o una cola intermedia",
        ),
    }
}

fn at_printer(trouble: &PrinterTrouble, settings: Settings) -> String {
    match trouble {
        PrinterTrouble::OutOfMedia => say!(
            settings,
            "the printer is out of labels: load a roll",
            "la impresora se quedó sin etiquetas: cargue un rollo",
        ),
        PrinterTrouble::DoorOpen => {
            say!(settings, "the printer's cover is open: close it", "la tapa de la impresora está abierta: ciérrela",)
        }
        PrinterTrouble::Jammed => say!(
            settings,
            "a label is stuck in the printer: take it out",
            "hay una etiqueta atascada en la impresora: sáquela",
        ),
        PrinterTrouble::OutOfRibbon => {
            say!(settings, "the printer's ribbon is used up: change it", "se acabó la cinta de la impresora: cámbiela",)
        }
        PrinterTrouble::Paused => say!(
            settings,
            "the printer is paused: press its button to go on",
            "la impresora está en pausa: pulse su botón para seguir",
        ),
        PrinterTrouble::Offline => say!(
            settings,
            "the printer is off or not connected: switch it on and check its cable",
            "la impresora está apagada o desconectada: enciéndala y revise su cable",
        ),
        _ => say!(
            settings,
            "the printer takes no jobs now: look at its own settings",
            "la impresora no acepta trabajos ahora: revise sus propios ajustes",
        ),
    }
}

fn ended(trouble: &PrinterTrouble, settings: Settings) -> String {
    match trouble {
        PrinterTrouble::Aborted => say!(
            settings,
            "the printer gave the label up: look at it, then print again",
            "la impresora abandonó la etiqueta: revísela y luego imprima de nuevo",
        ),
        PrinterTrouble::Cancelled => say!(
            settings,
            "the label was cancelled at the printer: print again if it is still wanted",
            "la etiqueta se canceló en la impresora: imprima de nuevo si aún hace falta",
        ),
        PrinterTrouble::QueueNotKept => say!(
            settings,
            "the print queue cannot be written: tell a lead",
            "no se puede escribir la cola de impresión: avise al encargado",
        ),
        _ => say!(
            settings,
            "the printer lost the job and nobody knows whether the label came out: if it did, scan it; if not, print again",
            "la impresora perdió el trabajo y no se sabe si la etiqueta salió: si salió, escanéela; si no, imprima de nuevo",
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::screen::Language;
    use std::collections::BTreeSet;

    #[test]
    fn every_trouble_has_its_own_words_and_says_what_to_do() {
        let at = || "192.0.2.7".to_owned();
        let all = [
            PrinterTrouble::Unreachable { at: at() },
            PrinterTrouble::Silent { at: at() },
            PrinterTrouble::NotAPrinter { at: at() },
            PrinterTrouble::OutOfMedia,
            PrinterTrouble::DoorOpen,
            PrinterTrouble::Jammed,
            PrinterTrouble::OutOfRibbon,
            PrinterTrouble::Paused,
            PrinterTrouble::Offline,
            PrinterTrouble::NotAccepting,
            PrinterTrouble::Attention { keyword: "cutter-error".to_owned() },
            PrinterTrouble::Size { width_mm: "62".to_owned(), height_mm: "29".to_owned() },
            PrinterTrouble::Resolution { drawn: 203, prints: vec![300, 600] },
            PrinterTrouble::Format,
            PrinterTrouble::Refused { status: "not-possible".to_owned() },
            PrinterTrouble::Aborted,
            PrinterTrouble::Cancelled,
            PrinterTrouble::InDoubt,
            PrinterTrouble::QueueNotKept,
        ];
        for language in [Language::English, Language::Spanish] {
            let settings = Settings { language, ..Settings::default() };
            let told: BTreeSet<String> = all.iter().map(|one| trouble(one, settings)).collect();
            assert_eq!(told.len(), all.len());
            assert!(told.iter().all(|words| words.contains(':')), "{told:?}");
        }
    }
}
