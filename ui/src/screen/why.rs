//! Why a figure is what it is: the formula with the numbers put in.

use super::StopName;

/// The figures that can be asked about, one for each that is computed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum WhyOf {
    /// Receive: how much of the reel's wear is used.
    #[default]
    Worn,
    /// Receive: how many grinds are left.
    GrindsLeft,
    /// Receive: how many people lift it.
    Lifting,
    /// Tape: leading less trailing.
    Cone,
    /// Tape: the middle against the ends.
    Barrel,
    /// Tape and Front: what the dial shows at the other end when level.
    Target,
    /// Tape: the circle through the blade tips.
    TipCircle,
    /// Tape: how much of the reel's wear is used.
    WearUsed,
    /// Front: how the other end sits, and what that is worth.
    Tilt,
    /// Front: how much to turn.
    FrontTurn,
    /// Front: what the zero end will read after the turn.
    Rezero,
    /// Front: how many touches can prove it.
    TouchesNeeded,
    /// Rear: how the right end sits, and what that is worth.
    RearError,
    /// Rear: how much to turn.
    RearTurn,
    /// Clearance: speed of the wheel's surface.
    SurfaceSpeed,
    /// Clearance: how far below its rating the wheel turns.
    Margin,
    /// Grind: what the dial is set to for this pass, and how many there are.
    Dial,
    /// Grind: the diameter at the end.
    FinalDiameter,
    /// Grind: the time left.
    TimeLeft,
    /// Grind: the land at the end.
    LandAfter,
    /// Prove: the cone, what it is worth and what follows.
    ProvedCone,
    /// Prove: what was taken off.
    Removed,
    /// Prove: whether it agrees with what Front left.
    Misclosure,
    /// Return: when it is due next.
    NextDue,
}

impl WhyOf {
    /// All, in the order of a visit.
    pub const ALL: [Self; 24] = [
        Self::Worn,
        Self::GrindsLeft,
        Self::Lifting,
        Self::Cone,
        Self::Barrel,
        Self::Target,
        Self::TipCircle,
        Self::WearUsed,
        Self::Tilt,
        Self::FrontTurn,
        Self::Rezero,
        Self::TouchesNeeded,
        Self::RearError,
        Self::RearTurn,
        Self::SurfaceSpeed,
        Self::Margin,
        Self::Dial,
        Self::FinalDiameter,
        Self::TimeLeft,
        Self::LandAfter,
        Self::ProvedCone,
        Self::Removed,
        Self::Misclosure,
        Self::NextDue,
    ];

    /// Its place in [`WhyOf::ALL`], by which a press names it.
    pub const fn index(self) -> usize {
        self as usize
    }
}

/// How the printed result came from the value.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Rounded {
    /// To the nearest.
    #[default]
    Nearest,
    /// Never down: an uncertainty claims no more than was proved.
    Up,
}

/// One line of reckoning, the same in every language: with letters, and with the numbers put in for them.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Formula {
    /// With letters, such as `t = (R − T) ÷ k`.
    pub letters: String,
    /// With numbers, such as `(26.0 − 20.0) ÷ 2`. A comparison holds its sign, such as `3.0 > 2.0`.
    pub numbers: String,
    /// What comes out, without unit; empty for a comparison, and where the unknown stands in the numbers.
    pub result: String,
    /// The unit of what comes out; empty when it has none.
    pub unit: String,
    /// How what comes out was rounded.
    pub rounded: Rounded,
}

/// One number that went in.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct WhyInput {
    /// Its letter.
    pub letter: String,
    /// Its value with unit.
    pub value: String,
    /// What it is, in the person's language.
    pub name: String,
    /// Where it came from, in the person's language.
    pub origin: String,
}

/// Why a figure is what it is.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Why {
    /// Which figure.
    pub of: WhyOf,
    /// The stage it stands in.
    pub stop: Option<StopName>,
    /// What it is, in the person's language.
    pub title: String,
    /// The figure as it stands on its screen, with sign, uncertainty and unit.
    pub result: String,
    /// What follows from it, in the person's language, or empty.
    pub follows: String,
    /// The reckoning, one to three lines.
    pub formulas: Vec<Formula>,
    /// What went in.
    pub inputs: Vec<WhyInput>,
    /// Where the formula is from, in the person's language.
    pub source: String,
    /// Whether something that is only assumed went in.
    pub estimate: bool,
}
