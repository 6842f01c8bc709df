//! `front`: tilt, verdict, moves and what the first end will read afterwards.

use super::Calculation;
use super::answer::Answer;
use super::fields::{Fields, Refusal};
use sparkout_core::calc::adjuster::AdjusterKind;
use sparkout_core::calc::front::{Front, FrontInput, FrontMove, FrontUncertainty, FrontVerdict, Pair, front_strict};
use sparkout_core::calc::limits;
use sparkout_core::quantity::{Angle, Ratio, Turns};

/// The words of `dial`.
pub const DIALS: [&str; 2] = ["diameter", "radius"];

pub const FRONT: Calculation = Calculation {
    name: "front",
    about: "tilt of the reel from two touches, the adjuster to turn, and what the first end reads afterwards",
    example: r#"{"zero_diameter": 5.020, "other_diameter": 5.000, "reading": 0.026, "dial": "diameter", "touch": {"zero_y": 1, "other_y": 21}, "adjuster": {"zero_y": -1.5, "other_y": 23.5}, "reel_x": 4.5, "wheelbase": 11, "jack_y": 11, "tolerance": 0.002, "uncertainty": {"dial_graduation": 0.001, "tape_graduation": 0.001, "touch_sd": 0.0003, "touches_zero": 1, "touches_other": 1}, "adjuster_kind": {"screw": {"pitch": 0.0416666666666667}}}"#,
    explain: "With k = 2 for a dial in diameter and 1 in radius: target = (k/2)*(zero_diameter - other_diameter), scaled \
        to the touch span when taped elsewhere; tilt = (reading - target)/k, + when the other end sits high. The \
        unit stands on two adjusters at (0, y_A), (0, y_B) and the jack at (L, y_P): raising them by a and b moves \
        (x, y) by z = a + g*(y - y_A) - (x/L)*(a + g*(y_P - y_A)), g = (b - a)/(y_B - y_A); the tilt is cured by g = \
        -tilt/(y_O - y_Z) and the dial at the zero end then reads k*z (rigid body, derived). u(tilt) after JCGM \
        100:2008, 4.3.7 and 5.1.2: a graduation q is worth q/(2*sqrt(3)), touches average; U = 2u. Verdict: guarded \
        acceptance, JCGM 106:2012, 8.3.2. Screw: turns = height/pitch; eccentric: lift = throw*(1 - cos angle), \
        refused when the height is beyond its reach.",
    compute,
};

fn compute(fields: &mut Fields) -> Result<Answer, Refusal> {
    let input = FrontInput {
        zero_diameter: fields.number("zero_diameter", &limits::REEL_DIAMETER)?,
        other_diameter: fields.number("other_diameter", &limits::REEL_DIAMETER)?,
        reading: fields.number("reading", &limits::DIAL)?,
        dial: fields.word("dial", &DIALS)?,
        touch: fields.object("touch", pair)?,
        tape_y: fields.object_if_given("tape_y", pair)?,
        adjuster: fields.object("adjuster", pair)?,
        reel_x: fields.number("reel_x", &limits::PLACE)?,
        wheelbase: fields.number("wheelbase", &limits::DISTANCE)?,
        jack_y: fields.number("jack_y", &limits::PLACE)?,
        tolerance: fields.number("tolerance", &limits::TOLERANCE)?,
        uncertainty: fields.object_if_given("uncertainty", uncertainty)?,
        adjuster_kind: adjuster_kind(fields)?,
    };
    let front = front_strict(&input).map_err(|error| fields.refuse(&error))?;
    Ok(write(Answer::new(fields.units()), &front))
}

fn pair(fields: &mut Fields) -> Result<Pair, Refusal> {
    Ok(Pair { zero_y: fields.number("zero_y", &limits::PLACE)?, other_y: fields.number("other_y", &limits::PLACE)? })
}

fn uncertainty(fields: &mut Fields) -> Result<FrontUncertainty, Refusal> {
    Ok(FrontUncertainty {
        dial_graduation: fields.number("dial_graduation", &limits::GRADUATION)?,
        tape_graduation: fields.number("tape_graduation", &limits::GRADUATION)?,
        touch_sd: fields.number("touch_sd", &limits::REPEATABILITY)?,
        touches_zero: fields.number("touches_zero", &limits::TOUCHES)?,
        touches_other: fields.number("touches_other", &limits::TOUCHES)?,
    })
}

/// The field `adjuster_kind`, which several calculations take: exactly one kind in it.
pub fn adjuster_kind(fields: &mut Fields) -> Result<Option<AdjusterKind>, Refusal> {
    fields.object_if_given("adjuster_kind", |kinds| {
        let screw = kinds.object_if_given("screw", |screw| {
            Ok(AdjusterKind::Screw { pitch: screw.number("pitch", &limits::PITCH)? })
        })?;
        let eccentric = kinds.object_if_given("eccentric", |eccentric| {
            let throw = eccentric.number("throw", &limits::THROW)?;
            Ok(AdjusterKind::Eccentric { throw, angle: eccentric.number("angle", &limits::ECCENTRIC_ANGLE)? })
        })?;
        match (screw, eccentric) {
            (Some(kind), None) | (None, Some(kind)) => Ok(kind),
            (Some(_), Some(_)) => {
                Err(Refusal::new("adjuster_kind holds both; it must hold screw or eccentric".to_owned()))
            }
            (None, None) => {
                Err(Refusal::new("adjuster_kind holds neither; it must hold screw or eccentric".to_owned()))
            }
        }
    })
}

fn write(answer: Answer, front: &Front) -> Answer {
    let single = |single: FrontMove| {
        move |inner: Answer| {
            inner
                .length("height", single.height)
                .length("rezero", single.rezero)
                .optional("turns", single.turns.map(Turns::turns))
                .optional("flats", single.flats.map(Ratio::value))
                .optional("degrees", single.degrees.map(Angle::degrees))
        }
    };
    let answer = answer
        .length("target", front.target)
        .length("tilt", front.tilt)
        .value("sits", &front.sits)
        .optional_length("tilt_u95", front.tilt_u95)
        .value("verdict", &front.verdict)
        .object("move_other", single(front.move_other))
        .object("move_zero", single(front.move_zero))
        .object("move_both", |both| both.length("zero", front.move_both.zero).length("other", front.move_both.other));
    match front.verdict {
        FrontVerdict::Repeat => answer.value("touches_needed", &front.touches_needed),
        FrontVerdict::Parallel | FrontVerdict::Adjust => answer,
    }
}
