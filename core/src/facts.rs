//! What the bench knows when something happens. It is written into the journal with the event that
//! relied on it, so that a replay gives the same answer after the records have changed.

use crate::calc::uncertainty::combined;
use crate::health::drift::Drift;
use crate::health::earned::Source;
use crate::lockout::{ForcedRelease, Lockout};
use crate::outlook::wheel_yield::WheelYield;
use crate::quantity::{Length, Speed};
use crate::reading::Reading;
use crate::record::{Grinder, KnifeShape, Operator, Side, UnitType, Wheel};
use crate::visit::kind::Turning;
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
    /// The stop input.
    #[serde(default)]
    pub stop: StopInput,
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
    /// The shims on the shelf.
    #[serde(default)]
    pub shims: ShimStock,
    /// How bedknives are ground where the type does not say it.
    #[serde(default)]
    pub knife: KnifeShape,
    /// How the bench is kept true, and what it has learnt from its work.
    #[serde(default)]
    pub upkeep: Upkeep,
    /// The lock of whoever stands at the bench that a lead took off, while they have not been told so.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub untold: Option<ForcedRelease>,
}

impl BenchFacts {
    /// Whether whoever stands at the bench has a lock of their own on it, tried and proved dead. Another person's lock
    /// keeps nobody else's hands: it may come off while they are in.
    pub fn locked_dead(&self) -> bool {
        self.lockout.as_ref().is_some_and(|lockout| {
            lockout.dead().is_some() && self.operator.as_ref().is_some_and(|operator| lockout.is_of(operator))
        })
    }

    /// The step that a tape reading is good to where its repeatability has no place of its own: as coarse a graduation
    /// as graduation and earned repeatability together, q' = √(q² + 12·s²), since u(q') = q'/(2√3).
    pub fn tape_step(&self) -> Length {
        let graduation = self.instruments.tape_graduation.length();
        self.upkeep.tape_sd.map_or(graduation, |sd| combined(&[graduation, sd * 12.0_f64.sqrt()]))
    }
}

/// The shims on the shelf.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ShimStock {
    /// Thicknesses, each as often as needed.
    pub thicknesses: Vec<Reading>,
    /// Most pieces in one stack.
    pub most: u32,
}

/// Thousandths of an inch as a reading.
const fn thou(thousandths: i64) -> Reading {
    Reading::from_nanometres(thousandths * 25_400)
}

impl Default for ShimStock {
    /// A usual assortment (common practice).
    fn default() -> Self {
        Self { thicknesses: vec![thou(1), thou(2), thou(5), thou(10), thou(20)], most: 4 }
    }
}

/// What the guard's switch says.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum GuardInput {
    /// No switch is read at this bench.
    #[default]
    NotFitted,
    /// Closed.
    Closed,
    /// Open.
    Open,
    /// The switch has not been heard of lately, or not for long enough again, which counts as open.
    Stale,
    /// There is no connection to what reads the switch, which counts as open.
    Lost,
}

/// What the stop's switch says.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum StopInput {
    /// No switch is read at this bench.
    #[default]
    NotFitted,
    /// Released.
    Released,
    /// Pressed.
    Pressed,
    /// The switch has not been heard of lately, or not for long enough again, which counts as pressed.
    Stale,
    /// There is no connection to what reads the switch, which counts as pressed.
    Lost,
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
    /// What is used beside the rails.
    #[serde(default)]
    pub gauges: Gauges,
}

/// Gauges used beside the rails.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Gauges {
    /// The smallest step that can be read on the height-of-cut gauge.
    pub height_graduation: Reading,
    /// The smallest step between two feelers of the set.
    pub feeler_step: Reading,
}

impl Default for Gauges {
    /// Common practice.
    fn default() -> Self {
        Self { height_graduation: Reading::from_nanometres(12_700), feeler_step: Reading::from_nanometres(12_700) }
    }
}

/// How the bench is kept true, and what it has learnt from its own finished work. Nothing of it stands in entries
/// from before it was kept.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Upkeep {
    /// How it is checked.
    pub check: CheckRules,
    /// Which diameter tape is in use.
    pub tape: String,
    /// Standard deviation of a tape reading beside its graduation, once earned; nothing is assumed before.
    pub tape_sd: Option<Length>,
    /// Where the tape's came from.
    pub tape_source: Source,
    /// Where the touch repeatability in [`Instruments::touch_sd`] came from.
    pub touch_source: Source,
    /// What the mounted wheel removes for each infeed, once it has ground enough.
    pub wheel_yield: Option<WheelYield>,
    /// What warns that the bench is drifting.
    pub drift: Vec<Drift>,
}

/// How the grinder is checked against a master bar, from the configuration.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CheckRules {
    /// Where along the rails the bar is read, ascending.
    pub stations: Vec<Reading>,
    /// What is accepted of parallelism between the outermost stations and of straightness alike, real height.
    pub tolerance: Length,
    /// For how many months a check counts.
    pub every_months: u32,
    /// For how many days a lead's override counts, the first included.
    pub override_days: u32,
    /// What a spot check on the surface plate may show, real height.
    pub spot_limit: Length,
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
    /// What counts beside the rails and for frames that are not adjusted.
    #[serde(default)]
    pub setup: SetupLimits,
}

/// What counts beside the rails and for frames that are not adjusted; a type's own limits come first.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SetupLimits {
    /// Side plates: up to this error of the rear roller they are squared, beyond it shimmed.
    pub square: Length,
    /// Welded frame: up to this error of the rear roller it is recorded, beyond it the frame is replaced.
    pub frame: Length,
    /// Height of cut against the one wanted, at each station.
    pub height: Length,
    /// On the surface plate: difference of the edge's heights, and of the gaps to the reel, between both ends.
    pub plate: Length,
    /// Play of the reel's bearings; beyond it the visit is held. Entries from before it was kept have none of it.
    #[serde(default = "bearing_play")]
    pub bearing_play: Length,
    /// Play of the rollers; beyond it the visit is held.
    #[serde(default = "roller_play")]
    pub roller_play: Length,
}

/// From memory of the trade, no published source: a shop sets its own.
const fn bearing_play() -> Length {
    Length::from_inches(0.003)
}

/// From memory of the trade, no published source: a shop sets its own.
const fn roller_play() -> Length {
    Length::from_inches(0.010)
}

impl Default for SetupLimits {
    /// Common practice, no published source: 0.005, 0.010, 0.002 and 0.002 in.
    fn default() -> Self {
        Self {
            square: Length::from_inches(0.005),
            frame: Length::from_inches(0.010),
            height: Length::from_inches(0.002),
            plate: Length::from_inches(0.002),
            bearing_play: bearing_play(),
            roller_play: roller_play(),
        }
    }
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
    /// How the relief is ground.
    #[serde(default)]
    pub relief: ReliefGrinding,
}

/// How the relief is ground.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ReliefGrinding {
    /// Travel of the wheel head for each round over all blades, real height.
    pub infeed: Length,
    /// Land that is to be left.
    pub land: Length,
    /// Rounds without infeed at the end.
    pub sparkout_rounds: u32,
    /// Diameter taken off below the smallest by the light spin afterwards.
    pub light_cleanup: Length,
}

impl Default for ReliefGrinding {
    /// Common practice, no published source: 0.002, 0.020 and 0.001 in, one round without infeed.
    fn default() -> Self {
        Self {
            infeed: Length::from_inches(0.002),
            land: Length::from_inches(0.020),
            sparkout_rounds: 1,
            light_cleanup: Length::from_inches(0.001),
        }
    }
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
    /// Whether the wheel's record must say that it was looked over in this shift. An item that is marked as that look
    /// asks for it; without such an item the record alone decides. Entries from before the record knew it have not asked.
    #[serde(default)]
    pub look_over: bool,
}

/// An item of the gate; its wording lies in the configuration, in both languages.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct GateItem {
    /// Its name in the configuration.
    pub id: String,
    /// How often it is asked.
    pub per: Per,
    /// For which turning work it is asked; for all where none is named.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub work: Vec<Turning>,
    /// Whether it is the shift's look over the wheel, which may also be made at the wheel itself.
    #[serde(default)]
    pub look_over: bool,
}

impl GateItem {
    /// Whether it is asked before this turning work.
    pub fn concerns(&self, work: Turning) -> bool {
        self.work.is_empty() || self.work.contains(&work)
    }
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
