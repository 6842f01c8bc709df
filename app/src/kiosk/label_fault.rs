//! What the label's and the printer's errors are for the person at the bench.

use crate::label::PrintError;
use crate::label::error::{LabelError, LineName};
use sparkout_core::label::ContentError;
use sparkout_ui::words::{LabelFault, LabelLine};

pub(super) fn of_label(error: &LabelError) -> LabelFault {
    match error {
        LabelError::Content(content) => of_content(content),
        LabelError::Size { .. } | LabelError::Resolution { .. } => LabelFault::Size,
        LabelError::NotAlphanumeric { .. } | LabelError::AddressTooLong { .. } => LabelFault::Address,
        LabelError::NoRoomForCode { needed, available } | LabelError::NoRoomForText { needed, available } => {
            LabelFault::NoRoom { needed: *needed, available: *available }
        }
        LabelError::TextTooLong { line, .. } | LabelError::Clipped { line } => {
            LabelFault::LineTooLong { line: line_of(*line) }
        }
        LabelError::NoGlyph { line, character } => LabelFault::NoGlyph { line: line_of(*line), character: *character },
        LabelError::NoCode | LabelError::ReadsDifferently => LabelFault::ReadsDifferently,
        LabelError::Typeface | LabelError::Picture { .. } | LabelError::Encoding { .. } => LabelFault::NotDrawn,
    }
}

fn of_content(error: &ContentError) -> LabelFault {
    match error {
        ContentError::FieldLength { field, most, .. } => LabelFault::NameLength { field: *field, most: *most },
        ContentError::FieldCharacter { field, .. } => LabelFault::NameCharacter { field: *field },
        ContentError::Cone => LabelFault::Cone,
        ContentError::Date { .. } => LabelFault::Date,
    }
}

const fn line_of(line: LineName) -> LabelLine {
    match line {
        LineName::Tag => LabelLine::Tag,
        LineName::Verdict => LabelLine::Verdict,
        LineName::Place => LabelLine::Place,
        LineName::Diameters => LabelLine::Diameters,
        LineName::Cone => LabelLine::Cone,
        LineName::LandAndCut => LabelLine::LandAndCut,
        LineName::Done => LabelLine::Done,
        LineName::Due => LabelLine::Due,
    }
}

pub(super) fn of_printer(error: &PrintError) -> LabelFault {
    match error {
        PrintError::NoFolder { folder } | PrintError::NotAFolder { folder } => {
            LabelFault::NoFolder { folder: folder.display().to_string() }
        }
        PrintError::NotWritable { folder } => LabelFault::NotWritable { folder: folder.display().to_string() },
        PrintError::DiskFull { .. } => LabelFault::DiskFull,
        PrintError::Write { folder, .. } => LabelFault::NotWritten { folder: folder.display().to_string() },
        PrintError::Picture(error) => of_label(error),
        PrintError::Queue(_) => LabelFault::QueueNotKept,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use sparkout_core::label::FieldName;
    use sparkout_ui::screen::{Language, Settings};
    use sparkout_ui::words::{Said, said};
    use std::path::PathBuf;

    #[test]
    fn what_stops_a_label_is_told_in_the_person_s_language() {
        let spanish = Settings { language: Language::Spanish, ..Settings::default() };
        let told = |fault| said(&Said::LabelFailed { fault }, spanish);
        let missing = of_printer(&PrintError::NoFolder { folder: PathBuf::from("labels") });
        assert_eq!(
            told(missing),
            "No se imprimió la etiqueta: no existe la carpeta de etiquetas labels; créela o configure otra. Intente de nuevo."
        );
        let long = LabelError::Content(ContentError::FieldLength { field: FieldName::Mower, length: 50, most: 40 });
        assert!(told(of_label(&long)).contains("el nombre de la máquina"));
        let wide = LabelError::Clipped { line: LineName::Diameters };
        assert!(told(of_label(&wide)).contains("la línea de los diámetros no cabe"));
        let full = of_printer(&PrintError::DiskFull { folder: PathBuf::from("labels") });
        assert!(said(&Said::LabelFailed { fault: full }, Settings::default()).contains("the disk is full"));
    }
}
