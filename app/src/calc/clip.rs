//! `clip`: turf travelled for each blade.

use super::Calculation;
use super::answer::Answer;
use super::fields::{Fields, Refusal};
use sparkout_core::calc::clip::{CUTTER_DIAMETER, CUTTERS, ClipInput, GROUND_SPEED, HEIGHT_OF_CUT, clip};
use sparkout_core::calc::limits;

pub const CLIP: Calculation = Calculation {
    name: "clip",
    about: "length of turf travelled for each blade, against the height of cut",
    example: r#"{"ground_speed": 3.5, "blades": 11, "reel_rpm": 2000, "height_of_cut": 0.125, "reel_diameter": 5}"#,
    explain: "clip f = ground speed/(blades*reel revolutions); ratio = f/height of cut, 0.8 to 1.2 is wanted (common \
        practice); rpm_for_match is the reel speed at which f is the height of cut. Scallop left between two cuts of \
        the tip circle of radius R: (f/2)^2/(R + sqrt(R^2 - (f/2)^2)) (elementary geometry, as for milling cutters); \
        a geometric index, because the blade's path is a trochoid and the bedknife sets the line of cut.",
    compute,
};

fn compute(fields: &mut Fields) -> Result<Answer, Refusal> {
    let input = ClipInput {
        ground_speed: fields.number("ground_speed", &GROUND_SPEED)?,
        blades: fields.number("blades", &CUTTERS)?,
        reel_speed: fields.number("reel_rpm", &limits::SPINDLE)?,
        height_of_cut: fields.number("height_of_cut", &HEIGHT_OF_CUT)?,
        reel_diameter: fields.number("reel_diameter", &CUTTER_DIAMETER)?,
    };
    let clip = clip(&input).map_err(|error| fields.refuse(&error))?;
    Ok(Answer::new(fields.units())
        .length("clip", clip.clip)
        .number("ratio", clip.ratio.value())
        .length("scallop", clip.scallop)
        .number("rpm_for_match", clip.speed_for_match.rpm()))
}
