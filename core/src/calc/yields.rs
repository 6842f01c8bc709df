//! Yield and spring: how much of the infeed arrives at the reel.

use super::error::{Amount, CalcError, Field};
use super::limits::{self, Allowed, entries, lengths};
use crate::quantity::{Length, Ratio};
use serde::{Deserialize, Serialize};

/// Grinds, or passes, on record.
pub const RECORDS: Allowed<u32> = entries(1, 10_000);
/// Whole infeed of a grind.
pub const WHOLE_INFEED: Allowed<Length> = lengths(0.000_1, 50.0);
/// Diameter removed; a tape read twice may show a little less than nothing.
pub const REMOVED: Allowed<Length> = lengths(-1.0, 50.0);
/// Infeed of a pass, none included.
pub const PASS_INFEED: Allowed<Length> = lengths(0.0, 2.0);

/// A grind on record.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Grind {
    /// Its whole infeed, on diameter.
    pub infeed: Length,
    /// Diameter that it removed.
    pub removed: Length,
}

/// Grinds of one setup.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct YieldInput {
    /// The grinds.
    pub grinds: Vec<Grind>,
    /// Diameter that is to be removed next.
    pub wanted_removal: Option<Length>,
}

/// What the setup gives.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Yield {
    /// Diameter removed for each infeed.
    pub removed_per_infeed: Ratio,
    /// Infeed for the wanted removal; none when the setup removes nothing.
    pub suggested_infeed: Option<Length>,
}

/// Least squares through the origin: Σ(infeed·removed)/Σ infeed².
///
/// # Errors
/// [`CalcError`] naming the grind that is out of range.
pub fn infeed_yield(input: &YieldInput) -> Result<Yield, CalcError> {
    RECORDS.check_entries("grinds", &input.grinds)?;
    limits::GRIND.check_optional("wanted_removal", input.wanted_removal)?;
    for (row, grind) in input.grinds.iter().enumerate() {
        WHOLE_INFEED.check(Field::in_row("grinds[].infeed", row), grind.infeed)?;
        REMOVED.check(Field::in_row("grinds[].removed", row), grind.removed)?;
    }
    let slope = through_origin(input.grinds.iter().map(|grind| (grind.infeed.mm(), grind.removed.mm())));
    let suggested_infeed = input.wanted_removal.filter(|_| slope > 0.0).map(|wanted| wanted / slope);
    Ok(Yield { removed_per_infeed: Ratio::from_value(slope), suggested_infeed })
}

fn through_origin(points: impl Iterator<Item = (f64, f64)>) -> f64 {
    let (products, squares) = points.fold((0.0, 0.0), |(xy, xx), (x, y)| (xy + x * y, xx + x * x));
    products / squares
}

/// Passes of one grind.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SpringInput {
    /// Infeed of each pass, on diameter.
    pub infeed: Vec<Length>,
    /// Diameter that each pass removed.
    pub removed: Vec<Length>,
    /// What may still be pending at the end.
    pub tolerance: Length,
}

/// How the setup springs.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Spring {
    /// What a pass removes of what is pending.
    pub fraction: Ratio,
    /// What is still pending after the last pass.
    pub left: Length,
    /// Passes without infeed until no more than the tolerance is.
    pub passes_without_infeed: u32,
}

/// pending ← pending + infeed; removed = φ·pending. The pending is known from what went in and what came off, so φ
/// is fitted by least squares through the origin of removed over pending; without infeed, pending falls by (1 − φ)
/// a pass.
///
/// # Errors
/// [`CalcError`] naming the pass that is out of range, lists of different lengths, no infeed at all, or passes that
/// removed nothing.
pub fn spring(input: &SpringInput) -> Result<Spring, CalcError> {
    let count = check(input)?;
    let mut pending = 0.0;
    let passes: Vec<(f64, f64)> = input
        .infeed
        .iter()
        .zip(&input.removed)
        .map(|(infeed, removed)| {
            let before = pending + infeed.mm();
            pending = before - removed.mm();
            (before, removed.mm())
        })
        .collect();
    let last = Field::in_row("infeed[]", count - 1);
    if passes.iter().all(|(before, _)| before.abs() < limits::INFEED_LEAST.mm()) {
        let (value, least, most) = (input.infeed[count - 1], limits::INFEED_LEAST, limits::INFEED.most());
        let because = "having to feed something in one of the passes";
        let (value, least) = (Amount::Length(value), Amount::Length(least));
        return Err(CalcError::Contradicts { field: last, value, least, most, because });
    }
    let fraction = through_origin(passes.into_iter());
    if fraction <= 0.0 {
        return Err(CalcError::Contradicts {
            field: Field::in_row("removed[]", count - 1),
            value: Amount::Length(input.removed[count - 1]),
            least: Amount::Length(limits::INFEED_LEAST),
            most: REMOVED.most(),
            because: "a setup that removes something of what is fed",
        });
    }
    let left = Length::from_mm(pending);
    let passes_without_infeed = passes_until(left, fraction, input.tolerance);
    Ok(Spring { fraction: Ratio::from_value(fraction), left, passes_without_infeed })
}

/// The fewest n with left·(1 − φ)ⁿ within the tolerance.
fn passes_until(left: Length, fraction: f64, tolerance: Length) -> u32 {
    /// A quotient this near to a whole number counts as it.
    const WHOLE_WITHIN: f64 = 1e-9;
    if left <= tolerance {
        return 0;
    }
    if fraction >= 1.0 {
        return 1;
    }
    let passes = (tolerance / left).value().ln() / (-fraction).ln_1p();
    (passes - WHOLE_WITHIN).ceil().max(1.0) as u32
}

fn check(input: &SpringInput) -> Result<usize, CalcError> {
    RECORDS.check_entries("infeed", &input.infeed)?;
    let count = input.infeed.len();
    let as_many = u32::try_from(count).unwrap_or(u32::MAX);
    Allowed::new(as_many, as_many, Amount::Entries).check_entries("removed", &input.removed)?;
    limits::TOLERANCE.check("tolerance", input.tolerance)?;
    for (row, (infeed, removed)) in input.infeed.iter().zip(&input.removed).enumerate() {
        PASS_INFEED.check(Field::in_row("infeed[]", row), *infeed)?;
        REMOVED.check(Field::in_row("removed[]", row), *removed)?;
    }
    Ok(count)
}
