//! Tape, Front and Rear: what is measured, and what is to be turned.

use super::{EndName, Remedy, SideName};

/// A reading that is wanted or there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Place {
    /// Which end.
    pub end: EndName,
    /// Where that is for the operator.
    pub side: SideName,
    /// The value with unit, or empty.
    pub value: String,
    /// Whether the entry is about this one.
    pub now: bool,
    /// Whether it may be left out.
    pub optional: bool,
}

/// Diameters by tape.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Tape {
    /// The places, in the order they are asked.
    pub places: Vec<Place>,
    /// The reel's outline: radius excess at your left, middle, your right, −1 to 1, exaggerated.
    pub profile: [f32; 3],
    /// Whether both ends are there, so that what follows is filled.
    pub computed: bool,
    /// The cone, signed, with unit.
    pub cone: String,
    /// The barrel, signed, with unit, or empty.
    pub barrel: String,
    /// Where the dial is zeroed.
    pub zero_end: EndName,
    /// Its side.
    pub zero_side: SideName,
    /// The dial target at the other end, signed.
    pub target: String,
    /// The unit of the target.
    pub unit: String,
    /// The tip-circle diameter at the smaller end with unit.
    pub smallest: String,
    /// Wear used in percent, or empty.
    pub used_percent: String,
    /// Whether the next stage can be entered.
    pub can_go: bool,
    /// How many times the outline's differences are exaggerated, as text.
    pub exaggeration: String,
}

/// Where Front or Rear stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum TruePhase {
    /// Touch at the zero end and set the dial (Front); read the first end (Rear).
    #[default]
    First,
    /// Touch at the other end and enter the dial (Front); read the second end (Rear).
    Second,
    /// Turn an adjuster.
    Adjust,
    /// Within tolerance but not proven; more touches can prove it.
    TouchAgain,
    /// Within tolerance, not proven, and no touch can prove it: small move, or record so.
    NotProven,
    /// Proven parallel.
    Parallel,
    /// Recorded by name as within tolerance, not proven.
    AcceptedNotProven,
}

/// Which way to turn.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Direction {
    /// As the adjuster is seen.
    Clockwise,
    /// As the adjuster is seen.
    Counterclockwise,
    /// The turning direction is not known: raise this side.
    #[default]
    Raise,
    /// The turning direction is not known: lower this side.
    Lower,
}

/// The unit of a turn.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum TurnUnit {
    /// Turns of a screw.
    Turn,
    /// Degrees of an eccentric.
    Degrees,
    /// Only the height is known (no adjuster data, or beyond an eccentric's reach).
    #[default]
    Height,
}

/// One way to cure what was measured.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Turn {
    /// How much, unsigned.
    pub amount: String,
    /// Of what.
    pub unit: TurnUnit,
    /// The unit of the amount when it is a height.
    pub height_unit: String,
    /// Which way.
    pub direction: Direction,
    /// Which adjuster.
    pub side: SideName,
    /// Whether the adjuster is looked at from above (else from its end).
    pub from_above: bool,
    /// The height it makes, signed, with unit.
    pub height: String,
    /// In flats of a hexagon, or empty.
    pub flats: String,
    /// What the zero end will read afterwards, signed; empty for Rear.
    pub rezero: String,
}

/// A finished round of touches or readings.
#[derive(Debug, Clone, PartialEq)]
pub struct RoundLine {
    /// Counted from one.
    pub number: u32,
    /// The reading, signed.
    pub reading: String,
    /// What it means, unsigned, such as `3.0`.
    pub error: String,
    /// Whether the other end (Rear: your right) sits high; false when low.
    pub high: bool,
    /// What was turned, such as `0.17`, or empty.
    pub turned: String,
    /// Unit of what was turned.
    pub turn_unit: TurnUnit,
    /// Whether it is the round in hand.
    pub now: bool,
    /// The tilt that was measured, as [`Front::picture_tilt`].
    pub tilt: f32,
}

/// The reel axis trued to the rails.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Front {
    /// A fixed head: its drum stands on the rails, and the jack lifts the front roller.
    pub fixed_head: bool,
    /// Where it stands.
    pub phase: TruePhase,
    /// Round, counted from one.
    pub round: u32,
    /// Touches taken at each end in this round.
    pub touches: u32,
    /// How many touches at each end would prove it; 0 when not asked for.
    pub touches_needed: u32,
    /// Where the dial is zeroed.
    pub zero_end: EndName,
    /// Its side.
    pub zero_side: SideName,
    /// The dial target at the other end, signed.
    pub target: String,
    /// The unit of dial values and errors.
    pub unit: String,
    /// The last reading, signed, or empty.
    pub reading: String,
    /// The tilt without sign, or empty.
    pub tilt: String,
    /// Its uncertainty (95 %), or empty.
    pub tilt_u95: String,
    /// The tolerance.
    pub limit: String,
    /// −1 the other end sits low, 0 level, 1 high.
    pub sits: i32,
    /// Tilt for the picture: rise of your right end over your left, −1 to 1 of the most that is drawn.
    pub picture_tilt: f32,
    /// How many times the tilt is exaggerated, as text.
    pub exaggeration: String,
    /// Dial for the picture: where the hand stands, as a fraction of a turn from zero (signed).
    pub dial_hand: f32,
    /// Where the target mark stands, as `dial_hand`. In [`TruePhase::First`] with an `expected_zero`: where the hand
    /// is expected to stand at the touch.
    pub dial_target: f32,
    /// The move asked for.
    pub turn: Option<Turn>,
    /// The same cure at the other adjuster.
    pub alternative: Option<Turn>,
    /// What the zero end is expected to read at the start of this round, signed, or empty.
    pub expected_zero: String,
    /// The rounds, oldest first.
    pub rounds: Vec<RoundLine>,
    /// Whether the next stage can be entered.
    pub can_go: bool,
    /// Where the touch's repeatability comes from, in the person's language, or what warns about the grinder.
    pub source: String,
    /// Where the reel will lie once the turn is made: it is then level, and so much higher, as
    /// [`Front::picture_tilt`]; `None` when no turn is asked for or was made.
    pub predicted_lift: Option<f32>,
}

/// One shim.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct ShimPiece {
    /// Its thickness with unit.
    pub text: String,
    /// Its thickness, of any unit that all pieces of the stack share.
    pub height: f32,
}

/// The shims that make up a height.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct ShimStack {
    /// The pieces, the undermost first.
    pub pieces: Vec<ShimPiece>,
    /// Their sum without unit, read from two metres.
    pub amount: String,
    /// The unit of the sum.
    pub unit: String,
    /// Their sum with unit.
    pub total: String,
    /// Sum less what is wanted, signed, with unit.
    pub error: String,
}

/// The rear roller trued to the rails.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Rear {
    /// Where it stands.
    pub phase: TruePhase,
    /// Round, counted from one.
    pub round: u32,
    /// Unit of readings and errors.
    pub unit: String,
    /// Reading at your left, or empty.
    pub left: String,
    /// Reading at your right, or empty.
    pub right: String,
    /// Which side is asked for now.
    pub side: SideName,
    /// The error without sign, or empty.
    pub error: String,
    /// Its uncertainty (95 %), or empty.
    pub error_u95: String,
    /// The tolerance.
    pub limit: String,
    /// −1 your right sits low, 0 level, 1 high.
    pub sits: i32,
    /// As in [`Front::picture_tilt`].
    pub picture_tilt: f32,
    /// How many times the error is exaggerated, as text.
    pub exaggeration: String,
    /// The move asked for.
    pub turn: Option<Turn>,
    /// What the frame allows to be done about it.
    pub remedy: Remedy,
    /// The shims; for [`Remedy::Shim`].
    pub stack: Option<ShimStack>,
    /// Where they go in.
    pub shims_side: SideName,
    /// On a fixed head: the roller in hand is the front one.
    pub front_roller: bool,
    /// The rounds, oldest first.
    pub rounds: Vec<RoundLine>,
    /// Whether the next stage can be entered.
    pub can_go: bool,
    /// The indicator's hand at your left, as a fraction of a turn from zero (signed); 0 without a reading.
    pub left_hand: f32,
    /// At your right.
    pub right_hand: f32,
}
