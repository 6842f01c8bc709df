//! The wheel's record, the lockout, and the forms in which both are written down.

use super::{FieldRow, SettingRow};

/// How the wheel's record stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum WheelState {
    /// No wheel is on the spindle.
    #[default]
    None,
    /// Everything is written down.
    Complete,
    /// Something is missing: the gate stays shut.
    Incomplete,
    /// It is worn below its smallest useful diameter.
    Worn,
}

/// The wheel on the spindle.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct WheelCard {
    /// How its record stands.
    pub state: WheelState,
    /// What it is, as it was written down.
    pub description: String,
    /// What stands in the gate's way, in the person's language.
    pub missing: Vec<String>,
    /// Its diameter now.
    pub diameter: String,
    /// The unit of diameters.
    pub unit: String,
    /// What is known of how it came to that diameter, in the person's language.
    pub diameter_foot: String,
    /// Its surface speed.
    pub speed: String,
    /// Unit of that.
    pub speed_unit: String,
    /// Spindle and rating.
    pub rpm: String,
    /// How far below the rating, in percent.
    pub margin_percent: String,
    /// Whether the spindle is within the rating.
    pub within_rating: bool,
    /// Its smallest useful diameter.
    pub smallest: String,
    /// What sets that, in the person's language.
    pub smallest_foot: String,
    /// What else is on record of it.
    pub lines: Vec<FieldRow>,
    /// The wheels before it, in the person's language, the last first.
    pub before: Vec<String>,
    /// A lockout of whoever stands there was proved dead: hands may go on the wheel.
    pub locked: bool,
}

/// How far a lockout has come, for whoever stands at the bench.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum LockPhase {
    /// No lock is on.
    #[default]
    Free,
    /// It is on: try it.
    Applied,
    /// It was tried: prove it dead.
    Tried,
    /// It was proved dead: work.
    Dead,
    /// A lead took this person's lock off: they are told.
    Told,
    /// It comes off.
    Off,
}

/// The lockout.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct LockoutCard {
    /// How far it has come.
    pub phase: LockPhase,
    /// The lock's number.
    pub number: String,
    /// Whose it is.
    pub owner: String,
    /// What it is on.
    pub to: String,
    /// Since when, time of day.
    pub since: String,
    /// Whether it is the lock of whoever stands at the bench.
    pub own: bool,
    /// Whether whoever stands there may take it off by exception.
    pub may_force: bool,
    /// Whether somebody stands at the bench.
    pub signed_on: bool,
    /// What is told of a lock that was taken off, in the person's language.
    pub told: String,
}

/// What a form writes down.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum FormKind {
    /// A wheel that was mounted.
    #[default]
    Mount,
    /// A lock that was put on.
    LockOn,
    /// A lock that a lead takes off.
    ForceRelease,
    /// A wheel that does not come back.
    Scrap,
    /// The diameter that a wheel has worn down to.
    Measure,
}

/// A form, one value at a time; it is kept by a hold.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Form {
    /// What it writes down.
    pub kind: FormKind,
    /// The values, ready to show.
    pub rows: Vec<SettingRow>,
    /// What is asked now, in the person's language.
    pub asked: String,
    /// What it means, in one sentence.
    pub explained: String,
    /// What can be chosen, where one of a few is asked.
    pub choices: Vec<String>,
    /// Letters are asked: the text as it stands.
    pub letters: Option<String>,
    /// Everything is there.
    pub complete: bool,
}
