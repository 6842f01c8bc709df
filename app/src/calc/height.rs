//! `height`: both ends of the height of cut in one go.

use super::Calculation;
use super::answer::Answer;
use super::fields::{Fields, Refusal};
use super::front::adjuster_kind;
use sparkout_core::calc::clip::HEIGHT_OF_CUT;
use sparkout_core::calc::error::Amount;
use sparkout_core::calc::height::{Adjusters, Gauge, HeightInput, height_strict};
use sparkout_core::calc::limits::{self, Allowed};
use sparkout_core::quantity::{Angle, Ratio, Turns};

/// A gauge is read at two stations.
const STATIONS: Allowed<u32> = Allowed::new(2, 2, Amount::Entries);

pub const HEIGHT: Calculation = Calculation {
    name: "height",
    about: "moves of both front adjusters that put the height of cut right at both ends",
    example: r#"{"wanted": 0.125, "gauge": [{"y": 2, "height": 0.118}, {"y": 20, "height": 0.131}], "edge_x": 5.2, "wheelbase": 11, "adjuster": {"a_y": -1.5, "b_y": 23.5}, "adjuster_kind": {"screw": {"pitch": 0.05}}}"#,
    explain: "The unit stands on a plate with its rear roller a fixed line: raising the front adjusters by a and b lifts \
        the edge at (x_e, y) by (1 - x_e/L)*(a + (b - a)*(y - y_A)/(y_B - y_A)). Both ends are put right by e(y) = \
        (wanted - measured(y))/(1 - x_e/L), taken linearly to y_A and y_B (rigid body, derived). Screw: turns = \
        height/pitch; eccentric: lift = throw*(1 - cos angle), refused when the height is beyond its reach.",
    compute,
};

fn compute(fields: &mut Fields) -> Result<Answer, Refusal> {
    let wanted = fields.number("wanted", &HEIGHT_OF_CUT)?;
    let gauge = fields.list("gauge", &STATIONS, gauge)?;
    let input = HeightInput {
        wanted,
        gauge: gauge.try_into().map_err(|_| Refusal::new("gauge must have two entries".to_owned()))?,
        edge_x: fields.number("edge_x", &limits::PLACE)?,
        wheelbase: fields.number("wheelbase", &limits::DISTANCE)?,
        adjuster: fields.object("adjuster", adjusters)?,
        adjuster_kind: adjuster_kind(fields)?,
    };
    let height = height_strict(&input).map_err(|error| fields.refuse(&error))?;
    Ok(Answer::new(fields.units())
        .length("move_a", height.move_a)
        .length("move_b", height.move_b)
        .optional("turns_a", height.hand_a.turns.map(Turns::turns))
        .optional("turns_b", height.hand_b.turns.map(Turns::turns))
        .optional("flats_a", height.hand_a.flats.map(Ratio::value))
        .optional("flats_b", height.hand_b.flats.map(Ratio::value))
        .optional("degrees_a", height.hand_a.degrees.map(Angle::degrees))
        .optional("degrees_b", height.hand_b.degrees.map(Angle::degrees)))
}

fn gauge(fields: &mut Fields) -> Result<Gauge, Refusal> {
    Ok(Gauge { y: fields.number("y", &limits::PLACE)?, height: fields.number("height", &HEIGHT_OF_CUT)? })
}

fn adjusters(fields: &mut Fields) -> Result<Adjusters, Refusal> {
    Ok(Adjusters { a_y: fields.number("a_y", &limits::PLACE)?, b_y: fields.number("b_y", &limits::PLACE)? })
}
