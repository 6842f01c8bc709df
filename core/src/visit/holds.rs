//! What holds a visit: found at Receive or in the frame, mended by name, or let go on by a lead with a reason.

use super::Visit;
use super::event::{Effect, Hold, Part};
use super::gate::Block;
use super::refusal::Refusal;
use crate::facts::BenchFacts;
use crate::record::Operator;

/// A lead's word that a visit goes on although something holds it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Override {
    /// What holds it.
    pub hold: Hold,
    /// Who, initials.
    pub by: String,
    /// Why, in words.
    pub reason: String,
}

/// A reason is a sentence, not a letter.
pub const REASON_MOST: usize = 200;

impl Visit {
    /// A lead's word about a hold, where there is one.
    pub fn overridden(&self, hold: Hold) -> Option<&Override> {
        self.receive.overrides().iter().find(|given| given.hold == hold)
    }

    pub(super) fn mended(&mut self, facts: &BenchFacts, part: Part) -> Result<Vec<Effect>, Refusal> {
        let operator = facts.operator.as_ref().ok_or(Refusal::Blocked(Block::NoOperator))?;
        if !self.receive.found_bad(part) {
            return Err(Refusal::NotHeld);
        }
        self.receive.mend(part, &operator.initials);
        Ok(Vec::new())
    }

    /// Lets the visit go on.
    ///
    /// # Errors
    /// When nothing holds it there, nobody or no lead stands at the bench, or the reason says nothing.
    pub(super) fn let_go_on(&mut self, facts: &BenchFacts, hold: Hold, reason: &str) -> Result<Vec<Effect>, Refusal> {
        let lead = lead(facts)?;
        let reason = reason.trim();
        let length = reason.chars().count();
        if length == 0 || length > REASON_MOST {
            return Err(Refusal::ReasonLength { length, most: REASON_MOST });
        }
        let given = Override { hold, by: lead.initials.clone(), reason: reason.to_owned() };
        self.receive.let_go_on(given);
        Ok(Vec::new())
    }
}

fn lead(facts: &BenchFacts) -> Result<&Operator, Refusal> {
    let operator = facts.operator.as_ref().ok_or(Refusal::Blocked(Block::NoOperator))?;
    if operator.lead { Ok(operator) } else { Err(Refusal::NotLead { name: operator.name.clone() }) }
}
