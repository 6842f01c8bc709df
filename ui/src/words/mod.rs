//! Sentences whose making needs a match over typed causes: refusals, questions, what a scan was.
//!
//! Every match is exhaustive, so that a new cause cannot be met without words. Fixed words of the screens are
//! translated by the screens themselves.

mod ask;
mod fault;
mod gate;
mod refusal;
pub(crate) mod say_type;
mod scan;
mod type_field;

pub use ask::{answer_name, question, too_fine};
pub use fault::{RecordFault, fault, record_fault};
pub use gate::{block, reference};
pub use refusal::{entry, lapse, refusal};
pub use scan::{Said, is_refusal, said, scan};
pub use type_field::{TypeField, type_field};

use crate::present::figures;
use crate::screen::{Language, Settings};
use sparkout_core::reading::{LengthKind, Reading};
use sparkout_core::visit::event::Place;

/// Picks the sentence of the language in force.
macro_rules! say {
    ($settings:expr, $english:literal, $spanish:literal $(,)?) => {
        match $settings.language {
            $crate::screen::Language::English => format!($english),
            $crate::screen::Language::Spanish => format!($spanish),
        }
    };
}
use say;

/// A place as it stands in the middle of a sentence.
fn place_name(place: Place, language: Language) -> &'static str {
    let (english, spanish) = match place {
        Place::Lead => ("the leading end", "el extremo de entrada"),
        Place::Trail => ("the trailing end", "el extremo de salida"),
        Place::Centre => ("the middle", "el centro"),
        Place::Land => ("the land", "la faja de filo"),
        Place::HeightOfCut => ("the height of cut", "la altura de corte"),
        Place::RearLeft => ("the rear roller, your left", "el rodillo trasero, a su izquierda"),
        Place::RearRight => ("the rear roller, your right", "el rodillo trasero, a su derecha"),
    };
    match language {
        Language::English => english,
        Language::Spanish => spanish,
    }
}

const fn kind_of(place: Option<Place>) -> LengthKind {
    match place {
        Some(Place::Lead | Place::Trail | Place::Centre | Place::Land | Place::HeightOfCut) => LengthKind::Size,
        Some(Place::RearLeft | Place::RearRight) | None => LengthKind::Fine,
    }
}

fn shown(value: Reading, place: Option<Place>, settings: Settings) -> String {
    figures::reading_with_unit(value, kind_of(place), settings.units)
}

/// A limit computed from a reading, which needs no more decimals than a computed length.
fn shown_limit(value: Reading, place: Option<Place>, settings: Settings) -> String {
    match kind_of(place) {
        LengthKind::Size => figures::with_unit(value.length(), LengthKind::Size, settings.units),
        LengthKind::Fine => figures::signed_with_unit(value.length(), settings.units),
    }
}
