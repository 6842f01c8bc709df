//! What the guard's and the stop's switches say, judged from samples that come over a network.
//!
//! Toward danger nothing is smoothed: one sample that says open or pressed counts at once. Toward closed and released a
//! sample must be followed by others that say the same for the debounce time, because contacts bounce and a guard
//! that rattles is not closed. No answer for the staleness limit, or no connection, is a fault like an open guard.
//!
//! None of this is a safety function: it reads, shows and revokes. What stops the machine is wired to the machine.

use crate::facts::{BenchFacts, GuardInput, StopInput};
use crate::visit::gate::Block;
use serde::{Deserialize, Serialize};
use std::time::Duration;
use thiserror::Error;

/// What both switches say.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Switches {
    /// The guard's.
    pub guard: GuardInput,
    /// The stop's.
    pub stop: StopInput,
}

impl Switches {
    /// What the facts of a bench say of them.
    pub const fn of(facts: &BenchFacts) -> Self {
        Self { guard: facts.guard, stop: facts.stop }
    }

    /// Why nothing may be acknowledged or started, if so. What is known to be open comes before what is not known.
    pub const fn fault(self) -> Option<Block> {
        match (self.guard, self.stop) {
            (GuardInput::Open, _) => Some(Block::GuardOpen),
            (_, StopInput::Pressed) => Some(Block::StopPressed),
            (GuardInput::Lost, _) | (_, StopInput::Lost) => Some(Block::InputsLost),
            (GuardInput::Stale, _) | (_, StopInput::Stale) => Some(Block::InputsStale),
            (GuardInput::NotFitted | GuardInput::Closed, StopInput::NotFitted | StopInput::Released) => None,
        }
    }

    /// Whether a switch is read at this bench.
    pub const fn fitted(self) -> bool {
        !matches!((self.guard, self.stop), (GuardInput::NotFitted, StopInput::NotFitted))
    }
}

/// How the switches of a bench are judged.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct InputRules {
    guard: bool,
    stop: bool,
    debounce: Duration,
    stale: Duration,
}

/// The shortest debounce: the contacts of a guard's switch bounce for some 10 ms, a guard that falls to rattles for
/// longer (common practice).
pub const DEBOUNCE_LEAST: Duration = Duration::from_millis(100);
/// The longest debounce: somebody who closed a guard waits no longer for the screen to say so (common practice).
pub const DEBOUNCE_MOST: Duration = Duration::from_secs(5);
/// The shortest staleness limit: three polls at 10 Hz, so that one answer lost on a network is no fault.
pub const STALE_LEAST: Duration = Duration::from_millis(300);
/// The longest staleness limit: an open guard may stay unseen for so long, in which an arm is through it
/// (common practice).
pub const STALE_MOST: Duration = Duration::from_secs(2);

/// Rules that cannot be.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum InputRulesError {
    /// Neither switch is read.
    #[error("neither the guard nor the stop is read")]
    NothingFitted,
    /// The debounce time is out of range.
    #[error("a debounce of {} ms is not between {} and {} ms", .0.as_millis(), DEBOUNCE_LEAST.as_millis(), DEBOUNCE_MOST.as_millis())]
    Debounce(Duration),
    /// The staleness limit is out of range.
    #[error("a staleness limit of {} ms is not between {} and {} ms", .0.as_millis(), STALE_LEAST.as_millis(), STALE_MOST.as_millis())]
    Stale(Duration),
}

impl InputRules {
    /// Rules for the switches that are read: how long closed and released must be stable, and after how long without
    /// a good answer nothing is known any more.
    ///
    /// # Errors
    /// [`InputRulesError`] when no switch is read or a time is out of its range.
    pub fn new(guard: bool, stop: bool, debounce: Duration, stale: Duration) -> Result<Self, InputRulesError> {
        if !guard && !stop {
            return Err(InputRulesError::NothingFitted);
        }
        if !(DEBOUNCE_LEAST..=DEBOUNCE_MOST).contains(&debounce) {
            return Err(InputRulesError::Debounce(debounce));
        }
        if !(STALE_LEAST..=STALE_MOST).contains(&stale) {
            return Err(InputRulesError::Stale(stale));
        }
        Ok(Self { guard, stop, debounce, stale })
    }

    /// After how long without a good answer nothing is known any more.
    pub const fn stale(&self) -> Duration {
        self.stale
    }
}

/// One thing that was heard of the switches.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sample {
    /// A good answer. A switch that is not read may say anything.
    Answer {
        /// Whether the guard's switch says closed.
        guard_closed: bool,
        /// Whether the stop's switch says released.
        stop_released: bool,
    },
    /// There is no connection, or it broke.
    Disconnected,
}

/// Judges samples as they come. Times are since any zero that does not move.
#[derive(Debug, Clone)]
pub struct Judge {
    rules: InputRules,
    connected: bool,
    heard: Option<Duration>,
    guard: Contact,
    stop: Contact,
}

/// One switch.
#[derive(Debug, Clone, Copy, Default)]
struct Contact {
    /// Since when every answer said good, without a gap.
    good_since: Option<Duration>,
    /// Whether the last thing known for certain is that it is open or pressed.
    bad: bool,
}

impl Contact {
    fn take(&mut self, good: bool, at: Duration, gap: bool) {
        if !good {
            *self = Self { good_since: None, bad: true };
        } else if gap || self.good_since.is_none_or(|since| at < since) {
            self.good_since = Some(at);
        }
    }

    fn forget(&mut self) {
        *self = Self::default();
    }

    fn settled(&self, heard: Duration, debounce: Duration) -> bool {
        self.good_since.and_then(|since| heard.checked_sub(since)).is_some_and(|stable| stable >= debounce)
    }
}

/// What is known of one switch.
enum Known {
    Good,
    Bad,
    Stale,
    Lost,
}

impl Judge {
    /// Nothing was heard yet, which is as good as no connection.
    pub const fn new(rules: InputRules) -> Self {
        let contact = Contact { good_since: None, bad: false };
        Self { rules, connected: false, heard: None, guard: contact, stop: contact }
    }

    /// Takes what was heard at a time.
    pub fn take(&mut self, sample: Sample, at: Duration) {
        match sample {
            Sample::Disconnected => {
                self.connected = false;
                self.heard = None;
                self.guard.forget();
                self.stop.forget();
            }
            Sample::Answer { guard_closed, stop_released } => {
                // What the switches did in a gap nobody saw: they settle anew.
                let gap = !self.fresh(at);
                if gap {
                    self.guard.forget();
                    self.stop.forget();
                }
                self.connected = true;
                self.heard = Some(at);
                self.guard.take(guard_closed, at, gap);
                self.stop.take(stop_released, at, gap);
            }
        }
    }

    /// What the switches say at a time.
    pub fn seen(&self, at: Duration) -> Switches {
        let guard = match self.known(&self.guard, at) {
            _ if !self.rules.guard => GuardInput::NotFitted,
            Known::Good => GuardInput::Closed,
            Known::Bad => GuardInput::Open,
            Known::Stale => GuardInput::Stale,
            Known::Lost => GuardInput::Lost,
        };
        let stop = match self.known(&self.stop, at) {
            _ if !self.rules.stop => StopInput::NotFitted,
            Known::Good => StopInput::Released,
            Known::Bad => StopInput::Pressed,
            Known::Stale => StopInput::Stale,
            Known::Lost => StopInput::Lost,
        };
        Switches { guard, stop }
    }

    /// Until when the last good answer counts, if there is one.
    pub fn fresh_until(&self) -> Option<Duration> {
        self.heard.map(|heard| heard + self.rules.stale)
    }

    /// A time before the last answer means a clock that ran backwards: nothing counts on its word.
    fn fresh(&self, at: Duration) -> bool {
        let age = self.heard.and_then(|heard| at.checked_sub(heard));
        self.connected && age.is_some_and(|age| age <= self.rules.stale)
    }

    fn known(&self, contact: &Contact, at: Duration) -> Known {
        match self.heard {
            None => Known::Lost,
            Some(_) if !self.fresh(at) => Known::Stale,
            Some(heard) if contact.settled(heard, self.rules.debounce) => Known::Good,
            Some(_) if contact.bad => Known::Bad,
            // It says good again after silence, not for long enough: not known yet.
            Some(_) => Known::Stale,
        }
    }
}

/// When the switches were last at fault, and what a held control may therefore still mean.
///
/// A request that was made during a fault is dropped, also when it arrives after the fault: nothing is kept that would
/// begin something by itself when the fault clears.
#[derive(Debug, Clone, Copy, Default)]
pub struct Quiet {
    cleared_ms: Option<u64>,
}

impl Quiet {
    /// The fault went away at this time, milliseconds of the clock that does not jump.
    pub const fn cleared(&mut self, at_ms: u64) {
        self.cleared_ms = Some(at_ms);
    }

    /// Whether a hold of so many milliseconds that ended at `ended_ms` began after the last fault had cleared.
    pub fn covers(&self, held_ms: u64, ended_ms: u64) -> bool {
        let Some(cleared) = self.cleared_ms else { return true };
        ended_ms.checked_sub(held_ms).is_some_and(|began| began > cleared)
    }
}

#[cfg(test)]
mod tests;
