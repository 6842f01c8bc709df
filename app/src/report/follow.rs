//! Visits and checks taken again entry by entry, with the facts that were written down: what an entry means often
//! hangs on where its visit stood, which the entry itself does not say.

use sparkout_core::facts::BenchFacts;
use sparkout_core::health::check::{self, Check, CheckEffect, GrinderEvent};
use sparkout_core::moment::Moment;
use sparkout_core::visit::event::Event;
use sparkout_core::visit::kind::StageName;
use sparkout_core::visit::{self, Visit};
use std::collections::HashMap;

/// All open visits, and the open check.
#[derive(Debug, Default)]
pub(super) struct Follower {
    visits: HashMap<String, Followed>,
    check: Option<(Check, BenchFacts)>,
}

/// A visit as it stands.
#[derive(Debug)]
pub(super) struct Followed {
    pub visit: Visit,
    pub facts: Option<BenchFacts>,
    /// What was told already to stand in the clearance's way.
    pub blocks_told: usize,
}

/// How an event was taken.
#[derive(Debug)]
pub(super) enum Taken {
    /// As when it happened; the visit as it stood before.
    Before(Box<Visit>),
    /// It opened the visit.
    Opened,
    /// `core` does not take it after what came before, or the visit's beginning is not known.
    Refused,
}

impl Taken {
    /// The visit as it stood before.
    pub fn before(&self) -> Option<&Visit> {
        match self {
            Self::Before(visit) => Some(visit),
            Self::Opened | Self::Refused => None,
        }
    }

    /// The stage in which the event happened.
    pub fn stage(&self) -> Option<StageName> {
        match self {
            Self::Before(visit) => Some(visit.stage_name()),
            Self::Opened => Some(StageName::Receive),
            Self::Refused => None,
        }
    }
}

impl Follower {
    /// The next event of a visit.
    pub fn visit(&mut self, id: &str, at: &Moment, facts: Option<Box<BenchFacts>>, event: &Event) -> Taken {
        if let Event::Opened { unit } = event {
            let visit = visit::open(id, unit.as_ref().clone(), at);
            let facts = facts.map(|facts| *facts);
            self.visits.insert(id.to_owned(), Followed { visit, facts, blocks_told: 0 });
            return Taken::Opened;
        }
        let Some(open) = self.visits.get_mut(id) else { return Taken::Refused };
        open.facts = facts.map(|facts| *facts).or(open.facts.take());
        let Some(known) = &open.facts else { return Taken::Refused };
        match visit::step(&open.visit, known, event, at) {
            Ok(stepped) => Taken::Before(Box::new(std::mem::replace(&mut open.visit, stepped.visit))),
            Err(_) => Taken::Refused,
        }
    }

    /// A visit as it stands now.
    pub fn now(&mut self, id: &str) -> Option<&mut Followed> {
        self.visits.get_mut(id)
    }

    /// Lets go of a visit that is over.
    pub fn forget_closed(&mut self, id: &str) {
        if self.visits.get(id).is_some_and(|open| open.visit.closed()) {
            self.visits.remove(id);
        }
    }

    /// The next event of the grinder's health: what followed from it, and the facts that it was judged by.
    pub fn grinder(
        &mut self,
        at: &Moment,
        facts: Option<Box<BenchFacts>>,
        event: &GrinderEvent,
    ) -> Option<(Vec<CheckEffect>, BenchFacts)> {
        let written = facts.map(|facts| *facts);
        let known = written.or_else(|| self.check.as_ref().map(|(_, facts)| facts.clone()))?;
        let stepped = check::step(self.check.as_ref().map(|(check, _)| check), &known, event, at).ok()?;
        // A spot check or an override may fall into a check without being part of it.
        if !matches!(event, GrinderEvent::Overridden { .. } | GrinderEvent::SpotChecked { .. }) {
            self.check = stepped.check.map(|check| (check, known.clone()));
        }
        Some((stepped.effects, known))
    }
}
