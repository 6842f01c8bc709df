//! Front and Rear: rounds, touches, acceptance by name, and what does not survive.

use super::{Event, Place, Refusal, StageName, Walk, Which, bench, inch, thou};
use crate::calc::adjuster::AdjusterKind;
use crate::calc::front::{Front, FrontVerdict};
use crate::calc::rear::RearVerdict;
use crate::quantity::{Angle, Length};
use crate::record::Side;
use crate::visit::gate::Block;
use crate::visit::{FrontPhase, FrontState};

const TURNED: Event = Event::Turned { which: Which::Other };

fn at_front() -> Walk {
    let mut walk = Walk::at(StageName::Front);
    walk.isolate();
    walk
}

#[track_caller]
fn judged(walk: &Walk) -> Front {
    match walk.visit.front_phase(&walk.facts).unwrap() {
        FrontPhase::Judged(outcome) => *outcome,
        other => panic!("{other:?}"),
    }
}

#[test]
fn two_rounds() {
    let mut walk = at_front();
    for (dial, rounds) in [("32", 1), ("25", 2)] {
        walk.touch(dial).check(&Event::Next, &Refusal::NotProven).take(TURNED);
        assert_eq!(walk.visit.front().rounds().len(), rounds);
        assert!(walk.visit.front().readings().is_empty());
    }
    walk.check(&TURNED, &Refusal::NotHere { stage: StageName::Front });
    walk.touch("20.5").check(&TURNED, &Refusal::NotHere { stage: StageName::Front });
    walk.take(Event::Next).stands(StageName::Rear);
    let rounds = walk.visit.front().rounds();
    assert_eq!((rounds[0].reading, rounds[1].reading), (thou("32").length(), thou("25").length()));
    assert!(rounds.iter().all(|round| round.outcome.verdict == FrontVerdict::Adjust && round.which == Which::Other));
}

#[test]
fn either_adjuster_cures_it() {
    let mut walk = at_front();
    walk.take(Event::CurePicked { which: Which::Zero }).touch("26");
    assert_eq!(walk.visit.front().which(), Which::Zero);
    // Handbook, section 3, worked example: keeping the trailing end the move is as large the other way.
    let cure = walk.visit.front_cure(&walk.facts, Which::Zero).unwrap();
    assert!((cure.height.inches() - 0.003_75).abs() < 1e-9);
    assert_eq!(walk.visit.front_side(Which::Zero), Ok(Side::Left));
    walk.take(Event::Turned { which: Which::Zero });
    assert_eq!(walk.visit.front().expected_zero(), Some(cure.rezero));
}

#[test]
fn an_order_of_touches_is_kept() {
    let mut walk = at_front();
    let stage = StageName::Front;
    walk.check(&Event::Read { reading: thou("20") }, &Refusal::NoNumberAsked);
    walk.check(&Event::TouchAgain, &Refusal::NotHere { stage })
        .check(&Event::MeasuredAgain, &Refusal::NotHere { stage });
    walk.take(Event::ZeroSet).check(&Event::ZeroSet, &Refusal::NotHere { stage });
    assert_eq!(walk.visit.front_phase(&walk.facts), Ok(FrontPhase::OtherTouch));
    walk.check(&TURNED, &Refusal::NotHere { stage }).check(&Event::NotProvenAccepted, &Refusal::NotHere { stage });
    let out = |reading| Refusal::OutOfRange { place: None, reading, least: thou("-500"), most: thou("500") };
    for reading in [thou("500.1"), thou("-500.1"), inch("50")] {
        walk.check(&Event::Read { reading }, &out(reading));
    }
}

#[test]
fn a_mistyped_touch_is_made_again() {
    let mut walk = at_front();
    walk.touch("62").take(Event::MeasuredAgain);
    assert_eq!(walk.visit.front_phase(&walk.facts), Ok(FrontPhase::ZeroTouch));
    walk.touch("26").take(TURNED).take(Event::ZeroSet).take(Event::MeasuredAgain).touch("20").take(Event::Next);
    assert_eq!(walk.visit.front().rounds().len(), 1, "the rounds before stay");
}

/// Tilt 0.00125 in: one touch proves less than 0.002, more touches do.
#[test]
fn repeat_with_touches_that_help() {
    let mut walk = at_front();
    walk.facts.instruments.touch_sd = Length::from_inches(0.001);
    walk.touch("21");
    let outcome = judged(&walk);
    assert_eq!(outcome.verdict, FrontVerdict::Repeat);
    let needed = outcome.touches_needed.unwrap();
    assert!(needed > 1, "{needed}");
    for touches in 2..=needed {
        assert!(!walk.visit.front_done(&walk.facts));
        walk.take(Event::TouchAgain).touch("21");
        assert_eq!(walk.visit.front().readings().len(), touches as usize);
    }
    assert_eq!(judged(&walk).verdict, FrontVerdict::Parallel);
    walk.check(&Event::TouchAgain, &Refusal::NotHere { stage: StageName::Front }).take(Event::Next);
}

/// Tilt 0.0018 in: what the graduations leave of doubt alone reaches beyond 0.002, so no touch helps.
#[test]
fn repeat_that_no_touch_can_prove_is_accepted_by_name() {
    let mut walk = at_front();
    walk.touch("23.6");
    assert_eq!((judged(&walk).verdict, judged(&walk).touches_needed), (FrontVerdict::Repeat, None));
    walk.check(&Event::TouchAgain, &Refusal::NotHere { stage: StageName::Front });
    walk.check(&Event::Next, &Refusal::NotProven);
    let signed_on = walk.facts.operator.take();
    walk.check(&Event::NotProvenAccepted, &Refusal::Blocked(Block::NoOperator));
    walk.facts.operator = signed_on;
    walk.take(Event::NotProvenAccepted);
    assert_eq!(walk.visit.front().accepted_by(), Some("AM"));
    walk.take(Event::Next).stands(StageName::Rear);
    // A tolerance that was tightened since is not what was accepted.
    walk.facts.limits.tilt = Length::from_inches(0.001);
    assert!(!walk.visit.front_done(&walk.facts));
}

#[test]
fn only_what_is_within_is_accepted_and_another_touch_asks_again() {
    let mut walk = at_front();
    walk.touch("26").check(&Event::NotProvenAccepted, &Refusal::NotProven);
    let mut again = at_front();
    again.facts.instruments.touch_sd = Length::from_inches(0.001);
    again.touch("21").take(Event::NotProvenAccepted).take(Event::TouchAgain).touch("29");
    assert_eq!(again.visit.front().accepted_by(), None);
    again.check(&Event::Next, &Refusal::NotProven);
}

#[test]
fn other_diameters_void_what_was_trued_to_the_old() {
    let mut walk = at_front();
    walk.touch("26").take(TURNED).touch("20").take(Event::Back).stands(StageName::Tape);
    let trued = walk.visit.front().clone();
    walk.take(Event::Next);
    assert_eq!(walk.visit.front(), &trued, "nothing was taped anew");
    walk.take(Event::Back).take(Event::PlacePicked { place: Place::Lead }).read(inch("5.020"));
    walk.take(Event::PlacePicked { place: Place::Centre }).read(inch("5.011"));
    assert_eq!(walk.visit.front(), &trued, "the same diameters, and the middle turns no dial");
    walk.take(Event::PlacePicked { place: Place::Trail }).read(inch("5.001"));
    assert_eq!(walk.visit.front(), &FrontState::default());
}

#[test]
fn other_diameters_make_another_schedule() {
    let mut walk = Walk::at(StageName::Grind);
    walk.passes(5);
    for _ in 0..4 {
        walk.take(Event::Back);
    }
    walk.stands(StageName::Tape).isolate().take(Event::PlacePicked { place: Place::Lead }).read(inch("5.012"));
    assert_eq!(walk.visit.passes().done(), 0);
}

#[test]
fn an_eccentric_stands_where_it_was_turned_to() {
    let mut unit = bench::unit();
    let kind = AdjusterKind::Eccentric { throw: Length::from_inches(0.060), angle: Angle::from_degrees(60.0) };
    unit.unit_type.front = bench::pair(kind);
    let mut walk = Walk::of(unit);
    walk.on_to(StageName::Front).touch("14").take(TURNED);
    // Handbook, section 3: 4.06 degrees for +0.00375 in.
    let AdjusterKind::Eccentric { angle, .. } = walk.visit.unit().unit_type.front.right.kind else { panic!() };
    assert!((angle.degrees() - 64.06).abs() < 0.005, "{angle:?}");
    let AdjusterKind::Eccentric { angle, .. } = walk.visit.unit().unit_type.front.left.kind else { panic!() };
    assert!((angle.degrees() - 60.0).abs() < 1e-12, "the other one was not touched");
}

#[test]
fn rear_is_trued_in_rounds() {
    let mut walk = Walk::at(StageName::Rear);
    walk.isolate();
    walk.check(&Event::Next, &Refusal::NotProven).check(&TURNED, &Refusal::Missing { place: Place::RearLeft });
    walk.read(thou("0")).check(&TURNED, &Refusal::Missing { place: Place::RearRight });
    walk.read(thou("4"));
    let outcome = walk.visit.rear_outcome(&walk.facts).unwrap().unwrap();
    // Adjusters 25 apart, readings 20 apart: 0.004 out is 0.005 at the adjuster.
    assert_eq!(outcome.verdict, RearVerdict::Adjust);
    assert!((outcome.move_b.inches() + 0.005).abs() < 1e-9);
    walk.check(&Event::Next, &Refusal::NotProven).take(TURNED).indicate("0", "0.5");
    assert_eq!(walk.visit.rear().rounds().len(), 1);
    walk.check(&TURNED, &Refusal::NotHere { stage: StageName::Rear }).take(Event::Next).stands(StageName::Clearance);
    let reading = thou("501");
    let (least, most) = (thou("-500"), thou("500"));
    let mut far = Walk::at(StageName::Rear);
    let place = Some(Place::RearLeft);
    far.isolate().check(&Event::Read { reading }, &Refusal::OutOfRange { place, reading, least, most });
}

#[test]
fn a_turn_at_front_tilts_the_rear_roller_too() {
    let mut walk = Walk::at(StageName::Clearance);
    walk.take(Event::Back).take(Event::Back).stands(StageName::Front).take(Event::MeasuredAgain);
    walk.touch("20").take(Event::Next);
    assert!(walk.visit.rear_done(&walk.facts), "nothing was turned");
    walk.take(Event::Back).take(Event::MeasuredAgain).touch("26").take(TURNED).touch("20").take(Event::Next);
    assert!(!walk.visit.rear_done(&walk.facts));
    walk.through().stands(StageName::Clearance);
}

#[test]
fn rear_turned_does_not_ask_for_front_again() {
    let mut walk = Walk::at(StageName::Rear);
    walk.indicate("0", "4").take(TURNED).indicate("0", "0").take(Event::Next).through().stands(StageName::Grind);
}
