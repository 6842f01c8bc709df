//! The bench grinder, and what is known of its truth.

use crate::bench::DialKind;
use crate::calc::master::MasterVerdict;
use crate::quantity::{Length, SpindleSpeed};
use crate::reading::Reading;
use jiff::civil::Date;
use serde::{Deserialize, Serialize};

/// The bench grinder and what is known of its truth.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Grinder {
    /// The shop's name for it.
    pub name: String,
    /// How its infeed dial is graduated.
    pub dial: DialKind,
    /// What one turn of the dial counts.
    pub dial_per_turn: Reading,
    /// The smallest step a person can read on it.
    pub dial_graduation: Reading,
    /// How fast its wheel turns.
    pub spindle_speed: SpindleSpeed,
    /// Until when the last check against the master bar counts.
    pub check_due: Date,
    /// A lead's recorded word that it may be used although the check is overdue or found it out of true: who, and why.
    pub check_override: Option<(String, String)>,
    /// The last day on which that word counts; one without a day counts until the next check.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub override_until: Option<Date>,
    /// The last finished check against the master bar.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub last_check: Option<Box<MasterCheck>>,
}

impl Grinder {
    /// Whether a lead's word stands on a day.
    pub fn overridden(&self, today: Date) -> bool {
        self.check_override.is_some() && self.override_until.is_none_or(|until| today <= until)
    }

    /// The last check, where it found the grinder out of true.
    pub fn out_of_true(&self) -> Option<&MasterCheck> {
        self.last_check.as_deref().filter(|check| check.verdict == MasterVerdict::OutOfTrue)
    }
}

/// A finished check against a master bar, turned end for end.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MasterCheck {
    /// The day.
    pub date: Date,
    /// Who did it, initials.
    pub operator: String,
    /// Length of the rails between the outermost stations, over which parallelism is told.
    pub span: Length,
    /// Error of parallelism over the span, real height.
    pub parallel_error: Length,
    /// Its expanded uncertainty.
    pub parallel_u95: Length,
    /// Range of what remains beside the line, real height.
    pub straightness: Length,
    /// The bar's own taper over the span.
    pub bar_error: Length,
    /// What was accepted, of both.
    pub tolerance: Length,
    /// Whether the grinder is true.
    pub verdict: MasterVerdict,
    /// Whether that is proven: parallelism within its tolerance even if it is off by its uncertainty.
    pub proven: bool,
}
