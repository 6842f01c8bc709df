//! `match`: whether the reels of one mower are of one size.

use super::Calculation;
use super::answer::Answer;
use super::fields::{Fields, Refusal};
use super::units::Units;
use sparkout_core::calc::limits;
use sparkout_core::calc::matched::{UNITS, Unit, matched};

pub const MATCH: Calculation = Calculation {
    name: "match",
    about: "spread of the reels of one mower, the odd ones, and the diameter that all could be ground to",
    example: r#"{"units": [{"tag": "CU-1", "diameter": 5.000}, {"tag": "CU-2", "diameter": 5.004}, {"tag": "CU-3", "diameter": 4.950}], "tolerance": 0.010}"#,
    explain: "spread is the largest less the smallest diameter; the odd ones lie further than the tolerance from the \
        median; bring_to is the smallest, since grinding only takes away (from the definitions; no source). The list \
        of units stands where other calculations tell inch or metric; the answer is in the unit of the diameters, \
        which are millimetres when the first is 25 or more and inches below, and must all be of one kind.",
    compute,
};

/// From here on a number is no reel in inches, and below it none in millimetres.
const MILLIMETRES_FROM: f64 = 25.0;

fn compute(fields: &mut Fields) -> Result<Answer, Refusal> {
    if fields.peek("units", "/0/diameter").is_some_and(|diameter| diameter >= MILLIMETRES_FROM) {
        fields.read_as(Units::Metric);
    }
    let units = fields.list("units", &UNITS, |unit| {
        Ok(Unit { tag: unit.text("tag")?, diameter: unit.number("diameter", &limits::REEL_DIAMETER)? })
    })?;
    let tolerance = fields.number("tolerance", &limits::TOLERANCE)?;
    let matched = matched(&units, tolerance).map_err(|error| fields.refuse(&error))?;
    Ok(Answer::new(fields.units())
        .length("spread", matched.spread)
        .value("odd_ones", &matched.odd_ones)
        .length("bring_to", matched.bring_to))
}
