//! How the land widens as the reel is ground smaller and the relief face is uncovered.

use super::error::{Amount, CalcError};
use super::{limits, root};
use crate::quantity::{Angle, Length, Ratio};
use serde::{Deserialize, Serialize};

/// How near the diameter at the limit is solved for: a picometre.
const SOLVED_TO_MM: f64 = 1e-12;

/// A land before a grind.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct LandInput {
    /// Width now, along the arc.
    pub land: Length,
    /// Diameter now.
    pub diameter: Length,
    /// Diameter to be removed.
    pub removed: Length,
    /// Angle of the relief face below the tangent at the land's end.
    pub relief_angle: Angle,
    /// Width at which the reel is due for relief.
    pub land_limit: Option<Length>,
}

/// A land after a grind.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Land {
    /// Width afterwards.
    pub land_after: Length,
    /// Wider by so much.
    pub growth: Length,
    /// How many removals of this size, not rounded, until the limit is reached; 0 when it already is. Left out
    /// without a limit, when nothing is removed, and when the relief face ends before.
    pub removals_to_limit: Option<Ratio>,
}

/// The land after a removal, exactly.
///
/// # Errors
/// [`CalcError`] naming the input that is out of range, or a removal that leaves nothing of the relief face.
pub fn land(input: &LandInput) -> Result<Land, CalcError> {
    limits::LAND.check("land", input.land)?;
    limits::REEL_DIAMETER.check("diameter", input.diameter)?;
    limits::GRIND.check("removed", input.removed)?;
    limits::RELIEF_ANGLE.check("relief_angle", input.relief_angle)?;
    limits::LAND_LIMIT.check_optional("land_limit", input.land_limit)?;
    let most = deepest(input.diameter, input.relief_angle);
    let land_after = after(input.land, input.diameter, input.removed, input.relief_angle).ok_or({
        CalcError::Contradicts {
            field: "removed".into(),
            value: Amount::Length(input.removed),
            least: Amount::Length(Length::ZERO),
            most: Amount::Length(most),
            because: "the relief face, which ends there,",
        }
    })?;
    let removals_to_limit = input.land_limit.and_then(|limit| removals_to(input, limit, most));
    Ok(Land { land_after, growth: land_after - input.land, removals_to_limit })
}

/// Diameter that can be removed before the circle no longer meets the relief face: D·(1 − cos α).
pub(crate) fn deepest(diameter: Length, relief_angle: Angle) -> Length {
    let half = (relief_angle.degrees() / 2.0).to_radians().sin();
    diameter * (2.0 * half * half)
}

/// Width along the arc after `removed` has been taken off the diameter; `None` when the circle misses the relief
/// face.
///
/// The face starts at the land's end at angle α below the tangent: at distance s along it the radius is √(s²cos²α +
/// (R − s·sin α)²). The front of the blade is taken as radial, so that the old land keeps its angle.
pub(crate) fn after(land: Length, diameter: Length, removed: Length, relief_angle: Angle) -> Option<Length> {
    uncovered(land, diameter, removed, relief_angle).map(|face| face.land)
}

/// What a removal uncovers, and the land with it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Uncovered {
    /// Along the straight relief face, from the old land's end to the new circle.
    pub along: Length,
    /// Width of the land afterwards, along the arc.
    pub land: Length,
}

/// The land after `removed` has been taken off the diameter, with the length of relief face that became land; `None`
/// when the circle misses the relief face.
pub fn uncovered(land: Length, diameter: Length, removed: Length, relief_angle: Angle) -> Option<Uncovered> {
    let (sine, cosine) = relief_angle.degrees().to_radians().sin_cos();
    let radius = diameter.mm() / 2.0;
    let smaller = radius - removed.mm() / 2.0;
    // R² − r², without squaring first.
    let lost = removed.mm() / 2.0 * (radius + smaller);
    let reach = radius * sine;
    let under_root = reach * reach - lost;
    if smaller <= 0.0 || under_root < 0.0 {
        return None;
    }
    let along = lost / (reach + under_root.sqrt());
    let turned = (along * cosine).atan2(radius - along * sine);
    let land = Length::from_mm(smaller * (land.mm() / radius + turned));
    Some(Uncovered { along: Length::from_mm(along), land })
}

fn removals_to(input: &LandInput, limit: Length, most: Length) -> Option<Ratio> {
    if input.land >= limit {
        return Some(Ratio::ZERO);
    }
    if input.removed <= Length::ZERO {
        return None;
    }
    let short_of_limit = |removed: f64| {
        let land = after(input.land, input.diameter, Length::from_mm(removed), input.relief_angle);
        land.map_or(f64::NAN, |land| (land - limit).mm())
    };
    // Just short of the end of the face, where rounding cannot make the circle miss it.
    let removed = root::bisect(0.0, most.mm() * (1.0 - 1e-12), SOLVED_TO_MM, short_of_limit)?;
    Some(Length::from_mm(removed) / input.removed)
}
