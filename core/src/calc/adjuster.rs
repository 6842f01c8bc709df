//! What turns an adjuster's height into something a hand can do.

use super::error::{Amount, CalcError, Field};
use super::limits;
use crate::quantity::{Angle, Length, Ratio, Turns};
use serde::{Deserialize, Serialize};

/// How an adjuster lifts the frame.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum AdjusterKind {
    /// A screw: one turn lifts by the pitch.
    Screw {
        /// Lift for each turn, 0.1–25.4 mm.
        pitch: Length,
    },
    /// An eccentric: lift = throw × (1 − cos angle).
    Eccentric {
        /// Distance of its centre from the axis it is turned about, 0.05–100 mm.
        throw: Length,
        /// Where it stands, from its lowest lift (0°) to its highest (180°).
        angle: Angle,
    },
}

/// What heights an eccentric can still give from where it stands; + raises.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Reach {
    /// The lowest, zero or negative.
    pub lowest: Length,
    /// The highest, zero or positive.
    pub highest: Length,
}

/// What the hand does for a height.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
pub struct Handwork {
    /// Turns of a screw; + raises.
    pub turns: Option<Turns>,
    /// The same in flats of its hexagon.
    pub flats: Option<Ratio>,
    /// Degrees to turn an eccentric, towards its highest lift when +.
    pub degrees: Option<Angle>,
    /// Given instead of degrees when the height is beyond the eccentric: what it can reach.
    pub beyond_reach: Option<Reach>,
}

/// Lengths nearer than this to the eccentric's dead points count as there: a picometre, far above rounding.
const SAME: Length = Length::from_mm(1e-9);

impl AdjusterKind {
    /// Refuses what is no screw or eccentric.
    ///
    /// # Errors
    /// [`CalcError::OutOfRange`] on pitch, throw or angle.
    pub fn check(self) -> Result<Self, CalcError> {
        match self {
            Self::Screw { pitch } => {
                limits::PITCH.check("adjuster_kind.screw.pitch", pitch)?;
            }
            Self::Eccentric { throw, angle } => {
                limits::THROW.check("adjuster_kind.eccentric.throw", throw)?;
                limits::ECCENTRIC_ANGLE.check("adjuster_kind.eccentric.angle", angle)?;
            }
        }
        Ok(self)
    }

    /// An eccentric stands elsewhere after a turn, and the next degree lifts differently; a screw does not care.
    pub fn turned(&mut self, degrees: Option<Angle>) {
        if let (Self::Eccentric { angle, .. }, Some(degrees)) = (self, degrees) {
            *angle += degrees;
        }
    }

    /// What the hand does to lift by `height`; + raises. Expects a checked adjuster.
    pub fn handwork(self, height: Length) -> Handwork {
        match self {
            Self::Screw { pitch } => {
                let turns = Turns::from_turns((height / pitch).value());
                let flats = Some(Ratio::from_value(turns.flats()));
                Handwork { turns: Some(turns), flats, ..Handwork::default() }
            }
            Self::Eccentric { throw, angle } => match turn_eccentric(throw, angle, height) {
                Ok(degrees) => Handwork { degrees: Some(degrees), ..Handwork::default() },
                Err(reach) => Handwork { beyond_reach: Some(reach), ..Handwork::default() },
            },
        }
    }
}

impl Handwork {
    /// Refuses a height beyond the eccentric.
    ///
    /// # Errors
    /// [`CalcError::OutOfReach`], naming the move and what the eccentric can give.
    pub fn require(self, field: impl Into<Field>, height: Length) -> Result<Self, CalcError> {
        match self.beyond_reach {
            None => Ok(self),
            Some(Reach { lowest, highest }) => Err(CalcError::OutOfReach {
                field: field.into(),
                value: Amount::Length(height),
                least: Amount::Length(lowest),
                most: Amount::Length(highest),
            }),
        }
    }
}

/// Lift of an eccentric above its lowest: 2e·sin²(t/2), which is e·(1 − cos t) without its cancellation near the
/// bottom.
pub fn eccentric_lift(throw: Length, angle: Angle) -> Length {
    let half = (angle.degrees() / 2.0).to_radians().sin();
    throw * (2.0 * half * half)
}

/// The angle to turn an eccentric by so that its lift changes by `height`, or what it can reach.
fn turn_eccentric(throw: Length, angle: Angle, height: Length) -> Result<Angle, Reach> {
    let lift = eccentric_lift(throw, angle);
    let highest = throw * 2.0;
    let wanted = lift + height;
    if wanted < -SAME || wanted > highest + SAME {
        return Err(Reach { lowest: Length::ZERO - lift, highest: highest - lift });
    }
    let wanted = wanted.max(Length::ZERO).min(highest);
    // From whichever dead point is nearer, where the sine still resolves the lift.
    let from_dead_point = |lift: Length| 2.0 * (lift / highest).value().sqrt().asin().to_degrees();
    let stands = if wanted > throw { 180.0 - from_dead_point(highest - wanted) } else { from_dead_point(wanted) };
    Ok(Angle::from_degrees(stands) - angle)
}
