//! What a scan does, where the visit stands.

use super::bench::{Bench, OpenVisit, View};
use super::enrolment::Enrolment;
use super::pins::signed_on_changes;
use crate::label::vouched::{Distrust, KnownKeys, Vouched};
use sparkout_core::entry::EntryBody;
use sparkout_core::health::check::CheckRefusal;
use sparkout_core::journal::checkpoint::NamedKey;
use sparkout_core::label::{LabelContent, LabelEnvelope, LabelRefusal};
use sparkout_core::record::{Mower, Operator, UnitStatus};
use sparkout_core::scan::{self, Scan};
use sparkout_core::visit::event::{Event, UnitFacts};
use sparkout_core::visit::kind::StageName;
use sparkout_ui::words::{PinSaid, Said};

/// Under which this bench's own key stands among the known ones; nobody is shown it.
const THIS_BENCH: &str = "this-bench";

impl Bench {
    /// Reads a scan and does what it means here.
    pub(super) fn scanned(&mut self, text: &str) {
        let read = scan::parse(text, &self.codes);
        if !matches!(read, Ok(Scan::Command(_))) {
            self.in_hand = None;
        }
        // A scan is never a PIN, and nothing else is taken while one is asked.
        if matches!(self.view, View::Pin(_)) && !matches!(read, Ok(Scan::Badge(_))) {
            return self.said = Some(Said::Pin(PinSaid::NotByScan));
        }
        match read {
            Ok(Scan::Badge(badge)) => self.badge(badge.as_str()),
            Ok(Scan::Asset(asset)) => self.unit(&asset.tag()),
            Ok(Scan::OwnLabel(envelope)) => self.own_label(text, &envelope),
            Ok(Scan::Place(place)) => self.place(place.mower().as_str(), u32::from(place.position())),
            Ok(Scan::Command(card)) => self.command(card),
            // The window that has the keys takes these; one that comes as far as this came without a window.
            Ok(Scan::Key(_)) => self.said = Some(Said::CommandNotHere),
            Err(refusal) => self.said = Some(Said::Scan(refusal)),
        }
    }

    fn badge(&mut self, id: &str) {
        let Some(operator) = self.shop.operators.get(id).cloned() else {
            return self.said = Some(Said::UnknownBadge { id: id.to_owned() });
        };
        if self.config.asks_pin() {
            return self.ask_pin(&operator);
        }
        self.sign_on(operator);
    }

    /// Somebody stands at the bench.
    pub(super) fn sign_on(&mut self, operator: Operator) {
        let name = operator.name.clone();
        let changes = signed_on_changes(&self.shop.pin_guards, &operator.id);
        match self.keep(EntryBody::OperatorChanged { operator: Some(operator.id.clone()) }, &changes) {
            Ok(()) => {
                self.operator = Some(operator);
                self.said = Some(Said::SignedOn { name });
                self.tell_owner();
            }
            Err(said) => self.said = Some(said),
        }
    }

    /// Nobody stands at the bench any more.
    pub(super) fn sign_off(&mut self) {
        match self.keep(EntryBody::OperatorChanged { operator: None }, &[]) {
            Ok(()) => {
                self.operator = None;
                self.said = Some(Said::SignedOff);
            }
            Err(said) => self.said = Some(said),
        }
    }

    /// A unit's tag: take up its visit, open one, or offer to enrol it.
    pub(super) fn unit(&mut self, tag: &str) {
        if self.unit_at_grinder(tag) {
            return;
        }
        if self.check.is_some() {
            return self.said = Some(Said::Check(CheckRefusal::CheckOpen));
        }
        if let Some(open) = self.on_rails() {
            let there = open.visit.unit().tag.clone();
            if there != tag {
                self.said = Some(Said::OtherOnRails { tag: there });
            }
            return;
        }
        // A type and a place can be given to a tag only where there are some: the bench is set up first.
        if self.nothing_on_record() {
            return self.said = Some(Said::NotSetUp);
        }
        let waiting = self.visits.iter().find(|open| open.visit.unit().tag == tag);
        if let Some(id) = waiting.map(|open| open.visit.id().to_owned()) {
            self.view = View::Bench;
            self.submit(&id, Event::TakenUp);
            return;
        }
        let Some(unit) = self.shop.units.get(tag) else {
            self.view = View::Enrol(Enrolment::of(tag));
            return;
        };
        if unit.status == UnitStatus::Retired {
            return self.said = Some(Said::Retired { tag: tag.to_owned() });
        }
        let Some(unit_type) = self.shop.types.get(&unit.type_name).cloned() else {
            self.view = View::Enrol(Enrolment::of(tag));
            return;
        };
        let facts = UnitFacts {
            tag: unit.tag.clone(),
            unit_type,
            mower: unit.mower.clone(),
            position: unit.position,
            last: unit.history.last().cloned(),
        };
        self.view = View::Bench;
        self.open_visit(facts);
    }

    /// A label of a visit that waits for it closes it; any other says what stands in it and who vouches for that, from the
    /// code alone.
    fn own_label(&mut self, text: &str, label: &LabelEnvelope) {
        let signed = match self.known_keys().judge(&label.seal) {
            Ok(vouched) => matches!(vouched, Vouched::Signed { .. }),
            Err(Distrust::Altered) => return self.said = Some(Said::Scan(LabelRefusal::Altered.into())),
            Err(Distrust::UnknownKey { key }) => {
                let tag = label.content.unit.clone();
                return self.said = Some(Said::LabelOfUnknownKey { tag, key: key.to_string() });
            }
        };
        let LabelContent { unit, station, date, verdict, grind, .. } = &label.content;
        let waits = |open: &&OpenVisit| open.visit.id() == grind && open.visit.stage_name() == StageName::Label;
        if self.visits.iter().any(|open| waits(&open)) {
            self.scanned_before_told(grind, text.trim());
            if self.submit(grind, Event::LabelScanned { code: text.trim().to_owned() }) {
                self.said = Some(Said::LabelClosed);
            }
            return;
        }
        let (tag, date, verdict) = (unit.clone(), *date, *verdict);
        self.said = Some(Said::LabelOfUnit { tag, date, verdict, signed_by: signed.then(|| station.clone()) });
    }

    /// The benches of the shop that are configured, and this one.
    fn known_keys(&self) -> KnownKeys {
        let mut known = self.keys.clone();
        let own = self.disk.signer().and_then(|key| NamedKey::new(THIS_BENCH, key.public_key()).ok());
        if let Some(own) = own {
            known.add(own);
        }
        known
    }

    fn place(&mut self, code: &str, position: u32) {
        let mower = self.shop.mowers.values().find(|mower| mower.code == code).cloned();
        let name = mower.as_ref().map_or_else(|| code.to_owned(), |mower: &Mower| mower.name.clone());
        // Units that are ready may wait off the rails and go back together: then the place says which one is meant.
        let at_return = |open: &&OpenVisit| open.visit.stage_name() == StageName::Return;
        let returning = self.on_rails().filter(at_return).or_else(|| {
            self.visits.iter().filter(at_return).find(|open| {
                let unit = open.visit.unit();
                unit.mower == name && unit.position == position
            })
        });
        let Some(open) = returning else {
            return self.said = Some(Said::PlaceNotUnit { mower: name, position });
        };
        let unit = open.visit.unit();
        if unit.mower != name || unit.position != position {
            let (mower, position) = (unit.mower.clone(), unit.position);
            return self.said = Some(Said::WrongPlace { mower, position });
        }
        let (id, tag) = (open.visit.id().to_owned(), unit.tag.clone());
        if self.submit(&id, Event::PlaceConfirmed { scanned: true }) {
            self.said = Some(Said::Back { tag });
        }
    }
}
