//! Front: from two touches of the wheel to the moves that level the reel, and what the first end will read
//! afterwards.
//!
//! Derivation: the dial reads k·h; a blade of diameter D on an axis at height z touches at h = z − D/2, so two
//! touches give the tilt of the axis once the cone is known. With the rear roller on the jack the unit is a rigid
//! body on three points.

use super::adjuster::{AdjusterKind, Handwork, Reach};
use super::error::{Amount, CalcError};
use super::limits;
use super::uncertainty::{COVERAGE, Decision, combined, decide, of_difference, of_graduation};
use crate::bench::DialKind;
use crate::quantity::{Angle, Length, Ratio, Turns};
use serde::{Deserialize, Serialize};

/// Most touches at each end that are asked for; beyond that a coarser remedy is due.
pub const TOUCHES_MOST: u32 = 9;

/// Below this the axis counts as level: a micrometre.
const LEVEL: Length = Length::from_mm(0.001);

/// Two places along the reel, y of each.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Pair {
    /// On the side of the end where the dial was zeroed.
    pub zero_y: Length,
    /// On the other side.
    pub other_y: Length,
}

/// What the readings are worth.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct FrontUncertainty {
    /// Smallest step read off the dial, in dial units.
    pub dial_graduation: Length,
    /// Smallest step read off the tape.
    pub tape_graduation: Length,
    /// Standard deviation of one touch, in dial units.
    pub touch_sd: Length,
    /// Touches averaged at the zero end.
    pub touches_zero: u32,
    /// Touches averaged at the other end.
    pub touches_other: u32,
}

/// Two touches on a unit whose geometry is known. All x from the front adjusters, + to the rear; all y from one
/// origin.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct FrontInput {
    /// Tape reading at the end where the dial was zeroed.
    pub zero_diameter: Length,
    /// Tape reading at the other end.
    pub other_diameter: Length,
    /// What the dial reads at the other end's touch.
    pub reading: Length,
    /// What the dial is graduated in.
    pub dial: DialKind,
    /// Where the blade was touched.
    pub touch: Pair,
    /// Where the tape was laid; at the touches when not given.
    pub tape_y: Option<Pair>,
    /// Where the front adjusters stand.
    pub adjuster: Pair,
    /// The reel's axis behind the front adjusters.
    pub reel_x: Length,
    /// The jack behind the front adjusters.
    pub wheelbase: Length,
    /// The jack along the reel.
    pub jack_y: Length,
    /// Tilt between the touches that is accepted.
    pub tolerance: Length,
    /// What the readings are worth; without it they count as exact.
    pub uncertainty: Option<FrontUncertainty>,
    /// How the front adjusters lift.
    pub adjuster_kind: Option<AdjusterKind>,
}

/// How the other end sits against the zero end.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Sits {
    /// The other end sits high.
    High,
    /// The other end sits low.
    Low,
    /// Neither, to a micrometre.
    Level,
}

/// What to do about the tilt.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum FrontVerdict {
    /// Proven within the tolerance.
    Parallel,
    /// Beyond the tolerance.
    Adjust,
    /// Within it as measured, but not proven.
    Repeat,
}

/// Curing the tilt with one adjuster alone.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct FrontMove {
    /// Height at the adjuster; + raises the frame there.
    pub height: Length,
    /// What the dial will read at the zero end afterwards.
    pub rezero: Length,
    /// Turns of a screw; + raises the frame.
    pub turns: Option<Turns>,
    /// The same in flats of its hexagon.
    pub flats: Option<Ratio>,
    /// Degrees of an eccentric; + raises the frame.
    pub degrees: Option<Angle>,
    /// Given instead of the degrees when the eccentric cannot reach the height.
    pub beyond_reach: Option<Reach>,
}

/// Curing the tilt with both adjusters so that the zero end stays where it is.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct MoveBoth {
    /// Height at the zero end's adjuster; + raises the frame there.
    pub zero: Length,
    /// Height at the other end's.
    pub other: Length,
}

/// What two touches say.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Front {
    /// What the dial reads at the other end when the axis is level.
    pub target: Length,
    /// How much higher the axis stands at the other touch than at the zero touch.
    pub tilt: Length,
    /// The same in a word.
    pub sits: Sits,
    /// Expanded uncertainty of the tilt, about 95 %.
    pub tilt_u95: Option<Length>,
    /// What to do.
    pub verdict: FrontVerdict,
    /// With [`FrontVerdict::Repeat`]: the fewest touches at each end that would prove it at this tilt, if any
    /// number up to [`TOUCHES_MOST`] does.
    pub touches_needed: Option<u32>,
    /// The other end's adjuster alone.
    pub move_other: FrontMove,
    /// The zero end's adjuster alone.
    pub move_zero: FrontMove,
    /// Both, keeping the zero end.
    pub move_both: MoveBoth,
}

/// Tilt, verdict and moves from two touches. An eccentric that cannot reach a move's height leaves that move's
/// degrees out and says what it can reach, so that the rest still stands.
///
/// # Errors
/// [`CalcError`] naming the input that is out of range, or geometry from which nothing can be computed.
pub fn front(input: &FrontInput) -> Result<Front, CalcError> {
    let spans = check(input)?;
    let k = input.dial.factor();
    let target = (input.zero_diameter - input.other_diameter) * (k / 2.0 * spans.tape_to_touch);
    let tilt = (input.reading - target) / k;
    let u95 = |worth: FrontUncertainty| tilt_u95(worth, k, spans.tape_to_touch);
    let tilt_u95 = input.uncertainty.map(u95);
    let verdict = match decide(tilt, tilt_u95.unwrap_or(Length::ZERO), input.tolerance) {
        Decision::Proven => FrontVerdict::Parallel,
        Decision::Beyond => FrontVerdict::Adjust,
        Decision::Unproven => FrontVerdict::Repeat,
    };
    let touches_needed = match (verdict, input.uncertainty) {
        (FrontVerdict::Repeat, Some(worth)) => (1..=TOUCHES_MOST).find(|touches| {
            let more = FrontUncertainty { touches_zero: *touches, touches_other: *touches, ..worth };
            decide(tilt, u95(more), input.tolerance) == Decision::Proven
        }),
        (FrontVerdict::Repeat | FrontVerdict::Parallel | FrontVerdict::Adjust, _) => None,
    };
    let rigid = Rigid::of(input, spans.adjuster);
    let slope = -(tilt / spans.touch).value();
    let apart = spans.adjuster * slope;
    Ok(Front {
        target,
        tilt,
        sits: sits(tilt),
        tilt_u95,
        verdict,
        touches_needed,
        move_other: rigid.alone(input, Length::ZERO, apart),
        move_zero: rigid.alone(input, -apart, Length::ZERO),
        move_both: rigid.both(input, slope),
    })
}

/// As [`front`], but refuses when an eccentric cannot reach the height of either single move.
///
/// # Errors
/// As [`front`], and [`CalcError::OutOfReach`].
pub fn front_strict(input: &FrontInput) -> Result<Front, CalcError> {
    let front = front(input)?;
    for (field, single) in [("move_other.height", front.move_other), ("move_zero.height", front.move_zero)] {
        Handwork { beyond_reach: single.beyond_reach, ..Handwork::default() }.require(field, single.height)?;
    }
    Ok(front)
}

fn sits(tilt: Length) -> Sits {
    if tilt.abs() < LEVEL {
        Sits::Level
    } else if tilt > Length::ZERO {
        Sits::High
    } else {
        Sits::Low
    }
}

/// u(dial) from the touches and the two readings of the dial, u(target) from the two readings of the tape; JCGM
/// 100, 5.1.2.
fn tilt_u95(worth: FrontUncertainty, k: f64, tape_to_touch: f64) -> Length {
    let touched = |touches: u32| worth.touch_sd / f64::from(touches).sqrt();
    let on_dial = of_graduation(worth.dial_graduation);
    let on_target = of_difference(worth.tape_graduation, Length::ZERO) * (k / 2.0 * tape_to_touch);
    let parts = [touched(worth.touches_zero), touched(worth.touches_other), on_dial, on_dial, on_target];
    combined(&parts) / k * COVERAGE
}

/// Signed distances along the reel, each from the zero end to the other.
struct Spans {
    touch: Length,
    adjuster: Length,
    tape_to_touch: f64,
}

fn check(input: &FrontInput) -> Result<Spans, CalcError> {
    limits::REEL_DIAMETER.check("zero_diameter", input.zero_diameter)?;
    limits::REEL_DIAMETER.check("other_diameter", input.other_diameter)?;
    limits::DIAL.check("reading", input.reading)?;
    limits::TOLERANCE.check("tolerance", input.tolerance)?;
    if let Some(worth) = input.uncertainty {
        limits::GRADUATION.check("uncertainty.dial_graduation", worth.dial_graduation)?;
        limits::GRADUATION.check("uncertainty.tape_graduation", worth.tape_graduation)?;
        limits::REPEATABILITY.check("uncertainty.touch_sd", worth.touch_sd)?;
        limits::TOUCHES.check("uncertainty.touches_zero", worth.touches_zero)?;
        limits::TOUCHES.check("uncertainty.touches_other", worth.touches_other)?;
    }
    input.adjuster_kind.map(AdjusterKind::check).transpose()?;
    let touch = checked_span("touch.zero_y", "touch.other_y", input.touch)?;
    let adjuster = checked_span("adjuster.zero_y", "adjuster.other_y", input.adjuster)?;
    let tape_to_touch = match input.tape_y {
        None => 1.0,
        Some(tape_y) => tape_to_touch(touch, tape_y)?,
    };
    limits::lever(("reel_x", input.reel_x), input.wheelbase)?;
    limits::PLACE.check("jack_y", input.jack_y)?;
    Ok(Spans { touch, adjuster, tape_to_touch })
}

fn checked_span(zero: &'static str, other: &'static str, pair: Pair) -> Result<Length, CalcError> {
    limits::PLACE.check(zero, pair.zero_y)?;
    limits::PLACE.check(other, pair.other_y)?;
    limits::span((zero, pair.zero_y), (other, pair.other_y))
}

/// How many touch spans the tape span is worth: a reel's cone is taken to run evenly along it.
fn tape_to_touch(touch: Length, tape_y: Pair) -> Result<f64, CalcError> {
    let tape = checked_span("tape_y.zero_y", "tape_y.other_y", tape_y)?;
    let ratio = (touch / tape).value();
    if ratio > 0.0 {
        return Ok(ratio);
    }
    let apart =
        Amount::Length(tape_y.zero_y + if touch > Length::ZERO { limits::LEAST_APART } else { -limits::LEAST_APART });
    let (least, most) =
        if touch > Length::ZERO { (apart, limits::PLACE.most()) } else { (limits::PLACE.least(), apart) };
    let value = Amount::Length(tape_y.other_y);
    let because = "running from zero to other end as touch does";
    Err(CalcError::Contradicts { field: "tape_y.other_y".into(), value, least, most, because })
}

/// The unit as a rigid body on two adjusters and the jack, seen at the zero end's touch.
struct Rigid {
    /// Span of the adjusters.
    span: Length,
    /// From the zero end's adjuster to the zero touch, in spans.
    to_touch: f64,
    /// From the zero end's adjuster to the jack, in spans.
    to_jack: f64,
    /// Reel behind the front adjusters, in wheelbases.
    back: f64,
}

impl Rigid {
    fn of(input: &FrontInput, span: Length) -> Self {
        let from_adjuster = |y: Length| ((y - input.adjuster.zero_y) / span).value();
        Self {
            span,
            to_touch: from_adjuster(input.touch.zero_y),
            to_jack: from_adjuster(input.jack_y),
            back: (input.reel_x / input.wheelbase).value(),
        }
    }

    /// How far the zero touch rises when the adjusters rise by `zero` and `other`: z = a + g·(y − y_A) − (x/L)·(a +
    /// g·(y_P − y_A)).
    fn rise(&self, zero: Length, other: Length) -> Length {
        let apart = other - zero;
        zero + apart * self.to_touch - (zero + apart * self.to_jack) * self.back
    }

    fn alone(&self, input: &FrontInput, zero: Length, other: Length) -> FrontMove {
        // One of the two is nothing, so their sum is the height of the adjuster that moves.
        let height = zero + other;
        let hand = input.adjuster_kind.map_or_else(Handwork::default, |kind| kind.handwork(height));
        FrontMove {
            height,
            rezero: self.rise(zero, other) * input.dial.factor(),
            turns: hand.turns,
            flats: hand.flats,
            degrees: hand.degrees,
            beyond_reach: hand.beyond_reach,
        }
    }

    /// a = −g·[(y_Z − y_A) − (x/L)(y_P − y_A)] / (1 − x/L), b = a + g·(y_B − y_A).
    fn both(&self, input: &FrontInput, slope: f64) -> MoveBoth {
        let to_touch = input.touch.zero_y - input.adjuster.zero_y;
        let to_jack = input.jack_y - input.adjuster.zero_y;
        let zero = -(to_touch - to_jack * self.back) * slope / (1.0 - self.back);
        MoveBoth { zero, other: zero + self.span * slope }
    }
}
