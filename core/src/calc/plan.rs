//! Plan: passes, dial, time and what will be left of the reel.

use super::error::{Amount, CalcError};
use super::uncertainty::at_most;
use super::{land, limits};
use crate::bench::DialKind;
use crate::quantity::{Angle, Length, Minutes, Ratio, Speed};
use serde::{Deserialize, Serialize};

/// More passes than any reel is ground in; an infeed that asks for more was typed in the wrong unit.
pub const PASSES_MOST: u32 = 10_000;

/// A quotient this near to a whole number counts as it, since 0.022/0.002 is not 11 in binary fractions.
const WHOLE_WITHIN: f64 = 1e-9;

/// What is to be ground, and how.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct PlanInput {
    /// Diameter at the leading end, on the same basis as the wear limit.
    pub lead: Length,
    /// Diameter at the trailing end.
    pub trail: Length,
    /// Diameter in the middle.
    pub centre: Option<Length>,
    /// Diameter at which the reel is replaced.
    pub wear_limit: Length,
    /// Diameter taken off below the smallest place so that it is ground all round.
    pub cleanup: Length,
    /// Infeed of a pass, on diameter.
    pub infeed: Length,
    /// Passes without infeed at the end.
    pub sparkout: u32,
    /// Travel of the wheel head in a pass.
    pub stroke: Length,
    /// Speed of that travel.
    pub traverse: Speed,
    /// Diameter that a grind of this unit usually takes.
    pub usual_removal: Length,
    /// What the infeed dial is graduated in.
    pub dial: DialKind,
    /// Diameter removed for each infeed; 1 when not given.
    pub infeed_yield: Option<Ratio>,
    /// Width of the land now.
    pub land: Option<Length>,
    /// Angle of the relief face; with the land it tells the land afterwards.
    pub relief_angle: Option<Angle>,
    /// Width of land at which relief is due.
    pub land_limit: Option<Length>,
}

/// The land afterwards, at both ends: they differ when the reel was coned.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct LandAfter {
    /// At the leading end.
    pub lead: Length,
    /// At the trailing end.
    pub trail: Length,
}

/// Whether to start at all.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum PlanVerdict {
    /// The reel stays at or above its wear limit.
    Grind,
    /// It would come out below.
    BelowLimit,
}

/// The plan.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Plan {
    /// Diameter of the cylinder that will be left.
    pub final_diameter: Length,
    /// Diameter to come off where the reel is largest.
    pub stock: Length,
    /// Passes with infeed.
    pub passes: u32,
    /// What the dial shows after each of them, in its graduation, from first touch on the largest place.
    pub schedule: Vec<Length>,
    /// Time for all passes, with and without infeed.
    pub minutes: Minutes,
    /// Usual grinds left after this one.
    pub grinds_left: u32,
    /// The land afterwards.
    pub land_after: Option<LandAfter>,
    /// Whether a land is then wider than its limit.
    pub relief_due: Option<bool>,
    /// Whether to start.
    pub verdict: PlanVerdict,
}

/// Passes, dial schedule, time and the reel afterwards.
///
/// # Errors
/// [`CalcError`] naming the input that is out of range or contradicts another.
pub fn plan(input: &PlanInput) -> Result<Plan, CalcError> {
    check(input)?;
    let ends = (input.lead.max(input.trail), input.lead.min(input.trail));
    let (largest, smallest) = input.centre.map_or(ends, |centre| (ends.0.max(centre), ends.1.min(centre)));
    let final_diameter = smallest - input.cleanup;
    let stock = largest - final_diameter;
    let fed = stock / input.infeed_yield.map_or(1.0, Ratio::value);
    let passes = passes(input, fed)?;
    let schedule = (1..=passes)
        .map(|pass| if pass == passes { fed } else { input.infeed * f64::from(pass) })
        .map(|fed| fed * (input.dial.factor() / 2.0))
        .collect();
    let travel_mm = input.stroke.mm() * (f64::from(passes) + f64::from(input.sparkout));
    let land_after = land_after(input, final_diameter)?;
    let due = |land: LandAfter, limit: Length| !at_most(land.lead.max(land.trail), limit);
    Ok(Plan {
        final_diameter,
        stock,
        passes,
        schedule,
        minutes: Minutes::from_minutes(travel_mm / (input.traverse.metres_per_second() * 60_000.0)),
        grinds_left: whole_grinds((final_diameter - input.wear_limit) / input.usual_removal),
        land_after,
        relief_due: land_after.zip(input.land_limit).map(|(land, limit)| due(land, limit)),
        verdict: if at_most(input.wear_limit, final_diameter) { PlanVerdict::Grind } else { PlanVerdict::BelowLimit },
    })
}

fn near_whole(quotient: f64) -> Option<f64> {
    let whole = quotient.round();
    ((quotient - whole).abs() <= WHOLE_WITHIN).then_some(whole)
}

fn passes(input: &PlanInput, fed: Length) -> Result<u32, CalcError> {
    let quotient = (fed / input.infeed).value();
    let passes = near_whole(quotient).unwrap_or(quotient.ceil());
    if passes > f64::from(PASSES_MOST) {
        return Err(CalcError::Contradicts {
            field: "infeed".into(),
            value: Amount::Length(input.infeed),
            least: Amount::Length(fed / f64::from(PASSES_MOST)),
            most: limits::INFEED.most(),
            because: "the stock to remove",
        });
    }
    Ok(passes as u32)
}

fn whole_grinds(quotient: Ratio) -> u32 {
    // Saturates at 0 below the limit; the ranges keep it far below the type's most.
    near_whole(quotient.value()).unwrap_or(quotient.value().floor()) as u32
}

fn land_after(input: &PlanInput, final_diameter: Length) -> Result<Option<LandAfter>, CalcError> {
    let (Some(land), Some(angle)) = (input.land, input.relief_angle) else {
        return Ok(None);
    };
    let at = |diameter: Length| {
        let removed = diameter - final_diameter;
        land::after(land, diameter, removed, angle).ok_or_else(|| CalcError::Contradicts {
            field: "relief_angle".into(),
            value: Amount::Angle(angle),
            least: Amount::Angle(flattest(diameter, removed)),
            most: limits::RELIEF_ANGLE.most(),
            because: "the diameter to remove, which ends the relief face,",
        })
    };
    Ok(Some(LandAfter { lead: at(input.lead)?, trail: at(input.trail)? }))
}

/// The relief angle whose face ends just where `removed` takes the circle.
fn flattest(diameter: Length, removed: Length) -> Angle {
    Angle::from_degrees((1.0 - (removed / diameter).value()).acos().to_degrees())
}

fn check(input: &PlanInput) -> Result<(), CalcError> {
    limits::REEL_DIAMETER.check("lead", input.lead)?;
    limits::REEL_DIAMETER.check("trail", input.trail)?;
    limits::REEL_DIAMETER.check_optional("centre", input.centre)?;
    limits::REEL_DIAMETER.check("wear_limit", input.wear_limit)?;
    limits::CLEANUP.check("cleanup", input.cleanup)?;
    limits::INFEED.check("infeed", input.infeed)?;
    limits::SPARKOUT.check("sparkout", input.sparkout)?;
    limits::DISTANCE.check("stroke", input.stroke)?;
    limits::TRAVERSE.check("traverse", input.traverse)?;
    limits::REMOVAL.check("usual_removal", input.usual_removal)?;
    limits::YIELD.check_optional("yield", input.infeed_yield)?;
    limits::LAND.check_optional("land", input.land)?;
    limits::RELIEF_ANGLE.check_optional("relief_angle", input.relief_angle)?;
    limits::LAND_LIMIT.check_optional("land_limit", input.land_limit)?;
    Ok(())
}
