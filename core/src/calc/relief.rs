//! Relief: where the blade must stand over the wheel for a relief angle.

use super::error::{Amount, CalcError};
use super::limits::{self, Allowed, lengths};
use super::root;
use crate::quantity::{Angle, Length};
use serde::{Deserialize, Serialize};

/// Wheel axis off the reel axis, + towards the blade.
pub const WHEEL_OFFSET: Allowed<Length> = lengths(-700.0, 700.0);

/// How near the angle is solved for, in degrees: far finer than any finger is set.
const SOLVED_TO_DEGREES: f64 = 1e-13;

/// The wanted relief.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct ReliefInput {
    /// Diameter of the reel.
    pub reel_diameter: Length,
    /// Diameter of the wheel.
    pub wheel_diameter: Length,
    /// Angle of the relief face below the tangent.
    pub relief_angle: Angle,
    /// Wheel axis off the reel axis, + towards the blade; on it when not given.
    pub wheel_offset: Option<Length>,
}

/// Where the blade stands.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Relief {
    /// Blade tip past the bottom of the reel.
    pub blade_angle: Angle,
    /// The same as a distance from the reel's axis, R·sin β.
    pub finger_offset: Length,
}

/// Where the blade must stand: β with α = β + asin((R·sin β − c)/r).
///
/// Solved as c = R·sin β − r·sin(α − β), which grows with β over the whole range where both sines do, so one root
/// lies in it.
///
/// # Errors
/// [`CalcError`] naming the input that is out of range, or an offset at which no place of the blade gives the
/// angle.
pub fn relief(input: &ReliefInput) -> Result<Relief, CalcError> {
    limits::REEL_DIAMETER.check("reel_diameter", input.reel_diameter)?;
    limits::WHEEL_DIAMETER.check("wheel_diameter", input.wheel_diameter)?;
    limits::RELIEF_ANGLE.check("relief_angle", input.relief_angle)?;
    let offset = WHEEL_OFFSET.check_optional("wheel_offset", input.wheel_offset)?.unwrap_or(Length::ZERO);
    let (reel, wheel) = (input.reel_diameter.mm() / 2.0, input.wheel_diameter.mm() / 2.0);
    let alpha = input.relief_angle.degrees();
    let offset_at = |beta: f64| reel * beta.to_radians().sin() - wheel * (alpha - beta).to_radians().sin();
    let (low, high) = (alpha - 90.0, 90.0);
    let beta = root::bisect(low, high, SOLVED_TO_DEGREES, |beta| offset_at(beta) - offset.mm());
    let beta = beta.ok_or_else(|| CalcError::Contradicts {
        field: "wheel_offset".into(),
        value: Amount::Length(offset),
        least: Amount::Length(Length::from_mm(offset_at(low))),
        most: Amount::Length(Length::from_mm(offset_at(high))),
        because: "the relief_angle with these diameters",
    })?;
    Ok(Relief {
        blade_angle: Angle::from_degrees(beta),
        finger_offset: Length::from_mm(reel * beta.to_radians().sin()),
    })
}
