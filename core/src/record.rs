//! The shop's records: types, units, mowers, people, grinders and wheels, as plain data.
//!
//! Geometry lives in the type; a unit has only what is its own. `y` runs along the reel from the
//! operator's left, `x` from the front roller to the rear, as the unit stands on the rails.

use crate::bench::{DialKind, End, FrameKind, LimitBasis, TruingOrder};
use crate::calc::adjuster::AdjusterKind;
use crate::calc::master::MasterVerdict;
use crate::quantity::{Angle, Length, Mass, SpindleSpeed};
use crate::reading::Reading;
use crate::visit::event::BedknifeWork;
use crate::visit::kind::VisitKind;
use jiff::civil::Date;
use serde::{Deserialize, Serialize};

/// A side as it stands before the operator.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[allow(missing_docs, reason = "the names say it")]
pub enum Side {
    Left,
    Right,
}

impl Side {
    /// The other one.
    pub const fn opposite(self) -> Self {
        match self {
            Self::Left => Self::Right,
            Self::Right => Self::Left,
        }
    }
}

/// The hand of the reel's helix.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[allow(missing_docs, reason = "the names say it")]
pub enum Hand {
    Left,
    Right,
}

/// From where an adjuster's turning direction is told.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[allow(missing_docs, reason = "the names say it")]
pub enum SeenFrom {
    Above,
    End,
}

/// One adjuster of a roller.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Adjuster {
    /// Where it acts along the reel.
    pub y: Reading,
    /// How it makes height.
    pub kind: AdjusterKind,
    /// Whether turning it clockwise raises: at the front the frame there, at the rear the roller's end.
    /// `None` until somebody told it; no direction is told before.
    pub clockwise_raises: Option<bool>,
    /// From where clockwise is meant.
    pub seen_from: SeenFrom,
}

/// A pair of adjusters, one a side.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[allow(missing_docs, reason = "the names say it")]
pub struct AdjusterPair {
    pub left: Adjuster,
    pub right: Adjuster,
}

impl AdjusterPair {
    /// The one on a side.
    pub const fn at(&self, side: Side) -> &Adjuster {
        match side {
            Side::Left => &self.left,
            Side::Right => &self.right,
        }
    }

    /// The one on a side, to change.
    pub const fn at_mut(&mut self, side: Side) -> &mut Adjuster {
        match side {
            Side::Left => &mut self.left,
            Side::Right => &mut self.right,
        }
    }
}

/// What units of one kind have in common. A quarter inch is accurate enough for `x` and `y`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct UnitType {
    /// The shop's own name for it.
    pub name: String,
    /// Its kind of frame.
    pub frame: FrameKind,
    /// How many blades the reel has.
    pub blades: u32,
    /// The hand of its helix, once known.
    pub hand: Option<Hand>,
    /// Where the leading end stands, once known.
    pub leading_end_at: Option<Side>,
    /// Diameter when new.
    pub new_diameter: Reading,
    /// Diameter at which the reel is replaced.
    pub wear_limit: Reading,
    /// How that limit was given.
    pub limit_basis: LimitBasis,
    /// Length of the reel, the wheel's travel included.
    pub reel_length: Reading,
    /// Thickness of a blade.
    pub blade_thickness: Reading,
    /// Relief angle behind the land.
    pub relief_angle: Angle,
    /// Land from which the unit is due for relief.
    pub land_limit: Reading,
    /// Where the wheel touches near the left end.
    pub touch_left: Reading,
    /// Where the wheel touches near the right end.
    pub touch_right: Reading,
    /// The front roller's adjusters.
    pub front: AdjusterPair,
    /// The rear roller's adjusters.
    pub rear: AdjusterPair,
    /// Distance between the two places where the indicator is read on the rear roller.
    pub rear_reading_span: Reading,
    /// The reel axis behind the front roller.
    pub reel_x: Reading,
    /// The jack behind the front roller.
    pub wheelbase: Reading,
    /// Where the jack lifts, along the reel.
    pub jack_y: Reading,
    /// Weight of the unit, where known.
    pub weight: Option<Mass>,
    /// What only some frames and some kinds of visit need; older records have none of it.
    #[serde(default)]
    pub setup: TypeSetup,
}

/// What only some frames and some kinds of visit need to know of a type. Nothing of it has to be known: the shop's
/// own limits, or the geometry of the frame, stand in.
///
/// On a [`FrameKind::FixedHead`] the drum is the datum: `reel_x`, `wheelbase` and `edge_x` are counted from the drum,
/// the pair `front` is the head's own adjusters, the jack lifts the front roller, and the pair `rear` is the front
/// roller's.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct TypeSetup {
    /// Which end of the unit is trued first on the rails.
    pub order: TruingOrder,
    /// The bedknife's edge behind the front roller; the reel's axis where not given, which it stands a little behind.
    pub edge_x: Option<Reading>,
    /// Side plates: up to this error of the rear roller they are squared, beyond it shimmed.
    pub square_limit: Option<Reading>,
    /// Welded frame: up to this error of the rear roller it is recorded, beyond it the frame is replaced.
    pub frame_limit: Option<Reading>,
    /// Whether a shim raises the roller's end. Usually it lies between bracket and frame and pushes the roller down
    /// (from memory of the trade).
    pub shim_raises: bool,
    /// The height of cut this type is set to when nothing else is known.
    pub height_of_cut: Option<Reading>,
    /// Play of the reel's bearings up to which the unit is worked on; the shop's own limit where not given.
    pub play_limit: Option<Reading>,
    /// Play of the rollers up to which the unit is worked on; the shop's own limit where not given.
    pub roller_play_limit: Option<Reading>,
    /// How its bedknife is ground.
    pub knife: Option<KnifeShape>,
}

/// How a bedknife is ground, and how thin it may get.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct KnifeShape {
    /// Relief of the top face behind the edge.
    pub top_angle: Angle,
    /// Relief of the front face below the edge.
    pub front_angle: Angle,
    /// How far either may be off.
    pub angle_tolerance: Angle,
    /// Thickness left at which the knife is replaced.
    pub least_thickness: Reading,
}

impl Default for KnifeShape {
    /// From memory of the trade, no published source: a shop sets its own.
    fn default() -> Self {
        Self {
            top_angle: Angle::from_degrees(5.0),
            front_angle: Angle::from_degrees(15.0),
            angle_tolerance: Angle::from_degrees(1.0),
            least_thickness: Reading::from_nanometres(1_524_000),
        }
    }
}

impl UnitType {
    /// Where the wheel touches on a side.
    pub const fn touch_at(&self, side: Side) -> Reading {
        match side {
            Side::Left => self.touch_left,
            Side::Right => self.touch_right,
        }
    }

    /// The side an end stands on, once the type knows it.
    pub fn side_of(&self, end: End) -> Option<Side> {
        self.leading_end_at.map(|leading| match end {
            End::Lead => leading,
            End::Trail => leading.opposite(),
        })
    }
}

/// One finished piece of work on a unit, as its card shows it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Work {
    /// The day.
    pub date: Date,
    /// Who did it, initials.
    pub operator: String,
    /// Taped before grinding, leading end.
    pub before_lead: Reading,
    /// Taped before grinding, trailing end.
    pub before_trail: Reading,
    /// Taped after grinding, leading end.
    pub lead: Reading,
    /// Taped after grinding, trailing end.
    pub trail: Reading,
    /// The land afterwards, where it was measured.
    pub land: Option<Reading>,
    /// The height of cut set, where it was measured.
    pub height_of_cut: Option<Reading>,
    /// Whether it was proven, or recorded by name as within tolerance.
    pub proven: bool,
    /// The visit it comes from; `None` when it was taken over from older records.
    pub visit: Option<String>,
    /// What the bench learns from it; `None` on older records and where nothing was ground.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lesson: Option<Box<Lesson>>,
}

/// What a finished grind teaches about the bench it was ground on.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Lesson {
    /// The grinder.
    pub grinder: String,
    /// How its dial is graduated.
    pub dial: DialKind,
    /// The smallest step read off it.
    pub dial_graduation: Reading,
    /// The diameter tape.
    pub tape: String,
    /// The smallest step read off that.
    pub tape_graduation: Reading,
    /// The wheel's mounting.
    pub wheel: Option<String>,
    /// Whole infeed of the grind, on diameter, when every pass of its plan was made.
    pub infeed: Option<Length>,
    /// Diameter that came off where the grind began.
    pub removed: Option<Length>,
    /// The dial readings that Front was left on, each with a zero of its own.
    pub touches: Vec<Reading>,
    /// What Front left, real height.
    pub tilt: Option<Length>,
    /// What Prove found beside that, on diameter: nothing when all went as computed.
    pub misclosure: Option<Length>,
    /// Its expanded uncertainty as it was stated then.
    pub misclosure_u95: Option<Length>,
}

impl Work {
    /// The smaller diameter afterwards.
    pub fn smallest(&self) -> Reading {
        self.lead.min(self.trail)
    }
}

/// Work on a unit that took nothing off its diameter, as its card shows it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Service {
    /// The day.
    pub date: Date,
    /// Who did it, initials.
    pub operator: String,
    /// What the unit came for.
    pub kind: VisitKind,
    /// What was done to the bedknife.
    pub bedknife: Option<BedknifeWork>,
    /// What was left of the bedknife's thickness.
    pub thickness: Option<Reading>,
    /// The land at the leading and at the trailing end.
    pub land: Option<(Reading, Reading)>,
    /// The height of cut that was set or found, the lower of both stations.
    pub height_of_cut: Option<Reading>,
    /// What came of it.
    pub verdict: ServiceVerdict,
    /// The visit it comes from.
    pub visit: String,
}

/// What came of a service.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum ServiceVerdict {
    /// The work was done.
    Done,
    /// Done and within tolerance, but not proven; recorded by name.
    DoneNotProven,
    /// Looked at, and nothing is due.
    Fit,
    /// Looked at, and work is due.
    Due,
}

/// Whether a unit may be worked on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum UnitStatus {
    /// On its mower, or meant to be.
    #[default]
    InService,
    /// Ground and labelled, not yet back on its mower.
    Ready,
    /// On no mower: another unit has its place.
    Spare,
    /// Taken out for good.
    Retired,
}

/// A cutting unit.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Unit {
    /// The code on its tag, upper case.
    pub tag: String,
    /// The name of its type.
    pub type_name: String,
    /// The maker's serial number, where known.
    pub serial: Option<String>,
    /// The mower it belongs to.
    pub mower: String,
    /// Its position there, counted from one.
    pub position: u32,
    /// How it stands.
    pub status: UnitStatus,
    /// Finished work, oldest first.
    pub history: Vec<Work>,
    /// Finished work that took nothing off the diameter, oldest first.
    #[serde(default)]
    pub services: Vec<Service>,
}

/// A mower and where its units sit.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Mower {
    /// The code in its places' tags.
    pub code: String,
    /// The shop's name for it.
    pub name: String,
    /// How many cutting units it carries.
    pub positions: u32,
}

/// Somebody who works at the bench.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Operator {
    /// What the badge says.
    pub id: String,
    /// Name for people.
    pub name: String,
    /// Initials for labels and the strip.
    pub initials: String,
    /// Whether they are trained to grind.
    pub trained: bool,
    /// Whether they may decide what a lead decides.
    pub lead: bool,
}

/// The bench grinder and what is known of its truth.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Grinder {
    /// The shop's name for it.
    pub name: String,
    /// How its infeed dial is graduated.
    pub dial: DialKind,
    /// What one turn of the dial counts.
    pub dial_per_turn: Reading,
    /// The smallest step a person can read on it.
    pub dial_graduation: Reading,
    /// How fast its wheel turns.
    pub spindle_speed: SpindleSpeed,
    /// Until when the last check against the master bar counts.
    pub check_due: Date,
    /// A lead's recorded word that it may be used although the check is overdue or found it out of true: who, and why.
    pub check_override: Option<(String, String)>,
    /// The last day on which that word counts; one without a day counts until the next check.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub override_until: Option<Date>,
    /// The last finished check against the master bar.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub last_check: Option<Box<MasterCheck>>,
}

impl Grinder {
    /// Whether a lead's word stands on a day.
    pub fn overridden(&self, today: Date) -> bool {
        self.check_override.is_some() && self.override_until.is_none_or(|until| today <= until)
    }

    /// The last check, where it found the grinder out of true.
    pub fn out_of_true(&self) -> Option<&MasterCheck> {
        self.last_check.as_deref().filter(|check| check.verdict == MasterVerdict::OutOfTrue)
    }
}

/// A finished check against a master bar, turned end for end.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MasterCheck {
    /// The day.
    pub date: Date,
    /// Who did it, initials.
    pub operator: String,
    /// Length of the rails between the outermost stations, over which parallelism is told.
    pub span: Length,
    /// Error of parallelism over the span, real height.
    pub parallel_error: Length,
    /// Its expanded uncertainty.
    pub parallel_u95: Length,
    /// Range of what remains beside the line, real height.
    pub straightness: Length,
    /// The bar's own taper over the span.
    pub bar_error: Length,
    /// What was accepted, of both.
    pub tolerance: Length,
    /// Whether the grinder is true.
    pub verdict: MasterVerdict,
    /// Whether that is proven: parallelism within its tolerance even if it is off by its uncertainty.
    pub proven: bool,
}

/// A grinding wheel as mounted.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Wheel {
    /// Which mounting this is: another mounting is another record.
    pub mounting: String,
    /// Its diameter.
    pub diameter: Reading,
    /// The speed read off the wheel itself.
    pub rated_speed: Option<SpindleSpeed>,
    /// Whether it was inspected before this mounting.
    pub inspected: bool,
    /// How it rang.
    pub ring_test: RingTest,
    /// What was written down when it was mounted; records from before mountings were written down have none of it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mounted: Option<Box<Mounted>>,
    /// The last look over it at a shift's beginning.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub looked_over: Option<LookedOver>,
    /// When its diameter was last measured since it was mounted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub measured: Option<Measured>,
}

impl Wheel {
    /// Whether this person looked it over in this shift.
    pub fn looked_over_by(&self, badge: &str, shift: &str) -> bool {
        self.looked_over.as_ref().is_some_and(|look| look.badge == badge && look.shift == shift)
    }
}

/// What was written down when a wheel was mounted.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Mounted {
    /// Grit, grade and shape as the shop calls them.
    pub description: String,
    /// Its diameter then.
    pub diameter: Reading,
    /// Who mounted it, initials.
    pub by: String,
    /// The day.
    pub on: Date,
    /// The number of the lock under which it was done.
    pub lock: String,
}

/// A look over the wheel at a shift's beginning.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LookedOver {
    /// The shift.
    pub shift: String,
    /// The badge of whoever looked.
    pub badge: String,
    /// Their initials.
    pub initials: String,
    /// The day.
    pub on: Date,
}

/// A measurement of the mounted wheel's diameter.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Measured {
    /// Who measured it, initials.
    pub by: String,
    /// The day.
    pub on: Date,
}

/// The ring test before mounting.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum RingTest {
    /// Not done.
    Missing,
    /// Done, and it rang clear.
    Clear,
    /// This type does not ring; which type.
    NotApplicable(String),
}
