//! What can happen to the grinder's health, what is done about it, and why it is refused.

use crate::calc::error::CalcError;
use crate::health::spot::SpotCheck;
use crate::reading::Reading;
use crate::record::Grinder;
use serde::{Deserialize, Serialize};
use thiserror::Error;

/// Everything that can happen to the grinder's health. Each is written to the journal before it is shown as done.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "event", rename_all = "snake_case", deny_unknown_fields)]
pub enum GrinderEvent {
    /// A check begins, at the stations of the facts.
    Started,
    /// Power is off and was tried: a pointer was held.
    IsolationHeld {
        /// For how long, milliseconds.
        held_ms: u64,
    },
    /// The dial at the station that is asked for.
    Read {
        /// What it read.
        reading: Reading,
    },
    /// This station of the run in hand is to be read now, again if it was before.
    StationPicked {
        /// Its place in the list, from 0.
        station: u32,
    },
    /// The bar lies turned end for end.
    BarTurned,
    /// The readings stand: judge.
    Finished,
    /// The check ends without a verdict.
    Abandoned,
    /// A lead lets the grinder be used although its check says or asks otherwise.
    Overridden {
        /// Why, in the words that stood on the screen.
        reason: String,
    },
    /// A ground unit stood on the surface plate.
    SpotChecked {
        /// Its tag.
        unit: String,
        /// Right less left end of the reel's underside over the plate.
        reading: Reading,
    },
}

/// What is to be done because of an event.
#[derive(Debug, Clone, PartialEq)]
pub enum CheckEffect {
    /// The grinder's record says this now.
    GrinderChanged(Box<Grinder>),
    /// A spot check is kept.
    SpotKept(SpotCheck),
    /// The check is over.
    Over,
}

/// Why an event was not taken.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum CheckRefusal {
    /// Nobody signed on.
    #[error("nobody signed on")]
    NoOperator,
    /// Not trained for the bench.
    #[error("{name} is not recorded as trained")]
    NotTrained {
        /// Who.
        name: String,
    },
    /// Only a lead decides this.
    #[error("{name} is not a lead")]
    NotALead {
        /// Who asked.
        name: String,
    },
    /// An override without a reason.
    #[error("no reason was given")]
    NoReason,
    /// The grinder's check stands in nobody's way.
    #[error("nothing is to be overridden")]
    NothingToOverride,
    /// No check is open, or one is already.
    #[error("this does not belong here")]
    NotHere,
    /// Hands are about to go in: isolation comes first.
    #[error("isolation was not acknowledged")]
    IsolationNeeded,
    /// The pointer was let go too early.
    #[error("held {held_ms} ms of {wanted_ms} ms")]
    HeldTooShort {
        /// How long it was held, milliseconds.
        held_ms: u64,
        /// How long it must be, milliseconds.
        wanted_ms: u64,
    },
    /// No number like this can be true here.
    #[error("{reading:?} is outside {least:?} to {most:?}")]
    OutOfRange {
        /// What was typed.
        reading: Reading,
        /// The least that is taken.
        least: Reading,
        /// The most that is taken.
        most: Reading,
    },
    /// A station of the run in hand was not read.
    #[error("station {station} was not read")]
    StationOpen {
        /// Its place in the list, from 1.
        station: u32,
    },
    /// The bar was not turned end for end.
    #[error("the bar was not turned")]
    NotTurned,
    /// The rails are taken by a unit.
    #[error("{tag} is on the rails")]
    RailsTaken {
        /// Its tag.
        tag: String,
    },
    /// The rails are taken by the bar.
    #[error("a check is open")]
    CheckOpen,
    /// The readings cannot be computed with.
    #[error(transparent)]
    Calculation(#[from] CalcError),
}
