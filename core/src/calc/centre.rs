//! Centre: what a reel that is off the wheel's crown does to the dial.

use super::error::{Amount, CalcError};
use super::limits::{self, Allowed, lengths};
use crate::bench::DialKind;
use crate::quantity::Length;
use serde::{Deserialize, Serialize};

/// Distance of the reel's axis from the wheel's crown line, to either side.
pub const OFFSET: Allowed<Length> = lengths(-700.0, 700.0);
/// Error of the dial that is accepted.
pub const DIAL_ERROR: Allowed<Length> = lengths(0.0, 50.8);

/// A reel off the crown.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct CentreInput {
    /// Diameter of the reel.
    pub reel_diameter: Length,
    /// Diameter of the wheel.
    pub wheel_diameter: Length,
    /// Axis off the crown line at the end where the dial was zeroed.
    pub offset_zero: Length,
    /// The same at the other end.
    pub offset_other: Length,
    /// What the dial is graduated in.
    pub dial: DialKind,
    /// Error of the dial that is accepted.
    pub allowed_error: Option<Length>,
}

/// What it does.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Centre {
    /// The dial reads so much too high at the zero end.
    pub dial_error_zero: Length,
    /// The same at the other end.
    pub dial_error_other: Length,
    /// Tilt that is not there.
    pub false_tilt: Length,
    /// Cone that it looks like to somebody who reads the cone off the dial.
    pub false_cone: Length,
    /// Offset at which the dial is off by the accepted error.
    pub allowed_offset: Option<Length>,
}

/// Errors of the dial from two offsets.
///
/// Axis and wheel axis touch at distance S; off by s the head must rise further by S − √(S² − s²), written here as
/// s²/(S + √(S² − s²)).
///
/// # Errors
/// [`CalcError`] naming the input that is out of range, or an offset at which reel and wheel do not meet.
pub fn centre(input: &CentreInput) -> Result<Centre, CalcError> {
    limits::REEL_DIAMETER.check("reel_diameter", input.reel_diameter)?;
    limits::WHEEL_DIAMETER.check("wheel_diameter", input.wheel_diameter)?;
    DIAL_ERROR.check_optional("allowed_error", input.allowed_error)?;
    let apart = (input.reel_diameter + input.wheel_diameter) / 2.0;
    let k = input.dial.factor();
    let zero = dial_error("offset_zero", input.offset_zero, apart, k)?;
    let other = dial_error("offset_other", input.offset_other, apart, k)?;
    Ok(Centre {
        dial_error_zero: zero,
        dial_error_other: other,
        false_tilt: (other - zero) / k,
        false_cone: (zero - other) * (2.0 / k),
        allowed_offset: input.allowed_error.map(|error| allowed_offset(error / k, apart)),
    })
}

fn dial_error(field: &'static str, offset: Length, apart: Length, k: f64) -> Result<Length, CalcError> {
    OFFSET.check(field, offset)?;
    if offset.abs() > apart {
        return Err(CalcError::Contradicts {
            field: field.into(),
            value: Amount::Length(offset),
            least: Amount::Length(-apart),
            most: Amount::Length(apart),
            because: "the reach of reel and wheel",
        });
    }
    let (s, apart) = (offset.mm(), apart.mm());
    let height = ((apart - s) * (apart + s)).sqrt();
    Ok(Length::from_mm(k * s * s / (apart + height)))
}

/// s = √(e·(2S − e)); a rise of more than S is never reached, and then any offset is allowed that reel and wheel
/// have.
fn allowed_offset(rise: Length, apart: Length) -> Length {
    let rise = rise.min(apart);
    Length::from_mm((rise.mm() * (apart * 2.0 - rise).mm()).sqrt())
}
