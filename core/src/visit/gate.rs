//! The safety gate: the only maker of a [`Clearance`], and a grind cannot be built without one.
//!
//! The program is an aid. What it computes here refuses; it never says that a machine may be started,
//! and nothing here is a safety function.

use crate::calc::wheel::{WheelInput, WheelVerdict, wheel};
use crate::facts::{BenchFacts, GateItem, Per};
use crate::inputs::Switches;
use crate::moment::Moment;
use crate::quantity::SpindleSpeed;
use crate::record::RingTest;
use crate::visit::kind::Turning;
use crate::visit::refusal::Refusal;
use jiff::civil::Date;
use serde::{Deserialize, Serialize};

/// A checklist in progress. It has no way to become a grind; it can only be turned into a [`Clearance`].
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Gate {
    work: Turning,
    begun: Option<Begun>,
    done: Vec<Acknowledged>,
}

/// Who began a checklist, and over which wheel: it says nothing about another.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Begun {
    operator: String,
    bench: BenchWheel,
    at: Moment,
}

/// A mounting of a wheel on a grinder; `None` while no wheel is on record.
#[derive(Debug, Clone, PartialEq, Eq)]
struct BenchWheel {
    grinder: String,
    mounting: Option<String>,
}

impl BenchWheel {
    fn of(facts: &BenchFacts) -> Self {
        let mounting = facts.wheel.as_ref().map(|wheel| wheel.mounting.clone());
        Self { grinder: facts.grinder.name.clone(), mounting }
    }
}

/// An item that was acknowledged in this checklist.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Acknowledged {
    item: String,
    at: Moment,
}

/// Somebody named has acknowledged every item and nothing stood in the way.
///
/// Only [`Gate::clear`] makes one. It cannot be copied or read back from disk: after a restart the
/// checklist is gone through again.
#[derive(Debug, PartialEq)]
pub struct Clearance {
    work: Turning,
    operator: String,
    bench: BenchWheel,
    items: Vec<String>,
    begun: Moment,
    at: Moment,
    lapse_after_ms: u64,
}

/// What stands between a complete checklist and a clearance.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "block", rename_all = "snake_case", deny_unknown_fields)]
pub enum Block {
    /// Nobody has scanned a badge.
    NoOperator,
    /// The operator is not recorded as trained for this.
    NotTrained {
        /// Who.
        name: String,
    },
    /// No wheel is on record for this grinder.
    NoWheel,
    /// The wheel was not looked over in this shift by whoever stands at the bench.
    NotLookedOver,
    /// The wheel's record lacks its inspection before mounting.
    NotInspected,
    /// The wheel's record lacks its ring test, or why none applies.
    NoRingTest,
    /// The wheel's record lacks the speed read off the wheel.
    NoRatedSpeed,
    /// The spindle turns faster than the wheel is rated for.
    Overspeed {
        /// How fast the spindle turns.
        spindle: SpindleSpeed,
        /// What the wheel is rated for.
        rated: SpindleSpeed,
    },
    /// The grinder's check is overdue and no lead has overridden that.
    CheckOverdue {
        /// Until when it counted.
        due: Date,
    },
    /// The last check found the grinder out of true and no lead has overridden that.
    OutOfTrue {
        /// When it was checked.
        checked: Date,
    },
    /// A lockout is open on the grinder.
    LockedOut {
        /// The lock's number.
        lock: String,
        /// Who put it on.
        by: String,
    },
    /// A lead took off the lock of whoever stands at the bench, and they have not been told so.
    OwnerNotTold {
        /// The lock's number.
        lock: String,
        /// The lead.
        by: String,
    },
    /// The guard's switch says open.
    GuardOpen,
    /// The stop's switch says pressed.
    StopPressed,
    /// The switches have not answered for too long, or not for long enough again: what they say now is not known.
    InputsStale,
    /// There is no connection to what reads the switches.
    InputsLost,
}

/// Why a clearance no longer holds.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "lapse", rename_all = "snake_case", deny_unknown_fields)]
pub enum LapseReason {
    /// Not started in time, or not in the shift that an item was acknowledged in.
    Time,
    /// Another operator, or none, stands at the bench.
    Operator,
    /// Another wheel was mounted.
    Wheel,
    /// Something that blocks a clearance came up.
    Blocked(Block),
    /// The kiosk's process started again.
    Restart,
}

/// All that stands in the way, whatever was acknowledged.
pub fn blocks(facts: &BenchFacts) -> Vec<Block> {
    let mut found = Vec::new();
    match &facts.operator {
        None => found.push(Block::NoOperator),
        Some(operator) if !operator.trained => found.push(Block::NotTrained { name: operator.name.clone() }),
        Some(_) => {}
    }
    found.extend(wheel_blocks(facts));
    let grinder = &facts.grinder;
    if !grinder.overridden(facts.today) {
        if facts.today > grinder.check_due {
            found.push(Block::CheckOverdue { due: grinder.check_due });
        }
        found.extend(grinder.out_of_true().map(|check| Block::OutOfTrue { checked: check.date }));
    }
    if let Some(lockout) = &facts.lockout {
        let padlock = lockout.padlock();
        found.push(Block::LockedOut { lock: padlock.number.clone(), by: padlock.by.clone() });
    }
    if let Some(release) = &facts.untold {
        found.push(Block::OwnerNotTold { lock: release.padlock.number.clone(), by: release.by.clone() });
    }
    found.extend(Switches::of(facts).fault());
    found
}

/// What says that somebody may have hands in the machine. Nothing is acknowledged while it stands, and a
/// checklist that it interrupts is begun again: "all clear" from before does not count after.
fn hands_in(facts: &BenchFacts) -> Option<Block> {
    blocks(facts).into_iter().find(|block| match block {
        Block::LockedOut { .. } | Block::GuardOpen | Block::StopPressed | Block::InputsStale | Block::InputsLost => {
            true
        }
        Block::NoOperator
        | Block::NotTrained { .. }
        | Block::NoWheel
        | Block::NotLookedOver
        | Block::OwnerNotTold { .. }
        | Block::NotInspected
        | Block::NoRingTest
        | Block::NoRatedSpeed
        | Block::Overspeed { .. }
        | Block::CheckOverdue { .. }
        | Block::OutOfTrue { .. } => false,
    })
}

fn wheel_blocks(facts: &BenchFacts) -> Vec<Block> {
    let Some(mounted) = &facts.wheel else { return vec![Block::NoWheel] };
    let mut found = Vec::new();
    if !mounted.inspected {
        found.push(Block::NotInspected);
    }
    if mounted.ring_test == RingTest::Missing {
        found.push(Block::NoRingTest);
    }
    if facts.gate.look_over && !facts.gate.items.iter().any(|item| item.look_over) && !looked_over(facts) {
        found.push(Block::NotLookedOver);
    }
    let Some(rated) = mounted.rated_speed else {
        found.push(Block::NoRatedSpeed);
        return found;
    };
    let spindle = facts.grinder.spindle_speed;
    let speeds =
        WheelInput { diameter: mounted.diameter.length(), spindle_speed: spindle, rated_speed: rated, reel: None };
    // A record whose numbers cannot be computed with is as good as no rating.
    let within = wheel(&speeds).is_ok_and(|speed| speed.verdict == WheelVerdict::WithinRating);
    if !within {
        found.push(Block::Overspeed { spindle, rated });
    }
    found
}

impl Gate {
    /// An empty checklist towards a grind: nothing is ever ticked beforehand.
    pub const fn new() -> Self {
        Self::towards(Turning::Grind)
    }

    /// An empty checklist towards some turning work.
    pub const fn towards(work: Turning) -> Self {
        Self { work, begun: None, done: Vec::new() }
    }

    /// For which turning work it is gone through.
    pub const fn work(&self) -> Turning {
        self.work
    }

    /// The items of the list that this turning work is asked for.
    fn items<'facts>(&self, facts: &'facts BenchFacts) -> impl Iterator<Item = &'facts GateItem> {
        let work = self.work;
        facts.gate.items.iter().filter(move |item| item.concerns(work))
    }

    /// The items that are asked in this checklist, in order: those that an earlier acknowledgement still covers are left out.
    pub fn asked<'facts>(&self, facts: &'facts BenchFacts) -> Vec<&'facts str> {
        let asked = |item: &&GateItem| self.is_done(&item.id) || !covered(item, facts);
        self.items(facts).filter(asked).map(|item| item.id.as_str()).collect()
    }

    /// Whether an item was acknowledged in this checklist.
    pub fn is_done(&self, item: &str) -> bool {
        self.done.iter().any(|done| done.item == item)
    }

    /// The item to acknowledge now.
    pub fn current<'facts>(&self, facts: &'facts BenchFacts) -> Option<&'facts str> {
        self.asked(facts).into_iter().find(|item| !self.is_done(item))
    }

    /// Acknowledges the item in hand, and only that one, by the operator who stands at the bench.
    ///
    /// # Errors
    /// Refused without a trained operator, out of turn, by another operator than began, when the pointer was not held
    /// long enough, when the checklist has lapsed, or while a lockout or the guard says that hands may be in.
    pub fn acknowledge(&self, facts: &BenchFacts, item: &str, held_ms: u64, now: &Moment) -> Result<Self, Refusal> {
        let operator = facts.operator.as_ref().ok_or(Refusal::Blocked(Block::NoOperator))?;
        if !operator.trained {
            return Err(Refusal::Blocked(Block::NotTrained { name: operator.name.clone() }));
        }
        if held_ms < facts.gate.hold_ms {
            return Err(Refusal::HeldTooShort { held_ms, wanted_ms: facts.gate.hold_ms });
        }
        if let Some(block) = hands_in(facts) {
            return Err(Refusal::Blocked(block));
        }
        if self.begun.as_ref().is_some_and(|begun| begun.operator != operator.id) {
            return Err(Refusal::AnotherOperator);
        }
        if let Some(reason) = self.lapse(facts, now) {
            return Err(Refusal::Lapsed(reason));
        }
        if self.current(facts) != Some(item) {
            return Err(Refusal::NotThisItem);
        }
        let mut next = self.clone();
        if next.begun.is_none() {
            let bench = BenchWheel::of(facts);
            next.begun = Some(Begun { operator: operator.id.clone(), bench, at: now.clone() });
        }
        next.done.push(Acknowledged { item: item.to_owned(), at: now.clone() });
        Ok(next)
    }

    /// Whether every item is acknowledged. A list of nothing is no checklist and is never complete.
    pub fn complete(&self, facts: &BenchFacts) -> bool {
        self.items(facts).next().is_some() && self.current(facts).is_none()
    }

    /// Turns a complete checklist into a clearance.
    ///
    /// # Errors
    /// Refused while an item is open or anything stands in the way, and when the checklist has lapsed.
    pub fn clear(&self, facts: &BenchFacts, now: &Moment) -> Result<Clearance, Refusal> {
        if let Some(block) = blocks(facts).into_iter().next() {
            return Err(Refusal::Blocked(block));
        }
        if !self.complete(facts) {
            return Err(Refusal::ItemsOpen);
        }
        let operator = facts.operator.as_ref().ok_or(Refusal::Blocked(Block::NoOperator))?;
        if self.begun.as_ref().is_some_and(|begun| begun.operator != operator.id) {
            return Err(Refusal::AnotherOperator);
        }
        if let Some(reason) = self.lapse(facts, now) {
            return Err(Refusal::Lapsed(reason));
        }
        Ok(Clearance {
            work: self.work,
            operator: operator.id.clone(),
            bench: BenchWheel::of(facts),
            items: self.done.iter().map(|done| done.item.clone()).collect(),
            // Neither the block that went away nor a last item makes an old list young.
            begun: self.begun.as_ref().map_or_else(|| now.clone(), |begun| begun.at.clone()),
            at: self.done.last().map_or_else(|| now.clone(), |done| done.at.clone()),
            lapse_after_ms: facts.gate.lapse_after_ms,
        })
    }

    /// Why this checklist must be begun again, if it must.
    pub fn lapse(&self, facts: &BenchFacts, now: &Moment) -> Option<LapseReason> {
        let begun = self.begun.as_ref()?;
        changed(&begun.operator, &begun.bench, facts)
            .or_else(|| hands_in(facts).map(LapseReason::Blocked))
            .or_else(|| aged(&begun.at, facts.gate.lapse_after_ms, now))
            .or_else(|| self.done.last().and_then(|done| ran_back(&done.at, now)))
    }
}

impl Default for Gate {
    fn default() -> Self {
        Self::new()
    }
}

/// Whether somebody else stands at the bench, or another wheel is mounted on it.
fn changed(operator: &str, bench: &BenchWheel, facts: &BenchFacts) -> Option<LapseReason> {
    if facts.operator.as_ref().map(|operator| operator.id.as_str()) != Some(operator) {
        return Some(LapseReason::Operator);
    }
    (BenchWheel::of(facts) != *bench).then_some(LapseReason::Wheel)
}

/// Whether something that was seen to be so is too long ago.
fn aged(since: &Moment, lapse_after_ms: u64, now: &Moment) -> Option<LapseReason> {
    match now.since(since) {
        None => Some(LapseReason::Restart),
        Some(age) => (age.as_millis() > u128::from(lapse_after_ms)).then_some(LapseReason::Time),
    }
}

/// A count that ran back behind something that was seen later makes everything look younger than it is.
fn ran_back(seen: &Moment, now: &Moment) -> Option<LapseReason> {
    now.since(seen).is_none().then_some(LapseReason::Restart)
}

/// Whether whoever stands at the bench looked the wheel over in this shift.
fn looked_over(facts: &BenchFacts) -> bool {
    let (Some(operator), Some(wheel)) = (&facts.operator, &facts.wheel) else { return false };
    wheel.looked_over_by(&operator.id, &facts.shift)
}

fn covered(item: &GateItem, facts: &BenchFacts) -> bool {
    let (Some(operator), Some(wheel)) = (&facts.operator, &facts.wheel) else { return false };
    if item.look_over && item.per != Per::Grind && looked_over(facts) {
        return true;
    }
    facts.acknowledged.iter().filter(|prior| prior.item == item.id).any(|prior| match item.per {
        Per::Grind => false,
        Per::Shift => {
            prior.shift == facts.shift
                && prior.operator == operator.id
                && prior.mounting == wheel.mounting
                && prior.grinder == facts.grinder.name
        }
        Per::Mounting => prior.mounting == wheel.mounting && prior.grinder == facts.grinder.name,
    })
}

impl Clearance {
    /// The turning work that it is for; no other can be started with it.
    pub const fn work(&self) -> Turning {
        self.work
    }

    /// Who was cleared.
    pub fn operator(&self) -> &str {
        &self.operator
    }

    /// The items that were acknowledged for it, in order.
    pub fn items(&self) -> impl Iterator<Item = &str> {
        self.items.iter().map(String::as_str)
    }

    /// When the last item was acknowledged.
    pub const fn at(&self) -> &Moment {
        &self.at
    }

    /// From when its time to lapse counts: when its first item was acknowledged, so that no item is older than that.
    pub const fn counts_from(&self) -> &Moment {
        &self.begun
    }

    /// How long it counts without a start, milliseconds.
    pub const fn lapse_after_ms(&self) -> u64 {
        self.lapse_after_ms
    }

    /// Why it no longer holds before the start, if it does not.
    pub fn lapse(&self, facts: &BenchFacts, now: &Moment) -> Option<LapseReason> {
        // An item that an earlier acknowledgement covered is open again once the shift has ended.
        let open =
            |item: &GateItem| item.concerns(self.work) && !self.items.contains(&item.id) && !covered(item, facts);
        self.lapse_while_running(facts)
            .or_else(|| aged(&self.begun, self.lapse_after_ms, now))
            .or_else(|| ran_back(&self.at, now))
            .or_else(|| facts.gate.items.iter().any(open).then_some(LapseReason::Time))
    }

    /// Why it no longer holds once passes are being made: all but the time to start.
    pub fn lapse_while_running(&self, facts: &BenchFacts) -> Option<LapseReason> {
        changed(&self.operator, &self.bench, facts)
            .or_else(|| blocks(facts).into_iter().next().map(LapseReason::Blocked))
    }

    /// Only for a visit that is about to replace the one it stands in; no second grind comes of it.
    pub(super) fn handed_on(&self) -> Self {
        Self {
            work: self.work,
            operator: self.operator.clone(),
            bench: self.bench.clone(),
            items: self.items.clone(),
            begun: self.begun.clone(),
            at: self.at.clone(),
            lapse_after_ms: self.lapse_after_ms,
        }
    }
}
