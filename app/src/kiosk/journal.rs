//! The one way through: an event is taken by `core`, kept by the journal, and only then true here.

use super::bench::{Bench, OpenVisit, View, fault_of};
use super::shop::{Change, Shop};
use crate::store::{DerivedWrite, NewEntry, Record as Disk, StoreError};
use sparkout_core::entry::{Entry, EntryBody, Record};
use sparkout_core::exposure::under_power;
use sparkout_core::facts::{BenchFacts, Per, PriorAcknowledgement};
use sparkout_core::health::check::CheckRefusal;
use sparkout_core::moment::Moment;
use sparkout_core::record::UnitStatus;
use sparkout_core::visit::event::{Effect, Event, UnitFacts};
use sparkout_core::visit::{self, Stepped, Visit};
use sparkout_ui::words::Said;

/// An entry's exact bytes.
///
/// # Errors
/// When it cannot be put into words, which would be a fault of ours.
pub fn entry_of(at: &Moment, facts: Option<&BenchFacts>, body: EntryBody) -> Result<Vec<u8>, StoreError> {
    let entry = Entry { at: at.clone(), facts: facts.map(|facts| Box::new(facts.clone())), body };
    serde_json::to_vec(&entry).map_err(ours)
}

/// Writes records straight into a journal: how a shop is set up, and how older work is taken over.
///
/// # Errors
/// When the disk does not take them; nothing is written then.
pub fn write_records(
    disk: &mut dyn Disk,
    shop: &mut Shop,
    at: &Moment,
    records: Vec<Record>,
) -> Result<(), StoreError> {
    let mut entries = Vec::new();
    let mut derived = Vec::new();
    for record in records {
        for change in shop.changes_of(&record) {
            derived.push(shop.derived(&change).map_err(ours)?);
            shop.take(change);
        }
        let bytes = entry_of(at, None, EntryBody::Record { record: Box::new(record) })?;
        entries.push(NewEntry { visit: None, bytes });
    }
    disk.append(&entries, &derived).map(drop)
}

fn ours(error: serde_json::Error) -> StoreError {
    StoreError::Other { detail: format!("an entry could not be written out: {error}") }
}

impl Bench {
    /// Keeps an entry that belongs to no visit, with the changes that follow from it.
    pub(super) fn keep(&mut self, body: EntryBody, changes: &[Change]) -> Result<(), Said> {
        let at = self.clock.now();
        let bytes = entry_of(&at, None, body).map_err(|error| self.not_kept(&error))?;
        self.append(NewEntry { visit: None, bytes }, changes)
    }

    pub(super) fn append(&mut self, entry: NewEntry, changes: &[Change]) -> Result<(), Said> {
        self.append_all(&[entry], changes)
    }

    pub(super) fn append_all(&mut self, entries: &[NewEntry], changes: &[Change]) -> Result<(), Said> {
        let derived: Result<Vec<DerivedWrite>, _> = changes.iter().map(|change| self.shop.derived(change)).collect();
        let kept = derived.map_err(ours).and_then(|derived| self.disk.append(entries, &derived));
        match kept {
            Ok(_) => {
                for change in changes {
                    self.shop.take(change.clone());
                }
                Ok(())
            }
            Err(error) => Err(self.not_kept(&error)),
        }
    }

    pub(super) fn not_written(&mut self, error: &serde_json::Error) -> Said {
        self.not_kept(&StoreError::Other { detail: format!("an entry could not be written out: {error}") })
    }

    pub(super) fn not_kept(&mut self, error: &StoreError) -> Said {
        tracing::error!(%error, detail = error.detail(), "an event was not kept");
        if matches!(error, StoreError::Reload { .. }) {
            self.reload();
        }
        Said::NotKept { fault: fault_of(error) }
    }

    /// Opens a visit for a unit that has none.
    pub(super) fn open_visit(&mut self, unit: UnitFacts) {
        if self.check.is_some() {
            return self.said = Some(Said::Check(CheckRefusal::CheckOpen));
        }
        let Some(facts) = self.facts() else { return self.said = Some(Said::NotSetUp) };
        let Ok(head) = self.disk.head() else { return };
        let at = self.clock.now();
        let id = format!("V{:07}", head.size + 1);
        let opened = visit::open(&id, unit.clone(), &at);
        let card = super::shop::OpenVisitCard { visit: id.clone(), tag: unit.tag.clone() };
        let body = EntryBody::Visit { visit: id.clone(), event: Event::Opened { unit: Box::new(unit) } };
        let bytes = match entry_of(&at, Some(&facts), body) {
            Ok(bytes) => bytes,
            Err(error) => return self.said = Some(self.not_kept(&error)),
        };
        match self.append(NewEntry { visit: Some(id), bytes }, &[Change::Opened(card)]) {
            Ok(()) => self.visits.push(OpenVisit { visit: opened, facts: Some(facts), opened: at.wall }),
            Err(said) => self.said = Some(said),
        }
    }

    /// Takes one event of a visit: `core` decides, the journal keeps, then it is true. Says why not, if not.
    pub(super) fn submit(&mut self, id: &str, event: Event) -> bool {
        match self.try_submit(id, event) {
            Ok(effects) => {
                for effect in effects {
                    self.perform(id, effect);
                }
                true
            }
            Err(said) => {
                self.said = Some(said);
                false
            }
        }
    }

    pub(super) fn try_submit(&mut self, id: &str, event: Event) -> Result<Vec<Effect>, Said> {
        let Some(facts) = self.facts() else { return Err(Said::NotSetUp) };
        let Some(index) = self.visits.iter().position(|open| open.visit.id() == id) else {
            return Err(Said::Refused(visit::refusal::Refusal::Closed));
        };
        let at = self.clock.now();
        let open = &self.visits[index];
        let Stepped { visit, effects } = visit::step(&open.visit, &facts, &event, &at).map_err(Said::Refused)?;
        let mut changes = changes_from(&self.shop, &open.visit, &facts, &event, &effects);
        let ground = under_power(&open.visit).and_then(|before| before.ended(&visit, &facts, &at));
        changes.extend(ground.map(Change::Ground));
        // The facts are written down when they differ from what this visit's entries say already.
        let written = (open.facts.as_ref() != Some(&facts)).then_some(&facts);
        let body = EntryBody::Visit { visit: id.to_owned(), event };
        let bytes = entry_of(&at, written, body).map_err(|error| self.not_kept(&error))?;
        self.append(NewEntry { visit: Some(id.to_owned()), bytes }, &changes)?;
        if matches!(self.view, View::Why(_)) {
            // What was explained is no longer what stands: a lapse above all is never behind an explanation.
            self.view = View::Bench;
        }
        if visit.closed() {
            self.visits.remove(index);
        } else {
            let open = &mut self.visits[index];
            open.visit = visit;
            open.facts = Some(facts);
        }
        Ok(effects)
    }

    fn perform(&mut self, id: &str, effect: Effect) {
        match effect {
            Effect::PrintLabel(content) => self.print(id, &content),
            Effect::StageEntered(_) => self.direction_not_known = false,
            Effect::TypeTold { .. }
            | Effect::WorkDone(_)
            | Effect::ServiceDone { .. }
            | Effect::Closed
            | Effect::ClosedUnfinished(_) => {}
        }
    }
}

/// How the shop's records change by an event that a visit took, now or when the journal is read again.
pub(super) fn changes_from(
    shop: &Shop,
    visit: &Visit,
    facts: &BenchFacts,
    event: &Event,
    effects: &[Effect],
) -> Vec<Change> {
    let mut changes = Vec::new();
    if let Event::ItemHeld { item, .. } = event {
        changes.extend(prior(item, facts).map(Change::Acknowledged));
        // An item that is the look over the wheel stands in the wheel's record too.
        if facts.gate.items.iter().any(|known| known.id == *item && known.look_over) {
            changes.extend(sparkout_core::wheel::looked_over(facts).map(Change::Wheel));
        }
    }
    let tag = &visit.unit().tag;
    for effect in effects {
        match effect {
            Effect::TypeTold { type_name, fact } => {
                if let Some(mut unit_type) = shop.types.get(type_name).cloned() {
                    fact.put_into(&mut unit_type);
                    changes.push(Change::Type(unit_type));
                }
            }
            Effect::ServiceDone { service, ready } => {
                let status = ready.then_some(UnitStatus::Ready);
                changes.extend(shop.with_service(tag, service, status));
            }
            Effect::WorkDone(work) => changes.extend(shop.with_work(tag, work, Some(UnitStatus::Ready))),
            Effect::Closed => {
                changes.extend(shop.with_status(tag, UnitStatus::InService));
                changes.push(Change::Closed(visit.id().to_owned()));
            }
            Effect::ClosedUnfinished(_) => changes.push(Change::Closed(visit.id().to_owned())),
            Effect::PrintLabel(_) | Effect::StageEntered(_) => {}
        }
    }
    changes
}

/// What may count again of an acknowledgement: nothing of one that is asked before every grind.
fn prior(item: &str, facts: &BenchFacts) -> Option<PriorAcknowledgement> {
    let per = facts.gate.items.iter().find(|known| known.id == item)?.per;
    if per == Per::Grind {
        return None;
    }
    Some(PriorAcknowledgement {
        item: item.to_owned(),
        operator: facts.operator.as_ref()?.id.clone(),
        mounting: facts.wheel.as_ref()?.mounting.clone(),
        grinder: facts.grinder.name.clone(),
        shift: facts.shift.clone(),
    })
}
