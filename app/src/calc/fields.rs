//! Takes the fields of a JSON object one by one, each with its kind and its range, and refuses what is left over.

use super::json;
use super::units::{Typed, Units};
use jiff::civil::Date;
use serde::de::DeserializeOwned;
use serde_json::{Map, Value};
use sparkout_core::calc::CalcError;
use sparkout_core::calc::due::MonthDay;
use sparkout_core::calc::error::Amount;
use sparkout_core::calc::limits::Allowed;
use std::fmt;

/// Why an input was refused: one line that names the field, its value and what is allowed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Refusal(String);

impl Refusal {
    pub fn new(line: String) -> Self {
        // Keys and texts of the input are quoted when shown, but whatever comes, it stays one line.
        Self(line.replace(['\n', '\r'], " "))
    }
}

impl fmt::Display for Refusal {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(&self.0)
    }
}

/// An object being read.
pub struct Fields {
    /// What stands before the names in messages, such as `touch.`.
    path: String,
    left: Map<String, Value>,
    known: Vec<&'static str>,
    units: Units,
}

impl Fields {
    /// Parses the text as one object and takes its `units`.
    pub fn parse(text: &str) -> Result<Self, Refusal> {
        let value =
            json::parse(text).map_err(|error| Refusal::new(format!("the input is not one JSON object: {error}")))?;
        let left = match value {
            Value::Object(map) => map,
            other @ (Value::Null | Value::Bool(_) | Value::Number(_) | Value::String(_) | Value::Array(_)) => {
                return Err(Refusal::new(format!("the input is {}; it must be one JSON object", shown(&other))));
            }
        };
        let mut fields = Self { path: String::new(), left, known: Vec::new(), units: Units::Inch };
        // `match` has a list of that name instead, and then no system of units can be told.
        if fields.left.get("units").is_some_and(Value::is_array) {
            return Ok(fields);
        }
        if let Some(units) = fields.word_if_given::<Value>("units", &Units::WORDS)? {
            fields.units = units.as_str().and_then(Units::of_word).unwrap_or(Units::Inch);
        }
        Ok(fields)
    }

    /// The number at a JSON pointer, not taken and not checked.
    pub fn peek(&self, list: &str, pointer: &str) -> Option<f64> {
        self.left.get(list)?.pointer(pointer)?.as_f64()
    }

    /// Reads what follows in these units.
    pub fn read_as(&mut self, units: Units) {
        self.units = units;
    }

    /// The units of the whole object.
    pub fn units(&self) -> Units {
        self.units
    }

    /// Says a refusal of the calculation itself in the object's units.
    pub fn refuse(&self, error: &CalcError) -> Refusal {
        Refusal::new(error.describe(&|amount| self.units.show(amount)))
    }

    /// A quantity that must be there.
    pub fn number<Q: Typed + Copy + PartialOrd>(
        &mut self,
        name: &'static str,
        allowed: &Allowed<Q>,
    ) -> Result<Q, Refusal> {
        match self.number_if_given(name, allowed)? {
            Some(quantity) => Ok(quantity),
            None => Err(Refusal::new(format!("{}{name} is missing; it must be {}", self.path, self.range(allowed)))),
        }
    }

    /// A quantity that may be left out.
    pub fn number_if_given<Q: Typed + Copy + PartialOrd>(
        &mut self,
        name: &'static str,
        allowed: &Allowed<Q>,
    ) -> Result<Option<Q>, Refusal> {
        let Some(value) = self.take(name) else {
            return Ok(None);
        };
        self.quantity(&format!("{}{name}", self.path), &value, allowed).map(Some)
    }

    fn quantity<Q: Typed + Copy + PartialOrd>(
        &self,
        path: &str,
        value: &Value,
        allowed: &Allowed<Q>,
    ) -> Result<Q, Refusal> {
        let typed = value.as_f64().and_then(|number| Q::typed(number, self.units, allowed.least()));
        // The path in the error of `check` is not used: the line is written here, with the value as it was typed.
        typed
            .and_then(|quantity| allowed.check("", quantity).ok())
            .ok_or_else(|| Refusal::new(format!("{path} is {}; it must be {}", shown(value), self.range(allowed))))
    }

    fn range<Q: Copy + PartialOrd>(&self, allowed: &Allowed<Q>) -> String {
        let (least, most) = (self.units.show(allowed.least()), self.units.show(allowed.most()));
        let kind = if matches!(allowed.least(), Amount::Count(_)) { "a whole number" } else { "a number" };
        format!("{kind} from {least} to {most}")
    }

    /// One of a few words that must be there.
    pub fn word<T: DeserializeOwned>(&mut self, name: &'static str, words: &[&str]) -> Result<T, Refusal> {
        let missing = format!("{}{name} is missing; it must be {}", self.path, one_of(words));
        self.word_if_given(name, words)?.ok_or_else(|| Refusal::new(missing))
    }

    /// One of a few words that may be left out.
    pub fn word_if_given<T: DeserializeOwned>(
        &mut self,
        name: &'static str,
        words: &[&str],
    ) -> Result<Option<T>, Refusal> {
        let Some(value) = self.take(name) else {
            return Ok(None);
        };
        let refusal = Refusal::new(format!("{}{name} is {}; it must be {}", self.path, shown(&value), one_of(words)));
        if !value.as_str().is_some_and(|word| words.contains(&word)) {
            return Err(refusal);
        }
        serde_json::from_value(value).map(Some).map_err(|_| refusal)
    }

    /// A text that must be there and not be empty.
    pub fn text(&mut self, name: &'static str) -> Result<String, Refusal> {
        const CHARACTERS_MOST: usize = 200;
        let must_be = format!("it must be a text of 1 to {CHARACTERS_MOST} characters");
        match self.take(name) {
            Some(Value::String(text)) if (1..=CHARACTERS_MOST).contains(&text.chars().count()) => Ok(text),
            Some(other) => Err(Refusal::new(format!("{}{name} is {}; {must_be}", self.path, shown(&other)))),
            None => Err(Refusal::new(format!("{}{name} is missing; {must_be}", self.path))),
        }
    }

    /// A day of the calendar that must be there.
    pub fn date(&mut self, name: &'static str, allowed: &Allowed<Date>) -> Result<Date, Refusal> {
        let missing = Refusal::new(format!("{}{name} is missing; it must be {}", self.path, self.days(allowed)));
        self.date_if_given(name, allowed)?.ok_or(missing)
    }

    /// A day of the calendar that may be left out.
    pub fn date_if_given(&mut self, name: &'static str, allowed: &Allowed<Date>) -> Result<Option<Date>, Refusal> {
        let Some(value) = self.take(name) else {
            return Ok(None);
        };
        // Only the plain form: a time or a zone in it would be dropped without a word.
        let day = value.as_str().filter(|text| text.len() == "2000-01-01".len()).and_then(|text| text.parse().ok());
        let allowed_day = day.and_then(|day| allowed.check("", day).ok());
        let refusal =
            || Refusal::new(format!("{}{name} is {}; it must be {}", self.path, shown(&value), self.days(allowed)));
        allowed_day.map(Some).ok_or_else(refusal)
    }

    fn days(&self, allowed: &Allowed<Date>) -> String {
        format!("a date from {} to {}", self.units.show(allowed.least()), self.units.show(allowed.most()))
    }

    /// A day of every year, written `04-01`, that must be there.
    pub fn month_day(&mut self, name: &'static str) -> Result<MonthDay, Refusal> {
        const MUST_BE: &str = "it must be a month and a day from \"01-01\" to \"12-31\"";
        let Some(value) = self.take(name) else {
            return Err(Refusal::new(format!("{}{name} is missing; {MUST_BE}", self.path)));
        };
        let digits = |text: &str| text.len() == 2 && text.bytes().all(|byte| byte.is_ascii_digit());
        value
            .as_str()
            .and_then(|text| text.split_once('-'))
            .filter(|(month, day)| digits(month) && digits(day))
            .and_then(|(month, day)| MonthDay::new(month.parse().ok()?, day.parse().ok()?))
            .ok_or_else(|| Refusal::new(format!("{}{name} is {}; {MUST_BE}", self.path, shown(&value))))
    }

    /// An object within that must be there; `read` takes its fields, and leftovers are refused.
    pub fn object<T>(
        &mut self,
        name: &'static str,
        read: impl FnOnce(&mut Self) -> Result<T, Refusal>,
    ) -> Result<T, Refusal> {
        let missing = format!("{}{name} is missing; it must be an object", self.path);
        self.object_if_given(name, read)?.ok_or_else(|| Refusal::new(missing))
    }

    /// An object within that may be left out.
    pub fn object_if_given<T>(
        &mut self,
        name: &'static str,
        read: impl FnOnce(&mut Self) -> Result<T, Refusal>,
    ) -> Result<Option<T>, Refusal> {
        let Some(value) = self.take(name) else {
            return Ok(None);
        };
        self.within(format!("{}{name}", self.path), value, read).map(Some)
    }

    fn within<T>(
        &self,
        path: String,
        value: Value,
        read: impl FnOnce(&mut Self) -> Result<T, Refusal>,
    ) -> Result<T, Refusal> {
        let left = match value {
            Value::Object(map) if !map.contains_key(json::NOT_FINITE) => map,
            other @ (Value::Null
            | Value::Bool(_)
            | Value::Number(_)
            | Value::String(_)
            | Value::Array(_)
            | Value::Object(_)) => {
                return Err(Refusal::new(format!("{path} is {}; it must be an object", shown(&other))));
            }
        };
        let mut inner = Self { path: format!("{path}."), left, known: Vec::new(), units: self.units };
        let read = read(&mut inner)?;
        inner.finish()?;
        Ok(read)
    }

    /// A list of objects that must be there.
    pub fn list<T>(
        &mut self,
        name: &'static str,
        entries: &Allowed<u32>,
        read: impl FnMut(&mut Self) -> Result<T, Refusal>,
    ) -> Result<Vec<T>, Refusal> {
        let missing =
            Refusal::new(format!("{}{name} is missing; it must be {}", self.path, self.list_of("objects", entries)));
        self.list_if_given(name, entries, read)?.ok_or(missing)
    }

    /// A list of objects that may be left out.
    pub fn list_if_given<T>(
        &mut self,
        name: &'static str,
        entries: &Allowed<u32>,
        mut read: impl FnMut(&mut Self) -> Result<T, Refusal>,
    ) -> Result<Option<Vec<T>>, Refusal> {
        let Some(value) = self.take(name) else {
            return Ok(None);
        };
        let rows = self.rows(name, value, "objects", entries)?.into_iter().enumerate();
        rows.map(|(row, value)| self.within(format!("{}{name}[{row}]", self.path), value, &mut read))
            .collect::<Result<_, _>>()
            .map(Some)
    }

    /// A list of quantities that must be there.
    pub fn numbers<Q: Typed + Copy + PartialOrd>(
        &mut self,
        name: &'static str,
        entries: &Allowed<u32>,
        allowed: &Allowed<Q>,
    ) -> Result<Vec<Q>, Refusal> {
        let Some(value) = self.take(name) else {
            let must_be = self.list_of("numbers", entries);
            return Err(Refusal::new(format!("{}{name} is missing; it must be {must_be}", self.path)));
        };
        let rows = self.rows(name, value, "numbers", entries)?.into_iter().enumerate();
        rows.map(|(row, value)| self.quantity(&format!("{}{name}[{row}]", self.path), &value, allowed)).collect()
    }

    fn rows(&self, name: &str, value: Value, of: &str, entries: &Allowed<u32>) -> Result<Vec<Value>, Refusal> {
        let (path, must_be) = (&self.path, self.list_of(of, entries));
        match value {
            Value::Array(rows) if entries.check_entries("", &rows).is_ok() => Ok(rows),
            Value::Array(rows) => {
                Err(Refusal::new(format!("{path}{name} has {} entries; it must be {must_be}", rows.len())))
            }
            other @ (Value::Null | Value::Bool(_) | Value::Number(_) | Value::String(_) | Value::Object(_)) => {
                Err(Refusal::new(format!("{path}{name} is {}; it must be {must_be}", shown(&other))))
            }
        }
    }

    fn list_of(&self, of: &str, entries: &Allowed<u32>) -> String {
        let (least, most) = (self.units.show(entries.least()), self.units.show(entries.most()));
        if least == most {
            format!("a list of {of} with {least}")
        } else {
            format!("a list of {of} with {least} to {most}")
        }
    }

    /// Refuses a field that nobody has taken.
    pub fn finish(&self) -> Result<(), Refusal> {
        match self.left.iter().next() {
            None => Ok(()),
            Some((name, value)) => {
                let (field, known) = (format!("{}{name}", self.path), self.known.join(", "));
                Err(Refusal::new(format!("{} is {}; no such field exists, only {known}", plain(&field), shown(value))))
            }
        }
    }

    fn take(&mut self, name: &'static str) -> Option<Value> {
        self.known.push(name);
        self.left.remove(name)
    }
}

/// The value as it was typed, cut to what fits in a line.
fn shown(value: &Value) -> String {
    match value.get(json::NOT_FINITE).and_then(Value::as_str) {
        Some(typed) => plain(typed),
        None => plain(&value.to_string()),
    }
}

fn plain(text: &str) -> String {
    const CHARACTERS_MOST: usize = 60;
    let mut shown: String =
        text.chars().map(|c| if c.is_control() { '\u{fffd}' } else { c }).take(CHARACTERS_MOST).collect();
    if text.chars().nth(CHARACTERS_MOST).is_some() {
        shown.push('…');
    }
    shown
}

fn one_of(words: &[&str]) -> String {
    match words.split_last() {
        Some((last, rest)) if !rest.is_empty() => format!("{} or {last}", rest.join(", ")),
        Some(_) | None => words.concat(),
    }
}
