//! `prove`: cone after the grind, verdict, removal and closure with Front.

use super::Calculation;
use super::answer::Answer;
use super::fields::{Fields, Refusal};
use sparkout_core::calc::limits;
use sparkout_core::calc::prove::{Ends, ProveInput, TiltLeft, prove};

/// The words of `zero_end`.
const ENDS: [&str; 2] = ["lead", "trail"];

pub const PROVE: Calculation = Calculation {
    name: "prove",
    about: "cone after the grind with its uncertainty, pass or regrind, and closure with Front",
    example: r#"{"lead": 4.998, "trail": 4.998, "before": {"lead": 5.020, "trail": 5.000}, "tape_graduation": 0.001, "tape_sd": 0.0002, "tolerance": 0.002, "tilt_left": {"tilt": 0.0004, "tilt_u95": 0.0007, "zero_end": "lead"}, "land": 0.064, "land_limit": 0.070}"#,
    explain: "cone = lead - trail. Each reading carries its graduation q as q/(2*sqrt(3)) and its repeatability s: \
        cone_u95 = 2*sqrt(2*(s^2 + q^2/12)) (JCGM 100:2008, 4.3.7 and 5.1.2). Guarded acceptance (JCGM 106:2012, \
        8.3.2): |cone| + U within the tolerance passes, |cone| beyond it is reground, between them the measurement \
        is repeated; a runout beyond its limit is reground. removed is before less after at the end that was larger. \
        A tilt left in is ground in, so zero - other = -2*tilt: misclosure = (zero - other) + 2*tilt, misclosure_u95 \
        = sqrt(cone_u95^2 + (2*tilt_u95)^2).",
    compute,
};

fn compute(fields: &mut Fields) -> Result<Answer, Refusal> {
    let input = ProveInput {
        lead: fields.number("lead", &limits::REEL_DIAMETER)?,
        trail: fields.number("trail", &limits::REEL_DIAMETER)?,
        centre: fields.number_if_given("centre", &limits::REEL_DIAMETER)?,
        before: fields.object_if_given("before", before)?,
        tape_graduation: fields.number("tape_graduation", &limits::GRADUATION)?,
        tape_sd: fields.number_if_given("tape_sd", &limits::REPEATABILITY)?,
        tolerance: fields.number("tolerance", &limits::TOLERANCE)?,
        tilt_left: fields.object_if_given("tilt_left", tilt_left)?,
        runout: fields.number_if_given("runout", &limits::RUNOUT)?,
        runout_limit: fields.number_if_given("runout_limit", &limits::RUNOUT)?,
        land: fields.number_if_given("land", &limits::LAND)?,
        land_limit: fields.number_if_given("land_limit", &limits::LAND_LIMIT)?,
    };
    let prove = prove(&input).map_err(|error| fields.refuse(&error))?;
    Ok(Answer::new(fields.units())
        .length("cone", prove.cone)
        .length("cone_u95", prove.cone_u95)
        .value("verdict", &prove.verdict)
        .optional_length("removed", prove.removed)
        .optional_length("misclosure", prove.misclosure)
        .optional_length("misclosure_u95", prove.misclosure_u95)
        .value_if("relief_due", prove.relief_due))
}

fn before(fields: &mut Fields) -> Result<Ends, Refusal> {
    Ok(Ends {
        lead: fields.number("lead", &limits::REEL_DIAMETER)?,
        trail: fields.number("trail", &limits::REEL_DIAMETER)?,
    })
}

fn tilt_left(fields: &mut Fields) -> Result<TiltLeft, Refusal> {
    Ok(TiltLeft {
        tilt: fields.number("tilt", &limits::TILT)?,
        tilt_u95: fields.number("tilt_u95", &limits::TILT_U95)?,
        zero_end: fields.word("zero_end", &ENDS)?,
    })
}
