//! What a person tells the visit in any stage: that power is off, a fact about the type, the answer to a question.

use super::event::{Answer, Effect, Question};
use super::gate::Block;
use super::kind::StageName;
use super::refusal::Refusal;
use super::{Stage, Visit};
use crate::facts::{BenchFacts, TypeFact};

impl Visit {
    pub(super) fn isolation_held(&mut self, facts: &BenchFacts, held_ms: u64) -> Result<Vec<Effect>, Refusal> {
        let stage = self.stage_name();
        if !self.hands_in() {
            return Err(self.not_here());
        }
        if held_ms < facts.gate.hold_ms {
            return Err(Refusal::HeldTooShort { held_ms, wanted_ms: facts.gate.hold_ms });
        }
        if facts.operator.is_none() {
            return Err(Refusal::Blocked(Block::NoOperator));
        }
        if !self.isolated.contains(&stage) {
            self.isolated.push(stage);
        }
        Ok(Vec::new())
    }

    pub(super) fn told(&mut self, fact: TypeFact) -> Result<Vec<Effect>, Refusal> {
        if let TypeFact::LeadingEndAt(side) = fact {
            let known = self.unit.unit_type.leading_end_at;
            if known.is_some_and(|known| known != side) {
                // Which reading belongs to which end hangs on it: it is put right before anything is measured again.
                if !matches!(self.stage, Stage::Receive) {
                    return Err(self.not_here());
                }
                self.begin_tape_again();
            }
        }
        fact.put_into(&mut self.unit.unit_type);
        Ok(vec![Effect::TypeTold { type_name: self.unit.unit_type.name.clone(), fact }])
    }

    pub(super) fn answered(&mut self, facts: &BenchFacts, answer: Answer) -> Result<Vec<Effect>, Refusal> {
        let question = self.question.clone().ok_or(Refusal::NotAnAnswer)?;
        if !question.answers().contains(&answer) {
            return Err(Refusal::NotAnAnswer);
        }
        self.question = None;
        match (&question, self.stage_name()) {
            (Question::DialShort { .. } | Question::TooFine { .. }, StageName::Front) => {
                self.front_answer(&question, answer)
            }
            (Question::TooFine { .. }, StageName::Receive) => self.play_answer(facts, &question, answer),
            (Question::TooFine { .. }, StageName::Rear) => self.rear_answer(&question, answer),
            (_, StageName::Prove) => self.prove_answer(&question, answer),
            (Question::FarFromLast { .. } | Question::LargerThanNew { .. }, _) if answer == Answer::Keep => {
                self.kept_diameter(facts, &question)
            }
            _ => self.tape_answer(&question, answer),
        }
    }
}
