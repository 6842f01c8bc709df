//! What the bench has learnt from its finished work, worked out when a record changed and not at every look.

use super::bench::Bench;
use sparkout_core::facts::{Instruments, Upkeep};
use sparkout_core::health::closure::{Closure, closures};
use sparkout_core::health::drift::drift;
use sparkout_core::health::earned::earned;
use sparkout_core::outlook::wheel_yield::wheel_yield;
use sparkout_core::record::{Grinder, Work};
use std::cell::RefCell;

/// What was worked out last.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Learnt {
    pub instruments: Instruments,
    pub upkeep: Upkeep,
    /// The closures on this grinder, oldest first.
    pub closures: Vec<Closure>,
}

/// The last one, with the records' revision and the operator it holds for.
#[derive(Debug, Default)]
pub(super) struct Kept(RefCell<Option<(u64, Option<String>, Learnt)>>);

impl Bench {
    /// What the bench has learnt, for whoever stands there now.
    pub(super) fn learnt(&self, grinder: &Grinder) -> Learnt {
        let operator = self.operator.as_ref().map(|operator| operator.initials.clone());
        let kept = self.learnt.0.borrow().clone();
        if let Some((revision, of, learnt)) = kept
            && revision == self.shop.revision
            && of == operator
        {
            return learnt;
        }
        let learnt = self.work_out(grinder, operator.as_deref());
        *self.learnt.0.borrow_mut() = Some((self.shop.revision, operator, learnt.clone()));
        learnt
    }

    /// A visit that is still open has not taught anything yet: what it is judged by must not move while it is judged.
    fn work_out(&self, grinder: &Grinder, operator: Option<&str>) -> Learnt {
        let open = |visit: &Option<String>| {
            visit.as_ref().is_some_and(|visit| self.shop.open_visits.iter().any(|card| card.visit == *visit))
        };
        let units = self.shop.units.values();
        let mut closures = closures(units.clone());
        closures.retain(|closure| closure.lesson.grinder == grinder.name && !open(&closure.visit));
        let found = earned(&closures, operator);
        let mut instruments = self.config.instruments();
        instruments.touch_sd = found.touch_sd.unwrap_or(instruments.touch_sd);
        let works = units.flat_map(|unit| &unit.history).filter(|work: &&Work| !open(&work.visit));
        let mounting = self.shop.wheel.as_ref().map(|wheel| wheel.mounting.as_str());
        let checked = grinder.last_check.as_deref().map(|check| check.date);
        let upkeep = Upkeep {
            check: self.config.check_rules(),
            tape: self.config.tape().to_owned(),
            tape_sd: found.tape_sd,
            tape_source: found.tape_source,
            touch_source: found.touch_source,
            wheel_yield: mounting.and_then(|mounting| wheel_yield(works, &grinder.name, mounting)),
            drift: drift(&closures, &self.shop.spot_checks, checked),
        };
        Learnt { instruments, upkeep, closures }
    }
}
