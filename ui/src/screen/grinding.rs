//! Clearance and Grind.

use super::{StopState, TurningName};

/// Signal words of ANSI Z535.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
#[allow(missing_docs, reason = "the names are the standard's")]
pub enum Signal {
    Danger,
    #[default]
    Warning,
    Caution,
    Notice,
}

/// An item of the gate, in the list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ItemLine {
    /// In a few words, in the person's language.
    pub short: String,
    /// How far it is.
    pub state: StopState,
}

/// The item to acknowledge now, in the person's language.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Item {
    /// Counted from one.
    pub number: u32,
    /// Its signal word.
    pub signal: Signal,
    /// What must be so.
    pub title: String,
    /// Why, and how to check.
    pub text: String,
    /// The rule behind it.
    pub reference: String,
}

/// The safety gate.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Clearance {
    /// The items, in order.
    pub items: Vec<ItemLine>,
    /// The one to acknowledge; none when the checklist is complete or blocked.
    pub current: Option<Item>,
    /// What stands in the way, each a sentence in the person's language.
    pub blocks: Vec<String>,
    /// What is being cleared.
    pub work: TurningName,
    /// Whether every item is acknowledged and nothing stands in the way: the grind may be started by a held pointer.
    pub complete: bool,
    /// The wheel's surface speed, figure.
    pub speed: String,
    /// Its unit.
    pub speed_unit: String,
    /// The spindle's speed against the wheel's rated speed: `3450 / 4200`.
    pub rpm: String,
    /// Margin below the rating in percent, signed.
    pub margin_percent: String,
    /// Whether the wheel turns within its rating.
    pub within_rating: bool,
    /// Time left before it lapses, `9:41`, or the whole time before it is complete.
    pub lapses_in: String,
    /// Passes already done when a grind was interrupted; 0 otherwise.
    pub passes_kept: u32,
    /// The noise of the day for the operator, in the person's language, or empty.
    pub noise: String,
    /// Where what stands in the way is put right.
    pub remedy: GateRemedy,
}

/// Where what stands in the gate's way is put right, if on a screen at all.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum GateRemedy {
    /// Not on a screen of its own.
    #[default]
    None,
    /// In the wheel's record.
    Wheel,
    /// At the lockout.
    Lockout,
}

/// One pass in the strip.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PassCell {
    /// Dial after it, or empty for a pass without infeed.
    pub dial: String,
    /// How far it is.
    pub state: StopState,
    /// Whether it is without infeed.
    pub spark_out: bool,
}

/// Passes.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Grind {
    /// The pass in hand, counted from one.
    pub pass: u32,
    /// All of them.
    pub passes: u32,
    /// What to dial now (largest figure); empty in a pass without infeed.
    pub dial: String,
    /// Its unit.
    pub unit: String,
    /// The dial of the pass after, or empty.
    pub next_dial: String,
    /// The strip.
    pub strip: Vec<PassCell>,
    /// Since the start, `01:12`.
    pub elapsed: String,
    /// Estimated time left, `01:22`.
    pub left: String,
    /// Expected diameter at the end, with unit.
    pub final_diameter: String,
    /// Expected land with unit, or empty.
    pub land_after: String,
    /// Who cleared it.
    pub cleared_by: String,
    /// When.
    pub cleared_at: String,
    /// All passes are done: the run-down warning stands until both have come to rest (held pointer).
    pub run_down: bool,
}
