//! What the kiosk keeps beside the journal, worked out again from the journal alone.
//!
//! Every record goes through the same changes and every event through the same [`visit::step`](sparkout_core::visit::step)
//! as when it happened, with the facts that were written down then: what comes out is what stood there.

use super::bench::{OpenVisit, entry_from};
use super::health::{OpenCheck, check_changes};
use super::journal::changes_from;
use super::pins::{pin_changes, signed_on_changes};
use super::shop::{Change, OpenVisitCard, Shop};
use super::wheel::{lockout_again, wheel_again};
use crate::store::{DerivedWrite, Record as Disk, StoreError};
use sparkout_core::entry::{Entry, EntryBody};
use sparkout_core::exposure::under_power;
use sparkout_core::moment::Moment;
use sparkout_core::visit::event::Event;
use std::collections::BTreeMap;

/// Entries that are read at a time.
const AT_A_TIME: usize = 256;

/// Works out all derived records again and writes them in the place of those that stand there. Tells from how many entries.
///
/// # Errors
/// [`StoreError`], also when an entry is not understood; the old records stand then.
pub fn rebuild(disk: &mut dyn Disk) -> Result<u64, StoreError> {
    // Read through before anything is dropped: an entry that is not understood must leave all as it is.
    let mut projector = Projector::default();
    let mut writes = BTreeMap::new();
    let mut next = 1;
    loop {
        let entries = disk.entries(next, AT_A_TIME)?;
        let Some((last, _)) = entries.last() else { break };
        next = last + 1;
        for (seq, bytes) in &entries {
            writes.insert(*seq, projector.project(*seq, bytes)?);
        }
    }
    disk.rebuild_derived(&mut |seq, _| writes.remove(&seq).unwrap_or_default())?;
    Ok(next - 1)
}

/// The shop and its open visits as they stood after some entry.
#[derive(Default)]
pub struct Projector {
    shop: Shop,
    visits: BTreeMap<String, OpenVisit>,
    check: Option<OpenCheck>,
}

impl Projector {
    /// Takes the next entry of the journal, and gives what it makes of the derived records.
    ///
    /// # Errors
    /// [`StoreError`] when the entry is not understood; nothing follows from it then.
    pub fn project(&mut self, seq: u64, bytes: &[u8]) -> Result<Vec<DerivedWrite>, StoreError> {
        let Entry { at, facts, body } = entry_from(seq, bytes)?;
        let changes = match body {
            EntryBody::OperatorChanged { operator: Some(badge) } => signed_on_changes(&self.shop.pin_guards, &badge),
            EntryBody::Pin { badge, what, .. } => pin_changes(&self.shop.pin_guards, badge, what, &at),
            EntryBody::Started { .. }
            | EntryBody::OperatorChanged { operator: None }
            | EntryBody::ClockMoved { .. }
            | EntryBody::Continues { .. }
            | EntryBody::Witness { .. }
            | EntryBody::Inputs { .. } => Vec::new(),
            EntryBody::Settings { setting, new, .. } => vec![Change::Setting(setting, new)],
            EntryBody::Record { record } => self.shop.changes_of(&record),
            EntryBody::Grinder { check, event } => {
                let stepped = OpenCheck::taken_again(&mut self.check, seq, &at, facts.map(|facts| *facts), &event)?;
                check_changes(&check, &event, &stepped)
            }
            EntryBody::Wheel { event } => wheel_again(seq, facts.as_deref(), &event)?,
            EntryBody::Lockout { event } => lockout_again(&self.shop, seq, &at, facts.as_deref(), &event)?,
            EntryBody::Visit { visit, event } => {
                self.visit_changes(seq, &at, facts.map(|facts| *facts), &visit, event)?
            }
        };
        let mut writes = Vec::new();
        for change in changes {
            let write = self.shop.derived(&change);
            writes.push(write.map_err(|error| StoreError::Other { detail: format!("entry {seq}: {error}") })?);
            self.shop.take(change);
        }
        Ok(writes)
    }

    fn visit_changes(
        &mut self,
        seq: u64,
        at: &Moment,
        facts: Option<sparkout_core::facts::BenchFacts>,
        id: &str,
        event: Event,
    ) -> Result<Vec<Change>, StoreError> {
        let Some(open) = self.visits.get_mut(id) else {
            let Some(open) = OpenVisit::opened(id, at, facts, event) else {
                return Err(StoreError::Corrupt { detail: format!("entry {seq}: the visit {id} was never opened") });
            };
            let card = OpenVisitCard { visit: id.to_owned(), tag: open.visit.unit().tag.clone() };
            self.visits.insert(id.to_owned(), open);
            return Ok(vec![Change::Opened(card)]);
        };
        let before = under_power(&open.visit);
        let effects = open.take_again(seq, at, facts, &event)?;
        let Some(known) = &open.facts else { return Ok(Vec::new()) };
        let mut changes = changes_from(&self.shop, &open.visit, known, &event, &effects);
        let ground = before.and_then(|before| before.ended(&open.visit, known, at));
        changes.extend(ground.map(Change::Ground));
        if open.visit.closed() {
            self.visits.remove(id);
        }
        Ok(changes)
    }
}
