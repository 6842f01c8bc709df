//! `knife`: the bedknife's edge, now and after wear.

use super::Calculation;
use super::answer::Answer;
use super::fields::{Fields, Refusal};
use sparkout_core::calc::clip::HEIGHT_OF_CUT;
use sparkout_core::calc::knife::{AXIS_HEIGHT, GAP, KnifeInput, Pivot, knife};
use sparkout_core::calc::limits;

pub const KNIFE: Calculation = Calculation {
    name: "knife",
    about: "behind-centre distance and contact angle of the bedknife, now and when the reel has worn",
    example: r#"{"reel_diameter": 5, "axis_height": 2.55, "height_of_cut": 0.125, "gap": 0.001, "pivot": {"x": 2.0, "z": 2.0, "reel_x": 0}, "worn_diameter": 4.8}"#,
    explain: "Side view, x to the rear, z up from the ground line, reel axis at height H, edge at height of cut h: \
        behind_centre b = sqrt((R + gap)^2 - (H - h)^2); contact_angle = atan2(b, H - h). A pivoting bed bar carries \
        the edge on a circle about its pivot; after wear the edge is where that circle meets the circle of radius \
        R_worn + gap about the reel's axis, nearest the old edge (elementary geometry). roller_move = worn height of \
        cut - height of cut: the frame comes down by so much.",
    compute,
};

fn compute(fields: &mut Fields) -> Result<Answer, Refusal> {
    let input = KnifeInput {
        reel_diameter: fields.number("reel_diameter", &limits::REEL_DIAMETER)?,
        axis_height: fields.number("axis_height", &AXIS_HEIGHT)?,
        height_of_cut: fields.number("height_of_cut", &HEIGHT_OF_CUT)?,
        gap: fields.number_if_given("gap", &GAP)?,
        pivot: fields.object_if_given("pivot", pivot)?,
        worn_diameter: fields.number_if_given("worn_diameter", &limits::REEL_DIAMETER)?,
    };
    let knife = knife(&input).map_err(|error| fields.refuse(&error))?;
    let answer = Answer::new(fields.units())
        .length("behind_centre", knife.behind_centre)
        .number("contact_angle", knife.contact_angle.degrees());
    Ok(match knife.worn {
        Some(worn) => answer
            .length("worn_height_of_cut", worn.height_of_cut)
            .length("worn_behind_centre", worn.behind_centre)
            .length("roller_move", worn.roller_move),
        None => answer,
    })
}

fn pivot(fields: &mut Fields) -> Result<Pivot, Refusal> {
    Ok(Pivot {
        x: fields.number("x", &limits::PLACE)?,
        z: fields.number("z", &limits::PLACE)?,
        reel_x: fields.number("reel_x", &limits::PLACE)?,
    })
}
