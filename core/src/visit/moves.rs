//! From stage to stage: on, back, away from the rails and back after the process was killed.

use super::event::{Answer, Effect};
use super::gate::LapseReason;
use super::kind::{StageName, VisitKind};
use super::refusal::Refusal;
use super::{Stage, Visit};
use crate::facts::BenchFacts;
use crate::moment::Moment;

impl Visit {
    /// Enters the stage after the one in hand. A relief that is ground is not ground again because the unit had to be
    /// trued again in the meantime.
    pub(super) fn enter_next(&mut self) -> Vec<Effect> {
        let (here, at) = (self.stage_name(), self.position());
        let lands_missing = self.relief.stood_still() && !self.relief.finished();
        let relief_at = self.stages().iter().position(|stage| *stage == StageName::Relief);
        let from = match relief_at {
            Some(relief_at) if at < relief_at && self.relief.finished() => relief_at,
            Some(relief_at) if at < relief_at && lands_missing && here.is_on_rails() => relief_at - 1,
            Some(_) | None => at,
        };
        let ahead = self.stages().iter().skip(at + 1);
        let next = if here.is_on_rails() {
            // Whatever is still to be trued comes before the relief is skipped.
            ahead.clone().find(|stage| stage.is_on_rails()).or_else(|| self.stages().get(from + 1))
        } else {
            ahead.clone().next()
        };
        self.enter(next.copied().unwrap_or(here))
    }

    pub(super) fn enter(&mut self, stage: StageName) -> Vec<Effect> {
        self.question = None;
        self.stage = match stage {
            StageName::Relief if self.relief.stood_still() => {
                self.relief.look_again();
                Stage::ReliefLands
            }
            StageName::BackLap if self.back_lap.stood_still() => Stage::BackLapped,
            stage => Stage::begin(stage, self.turning()),
        };
        vec![Effect::StageEntered(self.stage_name())]
    }

    /// Where a visit stands again when the rails or the process were left: nothing that needs a clearance survives.
    fn leave_cleared(&mut self) -> Vec<Effect> {
        let cleared = matches!(self.stage, Stage::Clearance(_) | Stage::Cleared(_));
        if cleared || self.stage.running().is_some() { self.enter(StageName::Clearance) } else { Vec::new() }
    }

    pub(super) fn restarted(&mut self) -> Vec<Effect> {
        self.leave_cleared()
    }

    pub(super) fn pause(&mut self, facts: &BenchFacts) -> Vec<Effect> {
        self.paused = true;
        self.isolated.clear();
        // After the last pass Front is history: Prove closes on the tilt that was ground in.
        if !self.before_prove() || self.all_passes_done(facts) {
            return self.leave_cleared();
        }
        // The unit leaves the rails: what was trued on them must be trued again.
        self.begin_front_again();
        self.begin_rear_again();
        self.relief.begin_finger_again();
        let Some(first) = self.first_on_rails() else { return self.leave_cleared() };
        match self.stage_name() {
            StageName::Front
            | StageName::Rear
            | StageName::Finger
            | StageName::Relief
            | StageName::Clearance
            | StageName::Grind => self.enter(first),
            StageName::Receive
            | StageName::Tape
            | StageName::Prove
            | StageName::Knife
            | StageName::BackLap
            | StageName::Height
            | StageName::Plate
            | StageName::Check
            | StageName::Label
            | StageName::Return => Vec::new(),
        }
    }

    /// The stage at which the unit is trued first.
    pub(super) fn first_on_rails(&self) -> Option<StageName> {
        self.stages().iter().find(|stage| stage.is_on_rails()).copied()
    }

    fn before_prove(&self) -> bool {
        let prove = self.stages().iter().position(|stage| *stage == StageName::Prove);
        prove.is_none_or(|prove| self.position() < prove) && !self.closed()
    }

    pub(super) fn lapsed(
        &mut self,
        facts: &BenchFacts,
        reason: &LapseReason,
        now: &Moment,
    ) -> Result<Vec<Effect>, Refusal> {
        if self.lapse(facts, now).as_ref() != Some(reason) {
            return Err(Refusal::NotLapsed);
        }
        Ok(self.leave_cleared())
    }

    pub(super) fn back(&mut self) -> Result<Vec<Effect>, Refusal> {
        let before = match &self.stage {
            // What was ground cannot be taken back to the passes.
            Stage::Prove => None,
            Stage::ReliefLands => self.stages().iter().rfind(|stage| stage.is_on_rails()),
            // From turning work one steps back to its gate.
            _ => self.position().checked_sub(1).and_then(|before| self.stages().get(before)),
        };
        let before = before.copied().ok_or_else(|| self.not_here())?;
        // Whoever walks away from a doubt has not said that the reading is right.
        if let Some(question) = self.question.take() {
            self.tape_answer(&question, Answer::Again)?;
        }
        Ok(self.enter(before))
    }

    /// Whether the reel is spun in this visit, so that its wear limit matters.
    pub(super) const fn spins(&self) -> bool {
        matches!(self.kind, VisitKind::Spin | VisitKind::ReliefAndSpin)
    }
}
