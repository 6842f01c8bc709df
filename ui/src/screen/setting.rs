//! Relief, Knife, Back-lap, Height, Plate and Check: what is set and measured beside the usual trip.

use super::{BedknifeWork, HeightDrawn, KnifeDrawn, PlateDrawn, ReliefDrawn, Turn};

/// A value that a stage asks for, named in words.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct SetRow {
    /// Its name in English, by which scripts press it.
    pub name: String,
    /// The same in the person's language.
    pub label: String,
    /// The value with unit, or empty.
    pub value: String,
    /// Whether the entry is about this one.
    pub now: bool,
    /// Whether it is there and off what is asked for.
    pub off: bool,
}

/// Where Relief stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum ReliefPhase {
    /// Land before, blade and finger.
    #[default]
    Finger,
    /// Rounds over all blades.
    Rounds,
    /// All rounds are made; until both stand still.
    RunDown,
    /// The land that it left.
    Lands,
}

/// The relief.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Relief {
    /// Where it stands.
    pub phase: ReliefPhase,
    /// The lands, before or afterwards.
    pub rows: Vec<SetRow>,
    /// The finger's tip from the reel's axis, without unit, or empty.
    pub finger: String,
    /// The unit of that distance.
    pub finger_unit: String,
    /// The blade's tip past the bottom of the reel, degrees.
    pub blade_angle: String,
    /// The relief angle, degrees.
    pub relief_angle: String,
    /// Whether blade and finger stand so.
    pub finger_set: bool,
    /// The land is no wider than relief would leave it.
    pub narrow: bool,
    /// The land afterwards is above the limit.
    pub wide: bool,
    /// The land that is wanted, with unit.
    pub wanted: String,
    /// The limit of the land, with unit.
    pub limit: String,
    /// The round in hand, counted from one.
    pub round: u32,
    /// All rounds.
    pub rounds: u32,
    /// Blades in a round.
    pub blades: String,
    /// What the dial is turned on before this round, or empty for a round without infeed.
    pub dial: String,
    /// Its unit.
    pub unit: String,
    /// Who was cleared, initials.
    pub cleared_by: String,
    /// When.
    pub cleared_at: String,
    /// Whether the next stage can be entered.
    pub can_go: bool,
    /// Numbers of its picture.
    pub drawn: ReliefDrawn,
}

/// The bedknife.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Knife {
    /// Angles and thickness.
    pub rows: Vec<SetRow>,
    /// What was done to it.
    pub work: BedknifeWork,
    /// What the angles and the thickness must be, ready to show.
    pub asked_for: String,
    /// Screws torqued, burr removed, adjusted to the reel.
    pub checks: [bool; 3],
    /// Whether paper is cut along the whole length.
    pub paper_cuts: bool,
    /// Whether the next stage can be entered.
    pub can_go: bool,
    /// Numbers of its picture.
    pub drawn: KnifeDrawn,
}

/// The reel run backwards with compound.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct BackLap {
    /// Whether the reel may still be turning.
    pub running: bool,
    /// For how long it has been running, `m:ss`, or empty.
    pub elapsed: String,
    /// Minutes and grit.
    pub rows: Vec<SetRow>,
    /// Whether paper is cut along the whole length.
    pub paper_cuts: bool,
    /// Who was cleared, initials.
    pub cleared_by: String,
    /// When.
    pub cleared_at: String,
    /// Whether the next stage can be entered.
    pub can_go: bool,
}

/// What can be said about a value and its tolerance.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Found {
    /// Not measured yet.
    #[default]
    Open,
    /// Proven within it.
    Within,
    /// Within it as measured, not proven.
    NotProven,
    /// The same, recorded by name.
    Accepted,
    /// Beyond it.
    Beyond,
}

/// The height of cut, both adjusters in one go.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Height {
    /// What can be said about it.
    pub found: Found,
    /// So many sets of readings are pooled.
    pub sets: u32,
    /// Round, counted from one.
    pub round: u32,
    /// Height wanted and both gauges.
    pub rows: Vec<SetRow>,
    /// The error at your left, signed, without unit, or empty.
    pub left: String,
    /// The error at your right.
    pub right: String,
    /// The uncertainty of either (95 %).
    pub u95: String,
    /// The unit of errors.
    pub unit: String,
    /// The tolerance.
    pub limit: String,
    /// What to turn at your left.
    pub turn_left: Turn,
    /// What to turn at your right.
    pub turn_right: Turn,
    /// Whether the next stage can be entered.
    pub can_go: bool,
    /// Numbers of its picture.
    pub drawn: HeightDrawn,
}

/// The unit on the surface plate.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Plate {
    /// What can be said about both.
    pub found: Found,
    /// So many sets of readings are pooled.
    pub sets: u32,
    /// The four values.
    pub rows: Vec<SetRow>,
    /// How much higher the edge stands at your right, signed, ± uncertainty, or empty.
    pub edge: String,
    /// How much wider the gap is at your right, likewise.
    pub gap: String,
    /// Their unit.
    pub unit: String,
    /// The tolerance.
    pub limit: String,
    /// Whether the next stage can be entered.
    pub can_go: bool,
    /// Numbers of its picture.
    pub drawn: PlateDrawn,
}

/// Whether paper was cut.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
#[allow(missing_docs, reason = "the names say it")]
pub enum Paper {
    #[default]
    NotTried,
    Cut,
    NotCut,
}

/// Looked at, nothing changed.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Check {
    /// Lands and heights.
    pub rows: Vec<SetRow>,
    /// Whether paper was cut.
    pub paper: Paper,
    /// Whether everything is known.
    pub judged: bool,
    /// Why work is due, in the person's language; none when nothing is due.
    pub due: Vec<String>,
    /// The cone with its uncertainty and unit.
    pub cone: String,
    /// Whether the next stage can be entered.
    pub can_go: bool,
    /// The reel's outline, as [`super::Tape::profile`].
    pub profile: [f32; 3],
    /// How many times its differences are exaggerated, as text.
    pub exaggeration: String,
}

/// What the frame allows to be done about the rear roller.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Remedy {
    /// Turn an adjuster or an eccentric.
    #[default]
    Turn,
    /// Loosen the side plates, settle the unit, tighten.
    Square,
    /// Lay shims in.
    Shim,
    /// Write it down.
    Record,
    /// Replace the frame.
    Replace,
}

/// What is being cleared.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
#[allow(missing_docs, reason = "the names are the trade's")]
pub enum TurningName {
    #[default]
    Grind,
    Relief,
    BackLap,
}
