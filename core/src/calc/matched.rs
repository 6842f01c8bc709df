//! Match: whether the reels of one mower are of one size, so that they cut alike.

use super::error::{CalcError, Field};
use super::limits::{self, Allowed, entries};
use super::line::median;
use super::uncertainty::at_most;
use crate::quantity::Length;
use serde::{Deserialize, Serialize};

/// Units on a mower, or in a fleet.
pub const UNITS: Allowed<u32> = entries(1, 1000);

/// A unit's reel.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Unit {
    /// Which.
    pub tag: String,
    /// Its diameter.
    pub diameter: Length,
}

/// How they match.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Matched {
    /// Largest less smallest.
    pub spread: Length,
    /// Which are further than the tolerance from the median.
    pub odd_ones: Vec<String>,
    /// The smallest, to which all could be ground.
    pub bring_to: Length,
}

/// Spread, odd ones, and the common diameter.
///
/// # Errors
/// [`CalcError`] naming the unit that is out of range.
pub fn matched(units: &[Unit], tolerance: Length) -> Result<Matched, CalcError> {
    UNITS.check_entries("units", units)?;
    limits::TOLERANCE.check("tolerance", tolerance)?;
    for (row, unit) in units.iter().enumerate() {
        limits::REEL_DIAMETER.check(Field::in_row("units[].diameter", row), unit.diameter)?;
    }
    let diameters: Vec<f64> = units.iter().map(|unit| unit.diameter.mm()).collect();
    let middle = Length::from_mm(median(&diameters));
    let (smallest, largest) = diameters.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), diameter| {
        (least.min(*diameter), most.max(*diameter))
    });
    let is_odd = |unit: &&Unit| !at_most((unit.diameter - middle).abs(), tolerance);
    Ok(Matched {
        spread: Length::from_mm(largest - smallest),
        odd_ones: units.iter().filter(is_odd).map(|unit| unit.tag.clone()).collect(),
        bring_to: Length::from_mm(smallest),
    })
}
