//! A bench with nothing on record: the grinder, its wheel, the first lead and a mower, one value at a time, kept in one
//! transaction so that a bench is on record whole or not at all.

use super::bench::{Bench, View};
use super::draft::{Draft, Kind, Typed, Value, number};
use super::journal::entry_of;
use super::shop::Shop;
use crate::store::{DerivedWrite, NewEntry};
use jiff::ToSpan;
use sparkout_core::bench::DialKind;
use sparkout_core::entry::{EntryBody, Record};
use sparkout_core::quantity::SpindleSpeed;
use sparkout_core::reading::{LengthKind, Reading};
use sparkout_core::record::{Grinder, Mower, Operator, RingTest, Wheel};
use sparkout_core::scan::{self, BadgeId, MowerCode, Scan};
use sparkout_ui::action::Manner;
use sparkout_ui::present::figures;
use sparkout_ui::screen::{Asked, Entry, FirstStart, SettingRow, Settings};
use sparkout_ui::words::{self, FirstValue, Manners, Said};
use std::ops::RangeInclusive;

/// A new bench on its way to the record.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct FirstDraft(Draft);

impl Default for FirstDraft {
    fn default() -> Self {
        Self(Draft::of(FirstValue::ALL.len()))
    }
}

const LETTERS_MOST: usize = 24;
/// Bench grinders turn their wheel between a few hundred and some thousand times a minute (common practice).
const SPEEDS_RPM: RangeInclusive<u32> = 100..=20_000;
const POSITIONS: RangeInclusive<u32> = 1..=35;
/// Half an inch to half a metre holds every wheel that a bench grinder mounts (common practice).
const WHEEL: RangeInclusive<i64> = 12_700_000..=500_000_000;
/// A turn of an infeed dial counts a tenth of a millimetre to a tenth of a metre; nothing else reads as a dial.
const TURN: RangeInclusive<i64> = 100_000..=100_000_000;
/// From a micrometre to a millimetre.
const GRADUATION: RangeInclusive<i64> = 1_000..=1_000_000;

impl FirstDraft {
    fn asked(&self) -> FirstValue {
        FirstValue::ALL.get(self.0.field()).copied().unwrap_or(FirstValue::GrinderName)
    }

    fn at(value: FirstValue) -> usize {
        FirstValue::ALL.iter().position(|known| *known == value).unwrap_or(usize::MAX)
    }

    fn letters(&self, value: FirstValue) -> String {
        self.0.letters(Self::at(value))
    }

    fn length(&self, value: FirstValue) -> Option<Reading> {
        self.0.length(Self::at(value))
    }

    fn count(&self, value: FirstValue) -> Option<u32> {
        self.0.count(Self::at(value))
    }

    fn choice(&self, value: FirstValue) -> Option<usize> {
        self.0.choice(Self::at(value))
    }

    fn speed(&self, value: FirstValue) -> Option<SpindleSpeed> {
        self.0.speed(Self::at(value))
    }

    /// The records of the bench, once every value is there.
    fn records(&self, today: jiff::civil::Date) -> Option<Vec<Record>> {
        let checked = self.choice(FirstValue::GrinderChecked)? == 0;
        // The grinder is checked twice a year (common practice). One that was not checked ran out yesterday.
        let check_due = if checked { today.checked_add(6.months()) } else { today.checked_sub(1.day()) };
        let grinder = Grinder {
            name: self.letters(FirstValue::GrinderName),
            dial: if self.choice(FirstValue::DialKind)? == 0 { DialKind::Diameter } else { DialKind::Radius },
            dial_per_turn: self.length(FirstValue::DialPerTurn)?,
            dial_graduation: self.length(FirstValue::DialGraduation)?,
            spindle_speed: self.speed(FirstValue::SpindleSpeed)?,
            check_due: check_due.ok()?,
            check_override: None,
            override_until: None,
            last_check: None,
        };
        let wheel = Wheel {
            mounting: "W-1".to_owned(),
            diameter: self.length(FirstValue::WheelDiameter)?,
            rated_speed: Some(self.speed(FirstValue::WheelRated)?),
            inspected: self.choice(FirstValue::WheelInspected)? == 0,
            ring_test: match self.choice(FirstValue::WheelRings)? {
                0 => RingTest::Clear,
                1 => RingTest::NotApplicable("as marked on the wheel".to_owned()),
                _ => RingTest::Missing,
            },
            mounted: None,
            looked_over: None,
            measured: None,
        };
        let operator = Operator {
            id: self.letters(FirstValue::LeadBadge),
            name: self.letters(FirstValue::LeadName),
            initials: self.letters(FirstValue::LeadInitials),
            trained: true,
            lead: true,
        };
        let name = self.letters(FirstValue::MowerName);
        let mower = Mower { code: code_of(&name), name, positions: self.count(FirstValue::MowerPositions)? };
        Some(vec![
            Record::Grinder { grinder },
            Record::Wheel { wheel },
            Record::Operator { operator },
            Record::Mower { mower },
        ])
    }
}

/// A mower's code from its name: the letters and figures that a code can hold.
fn code_of(name: &str) -> String {
    let plain: String = name.chars().filter(char::is_ascii_alphanumeric).take(scan::ID_CHARACTERS_MOST).collect();
    MowerCode::new(&plain).map_or_else(|_| "M1".to_owned(), |code| code.as_str().to_owned())
}

impl Bench {
    pub(super) fn first_start_pressed(&mut self, manner: Manner, index: usize) {
        if manner == Manner::SetUp {
            if self.nothing_on_record() && !self.practice {
                self.view = View::FirstStart(Box::default());
            }
            return;
        }
        let View::FirstStart(mut draft) = self.view.clone() else { return };
        match manner {
            Manner::PickValue => draft.0.pick_again(index),
            Manner::PickChoice if index < words::first_choices(draft.asked(), self.settings).len() => {
                draft.0.take(Value::Choice(index));
            }
            Manner::KeepBench if draft.0.complete() => return self.keep_bench(&draft),
            _ => return,
        }
        self.entry_serial += 1;
        self.view = View::FirstStart(draft);
    }

    /// A key of the letter pad or of a keyboard: a letter, or one of `Space`, `Erase`, `Take`.
    pub(super) fn first_letters(&mut self, key: &str) {
        let View::FirstStart(mut draft) = self.view.clone() else { return };
        if kind(draft.asked()) != Kind::Letters {
            return;
        }
        match draft.0.key(key, LETTERS_MOST) {
            Typed::Take => self.take_letters(draft),
            Typed::Edited => self.view = View::FirstStart(draft),
        }
    }

    fn take_letters(&mut self, mut draft: Box<FirstDraft>) {
        let text = draft.0.typed_letters().trim().to_owned();
        if text.is_empty() {
            return;
        }
        let value = if draft.asked() == FirstValue::LeadBadge {
            match BadgeId::new(&text) {
                Ok(badge) => badge.as_str().to_owned(),
                Err(_) => return self.said = Some(Said::Manners(Manners::NotABadge)),
            }
        } else {
            text
        };
        draft.0.take(Value::Letters(value));
        self.view = View::FirstStart(draft);
    }

    /// A number was typed.
    pub(super) fn first_number(&mut self, text: &str) {
        let View::FirstStart(mut draft) = self.view.clone() else { return };
        let Some(value) = number(text, kind(draft.asked()), self.settings) else { return };
        self.entry_serial += 1;
        match value {
            Ok(value) => {
                draft.0.take(value);
                self.view = View::FirstStart(draft);
            }
            Err(said) => self.said = Some(said),
        }
    }

    /// A scan while the bench is set up: the lead's badge, and nothing else.
    pub(super) fn first_scan(&mut self, text: &str) {
        let View::FirstStart(mut draft) = self.view.clone() else { return };
        match scan::parse(text, &self.codes) {
            Ok(Scan::Badge(badge)) => {
                draft.0.pick(FirstDraft::at(FirstValue::LeadBadge));
                draft.0.take(Value::Letters(badge.as_str().to_owned()));
                self.view = View::FirstStart(draft);
            }
            _ => self.said = Some(Said::Manners(Manners::NotABadge)),
        }
    }

    fn keep_bench(&mut self, draft: &FirstDraft) {
        let today = self.clock.now().wall.to_zoned_datetime(self.zone.clone()).date();
        let Some(records) = draft.records(today).filter(|_| self.nothing_on_record()) else {
            return self.said = Some(Said::Manners(Manners::ValueNotTaken));
        };
        if let Err(said) = self.keep_records(records) {
            return self.said = Some(said);
        }
        self.view = View::Bench;
        self.said = Some(Said::Manners(Manners::BenchOnRecord));
        // Who set the bench up stands at it; the badge may still have to be printed.
        let lead = self.shop.operators.values().next().cloned();
        let signed_on = EntryBody::OperatorChanged { operator: lead.as_ref().map(|lead| lead.id.clone()) };
        match self.keep(signed_on, &[]) {
            Ok(()) => self.operator = lead,
            Err(said) => self.said = Some(said),
        }
    }

    /// Keeps several records in one transaction.
    fn keep_records(&mut self, records: Vec<Record>) -> Result<(), Said> {
        let at = self.clock.now();
        let mut shop: Shop = self.shop.clone();
        let mut entries = Vec::new();
        let mut derived: Vec<DerivedWrite> = Vec::new();
        for record in records {
            for change in shop.changes_of(&record) {
                derived.push(shop.derived(&change).map_err(|error| self.not_written(&error))?);
                shop.take(change);
            }
            let body = EntryBody::Record { record: Box::new(record) };
            let bytes = entry_of(&at, None, body).map_err(|error| self.not_kept(&error))?;
            entries.push(NewEntry { visit: None, bytes });
        }
        self.disk.append(&entries, &derived).map_err(|error| self.not_kept(&error))?;
        self.shop = shop;
        Ok(())
    }

    pub(super) fn first_start(&self, draft: &FirstDraft) -> FirstStart {
        let settings = self.settings;
        let rows = FirstValue::ALL.iter().zip(draft.0.values()).enumerate().map(|(index, (value, given))| SettingRow {
            name: format!("Value {}", index + 1),
            label: words::first_value(*value, settings),
            value: given.as_ref().map_or_else(String::new, |given| shown(*value, given, settings)),
            now: index == draft.0.field() && !draft.0.complete(),
        });
        let asked = draft.asked();
        let asks = !draft.0.complete();
        FirstStart {
            rows: rows.collect(),
            asked: words::first_value(asked, settings),
            explained: words::first_value_explained(asked, settings),
            choices: if asks { words::first_choices(asked, settings) } else { Vec::new() },
            letters: (asks && kind(asked) == Kind::Letters).then(|| draft.0.typed_letters().to_owned()),
            complete: !asks,
        }
    }

    pub(super) fn first_entry(&self, draft: &FirstDraft) -> Option<Entry> {
        let asked = draft.asked();
        let unit = match kind(asked) {
            Kind::Length(_) => figures::sign_of(LengthKind::Size, self.settings),
            Kind::Count(_) => "",
            Kind::Choice | Kind::Letters => return None,
        };
        (!draft.0.complete()).then(|| Entry {
            serial: draft.0.field() as u64 * 100_000 + self.entry_serial,
            asked: Asked::TypeField,
            unit: unit.to_owned(),
            field: words::first_value(asked, self.settings),
            ..Entry::default()
        })
    }
}

fn shown(value: FirstValue, given: &Value, settings: Settings) -> String {
    match given {
        Value::Length(length) => figures::reading_with_unit(*length, LengthKind::Size, settings),
        Value::Count(count) => figures::grouped(f64::from(*count)),
        Value::Choice(index) => words::first_choices(value, settings).into_iter().nth(*index).unwrap_or_default(),
        Value::Letters(text) => text.clone(),
    }
}

const fn kind(value: FirstValue) -> Kind {
    match value {
        FirstValue::DialPerTurn => Kind::Length(TURN),
        FirstValue::DialGraduation => Kind::Length(GRADUATION),
        FirstValue::WheelDiameter => Kind::Length(WHEEL),
        FirstValue::SpindleSpeed | FirstValue::WheelRated => Kind::Count(SPEEDS_RPM),
        FirstValue::MowerPositions => Kind::Count(POSITIONS),
        FirstValue::DialKind | FirstValue::GrinderChecked | FirstValue::WheelInspected | FirstValue::WheelRings => {
            Kind::Choice
        }
        FirstValue::GrinderName
        | FirstValue::LeadBadge
        | FirstValue::LeadName
        | FirstValue::LeadInitials
        | FirstValue::MowerName => Kind::Letters,
    }
}
