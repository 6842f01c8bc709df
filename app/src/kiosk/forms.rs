//! The forms of the wheel's record and of the lockout, value by value; what is complete is kept by a hold.

use super::bench::{Bench, View};
use super::draft::{Draft, Kind, Typed, Value, number};
use sparkout_core::lockout::LockoutEvent;
use sparkout_core::reading::LengthKind;
use sparkout_core::wheel::{NewWheel, Rang, WheelEvent, WheelKind};
use sparkout_ui::action::Manner;
use sparkout_ui::present::figures;
use sparkout_ui::screen::{Asked, Entry, Form, FormKind, SettingRow};
use sparkout_ui::words::{self, FormValue};
use std::ops::RangeInclusive;

/// A form, and what was given for it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct FormDraft {
    pub kind: FormKind,
    draft: Draft,
}

/// A lock's number is short; a description is what `core` takes at most.
const NUMBER_MOST: usize = 12;
/// Half an inch to half a metre holds every wheel that a bench grinder mounts (common practice).
const WHEEL: RangeInclusive<i64> = 12_700_000..=500_000_000;
/// Wheels are marked with a few hundred to some ten thousand turns a minute (common practice).
const SPEEDS_RPM: RangeInclusive<u32> = 100..=60_000;
/// The choices of a type from this one on name a wheel that does not ring.
const FIRST_SILENT: usize = 2;

impl FormDraft {
    pub fn of(kind: FormKind) -> Self {
        Self { kind, draft: Draft::of(kind.values().len()) }
    }

    fn asked(&self) -> Option<FormValue> {
        self.kind.values().get(self.draft.field()).copied()
    }

    fn field(&self, value: FormValue) -> usize {
        self.kind.values().iter().position(|known| *known == value).unwrap_or(usize::MAX)
    }

    fn choice(&self, value: FormValue) -> Option<usize> {
        self.draft.choice(self.field(value))
    }

    fn take(&mut self, value: Value) {
        let asked = self.asked();
        self.draft.take(value);
        if asked == Some(FormValue::Type) {
            // Nothing is asked of a ring that tells nothing.
            let silent = self.choice(FormValue::Type).is_some_and(|choice| choice >= FIRST_SILENT);
            let rang = self.field(FormValue::Rang);
            match (silent, self.draft.letters(rang).is_empty(), self.draft.choice(rang).is_some()) {
                (true, ..) => self.draft.put(rang, Some(Value::Letters("–".to_owned()))),
                // It was of no account for the type before.
                (false, false, _) => self.draft.put(rang, None),
                (false, true, _) => {}
            }
        }
    }
}

const fn kind_of(value: FormValue) -> Kind {
    match value {
        FormValue::Description | FormValue::LockNumber => Kind::Letters,
        FormValue::Diameter | FormValue::Worn => Kind::Length(WHEEL),
        FormValue::Rated => Kind::Count(SPEEDS_RPM),
        FormValue::Type
        | FormValue::Inspected
        | FormValue::Rang
        | FormValue::LockedWhat
        | FormValue::ForcedWhy
        | FormValue::OwnerSought
        | FormValue::OwnerReached
        | FormValue::ScrapWhy => Kind::Choice,
    }
}

impl Bench {
    fn choices(&self, value: FormValue) -> Vec<String> {
        match value {
            FormValue::LockedWhat => self.config.lockout_points(self.settings.language),
            other => words::form_choices(other, self.settings),
        }
    }

    pub(super) fn open_form(&mut self, kind: FormKind) {
        self.entry_serial += 1;
        self.view = View::Form(FormDraft::of(kind));
    }

    pub(super) fn form_pressed(&mut self, manner: Manner, index: usize) {
        let View::Form(mut form) = self.view.clone() else { return };
        match manner {
            Manner::PickValue => form.draft.pick_again(index),
            Manner::PickChoice => {
                let asked = form.asked().filter(|_| !form.draft.complete());
                if asked.is_none_or(|asked| index >= self.choices(asked).len()) {
                    return;
                }
                form.take(Value::Choice(index));
            }
            _ => return,
        }
        self.entry_serial += 1;
        self.view = View::Form(form);
    }

    pub(super) fn form_letters(&mut self, key: &str) {
        let View::Form(mut form) = self.view.clone() else { return };
        let Some(asked) = form.asked().filter(|asked| kind_of(*asked) == Kind::Letters) else { return };
        if form.draft.complete() {
            return;
        }
        let most = if asked == FormValue::LockNumber { NUMBER_MOST } else { sparkout_core::wheel::DESCRIPTION_MOST };
        if form.draft.key(key, most) == Typed::Take {
            let text = form.draft.typed_letters().trim().to_owned();
            if !text.is_empty() {
                form.take(Value::Letters(text));
                self.entry_serial += 1;
            }
        }
        self.view = View::Form(form);
    }

    pub(super) fn form_number(&mut self, text: &str) {
        let View::Form(mut form) = self.view.clone() else { return };
        let Some(taken) = form.asked().and_then(|asked| number(text, kind_of(asked), self.settings)) else { return };
        self.entry_serial += 1;
        match taken {
            Ok(value) => {
                form.take(value);
                self.view = View::Form(form);
            }
            Err(said) => self.said = Some(said),
        }
    }

    /// What a complete form says is so: a pointer was held.
    pub(super) fn form_held(&mut self, held_ms: u64) {
        let View::Form(form) = self.view.clone() else { return };
        if !form.draft.complete() {
            return;
        }
        match form.kind {
            FormKind::Mount => {
                let Some(wheel) = self.new_wheel(&form) else { return };
                self.mount(wheel, held_ms);
            }
            FormKind::Measure => {
                let Some(diameter) = form.draft.length(form.field(FormValue::Worn)) else { return };
                self.submit_wheel(WheelEvent::WheelMeasured { diameter, held_ms });
            }
            FormKind::Scrap => {
                if let Some(reason) = self.chosen(&form, FormValue::ScrapWhy) {
                    self.submit_wheel(WheelEvent::WheelScrapped { reason });
                }
            }
            FormKind::LockOn => {
                let Some(to) = self.chosen(&form, FormValue::LockedWhat) else { return };
                let lock = form.draft.letters(form.field(FormValue::LockNumber));
                self.submit_lockout(LockoutEvent::LockApplied { to, lock, held_ms });
            }
            FormKind::ForceRelease => {
                let Some(reason) = self.chosen(&form, FormValue::ForcedWhy) else { return };
                let attempts = [FormValue::OwnerSought, FormValue::OwnerReached];
                let attempts = attempts.iter().filter_map(|value| self.chosen(&form, *value)).collect();
                self.submit_lockout(LockoutEvent::ForceReleased { reason, attempts, held_ms });
            }
        }
    }

    /// The words that were chosen.
    fn chosen(&self, form: &FormDraft, value: FormValue) -> Option<String> {
        form.choice(value).and_then(|index| self.choices(value).into_iter().nth(index))
    }

    fn new_wheel(&self, form: &FormDraft) -> Option<NewWheel> {
        let rang = match form.choice(FormValue::Rang) {
            Some(0) => Rang::Clear,
            Some(1) => Rang::Dull,
            _ => Rang::NotTested,
        };
        let kind = match form.choice(FormValue::Type)? {
            0 => WheelKind::Vitrified { rang },
            1 => WheelKind::Organic { rang },
            _ => WheelKind::DoesNotRing { shape: self.chosen(form, FormValue::Type)? },
        };
        Some(NewWheel {
            description: form.draft.letters(form.field(FormValue::Description)),
            kind,
            diameter: form.draft.length(form.field(FormValue::Diameter))?,
            rated_speed: form.draft.speed(form.field(FormValue::Rated))?,
            inspected: form.choice(FormValue::Inspected)? == 0,
        })
    }

    pub(super) fn form(&self, form: &FormDraft) -> Form {
        let asks = !form.draft.complete();
        let asked = form.asked().filter(|_| asks);
        let rows = form.kind.values().iter().zip(form.draft.values()).enumerate();
        let rows = rows.map(|(index, (value, given))| SettingRow {
            name: format!("Value {}", index + 1),
            label: words::form_value(*value, self.settings),
            value: given.as_ref().map_or_else(String::new, |given| self.given(*value, given)),
            now: asks && index == form.draft.field(),
        });
        let letters = asked.filter(|asked| kind_of(*asked) == Kind::Letters);
        Form {
            kind: form.kind,
            rows: rows.collect(),
            asked: asked.map_or_else(String::new, |asked| words::form_value(asked, self.settings)),
            explained: asked.map_or_else(String::new, |asked| words::form_value_explained(asked, self.settings)),
            choices: asked.map_or_else(Vec::new, |asked| self.choices(asked)),
            letters: letters.map(|_| form.draft.typed_letters().to_owned()),
            complete: !asks,
        }
    }

    fn given(&self, value: FormValue, given: &Value) -> String {
        match given {
            Value::Length(length) => figures::reading_with_unit(*length, LengthKind::Size, self.settings),
            Value::Count(count) => figures::grouped(f64::from(*count)),
            Value::Choice(index) => self.choices(value).into_iter().nth(*index).unwrap_or_default(),
            Value::Letters(text) => text.clone(),
        }
    }

    pub(super) fn form_entry(&self, form: &FormDraft) -> Option<Entry> {
        let asked = form.asked().filter(|_| !form.draft.complete())?;
        let unit = match kind_of(asked) {
            Kind::Length(_) => figures::sign_of(LengthKind::Size, self.settings),
            Kind::Count(_) => "",
            Kind::Choice | Kind::Letters => return None,
        };
        Some(Entry {
            serial: 700_000 + asked as u64 * 100_000 + self.entry_serial,
            asked: Asked::TypeField,
            unit: unit.to_owned(),
            field: words::form_value(asked, self.settings),
            ..Entry::default()
        })
    }
}
