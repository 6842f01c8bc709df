//! Receive's refusals, and that each stage takes only what belongs to it.

use super::{ALL_STAGES, Condition, Event, Part, Refusal, StageName, VisitKind, Walk, bench, inch};
use crate::calc::error::CalcError;
use crate::facts::TypeFact;
use crate::record::Side;
use crate::visit::event::{Answer, Effect, Place, StopReason};

#[test]
fn receive_wants_a_look_a_kind_and_the_leading_end() {
    let mut walk = Walk::new();
    let look = |part, condition| Event::Looked { part, condition };
    walk.check(&Event::Next, &Refusal::NotLooked).take(look(Part::Bearings, Condition::Note));
    walk.check(&Event::Next, &Refusal::NotLooked).take(look(Part::Rollers, Condition::Good));
    walk.take(look(Part::Blades, Condition::Bad)).check(&Event::Next, &Refusal::HeldForRepair);
    walk.check(&look(Part::Blades, Condition::Good), &Refusal::HeldForRepair);
    walk.take(Event::Mended { part: Part::Blades }).take(Event::Next).stands(StageName::Tape);

    let mut held = Walk::new();
    held.look().take(look(Part::Blades, Condition::Bad)).take(Event::Stopped { reason: StopReason::HeldForRepair });
    assert_eq!(held.effects, [Effect::ClosedUnfinished(StopReason::HeldForRepair)]);
    held.check(&Event::Next, &Refusal::Closed);
}

#[test]
fn the_leading_end_is_told_once_and_put_right_only_before_anything_is_measured() {
    let mut unit = bench::unit();
    unit.unit_type.leading_end_at = None;
    let mut walk = Walk::of(unit);
    walk.look().check(&Event::Next, &Refusal::LeadingEndUnknown);
    assert_eq!(walk.visit.front_side(super::Which::Other), Err(Refusal::LeadingEndUnknown));
    walk.take(Event::TypeTold { fact: TypeFact::LeadingEndAt(Side::Right) });
    assert!(matches!(walk.effects.as_slice(), [Effect::TypeTold { .. }]));
    walk.take(Event::Next).through().stands(StageName::Front);
    let other = Event::TypeTold { fact: TypeFact::LeadingEndAt(Side::Left) };
    walk.check(&other, &Refusal::NotHere { stage: StageName::Front });
    walk.take(Event::TypeTold { fact: TypeFact::LeadingEndAt(Side::Right) });
    walk.take(Event::TypeTold { fact: TypeFact::FrontClockwiseRaises(Side::Left, false) });
    walk.take(Event::TypeTold { fact: TypeFact::RearClockwiseRaises(Side::Right, false) });
    let unit_type = &walk.visit.unit().unit_type;
    assert_eq!(unit_type.front.left.clockwise_raises, Some(false));
    assert_eq!(unit_type.rear.right.clockwise_raises, Some(false));
    walk.take(Event::Back).take(Event::Back).take(other);
    assert_eq!(walk.visit.tape().ends(), None, "each reading belonged to the other end");
}

#[test]
fn tape_wants_both_ends_and_no_more_than_it_asks_for() {
    let mut walk = Walk::at(StageName::Tape);
    walk.isolate().check(&Event::Next, &Refusal::Missing { place: Place::Lead }).read(inch("5.020"));
    walk.check(&Event::Next, &Refusal::Missing { place: Place::Trail }).read(inch("5.000"));
    walk.check(&Event::Read { reading: inch("5") }, &Refusal::NoNumberAsked);
    let stage = StageName::Tape;
    walk.check(&Event::PlacePicked { place: Place::Land }, &Refusal::NotHere { stage });
    walk.check(&Event::Answered { answer: Answer::Keep }, &Refusal::NotAnAnswer);
}

#[test]
fn geometry_that_cannot_be_computed_with_is_refused_with_its_field() {
    let mut unit = bench::unit();
    unit.unit_type.reel_x = unit.unit_type.wheelbase;
    let mut walk = Walk::of(unit);
    walk.on_to(StageName::Front).touch("20");
    match walk.refused(&Event::TouchAgain) {
        Refusal::Calculation(CalcError::TooClose { field, .. }) => assert_eq!(field.path, "reel_x"),
        other => panic!("{other:?}"),
    }
    assert!(!walk.visit.front_done(&walk.facts));
    walk.check(&Event::Next, &Refusal::NotProven).take(Event::MeasuredAgain);
}

#[test]
fn what_belongs_to_another_stage_is_refused() {
    let home: [(Event, &[StageName]); 14] = [
        (Event::Looked { part: Part::Blades, condition: Condition::Good }, &[StageName::Receive]),
        (Event::KindChosen { kind: VisitKind::Spin }, &[StageName::Receive]),
        (Event::Stopped { reason: StopReason::HeldForRepair }, &[StageName::Receive]),
        (Event::ZeroSet, &[StageName::Front]),
        (Event::CurePicked { which: super::Which::Zero }, &[StageName::Front]),
        (Event::Turned { which: super::Which::Zero }, &[StageName::Front, StageName::Rear]),
        (Event::TouchAgain, &[StageName::Front]),
        (Event::PassDone, &[StageName::Grind]),
        (Event::PassRepeated, &[StageName::Grind]),
        (Event::PaperCut { whole_length: true }, &[StageName::Prove]),
        (Event::Regrind, &[StageName::Prove]),
        (Event::PrintAsked, &[StageName::Label]),
        (Event::PlaceConfirmed { scanned: true }, &[StageName::Return]),
        (Event::Opened { unit: Box::new(bench::unit()) }, &[]),
    ];
    for stage in ALL_STAGES {
        let mut walk = Walk::at(stage);
        walk.isolate();
        for (event, at_home) in &home {
            if !at_home.contains(&stage) {
                walk.check(event, &Refusal::NotHere { stage });
            }
        }
        if !stage.hands_in() {
            walk.check(&Event::IsolationHeld { held_ms: 2_000 }, &Refusal::NotHere { stage });
        }
    }
}
