//! An angle as somebody read and typed it.

use crate::quantity::Angle;
use crate::reading::{EntryError, EntryUnit, Reading};
use serde::{Deserialize, Serialize};

/// An angle in whole hundredths of a degree, finer than any protractor at a bench shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize)]
#[serde(transparent)]
pub struct AngleReading(i64);

/// Typed degrees take the way of typed millimetres: the digits are the same, and so is what is refused about them.
const NANOMETRES_A_HUNDREDTH: i64 = 10_000;

impl AngleReading {
    /// From whole hundredths of a degree.
    pub const fn from_hundredths(hundredths: i64) -> Self {
        Self(hundredths)
    }

    /// The value in whole hundredths of a degree.
    pub const fn hundredths(self) -> i64 {
        self.0
    }

    /// Parses degrees as they were typed, as a [`Reading`] is.
    ///
    /// # Errors
    /// [`EntryError`] when it is empty, not a decimal number, finer than two decimals, or absurdly large.
    pub fn parse(text: &str) -> Result<Self, EntryError> {
        let typed = Reading::parse(text, EntryUnit::Millimetre)?.nanometres();
        if typed % NANOMETRES_A_HUNDREDTH != 0 {
            return Err(EntryError::TooFine { text: text.trim().chars().take(24).collect(), most: 2 });
        }
        Ok(Self(typed / NANOMETRES_A_HUNDREDTH))
    }

    /// As an angle to compute with.
    pub const fn angle(self) -> Angle {
        Angle::from_degrees(self.0 as f64 / 100.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn typed_as_degrees() {
        assert_eq!(AngleReading::parse("5"), Ok(AngleReading(500)));
        assert_eq!(AngleReading::parse(" 14,75 "), Ok(AngleReading(1_475)));
        assert!((AngleReading(1_475).angle().degrees() - 14.75).abs() < 1e-12);
        assert!(matches!(AngleReading::parse("5.001"), Err(EntryError::TooFine { most: 2, .. })));
        assert!(matches!(AngleReading::parse("five"), Err(EntryError::NotANumber { .. })));
    }
}
