//! What can happen to a lockout, and when it is refused.

use super::{Applied, Lockout, Padlock};
use crate::facts::BenchFacts;
use crate::moment::Moment;
use crate::record::Operator;
use jiff::Timestamp;
use serde::{Deserialize, Serialize};
use thiserror::Error;

/// The longest number on a lock.
pub const NUMBER_MOST: usize = 12;
/// The longest reason, and the longest account of an attempt.
const REASON_MOST: usize = 200;

/// Everything that can happen to a lockout. Each is written to the journal before it is shown as done.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "event", rename_all = "snake_case", deny_unknown_fields)]
pub enum LockoutEvent {
    /// A padlock was hung by whoever stands at the bench: a pointer was held.
    LockApplied {
        /// On what, in the words that stood on the screen.
        to: String,
        /// The number on the lock.
        lock: String,
        /// For how long, milliseconds.
        held_ms: u64,
    },
    /// Start was pressed at the machine, and nothing moved: a pointer was held.
    LockTried {
        /// For how long, milliseconds.
        held_ms: u64,
    },
    /// Everything stands, nothing is stored, the machine is dead: a pointer was held.
    ProvedDead {
        /// For how long, milliseconds.
        held_ms: u64,
    },
    /// Whoever put the lock on took it off: a pointer was held.
    LockReleased {
        /// For how long, milliseconds.
        held_ms: u64,
    },
    /// A lead took another person's lock off, by the exception procedure: a pointer was held.
    ForceReleased {
        /// Why, in the words that stood on the screen.
        reason: String,
        /// What was done to find the owner and to reach them, in words.
        attempts: Vec<String>,
        /// For how long, milliseconds.
        held_ms: u64,
    },
    /// Whoever's lock was taken off has been told so: a pointer was held by them.
    OwnerTold {
        /// For how long, milliseconds.
        held_ms: u64,
    },
}

/// A lock that a lead took off, and whose owner has not been told yet.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ForcedRelease {
    /// The lock.
    pub padlock: Padlock,
    /// The lead.
    pub by: String,
    /// Why.
    pub reason: String,
    /// What was done to find the owner and to reach them.
    pub attempts: Vec<String>,
    /// When, by the station's clock.
    pub at: Timestamp,
}

/// Why an event was not taken.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum LockoutRefusal {
    /// Nobody signed on.
    #[error("nobody signed on")]
    NoOperator,
    /// Not trained for the bench.
    #[error("{name} is not recorded as trained")]
    NotTrained {
        /// Who.
        name: String,
    },
    /// The pointer was let go too early.
    #[error("held {held_ms} ms of {wanted_ms} ms")]
    HeldTooShort {
        /// How long it was held, milliseconds.
        held_ms: u64,
        /// How long it must be, milliseconds.
        wanted_ms: u64,
    },
    /// A lock is on already.
    #[error("lock {lock} of {by} is on")]
    AlreadyOn {
        /// Its number.
        lock: String,
        /// Whose.
        by: String,
    },
    /// No lock is on.
    #[error("no lock is on")]
    NoLock,
    /// No number, or one that no lock bears.
    #[error("a lock's number has 1 to {most} characters, not {length}")]
    Number {
        /// How many it has.
        length: usize,
        /// The most.
        most: usize,
    },
    /// What it is on was not said.
    #[error("what the lock is on was not said")]
    NothingNamed,
    /// Tried out of turn: it was tried already, or the machine was not tried yet.
    #[error("out of turn")]
    OutOfTurn,
    /// Another person's lock.
    #[error("lock {lock} is {by}'s")]
    NotTheOwner {
        /// Its number.
        lock: String,
        /// Whose.
        by: String,
    },
    /// Only a lead takes another person's lock off.
    #[error("{name} is not a lead")]
    NotALead {
        /// Who asked.
        name: String,
    },
    /// A lead's own lock needs no exception.
    #[error("the lock is the lead's own")]
    OwnLock,
    /// No reason, no attempt to reach the owner, or a whole letter of either.
    #[error("reason and attempts have 1 to {most} characters each")]
    NotAccountedFor {
        /// The most characters.
        most: usize,
    },
    /// Nothing is to be told to whoever stands there.
    #[error("nothing is to be told")]
    NothingToTell,
}

/// The open lockout, and the owners who are still to be told that theirs was taken off.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Lockouts {
    open: Option<Lockout>,
    untold: Vec<ForcedRelease>,
}

impl Lockouts {
    /// The lockout that is open.
    pub const fn open(&self) -> Option<&Lockout> {
        self.open.as_ref()
    }

    /// What this person must be told before starting work again, the oldest first.
    pub fn to_tell(&self, operator: &Operator) -> Option<&ForcedRelease> {
        self.untold.iter().find(|release| release.padlock.badge == operator.id)
    }

    /// Takes one event: what stood before, bench facts, event and time to what stands then.
    ///
    /// # Errors
    /// [`LockoutRefusal`]; what stood before stays true.
    pub fn step(&self, facts: &BenchFacts, event: &LockoutEvent, now: &Moment) -> Result<Self, LockoutRefusal> {
        let operator = facts.operator.as_ref().ok_or(LockoutRefusal::NoOperator)?;
        held_long_enough(facts, event)?;
        let at = now.wall;
        match event {
            LockoutEvent::LockApplied { to, lock, .. } => self.applied(operator, to, lock, at),
            LockoutEvent::LockTried { .. } => match self.owned(operator)? {
                Lockout::Applied(applied) => Ok(self.with(Lockout::Tried(applied.tried(at)))),
                Lockout::Tried(_) | Lockout::Dead(_) => Err(LockoutRefusal::OutOfTurn),
            },
            LockoutEvent::ProvedDead { .. } => match self.owned(operator)? {
                Lockout::Tried(tried) => Ok(self.with(Lockout::Dead(tried.proved_dead(at)))),
                Lockout::Applied(_) | Lockout::Dead(_) => Err(LockoutRefusal::OutOfTurn),
            },
            // A lock that was put on and never tried is taken off like any other.
            LockoutEvent::LockReleased { .. } => {
                self.owned(operator).map(|_| Self { open: None, untold: self.untold.clone() })
            }
            LockoutEvent::ForceReleased { reason, attempts, .. } => self.forced(operator, reason, attempts, at),
            LockoutEvent::OwnerTold { .. } => self.told(operator),
        }
    }

    fn with(&self, lockout: Lockout) -> Self {
        Self { open: Some(lockout), untold: self.untold.clone() }
    }

    fn applied(&self, operator: &Operator, to: &str, lock: &str, at: Timestamp) -> Result<Self, LockoutRefusal> {
        if !operator.trained {
            return Err(LockoutRefusal::NotTrained { name: operator.name.clone() });
        }
        if let Some(open) = &self.open {
            let Padlock { number, by, .. } = open.padlock().clone();
            return Err(LockoutRefusal::AlreadyOn { lock: number, by });
        }
        let (to, number) = (to.trim(), lock.trim());
        let length = number.chars().count();
        if !(1..=NUMBER_MOST).contains(&length) {
            return Err(LockoutRefusal::Number { length, most: NUMBER_MOST });
        }
        if to.is_empty() {
            return Err(LockoutRefusal::NothingNamed);
        }
        let padlock = Padlock {
            number: number.to_owned(),
            to: to.to_owned(),
            badge: operator.id.clone(),
            by: operator.name.clone(),
            initials: operator.initials.clone(),
            on: at,
        };
        Ok(self.with(Lockout::Applied(Applied::hung(padlock))))
    }

    /// The open lockout, for its owner alone.
    fn owned(&self, operator: &Operator) -> Result<Lockout, LockoutRefusal> {
        let open = self.open.clone().ok_or(LockoutRefusal::NoLock)?;
        if open.is_of(operator) {
            return Ok(open);
        }
        let Padlock { number, by, .. } = open.padlock().clone();
        Err(LockoutRefusal::NotTheOwner { lock: number, by })
    }

    fn forced(
        &self,
        operator: &Operator,
        reason: &str,
        attempts: &[String],
        at: Timestamp,
    ) -> Result<Self, LockoutRefusal> {
        let open = self.open.as_ref().ok_or(LockoutRefusal::NoLock)?;
        if open.is_of(operator) {
            return Err(LockoutRefusal::OwnLock);
        }
        if !operator.lead {
            return Err(LockoutRefusal::NotALead { name: operator.name.clone() });
        }
        let says_something = |text: &str| (1..=REASON_MOST).contains(&text.trim().chars().count());
        if !says_something(reason) || attempts.is_empty() || !attempts.iter().all(|attempt| says_something(attempt)) {
            return Err(LockoutRefusal::NotAccountedFor { most: REASON_MOST });
        }
        let mut untold = self.untold.clone();
        untold.push(ForcedRelease {
            padlock: open.padlock().clone(),
            by: operator.name.clone(),
            reason: reason.trim().to_owned(),
            attempts: attempts.iter().map(|attempt| attempt.trim().to_owned()).collect(),
            at,
        });
        Ok(Self { open: None, untold })
    }

    fn told(&self, operator: &Operator) -> Result<Self, LockoutRefusal> {
        let mine = |release: &ForcedRelease| release.padlock.badge == operator.id;
        let first = self.untold.iter().position(mine).ok_or(LockoutRefusal::NothingToTell)?;
        let mut next = self.clone();
        next.untold.remove(first);
        Ok(next)
    }
}

fn held_long_enough(facts: &BenchFacts, event: &LockoutEvent) -> Result<(), LockoutRefusal> {
    let held_ms = match event {
        LockoutEvent::LockApplied { held_ms, .. }
        | LockoutEvent::LockTried { held_ms }
        | LockoutEvent::ProvedDead { held_ms }
        | LockoutEvent::LockReleased { held_ms }
        | LockoutEvent::ForceReleased { held_ms, .. }
        | LockoutEvent::OwnerTold { held_ms } => *held_ms,
    };
    let wanted_ms = facts.gate.hold_ms;
    if held_ms < wanted_ms { Err(LockoutRefusal::HeldTooShort { held_ms, wanted_ms }) } else { Ok(()) }
}
