//! `wheel`: surface speed and the spindle against the wheel's rating.

use super::Calculation;
use super::answer::Answer;
use super::fields::{Fields, Refusal};
use sparkout_core::calc::limits;
use sparkout_core::calc::wheel::{WheelInput, wheel};
use sparkout_core::quantity::{Length, SpindleSpeed};

pub const WHEEL: Calculation = Calculation {
    name: "wheel",
    about: "surface speed of the wheel, and the spindle against the wheel's rating",
    example: r#"{"diameter": 6, "spindle_rpm": 3450, "rated_rpm": 4140, "reel_diameter": 5, "reel_rpm": 300}"#,
    explain: "surface_speed = pi*diameter*spindle_rpm, in ft/min or m/s (1 ft/min = 0.00508 m/s, exact). margin = 1 - \
        spindle_rpm/rated_rpm. overspeed when the spindle turns faster than the speed marked on the wheel; equal is \
        within (29 CFR 1910.215(d)(1)). An aid only: the grinder's and the wheel maker's instructions come first.",
    compute,
};

fn compute(fields: &mut Fields) -> Result<Answer, Refusal> {
    let input = WheelInput {
        diameter: fields.number("diameter", &limits::WHEEL_DIAMETER)?,
        spindle_speed: fields.number("spindle_rpm", &limits::SPINDLE)?,
        rated_speed: fields.number("rated_rpm", &limits::SPINDLE)?,
        reel: reel(fields)?,
    };
    let wheel = wheel(&input).map_err(|error| fields.refuse(&error))?;
    let units = fields.units();
    Ok(Answer::new(units)
        .number("surface_speed", units.surface_speed(wheel.surface_speed))
        .optional("reel_surface_speed", wheel.reel_surface_speed.map(|speed| units.surface_speed(speed)))
        .number("margin", wheel.margin.value())
        .value("verdict", &wheel.verdict))
}

fn reel(fields: &mut Fields) -> Result<Option<(Length, SpindleSpeed)>, Refusal> {
    let diameter = fields.number_if_given("reel_diameter", &limits::REEL_DIAMETER)?;
    let speed = fields.number_if_given("reel_rpm", &limits::SPINDLE)?;
    match (diameter, speed) {
        (Some(diameter), Some(speed)) => Ok(Some((diameter, speed))),
        (None, None) => Ok(None),
        (Some(_), None) => Err(fields.refuse(&limits::SPINDLE.required("reel_rpm", "reel_diameter is given"))),
        (None, Some(_)) => Err(fields.refuse(&limits::REEL_DIAMETER.required("reel_diameter", "reel_rpm is given"))),
    }
}
