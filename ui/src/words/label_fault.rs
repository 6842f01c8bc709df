//! Why no label was printed, typed, in both languages.

use super::say;
use crate::present::figures;
use crate::screen::Settings;
use sparkout_core::label::FieldName;
use sparkout_core::quantity::Length;
use sparkout_core::reading::{LengthKind, Units};

/// A line of the label.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[allow(missing_docs, reason = "the names say it")]
pub enum LabelLine {
    Tag,
    Verdict,
    Place,
    Diameters,
    Cone,
    LandAndCut,
    Done,
    Due,
}

/// Why a label was not made or not written.
#[derive(Debug, Clone, PartialEq)]
pub enum LabelFault {
    /// A name that is empty or longer than a label takes.
    NameLength {
        /// Which.
        field: FieldName,
        /// The most characters.
        most: usize,
    },
    /// A name with a character that cannot be printed.
    NameCharacter {
        /// Which.
        field: FieldName,
    },
    /// A cone that is no length.
    Cone,
    /// A date that a label does not take.
    Date,
    /// The label's size or resolution is none that is drawn.
    Size,
    /// The hub's address does not fit into a code.
    Address,
    /// The code or the text needs more room.
    NoRoom {
        /// What it needs.
        needed: Length,
        /// What there is.
        available: Length,
    },
    /// A line that does not fit.
    LineTooLong {
        /// Which.
        line: LabelLine,
    },
    /// A character that the typeface does not have.
    NoGlyph {
        /// Which line.
        line: LabelLine,
        /// The character.
        character: char,
    },
    /// The drawn code does not read as what was meant.
    ReadsDifferently,
    /// The build is broken, or the picture could not be put together.
    NotDrawn,
    /// The folder is not there, or is no folder.
    NoFolder {
        /// Which.
        folder: String,
    },
    /// The folder takes no files from this program.
    NotWritable {
        /// Which.
        folder: String,
    },
    /// The disk is full.
    DiskFull,
    /// The printer's queue could not be written.
    QueueNotKept,
    /// Anything else that the system says; the log has its words.
    NotWritten {
        /// Where.
        folder: String,
    },
}

fn field_name(field: FieldName, settings: Settings) -> String {
    match field {
        FieldName::Unit => say!(settings, "the unit’s tag", "la placa de la unidad"),
        FieldName::Mower => say!(settings, "the mower’s name", "el nombre de la máquina"),
        FieldName::Position => say!(settings, "the position", "la posición"),
        FieldName::Operator => say!(settings, "the operator’s initials", "las iniciales del operador"),
        FieldName::Station => say!(settings, "the bench’s name", "el nombre del banco"),
        FieldName::Grind => say!(settings, "the visit’s name", "el nombre del trabajo"),
    }
}

fn line_name(line: LabelLine, settings: Settings) -> String {
    match line {
        LabelLine::Tag => say!(settings, "the tag", "la placa"),
        LabelLine::Verdict => say!(settings, "the verdict", "el resultado"),
        LabelLine::Place => say!(settings, "the mower’s line", "la línea de la máquina"),
        LabelLine::Diameters => say!(settings, "the line with the diameters", "la línea de los diámetros"),
        LabelLine::Cone => say!(settings, "the line with the cone", "la línea del cono"),
        LabelLine::LandAndCut => say!(settings, "the line with land and cut", "la línea de faja y corte"),
        LabelLine::Done => say!(settings, "the line with date and operator", "la línea de fecha y operador"),
        LabelLine::Due => say!(settings, "the line with the next date", "la línea de la próxima fecha"),
    }
}

/// Millimetres whatever the person's unit: labels are bought in them.
fn room(length: Length, settings: Settings) -> String {
    format!(
        "{} {}",
        figures::number(length.mm(), 1, settings),
        figures::sign_of(LengthKind::Size, Settings { units: Units::Metric, ..settings })
    )
}

/// What stood in the way, as the middle of a sentence.
pub(super) fn why(fault: &LabelFault, settings: Settings) -> String {
    match fault {
        LabelFault::NameLength { field, most } => {
            let field = field_name(*field, settings);
            say!(
                settings,
                "{field} is empty or longer than {most} characters",
                "{field}: falta o pasa de {most} caracteres",
            )
        }
        LabelFault::NameCharacter { field } => {
            let field = field_name(*field, settings);
            say!(
                settings,
                "{field} holds a character that cannot be printed",
                "{field}: tiene un carácter que no se imprime",
            )
        }
        LabelFault::Cone => say!(settings, "the cone is no length", "el cono no es una medida"),
        LabelFault::Date => say!(
            settings,
            "the clock’s date does not fit on a label; set the clock",
            "la fecha del reloj no cabe en una etiqueta; ponga el reloj en hora",
        ),
        LabelFault::Size => say!(
            settings,
            "no label of this size and resolution is drawn; correct the settings of the label",
            "no se dibujan etiquetas de este tamaño y resolución; corrija los ajustes de la etiqueta",
        ),
        LabelFault::Address => say!(
            settings,
            "the hub’s address does not fit into the code; take a shorter one",
            "la dirección del servidor no cabe en el código; use una más corta",
        ),
        LabelFault::NoRoom { needed, available } => {
            let (needed, available) = (room(*needed, settings), room(*available, settings));
            say!(
                settings,
                "{needed} are needed and the label has {available}; shorten names or take a larger label",
                "se necesitan {needed} y la etiqueta tiene {available}; acorte nombres o use una más grande",
            )
        }
        LabelFault::LineTooLong { line } => {
            let line = line_name(*line, settings);
            say!(
                settings,
                "{line} does not fit; shorten it or take a larger label",
                "{line} no cabe; acórtela o use una etiqueta más grande",
            )
        }
        LabelFault::NoGlyph { line, character } => {
            let line = line_name(*line, settings);
            say!(
                settings,
                "{line} holds “{character}”, which the label’s letters do not have",
                "{line} tiene «{character}», que no existe en la letra de la etiqueta",
            )
        }
        LabelFault::ReadsDifferently => say!(
            settings,
            "the drawn code does not read as what was meant",
            "el código dibujado no se lee como se quiso",
        ),
        LabelFault::NotDrawn => say!(settings, "it could not be drawn", "no se pudo dibujar"),
        LabelFault::NoFolder { folder } => say!(
            settings,
            "the label folder {folder} is not there; create it or set another",
            "no existe la carpeta de etiquetas {folder}; créela o configure otra",
        ),
        LabelFault::NotWritable { folder } => say!(
            settings,
            "the label folder {folder} cannot be written to; tell a lead",
            "no se puede escribir en la carpeta de etiquetas {folder}; avise al encargado",
        ),
        LabelFault::QueueNotKept => say!(
            settings,
            "the print queue cannot be written; tell a lead",
            "no se puede escribir la cola de impresión; avise al encargado",
        ),
        LabelFault::DiskFull => say!(settings, "the disk is full; make room", "el disco está lleno; haga lugar"),
        LabelFault::NotWritten { folder } => say!(
            settings,
            "it could not be written to {folder}; the log says why",
            "no se pudo escribir en {folder}; el registro del equipo dice por qué",
        ),
    }
}
