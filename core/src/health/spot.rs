//! Spot checks: a ground unit on the surface plate, between the checks with the master bar.

use super::check::CheckRefusal;
use crate::calc::uncertainty::at_most;
use crate::facts::BenchFacts;
use crate::quantity::Length;
use crate::reading::Reading;
use jiff::civil::Date;
use serde::{Deserialize, Serialize};

/// An indicator on a plate shows no more than this of a unit that came off the bench: a millimetre is seen by eye.
const SHOWN_MOST: Reading = Reading::from_nanometres(1_000_000);

/// One spot check.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SpotCheck {
    /// The day.
    pub date: Date,
    /// Who did it, initials.
    pub operator: String,
    /// The unit that stood on the plate.
    pub unit: String,
    /// Right less left end of the reel's underside over the plate, real height.
    pub reading: Reading,
}

impl SpotCheck {
    /// Whether it shows no more than the shop accepts.
    pub fn within(&self, limit: Length) -> bool {
        at_most(self.reading.length().abs(), limit)
    }
}

/// A spot check by whoever stands at the bench.
///
/// # Errors
/// Nobody signed on, or a reading that no unit shows that came off the bench.
pub fn spot_check(facts: &BenchFacts, unit: &str, reading: Reading) -> Result<SpotCheck, CheckRefusal> {
    let operator = facts.operator.as_ref().ok_or(CheckRefusal::NoOperator)?;
    let least = Reading::from_nanometres(-SHOWN_MOST.nanometres());
    if !(least..=SHOWN_MOST).contains(&reading) {
        return Err(CheckRefusal::OutOfRange { reading, least, most: SHOWN_MOST });
    }
    Ok(SpotCheck { date: facts.today, operator: operator.initials.clone(), unit: unit.to_owned(), reading })
}
