//! Prove, Label and Return.

use super::{MowerPicture, SideName};

/// What Prove asks for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[allow(missing_docs, reason = "the names say it")]
pub enum ProveName {
    Leading,
    Trailing,
    Centre,
    Land,
    HeightOfCut,
}

/// A value that Prove asks for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ProvePlace {
    /// Which.
    pub what: ProveName,
    /// Where that is for the operator.
    pub side: SideName,
    /// The value with unit, or empty.
    pub value: String,
    /// Whether the entry is about this one.
    pub now: bool,
    /// Whether it may be left out.
    pub optional: bool,
}

/// What was done to the bedknife.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
#[allow(missing_docs, reason = "the names are the trade's")]
pub enum BedknifeWork {
    #[default]
    NotSaid,
    Faced,
    Reground,
    New,
}

/// The verdict of Prove.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
#[allow(missing_docs, reason = "the names are the handbook's")]
pub enum ProveVerdict {
    #[default]
    Open,
    Pass,
    Regrind,
    Repeat,
    AcceptedNotProven,
    /// On a label of work that proves nothing.
    Done,
    /// On a label of a check: nothing is due.
    Fit,
    /// On a label of a check: work is due.
    Due,
}

/// What came out.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Prove {
    /// The values, in the order they are asked.
    pub places: Vec<ProvePlace>,
    /// The verdict on the cone.
    pub verdict: ProveVerdict,
    /// Cone before, signed, with unit.
    pub cone_before: String,
    /// Cone after, signed.
    pub cone: String,
    /// Its uncertainty (95 %).
    pub cone_u95: String,
    /// The unit of both.
    pub unit: String,
    /// The tolerance.
    pub limit: String,
    /// Removed from the diameter, with unit, or empty.
    pub removed: String,
    /// Misclosure with Front, with unit and uncertainty, or empty.
    pub misclosure: String,
    /// The reel's outline before, as [`Tape::profile`].
    pub profile_before: [f32; 3],
    /// The reel's outline after.
    pub profile_after: [f32; 3],
    /// What was done to the bedknife.
    pub bedknife: BedknifeWork,
    /// Whether paper is cut along the whole length.
    pub paper_cuts: bool,
    /// As [`Tape::exaggeration`](super::Tape::exaggeration).
    pub exaggeration: String,
    /// Whether the land calls for relief.
    pub relief_due: bool,
    /// Whether the next stage can be entered.
    pub can_go: bool,
}

/// A one-bit picture, one byte a pixel (0 black, 255 white).
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Raster {
    /// Dots across.
    pub width: u32,
    /// Dots down.
    pub height: u32,
    /// Row by row.
    pub pixels: Vec<u8>,
}

/// The printed result.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Label {
    /// The label as it prints.
    pub raster: Raster,
    /// Whether it was read back from its own raster.
    pub read_back: bool,
    /// Whether it was printed (written).
    pub printed: bool,
    /// Whether it was scanned on the unit.
    pub scanned: bool,
    /// Where it went: a file's name, or a printer's.
    pub printed_to: String,
    /// The verdict that stands on it.
    pub verdict: ProveVerdict,
    /// Whether the next stage can be entered.
    pub can_go: bool,
}

/// Back to its mower.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Return {
    /// The unit.
    pub tag: String,
    /// Where it belongs.
    pub mower: MowerPicture,
    /// When it is due next, or empty.
    pub next_due: String,
    /// Its position on the mower, or empty.
    pub position: String,
}
