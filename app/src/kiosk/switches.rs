//! What the guard's and the stop's switches say, and what follows: a clearance lapses, the journal tells it, and what was
//! asked for during the fault is dropped.

use super::bench::{Bench, OpenVisit, Readiness};
use sparkout_core::entry::EntryBody;
use sparkout_core::inputs::{Quiet, Switches};
use sparkout_core::visit::gate::Block;
use sparkout_core::visit::kind::Turning;
use sparkout_ui::action::HeldControl;
use sparkout_ui::words::Said;
use std::time::Duration;

/// A line that breaks and mends all the time fills no journal: what ends nothing is written no oftener than this.
const WRITTEN_EVERY_MS: u64 = 10_000;

/// The switches as this bench knows them.
#[derive(Debug, Default)]
pub(super) struct Heard {
    /// What they say.
    seen: Switches,
    /// What steps rely on: a fault stays here until what it ends is on record, whatever is seen meanwhile.
    in_force: Switches,
    /// What the journal says of them.
    written: Switches,
    written_ms: Option<u64>,
    quiet: Quiet,
    /// How long the act in hand has waited for its turn, milliseconds.
    waited_ms: u64,
}

impl Heard {
    /// Before anything was heard.
    pub fn unheard(seen: Switches) -> Self {
        Self { seen, in_force: seen, ..Self::default() }
    }

    pub const fn seen(&self) -> Switches {
        self.seen
    }

    pub const fn in_force(&self) -> Switches {
        self.in_force
    }
}

impl Bench {
    /// The switches say something else. A fault ends at once what it ends; nothing begins when it clears.
    pub fn heard(&mut self, seen: Switches) {
        self.heard.seen = seen;
        if self.ready != Readiness::Ready {
            return self.heard.in_force = seen;
        }
        if seen.fault().is_some() {
            self.heard.in_force = seen;
        }
        self.write_switches();
        self.tick();
    }

    /// The act that comes next was made so long ago.
    pub(super) fn waited(&mut self, waited: Duration) {
        self.heard.waited_ms = u64::try_from(waited.as_millis()).unwrap_or(u64::MAX);
    }

    /// Whether a hold began while the switches were at fault, or before: it says nothing about what is so now.
    pub(super) fn held_through_fault(&mut self, control: HeldControl, held_ms: u64) -> bool {
        let through = match control {
            HeldControl::ClearanceItem | HeldControl::StartGrind => {
                let ended = self.now_ms().saturating_sub(self.heard.waited_ms);
                self.heard.in_force.fault().is_none() && !self.heard.quiet.covers(held_ms, ended)
            }
            // That power is off, that wheel and reel stand, is true whatever the guard's switch says.
            HeldControl::Isolation
            | HeldControl::StandStill
            | HeldControl::LockTried
            | HeldControl::ProvedDead
            | HeldControl::LockReleased
            | HeldControl::OwnerTold
            | HeldControl::WheelLookedOver
            | HeldControl::Form => false,
        };
        if through {
            self.said = Some(Said::HoldDropped);
        }
        through
    }

    /// After what lapses has lapsed: a fault that cleared is over once all that it ended is on record.
    pub(super) fn follow_switches(&mut self) {
        if self.heard.in_force != self.heard.seen && !self.lapsing() {
            if self.heard.in_force.fault().is_some() {
                self.heard.quiet.cleared(self.now_ms());
            }
            self.heard.in_force = self.heard.seen;
        }
        self.write_switches();
    }

    fn lapsing(&self) -> bool {
        let (Some(facts), now) = (self.facts(), self.clock.now()) else { return false };
        self.on_rails().is_some_and(|open| open.visit.lapse(&facts, &now).is_some())
    }

    fn turning_now(&self) -> Option<Turning> {
        self.on_rails().and_then(|OpenVisit { visit, .. }| visit.stage().running())
    }

    /// A guard that is opened for the day's work is no entry. One that ends something is, so is a line that fails, and
    /// so is the end of either.
    fn write_switches(&mut self) {
        let (seen, written) = (self.heard.seen, self.heard.written);
        if seen.fault() == written.fault() {
            return;
        }
        let ends = seen.fault().is_some() && self.lapsing();
        let unheard = matches!(seen.fault(), Some(Block::InputsLost | Block::InputsStale));
        let now_ms = self.now_ms();
        let due = self.heard.written_ms.is_none_or(|at| now_ms.saturating_sub(at) >= WRITTEN_EVERY_MS);
        if !ends && !(due && (unheard || written.fault().is_some())) {
            return;
        }
        tracing::warn!(?seen, "the switches");
        match self.keep(EntryBody::Inputs { seen, turning: self.turning_now() }, &[]) {
            Ok(()) => {
                self.heard.written = seen;
                self.heard.written_ms = Some(now_ms);
            }
            Err(said) => self.said = Some(said),
        }
    }
}
