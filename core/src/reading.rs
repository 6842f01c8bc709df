//! What a person read off an instrument and typed: exact, and parsed here so that no screen's idea of
//! a decimal comma can change it.

use crate::quantity::Length;
use serde::{Deserialize, Serialize};
use thiserror::Error;

/// A recorded reading in whole nanometres; 0.00001 in is 254 of them, so nothing a gauge shows is rounded.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Reading(i64);

/// The unit a length is typed and shown in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Units {
    /// Inches throughout, as decimals.
    #[default]
    Inch,
    /// Dial, indicator and differences in thousandths of an inch; diameters and lands in inches.
    Thou,
    /// Millimetres throughout.
    Metric,
}

/// What kind of length is meant, which decides its unit in thousandths mode.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum LengthKind {
    /// A size: diameter, land, height of cut.
    Size,
    /// A dial value, an indicator value, a difference.
    Fine,
}

/// The unit of one entry.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum EntryUnit {
    /// Inches.
    Inch,
    /// Thousandths of an inch.
    Thou,
    /// Millimetres.
    Millimetre,
}

/// Why a typed number was not taken.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum EntryError {
    /// Nothing was typed.
    #[error("no number was entered")]
    Empty,
    /// Not a decimal number.
    #[error("{text:?} is not a number")]
    NotANumber {
        /// What was typed, cut to 24 characters.
        text: String,
    },
    /// More decimals than any instrument at this bench shows.
    #[error("{text} has more than {most} decimals")]
    TooFine {
        /// What was typed.
        text: String,
        /// The most decimals that are taken in this unit.
        most: usize,
    },
    /// More digits than any length at this bench needs.
    #[error("{text} is larger than any length at this bench")]
    TooLarge {
        /// What was typed.
        text: String,
    },
}

impl Units {
    /// The unit that a length of this kind is typed and shown in.
    pub const fn entry_unit(self, kind: LengthKind) -> EntryUnit {
        match (self, kind) {
            (Self::Inch, _) | (Self::Thou, LengthKind::Size) => EntryUnit::Inch,
            (Self::Thou, LengthKind::Fine) => EntryUnit::Thou,
            (Self::Metric, _) => EntryUnit::Millimetre,
        }
    }
}

impl EntryUnit {
    const fn nanometres_each(self) -> i64 {
        match self {
            Self::Inch => 25_400_000,
            Self::Thou => 25_400,
            Self::Millimetre => 1_000_000,
        }
    }

    /// The most decimals of this unit that are a whole number of nanometres and still mean something.
    const fn decimals_most(self) -> usize {
        match self {
            Self::Inch => 5,
            Self::Thou => 2,
            Self::Millimetre => 4,
        }
    }

    /// The length of one of this unit.
    pub const fn length(self) -> Length {
        match self {
            Self::Inch => Length::from_inches(1.0),
            Self::Thou => Length::from_inches(0.001),
            Self::Millimetre => Length::from_mm(1.0),
        }
    }
}

/// Whole digits beyond which nothing at this bench is that long (9999 of any unit).
const WHOLE_DIGITS_MOST: usize = 4;

impl Reading {
    /// Zero, where a dial was set to it.
    pub const ZERO: Self = Self(0);

    /// From whole nanometres.
    pub const fn from_nanometres(nanometres: i64) -> Self {
        Self(nanometres)
    }

    /// The value in whole nanometres.
    pub const fn nanometres(self) -> i64 {
        self.0
    }

    /// Parses what was typed. A point or a comma marks the decimals; digits are never grouped. `+`, `-` and `−` are taken.
    ///
    /// # Errors
    /// [`EntryError`] when it is empty, not a decimal number, finer than an instrument shows, or absurdly large.
    pub fn parse(text: &str, unit: EntryUnit) -> Result<Self, EntryError> {
        let typed = text.trim();
        if typed.is_empty() {
            return Err(EntryError::Empty);
        }
        let shown = || typed.chars().take(24).collect::<String>();
        let not_a_number = || EntryError::NotANumber { text: shown() };
        let (negative, digits) = match typed.strip_prefix(['-', '−']) {
            Some(rest) => (true, rest),
            None => (false, typed.strip_prefix('+').unwrap_or(typed)),
        };
        let (whole, decimals) = digits.split_once(['.', ',']).unwrap_or((digits, ""));
        let all_digits = |part: &str| part.bytes().all(|byte| byte.is_ascii_digit());
        if (whole.is_empty() && decimals.is_empty()) || !all_digits(whole) || !all_digits(decimals) {
            return Err(not_a_number());
        }
        if whole.trim_start_matches('0').len() > WHOLE_DIGITS_MOST {
            return Err(EntryError::TooLarge { text: shown() });
        }
        let most = unit.decimals_most();
        let decimals = decimals.trim_end_matches('0');
        if decimals.len() > most {
            return Err(EntryError::TooFine { text: shown(), most });
        }
        let scaled: i64 = format!("0{whole}{decimals:0<most$}").parse().map_err(|_| not_a_number())?;
        let nanometres = scaled * (unit.nanometres_each() / 10_i64.pow(most as u32));
        Ok(Self(if negative { -nanometres } else { nanometres }))
    }

    /// The decimal number that means this reading when it is typed in a unit, without trailing noughts; what no
    /// instrument shows in that unit is cut.
    pub fn typed_in(self, unit: EntryUnit) -> String {
        let most = unit.decimals_most();
        let step = unit.nanometres_each() / 10_i64.pow(most as u32);
        let steps = (self.0 / step).unsigned_abs();
        let (whole, decimals) = (steps / 10_u64.pow(most as u32), steps % 10_u64.pow(most as u32));
        let text = format!("{}{whole}.{decimals:0most$}", if self.0 < 0 { "-" } else { "" });
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    }

    /// As a length to compute with.
    pub fn length(self) -> Length {
        Length::from_mm(self.0 as f64 / 1e6)
    }
}

impl From<Reading> for Length {
    fn from(reading: Reading) -> Self {
        reading.length()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str, unit: EntryUnit, nanometres: i64) {
        assert_eq!(Reading::parse(text, unit), Ok(Reading(nanometres)), "{text} {unit:?}");
    }

    #[test]
    fn exact_in_every_unit() {
        check("5.020", EntryUnit::Inch, 127_508_000);
        check("0.0001", EntryUnit::Inch, 2_540);
        check("26", EntryUnit::Thou, 660_400);
        check("-0.05", EntryUnit::Thou, -1_270);
        check("127.508", EntryUnit::Millimetre, 127_508_000);
        check(" +5,02 ", EntryUnit::Inch, 127_508_000);
        check("−6", EntryUnit::Thou, -152_400);
        check(".5", EntryUnit::Millimetre, 500_000);
        check("5.", EntryUnit::Millimetre, 5_000_000);
        check("5.0200000000", EntryUnit::Inch, 127_508_000);
    }

    #[test]
    fn typed_again_is_the_same_reading() {
        for (nanometres, unit, text) in [
            (127_508_000, EntryUnit::Inch, "5.02"),
            (127_508_000, EntryUnit::Millimetre, "127.508"),
            (-660_400, EntryUnit::Thou, "-26"),
            (12_700, EntryUnit::Inch, "0.0005"),
            (0, EntryUnit::Thou, "0"),
        ] {
            assert_eq!(Reading(nanometres).typed_in(unit), text);
            check(text, unit, nanometres);
        }
    }

    #[test]
    fn refused_with_the_reason() {
        let parse = |text| Reading::parse(text, EntryUnit::Inch);
        assert_eq!(parse(""), Err(EntryError::Empty));
        for text in [".", "-", "1.2.3", "1e3", "NaN", "inf", "0x10", "5 0", "١", "5.0\u{202e}1"] {
            assert!(matches!(parse(text), Err(EntryError::NotANumber { .. })), "{text}");
        }
        assert!(matches!(parse("5.0000001"), Err(EntryError::TooFine { most: 5, .. })));
        assert!(matches!(parse("123456"), Err(EntryError::TooLarge { .. })));
        assert!(matches!(parse(&"9".repeat(10_000)), Err(EntryError::TooLarge { .. })));
    }
}
