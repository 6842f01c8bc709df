//! Lockout: a padlock on what feeds the grinder, from putting it on to taking it off.
//!
//! The entry locks nothing; the padlock does. What is written here says who put which lock on what, that the machine was
//! tried and proved dead under it, and who took it off. The order is in the types: only a lock that is on can be tried,
//! only one that was tried can prove the machine dead, and whoever has hands on wheel, belt, drive or dresser holder is
//! asked for a [`Dead`].
//!
//! The order follows 29 CFR 1910.147(d) to (f): isolate, apply, verify, work, remove by whoever applied it; (e)(3) for
//! the exception. Local codes may ask more.

mod step;

pub use step::{ForcedRelease, LockoutEvent, LockoutRefusal, Lockouts};

use crate::record::Operator;
use jiff::Timestamp;
use serde::{Deserialize, Serialize};

/// A padlock that hangs on something, and whose it is.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Padlock {
    /// The number on the lock, as it was read off it.
    pub number: String,
    /// What it holds off, in the words that stood on the screen.
    pub to: String,
    /// The badge of whoever put it on.
    pub badge: String,
    /// Their name.
    pub by: String,
    /// Their initials, for the strip.
    pub initials: String,
    /// When it was put on, by the station's clock.
    pub on: Timestamp,
}

/// A lock that is on, and nothing was tried yet: what it holds off may still be live.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Applied {
    padlock: Padlock,
}

/// A lock under which the start was pressed, and nothing moved.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Tried {
    padlock: Padlock,
    tried: Timestamp,
}

/// A lock under which the machine was tried and proved dead: the only thing that lets hands on wheel, belt, drive or
/// dresser holder.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Dead {
    padlock: Padlock,
    tried: Timestamp,
    proved: Timestamp,
}

impl Applied {
    /// A padlock was hung.
    pub const fn hung(padlock: Padlock) -> Self {
        Self { padlock }
    }

    /// Start was pressed, and nothing moved.
    pub fn tried(self, at: Timestamp) -> Tried {
        Tried { padlock: self.padlock, tried: at }
    }
}

impl Tried {
    /// What was stored is let go, wheel and reel stand, and the machine is dead.
    pub fn proved_dead(self, at: Timestamp) -> Dead {
        Dead { padlock: self.padlock, tried: self.tried, proved: at }
    }
}

impl Dead {
    /// The lock that it rests on.
    pub const fn padlock(&self) -> &Padlock {
        &self.padlock
    }
}

/// An open lockout, as far as it has come.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "state", rename_all = "snake_case")]
pub enum Lockout {
    /// The lock is on.
    Applied(Applied),
    /// And it was tried.
    Tried(Tried),
    /// And proved dead.
    Dead(Dead),
}

impl Lockout {
    /// The lock.
    pub const fn padlock(&self) -> &Padlock {
        match self {
            Self::Applied(Applied { padlock })
            | Self::Tried(Tried { padlock, .. })
            | Self::Dead(Dead { padlock, .. }) => padlock,
        }
    }

    /// Whether this person put it on. Names and initials can be alike; badges are not.
    pub fn is_of(&self, operator: &Operator) -> bool {
        self.padlock().badge == operator.id
    }

    /// The proof that the machine is dead under it, where that was proved.
    pub const fn dead(&self) -> Option<&Dead> {
        match self {
            Self::Dead(dead) => Some(dead),
            Self::Applied(_) | Self::Tried(_) => None,
        }
    }
}

#[cfg(test)]
mod tests;
