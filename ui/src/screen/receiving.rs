//! Receive: the card of a unit, and the look before it goes on the rails.

use super::{MowerPicture, SetRow, WearPlot};

/// A unit's card and the look before it goes on the rails.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Receive {
    /// The unit's tag.
    pub tag: String,
    /// Its type's name.
    pub type_name: String,
    /// How many blades.
    pub blades: String,
    /// Its kind of frame.
    pub frame: FrameName,
    /// Date of the last grind, or empty.
    pub last_date: String,
    /// Who ground it, or empty.
    pub last_operator: String,
    /// The land then, with unit, or empty.
    pub last_land: String,
    /// Whole grinds left by the usual removal, or empty.
    pub grinds_left: String,
    /// Wear used in percent, or empty; over 100 when worn out.
    pub used_percent: String,
    /// The diameters over time.
    pub plot: WearPlot,
    /// Where it sits.
    pub mower: MowerPicture,
    /// Its weight with unit, or empty.
    pub weight: String,
    /// The lifting index onto these rails, or empty where it cannot be told (an estimate).
    pub lift_index: String,
    /// Whether the lift asks for a second person or a hoist (an estimate).
    pub needs_help: bool,
    /// Reel bearings, rollers, blades and spiders.
    pub conditions: [Condition; 3],
    /// Play of bearings and rollers, each pressed to be measured.
    pub play: Vec<SetRow>,
    /// The kinds of visit that can be chosen.
    pub kinds: Vec<KindChoice>,
    /// Whether the visit is held for repair.
    pub held: bool,
    /// Whether everything needed for the next stage is there.
    pub can_go: bool,
}

/// The kinds of frame of the handbook.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
#[allow(missing_docs, reason = "the names are the handbook's")]
pub enum FrameName {
    #[default]
    Adjustable,
    SidePlates,
    Welded,
    FloatingReel,
    FixedHead,
}

/// What a look found.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Condition {
    /// Not looked at yet.
    #[default]
    NotSeen,
    /// Nothing found.
    Good,
    /// Worth a note; goes on.
    Note,
    /// Holds the visit for repair.
    Bad,
}

/// The kinds of visit of the handbook.
pub use sparkout_core::visit::kind::VisitKind as KindName;

/// A kind of visit to choose.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[allow(missing_docs, reason = "the names say it")]
pub struct KindChoice {
    pub kind: KindName,
    pub chosen: bool,
    pub offered: bool,
}
