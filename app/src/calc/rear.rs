//! `rear`: error of the rear roller and what its frame allows.

use super::Calculation;
use super::answer::Answer;
use super::fields::{Fields, Refusal};
use super::front::adjuster_kind;
use sparkout_core::calc::limits;
use sparkout_core::calc::rear::{RearInput, RearUncertainty, rear_strict};
use sparkout_core::quantity::{Angle, Length, Turns};

/// The words of `frame`.
const FRAMES: [&str; 5] = ["adjustable", "side_plates", "welded", "floating_reel", "fixed_head"];

pub const REAR: Calculation = Calculation {
    name: "rear",
    about: "error of the rear roller from an indicator, the move, or what else its frame needs",
    example: r#"{"reading_a": 0.000, "reading_b": 0.004, "reading_span": 20, "adjuster_span": 25, "frame": "adjustable", "tolerance": 0.002, "uncertainty": {"indicator_graduation": 0.0005, "indicator_sd": 0.0002}, "adjuster_kind": {"screw": {"pitch": 0.05}}}"#,
    explain: "error = (reading_b - reading_a) - (roller_b - roller_a): the indicator rides on top and the roller stands on \
        its underside. move_b = -error * adjuster_span/reading_span. Each reading carries its graduation q as \
        q/(2*sqrt(3)) and its repeatability s: U = 2*sqrt(2*(s^2 + q^2/12)) (JCGM 100:2008, 4.3.7 and 5.1.2). \
        Parallel when |error| + U is within the tolerance (JCGM 106:2012, 8.3.2); otherwise by frame: adjustable, \
        floating_reel and fixed_head adjust; side_plates are squared up to square_limit and shimmed beyond; welded \
        is recorded up to frame_limit and replaced beyond (common practice).",
    compute,
};

fn compute(fields: &mut Fields) -> Result<Answer, Refusal> {
    let input = RearInput {
        reading_a: fields.number("reading_a", &limits::DIAL)?,
        reading_b: fields.number("reading_b", &limits::DIAL)?,
        roller: roller(fields)?,
        reading_span: fields.number("reading_span", &limits::DISTANCE)?,
        adjuster_span: fields.number("adjuster_span", &limits::DISTANCE)?,
        frame: fields.word("frame", &FRAMES)?,
        tolerance: fields.number("tolerance", &limits::TOLERANCE)?,
        square_limit: fields.number_if_given("square_limit", &limits::FRAME_LIMIT)?,
        frame_limit: fields.number_if_given("frame_limit", &limits::FRAME_LIMIT)?,
        uncertainty: fields.object_if_given("uncertainty", uncertainty)?,
        adjuster_kind: adjuster_kind(fields)?,
    };
    let rear = rear_strict(&input).map_err(|error| fields.refuse(&error))?;
    Ok(Answer::new(fields.units())
        .length("error", rear.error)
        .optional_length("error_u95", rear.error_u95)
        .length("move_b", rear.move_b)
        .value("verdict", &rear.verdict)
        .optional("turns", rear.turns.map(Turns::turns))
        .optional("degrees", rear.degrees.map(Angle::degrees)))
}

fn roller(fields: &mut Fields) -> Result<Option<(Length, Length)>, Refusal> {
    let allowed = &limits::ROLLER_DIAMETER;
    let a = fields.number_if_given("roller_a", allowed)?;
    let b = fields.number_if_given("roller_b", allowed)?;
    match (a, b) {
        (Some(a), Some(b)) => Ok(Some((a, b))),
        (None, None) => Ok(None),
        (Some(_), None) => Err(fields.refuse(&allowed.required("roller_b", "roller_a is given"))),
        (None, Some(_)) => Err(fields.refuse(&allowed.required("roller_a", "roller_b is given"))),
    }
}

fn uncertainty(fields: &mut Fields) -> Result<RearUncertainty, Refusal> {
    Ok(RearUncertainty {
        indicator_graduation: fields.number("indicator_graduation", &limits::GRADUATION)?,
        indicator_sd: fields.number("indicator_sd", &limits::REPEATABILITY)?,
    })
}
