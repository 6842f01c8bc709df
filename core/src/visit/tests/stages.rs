//! Leaving and coming back: restart, pause, back, in every stage.

use super::{ALL_STAGES, Event, Refusal, StageName, Walk, bench, start, thou};
use crate::visit::event::Place;
use crate::visit::{FrontPhase, Stage};

#[test]
fn restart_comes_back_at_the_same_stage_with_every_reading() {
    for stage in ALL_STAGES {
        let mut walk = Walk::at(stage);
        if stage == StageName::Front {
            walk.isolate().take(Event::ZeroSet);
        }
        let (tape, front, rear) = (*walk.visit.tape(), walk.visit.front().clone(), walk.visit.rear().clone());
        let asked_isolation = walk.visit.asks_isolation(&walk.facts);
        walk.restart();
        let same = if stage == StageName::Grind { StageName::Clearance } else { stage };
        walk.stands(same);
        assert_eq!((walk.visit.tape(), walk.visit.front(), walk.visit.rear()), (&tape, &front, &rear), "{stage:?}");
        assert_eq!(walk.visit.asks_isolation(&walk.facts), asked_isolation, "{stage:?}");
        assert_eq!(walk.replayed(), walk.visit, "{stage:?}");
        while !walk.visit.closed() {
            if stage == StageName::Front && walk.visit.front_phase(&walk.facts) == Ok(FrontPhase::OtherTouch) {
                walk.read(thou("20")).take(Event::Next);
            }
            walk.through();
        }
    }
}

#[test]
fn restart_in_grind_keeps_the_passes_and_asks_the_checklist_again() {
    let mut walk = Walk::at(StageName::Grind);
    walk.passes(5).restart().stands(StageName::Clearance);
    assert!(matches!(walk.visit.stage(), Stage::Clearance(gate) if gate.asked(&walk.facts).len() == 4));
    assert_eq!(walk.visit.passes().done(), 5);
    walk.check(&start(), &Refusal::ItemsOpen);
    walk.through().stands(StageName::Grind).passes(9).check(&Event::PassDone, &Refusal::PassesDone);
}

#[test]
fn pause_and_take_up_come_back_at_the_same_stage_or_at_front() {
    for stage in ALL_STAGES {
        let mut walk = Walk::at(stage);
        walk.check(&Event::TakenUp, &Refusal::NotPaused).take(Event::Paused);
        assert!(walk.visit.paused());
        walk.check(&Event::Next, &Refusal::Paused).check(&Event::Paused, &Refusal::Paused);
        walk.check(&Event::Back, &Refusal::Paused).check(&start(), &Refusal::Paused);
        walk.take(Event::TakenUp);
        // What was trued on the rails went with them.
        let trued = matches!(stage, StageName::Rear | StageName::Clearance | StageName::Grind);
        walk.stands(if trued { StageName::Front } else { stage });
        assert_eq!(walk.visit.asks_isolation(&walk.facts), walk.visit.stage_name().hands_in(), "{stage:?}");
        if !matches!(stage, StageName::Prove | StageName::Label | StageName::Return) {
            assert!(walk.visit.front().readings().is_empty() && walk.visit.front().rounds().is_empty(), "{stage:?}");
            assert_eq!(walk.visit.rear().reading(Place::RearLeft), None, "{stage:?}");
        }
        assert_eq!(walk.replayed(), walk.visit, "{stage:?}");
    }
}

#[test]
fn what_left_the_rails_is_trued_again_before_it_is_ground() {
    let mut walk = Walk::at(StageName::Clearance);
    walk.hold_all().take(Event::Paused).take(Event::TakenUp).stands(StageName::Front);
    walk.check(&start(), &Refusal::IsolationNeeded { stage: StageName::Front });
    walk.through().stands(StageName::Rear).through().through().stands(StageName::Grind);

    walk.passes(4).take(Event::Paused).take(Event::TakenUp).stands(StageName::Front);
    assert_eq!(walk.visit.passes().done(), 4);
    walk.through();
    assert!(!walk.visit.rear_done(&walk.facts));
    walk.through().through().stands(StageName::Grind).passes(10);
}

#[test]
fn the_tilt_that_was_ground_in_outlives_a_pause_at_prove() {
    let mut walk = Walk::at(StageName::Prove);
    walk.take(Event::Paused).take(Event::TakenUp).prove("4.998", "4.998");
    assert!(walk.visit.proved(&walk.facts).unwrap().unwrap().misclosure.is_some());
}

#[test]
fn back_goes_one_stage_and_never_into_passes() {
    let table = [
        (StageName::Receive, None),
        (StageName::Tape, Some(StageName::Receive)),
        (StageName::Front, Some(StageName::Tape)),
        (StageName::Rear, Some(StageName::Front)),
        (StageName::Clearance, Some(StageName::Rear)),
        (StageName::Grind, Some(StageName::Clearance)),
        (StageName::Prove, None),
        (StageName::Label, Some(StageName::Prove)),
        (StageName::Return, Some(StageName::Label)),
    ];
    for (stage, before) in table {
        let mut walk = Walk::at(stage);
        match before {
            Some(before) => walk.take(Event::Back).stands(before),
            None => walk.check(&Event::Back, &Refusal::NotHere { stage }),
        };
    }
}

#[test]
fn isolation_is_asked_once_a_stage_and_again_after_power_was_back() {
    let mut walk = Walk::at(StageName::Tape);
    let needed = Refusal::IsolationNeeded { stage: StageName::Tape };
    walk.check(&Event::Next, &needed).check(&Event::Read { reading: thou("5000") }, &needed);
    walk.check(&Event::IsolationHeld { held_ms: 999 }, &Refusal::HeldTooShort { held_ms: 999, wanted_ms: 1_000 });
    walk.through().take(Event::Back).stands(StageName::Tape);
    assert!(!walk.visit.asks_isolation(&walk.facts), "asked once a visit");
    walk.take(Event::Next).through().through().through().stands(StageName::Grind);
    walk.take(Event::Back).take(Event::Back).stands(StageName::Rear);
    assert!(walk.visit.asks_isolation(&walk.facts), "power was back in between");

    let mut locked = Walk::at(StageName::Tape);
    for lockout in [bench::lock_hung("B-1", "AM"), bench::lock_tried("B-1", "AM"), bench::locked("B-2", "BN")] {
        locked.facts.lockout = Some(lockout);
        assert!(locked.visit.asks_isolation(&locked.facts), "not one's own, or not proved dead");
    }
    locked.facts.lockout = Some(bench::locked("B-1", "AM"));
    assert!(!locked.visit.asks_isolation(&locked.facts), "a lockout of one's own answers it");
    locked.read(super::inch("5.020"));
}

#[test]
fn a_label_and_a_place_are_taken_when_the_unit_has_left_the_rails() {
    let mut walk = Walk::at(StageName::Label);
    walk.print().take(Event::Paused).scan_label();
    walk.take(Event::TakenUp).take(Event::Next).take(Event::Paused);
    walk.take(Event::PlaceConfirmed { scanned: false });
    assert!(walk.visit.closed());
    for event in [Event::Next, Event::Restarted, Event::TakenUp, Event::Back] {
        walk.check(&event, &Refusal::Closed);
    }
}
