//! Diameter over the blade tips, as a tape reads it and as it is.

use super::error::{Amount, CalcError};
use super::{limits, root};
use crate::bench::{End, LimitBasis};
use crate::quantity::{Length, Ratio, Temperature};
use serde::{Deserialize, Serialize};
use std::f64::consts::PI;

/// Expansion of steel, of reel and tape alike, for each kelvin (Swyt, J. Res. NIST 99, 31, 1994).
pub(crate) const STEEL_PER_KELVIN: f64 = 11.5e-6;

/// Reference temperature of lengths (ISO 1).
pub const REFERENCE_TEMPERATURE: Temperature = Temperature::from_celsius(20.0);

/// How near the tip circle is solved for: a picometre.
const SOLVED_TO_MM: f64 = 1e-12;

/// What the tape read.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct TapeInput {
    /// Blades of the reel, 3–30.
    pub blades: u32,
    /// Reading at the leading end, as a diameter.
    pub lead: Length,
    /// Reading at the trailing end.
    pub trail: Length,
    /// Reading in the middle.
    pub centre: Option<Length>,
    /// Width of the land, along its arc; none counts as a sharp tip.
    pub land: Option<Length>,
    /// Temperature of the reel; without it the readings count as taken at 20 °C.
    pub reel_temperature: Option<Temperature>,
    /// Temperature of the tape; the reel's when not given, because a thin tape takes it.
    pub tape_temperature: Option<Temperature>,
    /// Diameter at which the reel is replaced.
    pub wear_limit: Option<Length>,
    /// How that limit, and the new diameter, were measured.
    pub limit_basis: LimitBasis,
    /// Diameter of a new reel.
    pub new_diameter: Option<Length>,
}

/// Diameters of the circle through the blade tips, at 20 °C where the temperature is known.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct TipDiameters {
    /// At the leading end.
    pub lead: Length,
    /// At the trailing end.
    pub trail: Length,
    /// In the middle.
    pub centre: Option<Length>,
}

/// What follows from the readings.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Tape {
    /// Leading less trailing reading.
    pub cone: Length,
    /// Middle less the mean of the ends: + a barrel, − an hourglass.
    pub barrel: Option<Length>,
    /// The larger end, on which the dial is zeroed; the leading one when equal.
    pub zero_end: End,
    /// What a dial graduated in diameter reads at the other end when the axis is level.
    pub target: Length,
    /// The tip circle.
    pub diameter: TipDiameters,
    /// How much of the way from new to the limit is used; above 1 when worn out. Needs both diameters.
    pub wear_used: Option<Ratio>,
}

/// Cone, barrel, tip circle and wear from the tape's readings.
///
/// The differences use the readings as read: the polygon's error is the same for both and hardly changes them.
///
/// # Errors
/// [`CalcError`] naming the input that is out of range or contradicts another.
pub fn tape(input: &TapeInput) -> Result<Tape, CalcError> {
    let readings = check(input)?;
    let expansion = expansion(input)?;
    let land = input.land.unwrap_or(Length::ZERO);
    let at_reference = |field, reading| Ok(tip_circle(field, reading, input.blades, land)? * expansion);
    let diameter = TipDiameters {
        lead: at_reference("lead", input.lead)?,
        trail: at_reference("trail", input.trail)?,
        centre: input.centre.map(|centre| at_reference("centre", centre)).transpose()?,
    };
    let smallest = match input.limit_basis {
        LimitBasis::Tape => readings,
        LimitBasis::Caliper => diameter,
    }
    .smallest();
    let cone = input.lead - input.trail;
    let wear_used = match (input.new_diameter, input.wear_limit) {
        (Some(new), Some(limit)) => Some((new - smallest) / (new - limit)),
        (Some(_) | None, Some(_) | None) => None,
    };
    Ok(Tape {
        cone,
        barrel: input.centre.map(|centre| centre - (input.lead + input.trail) / 2.0),
        zero_end: if cone >= Length::ZERO { End::Lead } else { End::Trail },
        target: cone.abs(),
        diameter,
        wear_used,
    })
}

impl TipDiameters {
    /// The smallest of them, which is where the reel is worn most.
    pub fn smallest(self) -> Length {
        let ends = self.lead.min(self.trail);
        self.centre.map_or(ends, |centre| ends.min(centre))
    }
}

fn check(input: &TapeInput) -> Result<TipDiameters, CalcError> {
    limits::BLADES.check("blades", input.blades)?;
    limits::REEL_DIAMETER.check("lead", input.lead)?;
    limits::REEL_DIAMETER.check("trail", input.trail)?;
    limits::REEL_DIAMETER.check_optional("centre", input.centre)?;
    limits::LAND.check_optional("land", input.land)?;
    limits::TEMPERATURE.check_optional("reel_temperature", input.reel_temperature)?;
    limits::TEMPERATURE.check_optional("tape_temperature", input.tape_temperature)?;
    limits::REEL_DIAMETER.check_optional("wear_limit", input.wear_limit)?;
    limits::REEL_DIAMETER.check_optional("new_diameter", input.new_diameter)?;
    if let (Some(new), Some(limit)) = (input.new_diameter, input.wear_limit)
        && limit + limits::LEAST_WEAR > new
    {
        return Err(CalcError::Contradicts {
            field: "wear_limit".into(),
            value: Amount::Length(limit),
            least: limits::REEL_DIAMETER.least(),
            most: Amount::Length(new - limits::LEAST_WEAR),
            because: "new_diameter",
        });
    }
    Ok(TipDiameters { lead: input.lead, trail: input.trail, centre: input.centre })
}

/// Factor from a diameter as the warm tape shows it on the warm reel to the one at 20 °C.
fn expansion(input: &TapeInput) -> Result<f64, CalcError> {
    let grown = |temperature: Temperature| 1.0 + STEEL_PER_KELVIN * (temperature - REFERENCE_TEMPERATURE).celsius();
    match (input.reel_temperature, input.tape_temperature) {
        (Some(reel), tape) => Ok(grown(tape.unwrap_or(reel)) / grown(reel)),
        (None, None) => Ok(1.0),
        (None, Some(_)) => {
            Err(limits::TEMPERATURE.required("reel_temperature", "a tape_temperature alone corrects nothing"))
        }
    }
}

/// The circle through N tips with lands of arc w that a tape reads as M: solves π·M = N·(w + D·sin(π/N − w/D)) for
/// D.
///
/// The right side grows with D, from N·w where the lands close the circle to the perimeter of the polygon, so one
/// root lies between.
fn tip_circle(field: &'static str, reading: Length, blades: u32, land: Length) -> Result<Length, CalcError> {
    let tips = f64::from(blades);
    let half_angle = PI / tips;
    let of_sharp_tips = reading * (half_angle / half_angle.sin());
    if land <= Length::ZERO {
        return Ok(of_sharp_tips);
    }
    let widest = reading * half_angle;
    if land >= widest {
        return Err(CalcError::Contradicts {
            field: "land".into(),
            value: Amount::Length(land),
            least: Amount::Length(Length::ZERO),
            most: Amount::Length(widest),
            because: "the number of blades on this diameter",
        });
    }
    let (reading_mm, land_mm) = (reading.mm(), land.mm());
    let excess = |d: f64| tips * (land_mm + d * (half_angle - land_mm / d).sin()) - PI * reading_mm;
    // Rounding must not put the root outside its bracket when the land is next to nothing.
    let (low, high) = (land_mm / half_angle, of_sharp_tips.mm() * (1.0 + 1e-9));
    root::bisect(low, high, SOLVED_TO_MM, excess).map(Length::from_mm).ok_or(CalcError::NotSolved {
        field: field.into(),
        value: Amount::Length(reading),
        steps: root::STEPS_MOST,
    })
}
