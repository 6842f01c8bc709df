//! `relief`: where the blade must stand over the wheel.

use super::Calculation;
use super::answer::Answer;
use super::fields::{Fields, Refusal};
use sparkout_core::calc::limits;
use sparkout_core::calc::relief::{ReliefInput, WHEEL_OFFSET, relief};

pub const RELIEF: Calculation = Calculation {
    name: "relief",
    about: "where the blade must stand over the wheel for a relief angle",
    example: r#"{"reel_diameter": 5, "wheel_diameter": 6, "relief_angle": 25, "wheel_offset": 0.1}"#,
    explain: "A blade tip at angle B past the bottom of the reel (radius R), ground by a wheel of radius r whose axis is \
        off the reel's by wheel_offset c towards the blade, gets the relief angle A = B + asin((R*sin B - c)/r), \
        solved for B; finger_offset is R*sin B (elementary geometry). Relief angles run 20 to 30 degrees (common \
        practice).",
    compute,
};

fn compute(fields: &mut Fields) -> Result<Answer, Refusal> {
    let input = ReliefInput {
        reel_diameter: fields.number("reel_diameter", &limits::REEL_DIAMETER)?,
        wheel_diameter: fields.number("wheel_diameter", &limits::WHEEL_DIAMETER)?,
        relief_angle: fields.number("relief_angle", &limits::RELIEF_ANGLE)?,
        wheel_offset: fields.number_if_given("wheel_offset", &WHEEL_OFFSET)?,
    };
    let relief = relief(&input).map_err(|error| fields.refuse(&error))?;
    Ok(Answer::new(fields.units())
        .number("blade_angle", relief.blade_angle.degrees())
        .length("finger_offset", relief.finger_offset))
}
