//! Turning work that was started: it owns the clearance that it spent.

use super::gate::{Clearance, LapseReason};
use crate::facts::BenchFacts;
use crate::moment::Moment;

/// Turning work under power. There is no other way to have one than by spending a [`Clearance`].
#[derive(Debug, PartialEq)]
pub struct Running {
    clearance: Clearance,
    started: Moment,
}

impl Running {
    /// Starts by spending a clearance.
    pub(super) fn start(clearance: Clearance, now: &Moment) -> Self {
        Self { clearance, started: now.clone() }
    }

    /// The clearance that was spent.
    pub const fn clearance(&self) -> &Clearance {
        &self.clearance
    }

    /// Since when.
    pub const fn started(&self) -> &Moment {
        &self.started
    }

    /// Why it may not go on, if it may not. A process that started again has not watched the machine in between.
    pub fn lapse(&self, facts: &BenchFacts, now: &Moment) -> Option<LapseReason> {
        if now.since(&self.started).is_none() {
            return Some(LapseReason::Restart);
        }
        self.clearance.lapse_while_running(facts)
    }

    pub(super) fn handed_on(&self) -> Self {
        Self { clearance: self.clearance.handed_on(), started: self.started.clone() }
    }
}
