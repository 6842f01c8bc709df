//! How an explanation is put together: numbers with their letters, and formulas that take them.

use super::words::{Origin, Pair};
use crate::locale::Locale;
use crate::present::{Beside, figures};
use crate::screen::{Formula, Language, Rounded, Settings, Why, WhyInput};
use sparkout_core::quantity::Length;
use sparkout_core::reading::{EntryUnit, LengthKind, Reading};
use sparkout_core::record::UnitType;
use sparkout_core::visit::Visit;

/// What an explanation is made from.
pub(super) struct Sheet<'a> {
    pub visit: &'a Visit,
    pub beside: &'a Beside<'a>,
}

/// A number that goes into a formula.
pub(super) struct Var {
    letter: &'static str,
    /// As it stands in the formula.
    number: String,
    /// As it stands in the list, with its unit.
    value: String,
    name: Pair,
    origin: Origin,
}

impl Var {
    /// The same with a unit in the list.
    pub fn with_unit(self, unit: &str) -> Self {
        Self { value: format!("{} {unit}", self.number), ..self }
    }
}

/// A formula before its numbers are put in: `{R}` stands for the number with the letter R.
pub(super) struct Line<'a> {
    /// The letter of what comes out; empty for a comparison.
    pub left: &'a str,
    pub right: &'a str,
}

/// What comes out of a line.
pub(super) struct Out {
    pub text: String,
    pub unit: String,
    pub rounded: Rounded,
}

impl Out {
    pub fn nearest(text: String, unit: impl Into<String>) -> Self {
        Self { text, unit: unit.into(), rounded: Rounded::Nearest }
    }

    pub fn up(text: String, unit: impl Into<String>) -> Self {
        Self { text, unit: unit.into(), rounded: Rounded::Up }
    }
}

impl<'a> Sheet<'a> {
    pub const fn settings(&self) -> Settings {
        self.beside.settings
    }

    pub const fn unit_type(&self) -> &'a UnitType {
        &self.visit.unit().unit_type
    }

    pub const fn say(&self, pair: Pair) -> &'static str {
        match self.settings().language {
            Language::English => pair.0,
            Language::Spanish => pair.1,
        }
    }

    fn locale(&self) -> Locale {
        self.settings().into()
    }

    /// The sign of the unit of fine lengths, in which differences of diameters are reckoned too.
    pub fn fine_sign(&self) -> &'static str {
        figures::sign_of(LengthKind::Fine, self.settings())
    }

    pub fn size_sign(&self) -> &'static str {
        figures::sign_of(LengthKind::Size, self.settings())
    }

    /// A length in the unit of its kind, with more decimals than usual.
    pub fn length_text(&self, length: Length, kind: LengthKind, more: usize) -> String {
        let unit = self.settings().units.entry_unit(kind);
        figures::number(figures::value_in(length, unit), figures::decimals(kind, unit) + more, self.locale())
    }

    /// A reading in a unit, with every decimal it was taken with and no fewer than are usual.
    fn reading_text(&self, reading: Reading, unit: EntryUnit, usual: usize) -> String {
        let value = figures::value_in(reading.length(), unit);
        // Six decimals of a millimetre are nanometres, and no instrument here types finer inches.
        let full = format!("{value:.6}");
        let spare = full.bytes().rev().take_while(|byte| *byte == b'0').count();
        figures::number(value, usize::max(6 - spare.min(6), usual), self.locale())
    }

    /// A computed length of a kind.
    pub fn computed(&self, letter: &'static str, length: Length, kind: LengthKind, name: Pair, origin: Origin) -> Var {
        let number = self.length_text(length, kind, 0);
        let value = format!("{number} {}", figures::sign_of(kind, self.settings()));
        Var { letter, number, value, name, origin }
    }

    /// As [`Sheet::computed`], with two more decimals: for comparisons, which rounding could turn over.
    pub fn finer(&self, letter: &'static str, length: Length, name: Pair, origin: Origin) -> Var {
        let number = self.length_text(length, LengthKind::Fine, 2);
        let value = format!("{number} {}", self.fine_sign());
        Var { letter, number, value, name, origin }
    }

    /// A reading of a kind.
    pub fn read(&self, letter: &'static str, reading: Reading, kind: LengthKind, name: Pair, origin: Origin) -> Var {
        let unit = self.settings().units.entry_unit(kind);
        let number = self.reading_text(reading, unit, figures::decimals(kind, unit));
        let value = format!("{number} {}", figures::sign_of(kind, self.settings()));
        Var { letter, number, value, name, origin }
    }

    /// A diameter as read that stands in a formula in the fine unit: a difference of two is told in that.
    pub fn diameter(&self, letter: &'static str, reading: Reading, name: Pair, origin: Origin) -> Var {
        let unit = self.settings().units.entry_unit(LengthKind::Fine);
        let number = self.reading_text(reading, unit, figures::decimals(LengthKind::Fine, unit));
        Var { letter, number, ..self.read(letter, reading, LengthKind::Size, name, origin) }
    }

    /// A computed diameter that stands in a formula in the fine unit.
    pub fn computed_diameter(&self, letter: &'static str, length: Length, name: Pair, origin: Origin) -> Var {
        let number = self.length_text(length, LengthKind::Fine, 0);
        Var { letter, number, ..self.computed(letter, length, LengthKind::Size, name, origin) }
    }

    /// A number with a unit that is not of length.
    pub fn other(
        &self,
        letter: &'static str,
        value: f64,
        places: usize,
        unit: &str,
        name: Pair,
        origin: Origin,
    ) -> Var {
        let number = figures::number(value, places, self.locale());
        let value = if unit.is_empty() { number.clone() } else { format!("{number} {unit}") };
        Var { letter, number, value, name, origin }
    }

    /// An angle: its sign goes with it into the formula.
    pub fn degrees(&self, letter: &'static str, degrees: f64, places: usize, name: Pair, origin: Origin) -> Var {
        let number = format!("{}°", figures::number(degrees, places, self.locale()));
        Var { letter, value: number.clone(), number, name, origin }
    }

    /// Text that stands for a number, such as a date.
    pub fn text(&self, letter: &'static str, text: String, name: Pair, origin: Origin) -> Var {
        Var { letter, number: text.clone(), value: text, name, origin }
    }

    /// Puts the numbers into a line.
    pub fn formula(&self, line: &Line<'_>, vars: &[&Var], out: Out) -> Formula {
        let put = put(line.right, vars);
        let letters = if line.left.is_empty() { put.letters } else { format!("{} = {}", line.left, put.letters) };
        Formula { letters, numbers: put.numbers, result: out.text, unit: out.unit, rounded: out.rounded }
    }

    /// A comparison: it holds, and nothing comes out.
    pub fn comparison(&self, right: &str, vars: &[&Var]) -> Formula {
        self.formula(&Line { left: "", right }, vars, Out::nearest(String::new(), ""))
    }

    /// The whole explanation.
    pub fn why(&self, title: Pair, result: String, formulas: Vec<Formula>, vars: &[&Var], source: Pair) -> Why {
        Why {
            title: self.say(title).to_owned(),
            result,
            formulas,
            inputs: vars.iter().map(|var| self.input(var)).collect(),
            source: self.say(source).to_owned(),
            estimate: vars.iter().any(|var| var.origin.is_assumed()),
            ..Why::default()
        }
    }

    fn input(&self, var: &Var) -> WhyInput {
        WhyInput {
            letter: var.letter.to_owned(),
            value: var.value.clone(),
            name: self.say(var.name).to_owned(),
            origin: var.origin.in_words(self.settings()),
        }
    }
}

struct Put {
    letters: String,
    numbers: String,
}

/// Letters and numbers from one line, so that the two cannot disagree.
fn put(line: &str, vars: &[&Var]) -> Put {
    let (mut letters, mut numbers) = (String::new(), String::new());
    let mut rest = line;
    while let Some((before, after)) = rest.split_once('{') {
        letters.push_str(before);
        numbers.push_str(before);
        let (letter, after) = after.split_once('}').unwrap_or((after, ""));
        letters.push_str(letter);
        if let Some(var) = vars.iter().find(|var| var.letter == letter) {
            let alone = numbers.trim_end().is_empty() || numbers.ends_with(['(', '|']);
            if var.number.starts_with('−') && !alone {
                numbers.push('(');
                numbers.push_str(&var.number);
                numbers.push(')');
            } else {
                numbers.push_str(&var.number);
            }
        }
        rest = after;
    }
    letters.push_str(rest);
    numbers.push_str(rest);
    Put { letters, numbers }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_negative_number_goes_in_with_brackets_where_a_sign_stands_before_it() {
        let var = |letter, number: &str| Var {
            letter,
            number: number.to_owned(),
            value: String::new(),
            name: ("", ""),
            origin: Origin::Configured,
        };
        let (t, a) = (var("t", "−3.0"), var("A", "25.000"));
        let line = put("−{t} × {A} + |{t}|", &[&t, &a]);
        assert_eq!(line.letters, "−t × A + |t|");
        assert_eq!(line.numbers, "−(−3.0) × 25.000 + |−3.0|");
        assert_eq!(put("{t} × {A}", &[&t, &a]).numbers, "−3.0 × 25.000");
    }
}
