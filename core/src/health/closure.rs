//! Closure: what Front left against what Prove found, kept per grinder, tape, operator and unit, and charted.

use crate::calc::chart::chart;
use crate::calc::error::CalcError;
use crate::quantity::{Length, Ratio};
use crate::record::{Lesson, Unit};
use jiff::civil::Date;
use std::collections::BTreeMap;

/// What one finished visit found.
#[derive(Debug, Clone, PartialEq)]
pub struct Closure {
    /// The day.
    pub date: Date,
    /// The visit.
    pub visit: Option<String>,
    /// The unit's tag.
    pub unit: String,
    /// Who proved it, initials.
    pub operator: String,
    /// What else is known of it.
    pub lesson: Lesson,
    /// What Prove found beside what Front left, on diameter.
    pub misclosure: Length,
    /// Its expanded uncertainty as it was stated then.
    pub misclosure_u95: Length,
}

/// What closures are gathered by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[allow(missing_docs, reason = "the names say it")]
pub enum By {
    Grinder,
    Tape,
    Operator,
    Unit,
}

/// All of them, in the order of the work.
pub fn closures<'unit>(units: impl Iterator<Item = &'unit Unit>) -> Vec<Closure> {
    let mut all: Vec<Closure> = units.flat_map(of_unit).collect();
    // A visit's name counts up with the journal, so it orders the work of one day.
    all.sort_by(|one, other| (one.date, &one.visit, &one.unit).cmp(&(other.date, &other.visit, &other.unit)));
    all
}

fn of_unit(unit: &Unit) -> impl Iterator<Item = Closure> {
    unit.history.iter().filter_map(|work| {
        let lesson = work.lesson.as_deref()?;
        Some(Closure {
            date: work.date,
            visit: work.visit.clone(),
            unit: unit.tag.clone(),
            operator: work.operator.clone(),
            lesson: lesson.clone(),
            misclosure: lesson.misclosure?,
            misclosure_u95: lesson.misclosure_u95?,
        })
    })
}

/// The closures by what they have in common, each in the order given.
pub fn gathered(closures: &[Closure], by: By) -> BTreeMap<&str, Vec<&Closure>> {
    let mut all: BTreeMap<&str, Vec<&Closure>> = BTreeMap::new();
    for closure in closures {
        let name = match by {
            By::Grinder => &closure.lesson.grinder,
            By::Tape => &closure.lesson.tape,
            By::Operator => &closure.operator,
            By::Unit => &closure.unit,
        };
        all.entry(name).or_default().push(closure);
    }
    all
}

/// Why a charted value stands out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Sign {
    /// Beyond a limit.
    Outside,
    /// The eighth in a row on one side of the centre, or one that follows it there.
    Run,
}

/// Lengths on an individuals chart.
#[derive(Debug, Clone, PartialEq)]
pub struct Charted {
    /// Their mean.
    pub centre: Length,
    /// The lower limit.
    pub lower: Length,
    /// The upper limit.
    pub upper: Length,
    /// Each value, with why it stands out. A value beyond a limit is told so whether or not it is in a run.
    pub points: Vec<(Length, Option<Sign>)>,
}

/// An individuals chart with run rules (NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2).
///
/// # Errors
/// [`CalcError`]: fewer than two values.
pub fn charted(values: &[Length]) -> Result<Charted, CalcError> {
    let in_mm: Vec<Ratio> = values.iter().map(|value| Ratio::from_value(value.mm())).collect();
    let chart = chart(&in_mm)?;
    let sign = |index: usize| {
        if chart.outside.contains(&index) {
            Some(Sign::Outside)
        } else {
            chart.runs.contains(&index).then_some(Sign::Run)
        }
    };
    let length = |value: Ratio| Length::from_mm(value.value());
    Ok(Charted {
        centre: length(chart.centre),
        lower: length(chart.lower),
        upper: length(chart.upper),
        points: values.iter().enumerate().map(|(index, value)| (*value, sign(index))).collect(),
    })
}
