//! What units of one kind have in common: geometry, adjusters, bedknife.

use crate::bench::{End, FrameKind, LimitBasis, TruingOrder};
use crate::calc::adjuster::AdjusterKind;
use crate::quantity::{Angle, Mass};
use crate::reading::Reading;
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
