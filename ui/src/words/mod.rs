//! Sentences whose making needs a match over typed causes: refusals, questions, what a scan was.
//!
//! Every match is exhaustive, so that a new cause cannot be met without words. Fixed words of the screens are
//! translated by the screens themselves.

pub mod about;
mod ask;
mod cards;
mod due;
mod fault;
mod first_start;
mod form;
mod gate;
mod health;
mod intake;
mod label_fault;
mod label_read;
mod lockout;
mod manners;
mod noise;
mod pins;
mod place;
mod printer;
mod refusal;
mod refusal_setting;
pub(crate) mod say_type;
mod scan;
pub mod tour;
mod type_field;
mod wheel;
mod witness;

pub use ask::{answer_name, question, too_fine};
pub use cards::{CardName, RoundName, card_in_hand};
pub use due::{due_now, due_reason, set_text};
pub use fault::{RecordFault, fault, record_fault};
pub use first_start::{FirstValue, first_choices, first_value, first_value_explained};
pub use form::{FormValue, form_choices, form_value, form_value_explained};
pub use gate::{block, reference};
pub use health::*;
pub use intake::ScannerNews;
pub use label_fault::{LabelFault, LabelLine};
pub use lockout::{lock_on, lock_was_taken_off, lockout_refusal};
pub use manners::{Manners, setting_name, setting_range, setting_value};
pub use noise::{noise, noise_short};
pub use pins::{PinSaid, pin_field};
pub use place::{due, knife_asked_for, override_question, override_reasons, place_label, play};
pub use printer::{PrinterTrouble, trouble as printer_trouble};
pub use refusal::{entry, lapse, refusal, stage_name};
pub use scan::{Said, is_refusal, said, scan};
pub use type_field::{Made, TypeField, frame_choice, made_choice, type_asks, type_assumed, type_field};
pub use wheel::{
    WheelLine, past_wheel, ring_test, smallest_by, wheel_inspected, wheel_line, wheel_mounted_at, wheel_refusal,
    wheel_undescribed,
};
pub use witness::{Witness, alarm, is_alarm, witness};

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

/// One of two texts, in the person's language.
pub fn either(settings: Settings, english: &str, spanish: &str) -> String {
    match settings.language {
        Language::English => english.to_owned(),
        Language::Spanish => spanish.to_owned(),
    }
}

/// A place as it stands in the middle of a sentence.
fn place_name(place: Place, language: Language) -> &'static str {
    let (english, spanish) = match place {
        Place::Lead => ("the leading end", "el extremo de entrada"),
        Place::Trail => ("the trailing end", "el extremo de salida"),
        Place::Centre => ("the middle", "el centro"),
        Place::Land => ("the land", "la faja de filo"),
        Place::HeightOfCut => ("the height of cut", "la altura de corte"),
        Place::RearLeft => ("the roller, your left", "el rodillo, a su izquierda"),
        Place::RearRight => ("the roller, your right", "el rodillo, a su derecha"),
        Place::LandLead => ("the land at the leading end", "la faja en el extremo de entrada"),
        Place::LandTrail => ("the land at the trailing end", "la faja en el extremo de salida"),
        Place::TopAngle => ("the bedknife’s top angle", "el ángulo superior de la contracuchilla"),
        Place::FrontAngle => ("the bedknife’s front angle", "el ángulo frontal de la contracuchilla"),
        Place::Thickness => ("the bedknife’s thickness", "el espesor de la contracuchilla"),
        Place::HeightWanted => ("the height wanted", "la altura deseada"),
        Place::HeightLeft => ("the height of cut at your left", "la altura de corte a su izquierda"),
        Place::HeightRight => ("the height of cut at your right", "la altura de corte a su derecha"),
        Place::EdgeLeft => ("the edge over the plate at your left", "el filo sobre el mármol a su izquierda"),
        Place::EdgeRight => ("the edge over the plate at your right", "el filo sobre el mármol a su derecha"),
        Place::GapLeft => ("the gap at your left", "la holgura a su izquierda"),
        Place::GapRight => ("the gap at your right", "la holgura a su derecha"),
        Place::Minutes => ("the minutes lapped", "los minutos de asentado"),
        Place::Grit => ("the grit", "el grano"),
        Place::BearingPlay => ("the play of the reel bearings", "el juego de los rodamientos del molinete"),
        Place::RollerPlay => ("the play of the rollers", "el juego de los rodillos"),
    };
    match language {
        Language::English => english,
        Language::Spanish => spanish,
    }
}

/// In which kind of length a place is read; nothing means the dial.
pub const fn kind_of(place: Option<Place>) -> LengthKind {
    match place {
        Some(
            Place::RearLeft
            | Place::RearRight
            | Place::GapLeft
            | Place::GapRight
            | Place::BearingPlay
            | Place::RollerPlay,
        )
        | None => LengthKind::Fine,
        Some(_) => LengthKind::Size,
    }
}

fn shown(value: Reading, place: Option<Place>, settings: Settings) -> String {
    figures::reading_with_unit(value, kind_of(place), settings)
}

/// A limit computed from a reading, which needs no more decimals than a computed length.
fn shown_limit(value: Reading, place: Option<Place>, settings: Settings) -> String {
    match kind_of(place) {
        LengthKind::Size => figures::with_unit(value.length(), LengthKind::Size, settings),
        LengthKind::Fine => figures::signed_with_unit(value.length(), settings),
    }
}
