//! What a lead may change at the kiosk while it runs: which settings there are, what each may be, and by how much a
//! press of "more" or "less" moves it.
//!
//! The defaults stand in the configuration. Every range is common practice, not a standard, and is one place where a
//! wrong press cannot do harm: no tolerance can be opened so far that it says nothing, and no clearance can be made to
//! stand for a shift.

use crate::reading::{Reading, Units};
use serde::{Deserialize, Serialize};
use thiserror::Error;

/// A setting of the shop.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Setting {
    /// Tilt of the reel axis between the touch stations, real height.
    TiltLimit,
    /// Error of the rear roller between the reading places, real height.
    RearLimit,
    /// Cone after grinding, on diameter.
    ConeLimit,
    /// Infeed of a pass, on diameter.
    Infeed,
    /// Passes without infeed at the end.
    SparkoutPasses,
    /// A complete checklist lapses when nothing is started for so long.
    LapseAfter,
    /// The screen dims when nobody did anything for so long; 0 minutes: never.
    DimAfter,
    /// Width of the panel's picture.
    PanelWidth,
    /// Nothing on the screen moves.
    ReducedMotion,
    /// A badge asks for its PIN.
    AskPin,
}

/// What a setting is set to. It is kept in the journal as it stands here.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum SettingValue {
    /// On or off.
    On(bool),
    /// Whole minutes.
    Minutes(u32),
    /// How many.
    Count(u32),
    /// A length, whole nanometres.
    Length(Reading),
}

/// Why a setting cannot be so.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum SettingError {
    /// Outside its range.
    #[error("{setting:?} is {value:?}; from {least:?} to {most:?} is taken")]
    OutOfRange {
        /// Which.
        setting: Setting,
        /// What it should have been.
        value: SettingValue,
        /// The least.
        least: SettingValue,
        /// The most.
        most: SettingValue,
    },
    /// A number of minutes for a length, or the like.
    #[error("{setting:?} cannot be {value:?}")]
    OtherKind {
        /// Which.
        setting: Setting,
        /// What it should have been.
        value: SettingValue,
    },
}

/// 0.0005 in.
const HALF_THOU: i64 = 12_700;
const MILLIMETRE: i64 = 1_000_000;

const fn length(nanometres: i64) -> SettingValue {
    SettingValue::Length(Reading::from_nanometres(nanometres))
}

impl Setting {
    /// All of them, as they stand on the screen.
    pub const ALL: [Self; 10] = [
        Self::TiltLimit,
        Self::RearLimit,
        Self::ConeLimit,
        Self::Infeed,
        Self::SparkoutPasses,
        Self::LapseAfter,
        Self::DimAfter,
        Self::PanelWidth,
        Self::ReducedMotion,
        Self::AskPin,
    ];

    /// The least and the most that is taken; for a switch, off and on.
    pub const fn range(self) -> (SettingValue, SettingValue) {
        match self {
            // A tolerance below half a thousandth cannot be proven by tape and touch; above ten it says nothing
            // (common practice: 1 is good work, 2 the usual limit, 10 the end of a welded frame).
            Self::TiltLimit | Self::RearLimit | Self::ConeLimit => (length(HALF_THOU), length(20 * HALF_THOU)),
            // Touch-up grinds take 0.002 to 0.010 in off the diameter altogether (common practice).
            Self::Infeed => (length(HALF_THOU), length(20 * HALF_THOU)),
            Self::SparkoutPasses => (SettingValue::Count(0), SettingValue::Count(50)),
            Self::LapseAfter => (SettingValue::Minutes(1), SettingValue::Minutes(60)),
            Self::DimAfter => (SettingValue::Minutes(0), SettingValue::Minutes(120)),
            Self::PanelWidth => (length(100 * MILLIMETRE), length(1000 * MILLIMETRE)),
            Self::ReducedMotion | Self::AskPin => (SettingValue::On(false), SettingValue::On(true)),
        }
    }

    /// Whether it may be set so.
    ///
    /// # Errors
    /// [`SettingError`] with what is allowed.
    pub fn check(self, value: SettingValue) -> Result<(), SettingError> {
        let (least, most) = self.range();
        let (Some(at), Some(from), Some(to)) = (value.number(least), least.number(least), most.number(least)) else {
            return Err(SettingError::OtherKind { setting: self, value });
        };
        if (from..=to).contains(&at) {
            return Ok(());
        }
        Err(SettingError::OutOfRange { setting: self, value, least, most })
    }

    /// The next value up or down, on the marks that a person of these units counts in, and never out of range.
    pub fn stepped(self, value: SettingValue, units: Units, up: bool) -> SettingValue {
        let (least, most) = self.range();
        let step = self.step(value, units, up);
        let moved = |at: i64| if up { (at.div_euclid(step) + 1) * step } else { (at - 1).div_euclid(step) * step };
        let Some(at) = value.number(least) else { return least };
        let (from, to) = (least.number(least).unwrap_or(at), most.number(least).unwrap_or(at));
        least.with(moved(at).clamp(from, to))
    }

    /// By how much a press moves it, in the unit that its numbers count.
    fn step(self, value: SettingValue, units: Units, up: bool) -> i64 {
        match self {
            Self::TiltLimit | Self::RearLimit | Self::ConeLimit | Self::Infeed => match units {
                Units::Metric => MILLIMETRE / 100,
                Units::Inch | Units::Thou => HALF_THOU,
            },
            Self::PanelWidth => MILLIMETRE,
            Self::SparkoutPasses | Self::ReducedMotion | Self::AskPin => 1,
            // Nobody presses a hundred times: long times move in larger steps.
            Self::LapseAfter | Self::DimAfter => match value {
                SettingValue::Minutes(minutes) if minutes > 10 || (minutes == 10 && up) => 5,
                _ => 1,
            },
        }
    }
}

impl SettingValue {
    /// The number behind it, if it is of the same kind as another.
    const fn number(self, kind: Self) -> Option<i64> {
        match (self, kind) {
            (Self::On(on), Self::On(_)) => Some(on as i64),
            (Self::Minutes(number), Self::Minutes(_)) | (Self::Count(number), Self::Count(_)) => Some(number as i64),
            (Self::Length(length), Self::Length(_)) => Some(length.nanometres()),
            (Self::On(_) | Self::Minutes(_) | Self::Count(_) | Self::Length(_), _) => None,
        }
    }

    /// The same kind with another number.
    fn with(self, number: i64) -> Self {
        let whole = u32::try_from(number).unwrap_or(0);
        match self {
            Self::On(_) => Self::On(number > 0),
            Self::Minutes(_) => Self::Minutes(whole),
            Self::Count(_) => Self::Count(whole),
            Self::Length(_) => Self::Length(Reading::from_nanometres(number)),
        }
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used)]
    use super::*;

    #[test]
    fn the_ends_of_each_range_are_taken_and_what_lies_beyond_is_refused() {
        for setting in Setting::ALL {
            let (least, most) = setting.range();
            assert_eq!((setting.check(least), setting.check(most)), (Ok(()), Ok(())));
            let (below, above) = (least.number(least).unwrap() - 1, most.number(least).unwrap() + 1);
            if let SettingValue::Length(_) = least {
                assert!(setting.check(least.with(below)).is_err() && setting.check(least.with(above)).is_err());
            }
        }
        let beyond = Setting::LapseAfter.check(SettingValue::Minutes(61)).unwrap_err();
        assert!(beyond.to_string().contains("from Minutes(1) to Minutes(60)"), "{beyond}");
        assert!(matches!(
            Setting::TiltLimit.check(SettingValue::Minutes(3)),
            Err(SettingError::OtherKind { setting: Setting::TiltLimit, .. })
        ));
    }

    #[test]
    fn steps_stay_on_the_marks_and_within_the_range() {
        let thou = |setting: Setting, from, up| setting.stepped(length(from), Units::Thou, up);
        assert_eq!(thou(Setting::TiltLimit, 4 * HALF_THOU, true), length(5 * HALF_THOU));
        assert_eq!(thou(Setting::TiltLimit, 4 * HALF_THOU, false), length(3 * HALF_THOU));
        // A value between the marks goes to the next one.
        assert_eq!(thou(Setting::ConeLimit, 4 * HALF_THOU + 1, false), length(4 * HALF_THOU));
        assert_eq!(Setting::ConeLimit.stepped(length(50_800), Units::Metric, true), length(60_000));
        for setting in Setting::ALL {
            let (least, most) = setting.range();
            assert_eq!(setting.stepped(least, Units::Thou, false), least);
            assert_eq!(setting.stepped(most, Units::Metric, true), most);
            let mut at = least;
            for _ in 0..2000 {
                at = setting.stepped(at, Units::Metric, true);
            }
            assert_eq!(at, most, "{setting:?}: the top can be reached by pressing");
        }
    }

    #[test]
    fn minutes_move_faster_when_they_are_many() {
        let stepped = |minutes, up| Setting::DimAfter.stepped(SettingValue::Minutes(minutes), Units::Inch, up);
        assert_eq!([stepped(9, true), stepped(10, true)], [SettingValue::Minutes(10), SettingValue::Minutes(15)]);
        assert_eq!([stepped(15, false), stepped(10, false)], [SettingValue::Minutes(10), SettingValue::Minutes(9)]);
    }

    #[test]
    fn as_the_journal_keeps_it() {
        let text = serde_json::to_string(&(Setting::ConeLimit, length(50_800))).unwrap();
        assert_eq!(text, r#"["cone_limit",{"length":50800}]"#);
    }
}
