//! Clearance: the checklist, and the start that spends the clearance it gives.

use super::Visit;
use super::event::{Effect, Event};
use super::gate::{Clearance, Gate};
use super::grind::Grind;
use super::kind::{StageName, Turning};
use super::refusal::Refusal;
use super::running::Running;
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
    /// Land before, blade and finger.
    Finger,
    /// The relief is being ground.
    Relief(Running),
    /// The relief is ground and the machine stands: the land afterwards.
    ReliefLands,
    Knife,
    /// The reel is being run backwards.
    BackLap(Running),
    /// It stands again: compound off, paper cut.
    BackLapped,
    Height,
    Plate,
    Check,
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
            Self::Finger => StageName::Finger,
            Self::Relief(_) | Self::ReliefLands => StageName::Relief,
            Self::Knife => StageName::Knife,
            Self::BackLap(_) | Self::BackLapped => StageName::BackLap,
            Self::Height => StageName::Height,
            Self::Plate => StageName::Plate,
            Self::Check => StageName::Check,
            Self::Label => StageName::Label,
            Self::Return | Self::Closed => StageName::Return,
        }
    }

    /// A stage as it is entered. Turning work cannot be entered so: one comes to its gate, towards `next`.
    pub(super) const fn begin(name: StageName, next: Turning) -> Self {
        match name {
            StageName::Receive => Self::Receive,
            StageName::Tape => Self::Tape,
            StageName::Front => Self::Front,
            StageName::Rear => Self::Rear,
            StageName::Clearance | StageName::Grind | StageName::Relief | StageName::BackLap => {
                Self::Clearance(Gate::towards(next))
            }
            StageName::Prove => Self::Prove,
            StageName::Finger => Self::Finger,
            StageName::Knife => Self::Knife,
            StageName::Height => Self::Height,
            StageName::Plate => Self::Plate,
            StageName::Check => Self::Check,
            StageName::Label => Self::Label,
            StageName::Return => Self::Return,
        }
    }

    /// The turning work that is under way.
    pub const fn running(&self) -> Option<Turning> {
        match self {
            Self::Grind(_) => Some(Turning::Grind),
            Self::Relief(_) => Some(Turning::Relief),
            Self::BackLap(_) => Some(Turning::BackLap),
            Self::Receive
            | Self::Tape
            | Self::Front
            | Self::Rear
            | Self::Clearance(_)
            | Self::Cleared(_)
            | Self::Prove
            | Self::Finger
            | Self::ReliefLands
            | Self::Knife
            | Self::BackLapped
            | Self::Height
            | Self::Plate
            | Self::Check
            | Self::Label
            | Self::Return
            | Self::Closed => None,
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
            Self::Finger => Self::Finger,
            Self::Relief(running) => Self::Relief(running.handed_on()),
            Self::ReliefLands => Self::ReliefLands,
            Self::Knife => Self::Knife,
            Self::BackLap(running) => Self::BackLap(running.handed_on()),
            Self::BackLapped => Self::BackLapped,
            Self::Height => Self::Height,
            Self::Plate => Self::Plate,
            Self::Check => Self::Check,
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
            Event::GrindStarted { held_ms } => self.start_turning(facts, *held_ms, now),
            // Whoever lost the clearance after the last pass still has to see wheel and reel come to rest.
            Event::StandStill { held_ms } if self.only_runs_down(facts) => self.stand_still(facts, *held_ms),
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

    fn start_turning(&mut self, facts: &BenchFacts, held_ms: u64, now: &Moment) -> Result<Vec<Effect>, Refusal> {
        if held_ms < facts.gate.hold_ms {
            return Err(Refusal::HeldTooShort { held_ms, wanted_ms: facts.gate.hold_ms });
        }
        if let Some(reason) = self.lapse(facts, now) {
            return Err(Refusal::Lapsed(reason));
        }
        self.require_trued(facts)?;
        let next = self.turning();
        let taken = std::mem::replace(&mut self.stage, Stage::Clearance(Gate::towards(next)));
        let clearance = if let Stage::Cleared(clearance) = taken {
            clearance
        } else if let Stage::Clearance(gate) = taken {
            // Blocks that went away since the last item leave a complete list without its clearance.
            gate.clear(facts, now)?
        } else {
            return Err(Refusal::ItemsOpen);
        };
        // What was acknowledged for one kind of turning work says nothing about another.
        if clearance.work() != next {
            return Err(Refusal::ItemsOpen);
        }
        let running = Running::start(clearance, now);
        let name = match next {
            Turning::Grind => {
                self.stage = Stage::Grind(Grind::start(running, self.plan(facts)?));
                StageName::Grind
            }
            Turning::Relief => {
                self.relief_plan(facts)?;
                self.stage = Stage::Relief(running);
                StageName::Relief
            }
            Turning::BackLap => {
                self.back_lap.begin();
                self.stage = Stage::BackLap(running);
                StageName::BackLap
            }
        };
        // Power is about to come back: whoever puts hands in later is asked again.
        self.isolated.clear();
        Ok(vec![Effect::StageEntered(name)])
    }

    /// A reel that is not level on its rails would be ground to a cone, whatever was acknowledged.
    pub(super) fn require_trued(&self, facts: &BenchFacts) -> Result<(), Refusal> {
        self.require_trued_before(facts, None)
    }

    /// The same for the stages that come before one of them.
    pub(super) fn require_trued_before(&self, facts: &BenchFacts, before: Option<StageName>) -> Result<(), Refusal> {
        let until = |stage: &&StageName| Some(**stage) != before;
        let open = self.stages().iter().take_while(until).find(|stage| !self.trued(facts, **stage));
        open.map_or(Ok(()), |stage| Err(Refusal::NotTrued { stage: *stage }))
    }

    fn trued(&self, facts: &BenchFacts, stage: StageName) -> bool {
        match stage {
            StageName::Front => self.front_done(facts),
            StageName::Rear => self.rear_done(facts),
            StageName::Finger => self.relief.finished() || self.finger_done(),
            StageName::Receive
            | StageName::Tape
            | StageName::Clearance
            | StageName::Grind
            | StageName::Prove
            | StageName::Relief
            | StageName::Knife
            | StageName::BackLap
            | StageName::Height
            | StageName::Plate
            | StageName::Check
            | StageName::Label
            | StageName::Return => true,
        }
    }
}
