//! Clearance: the checklist, and the start that spends the clearance it gives.

use super::Visit;
use super::event::{Effect, Event};
use super::gate::{Clearance, Gate};
use super::grind::Grind;
use super::kind::StageName;
use super::refusal::Refusal;
use crate::facts::BenchFacts;
use crate::moment::Moment;

/// Where a visit stands. A grind holds the clearance it was started with: there is no other way to build one.
#[derive(Debug, PartialEq)]
#[allow(missing_docs, reason = "the names are the handbook's")]
pub enum Stage {
    Receive,
    Tape,
    Front,
    Rear,
    /// The checklist in progress.
    Clearance(Gate),
    /// The checklist is complete and nothing stood in the way.
    Cleared(Clearance),
    Grind(Grind),
    Prove,
    Label,
    Return,
    /// The visit is over.
    Closed,
}

impl Stage {
    /// The stage's name; a closed visit has passed Return.
    pub const fn name(&self) -> StageName {
        match self {
            Self::Receive => StageName::Receive,
            Self::Tape => StageName::Tape,
            Self::Front => StageName::Front,
            Self::Rear => StageName::Rear,
            Self::Clearance(_) | Self::Cleared(_) => StageName::Clearance,
            Self::Grind(_) => StageName::Grind,
            Self::Prove => StageName::Prove,
            Self::Label => StageName::Label,
            Self::Return | Self::Closed => StageName::Return,
        }
    }

    /// A stage as it is entered. Grind cannot be entered so: one comes back at its gate.
    pub(super) const fn begin(name: StageName) -> Self {
        match name {
            StageName::Receive => Self::Receive,
            StageName::Tape => Self::Tape,
            StageName::Front => Self::Front,
            StageName::Rear => Self::Rear,
            StageName::Clearance | StageName::Grind => Self::Clearance(Gate::new()),
            StageName::Prove => Self::Prove,
            StageName::Label => Self::Label,
            StageName::Return => Self::Return,
        }
    }

    pub(super) fn handed_on(&self) -> Self {
        match self {
            Self::Receive => Self::Receive,
            Self::Tape => Self::Tape,
            Self::Front => Self::Front,
            Self::Rear => Self::Rear,
            Self::Clearance(gate) => Self::Clearance(gate.clone()),
            Self::Cleared(clearance) => Self::Cleared(clearance.handed_on()),
            Self::Grind(grind) => Self::Grind(grind.handed_on()),
            Self::Prove => Self::Prove,
            Self::Label => Self::Label,
            Self::Return => Self::Return,
            Self::Closed => Self::Closed,
        }
    }
}

impl Visit {
    pub(super) fn clearance_event(
        &mut self,
        facts: &BenchFacts,
        event: &Event,
        now: &Moment,
    ) -> Result<Vec<Effect>, Refusal> {
        match event {
            Event::ItemHeld { item, held_ms, .. } => self.hold_item(facts, item, *held_ms, now),
            Event::GrindStarted { held_ms } => self.start_grind(facts, *held_ms, now),
            // Whoever lost the clearance after the last pass still has to see wheel and reel come to rest.
            Event::StandStill { held_ms } if self.all_passes_done(facts) => self.stand_still(facts, *held_ms),
            Event::Next => Err(Refusal::ItemsOpen),
            _ => Err(self.not_here()),
        }
    }

    fn hold_item(
        &mut self,
        facts: &BenchFacts,
        item: &str,
        held_ms: u64,
        now: &Moment,
    ) -> Result<Vec<Effect>, Refusal> {
        let Stage::Clearance(gate) = &self.stage else { return Err(Refusal::NotThisItem) };
        self.require_trued(facts)?;
        let gate = gate.acknowledge(facts, item, held_ms, now)?;
        self.stage = match gate.clear(facts, now) {
            Ok(clearance) => Stage::Cleared(clearance),
            // Something else stands in the way: the acknowledgement counts, the clearance waits.
            Err(_) => Stage::Clearance(gate),
        };
        Ok(Vec::new())
    }

    fn start_grind(&mut self, facts: &BenchFacts, held_ms: u64, now: &Moment) -> Result<Vec<Effect>, Refusal> {
        if held_ms < facts.gate.hold_ms {
            return Err(Refusal::HeldTooShort { held_ms, wanted_ms: facts.gate.hold_ms });
        }
        if let Some(reason) = self.lapse(facts, now) {
            return Err(Refusal::Lapsed(reason));
        }
        self.require_trued(facts)?;
        let plan = self.plan(facts)?;
        let clearance = match std::mem::replace(&mut self.stage, Stage::Clearance(Gate::new())) {
            Stage::Cleared(clearance) => clearance,
            // Blocks that went away since the last item leave a complete list without its clearance.
            Stage::Clearance(gate) => gate.clear(facts, now)?,
            Stage::Receive
            | Stage::Tape
            | Stage::Front
            | Stage::Rear
            | Stage::Grind(_)
            | Stage::Prove
            | Stage::Label
            | Stage::Return
            | Stage::Closed => return Err(Refusal::ItemsOpen),
        };
        self.stage = Stage::Grind(Grind::start(clearance, plan, now));
        // Power is about to come back: whoever puts hands in later is asked again.
        self.isolated.clear();
        Ok(vec![Effect::StageEntered(StageName::Grind)])
    }

    /// A reel that is not level on its rails would be ground to a cone, whatever was acknowledged.
    pub(super) fn require_trued(&self, facts: &BenchFacts) -> Result<(), Refusal> {
        for stage in self.stages() {
            let trued = match stage {
                StageName::Front => self.front_done(facts),
                StageName::Rear => self.rear_done(facts),
                StageName::Receive
                | StageName::Tape
                | StageName::Clearance
                | StageName::Grind
                | StageName::Prove
                | StageName::Label
                | StageName::Return => true,
            };
            if !trued {
                return Err(Refusal::NotTrued { stage: *stage });
            }
        }
        Ok(())
    }
}
