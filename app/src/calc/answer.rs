//! What a calculation writes: its quantities as numbers in the units of the input.

use super::fields::Refusal;
use super::units::Units;
use serde::Serialize;
use serde_json::{Map, Number, Value};
use sparkout_core::quantity::Length;

/// An object being written.
pub struct Answer {
    units: Units,
    map: Map<String, Value>,
    /// The first field whose value was no number.
    unnumbered: Option<&'static str>,
}

impl Answer {
    pub fn new(units: Units) -> Self {
        Self { units, map: Map::new(), unnumbered: None }
    }

    /// A plain number, in the unit that the caller has converted it to.
    pub fn number(mut self, name: &'static str, value: f64) -> Self {
        // Adding zero turns −0 into 0.
        match Number::from_f64(value + 0.0) {
            Some(number) => _ = self.map.insert(name.to_owned(), Value::Number(number)),
            None => self.unnumbered = self.unnumbered.or(Some(name)),
        }
        self
    }

    /// A number that may be left out.
    pub fn optional(self, name: &'static str, value: Option<f64>) -> Self {
        match value {
            Some(value) => self.number(name, value),
            None => self,
        }
    }

    pub fn length(self, name: &'static str, length: Length) -> Self {
        let number = self.units.length(length);
        self.number(name, number)
    }

    pub fn optional_length(self, name: &'static str, length: Option<Length>) -> Self {
        match length {
            Some(length) => self.length(name, length),
            None => self,
        }
    }

    pub fn lengths(self, name: &'static str, lengths: &[Length]) -> Self {
        let units = self.units;
        let numbers: Vec<f64> = lengths.iter().map(|length| units.length(*length)).collect();
        self.value(name, &numbers)
    }

    /// A whole number, a word, a truth, a list of them, or null.
    pub fn value(mut self, name: &'static str, value: &impl Serialize) -> Self {
        match serde_json::to_value(value) {
            Ok(value) => _ = self.map.insert(name.to_owned(), value),
            Err(_) => self.unnumbered = self.unnumbered.or(Some(name)),
        }
        self
    }

    /// The same, when there is one.
    pub fn value_if<T: Serialize>(self, name: &'static str, value: Option<T>) -> Self {
        match value {
            Some(value) => self.value(name, &value),
            None => self,
        }
    }

    /// An object within, in the same units.
    pub fn object(mut self, name: &'static str, write: impl FnOnce(Self) -> Self) -> Self {
        let inner = write(Self::new(self.units));
        self.unnumbered = self.unnumbered.or(inner.unnumbered);
        self.map.insert(name.to_owned(), Value::Object(inner.map));
        self
    }

    /// The object as one line of JSON.
    pub fn into_json(self) -> Result<String, Refusal> {
        match self.unnumbered {
            None => Ok(Value::Object(self.map).to_string()),
            Some(name) => {
                Err(Refusal::new(format!("{name} came out as no number; please report this input as a fault")))
            }
        }
    }
}
