//! What a finished grind teaches about the bench it was ground on.

use super::Visit;
use crate::facts::BenchFacts;
use crate::record::Lesson;

impl Visit {
    /// Taken when Prove is left; none where nothing was ground.
    pub(super) fn lesson(&self, facts: &BenchFacts) -> Option<Box<Lesson>> {
        if self.passes.done() == 0 {
            return None;
        }
        let proved = self.proved(facts)?.ok()?;
        Some(Box::new(Lesson {
            grinder: facts.grinder.name.clone(),
            dial: facts.grinder.dial,
            dial_graduation: facts.grinder.dial_graduation,
            tape: facts.upkeep.tape.clone(),
            tape_graduation: facts.instruments.tape_graduation,
            wheel: facts.wheel.as_ref().map(|wheel| wheel.mounting.clone()),
            infeed: self.whole_infeed(facts),
            removed: proved.removed,
            touches: self.front.readings().to_vec(),
            tilt: self.front_outcome(facts).and_then(Result::ok).map(|front| front.tilt),
            misclosure: proved.misclosure,
            misclosure_u95: proved.misclosure_u95,
        }))
    }

    /// What was fed on diameter, when all was: the plan begins at the first touch on the largest end, and so does what
    /// the tape says was removed.
    fn whole_infeed(&self, facts: &BenchFacts) -> Option<crate::quantity::Length> {
        let plan = self.plan(facts).ok()?;
        let last = *plan.schedule.last()?;
        (self.passes.done() >= plan.passes).then(|| last * (2.0 / facts.grinder.dial.factor()))
    }
}
