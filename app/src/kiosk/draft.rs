//! A form on its way to the record: values that are given one at a time, by choice, number or letters.

use super::bench::Bench;
use sparkout_core::quantity::SpindleSpeed;
use sparkout_core::reading::{LengthKind, Reading};
use sparkout_ui::screen::Settings;
use sparkout_ui::words::{Manners, Said};
use std::ops::RangeInclusive;

/// A value that was given.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Value {
    Length(Reading),
    Count(u32),
    Choice(usize),
    Letters(String),
}

/// How a value is given.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Kind {
    /// A length, nanometres.
    Length(RangeInclusive<i64>),
    Count(RangeInclusive<u32>),
    Choice,
    Letters,
}

/// Values on their way to the record.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(super) struct Draft {
    values: Vec<Option<Value>>,
    field: usize,
    /// Letters as they are being typed.
    letters: String,
    /// Everything is there, and one value is asked again.
    again: bool,
}

/// What a key of the letter pad or of a keyboard did.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Typed {
    Edited,
    /// The letters are to be taken.
    Take,
}

impl Draft {
    /// So many values, none of them given.
    pub fn of(count: usize) -> Self {
        Self { values: vec![None; count], ..Self::default() }
    }

    pub fn values(&self) -> &[Option<Value>] {
        &self.values
    }

    /// The value that is asked now.
    pub const fn field(&self) -> usize {
        self.field
    }

    pub fn typed_letters(&self) -> &str {
        &self.letters
    }

    pub fn complete(&self) -> bool {
        !self.again && self.values.iter().all(Option::is_some)
    }

    /// Takes a value for what is asked, and asks the next that is missing.
    pub fn take(&mut self, value: Value) {
        self.values[self.field] = Some(value);
        self.again = false;
        let next = self.values.iter().position(Option::is_none);
        self.pick(next.unwrap_or(self.field));
    }

    /// Gives a value that follows from another, or takes it away.
    pub fn put(&mut self, field: usize, value: Option<Value>) {
        if let Some(slot) = self.values.get_mut(field) {
            *slot = value;
        }
        let next = self.values.iter().position(Option::is_none);
        self.pick(next.unwrap_or(self.field));
    }

    pub fn pick(&mut self, field: usize) {
        self.field = field;
        self.letters = self.letters(field);
    }

    /// Asks a value again.
    pub fn pick_again(&mut self, field: usize) {
        if field < self.values.len() {
            self.pick(field);
            self.again = true;
        }
    }

    pub fn letters(&self, field: usize) -> String {
        match self.values.get(field) {
            Some(Some(Value::Letters(text))) => text.clone(),
            _ => String::new(),
        }
    }

    pub fn length(&self, field: usize) -> Option<Reading> {
        match self.values.get(field)? {
            Some(Value::Length(length)) => Some(*length),
            _ => None,
        }
    }

    pub fn count(&self, field: usize) -> Option<u32> {
        match self.values.get(field)? {
            Some(Value::Count(count)) => Some(*count),
            _ => None,
        }
    }

    pub fn choice(&self, field: usize) -> Option<usize> {
        match self.values.get(field)? {
            Some(Value::Choice(index)) => Some(*index),
            _ => None,
        }
    }

    pub fn speed(&self, field: usize) -> Option<SpindleSpeed> {
        self.count(field).map(|rpm| SpindleSpeed::from_rpm(f64::from(rpm)))
    }

    /// A key of the letter pad or of a keyboard: a letter, or one of `Space`, `Erase`, `Take`.
    pub fn key(&mut self, key: &str, most: usize) -> Typed {
        match key {
            "Erase" | "\u{8}" | "\u{7f}" => {
                self.letters.pop();
            }
            "Take" | "\n" | "\r" => return Typed::Take,
            "Space" | " " if !self.letters.is_empty() => self.letters.push(' '),
            other => {
                let mut letters = other.chars();
                if let (Some(letter), None) = (letters.next(), letters.next())
                    && (letter.is_alphanumeric() || matches!(letter, '-' | '.' | '’' | '\''))
                    && self.letters.chars().count() < most
                {
                    self.letters.push(letter);
                }
            }
        }
        Typed::Edited
    }
}

/// A number that was typed for a value of this kind; nothing where no number is asked.
pub(super) fn number(text: &str, kind: Kind, settings: Settings) -> Option<Result<Value, Said>> {
    let not_taken = Said::Manners(Manners::ValueNotTaken);
    match kind {
        Kind::Length(range) => Some(match Reading::parse(text, settings.units.entry_unit(LengthKind::Size)) {
            Ok(length) if range.contains(&length.nanometres()) => Ok(Value::Length(length)),
            Ok(_) => Err(not_taken),
            Err(error) => Err(Said::Entry(error)),
        }),
        Kind::Count(range) => {
            let count = text.trim().parse().ok().filter(|count| range.contains(count));
            Some(count.map(Value::Count).ok_or(not_taken))
        }
        Kind::Choice | Kind::Letters => None,
    }
}

impl Bench {
    /// A key of the letter pad or of a keyboard, where letters are asked.
    pub(super) fn letters(&mut self, key: &str) {
        if matches!(self.view, super::bench::View::Form(_)) {
            self.form_letters(key);
        } else {
            self.first_letters(key);
        }
    }
}
