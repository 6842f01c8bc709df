//! Rear: the indicator along the top of the rear roller.

use super::adjuster::{AdjusterKind, Handwork, Reach};
use super::error::CalcError;
use super::limits;
use super::uncertainty::{COVERAGE, Decision, at_most, decide, of_difference};
use crate::bench::FrameKind;
use crate::quantity::{Angle, Length, Turns};
use serde::{Deserialize, Serialize};

/// What the indicator's readings are worth.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct RearUncertainty {
    /// Smallest step read off the indicator.
    pub indicator_graduation: Length,
    /// Standard deviation of one reading, repeated.
    pub indicator_sd: Length,
}

/// Two readings along the rear roller.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct RearInput {
    /// Indicator at end a, real height.
    pub reading_a: Length,
    /// Indicator at end b.
    pub reading_b: Length,
    /// Roller diameters at a and at b; without them the roller counts as cylindrical.
    pub roller: Option<(Length, Length)>,
    /// Distance between the two readings.
    pub reading_span: Length,
    /// Distance between the rear adjusters.
    pub adjuster_span: Length,
    /// What can be done about it.
    pub frame: FrameKind,
    /// Error over the reading span that is accepted.
    pub tolerance: Length,
    /// Side plates: up to here the unit is squared, beyond it shimmed.
    pub square_limit: Option<Length>,
    /// Welded frame: up to here the error is recorded, beyond it the frame replaced.
    pub frame_limit: Option<Length>,
    /// What the readings are worth; without it they count as exact.
    pub uncertainty: Option<RearUncertainty>,
    /// How the rear adjusters lift.
    pub adjuster_kind: Option<AdjusterKind>,
}

/// What to do about the rear roller.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum RearVerdict {
    /// Proven within the tolerance.
    Parallel,
    /// Move the adjuster at b.
    Adjust,
    /// Loosen the side plates, settle the unit on the rails, tighten, measure again.
    SquareSidePlates,
    /// Shim, or turn the eccentric.
    Shim,
    /// Cannot be adjusted; write it down.
    Record,
    /// Cannot be adjusted and is too much.
    ReplaceFrame,
}

/// What two readings say.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Rear {
    /// How much higher the roller's underside is at b than at a, over the reading span.
    pub error: Length,
    /// Its expanded uncertainty, about 95 %, without that of the roller's diameters.
    pub error_u95: Option<Length>,
    /// Height at the adjuster of end b; + raises the roller's end there.
    pub move_b: Length,
    /// What to do.
    pub verdict: RearVerdict,
    /// Turns of a screw; + raises the roller's end.
    pub turns: Option<Turns>,
    /// Degrees of an eccentric; + raises the roller's end.
    pub degrees: Option<Angle>,
    /// Given instead of the degrees when the eccentric cannot reach the height.
    pub beyond_reach: Option<Reach>,
}

/// Error of the rear roller, and what this frame allows to be done about it.
///
/// Between tolerance and proof there is no `repeat` here: what is not proven parallel is treated as out, since
/// another small move costs less than another reading.
///
/// # Errors
/// [`CalcError`] naming the input that is out of range, or missing for this frame.
pub fn rear(input: &RearInput) -> Result<Rear, CalcError> {
    check(input)?;
    let taper = input.roller.map_or(Length::ZERO, |(a, b)| b - a);
    let error = input.reading_b - input.reading_a - taper;
    let error_u95 =
        input.uncertainty.map(|worth| of_difference(worth.indicator_graduation, worth.indicator_sd) * COVERAGE);
    let move_b = -error * (input.adjuster_span / input.reading_span).value();
    let verdict = match decide(error, error_u95.unwrap_or(Length::ZERO), input.tolerance) {
        Decision::Proven => RearVerdict::Parallel,
        Decision::Unproven | Decision::Beyond => remedy(input, error.abs())?,
    };
    let hand = input.adjuster_kind.map_or_else(Handwork::default, |kind| kind.handwork(move_b));
    Ok(Rear {
        error,
        error_u95,
        move_b,
        verdict,
        turns: hand.turns,
        degrees: hand.degrees,
        beyond_reach: hand.beyond_reach,
    })
}

/// As [`rear`], but refuses when an eccentric cannot reach the height.
///
/// # Errors
/// As [`rear`], and [`CalcError::OutOfReach`].
pub fn rear_strict(input: &RearInput) -> Result<Rear, CalcError> {
    let rear = rear(input)?;
    Handwork { beyond_reach: rear.beyond_reach, ..Handwork::default() }.require("move_b", rear.move_b)?;
    Ok(rear)
}

fn remedy(input: &RearInput, error: Length) -> Result<RearVerdict, CalcError> {
    Ok(match input.frame {
        FrameKind::Adjustable | FrameKind::FloatingReel | FrameKind::FixedHead => RearVerdict::Adjust,
        FrameKind::SidePlates if at_most(error, square_limit(input)?) => RearVerdict::SquareSidePlates,
        FrameKind::SidePlates => RearVerdict::Shim,
        FrameKind::Welded if at_most(error, frame_limit(input)?) => RearVerdict::Record,
        FrameKind::Welded => RearVerdict::ReplaceFrame,
    })
}

fn square_limit(input: &RearInput) -> Result<Length, CalcError> {
    let because = "side plates are squared up to it and shimmed beyond";
    input.square_limit.ok_or_else(|| limits::FRAME_LIMIT.required("square_limit", because))
}

fn frame_limit(input: &RearInput) -> Result<Length, CalcError> {
    let because = "a welded frame is kept up to it and replaced beyond";
    input.frame_limit.ok_or_else(|| limits::FRAME_LIMIT.required("frame_limit", because))
}

fn check(input: &RearInput) -> Result<(), CalcError> {
    limits::DIAL.check("reading_a", input.reading_a)?;
    limits::DIAL.check("reading_b", input.reading_b)?;
    if let Some((a, b)) = input.roller {
        limits::ROLLER_DIAMETER.check("roller_a", a)?;
        limits::ROLLER_DIAMETER.check("roller_b", b)?;
    }
    limits::DISTANCE.check("reading_span", input.reading_span)?;
    limits::DISTANCE.check("adjuster_span", input.adjuster_span)?;
    limits::TOLERANCE.check("tolerance", input.tolerance)?;
    limits::FRAME_LIMIT.check_optional("square_limit", input.square_limit)?;
    limits::FRAME_LIMIT.check_optional("frame_limit", input.frame_limit)?;
    match input.frame {
        FrameKind::SidePlates => square_limit(input).map(drop)?,
        FrameKind::Welded => frame_limit(input).map(drop)?,
        FrameKind::Adjustable | FrameKind::FloatingReel | FrameKind::FixedHead => {}
    }
    if let Some(worth) = input.uncertainty {
        limits::GRADUATION.check("uncertainty.indicator_graduation", worth.indicator_graduation)?;
        limits::REPEATABILITY.check("uncertainty.indicator_sd", worth.indicator_sd)?;
    }
    input.adjuster_kind.map(AdjusterKind::check).transpose()?;
    Ok(())
}
