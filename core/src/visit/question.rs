//! What a visit asks before it goes on, and the answers it takes.

use super::event::Place;
use crate::reading::Reading;
use serde::{Deserialize, Serialize};

/// What the visit asks before it goes on.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "question", rename_all = "snake_case", deny_unknown_fields)]
pub enum Question {
    /// A diameter far from the one before.
    FarFromLast {
        /// Where.
        place: Place,
        /// What was typed.
        reading: Reading,
        /// What it was the last time.
        last: Reading,
    },
    /// A diameter larger than the reel was when new.
    LargerThanNew {
        /// Where.
        place: Place,
        /// What was typed.
        reading: Reading,
        /// The diameter when new.
        new: Reading,
    },
    /// The cone is the last one, turned round.
    EndsSwapped {
        /// Leading minus trailing end now.
        cone: Reading,
        /// Leading minus trailing end before the last grind.
        last: Reading,
    },
    /// The dial can be read as so much short of zero.
    DialShort {
        /// What was typed.
        reading: Reading,
        /// What it means when the dial is short of zero.
        offered: Reading,
    },
    /// Finer than the dial can be read, as when inches are typed for thousandths.
    TooFine {
        /// What was typed.
        reading: Reading,
        /// A thousand times that.
        offered: Reading,
    },
    /// Grinding true would end below the wear limit.
    BelowLimit {
        /// Where it would end, in nanometres, on the limit's basis.
        ends_at: Reading,
        /// The limit.
        limit: Reading,
    },
}

/// An answer to a [`Question`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Answer {
    /// What was typed is right.
    Keep,
    /// Type it again.
    Again,
    /// Take what was offered instead (the other sign, a thousand times, the ends exchanged).
    Offered,
    /// End the visit.
    Stop,
}

impl Question {
    /// The answers it takes, the likeliest first.
    pub const fn answers(&self) -> &'static [Answer] {
        match self {
            Self::FarFromLast { .. } | Self::LargerThanNew { .. } => &[Answer::Again, Answer::Keep],
            Self::EndsSwapped { .. } | Self::DialShort { .. } | Self::TooFine { .. } => {
                &[Answer::Offered, Answer::Keep, Answer::Again]
            }
            Self::BelowLimit { .. } => &[Answer::Stop, Answer::Again, Answer::Keep],
        }
    }
}
