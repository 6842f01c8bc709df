//! One unit's trip over the bench, as a state machine.
//!
//! [`step`] is the only way through: the screen, a rehearsal, a replay of the journal and the tests all use it.
//! It changes nothing: it gives a new visit, what is to be done, or a typed refusal.

mod back_lap;
mod check;
mod clearance;
pub mod event;
mod front;
pub mod gate;
mod grind;
mod height;
mod holds;
pub mod kind;
mod knife;
mod label;
mod lesson;
mod moves;
mod plate;
mod prove;
mod question;
mod rear;
mod receive;
pub mod refusal;
mod relief;
mod repeats;
mod running;
mod tape;
mod told;
mod touches;
mod values;

pub use back_lap::BackLapState;
pub use check::{CheckOutcome, CheckState, DueReason};
pub use clearance::Stage;
pub(crate) use front::dial_range;
pub use front::{FrontPhase, FrontState, Round};
pub use grind::{Grind, Passes};
pub use height::{HeightOutcome, HeightRound, HeightSide, HeightState};
pub use holds::Override;
pub use knife::KnifeState;
pub use label::LabelState;
pub use plate::{PlateOutcome, PlateState};
pub use prove::{Judgement, ProveState};
pub use rear::{RearDone, RearRemedy, RearRound, RearState};
pub use receive::{PLAYS, ReceiveState};
pub use relief::{ReliefPlan, ReliefState};
pub use running::Running;
pub use tape::TapeState;
pub use touches::{PooledTouch, pooled_touch};
pub use values::Values;

use crate::bench::End;
use crate::facts::BenchFacts;
use crate::moment::Moment;
use crate::record::Side;
use event::{Effect, Event, Question, UnitFacts};
use gate::LapseReason;
use kind::{StageName, Turning, VisitKind, stages};
use refusal::Refusal;

/// A visit as it stands.
#[derive(Debug, PartialEq)]
pub struct Visit {
    id: String,
    unit: UnitFacts,
    opened: Moment,
    stage: Stage,
    paused: bool,
    kind: VisitKind,
    question: Option<Question>,
    isolated: Vec<StageName>,
    receive: ReceiveState,
    tape: TapeState,
    front: FrontState,
    rear: RearState,
    passes: Passes,
    prove: ProveState,
    relief: ReliefState,
    knife: KnifeState,
    back_lap: BackLapState,
    height: HeightState,
    plate: PlateState,
    check: CheckState,
    done_by: Option<String>,
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

/// Opens a visit. It is taken for a spin until another kind is chosen.
pub fn open(id: &str, unit: UnitFacts, now: &Moment) -> Visit {
    Visit {
        id: id.to_owned(),
        unit,
        opened: now.clone(),
        stage: Stage::Receive,
        paused: false,
        kind: VisitKind::Spin,
        question: None,
        isolated: Vec::new(),
        receive: ReceiveState::default(),
        tape: TapeState::default(),
        front: FrontState::default(),
        rear: RearState::default(),
        passes: Passes::default(),
        prove: ProveState::default(),
        relief: ReliefState::default(),
        knife: KnifeState::default(),
        back_lap: BackLapState::default(),
        height: HeightState::default(),
        plate: PlateState::default(),
        check: CheckState::default(),
        done_by: None,
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

    /// The stages of this visit.
    pub fn stages(&self) -> &'static [StageName] {
        stages(self.kind, &self.unit.unit_type)
    }

    /// Where the stage in hand stands in [`Visit::stages`]. A clearance stands before the turning work it is for.
    pub fn position(&self) -> usize {
        let here = self.stage_name();
        let turning = |stage: &StageName| stage.turning() == Some(self.turning());
        let found = match here {
            StageName::Clearance => self.stages().iter().position(turning).map(|index| index.saturating_sub(1)),
            _ => self.stages().iter().position(|stage| *stage == here),
        };
        found.unwrap_or(0)
    }

    /// The turning work that this visit is at, or comes to next.
    pub const fn turning(&self) -> Turning {
        match self.kind {
            VisitKind::ReliefAndSpin if !self.relief.finished() => Turning::Relief,
            VisitKind::BackLap => Turning::BackLap,
            VisitKind::Spin
            | VisitKind::ReliefAndSpin
            | VisitKind::Bedknife
            | VisitKind::HeightOfCut
            | VisitKind::CheckOnly => Turning::Grind,
        }
    }

    /// Whether it waits off the rails.
    pub const fn paused(&self) -> bool {
        self.paused
    }

    /// Whether it is over.
    pub const fn closed(&self) -> bool {
        matches!(self.stage, Stage::Closed)
    }

    /// What it came for.
    pub const fn kind(&self) -> VisitKind {
        self.kind
    }

    /// What must be answered first.
    pub const fn question(&self) -> Option<&Question> {
        self.question.as_ref()
    }

    /// Whether hands are in the machine now. Relief and back-lap have their hands in once the machine stands.
    pub const fn hands_in(&self) -> bool {
        match &self.stage {
            Stage::ReliefLands | Stage::BackLapped => true,
            stage => stage.name().hands_in(),
        }
    }

    /// Whether the stage in hand still asks for isolation. A lockout of one's own that was proved dead answers it.
    pub fn asks_isolation(&self, facts: &BenchFacts) -> bool {
        self.hands_in() && !facts.locked_dead() && !self.isolated.contains(&self.stage_name())
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

    /// What Relief was set to and found.
    pub const fn relief(&self) -> &ReliefState {
        &self.relief
    }

    /// What was done to the bedknife.
    pub const fn knife(&self) -> &KnifeState {
        &self.knife
    }

    /// How it was lapped.
    pub const fn back_lap(&self) -> &BackLapState {
        &self.back_lap
    }

    /// What Height read and turned.
    pub const fn height(&self) -> &HeightState {
        &self.height
    }

    /// What was read on the plate.
    pub const fn plate(&self) -> &PlateState {
        &self.plate
    }

    /// What Check found.
    pub const fn check(&self) -> &CheckState {
        &self.check
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
            Stage::Relief(running) | Stage::BackLap(running) => running.lapse(facts, now),
            Stage::Receive
            | Stage::Tape
            | Stage::Front
            | Stage::Rear
            | Stage::Prove
            | Stage::Finger
            | Stage::ReliefLands
            | Stage::Knife
            | Stage::BackLapped
            | Stage::Height
            | Stage::Plate
            | Stage::Check
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
            receive: self.receive.clone(),
            tape: self.tape,
            front: self.front.clone(),
            rear: self.rear.clone(),
            passes: self.passes.clone(),
            prove: self.prove.clone(),
            relief: self.relief.clone(),
            knife: self.knife.clone(),
            back_lap: self.back_lap,
            height: self.height.clone(),
            plate: self.plate.clone(),
            check: self.check.clone(),
            done_by: self.done_by.clone(),
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
            Stage::Receive => self.receive_event(facts, event),
            Stage::Tape => self.tape_event(facts, event),
            Stage::Front => self.front_event(facts, event),
            Stage::Rear => self.rear_event(facts, event),
            Stage::Clearance(_) | Stage::Cleared(_) => self.clearance_event(facts, event, now),
            Stage::Grind(_) => self.grind_event(facts, event, now),
            Stage::Prove => self.prove_event(facts, event),
            Stage::Finger => self.finger_event(facts, event),
            Stage::Relief(_) => self.relief_event(facts, event, now),
            Stage::ReliefLands => self.relief_lands_event(facts, event),
            Stage::Knife => self.knife_event(facts, event),
            Stage::BackLap(_) => self.back_lap_event(facts, event, now),
            Stage::BackLapped => self.back_lapped_event(facts, event),
            Stage::Height => self.height_event(facts, event),
            Stage::Plate => self.plate_event(facts, event),
            Stage::Check => self.check_event(facts, event),
            Stage::Label => self.label_event(facts, event),
            Stage::Return => self.return_event(event),
            Stage::Closed => Err(Refusal::Closed),
        }
    }

    fn not_here(&self) -> Refusal {
        Refusal::NotHere { stage: self.stage_name() }
    }
}

#[cfg(test)]
pub(crate) use tests::bench as bench_for_tests;

#[cfg(test)]
mod tests;
