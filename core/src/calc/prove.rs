//! Prove: what the tape says after the grind, and whether it agrees with what Front left.

use super::error::CalcError;
use super::limits;
use super::uncertainty::{COVERAGE, Decision, at_most, combined, decide, of_difference};
use crate::bench::End;
use crate::quantity::Length;
use serde::{Deserialize, Serialize};

/// Diameters at both ends.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Ends {
    /// At the leading end.
    pub lead: Length,
    /// At the trailing end.
    pub trail: Length,
}

/// What Front left.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct TiltLeft {
    /// How much higher the other end stood than the zero end.
    pub tilt: Length,
    /// Its expanded uncertainty.
    pub tilt_u95: Length,
    /// The end on which the dial was zeroed.
    pub zero_end: End,
}

/// What was measured after the grind.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct ProveInput {
    /// Tape reading at the leading end.
    pub lead: Length,
    /// Tape reading at the trailing end.
    pub trail: Length,
    /// Tape reading in the middle.
    pub centre: Option<Length>,
    /// The readings before the grind.
    pub before: Option<Ends>,
    /// Smallest step read off the tape.
    pub tape_graduation: Length,
    /// Standard deviation of one reading, repeated; nothing when not given.
    pub tape_sd: Option<Length>,
    /// Cone that is accepted.
    pub tolerance: Length,
    /// What Front left, for the closure.
    pub tilt_left: Option<TiltLeft>,
    /// Runout of the reel, the whole travel of an indicator.
    pub runout: Option<Length>,
    /// Runout that is accepted.
    pub runout_limit: Option<Length>,
    /// Width of the land.
    pub land: Option<Length>,
    /// Width at which relief is due.
    pub land_limit: Option<Length>,
}

/// Whether the grind is done.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ProveVerdict {
    /// The cone is proven within its tolerance and the runout within its limit.
    Pass,
    /// One of them is beyond.
    Regrind,
    /// The cone is within as measured, but not proven.
    Repeat,
}

/// What the measurement says.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Prove {
    /// Leading less trailing reading.
    pub cone: Length,
    /// Its expanded uncertainty, about 95 %.
    pub cone_u95: Length,
    /// Whether the grind is done.
    pub verdict: ProveVerdict,
    /// Diameter removed at the end that was the larger one: there the grind began, so this is what the infeed is
    /// compared with.
    pub removed: Option<Length>,
    /// (zero − other diameter) + 2·tilt, nothing when all went as computed.
    pub misclosure: Option<Length>,
    /// Its expanded uncertainty.
    pub misclosure_u95: Option<Length>,
    /// Whether the land is wider than its limit.
    pub relief_due: Option<bool>,
}

/// Cone, verdict, removal and closure.
///
/// # Errors
/// [`CalcError`] naming the input that is out of range.
pub fn prove(input: &ProveInput) -> Result<Prove, CalcError> {
    check(input)?;
    let cone = input.lead - input.trail;
    let cone_u95 = of_difference(input.tape_graduation, input.tape_sd.unwrap_or(Length::ZERO)) * COVERAGE;
    let runs_out = input.runout.zip(input.runout_limit).is_some_and(|(runout, limit)| !at_most(runout, limit));
    let verdict = match decide(cone, cone_u95, input.tolerance) {
        Decision::Beyond => ProveVerdict::Regrind,
        Decision::Proven | Decision::Unproven if runs_out => ProveVerdict::Regrind,
        Decision::Proven => ProveVerdict::Pass,
        Decision::Unproven => ProveVerdict::Repeat,
    };
    let removed = input
        .before
        .map(|before| if before.lead >= before.trail { before.lead - input.lead } else { before.trail - input.trail });
    let misclosure = input.tilt_left.map(|left| {
        let zero_less_other = match left.zero_end {
            End::Lead => cone,
            End::Trail => -cone,
        };
        zero_less_other + left.tilt * 2.0
    });
    Ok(Prove {
        cone,
        cone_u95,
        verdict,
        removed,
        misclosure,
        misclosure_u95: input.tilt_left.map(|left| combined(&[cone_u95, left.tilt_u95 * 2.0])),
        relief_due: input.land.zip(input.land_limit).map(|(land, limit)| !at_most(land, limit)),
    })
}

fn check(input: &ProveInput) -> Result<(), CalcError> {
    limits::REEL_DIAMETER.check("lead", input.lead)?;
    limits::REEL_DIAMETER.check("trail", input.trail)?;
    limits::REEL_DIAMETER.check_optional("centre", input.centre)?;
    if let Some(before) = input.before {
        limits::REEL_DIAMETER.check("before.lead", before.lead)?;
        limits::REEL_DIAMETER.check("before.trail", before.trail)?;
    }
    limits::GRADUATION.check("tape_graduation", input.tape_graduation)?;
    limits::REPEATABILITY.check_optional("tape_sd", input.tape_sd)?;
    limits::TOLERANCE.check("tolerance", input.tolerance)?;
    if let Some(left) = input.tilt_left {
        limits::TILT.check("tilt_left.tilt", left.tilt)?;
        limits::TILT_U95.check("tilt_left.tilt_u95", left.tilt_u95)?;
    }
    limits::RUNOUT.check_optional("runout", input.runout)?;
    limits::RUNOUT.check_optional("runout_limit", input.runout_limit)?;
    limits::LAND.check_optional("land", input.land)?;
    limits::LAND_LIMIT.check_optional("land_limit", input.land_limit)?;
    Ok(())
}
