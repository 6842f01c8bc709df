//! The grinder's own health at the kiosk: the check with the master bar, spot checks, a lead's override, and what is due.

use super::bench::{Bench, View, entry_from, not_understood};
use super::journal::entry_of;
use super::shop::Change;
use crate::store::{NewEntry, Record as Disk, StoreError};
use sparkout_core::calc::master::MasterVerdict;
use sparkout_core::entry::{Entry, EntryBody};
use sparkout_core::facts::BenchFacts;
use sparkout_core::health::check::{Check, CheckEffect, CheckRefusal, CheckStepped, GrinderEvent, step};
use sparkout_core::moment::Moment;
use sparkout_core::outlook::due::{DueUnit, due_list};
use sparkout_core::outlook::sets::mower_sets;
use sparkout_core::reading::{LengthKind, Reading};
use sparkout_core::record::{Unit, UnitType};
use sparkout_ui::action::Control;
use sparkout_ui::present::{self, Gathered, SHOWN_CLOSURES};
use sparkout_ui::screen::{self, Body, Screen};
use sparkout_ui::words::{OVERRIDE_REASONS, Said, override_reason};

/// A check with the master bar, and the facts its last entry with facts wrote down.
pub(super) struct OpenCheck {
    pub id: String,
    pub check: Check,
    pub facts: BenchFacts,
}

/// What of the grinder's health is shown.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum GrinderPage {
    /// How it stands, with its charts.
    Overview {
        /// Which closures are charted.
        by: Gathered,
    },
    /// A spot check: which unit stands on the plate, once it was scanned.
    Spot {
        /// Its tag.
        unit: Option<String>,
    },
    /// A lead's reason.
    Override,
}

impl Default for GrinderPage {
    fn default() -> Self {
        Self::Overview { by: Gathered::Bench }
    }
}

impl OpenCheck {
    /// Takes an entry of the journal again. The facts of a check stand in its first entry and wherever they changed;
    /// what belongs to no check writes its own.
    pub(super) fn taken_again(
        open: &mut Option<Self>,
        seq: u64,
        at: &Moment,
        facts: Option<BenchFacts>,
        event: &GrinderEvent,
    ) -> Result<CheckStepped, StoreError> {
        let known = facts.as_ref().or_else(|| open.as_ref().map(|open| &open.facts));
        let known = known.ok_or_else(|| not_understood(seq, &"no facts were written down"))?.clone();
        let check = open.as_ref().map(|open| &open.check);
        let stepped = step(check, &known, event, at).map_err(|error| not_understood(seq, &error))?;
        if belongs_to_check(event) {
            let id = open.take().map_or_else(String::new, |open| open.id);
            *open = stepped.check.clone().map(|check| Self { id, check, facts: known });
        }
        Ok(stepped)
    }
}

/// A spot check or an override may fall into a check without being part of it.
const fn belongs_to_check(event: &GrinderEvent) -> bool {
    !matches!(event, GrinderEvent::Overridden { .. } | GrinderEvent::SpotChecked { .. })
}

/// The check as the journal tells it.
pub(super) fn replay_check(disk: &dyn Disk, id: &str) -> Result<Option<OpenCheck>, StoreError> {
    let mut open = None;
    for (seq, bytes) in disk.entries_of_visit(id)? {
        let Entry { at, facts, body } = entry_from(seq, &bytes)?;
        let EntryBody::Grinder { event, .. } = body else { continue };
        OpenCheck::taken_again(&mut open, seq, &at, facts.map(|facts| *facts), &event)?;
    }
    Ok(open.map(|open| OpenCheck { id: id.to_owned(), ..open }))
}

/// How the shop's records change by an event of the grinder's health, now or when the journal is read again.
pub(super) fn check_changes(id: &str, event: &GrinderEvent, stepped: &CheckStepped) -> Vec<Change> {
    let mut changes = Vec::new();
    if *event == GrinderEvent::Started {
        changes.push(Change::CheckOpened(id.to_owned()));
    }
    changes.extend(stepped.effects.iter().map(|effect| match effect {
        CheckEffect::GrinderChanged(grinder) => Change::Grinder(grinder.as_ref().clone()),
        CheckEffect::SpotKept(spot) => Change::SpotChecked(spot.clone()),
        CheckEffect::Over => Change::CheckOver,
    }));
    changes
}

impl Bench {
    /// Takes one event of the grinder's health: `core` decides, the journal keeps, then it is true.
    fn submit_check(&mut self, event: GrinderEvent) -> bool {
        match self.try_check(event) {
            Ok(stepped) => {
                self.check_done(&stepped);
                true
            }
            Err(said) => {
                self.said = Some(said);
                false
            }
        }
    }

    fn try_check(&mut self, event: GrinderEvent) -> Result<CheckStepped, Said> {
        let Some(facts) = self.facts() else { return Err(Said::NotSetUp) };
        let at = self.clock.now();
        let check = self.check.as_ref().map(|open| &open.check);
        let stepped = step(check, &facts, &event, &at).map_err(Said::Check)?;
        let own = belongs_to_check(&event);
        let id = match &self.check {
            _ if !own => String::new(),
            Some(open) => open.id.clone(),
            None => {
                let head = self.disk.head().map_err(|error| self.not_kept(&error))?;
                format!("C{:07}", head.size + 1)
            }
        };
        let known = self.check.as_ref().filter(|_| own).map(|open| &open.facts);
        let written = (known != Some(&facts)).then_some(&facts);
        let changes = check_changes(&id, &event, &stepped);
        let body = EntryBody::Grinder { check: id.clone(), event };
        let bytes = entry_of(&at, written, body).map_err(|error| self.not_kept(&error))?;
        self.append(NewEntry { visit: own.then(|| id.clone()), bytes }, &changes)?;
        if own {
            self.check = stepped.check.clone().map(|check| OpenCheck { id, check, facts });
        }
        Ok(stepped)
    }

    fn check_done(&mut self, stepped: &CheckStepped) {
        for effect in &stepped.effects {
            match effect {
                CheckEffect::GrinderChanged(grinder) => {
                    let checked = grinder.last_check.as_deref().filter(|_| stepped.check.is_none());
                    self.said = match (&grinder.check_override, grinder.override_until, checked) {
                        (Some((by, _)), Some(until), _) => Some(Said::Overridden { by: by.clone(), until }),
                        (_, _, Some(check)) => Some(Said::Checked {
                            is_true: check.verdict == MasterVerdict::True,
                            due: grinder.check_due,
                        }),
                        _ => None,
                    };
                }
                CheckEffect::SpotKept(spot) => {
                    let within = spot.within(self.config.check_rules().spot_limit);
                    self.said = Some(Said::SpotKept { unit: spot.unit.clone(), within });
                }
                CheckEffect::Over => {}
            }
        }
    }

    /// What a control of the grinder's screens means.
    pub(super) fn grinder_pressed(&mut self, control: Control, index: usize) {
        match control {
            Control::GrinderHealth => self.view = View::Grinder(GrinderPage::default()),
            Control::Due => self.view = View::Due,
            Control::StartCheck => self.start_check(),
            Control::PickStation => {
                let station = u32::try_from(index).unwrap_or(u32::MAX);
                self.submit_check(GrinderEvent::StationPicked { station });
            }
            Control::BarTurned => {
                self.submit_check(GrinderEvent::BarTurned);
            }
            Control::FinishCheck => {
                self.submit_check(GrinderEvent::Finished);
            }
            Control::AbandonCheck => {
                self.submit_check(GrinderEvent::Abandoned);
            }
            Control::SpotCheck => self.view = View::Grinder(GrinderPage::Spot { unit: None }),
            Control::OverrideCheck => self.view = View::Grinder(GrinderPage::Override),
            Control::PickReason => self.override_check(index),
            Control::ClosureBy => self.chart_next(),
            _ => {}
        }
    }

    fn start_check(&mut self) {
        if let Some(open) = self.on_rails() {
            let tag = open.visit.unit().tag.clone();
            return self.said = Some(Said::Check(CheckRefusal::RailsTaken { tag }));
        }
        if self.submit_check(GrinderEvent::Started) {
            self.view = View::Grinder(GrinderPage::default());
        }
    }

    fn override_check(&mut self, index: usize) {
        let Some(reason) = OVERRIDE_REASONS.get(index) else { return };
        let reason = override_reason(*reason, self.settings.language).to_owned();
        if self.submit_check(GrinderEvent::Overridden { reason }) {
            self.view = View::Grinder(GrinderPage::default());
        }
    }

    /// All of the bench, then those of whoever stands there, then those of the tape in use.
    fn chart_next(&mut self) {
        let View::Grinder(GrinderPage::Overview { by }) = &mut self.view else { return };
        *by = match by {
            Gathered::Bench if self.operator.is_some() => Gathered::Operator,
            Gathered::Bench | Gathered::Operator => Gathered::Tape,
            Gathered::Tape | Gathered::Unit(_) => Gathered::Bench,
        };
    }

    /// A unit's tag where the grinder's health is shown: it stands on the plate, or its closures are wanted. Tells
    /// whether it was taken.
    pub(super) fn unit_at_grinder(&mut self, tag: &str) -> bool {
        if !self.shop.units.contains_key(tag) || self.check.is_some() {
            return false;
        }
        match &mut self.view {
            View::Grinder(GrinderPage::Spot { unit }) => *unit = Some(tag.to_owned()),
            View::Grinder(GrinderPage::Overview { by }) => *by = Gathered::Unit(tag.to_owned()),
            _ => return false,
        }
        true
    }

    /// A number typed where the grinder's health is shown.
    pub(super) fn grinder_value(&mut self, text: &str) {
        let unit = self.settings.units.entry_unit(LengthKind::Fine);
        match Reading::parse(text, unit) {
            Ok(reading) => self.grinder_reading(reading),
            Err(error) => self.said = Some(Said::Entry(error)),
        }
        self.entry_serial += 1;
    }

    fn grinder_reading(&mut self, reading: Reading) {
        if self.check.is_some() {
            self.submit_check(GrinderEvent::Read { reading });
            return;
        }
        let View::Grinder(GrinderPage::Spot { unit: Some(unit) }) = &self.view else { return };
        let unit = unit.clone();
        if self.submit_check(GrinderEvent::SpotChecked { unit, reading }) {
            self.view = View::Grinder(GrinderPage::default());
        }
    }

    /// Power is off and was tried, before hands go to the bar.
    pub(super) fn isolation_at_grinder(&mut self, held_ms: u64) {
        self.submit_check(GrinderEvent::IsolationHeld { held_ms });
    }

    /// One step back from the grinder's screens.
    pub(super) fn back_from_grinder(&mut self) {
        self.view = match &self.view {
            View::Grinder(GrinderPage::Spot { .. } | GrinderPage::Override) => View::Grinder(GrinderPage::default()),
            _ => View::Bench,
        };
    }

    /// The grinder's screens.
    pub(super) fn fill_grinder(&self, shown: &mut Screen, page: &GrinderPage) {
        let Some(facts) = self.facts() else { return };
        if let Some(open) = &self.check {
            shown.body = Body::GrinderCheck(present::check(&open.check, &facts, self.settings));
            shown.entry = present::check_entry(&open.check, &facts, self.settings).map(|entry| self.emptied(entry));
            return;
        }
        shown.body = match page {
            GrinderPage::Overview { by } => {
                let closures = self.charted_closures(by);
                let spots = &self.shop.spot_checks;
                Body::Grinder(Box::new(present::grinder(&facts, &closures, by, spots, self.settings)))
            }
            GrinderPage::Spot { unit } => {
                let unit = unit.as_deref();
                shown.entry = present::spot_entry(unit, self.settings).map(|entry| self.emptied(entry));
                Body::SpotCheck(present::spot(unit, &facts, self.settings))
            }
            GrinderPage::Override => Body::CheckOverride(present::overriding(&facts, self.settings)),
        };
    }

    /// Every number that was sent, taken or not, empties the field for the next.
    fn emptied(&self, entry: screen::Entry) -> screen::Entry {
        screen::Entry { serial: entry.serial * 100_000 + self.entry_serial, ..entry }
    }

    fn typed_units(&self) -> impl Iterator<Item = (&Unit, &UnitType)> {
        let units = self.shop.units.values();
        units.filter_map(|unit| Some((unit, self.shop.types.get(&unit.type_name)?)))
    }

    /// Every unit in the order in which it comes to the bench.
    fn due_units(&self) -> Vec<DueUnit> {
        // The season was looked through when the configuration was read.
        let Ok(rules) = self.config.due_rules() else { return Vec::new() };
        due_list(self.typed_units(), &rules, self.today())
    }

    /// What is due today.
    pub(super) fn due(&self) -> Body {
        let sets = mower_sets(self.typed_units(), self.config.match_tolerance());
        Body::Due(present::due(&self.due_units(), &sets, self.settings))
    }

    /// What Home shows of it: what is due on some day; a unit whose visit is open is in hand already.
    pub(super) fn due_at_home(&self) -> Vec<DueUnit> {
        let open = |tag: &str| self.visits.iter().any(|open| open.visit.unit().tag == tag);
        let mut units = self.due_units();
        units.retain(|unit| unit.due.is_some() && !open(&unit.tag));
        units
    }

    /// The closures that are charted, the newest last.
    pub(super) fn charted_closures(&self, by: &Gathered) -> Vec<sparkout_core::health::closure::Closure> {
        let Some(grinder) = &self.shop.grinder else { return Vec::new() };
        let mut closures = self.learnt(grinder).closures;
        let operator = self.operator.as_ref().map(|operator| operator.initials.as_str());
        closures.retain(|closure| match by {
            Gathered::Bench => true,
            Gathered::Operator => Some(closure.operator.as_str()) == operator,
            Gathered::Tape => closure.lesson.tape == self.config.tape(),
            Gathered::Unit(tag) => closure.unit == *tag,
        });
        let from = closures.len().saturating_sub(SHOWN_CLOSURES);
        closures.split_off(from)
    }
}
