//! Grind: passes by the plan's schedule, then the run-down.

use super::event::{Effect, Event};
use super::gate::{Clearance, LapseReason};
use super::kind::{StageName, Turning, VisitKind};
use super::refusal::Refusal;
use super::running::Running;
use super::{Stage, Visit};
use crate::calc::plan::{Plan, PlanInput, plan};
use crate::facts::BenchFacts;
use crate::moment::Moment;
use crate::quantity::Length;
use crate::reading::Reading;

/// A grind that was started.
#[derive(Debug, PartialEq)]
pub struct Grind {
    running: Running,
    plan: Plan,
}

/// Passes made in this visit, kept when a grind is interrupted.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Passes {
    done: u32,
    repeated: u32,
    last: Option<Moment>,
}

impl Passes {
    /// How many of the schedule are done.
    pub const fn done(&self) -> u32 {
        self.done
    }

    /// How many were made once more at the same dial.
    pub const fn repeated(&self) -> u32 {
        self.repeated
    }

    /// When the last one was done.
    pub const fn last(&self) -> Option<&Moment> {
        self.last.as_ref()
    }
}

impl Grind {
    /// Starts a grind by spending a clearance.
    pub(super) const fn start(running: Running, plan: Plan) -> Self {
        Self { running, plan }
    }

    /// The clearance that was spent.
    pub const fn clearance(&self) -> &Clearance {
        self.running.clearance()
    }

    /// What is being ground.
    pub const fn plan(&self) -> &Plan {
        &self.plan
    }

    /// Since when.
    pub const fn started(&self) -> &Moment {
        self.running.started()
    }

    /// All passes, those without infeed included.
    pub fn passes(&self, facts: &BenchFacts) -> u32 {
        self.plan.passes + facts.grinding.sparkout_passes
    }

    /// Why it may not go on, if it may not.
    pub fn lapse(&self, facts: &BenchFacts, now: &Moment) -> Option<LapseReason> {
        self.running.lapse(facts, now)
    }

    pub(super) fn handed_on(&self) -> Self {
        Self { running: self.running.handed_on(), plan: self.plan.clone() }
    }
}

impl Visit {
    /// How this reel would be ground from what was taped.
    ///
    /// # Errors
    /// While an end is missing, or the calculation's own refusal.
    pub fn plan(&self, facts: &BenchFacts) -> Result<Plan, Refusal> {
        let (lead, trail, centre) = self.on_limit_basis()?;
        let unit_type = &self.unit.unit_type;
        let input = PlanInput {
            lead,
            trail,
            centre,
            wear_limit: unit_type.wear_limit.length(),
            cleanup: self.cleanup(facts),
            infeed: facts.grinding.infeed,
            sparkout: facts.grinding.sparkout_passes,
            stroke: unit_type.reel_length.length(),
            traverse: facts.grinding.traverse,
            usual_removal: facts.grinding.usual_removal,
            dial: facts.grinder.dial,
            infeed_yield: facts.upkeep.wheel_yield.map(|known| known.removed_per_infeed),
            land: self.land_known().map(Reading::length),
            relief_angle: Some(unit_type.relief_angle),
            land_limit: Some(unit_type.land_limit.length()),
        };
        Ok(plan(&input)?)
    }

    /// After a relief the spin only makes the lands anew.
    const fn cleanup(&self, facts: &BenchFacts) -> Length {
        match self.kind {
            VisitKind::ReliefAndSpin => facts.grinding.relief.light_cleanup,
            VisitKind::Spin
            | VisitKind::Bedknife
            | VisitKind::BackLap
            | VisitKind::HeightOfCut
            | VisitKind::CheckOnly => facts.grinding.cleanup,
        }
    }

    /// The land as it is before the spin: what the relief left, else what is on record.
    fn land_known(&self) -> Option<Reading> {
        self.relief.land_after().or_else(|| self.unit.last.as_ref().and_then(|work| work.land))
    }

    /// All passes of the plan, those without infeed included.
    pub fn passes_in_all(&self, facts: &BenchFacts) -> u32 {
        self.plan(facts).map_or(0, |plan| plan.passes + facts.grinding.sparkout_passes)
    }

    pub(super) fn grind_event(
        &mut self,
        facts: &BenchFacts,
        event: &Event,
        now: &Moment,
    ) -> Result<Vec<Effect>, Refusal> {
        let Stage::Grind(grind) = &self.stage else { return Err(self.not_here()) };
        let open = grind.passes(facts).saturating_sub(self.passes.done);
        match event {
            // To stop needs no clearance.
            Event::StandStill { held_ms } if open == 0 => self.stand_still(facts, *held_ms),
            Event::PassDone | Event::PassRepeated | Event::StandStill { .. } | Event::Next
                if self.lapse(facts, now).is_some() =>
            {
                Err(self.lapse(facts, now).map_or_else(|| self.not_here(), Refusal::Lapsed))
            }
            Event::PassDone if open == 0 => Err(Refusal::PassesDone),
            Event::PassDone => {
                self.passes.done += 1;
                self.passes.last = Some(now.clone());
                Ok(Vec::new())
            }
            Event::PassRepeated if open == 0 => Err(Refusal::PassesDone),
            Event::PassRepeated => {
                self.passes.repeated += 1;
                self.passes.last = Some(now.clone());
                Ok(Vec::new())
            }
            Event::StandStill { .. } | Event::Next if open > 0 => Err(Refusal::PassesOpen { open }),
            _ => Err(self.not_here()),
        }
    }

    /// Wheel and reel have come to rest, which somebody watched.
    pub(super) fn stand_still(&mut self, facts: &BenchFacts, held_ms: u64) -> Result<Vec<Effect>, Refusal> {
        if held_ms < facts.gate.hold_ms {
            return Err(Refusal::HeldTooShort { held_ms, wanted_ms: facts.gate.hold_ms });
        }
        Ok(match self.turning() {
            Turning::Grind => self.enter(StageName::Prove),
            Turning::Relief => {
                self.relief.stands();
                self.enter(StageName::Relief)
            }
            Turning::BackLap => {
                self.back_lap.stands();
                self.enter(StageName::BackLap)
            }
        })
    }

    /// Whether the turning work ahead is at its end, so that only the run-down is to be waited for.
    pub fn only_runs_down(&self, facts: &BenchFacts) -> bool {
        match self.turning() {
            Turning::Grind => self.all_passes_done(facts),
            Turning::Relief => self.relief_rounds_done(facts) && !self.relief.stood_still(),
            Turning::BackLap => self.back_lap.turning(),
        }
    }

    /// Whether every pass of the plan is made, so that only the run-down is to be waited for.
    pub fn all_passes_done(&self, facts: &BenchFacts) -> bool {
        let all = self.plan(facts).map(|plan| plan.passes + facts.grinding.sparkout_passes);
        self.passes.done > 0 && all.is_ok_and(|all| self.passes.done >= all)
    }

    /// Another grind begins with no pass made.
    pub(super) fn begin_passes_again(&mut self) {
        self.passes = Passes::default();
    }
}
