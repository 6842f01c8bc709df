//! How long somebody ground, as the visit's own entries tell it.

use super::{Event, HELD, StageName, Walk, bench};
use crate::exposure::{Stretch, under_power};
use crate::visit::kind::VisitKind;

/// Takes an event and tells what stretch of grinding it ended.
#[track_caller]
fn ended(walk: &mut Walk, event: Event) -> Option<Stretch> {
    let before = under_power(&walk.visit);
    walk.take(event);
    before.and_then(|before| before.ended(&walk.visit, &walk.facts, &walk.now))
}

#[test]
fn from_the_start_until_both_stand_still() {
    let mut walk = Walk::at(StageName::Clearance);
    walk.hold_all();
    assert_eq!(ended(&mut walk, Event::GrindStarted { held_ms: HELD }), None);
    for _ in 0..14 {
        walk.now.monotonic_ms += 10_000;
        assert_eq!(ended(&mut walk, Event::PassDone), None);
    }
    walk.now.monotonic_ms += 20_000;
    let stretch = ended(&mut walk, Event::StandStill { held_ms: HELD }).unwrap();
    // Fourteen passes and the run-down; every act of the walk takes half a second.
    assert_eq!(stretch.ms, 14 * 10_500 + 20_500);
    assert_eq!((stretch.operator, stretch.day), ("B-1".to_owned(), walk.facts.today));
}

#[test]
fn a_grind_that_was_left_counts_as_far_as_it_went() {
    let mut walk = Walk::at(StageName::Grind);
    walk.now.monotonic_ms += 60_000;
    assert_eq!(ended(&mut walk, Event::Back).unwrap().ms, 60_500);
    assert_eq!(ended(&mut walk, Event::Back), None, "what has ended does not end again");
}

#[test]
fn over_a_restart_only_what_is_on_record_counts() {
    let mut walk = Walk::at(StageName::Grind);
    walk.passes(2);
    walk.now.monotonic_ms += 3_600_000;
    walk.now.boot = "another run".to_owned();
    walk.now.monotonic_ms = 5;
    assert_eq!(ended(&mut walk, Event::Restarted).unwrap().ms, 1_000, "to the second pass");
}

#[test]
fn back_lapping_is_not_grinding() {
    let mut walk = Walk::coming_for(VisitKind::BackLap, bench::unit());
    walk.on_to(StageName::BackLap);
    assert!(walk.visit.stage().running().is_some());
    assert_eq!(under_power(&walk.visit), None);
}
