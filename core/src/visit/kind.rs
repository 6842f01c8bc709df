//! Kinds of visit and of frame, as data that decides the list of stages.

use crate::bench::FrameKind;
use serde::{Deserialize, Serialize};

/// What a unit came for (handbook, section 1).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[allow(missing_docs, reason = "the names are the trade's")]
pub enum VisitKind {
    Spin,
    ReliefAndSpin,
    Bedknife,
    BackLap,
    HeightOfCut,
    CheckOnly,
}

/// One step of a unit's trip over the bench (handbook, section 1).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[allow(missing_docs, reason = "the names are the handbook's")]
pub enum StageName {
    Receive,
    Tape,
    Front,
    Rear,
    Clearance,
    Grind,
    Prove,
    Label,
    Return,
}

impl StageName {
    /// Whether hands are in the machine, so that isolation is asked for.
    pub const fn hands_in(self) -> bool {
        matches!(self, Self::Tape | Self::Front | Self::Rear | Self::Prove)
    }
}

/// The whole trip.
const SPIN: &[StageName] = &[
    StageName::Receive,
    StageName::Tape,
    StageName::Front,
    StageName::Rear,
    StageName::Clearance,
    StageName::Grind,
    StageName::Prove,
    StageName::Label,
    StageName::Return,
];

/// The kinds of visit and of frame that this bench can walk, each with its stages.
///
/// One row a combination: a kind that is not in the table is not offered at Receive.
const STAGES: &[(VisitKind, FrameKind, &[StageName])] = &[(VisitKind::Spin, FrameKind::Adjustable, SPIN)];

/// Every kind of visit, in the order they are offered.
pub const KINDS: [VisitKind; 6] = [
    VisitKind::Spin,
    VisitKind::ReliefAndSpin,
    VisitKind::Bedknife,
    VisitKind::BackLap,
    VisitKind::HeightOfCut,
    VisitKind::CheckOnly,
];

/// The stages of a kind of visit on a kind of frame, or `None` when this bench cannot walk it.
pub fn stages(kind: VisitKind, frame: FrameKind) -> Option<&'static [StageName]> {
    STAGES.iter().find(|row| row.0 == kind && row.1 == frame).map(|row| row.2)
}
