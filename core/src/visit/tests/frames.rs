//! Front and Rear by what the frame allows. What is done to which frame is common practice (handbook, section 1).

use super::{Event, Refusal, StageName, Walk, Which, bench, inch, thou};
use crate::bench::{FrameKind, TruingOrder};
use crate::calc::adjuster::AdjusterKind;
use crate::calc::error::CalcError;
use crate::quantity::{Angle, Length};
use crate::record::Side;
use crate::visit::event::{Effect, Hold, Place, StopReason};
use crate::visit::{FrontPhase, RearDone, RearRemedy};

fn eccentric(throw_inches: f64, degrees: f64) -> AdjusterKind {
    AdjusterKind::Eccentric { throw: Length::from_inches(throw_inches), angle: Angle::from_degrees(degrees) }
}

fn at_rear(frame: FrameKind, rear: AdjusterKind) -> Walk {
    let mut unit = bench::unit_in(frame);
    unit.unit_type.rear = bench::pair(rear);
    let mut walk = Walk::of(unit);
    walk.on_to(StageName::Rear);
    walk
}

#[track_caller]
fn remedy(walk: &Walk) -> RearRemedy {
    walk.visit.rear_remedy(&walk.facts).unwrap().unwrap()
}

#[test]
fn side_plates_are_squared_then_shimmed_then_turned() {
    let mut walk = at_rear(FrameKind::SidePlates, eccentric(0.060, 60.0));
    walk.indicate("0", "4");
    assert_eq!(remedy(&walk), RearRemedy::Square);
    for early in [Event::Shimmed, Event::Turned { which: Which::Other }, Event::ErrorRecorded] {
        walk.check(&early, &Refusal::NotHere { stage: StageName::Rear });
    }
    walk.take(Event::Squared).indicate("0", "3.5");
    // What squaring left is not squared again: 0.0035 over 20 in is 0.004375 over the 25 in between the adjusters.
    let RearRemedy::Shim { at, stack } = remedy(&walk) else { panic!("{:?}", remedy(&walk)) };
    let pieces: Vec<f64> = stack.stack.iter().map(|piece| (piece.inches() * 1e4).round() / 10.0).collect();
    assert_eq!((at, pieces), (Side::Right, vec![2.0, 2.0]), "0.004 is nearer than 0.005, and the right end is high");
    walk.check(&Event::Squared, &Refusal::NotHere { stage: StageName::Rear });
    walk.take(Event::Shimmed).indicate("0", "2.5");
    assert_eq!(remedy(&walk), RearRemedy::Turn);
    walk.take(Event::Turned { which: Which::Other }).indicate("0", "0.5");
    assert_eq!(walk.visit.rear_remedy(&walk.facts), None);
    let done: Vec<RearDone> = walk.visit.rear().rounds().iter().map(|round| round.done).collect();
    assert_eq!(done, [RearDone::Squared, RearDone::Shimmed, RearDone::Turned]);
    walk.take(Event::Next).stands(StageName::Clearance);
    assert_eq!(walk.replayed(), walk.visit);
}

#[test]
fn a_large_error_of_side_plates_is_shimmed_at_once_and_the_shelf_decides() {
    let mut walk = at_rear(FrameKind::SidePlates, bench::screw());
    walk.indicate("12", "0");
    // 0.012 over 20 in is 0.015 over 25 in: 0.010 and 0.005, at the left end, which is high.
    let RearRemedy::Shim { at, stack } = remedy(&walk) else { panic!() };
    assert_eq!((at, stack.stack.len()), (Side::Left, 2));
    assert!((stack.total.inches() - 0.015).abs() < 1e-9);
    walk.facts.shims.thicknesses = vec![inch("0.050")];
    assert_eq!(remedy(&walk), RearRemedy::Square, "nothing on the shelf comes nearer than nothing");
    walk.check(&Event::Turned { which: Which::Other }, &Refusal::NotHere { stage: StageName::Rear });
    let mut raising = bench::unit_in(FrameKind::SidePlates);
    raising.unit_type.setup.shim_raises = true;
    let mut walk = Walk::of(raising);
    walk.on_to(StageName::Rear).indicate("12", "0");
    assert!(matches!(remedy(&walk), RearRemedy::Shim { at: Side::Right, .. }));
}

#[test]
fn a_welded_frame_is_recorded_by_name_or_replaced() {
    let mut walk = at_rear(FrameKind::Welded, bench::screw());
    walk.indicate("0", "8");
    assert_eq!(remedy(&walk), RearRemedy::Record);
    walk.check(&Event::Next, &Refusal::NotProven);
    walk.check(&Event::Turned { which: Which::Other }, &Refusal::NotHere { stage: StageName::Rear });
    walk.take(Event::ErrorRecorded);
    assert_eq!(walk.visit.rear().recorded_by(), Some("AM"));
    walk.take(Event::Next).stands(StageName::Clearance);
    // Read again, it is another error that nobody has written down.
    walk.take(Event::Back).isolate().take(Event::PlacePicked { place: Place::RearRight }).read(thou("9"));
    walk.check(&Event::Next, &Refusal::NotProven);
}

/// Over 0.010 in: replace the frame (common practice).
#[test]
fn a_frame_to_replace_ends_the_visit_or_a_lead_lets_it_go_on() {
    let mut walk = at_rear(FrameKind::Welded, bench::screw());
    walk.indicate("0", "10.5");
    assert_eq!(remedy(&walk), RearRemedy::ReplaceFrame);
    let refusal = walk.refused(&Event::Next);
    assert!(matches!(refusal, Refusal::FrameToReplace { error, .. } if (error.inches() - 0.0105).abs() < 1e-9));
    let event = |reason: &str| Event::Overridden { hold: Hold::Frame, reason: reason.to_owned() };
    walk.check(&event("last weeks of the season"), &Refusal::NotLead { name: "Operator AM".to_owned() });
    walk.check(&Event::ErrorRecorded, &Refusal::NotHere { stage: StageName::Rear });
    let mut ended = at_rear(FrameKind::Welded, bench::screw());
    ended.indicate("0", "10.5").take(Event::Stopped { reason: StopReason::FrameToReplace });
    assert_eq!(ended.effects, [Effect::ClosedUnfinished(StopReason::FrameToReplace)]);
    if let Some(operator) = &mut walk.facts.operator {
        operator.lead = true;
    }
    walk.check(&event("  "), &Refusal::ReasonLength { length: 0, most: 200 });
    walk.take(event("last weeks of the season")).take(Event::Next).stands(StageName::Clearance);
    assert_eq!(walk.visit.overridden(Hold::Frame).map(|given| given.by.as_str()), Some("AM"));
    assert_eq!(walk.replayed(), walk.visit);
}

#[test]
fn limits_of_the_type_come_first() {
    let mut unit = bench::unit_in(FrameKind::Welded);
    unit.unit_type.setup.frame_limit = Some(thou("6"));
    let mut walk = Walk::of(unit);
    walk.on_to(StageName::Rear).indicate("0", "8");
    assert_eq!(remedy(&walk), RearRemedy::ReplaceFrame);
    let mut unit = bench::unit_in(FrameKind::SidePlates);
    unit.unit_type.setup.square_limit = Some(thou("10"));
    let mut walk = Walk::of(unit);
    walk.on_to(StageName::Rear).indicate("0", "8");
    assert_eq!(remedy(&walk), RearRemedy::Square);
}

#[test]
fn what_an_eccentric_cannot_reach_is_refused_with_the_number() {
    let mut walk = at_rear(FrameKind::Adjustable, eccentric(0.004, 90.0));
    walk.indicate("0", "20");
    let refusal = walk.refused(&Event::Turned { which: Which::Other });
    assert!(matches!(refusal, Refusal::Calculation(CalcError::OutOfReach { .. })), "{refusal:?}");

    let mut unit = bench::unit();
    unit.unit_type.front = bench::pair(eccentric(0.002, 0.0));
    let mut front = Walk::of(unit);
    front.on_to(StageName::Front).touch("26");
    // Down from its lowest lift there is nothing; up at the other end there is enough.
    let refusal = front.refused(&Event::Turned { which: Which::Other });
    assert!(matches!(refusal, Refusal::Calculation(CalcError::OutOfReach { .. })), "{refusal:?}");
    front.take(Event::Turned { which: Which::Zero });
    assert_eq!(front.visit.front_phase(&front.facts), Ok(FrontPhase::ZeroTouch));
}

#[test]
fn the_types_record_may_turn_the_order_round() {
    let mut unit = bench::unit_in(FrameKind::FixedHead);
    let mut usual = Walk::of(unit.clone());
    usual.on_to(StageName::Front).take(Event::Back).stands(StageName::Tape);
    unit.unit_type.setup.order = TruingOrder::RearThenFront;
    let mut walk = Walk::of(unit);
    walk.on_to(StageName::Rear).indicate("0", "0").take(Event::Next).stands(StageName::Front);
    walk.touch("26").take(Event::Turned { which: Which::Other }).touch("20");
    // The frame was tilted: the roller that was trued before is trued again.
    walk.check(&Event::Next, &Refusal::NotTrued { stage: StageName::Rear });
    walk.take(Event::Back).stands(StageName::Rear).indicate("0", "0").take(Event::Next).stands(StageName::Front);
    walk.take(Event::Next).stands(StageName::Clearance);
}
