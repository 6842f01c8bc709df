//! Clip: the length of turf travelled for each blade.

use super::error::{Amount, CalcError};
use super::limits::{self, Allowed, lengths};
use crate::quantity::{Length, Ratio, Speed, SpindleSpeed};
use serde::{Deserialize, Serialize};

/// Speed over the turf, from a crawl to faster than any mower cuts.
pub const GROUND_SPEED: Allowed<Speed> =
    Allowed::new(Speed::from_metres_per_second(0.01), Speed::from_metres_per_second(15.0), Amount::GroundSpeed);
/// Height of cut, from a shaved green to rough.
pub const HEIGHT_OF_CUT: Allowed<Length> = lengths(0.5, 150.0);
/// Diameter of what leaves the scallops; down to milling cutters, because the geometry is the same and their values
/// are published.
pub const CUTTER_DIAMETER: Allowed<Length> = lengths(2.0, 1000.0);
/// Blades of what cuts, a single one included.
pub const CUTTERS: Allowed<u32> = Allowed::new(1, 30, Amount::Count);

/// A reel over turf.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct ClipInput {
    /// Speed over the turf.
    pub ground_speed: Speed,
    /// Blades of the reel.
    pub blades: u32,
    /// Speed of the reel.
    pub reel_speed: SpindleSpeed,
    /// Height of cut.
    pub height_of_cut: Length,
    /// Diameter of the reel.
    pub reel_diameter: Length,
}

/// How it cuts.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Clip {
    /// Turf travelled for each blade.
    pub clip: Length,
    /// The same over the height of cut; near 1 is wanted (common practice: 0.8–1.2).
    pub ratio: Ratio,
    /// Depth between two cuts of the tip circle. A geometric index: the bedknife sets the line of cut.
    pub scallop: Length,
    /// Speed of the reel at which the clip is the height of cut.
    pub speed_for_match: SpindleSpeed,
}

/// f = v/(N·n); scallop (f/2)²/(R + √(R² − (f/2)²)), which is R − √(R² − (f/2)²) without its cancellation.
///
/// # Errors
/// [`CalcError`] naming the input that is out of range, or a reel so slow that its blades no longer meet.
pub fn clip(input: &ClipInput) -> Result<Clip, CalcError> {
    GROUND_SPEED.check("ground_speed", input.ground_speed)?;
    CUTTERS.check("blades", input.blades)?;
    limits::SPINDLE.check("reel_rpm", input.reel_speed)?;
    HEIGHT_OF_CUT.check("height_of_cut", input.height_of_cut)?;
    CUTTER_DIAMETER.check("reel_diameter", input.reel_diameter)?;
    // Millimetres a minute for each blade, at one revolution a minute.
    let at_one_rpm = input.ground_speed.metres_per_second() * 60_000.0 / f64::from(input.blades);
    let clip = at_one_rpm / input.reel_speed.rpm();
    let (half, radius) = (clip / 2.0, input.reel_diameter.mm() / 2.0);
    if half > radius {
        return Err(CalcError::Contradicts {
            field: "reel_rpm".into(),
            value: Amount::SpindleSpeed(input.reel_speed),
            least: Amount::SpindleSpeed(SpindleSpeed::from_rpm(at_one_rpm / (2.0 * radius))),
            most: limits::SPINDLE.most(),
            because: "the ground speed over a reel of these blades and this diameter",
        });
    }
    Ok(Clip {
        clip: Length::from_mm(clip),
        ratio: Length::from_mm(clip) / input.height_of_cut,
        scallop: Length::from_mm(half * half / (radius + ((radius - half) * (radius + half)).sqrt())),
        speed_for_match: SpindleSpeed::from_rpm(at_one_rpm / input.height_of_cut.mm()),
    })
}
