//! Chart: individual values and moving ranges (NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2).

use super::error::{Amount, CalcError, Field};
use super::limits::{Allowed, entries};
use super::line::mean;
use crate::quantity::Ratio;
use serde::{Deserialize, Serialize};

/// A charted value, whatever it counts.
pub const VALUE: Allowed<Ratio> = Allowed::new(Ratio::from_value(-1e12), Ratio::from_value(1e12), Amount::Ratio);
/// Values on a chart: two make a range.
pub const VALUES: Allowed<u32> = entries(2, 100_000);

/// Expected range of two over the standard deviation (ASTM E2587 and others, n = 2; exactly 2/√π, printed and used
/// as 1.128).
const D2: f64 = 1.128;
/// Upper limit of the range of two over its mean, n = 2.
const D4: f64 = 3.267;
/// Values in a row on one side that make a run.
const RUN: usize = 8;
/// Values nearer to a line than this share of the largest count as on it.
const SAME: f64 = 1e-12;

/// Limits and what stands out.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Chart {
    /// Mean of the values.
    pub centre: Ratio,
    /// Mean of the ranges between neighbours.
    pub mean_range: Ratio,
    /// centre − 3·mean_range/1.128.
    pub lower: Ratio,
    /// centre + 3·mean_range/1.128.
    pub upper: Ratio,
    /// 3.267·mean_range.
    pub range_upper: Ratio,
    /// Which values lie beyond a limit, from 0.
    pub outside: Vec<usize>,
    /// Which values complete eight in a row on one side of the centre, and each that follows them there.
    pub runs: Vec<usize>,
}

/// Centre, limits, values outside and runs. A value on the centre line ends a run.
///
/// # Errors
/// [`CalcError`] naming the value that is out of range, or too few values.
pub fn chart(values: &[Ratio]) -> Result<Chart, CalcError> {
    VALUES.check_entries("values", values)?;
    for (row, value) in values.iter().enumerate() {
        VALUE.check(Field::in_row("values[]", row), *value)?;
    }
    let values: Vec<f64> = values.iter().map(|value| value.value()).collect();
    let ranges: Vec<f64> = values.windows(2).map(|pair| (pair[1] - pair[0]).abs()).collect();
    let (centre, mean_range) = (mean(&values), mean(&ranges));
    let reach = 3.0 * mean_range / D2;
    let same = SAME * values.iter().fold(0.0, |most: f64, value| most.max(value.abs()));
    let outside = |value: f64| (value - centre).abs() > reach + same;
    let side = |value: f64| match value - centre {
        off if off > same => 1,
        off if off < -same => -1,
        _ => 0,
    };
    Ok(Chart {
        centre: Ratio::from_value(centre),
        mean_range: Ratio::from_value(mean_range),
        lower: Ratio::from_value(centre - reach),
        upper: Ratio::from_value(centre + reach),
        range_upper: Ratio::from_value(D4 * mean_range),
        outside: values.iter().enumerate().filter(|(_, value)| outside(**value)).map(|(index, _)| index).collect(),
        runs: runs(values.iter().copied().map(side)),
    })
}

fn runs(sides: impl Iterator<Item = i8>) -> Vec<usize> {
    let (mut length, mut on) = (0, 0);
    let mut found = Vec::new();
    for (index, side) in sides.enumerate() {
        length = match side {
            0 => 0,
            side if side == on => length + 1,
            _ => 1,
        };
        on = side;
        if length >= RUN {
            found.push(index);
        }
    }
    found
}
