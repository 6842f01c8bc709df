//! One grind's result as a label tells it.

use crate::quantity::Length;
use crate::reading::Reading;
use jiff::civil::Date;
use serde::{Deserialize, Serialize};
use thiserror::Error;

/// What was found when the reel was proved.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum LabelVerdict {
    /// The cone with its uncertainty lies within the limit.
    Proven,
    /// The cone lies within the limit, but its uncertainty reaches beyond, and a person accepted that by name.
    WithinNotProven,
    /// The work was done; nothing was ground that a cone could be told of.
    Done,
    /// The unit was looked at, and nothing is due.
    Fit,
    /// The unit was looked at, and work is due.
    Due,
}

/// What stands on a label.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LabelContent {
    /// The cutting unit's tag.
    pub unit: String,
    /// The mower's name.
    pub mower: String,
    /// The unit's position on the mower, as its people call it.
    pub position: String,
    /// The day of the grind.
    pub date: Date,
    /// Diameter at the leading end, as read, where the reel was taped.
    #[serde(rename = "lead_nanometres", default)]
    pub lead: Option<Reading>,
    /// Diameter at the trailing end, as read; with the other one or not at all.
    #[serde(rename = "trail_nanometres", default)]
    pub trail: Option<Reading>,
    /// Leading less trailing diameter, where both were read.
    #[serde(rename = "cone_mm", default)]
    pub cone: Option<Length>,
    /// Its expanded uncertainty, 95 %.
    #[serde(rename = "cone_u95_mm", default)]
    pub cone_u95: Option<Length>,
    /// Width of the blade land, where it was taken.
    #[serde(rename = "land_nanometres", default)]
    pub land: Option<Reading>,
    /// Height of cut, where it was set.
    #[serde(rename = "height_of_cut_nanometres", default)]
    pub height_of_cut: Option<Reading>,
    /// The operator's initials.
    pub operator: String,
    /// The station's name.
    pub station: String,
    /// What was found.
    pub verdict: LabelVerdict,
    /// When the unit is due next.
    #[serde(default)]
    pub next_due: Option<Date>,
    /// The visit's id, by which the hub finds it.
    pub grind: String,
}

/// The parts of a label that are text.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Error)]
pub enum FieldName {
    /// [`LabelContent::unit`].
    #[error("unit tag")]
    Unit,
    /// [`LabelContent::mower`].
    #[error("mower name")]
    Mower,
    /// [`LabelContent::position`].
    #[error("position")]
    Position,
    /// [`LabelContent::operator`].
    #[error("operator's initials")]
    Operator,
    /// [`LabelContent::station`].
    #[error("station name")]
    Station,
    /// [`LabelContent::grind`].
    #[error("visit id")]
    Grind,
}

impl FieldName {
    /// The most characters that the record takes. What fits in print depends on the label's size and may be less.
    pub const fn characters_most(self) -> usize {
        match self {
            Self::Unit => 34,
            Self::Mower | Self::Position => 40,
            Self::Operator => 5,
            Self::Station => 24,
            Self::Grind => 40,
        }
    }
}

/// Why a content cannot be put on a label.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum ContentError {
    /// A text that is empty or longer than the record takes.
    #[error("the {field} has {length} characters; a label takes 1 to {most}")]
    FieldLength {
        /// Which.
        field: FieldName,
        /// How many it has.
        length: usize,
        /// The most.
        most: usize,
    },
    /// A control character, or a mark that turns the direction of writing.
    #[error("the {field} holds U+{code:04X}, which a label does not show")]
    FieldCharacter {
        /// Which.
        field: FieldName,
        /// Its code point.
        code: u32,
    },
    /// A computed length that is not a number, or absurdly large; or diameters and cone that are not all there.
    #[error("the cone or its uncertainty is not a length below 1 m, or stands without its diameters")]
    Cone,
    /// A date that the record cannot hold, or a next date before the grind's.
    #[error("a label takes dates from {first} to 180 years later, and a next date not before the grind's")]
    Date {
        /// The first day that the record can hold.
        first: Date,
    },
}

impl LabelContent {
    /// Whether it can be put on a label.
    ///
    /// # Errors
    /// [`ContentError`] with the first thing that cannot.
    pub fn check(&self) -> Result<(), ContentError> {
        let fields = [
            (FieldName::Unit, &self.unit),
            (FieldName::Mower, &self.mower),
            (FieldName::Position, &self.position),
            (FieldName::Operator, &self.operator),
            (FieldName::Station, &self.station),
            (FieldName::Grind, &self.grind),
        ];
        for (field, text) in fields {
            check_text(field, text)?;
        }
        let short = |length: Length| length.is_finite() && length.mm().abs() < 1000.0;
        match (self.lead, self.trail, self.cone, self.cone_u95) {
            (Some(_), Some(_), Some(cone), Some(u95)) if short(cone) && short(u95) && u95 >= Length::ZERO => Ok(()),
            (None, None, None, None) => Ok(()),
            _ => Err(ContentError::Cone),
        }
    }
}

fn check_text(field: FieldName, text: &str) -> Result<(), ContentError> {
    let (length, most) = (text.chars().count(), field.characters_most());
    if text.trim().is_empty() || length > most {
        return Err(ContentError::FieldLength { field, length, most });
    }
    let hidden = |character: &char| {
        character.is_control()
            || matches!(character, '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{feff}')
    };
    match text.chars().find(hidden) {
        Some(character) => Err(ContentError::FieldCharacter { field, code: u32::from(character) }),
        None => Ok(()),
    }
}

/// An invented result, for tests.
#[cfg(test)]
pub(crate) fn test_content() -> LabelContent {
    LabelContent {
        unit: "Q-114".to_owned(),
        mower: "Greens 3".to_owned(),
        position: "front left".to_owned(),
        date: jiff::civil::date(2026, 11, 25),
        lead: Some(Reading::from_nanometres(126_949_200)),
        trail: Some(Reading::from_nanometres(126_936_500)),
        cone: Some(Length::from_mm(0.0127)),
        cone_u95: Some(Length::from_mm(0.007_301)),
        land: Some(Reading::from_nanometres(1_016_000)),
        height_of_cut: Some(Reading::from_nanometres(3_175_000)),
        operator: "MS".to_owned(),
        station: "Bench A".to_owned(),
        verdict: LabelVerdict::Proven,
        next_due: Some(jiff::civil::date(2027, 3, 1)),
        grind: "A7-000412".to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn checked_fields() {
        assert_eq!(test_content().check(), Ok(()));
        let long = LabelContent { unit: "Ñ".repeat(35), ..test_content() };
        let refusal = ContentError::FieldLength { field: FieldName::Unit, length: 35, most: 34 };
        assert_eq!(long.check(), Err(refusal));
        let blank = LabelContent { mower: "  ".to_owned(), ..test_content() };
        assert!(matches!(blank.check(), Err(ContentError::FieldLength { field: FieldName::Mower, .. })));
        let turned = LabelContent { station: "A\u{202e}B".to_owned(), ..test_content() };
        let refusal = ContentError::FieldCharacter { field: FieldName::Station, code: 0x202e };
        assert_eq!(turned.check(), Err(refusal));
        let nan = LabelContent { cone_u95: Some(Length::from_mm(f64::NAN)), ..test_content() };
        assert_eq!(nan.check(), Err(ContentError::Cone));
        let negative = LabelContent { cone_u95: Some(Length::from_mm(-0.001)), ..test_content() };
        assert_eq!(negative.check(), Err(ContentError::Cone));
        let half = LabelContent { trail: None, ..test_content() };
        assert_eq!(half.check(), Err(ContentError::Cone));
        let untaped = LabelContent { lead: None, trail: None, cone: None, cone_u95: None, ..test_content() };
        assert_eq!(untaped.check(), Ok(()));
    }
}
