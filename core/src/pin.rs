//! A person's PIN at the bench: what may be one, what of it stands in the journal, and when a badge is locked.
//!
//! A PIN says whose hand it probably was, and no more: it is attribution, not protection. Four digits can be watched over
//! a shoulder, told to a colleague, or tried through by whoever has both the file and the pepper. Nothing of a PIN, not
//! even its length, is ever in an entry.

use crate::moment::Moment;
use serde::{Deserialize, Serialize};
use std::fmt;
use std::time::Duration;
use thiserror::Error;
use zeroize::Zeroizing;

/// The fewest digits that a shop may ask.
pub const DIGITS_LEAST: u32 = 4;
/// The most.
pub const DIGITS_MOST: u32 = 8;

/// Digits that a person typed where a PIN is asked. Its memory is wiped when it goes, and `{:?}` does not show it.
///
/// It has no `Display`, no `Serialize` and no way into a text but [`Pin::digits`], which only the hash may use.
#[derive(Clone, PartialEq, Eq)]
pub struct Pin(Zeroizing<String>);

/// Why something typed is no PIN. What was typed is not told.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
#[error("a PIN is {DIGITS_LEAST} to {DIGITS_MOST} digits")]
pub struct NotAPin;

impl Pin {
    /// Takes what was typed.
    ///
    /// # Errors
    /// [`NotAPin`] when it is not [`DIGITS_LEAST`] to [`DIGITS_MOST`] digits 0 to 9.
    pub fn new(typed: &str) -> Result<Self, NotAPin> {
        let length = u32::try_from(typed.len()).unwrap_or(u32::MAX);
        if !(DIGITS_LEAST..=DIGITS_MOST).contains(&length) || !typed.bytes().all(|digit| digit.is_ascii_digit()) {
            return Err(NotAPin);
        }
        Ok(Self(Zeroizing::new(typed.to_owned())))
    }

    /// The digits themselves, for the hash and for nothing else.
    pub fn digits(&self) -> &str {
        &self.0
    }

    /// How many digits.
    pub fn length(&self) -> u32 {
        u32::try_from(self.0.len()).unwrap_or(u32::MAX)
    }

    /// Whether it is among the first that anybody tries: one digit throughout, or a run up or down. Common practice.
    pub fn is_easy(&self) -> bool {
        let digits = self.0.as_bytes();
        let steps = |by: i16| digits.windows(2).all(|pair| i16::from(pair[1]) - i16::from(pair[0]) == by);
        steps(0) || steps(1) || steps(-1)
    }
}

impl fmt::Debug for Pin {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str("Pin(not shown)")
    }
}

/// What the journal says about a badge's PIN.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum PinEvent {
    /// The badge's first PIN was chosen, by whoever held the badge.
    Set,
    /// Its owner chose another, after typing the one before.
    Changed,
    /// A lead took it away; the next use of the badge chooses a new one.
    Reset,
    /// Somebody at the machine's own command line took it away.
    Forgotten,
    /// A wrong one was typed.
    Wrong {
        /// How many in a row, this one included.
        in_a_row: u32,
    },
    /// The badge takes no PIN for a while.
    Locked {
        /// For so many minutes.
        minutes: u32,
    },
}

/// A shop's rules for PINs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PinRules {
    /// Digits of a new one.
    pub digits: u32,
    /// Wrong ones in a row after which the badge is locked.
    pub tries: u32,
    /// For how many minutes.
    pub lock_minutes: u32,
}

/// How a badge stands: wrong tries in a row, and its lock. It follows from the journal alone, so a restart keeps it.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PinGuard {
    /// Wrong ones in a row.
    pub wrong: u32,
    /// The last lock.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lock: Option<PinLock>,
}

/// A badge's lock.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PinLock {
    /// When it began.
    pub at: Moment,
    /// For how many minutes, as the rules stood then.
    pub minutes: u32,
}

impl PinGuard {
    /// How it stands after an entry about this badge.
    #[must_use]
    pub fn after(&self, event: PinEvent, at: &Moment) -> Self {
        match event {
            PinEvent::Set | PinEvent::Changed | PinEvent::Reset | PinEvent::Forgotten => Self::default(),
            PinEvent::Wrong { in_a_row } => Self { wrong: in_a_row, lock: None },
            PinEvent::Locked { minutes } => Self { wrong: 0, lock: Some(PinLock { at: at.clone(), minutes }) },
        }
    }

    /// Whether nothing stands against the badge.
    pub fn is_clear(&self) -> bool {
        *self == Self::default()
    }

    /// How long the lock still holds, or `None` where there is none. `run_began` is when this run of the process began.
    ///
    /// Only time that cannot be set counts: the wall clock is not asked, so that turning it opens nothing. What that
    /// count cannot do is bridge a restart, since how long the machine was off is told by no clock that is trusted here:
    /// a lock from before the restart begins again in full. It may last longer than it says, never shorter.
    pub fn locked_for(&self, now: &Moment, run_began: &Moment) -> Option<Duration> {
        let lock = self.lock.as_ref()?;
        let served = now.since(&lock.at).or_else(|| now.since(run_began)).unwrap_or_default();
        let left = Duration::from_secs(u64::from(lock.minutes) * 60).checked_sub(served)?;
        (!left.is_zero()).then_some(left)
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used)]
    use super::*;

    fn at(minutes: u64, wall_ahead_minutes: i64, boot: &str) -> Moment {
        let wall = 1_780_000_000 + (i64::try_from(minutes).unwrap() + wall_ahead_minutes) * 60;
        let wall = jiff::Timestamp::from_second(wall).unwrap();
        Moment { wall, monotonic_ms: minutes * 60_000, boot: boot.to_owned() }
    }

    fn locked(at: &Moment) -> PinGuard {
        PinGuard { wrong: 5, lock: None }.after(PinEvent::Locked { minutes: 15 }, at)
    }

    #[test]
    fn only_four_to_eight_digits_are_one() {
        for text in ["", "123", "123456789", "12a4", "１２３４", "-123", "12.4", " 1234"] {
            assert_eq!(Pin::new(text), Err(NotAPin), "{text:?}");
        }
        assert_eq!(Pin::new("4071").unwrap().length(), 4);
        assert_eq!(Pin::new("40719283").unwrap().length(), 8);
    }

    #[test]
    fn no_way_of_printing_shows_it() {
        let pin = Pin::new("4071").unwrap();
        for text in [format!("{pin:?}"), format!("{pin:#?}"), format!("{:?}", Some(&pin)), NotAPin.to_string()] {
            assert!(!text.contains("4071"), "{text}");
        }
    }

    #[test]
    fn what_anybody_tries_first_is_easy() {
        let easy = |text: &str| Pin::new(text).unwrap().is_easy();
        assert!(["0000", "1111", "1234", "9876", "012345"].into_iter().all(easy));
        assert!(!["1235", "4071", "9012", "1212"].into_iter().any(easy));
    }

    #[test]
    fn a_lock_holds_for_its_minutes_and_no_clock_on_the_wall_shortens_it() {
        let (began, guard) = (at(0, 0, "a"), locked(&at(10, 0, "a")));
        let left = |now: Moment| guard.locked_for(&now, &began).map(|left| left.as_secs());
        assert_eq!(left(at(10, 0, "a")), Some(15 * 60));
        // A day ahead on the wall, five minutes in truth.
        assert_eq!(left(at(15, 24 * 60, "a")), Some(10 * 60));
        assert_eq!(left(at(24, -600, "a")), Some(60));
        assert_eq!(left(at(25, 0, "a")), None);
        assert_eq!(left(at(90, 0, "a")), None);
    }

    #[test]
    fn a_lock_from_before_a_restart_begins_again_in_full() {
        let guard = locked(&at(10, 0, "a"));
        let began = at(0, 14, "b");
        assert_eq!(guard.locked_for(&at(0, 14, "b"), &began), Some(Duration::from_secs(15 * 60)));
        assert_eq!(guard.locked_for(&at(14, 600, "b"), &began), Some(Duration::from_secs(60)));
        assert_eq!(guard.locked_for(&at(15, 0, "b"), &began), None);
        // A count that ran backwards, or none that fits: nothing was served.
        assert_eq!(guard.locked_for(&at(3, 0, "c"), &began), Some(Duration::from_secs(15 * 60)));
    }

    #[test]
    fn tries_count_in_a_row_and_a_new_pin_clears_them() {
        let mut guard = PinGuard::default();
        for in_a_row in 1..=4 {
            guard = guard.after(PinEvent::Wrong { in_a_row }, &at(1, 0, "a"));
            assert_eq!((guard.wrong, &guard.lock), (in_a_row, &None));
        }
        let lock = guard.after(PinEvent::Locked { minutes: 15 }, &at(1, 0, "a"));
        assert_eq!(lock.wrong, 0, "after the lock the tries begin anew");
        for event in [PinEvent::Set, PinEvent::Changed, PinEvent::Reset, PinEvent::Forgotten] {
            assert!(lock.after(event, &at(2, 0, "a")).is_clear(), "{event:?}");
        }
    }
}
