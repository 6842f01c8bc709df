//! Finished work on a unit, and what the bench learns from it.

use crate::bench::DialKind;
use crate::quantity::Length;
use crate::reading::Reading;
use crate::visit::event::BedknifeWork;
use crate::visit::kind::VisitKind;
use jiff::civil::Date;
use serde::{Deserialize, Serialize};

/// One finished piece of work on a unit, as its card shows it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Work {
    /// The day.
    pub date: Date,
    /// Who did it, initials.
    pub operator: String,
    /// Taped before grinding, leading end.
    pub before_lead: Reading,
    /// Taped before grinding, trailing end.
    pub before_trail: Reading,
    /// Taped after grinding, leading end.
    pub lead: Reading,
    /// Taped after grinding, trailing end.
    pub trail: Reading,
    /// The land afterwards, where it was measured.
    pub land: Option<Reading>,
    /// The height of cut set, where it was measured.
    pub height_of_cut: Option<Reading>,
    /// Whether it was proven, or recorded by name as within tolerance.
    pub proven: bool,
    /// The visit it comes from; `None` when it was taken over from older records.
    pub visit: Option<String>,
    /// What the bench learns from it; `None` on older records and where nothing was ground.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lesson: Option<Box<Lesson>>,
}

/// What a finished grind teaches about the bench it was ground on.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Lesson {
    /// The grinder.
    pub grinder: String,
    /// How its dial is graduated.
    pub dial: DialKind,
    /// The smallest step read off it.
    pub dial_graduation: Reading,
    /// The diameter tape.
    pub tape: String,
    /// The smallest step read off that.
    pub tape_graduation: Reading,
    /// The wheel's mounting.
    pub wheel: Option<String>,
    /// Whole infeed of the grind, on diameter, when every pass of its plan was made.
    pub infeed: Option<Length>,
    /// Diameter that came off where the grind began.
    pub removed: Option<Length>,
    /// The dial readings that Front was left on, each with a zero of its own.
    pub touches: Vec<Reading>,
    /// What Front left, real height.
    pub tilt: Option<Length>,
    /// What Prove found beside that, on diameter: nothing when all went as computed.
    pub misclosure: Option<Length>,
    /// Its expanded uncertainty as it was stated then.
    pub misclosure_u95: Option<Length>,
}

impl Work {
    /// The smaller diameter afterwards.
    pub fn smallest(&self) -> Reading {
        self.lead.min(self.trail)
    }
}

/// Work on a unit that took nothing off its diameter, as its card shows it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Service {
    /// The day.
    pub date: Date,
    /// Who did it, initials.
    pub operator: String,
    /// What the unit came for.
    pub kind: VisitKind,
    /// What was done to the bedknife.
    pub bedknife: Option<BedknifeWork>,
    /// What was left of the bedknife's thickness.
    pub thickness: Option<Reading>,
    /// The land at the leading and at the trailing end.
    pub land: Option<(Reading, Reading)>,
    /// The height of cut that was set or found, the lower of both stations.
    pub height_of_cut: Option<Reading>,
    /// What came of it.
    pub verdict: ServiceVerdict,
    /// The visit it comes from.
    pub visit: String,
}

/// What came of a service.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ServiceVerdict {
    /// The work was done.
    Done,
    /// Done and within tolerance, but not proven; recorded by name.
    DoneNotProven,
    /// Looked at, and nothing is due.
    Fit,
    /// Looked at, and work is due.
    Due,
}
