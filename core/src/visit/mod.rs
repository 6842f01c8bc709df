//! One unit's trip over the bench, as a state machine.
//!
//! [`step`] is the only way through: the screen, a rehearsal, a replay of the journal and the tests all use it.
//! It changes nothing: it gives a new visit, what is to be done, or a typed refusal.

mod clearance;
pub mod event;
mod front;
pub mod gate;
mod grind;
pub mod kind;
mod label;
mod prove;
mod rear;
mod receive;
pub mod refusal;
mod tape;
mod told;

pub use clearance::Stage;
pub use front::{FrontPhase, FrontState, Round};
pub use grind::{Grind, Passes};
pub use label::LabelState;
pub use prove::{Judgement, ProveState};
pub use rear::{RearRound, RearState};
pub use receive::ReceiveState;
pub use tape::TapeState;

use crate::bench::End;
use crate::facts::BenchFacts;
use crate::moment::Moment;
use crate::record::Side;
use event::{Answer, Effect, Event, Question, UnitFacts};
use gate::LapseReason;
use kind::{StageName, VisitKind, stages};
use refusal::Refusal;

/// A visit as it stands.
#[derive(Debug, PartialEq)]
pub struct Visit {
    id: String,
    unit: UnitFacts,
    opened: Moment,
    stage: Stage,
    paused: bool,
    kind: Option<VisitKind>,
    question: Option<Question>,
    isolated: Vec<StageName>,
    receive: ReceiveState,
    tape: TapeState,
    front: FrontState,
    rear: RearState,
    passes: Passes,
    prove: ProveState,
    label: LabelState,
}

/// What a step gives.
#[derive(Debug, PartialEq)]
pub struct Stepped {
    /// The visit as it stands now.
    pub visit: Visit,
    /// What is to be done, in order.
    pub effects: Vec<Effect>,
}

/// Opens a visit. It is taken for a spin until another kind is chosen, where the frame can be spun here.
pub fn open(id: &str, unit: UnitFacts, now: &Moment) -> Visit {
    let usual = stages(VisitKind::Spin, unit.unit_type.frame).map(|_| VisitKind::Spin);
    Visit {
        id: id.to_owned(),
        unit,
        opened: now.clone(),
        stage: Stage::Receive,
        paused: false,
        kind: usual,
        question: None,
        isolated: Vec::new(),
        receive: ReceiveState::default(),
        tape: TapeState::default(),
        front: FrontState::default(),
        rear: RearState::default(),
        passes: Passes::default(),
        prove: ProveState::default(),
        label: LabelState::default(),
    }
}

/// Takes one event: (visit, bench facts, event, time) to a new visit and what is to be done, or a refusal.
///
/// # Errors
/// [`Refusal`], with the numbers; the visit given stays the true one.
pub fn step(visit: &Visit, facts: &BenchFacts, event: &Event, now: &Moment) -> Result<Stepped, Refusal> {
    let mut next = visit.handed_on();
    let effects = next.take(facts, event, now)?;
    Ok(Stepped { visit: next, effects })
}

impl Visit {
    /// The visit's name in the journal.
    pub fn id(&self) -> &str {
        &self.id
    }

    /// What was known of the unit when the visit opened, and what was told since.
    pub const fn unit(&self) -> &UnitFacts {
        &self.unit
    }

    /// When it opened.
    pub const fn opened(&self) -> &Moment {
        &self.opened
    }

    /// Where it stands, with what only exists there.
    pub const fn stage(&self) -> &Stage {
        &self.stage
    }

    /// Where it stands.
    pub const fn stage_name(&self) -> StageName {
        self.stage.name()
    }

    /// The stages of this visit; before the kind is chosen those of a spin.
    pub fn stages(&self) -> &'static [StageName] {
        let frame = self.unit.unit_type.frame;
        stages(self.kind.unwrap_or(VisitKind::Spin), frame).unwrap_or(&[StageName::Receive])
    }

    /// Whether it waits off the rails.
    pub const fn paused(&self) -> bool {
        self.paused
    }

    /// Whether it is over.
    pub const fn closed(&self) -> bool {
        matches!(self.stage, Stage::Closed)
    }

    /// What it came for; `None` while the usual kind cannot be walked on this frame.
    pub const fn kind(&self) -> Option<VisitKind> {
        self.kind
    }

    /// What must be answered first.
    pub const fn question(&self) -> Option<&Question> {
        self.question.as_ref()
    }

    /// Whether the stage in hand still asks for isolation. An open lockout record answers it.
    pub fn asks_isolation(&self, facts: &BenchFacts) -> bool {
        let stage = self.stage_name();
        stage.hands_in() && facts.lockout.is_none() && !self.isolated.contains(&stage)
    }

    /// What Receive found.
    pub const fn receive(&self) -> &ReceiveState {
        &self.receive
    }

    /// What Tape read.
    pub const fn tape(&self) -> &TapeState {
        &self.tape
    }

    /// What Front read and turned.
    pub const fn front(&self) -> &FrontState {
        &self.front
    }

    /// What Rear read and turned.
    pub const fn rear(&self) -> &RearState {
        &self.rear
    }

    /// The passes made so far, kept across interruptions.
    pub const fn passes(&self) -> &Passes {
        &self.passes
    }

    /// What Prove found.
    pub const fn prove(&self) -> &ProveState {
        &self.prove
    }

    /// What became of the label.
    pub const fn label(&self) -> &LabelState {
        &self.label
    }

    /// The side an end stands on for the operator.
    pub fn side_of(&self, end: End) -> Option<Side> {
        self.unit.unit_type.side_of(end)
    }

    /// Why the clearance, or the checklist towards one, no longer holds.
    pub fn lapse(&self, facts: &BenchFacts, now: &Moment) -> Option<LapseReason> {
        match &self.stage {
            Stage::Clearance(gate) => gate.lapse(facts, now),
            Stage::Cleared(clearance) => clearance.lapse(facts, now),
            Stage::Grind(grind) => grind.lapse(facts, now),
            Stage::Receive
            | Stage::Tape
            | Stage::Front
            | Stage::Rear
            | Stage::Prove
            | Stage::Label
            | Stage::Return
            | Stage::Closed => None,
        }
    }

    fn handed_on(&self) -> Self {
        Self {
            id: self.id.clone(),
            unit: self.unit.clone(),
            opened: self.opened.clone(),
            stage: self.stage.handed_on(),
            paused: self.paused,
            kind: self.kind,
            question: self.question.clone(),
            isolated: self.isolated.clone(),
            receive: self.receive,
            tape: self.tape,
            front: self.front.clone(),
            rear: self.rear.clone(),
            passes: self.passes.clone(),
            prove: self.prove.clone(),
            label: self.label.clone(),
        }
    }

    fn take(&mut self, facts: &BenchFacts, event: &Event, now: &Moment) -> Result<Vec<Effect>, Refusal> {
        if self.closed() {
            return Err(Refusal::Closed);
        }
        match event {
            Event::Restarted => return Ok(self.restarted()),
            Event::TakenUp if self.paused => {
                self.paused = false;
                return Ok(Vec::new());
            }
            Event::TakenUp => return Err(Refusal::NotPaused),
            // A label is scanned and a place confirmed when the unit has long left the rails.
            Event::LabelScanned { .. } | Event::PlaceConfirmed { .. } => return self.take_in_stage(facts, event, now),
            _ if self.paused => return Err(Refusal::Paused),
            Event::Paused => return Ok(self.pause(facts)),
            Event::Lapsed { reason } => return self.lapsed(facts, reason, now),
            Event::Back => return self.back(),
            Event::TypeTold { fact } => return self.told(*fact),
            Event::IsolationHeld { held_ms } => return self.isolation_held(facts, *held_ms),
            Event::Answered { answer } => return self.answered(facts, *answer),
            _ => {}
        }
        if self.question.is_some() {
            return Err(Refusal::QuestionOpen);
        }
        if self.asks_isolation(facts) {
            return Err(Refusal::IsolationNeeded { stage: self.stage_name() });
        }
        self.take_in_stage(facts, event, now)
    }

    fn take_in_stage(&mut self, facts: &BenchFacts, event: &Event, now: &Moment) -> Result<Vec<Effect>, Refusal> {
        match &self.stage {
            Stage::Receive => self.receive_event(event),
            Stage::Tape => self.tape_event(facts, event),
            Stage::Front => self.front_event(facts, event),
            Stage::Rear => self.rear_event(facts, event),
            Stage::Clearance(_) | Stage::Cleared(_) => self.clearance_event(facts, event, now),
            Stage::Grind(_) => self.grind_event(facts, event, now),
            Stage::Prove => self.prove_event(facts, event),
            Stage::Label => self.label_event(facts, event),
            Stage::Return => self.return_event(event),
            Stage::Closed => Err(Refusal::Closed),
        }
    }

    fn not_here(&self) -> Refusal {
        Refusal::NotHere { stage: self.stage_name() }
    }

    /// Enters the stage after the one in hand.
    fn enter_next(&mut self) -> Vec<Effect> {
        let here = self.stage_name();
        let next = self.stages().iter().skip_while(|stage| **stage != here).nth(1).copied();
        self.enter(next.unwrap_or(here))
    }

    fn enter(&mut self, stage: StageName) -> Vec<Effect> {
        self.question = None;
        self.stage = Stage::begin(stage);
        vec![Effect::StageEntered(stage)]
    }

    /// Where a visit stands again when the rails or the process were left: nothing that needs a clearance survives.
    fn leave_cleared(&mut self) -> Vec<Effect> {
        match self.stage {
            Stage::Clearance(_) | Stage::Cleared(_) | Stage::Grind(_) => self.enter(StageName::Clearance),
            Stage::Receive
            | Stage::Tape
            | Stage::Front
            | Stage::Rear
            | Stage::Prove
            | Stage::Label
            | Stage::Return
            | Stage::Closed => Vec::new(),
        }
    }

    fn restarted(&mut self) -> Vec<Effect> {
        self.leave_cleared()
    }

    fn pause(&mut self, facts: &BenchFacts) -> Vec<Effect> {
        self.paused = true;
        self.isolated.clear();
        // After the last pass Front is history: Prove closes on the tilt that was ground in.
        if !self.before_prove() || self.all_passes_done(facts) {
            return self.leave_cleared();
        }
        // The unit leaves the rails: what was trued on them must be trued again.
        self.begin_front_again();
        self.begin_rear_again();
        match self.stage_name() {
            StageName::Front | StageName::Rear | StageName::Clearance | StageName::Grind => {
                self.enter(StageName::Front)
            }
            StageName::Receive | StageName::Tape | StageName::Prove | StageName::Label | StageName::Return => {
                Vec::new()
            }
        }
    }

    fn before_prove(&self) -> bool {
        !matches!(self.stage, Stage::Prove | Stage::Label | Stage::Return | Stage::Closed)
    }

    fn lapsed(&mut self, facts: &BenchFacts, reason: &LapseReason, now: &Moment) -> Result<Vec<Effect>, Refusal> {
        if self.lapse(facts, now).as_ref() != Some(reason) {
            return Err(Refusal::NotLapsed);
        }
        Ok(self.leave_cleared())
    }

    fn back(&mut self) -> Result<Vec<Effect>, Refusal> {
        let here = self.stage_name();
        let before = match here {
            // From the gate one steps back to the rails, never from passes into passes.
            StageName::Grind => Some(StageName::Clearance),
            StageName::Prove => None,
            StageName::Receive
            | StageName::Tape
            | StageName::Front
            | StageName::Rear
            | StageName::Clearance
            | StageName::Label
            | StageName::Return => self.stages().iter().take_while(|stage| **stage != here).last().copied(),
        };
        let before = before.ok_or_else(|| self.not_here())?;
        // Whoever walks away from a doubt has not said that the reading is right.
        if let Some(question) = self.question.take() {
            self.tape_answer(&question, Answer::Again)?;
        }
        Ok(self.enter(before))
    }
}

#[cfg(test)]
mod tests;
