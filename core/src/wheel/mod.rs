//! The wheel's record: mounting, the look at the shift's beginning, its diameter as it wears, scrapping.
//!
//! Every hand on the wheel is under a lockout that was tried and proved dead ([`crate::lockout::Dead`]). What a mounting
//! lacks is written down as lacking, and the gate stays shut over it: a record that must say "inspected" is filled in
//! whether it is true or not.

mod size;

pub use size::{SmallestBy, WheelRules, smallest_useful};

use crate::calc::error::CalcError;
use crate::calc::limits;
use crate::facts::BenchFacts;
use crate::lockout::{Dead, Lockout, Padlock};
use crate::quantity::SpindleSpeed;
use crate::reading::Reading;
use crate::record::{LookedOver, Measured, Mounted, Operator, RingTest, Wheel};
use jiff::civil::Date;
use serde::{Deserialize, Serialize};
use thiserror::Error;

/// The longest description.
pub const DESCRIPTION_MOST: usize = 40;
/// The longest reason.
const REASON_MOST: usize = 200;

/// What a wheel is, as far as its ring goes.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "bond", rename_all = "snake_case", deny_unknown_fields)]
pub enum WheelKind {
    /// Vitrified bond: rings clear when sound.
    Vitrified {
        /// How it rang.
        rang: Rang,
    },
    /// Resinoid, rubber or another organic bond: rings lower, and still tells a crack.
    Organic {
        /// How it rang.
        rang: Rang,
    },
    /// Small, cup-shaped with a fixture, segmented or steel-cored: it does not ring, cracked or not.
    DoesNotRing {
        /// Which, in the words that stood on the screen.
        shape: String,
    },
}

/// How a wheel rang, tapped dry and off the spindle.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Rang {
    /// Clear.
    Clear,
    /// Dull or dead: it is not mounted.
    Dull,
    /// Nobody tapped it.
    NotTested,
}

impl WheelKind {
    /// What the record says of its ring test; nothing for one that rang dull, which is never mounted.
    fn ring_test(&self) -> Option<RingTest> {
        match self {
            Self::DoesNotRing { shape } => Some(RingTest::NotApplicable(shape.clone())),
            Self::Vitrified { rang } | Self::Organic { rang } => match rang {
                Rang::Clear => Some(RingTest::Clear),
                Rang::NotTested => Some(RingTest::Missing),
                Rang::Dull => None,
            },
        }
    }
}

/// A wheel as it goes onto the spindle.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct NewWheel {
    /// Grit, grade and shape as the shop calls them; no maker is needed.
    pub description: String,
    /// What it is, and how it rang.
    pub kind: WheelKind,
    /// Its diameter.
    pub diameter: Reading,
    /// The greatest speed, read off the wheel itself.
    pub rated_speed: SpindleSpeed,
    /// Whether it was looked over for chips and cracks before this mounting.
    pub inspected: bool,
}

/// Everything that can happen to the wheel. Each is written to the journal before it is shown as done.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "event", rename_all = "snake_case", deny_unknown_fields)]
pub enum WheelEvent {
    /// A wheel is on the spindle, in the place of the one before: a pointer was held.
    WheelMounted {
        /// The mounting's own name.
        mounting: String,
        /// The wheel.
        wheel: Box<NewWheel>,
        /// For how long, milliseconds.
        held_ms: u64,
    },
    /// The wheel was looked over in this shift: a pointer was held.
    WheelLookedOver {
        /// For how long, milliseconds.
        held_ms: u64,
    },
    /// Its diameter was measured, worn as it is: a pointer was held.
    WheelMeasured {
        /// The diameter.
        diameter: Reading,
        /// For how long, milliseconds.
        held_ms: u64,
    },
    /// The wheel is off and does not come back.
    WheelScrapped {
        /// Why, in the words that stood on the screen.
        reason: String,
    },
}

/// A wheel that is off the spindle.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PastWheel {
    /// As it stood at the end.
    pub wheel: Wheel,
    /// The day it came off.
    pub off: Date,
    /// Who took it off, initials.
    pub by: String,
    /// Why it was scrapped; nothing for one that was taken off for another.
    pub scrapped: Option<String>,
}

/// Why an event was not taken.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum WheelRefusal {
    /// Nobody signed on.
    #[error("nobody signed on")]
    NoOperator,
    /// Not trained for the bench.
    #[error("{name} is not recorded as trained")]
    NotTrained {
        /// Who.
        name: String,
    },
    /// The pointer was let go too early.
    #[error("held {held_ms} ms of {wanted_ms} ms")]
    HeldTooShort {
        /// How long it was held, milliseconds.
        held_ms: u64,
        /// How long it must be, milliseconds.
        wanted_ms: u64,
    },
    /// No lock is on, or it was not tried and proved dead.
    #[error("not under a lockout that was tried and proved dead")]
    LockoutNeeded,
    /// Another person's lock is on.
    #[error("lock {lock} is {by}'s")]
    LockOfAnother {
        /// Its number.
        lock: String,
        /// Whose.
        by: String,
    },
    /// No wheel is on the spindle.
    #[error("no wheel is on record")]
    NoWheel,
    /// A wheel does not grow.
    #[error("{measured:?} is more than the {before:?} on record")]
    Grown {
        /// What was measured.
        measured: Reading,
        /// What stands in the record.
        before: Reading,
    },
    /// No description, or a whole letter.
    #[error("a description has 1 to {most} characters, not {length}")]
    Description {
        /// How many it has.
        length: usize,
        /// The most.
        most: usize,
    },
    /// It rang dull: it is not mounted.
    #[error("the wheel rang dull")]
    RangDull,
    /// The spindle turns faster than the wheel is rated for.
    #[error("spindle {spindle:?} above the rating {rated:?}")]
    Overspeed {
        /// How fast the spindle turns.
        spindle: SpindleSpeed,
        /// What the wheel is rated for.
        rated: SpindleSpeed,
    },
    /// A reason that says nothing, or a whole letter.
    #[error("a reason has 1 to {most} characters")]
    NoReason {
        /// The most.
        most: usize,
    },
    /// Numbers that no wheel has.
    #[error(transparent)]
    Calculation(#[from] CalcError),
}

/// What a step gives.
#[derive(Debug, Clone, PartialEq)]
pub struct WheelStepped {
    /// The wheel on the spindle now.
    pub wheel: Option<Wheel>,
    /// The one that came off.
    pub past: Option<PastWheel>,
}

/// Takes one event of the wheel's record.
///
/// # Errors
/// [`WheelRefusal`]; the record stays as it was.
pub fn step(facts: &BenchFacts, event: &WheelEvent) -> Result<WheelStepped, WheelRefusal> {
    let operator = facts.operator.as_ref().ok_or(WheelRefusal::NoOperator)?;
    if !operator.trained {
        return Err(WheelRefusal::NotTrained { name: operator.name.clone() });
    }
    let dead = hands_on(facts)?;
    match event {
        WheelEvent::WheelMounted { mounting, wheel, held_ms } => {
            held_long_enough(facts, *held_ms)?;
            let mounted = mounted(dead, mounting, wheel, facts, operator)?;
            Ok(WheelStepped { wheel: Some(mounted), past: past(facts, operator, None) })
        }
        WheelEvent::WheelLookedOver { held_ms } => {
            held_long_enough(facts, *held_ms)?;
            let wheel = looked_over(facts).ok_or(WheelRefusal::NoWheel)?;
            Ok(WheelStepped { wheel: Some(wheel), past: None })
        }
        WheelEvent::WheelMeasured { diameter, held_ms } => {
            held_long_enough(facts, *held_ms)?;
            Ok(WheelStepped { wheel: Some(measured(facts, operator, *diameter)?), past: None })
        }
        WheelEvent::WheelScrapped { reason } => {
            let reason = reason.trim();
            if !(1..=REASON_MOST).contains(&reason.chars().count()) {
                return Err(WheelRefusal::NoReason { most: REASON_MOST });
            }
            let past = past(facts, operator, Some(reason)).ok_or(WheelRefusal::NoWheel)?;
            Ok(WheelStepped { wheel: None, past: Some(past) })
        }
    }
}

/// The wheel as looked over in this shift by whoever stands at the bench: by hand under a lockout, or as an item of the
/// gate that is marked so.
pub fn looked_over(facts: &BenchFacts) -> Option<Wheel> {
    let operator = facts.operator.as_ref()?;
    let look = LookedOver {
        shift: facts.shift.clone(),
        badge: operator.id.clone(),
        initials: operator.initials.clone(),
        on: facts.today,
    };
    facts.wheel.clone().map(|wheel| Wheel { looked_over: Some(look), ..wheel })
}

/// The proof that whoever stands at the bench may have hands on the wheel: their own lock, tried and proved dead.
///
/// # Errors
/// Nobody signed on, no such lock, or another person's.
pub fn hands_on(facts: &BenchFacts) -> Result<&Dead, WheelRefusal> {
    let operator = facts.operator.as_ref().ok_or(WheelRefusal::NoOperator)?;
    match &facts.lockout {
        Some(lockout) if !lockout.is_of(operator) => {
            let Padlock { number, by, .. } = lockout.padlock().clone();
            Err(WheelRefusal::LockOfAnother { lock: number, by })
        }
        lockout => lockout.as_ref().and_then(Lockout::dead).ok_or(WheelRefusal::LockoutNeeded),
    }
}

/// The wheel with the diameter that it has worn down to.
fn measured(facts: &BenchFacts, operator: &Operator, diameter: Reading) -> Result<Wheel, WheelRefusal> {
    let wheel = facts.wheel.clone().ok_or(WheelRefusal::NoWheel)?;
    limits::WHEEL_DIAMETER.check("diameter", diameter.length())?;
    if diameter > wheel.diameter {
        return Err(WheelRefusal::Grown { measured: diameter, before: wheel.diameter });
    }
    let by = Measured { by: operator.initials.clone(), on: facts.today };
    Ok(Wheel { diameter, measured: Some(by), ..wheel })
}

fn held_long_enough(facts: &BenchFacts, held_ms: u64) -> Result<(), WheelRefusal> {
    let wanted_ms = facts.gate.hold_ms;
    if held_ms < wanted_ms { Err(WheelRefusal::HeldTooShort { held_ms, wanted_ms }) } else { Ok(()) }
}

/// A mounting takes the proof that the machine is dead: there is no other way to make one.
fn mounted(
    dead: &Dead,
    mounting: &str,
    new: &NewWheel,
    facts: &BenchFacts,
    operator: &Operator,
) -> Result<Wheel, WheelRefusal> {
    let description = new.description.trim();
    let length = description.chars().count();
    if !(1..=DESCRIPTION_MOST).contains(&length) {
        return Err(WheelRefusal::Description { length, most: DESCRIPTION_MOST });
    }
    limits::WHEEL_DIAMETER.check("diameter", new.diameter.length())?;
    limits::SPINDLE.check("rated_rpm", new.rated_speed)?;
    let (spindle, rated) = (facts.grinder.spindle_speed, new.rated_speed);
    // Before mounting: 29 CFR 1910.215(d)(1).
    if spindle > rated {
        return Err(WheelRefusal::Overspeed { spindle, rated });
    }
    let ring_test = new.kind.ring_test().ok_or(WheelRefusal::RangDull)?;
    Ok(Wheel {
        mounting: mounting.to_owned(),
        diameter: new.diameter,
        rated_speed: Some(rated),
        inspected: new.inspected,
        ring_test,
        mounted: Some(Box::new(Mounted {
            description: description.to_owned(),
            diameter: new.diameter,
            by: operator.initials.clone(),
            on: facts.today,
            lock: dead.padlock().number.clone(),
        })),
        looked_over: None,
        measured: None,
    })
}

fn past(facts: &BenchFacts, operator: &Operator, scrapped: Option<&str>) -> Option<PastWheel> {
    let wheel = facts.wheel.clone()?;
    Some(PastWheel { wheel, off: facts.today, by: operator.initials.clone(), scrapped: scrapped.map(str::to_owned) })
}

#[cfg(test)]
mod tests;
