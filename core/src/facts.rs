//! What the bench knows when something happens. It is written into the journal with the event that
//! relied on it, so that a replay gives the same answer after the records have changed.

use crate::quantity::{Length, Speed};
use crate::reading::Reading;
use crate::record::{Grinder, Operator, Side, UnitType, Wheel};
use jiff::civil::Date;
use serde::{Deserialize, Serialize};

/// Everything outside the visit that a step may rely on.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BenchFacts {
    /// Who stands at the bench.
    pub operator: Option<Operator>,
    /// The grinder.
    pub grinder: Grinder,
    /// The wheel on it.
    pub wheel: Option<Wheel>,
    /// An open lockout on the grinder.
    pub lockout: Option<Lockout>,
    /// The guard input.
    pub guard: GuardInput,
    /// The day in the shop's own time zone, by the station's clock.
    pub today: Date,
    /// The shift, as the shop counts them.
    pub shift: String,
    /// Instruments.
    pub instruments: Instruments,
    /// What counts as good work.
    pub limits: Limits,
    /// How a spin is ground.
    pub grinding: Grinding,
    /// The safety gate's rules.
    pub gate: GateRules,
    /// Items acknowledged before, that may still count in this shift or for this mounting.
    pub acknowledged: Vec<PriorAcknowledgement>,
}

/// An open lockout record.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Lockout {
    /// The number on the lock.
    pub lock: String,
    /// Who put it on.
    pub by: String,
}

/// What the guard's switch says.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum GuardInput {
    /// No switch is read at this bench.
    NotFitted,
    /// Closed.
    Closed,
    /// Open.
    Open,
    /// The switch has not been heard of lately, which counts as open.
    Stale,
}

/// What the bench measures with.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Instruments {
    /// The smallest step that can be read on the diameter tape.
    pub tape_graduation: Reading,
    /// The smallest step that can be read on the indicator.
    pub indicator_graduation: Reading,
    /// Standard deviation of a touch by ear, in dial units.
    pub touch_sd: Length,
}

/// Tolerances and what is asked about.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Limits {
    /// Tilt of the reel axis between the touch stations, real height.
    pub tilt: Length,
    /// Error of the rear roller between the reading places, real height.
    pub rear: Length,
    /// Cone after grinding, on diameter.
    pub cone: Length,
    /// A diameter further than this from the last one is asked about.
    pub plausible_change: Length,
    /// A cone smaller than this says nothing about swapped ends.
    pub swap_cone: Length,
}

/// How a spin is ground.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Grinding {
    /// Taken off below the smallest diameter, so that every blade is touched.
    pub cleanup: Length,
    /// Infeed of a pass, on diameter.
    pub infeed: Length,
    /// Passes without infeed at the end.
    pub sparkout_passes: u32,
    /// How fast the wheel head travels.
    pub traverse: Speed,
    /// What a grind usually takes off the diameter.
    pub usual_removal: Length,
}

/// The safety gate's rules, from the configuration.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct GateRules {
    /// What is to be acknowledged, in order.
    pub items: Vec<GateItem>,
    /// How long a complete checklist counts without a start.
    pub lapse_after_ms: u64,
    /// How long a pointer must be held.
    pub hold_ms: u64,
}

/// An item of the gate; its wording lies in the configuration, in both languages.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct GateItem {
    /// Its name in the configuration.
    pub id: String,
    /// How often it is asked.
    pub per: Per,
}

/// How often an item of the gate is asked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Per {
    /// Before every grind.
    Grind,
    /// Once in a shift, and again when operator, wheel or grinder changes.
    Shift,
    /// Once a mounting of the wheel.
    Mounting,
}

/// An acknowledgement that may count again.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PriorAcknowledgement {
    /// The item.
    pub item: String,
    /// Who.
    pub operator: String,
    /// The wheel's mounting then.
    pub mounting: String,
    /// The grinder.
    pub grinder: String,
    /// The shift.
    pub shift: String,
}

/// What a person is asked once about a type, and no direction is told before it is answered.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum TypeFact {
    /// Where the leading end stands.
    LeadingEndAt(Side),
    /// Whether clockwise raises, at the front adjuster on this side.
    FrontClockwiseRaises(Side, bool),
    /// Whether clockwise raises the roller's end, at the rear adjuster on this side.
    RearClockwiseRaises(Side, bool),
}

impl TypeFact {
    /// Puts it into a type's record, and changes nothing else there: the visit's own copy also holds how far an
    /// eccentric was turned, which belongs to one unit.
    pub fn put_into(self, unit_type: &mut UnitType) {
        match self {
            Self::LeadingEndAt(side) => unit_type.leading_end_at = Some(side),
            Self::FrontClockwiseRaises(side, raises) => {
                unit_type.front.at_mut(side).clockwise_raises = Some(raises);
            }
            Self::RearClockwiseRaises(side, raises) => unit_type.rear.at_mut(side).clockwise_raises = Some(raises),
        }
    }
}
