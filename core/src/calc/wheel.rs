//! Wheel: surface speed, and the spindle against the wheel's rating.

use super::error::CalcError;
use super::limits;
use crate::quantity::{Length, Ratio, Speed, SpindleSpeed};
use serde::{Deserialize, Serialize};

/// The wheel as mounted.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct WheelInput {
    /// Diameter of the wheel now.
    pub diameter: Length,
    /// Speed of its spindle.
    pub spindle_speed: SpindleSpeed,
    /// Maximum operating speed read off the wheel itself.
    pub rated_speed: SpindleSpeed,
    /// Diameter of the reel and the speed at which the grinder turns it.
    pub reel: Option<(Length, SpindleSpeed)>,
}

/// Whether the wheel may turn so fast.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum WheelVerdict {
    /// Not above the rating; equal is allowed (29 CFR 1910.215(d)(1)).
    WithinRating,
    /// Above it: the wheel can burst.
    Overspeed,
}

/// The wheel's speed.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct WheelSpeed {
    /// Speed of the wheel's surface, π·D·N.
    pub surface_speed: Speed,
    /// Speed of the reel's.
    pub reel_surface_speed: Option<Speed>,
    /// 1 − spindle/rated; negative when too fast.
    pub margin: Ratio,
    /// Whether it may turn so fast.
    pub verdict: WheelVerdict,
}

/// Surface speed and margin below the rating.
///
/// # Errors
/// [`CalcError`] naming the input that is out of range.
pub fn wheel(input: &WheelInput) -> Result<WheelSpeed, CalcError> {
    limits::WHEEL_DIAMETER.check("diameter", input.diameter)?;
    limits::SPINDLE.check("spindle_rpm", input.spindle_speed)?;
    limits::SPINDLE.check("rated_rpm", input.rated_speed)?;
    if let Some((diameter, speed)) = input.reel {
        limits::REEL_DIAMETER.check("reel_diameter", diameter)?;
        limits::SPINDLE.check("reel_rpm", speed)?;
    }
    let verdict =
        if input.spindle_speed <= input.rated_speed { WheelVerdict::WithinRating } else { WheelVerdict::Overspeed };
    Ok(WheelSpeed {
        surface_speed: surface_speed(input.diameter, input.spindle_speed),
        reel_surface_speed: input.reel.map(|(diameter, speed)| surface_speed(diameter, speed)),
        margin: Ratio::from_value(1.0 - (input.spindle_speed / input.rated_speed).value()),
        verdict,
    })
}

/// π·D·N.
pub fn surface_speed(diameter: Length, speed: SpindleSpeed) -> Speed {
    Speed::from_metres_per_second(std::f64::consts::PI * diameter.mm() / 1000.0 * speed.rpm() / 60.0)
}
