//! The shop's records: types, units, mowers, people, grinders and wheels, as plain data.
//!
//! Geometry lives in the type; a unit has only what is its own. `y` runs along the reel from the
//! operator's left, `x` from the front roller to the rear, as the unit stands on the rails.

use crate::bench::{DialKind, End, FrameKind, LimitBasis};
use crate::calc::adjuster::AdjusterKind;
use crate::quantity::{Angle, Mass, SpindleSpeed};
use crate::reading::Reading;
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
}

impl Work {
    /// The smaller diameter afterwards.
    pub fn smallest(&self) -> Reading {
        self.lead.min(self.trail)
    }
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
    /// A lead's recorded word that it may be used although the check is overdue: who, and why.
    pub check_override: Option<(String, String)>,
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
