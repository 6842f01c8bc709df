//! The wheel's record: situation, event, verdict.
#![allow(clippy::unwrap_used, clippy::panic)]

use super::{NewWheel, Rang, WheelEvent, WheelKind, WheelRefusal, WheelStepped, step};
use crate::facts::BenchFacts;
use crate::quantity::SpindleSpeed;
use crate::reading::{EntryUnit, Reading};
use crate::record::RingTest;
use crate::visit::bench_for_tests as bench;
use crate::visit::gate::{Block, Gate, blocks};

fn inch(text: &str) -> Reading {
    Reading::parse(text, EntryUnit::Inch).unwrap()
}

fn new_wheel() -> NewWheel {
    NewWheel {
        description: "60 grit, soft, straight".to_owned(),
        kind: WheelKind::Vitrified { rang: Rang::Clear },
        diameter: inch("6"),
        rated_speed: SpindleSpeed::from_rpm(4_140.0),
        inspected: true,
    }
}

fn mount(wheel: NewWheel) -> WheelEvent {
    WheelEvent::WheelMounted { mounting: "M-4".to_owned(), wheel: Box::new(wheel), held_ms: 1_000 }
}

const LOOK: WheelEvent = WheelEvent::WheelLookedOver { held_ms: 1_000 };

fn scrap(reason: &str) -> WheelEvent {
    WheelEvent::WheelScrapped { reason: reason.to_owned() }
}

/// The bench under its operator's own lock, tried and proved dead.
fn locked() -> BenchFacts {
    BenchFacts { lockout: Some(bench::locked("B-1", "AM")), ..bench::facts() }
}

#[track_caller]
fn refused(facts: &BenchFacts, event: &WheelEvent, refusal: &WheelRefusal) {
    assert_eq!(step(facts, event).as_ref(), Err(refusal), "{event:?}");
}

#[test]
fn a_wheel_comes_on_and_the_one_before_is_kept() {
    let facts = locked();
    let WheelStepped { wheel, past } = step(&facts, &mount(new_wheel())).unwrap();
    let wheel = wheel.unwrap();
    let mounted = wheel.mounted.clone().unwrap();
    assert_eq!((mounted.by.as_str(), mounted.on, mounted.lock.as_str()), ("AM", facts.today, "7"));
    assert_eq!((wheel.ring_test.clone(), wheel.looked_over.clone()), (RingTest::Clear, None));
    let past = past.unwrap();
    assert_eq!((past.wheel.mounting.as_str(), past.scrapped), ("M-3", None));
    let after = BenchFacts { wheel: Some(wheel), lockout: None, ..facts };
    assert_eq!(blocks(&after), []);
}

#[test]
fn no_hand_on_the_wheel_without_a_lockout_of_one_s_own_that_was_proved_dead() {
    let open = bench::facts();
    let half = |lockout| BenchFacts { lockout: Some(lockout), ..bench::facts() };
    let by = LockOf { lock: "7", by: "Operator BN" };
    for event in [mount(new_wheel()), LOOK, scrap("worn")] {
        refused(&open, &event, &WheelRefusal::LockoutNeeded);
        refused(&half(bench::lock_hung("B-1", "AM")), &event, &WheelRefusal::LockoutNeeded);
        refused(&half(bench::lock_tried("B-1", "AM")), &event, &WheelRefusal::LockoutNeeded);
        refused(&half(bench::locked("B-2", "BN")), &event, &by.refusal());
        assert!(step(&locked(), &event).is_ok(), "{event:?}");
    }
}

struct LockOf {
    lock: &'static str,
    by: &'static str,
}

impl LockOf {
    fn refusal(&self) -> WheelRefusal {
        WheelRefusal::LockOfAnother { lock: self.lock.to_owned(), by: self.by.to_owned() }
    }
}

/// 29 CFR 1910.215(d)(1): inspected and rung immediately before mounting, speed checked before mounting.
#[test]
fn what_a_mounting_lacks_is_written_down_and_blocks_the_gate() {
    let table: [(NewWheel, Vec<Block>); 4] = [
        (NewWheel { inspected: false, ..new_wheel() }, vec![Block::NotInspected]),
        (NewWheel { kind: WheelKind::Vitrified { rang: Rang::NotTested }, ..new_wheel() }, vec![Block::NoRingTest]),
        (
            NewWheel { kind: WheelKind::Organic { rang: Rang::NotTested }, inspected: false, ..new_wheel() },
            vec![Block::NotInspected, Block::NoRingTest],
        ),
        (NewWheel { kind: WheelKind::DoesNotRing { shape: "cup".to_owned() }, ..new_wheel() }, vec![]),
    ];
    for (wheel, expected) in table {
        let mounted = step(&locked(), &mount(wheel.clone())).unwrap().wheel;
        let facts = BenchFacts { wheel: mounted, ..bench::facts() };
        assert_eq!(blocks(&facts), expected, "{wheel:?}");
    }
}

#[test]
fn a_wheel_that_may_burst_is_not_mounted_at_all() {
    let facts = locked();
    for kind in [WheelKind::Vitrified { rang: Rang::Dull }, WheelKind::Organic { rang: Rang::Dull }] {
        refused(&facts, &mount(NewWheel { kind, ..new_wheel() }), &WheelRefusal::RangDull);
    }
    let rated = SpindleSpeed::from_rpm(3_449.0);
    let overspeed = WheelRefusal::Overspeed { spindle: facts.grinder.spindle_speed, rated };
    refused(&facts, &mount(NewWheel { rated_speed: rated, ..new_wheel() }), &overspeed);
    // Equal is within the rating.
    let equal = NewWheel { rated_speed: facts.grinder.spindle_speed, ..new_wheel() };
    assert!(step(&facts, &mount(equal)).is_ok());
    for wheel in [
        NewWheel { diameter: inch("0.1"), ..new_wheel() },
        NewWheel { rated_speed: SpindleSpeed::from_rpm(f64::NAN), ..new_wheel() },
    ] {
        assert!(matches!(step(&facts, &mount(wheel)), Err(WheelRefusal::Calculation(_))));
    }
}

#[test]
fn a_shift_s_look_counts_for_that_shift_that_person_and_that_mounting() {
    let mut facts = locked();
    facts.gate.look_over = true;
    facts.lockout = None;
    assert_eq!(blocks(&facts), [Block::NotLookedOver]);
    let wheel = step(&BenchFacts { lockout: locked().lockout, ..facts.clone() }, &LOOK).unwrap().wheel;
    facts.wheel = wheel;
    assert_eq!(blocks(&facts), []);
    let later = BenchFacts { shift: "2031-04-15".to_owned(), ..facts.clone() };
    assert_eq!(blocks(&later), [Block::NotLookedOver]);
    let other = BenchFacts { operator: Some(bench::operator("B-2", "BN")), ..facts.clone() };
    assert_eq!(blocks(&other), [Block::NotLookedOver]);
    let mut anew = step(&BenchFacts { lockout: locked().lockout, ..facts.clone() }, &mount(new_wheel())).unwrap();
    facts.wheel = anew.wheel.take();
    assert_eq!(blocks(&facts), [Block::NotLookedOver], "another mounting has not been looked over");
}

/// Where the checklist asks for the look itself, the look at the wheel answers that item, and nothing else blocks.
#[test]
fn an_item_of_the_gate_may_be_the_look() {
    let mut facts = bench::facts();
    facts.gate.look_over = true;
    for item in facts.gate.items.iter_mut().filter(|item| item.id == "look") {
        item.look_over = true;
    }
    assert_eq!(blocks(&facts), []);
    assert_eq!(Gate::new().asked(&facts), ["bedknife", "guard", "look", "rating"]);
    facts.wheel = step(&BenchFacts { lockout: locked().lockout, ..facts.clone() }, &LOOK).unwrap().wheel;
    assert_eq!(Gate::new().asked(&facts), ["bedknife", "guard", "rating"]);
    facts.operator = Some(bench::operator("B-2", "BN"));
    assert_eq!(Gate::new().asked(&facts), ["bedknife", "guard", "look", "rating"]);
}

#[test]
fn a_worn_wheel_is_measured_and_never_grows() {
    let mut facts = locked();
    let measure = |diameter: &str| WheelEvent::WheelMeasured { diameter: inch(diameter), held_ms: 1_000 };
    facts.wheel = step(&facts, &measure("5.7")).unwrap().wheel;
    let wheel = facts.wheel.as_ref().unwrap();
    assert_eq!((wheel.diameter, wheel.measured.as_ref().unwrap().by.as_str()), (inch("5.7"), "AM"));
    let grown = WheelRefusal::Grown { measured: inch("5.701"), before: inch("5.7") };
    refused(&facts, &measure("5.701"), &grown);
    assert!(step(&facts, &measure("5.7")).is_ok());
    assert!(matches!(step(&facts, &measure("0.1")), Err(WheelRefusal::Calculation(_))));
    let early = WheelEvent::WheelMeasured { diameter: inch("5"), held_ms: 1 };
    refused(&facts, &early, &WheelRefusal::HeldTooShort { held_ms: 1, wanted_ms: 1_000 });
    let without = BenchFacts { lockout: None, ..facts };
    refused(&without, &measure("5"), &WheelRefusal::LockoutNeeded);
}

#[test]
fn a_scrapped_wheel_leaves_the_spindle_empty_and_says_why() {
    let facts = locked();
    let WheelStepped { wheel, past } = step(&facts, &scrap(" worn ")).unwrap();
    assert_eq!((wheel, past.unwrap().scrapped), (None, Some("worn".to_owned())));
    refused(&facts, &scrap("  "), &WheelRefusal::NoReason { most: 200 });
    let empty = BenchFacts { wheel: None, ..locked() };
    refused(&empty, &scrap("worn"), &WheelRefusal::NoWheel);
    refused(&empty, &LOOK, &WheelRefusal::NoWheel);
    assert!(step(&empty, &mount(new_wheel())).unwrap().past.is_none());
}

#[test]
fn nothing_is_taken_from_nobody_from_the_untrained_or_let_go_early() {
    let mut facts = locked();
    let short = WheelRefusal::HeldTooShort { held_ms: 999, wanted_ms: 1_000 };
    refused(&facts, &WheelEvent::WheelLookedOver { held_ms: 999 }, &short);
    let early = WheelEvent::WheelMounted { mounting: "M-4".into(), wheel: Box::new(new_wheel()), held_ms: 999 };
    refused(&facts, &early, &short);
    for description in [String::new(), "x".repeat(41)] {
        let length = description.len();
        let event = mount(NewWheel { description, ..new_wheel() });
        refused(&facts, &event, &WheelRefusal::Description { length, most: 40 });
    }
    facts.operator.as_mut().unwrap().trained = false;
    refused(&facts, &LOOK, &WheelRefusal::NotTrained { name: "Operator AM".to_owned() });
    facts.operator = None;
    refused(&facts, &LOOK, &WheelRefusal::NoOperator);
}
