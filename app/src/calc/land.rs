//! `land`: the land after a removal.

use super::Calculation;
use super::answer::Answer;
use super::fields::{Fields, Refusal};
use sparkout_core::calc::land::{LandInput, land};
use sparkout_core::calc::limits;
use sparkout_core::quantity::Ratio;

pub const LAND: Calculation = Calculation {
    name: "land",
    about: "width of the blade's land after a removal",
    example: r#"{"land": 0.040, "diameter": 5.020, "removed": 0.022, "relief_angle": 25, "land_limit": 0.080}"#,
    explain: "The relief face is straight and starts at the land's end at relief_angle A below the tangent; the land is an \
        arc and the front of the blade radial. The smaller circle of radius r meets the face at s = R*sin A - \
        sqrt((R*sin A)^2 - (R^2 - r^2)), which lies atan2(s*cos A, R - s*sin A) behind the old end; land_after = \
        r*(land/R + that angle), near enough land + (removed/2)/tan A (elementary geometry). removals_to_limit is \
        the diameter to be removed until land_after is land_limit, over removed; not rounded.",
    compute,
};

fn compute(fields: &mut Fields) -> Result<Answer, Refusal> {
    let input = LandInput {
        land: fields.number("land", &limits::LAND)?,
        diameter: fields.number("diameter", &limits::REEL_DIAMETER)?,
        removed: fields.number("removed", &limits::GRIND)?,
        relief_angle: fields.number("relief_angle", &limits::RELIEF_ANGLE)?,
        land_limit: fields.number_if_given("land_limit", &limits::LAND_LIMIT)?,
    };
    let land = land(&input).map_err(|error| fields.refuse(&error))?;
    Ok(Answer::new(fields.units())
        .length("land_after", land.land_after)
        .length("growth", land.growth)
        .optional("removals_to_limit", land.removals_to_limit.map(Ratio::value)))
}
