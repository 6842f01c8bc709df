//! A length as it is written in the configuration: a number and its unit.

use serde::Deserialize;
use sparkout_core::reading::{EntryUnit, Reading};

/// A length written as `"0.002 in"`, `"2 thou"` or `"0.05 mm"`.
#[derive(Debug, Clone, Copy, Deserialize)]
#[serde(try_from = "String")]
pub struct TextLength(pub Reading);

impl TryFrom<String> for TextLength {
    type Error = String;

    fn try_from(text: String) -> Result<Self, String> {
        let wanted = || format!("{text:?} is not a length; write it as \"0.002 in\", \"2 thou\" or \"0.05 mm\"");
        let (number, unit) = text.trim().rsplit_once(' ').ok_or_else(wanted)?;
        let unit = match unit {
            "in" => EntryUnit::Inch,
            "thou" => EntryUnit::Thou,
            "mm" => EntryUnit::Millimetre,
            _ => return Err(wanted()),
        };
        Reading::parse(number, unit).map(Self).map_err(|error| format!("{text:?}: {error}"))
    }
}
