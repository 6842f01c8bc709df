//! `centre`: what a reel off the wheel's crown does to the dial.

use super::Calculation;
use super::answer::Answer;
use super::fields::{Fields, Refusal};
use super::front::DIALS;
use sparkout_core::calc::centre::{CentreInput, DIAL_ERROR, OFFSET, centre};
use sparkout_core::calc::limits;

pub const CENTRE: Calculation = Calculation {
    name: "centre",
    about: "what a reel off the wheel's crown does to the dial, and how far off it may be",
    example: r#"{"reel_diameter": 5, "wheel_diameter": 6, "offset_zero": 0, "offset_other": 0.050, "dial": "diameter", "allowed_error": 0.0005}"#,
    explain: "Off the crown line by s the wheel head must rise further: with S = (reel + wheel diameter)/2 and k = 2 for a \
        dial in diameter, 1 in radius, the dial reads high by e = k*(S - sqrt(S^2 - s^2)). Different offsets at the \
        ends fake a tilt of (e_other - e_zero)/k, which read as a cone is (2/k)*(e_zero - e_other). allowed_offset \
        is sqrt(r*(2*S - r)) with r = allowed_error/k (elementary geometry).",
    compute,
};

fn compute(fields: &mut Fields) -> Result<Answer, Refusal> {
    let input = CentreInput {
        reel_diameter: fields.number("reel_diameter", &limits::REEL_DIAMETER)?,
        wheel_diameter: fields.number("wheel_diameter", &limits::WHEEL_DIAMETER)?,
        offset_zero: fields.number("offset_zero", &OFFSET)?,
        offset_other: fields.number("offset_other", &OFFSET)?,
        dial: fields.word("dial", &DIALS)?,
        allowed_error: fields.number_if_given("allowed_error", &DIAL_ERROR)?,
    };
    let centre = centre(&input).map_err(|error| fields.refuse(&error))?;
    Ok(Answer::new(fields.units())
        .length("dial_error_zero", centre.dial_error_zero)
        .length("dial_error_other", centre.dial_error_other)
        .length("false_tilt", centre.false_tilt)
        .length("false_cone", centre.false_cone)
        .optional_length("allowed_offset", centre.allowed_offset))
}
