//! What ends a clearance, a checklist in progress and a running grind.

use super::{Change, Event, HELD, Refusal, StageName, Walk, bench, held, start};
use crate::facts::{GuardInput, StopInput};
use crate::visit::Stage;
use crate::visit::gate::{Block, Gate, LapseReason};

/// Lapse | what changed.
fn changes() -> Vec<(LapseReason, Change)> {
    let locked = Block::LockedOut { lock: "7".to_owned(), by: "Operator BN".to_owned() };
    vec![
        (LapseReason::Operator, |facts| facts.operator = Some(bench::operator("B-2", "BN"))),
        (LapseReason::Operator, |facts| facts.operator = None),
        (LapseReason::Wheel, |facts| facts.wheel.as_mut().unwrap().mounting = "M-4".to_owned()),
        (LapseReason::Wheel, |facts| facts.wheel = None),
        (LapseReason::Wheel, |facts| facts.grinder.name = "Bench 2".to_owned()),
        (LapseReason::Blocked(Block::GuardOpen), |facts| facts.guard = GuardInput::Open),
        (LapseReason::Blocked(Block::InputsStale), |facts| facts.guard = GuardInput::Stale),
        (LapseReason::Blocked(Block::InputsLost), |facts| facts.guard = GuardInput::Lost),
        (LapseReason::Blocked(Block::StopPressed), |facts| facts.stop = StopInput::Pressed),
        (LapseReason::Blocked(Block::InputsStale), |facts| facts.stop = StopInput::Stale),
        (LapseReason::Blocked(Block::InputsLost), |facts| facts.stop = StopInput::Lost),
        (LapseReason::Blocked(locked), |facts| facts.lockout = Some(bench::locked("B-2", "BN"))),
    ]
}

#[track_caller]
fn lapses(walk: &mut Walk, reason: &LapseReason) {
    assert_eq!(walk.visit.lapse(&walk.facts, &walk.now).as_ref(), Some(reason));
    walk.take(Event::Lapsed { reason: reason.clone() }).stands(StageName::Clearance);
    assert!(matches!(walk.visit.stage(), Stage::Clearance(gate) if *gate == Gate::new()), "{reason:?}");
}

#[test]
fn a_clearance_before_the_start() {
    for (reason, change) in changes() {
        let mut walk = Walk::at(StageName::Clearance);
        walk.hold_all();
        walk.check(&Event::Lapsed { reason: LapseReason::Time }, &Refusal::NotLapsed);
        change(&mut walk.facts);
        walk.check(&start(), &Refusal::Lapsed(reason.clone()));
        lapses(&mut walk, &reason);
    }
}

#[test]
fn a_checklist_in_progress() {
    for (reason, change) in changes() {
        let mut walk = Walk::at(StageName::Clearance);
        change(&mut walk.facts);
        assert_eq!(walk.visit.lapse(&walk.facts, &walk.now), None, "nothing was begun");
        walk.facts = bench::facts();
        walk.hold("bedknife").hold("guard");
        change(&mut walk.facts);
        assert!(matches!(
            walk.refused(&held("look")),
            Refusal::Lapsed(_) | Refusal::Blocked(_) | Refusal::AnotherOperator
        ));
        lapses(&mut walk, &reason);
    }
}

#[test]
fn a_running_grind_keeps_its_passes() {
    for (reason, change) in changes() {
        let mut walk = Walk::at(StageName::Grind);
        walk.passes(3);
        change(&mut walk.facts);
        walk.check(&Event::PassDone, &Refusal::Lapsed(reason.clone()));
        walk.check(&Event::PassRepeated, &Refusal::Lapsed(reason.clone()));
        lapses(&mut walk, &reason);
        assert_eq!(walk.visit.passes().done(), 3);
    }
}

#[test]
fn time_counts_from_the_first_item_by_the_clock_that_cannot_jump() {
    let mut walk = Walk::at(StageName::Clearance);
    walk.hold_all();
    // Three more items were held half a second apart after the first.
    walk.later(600_000 - 1_500);
    assert_eq!(walk.visit.lapse(&walk.facts, &walk.now), None);
    walk.now.wall = "2041-01-01T00:00:00Z".parse().unwrap();
    assert_eq!(walk.visit.lapse(&walk.facts, &walk.now), None, "the wall clock lapses nothing");
    walk.later(1).check(&start(), &Refusal::Lapsed(LapseReason::Time));
    lapses(&mut walk, &LapseReason::Time);

    walk.hold("bedknife").later(600_001).check(&held("guard"), &Refusal::Lapsed(LapseReason::Time));
    lapses(&mut walk, &LapseReason::Time);
    walk.hold_all().take(start()).later(3_600_000).take(Event::PassDone);
}

#[test]
fn a_shift_that_ended_opens_its_items_again() {
    let mut walk = Walk::at(StageName::Clearance);
    walk.facts.acknowledged = vec![bench::prior("look"), bench::prior("rating")];
    walk.hold("bedknife").hold("guard");
    assert!(matches!(walk.visit.stage(), Stage::Cleared(_)));
    walk.facts.shift = "2031-04-15".to_owned();
    walk.check(&start(), &Refusal::Lapsed(LapseReason::Time));
    lapses(&mut walk, &LapseReason::Time);
    walk.hold("bedknife").hold("guard").hold("look").take(start());
}

#[test]
fn a_clock_that_ran_backwards_or_another_process_lapses() {
    for (monotonic_ms, boot) in [(0, "boot-1"), (900_000, "boot-2")] {
        let mut walk = Walk::at(StageName::Clearance);
        walk.hold_all();
        (walk.now.monotonic_ms, walk.now.boot) = (monotonic_ms, boot.to_owned());
        walk.check(&start(), &Refusal::Lapsed(LapseReason::Restart));
    }
    // The start of a process may go unrecorded when the disk is full: the passes of the old one still do not go on.
    let mut walk = Walk::at(StageName::Grind);
    walk.now.boot = "boot-2".to_owned();
    walk.check(&Event::PassDone, &Refusal::Lapsed(LapseReason::Restart));
    lapses(&mut walk, &LapseReason::Restart);
}

#[test]
fn stepping_back_and_leaving_the_rails() {
    let mut walk = Walk::at(StageName::Clearance);
    walk.hold_all().take(Event::Back).stands(StageName::Rear).isolate().take(Event::Next);
    walk.check(&start(), &Refusal::ItemsOpen);
    walk.hold_all().take(Event::Paused).take(Event::TakenUp).stands(StageName::Front).through().through();
    assert!(matches!(walk.visit.stage(), Stage::Clearance(gate) if *gate == Gate::new()));
}

#[test]
fn a_start_spends_the_clearance() {
    let mut walk = Walk::at(StageName::Grind);
    walk.check(&start(), &Refusal::NotHere { stage: StageName::Grind });
    walk.passes(2).take(Event::Back).stands(StageName::Clearance).check(&start(), &Refusal::ItemsOpen);
    assert_eq!(walk.visit.passes().done(), 2);
}

#[test]
fn coming_to_rest_needs_no_clearance() {
    let stop = Event::StandStill { held_ms: HELD };
    let mut walk = Walk::at(StageName::Grind);
    walk.check(&stop, &Refusal::PassesOpen { open: 14 }).check(&Event::Next, &Refusal::PassesOpen { open: 14 });
    walk.passes(14);
    let short = Event::StandStill { held_ms: 10 };
    walk.check(&short, &Refusal::HeldTooShort { held_ms: 10, wanted_ms: 1_000 });
    walk.check(&Event::Next, &Refusal::NotHere { stage: StageName::Grind });
    walk.facts.operator = None;
    lapses(&mut walk, &LapseReason::Operator);
    walk.check(&short, &Refusal::HeldTooShort { held_ms: 10, wanted_ms: 1_000 });
    walk.take(stop.clone()).stands(StageName::Prove);
    assert!(walk.visit.asks_isolation(&walk.facts));

    let mut early = Walk::at(StageName::Clearance);
    early.check(&stop, &Refusal::NotHere { stage: StageName::Clearance });
}
