//! Master: the grinder checked with a master bar, the indicator or the touches of the wheel read along it.

use super::error::{Amount, CalcError, Field};
use super::limits::{self, Allowed, entries};
use super::line::{least_squares, mean};
use super::uncertainty::at_most;
use crate::bench::DialKind;
use crate::quantity::{Length, Ratio};
use serde::{Deserialize, Serialize};

/// Stations along the bar: two make a slope, three begin to show straightness.
pub const STATIONS: Allowed<u32> = entries(2, 1000);

/// Stations of both runs are the same when they lie this near: nobody sets an indicator closer.
const SAME_STATION: Length = Length::from_mm(0.5);

/// A reading along the bar.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Station {
    /// Where, along the rails.
    pub y: Length,
    /// What the dial read.
    pub dial: Length,
}

/// A bar, read once or twice.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct MasterInput {
    /// The readings.
    pub readings: Vec<Station>,
    /// The readings at the same stations with the bar turned end for end.
    pub reversed: Option<Vec<Station>>,
    /// What the dial is graduated in.
    pub dial: DialKind,
    /// Length over which parallelism is told.
    pub span: Length,
    /// Error that is accepted, of parallelism over the span and of straightness alike.
    pub tolerance: Length,
}

/// Whether the grinder is true.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum MasterVerdict {
    /// Both errors are within the tolerance.
    True,
    /// One is not.
    OutOfTrue,
}

/// What the bar shows of the grinder; with both runs the bar's own taper is taken out.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Master {
    /// Real height for each length along the rails.
    pub slope: Ratio,
    /// The slope over the span.
    pub parallel_error: Length,
    /// Range of what remains beside the line, real height.
    pub straightness: Length,
    /// The bar's own taper over the span.
    pub bar_error: Option<Length>,
    /// Whether the grinder is true.
    pub verdict: MasterVerdict,
}

/// Least-squares line through the real heights. A bar that tapers by t over its length adds t to one run and takes
/// it from the other, so the half sum of the runs is the grinder and the half difference the bar (the surveyor's
/// and the toolmaker's reversal).
///
/// # Errors
/// [`CalcError`] naming the reading that is out of range, stations that do not lie apart, or runs at different
/// stations.
pub fn master(input: &MasterInput) -> Result<Master, CalcError> {
    limits::DISTANCE.check("span", input.span)?;
    limits::TOLERANCE.check("tolerance", input.tolerance)?;
    let k = input.dial.factor();
    let first = heights(&input.readings, "readings", "readings[].y", "readings[].dial", k)?;
    let second = match &input.reversed {
        None => None,
        Some(reversed) => {
            let second = heights(reversed, "reversed", "reversed[].y", "reversed[].dial", k)?;
            same_stations(&input.readings, reversed)?;
            Some(second)
        }
    };
    let mixed = |of: fn(f64, f64) -> f64| {
        let second = second.as_ref()?;
        Some(first.iter().zip(second).map(|((y, one), (_, two))| (*y, of(*one, *two) / 2.0)).collect::<Vec<_>>())
    };
    let grinder = mixed(|one, two| one + two).unwrap_or_else(|| first.clone());
    let (_, slope) = least_squares(&grinder);
    let bar = mixed(|one, two| one - two).map(|bar| least_squares(&bar).1);
    let (parallel_error, straightness) = (input.span * slope, range_beside(&grinder, slope));
    let within = at_most(parallel_error.abs(), input.tolerance) && at_most(straightness, input.tolerance);
    Ok(Master {
        slope: Ratio::from_value(slope),
        parallel_error,
        straightness,
        bar_error: bar.map(|slope| input.span * slope),
        verdict: if within { MasterVerdict::True } else { MasterVerdict::OutOfTrue },
    })
}

/// The stations in mm with the real height at each; refused when they do not lie apart.
fn heights(
    readings: &[Station],
    list: &'static str,
    y: &'static str,
    dial: &'static str,
    k: f64,
) -> Result<Vec<(f64, f64)>, CalcError> {
    STATIONS.check_entries(list, readings)?;
    for (row, reading) in readings.iter().enumerate() {
        limits::PLACE.check(Field::in_row(y, row), reading.y)?;
        limits::DIAL.check(Field::in_row(dial, row), reading.dial)?;
    }
    let places = || readings.iter().map(|reading| reading.y);
    let (least, most) = places().fold((readings[0].y, readings[0].y), |(least, most), y| (least.min(y), most.max(y)));
    if most - least < limits::LEAST_APART {
        return Err(CalcError::TooClose {
            field: Field::in_row(y, readings.len() - 1),
            value: Amount::Length(readings[readings.len() - 1].y),
            to: Field::in_row(y, 0),
            to_value: Amount::Length(readings[0].y),
            least_apart: Amount::Length(limits::LEAST_APART),
        });
    }
    Ok(readings.iter().map(|reading| (reading.y.mm(), reading.dial.mm() / k)).collect())
}

fn same_stations(readings: &[Station], reversed: &[Station]) -> Result<(), CalcError> {
    let count = u32::try_from(readings.len()).unwrap_or(u32::MAX);
    Allowed::new(count, count, Amount::Entries).check_entries("reversed", reversed)?;
    for (row, (one, two)) in readings.iter().zip(reversed).enumerate() {
        if (one.y - two.y).abs() > SAME_STATION {
            return Err(CalcError::Contradicts {
                field: Field::in_row("reversed[].y", row),
                value: Amount::Length(two.y),
                least: Amount::Length(one.y - SAME_STATION),
                most: Amount::Length(one.y + SAME_STATION),
                because: "the station of the first run",
            });
        }
    }
    Ok(())
}

fn range_beside(points: &[(f64, f64)], slope: f64) -> Length {
    let (ys, heights): (Vec<f64>, Vec<f64>) = points.iter().copied().unzip();
    let (y_mean, height_mean) = (mean(&ys), mean(&heights));
    let residual = |(y, height): &(f64, f64)| height - height_mean - slope * (y - y_mean);
    let (least, most) = points
        .iter()
        .map(residual)
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), residual| (least.min(residual), most.max(residual)));
    Length::from_mm(most - least)
}
