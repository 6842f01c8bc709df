//! The record cannot be used, or an event could not be kept in it.

use super::say;
use crate::screen::{Fault, Settings};

/// What is wrong with the journal, as far as the person at the bench must know.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum RecordFault {
    /// The disk is full.
    Full,
    /// The folder or file cannot be written.
    Unwritable,
    /// The file is damaged; it was set aside under this name where that was possible.
    Damaged {
        /// The file's new name.
        set_aside: Option<String>,
    },
    /// The file was made by a newer version; it was set aside under this name where that was possible.
    Newer {
        /// The file's new name.
        set_aside: Option<String>,
    },
    /// Another kiosk process uses the same folder.
    InUse,
    /// The station's key does not belong to the journal, or is missing.
    KeyMissing,
    /// Something else; the log has the details.
    Other,
}

/// Why an event was not kept, in one sentence.
pub fn record_fault(fault: &RecordFault, settings: Settings) -> String {
    match fault {
        RecordFault::Full => say!(
            settings,
            "Not kept: the disk is full. Free space, then do it again.",
            "No se guardó: el disco está lleno. Libere espacio y hágalo de nuevo.",
        ),
        RecordFault::Unwritable => say!(
            settings,
            "Not kept: the record's folder cannot be written. Tell a lead, then do it again.",
            "No se guardó: no se puede escribir en la carpeta del registro. Avise al encargado y hágalo de nuevo.",
        ),
        RecordFault::Damaged { .. }
        | RecordFault::Newer { .. }
        | RecordFault::InUse
        | RecordFault::KeyMissing
        | RecordFault::Other => say!(
            settings,
            "Not kept: the record cannot be used. Stop, and tell a lead.",
            "No se guardó: el registro no se puede usar. Deténgase y avise al encargado.",
        ),
    }
}

/// The whole-screen words when the record cannot be opened.
pub fn fault(fault: &RecordFault, folder: &str, settings: Settings) -> Fault {
    let title = match fault {
        RecordFault::Full => say!(settings, "The disk is full", "El disco está lleno"),
        RecordFault::Unwritable => say!(settings, "The record cannot be written", "No se puede escribir el registro"),
        RecordFault::Damaged { .. } => say!(settings, "The record is damaged", "El registro está dañado"),
        RecordFault::Newer { .. } => {
            say!(settings, "The record is from a newer version", "El registro es de una versión más nueva")
        }
        RecordFault::InUse => say!(settings, "The record is in use", "El registro está en uso"),
        RecordFault::KeyMissing => say!(settings, "The station's key is missing", "Falta la llave de la estación"),
        RecordFault::Other => say!(settings, "The record cannot be opened", "No se puede abrir el registro"),
    };
    let detail = match fault {
        RecordFault::Damaged { set_aside: Some(name) } | RecordFault::Newer { set_aside: Some(name) } => {
            say!(settings, "It was set aside, untouched, as {name}.", "Se apartó, sin tocarlo, como {name}.",)
        }
        RecordFault::Damaged { set_aside: None }
        | RecordFault::Newer { set_aside: None }
        | RecordFault::Full
        | RecordFault::Unwritable
        | RecordFault::InUse
        | RecordFault::KeyMissing
        | RecordFault::Other => say!(settings, "It lies in {folder}.", "Está en {folder}."),
    };
    let advice = match fault {
        RecordFault::Full => say!(settings, "Free space, then start again.", "Libere espacio y vuelva a iniciar."),
        RecordFault::Unwritable => say!(
            settings,
            "Make the folder writable for the kiosk, then start again.",
            "Permita que el equipo escriba en la carpeta y vuelva a iniciar.",
        ),
        RecordFault::Damaged { .. } => say!(
            settings,
            "Restore the last backup, or start again with an empty record.",
            "Restaure el último respaldo o vuelva a iniciar con un registro vacío.",
        ),
        RecordFault::Newer { .. } => say!(
            settings,
            "Install the newer version and put the file back, or start again with an empty record.",
            "Instale la versión nueva y devuelva el archivo, o vuelva a iniciar con un registro vacío.",
        ),
        RecordFault::InUse => say!(
            settings,
            "Close the other kiosk on this machine, then start again.",
            "Cierre el otro programa en este equipo y vuelva a iniciar.",
        ),
        RecordFault::KeyMissing => say!(
            settings,
            "Put the file station.key back beside the record, then start again.",
            "Devuelva el archivo station.key junto al registro y vuelva a iniciar.",
        ),
        RecordFault::Other => say!(
            settings,
            "Start again. If it stays so, tell a lead; the log has the details.",
            "Vuelva a iniciar. Si continúa, avise al encargado; los detalles están en la bitácora.",
        ),
    };
    Fault { title, detail, advice }
}
