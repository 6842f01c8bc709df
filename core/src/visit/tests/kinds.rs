//! Every kind of visit, on every kind of frame. The lists are the handbook's (section 1); figures that are not from a
//! source named beside them are common practice.

use super::{
    AngleReading, BedknifeWork, Event, HELD, KnifeCheck, Place, Refusal, Stage, StageName, VisitKind, Walk, bench,
    inch, start, thou,
};
use crate::bench::{FrameKind, TruingOrder};
use crate::facts::GateItem;
use crate::facts::Per;
use crate::label::LabelVerdict;
use crate::record::ServiceVerdict;
use crate::visit::DueReason;
use crate::visit::event::Effect;
use crate::visit::gate::Gate;
use crate::visit::kind::{KINDS, Turning, stages};

const FRAMES: [FrameKind; 5] =
    [FrameKind::Adjustable, FrameKind::SidePlates, FrameKind::Welded, FrameKind::FloatingReel, FrameKind::FixedHead];

#[test]
fn every_kind_on_every_frame_is_walked_to_its_end() {
    for kind in KINDS {
        for frame in FRAMES {
            for order in [TruingOrder::FrontThenRear, TruingOrder::RearThenFront] {
                let mut unit = bench::unit_in(frame);
                unit.unit_type.setup.order = order;
                let mut walk = Walk::coming_for(kind, unit.clone());
                let list = stages(kind, &unit.unit_type);
                for (index, stage) in list.iter().enumerate() {
                    let at = (walk.visit.position(), walk.visit.stage_name());
                    // A relief and a back-lap stand at their gate until they are started, and then in themselves.
                    assert_eq!(at, (index, *stage), "{kind:?} on {frame:?}");
                    walk.through();
                }
                assert!(walk.visit.closed(), "{kind:?} on {frame:?}");
                assert_eq!(walk.replayed(), walk.visit, "{kind:?} on {frame:?}");
            }
        }
    }
}

#[test]
fn only_turning_work_passes_clearance_and_each_has_its_own() {
    for kind in KINDS {
        for frame in FRAMES {
            let unit = bench::unit_in(frame);
            let list = stages(kind, &unit.unit_type);
            for (index, stage) in list.iter().enumerate() {
                let gated = index > 0 && list[index - 1] == StageName::Clearance;
                assert_eq!(stage.turning().is_some(), gated, "{kind:?} {stage:?}");
            }
            let plated = list.contains(&StageName::Plate);
            assert_eq!(plated, frame == FrameKind::FloatingReel, "{kind:?} on {frame:?}");
        }
    }
}

#[test]
fn restart_and_pause_in_every_stage_of_every_kind_come_through() {
    for kind in KINDS {
        for frame in [FrameKind::Adjustable, FrameKind::FloatingReel] {
            let unit = bench::unit_in(frame);
            for index in 0..stages(kind, &unit.unit_type).len() {
                for paused in [false, true] {
                    let mut walk = Walk::coming_for(kind, unit.clone());
                    for _ in 0..index {
                        walk.through();
                    }
                    if paused {
                        walk.take(Event::Paused).take(Event::TakenUp);
                    } else {
                        walk.restart();
                    }
                    assert!(walk.visit.stage().running().is_none(), "{kind:?} {index}");
                    let mut steps = 0;
                    while !walk.visit.closed() {
                        walk.through();
                        steps += 1;
                        assert!(steps < 40, "{kind:?} from {index}");
                    }
                    assert_eq!(walk.replayed(), walk.visit);
                }
            }
        }
    }
}

fn relief_at(stage: StageName) -> Walk {
    let mut walk = Walk::coming_for(VisitKind::ReliefAndSpin, bench::unit());
    walk.on_to(stage);
    walk
}

/// Relief of 25° with a reel of 5.02 in over a wheel of 6 in: as the handbook's example, 13.65° past bottom for 5 in.
#[test]
fn blade_finger_and_rounds_are_told() {
    let mut walk = relief_at(StageName::Finger);
    walk.isolate().check(&Event::FingerSet, &Refusal::Missing { place: Place::LandLead });
    walk.read(inch("0.080")).check(&Event::Next, &Refusal::Missing { place: Place::LandTrail });
    walk.read(inch("0.070")).check(&Event::Next, &Refusal::NotTrued { stage: StageName::Finger });
    let plan = walk.visit.relief_plan(&walk.facts).unwrap();
    assert!((plan.position.blade_angle.degrees() - 13.6).abs() < 0.1, "{plan:?}");
    // (0.080 − 0.020)·sin 25° over 0.002·cos(25° − β): computed apart.
    let lean = (25.0 - plan.position.blade_angle.degrees()).to_radians().cos();
    let rounds = (0.060 * 25.0_f64.to_radians().sin() / (0.002 * lean)).ceil();
    assert_eq!((plan.with_infeed, plan.rounds), (rounds as u32, rounds as u32 + 1));
    assert!((plan.dial_step.inches() - 0.004).abs() < 1e-12, "a dial in diameter shows twice the travel");
    walk.take(Event::FingerSet).take(Event::Next).stands(StageName::Clearance);
}

#[test]
fn a_narrow_land_needs_no_relief() {
    let mut walk = relief_at(StageName::Finger);
    walk.isolate().read(inch("0.020")).read(inch("0.015"));
    let refusal = Refusal::NothingToRelieve { land: inch("0.020"), wanted: walk.facts.grinding.relief.land };
    walk.check(&Event::FingerSet, &refusal).check(&Event::Next, &refusal);
}

#[test]
fn relief_and_spin_have_a_clearance_each() {
    let mut walk = relief_at(StageName::Clearance);
    assert!(matches!(walk.visit.stage(), Stage::Clearance(gate) if gate.work() == Turning::Relief));
    walk.check(&start(), &Refusal::ItemsOpen).hold_all().take(start());
    assert_eq!(walk.visit.stage().running(), Some(Turning::Relief));
    let rounds = walk.visit.relief_plan(&walk.facts).unwrap().rounds;
    walk.check(&Event::StandStill { held_ms: HELD }, &Refusal::PassesOpen { open: rounds });
    walk.passes(rounds).check(&Event::PassDone, &Refusal::PassesDone).take(Event::StandStill { held_ms: HELD });
    walk.check(&Event::Next, &Refusal::IsolationNeeded { stage: StageName::Relief }).isolate();
    walk.read(inch("0.021")).read(inch("0.090"));
    walk.check(&Event::Next, &Refusal::LandWide { land: inch("0.090"), limit: inch("0.080") });
    walk.take(Event::Regrind).stands(StageName::Finger);
    assert_eq!(walk.visit.relief().before(Place::LandTrail), Some(inch("0.090")));
    walk.isolate().take(Event::FingerSet).take(Event::Next).through();
    walk.through().stands(StageName::Clearance);
    match walk.effects.as_slice() {
        [Effect::ServiceDone { service, ready: false }, _] => {
            assert_eq!(service.land, Some((inch("0.020"), inch("0.020"))));
        }
        other => panic!("{other:?}"),
    }
    assert!(matches!(walk.visit.stage(), Stage::Clearance(gate) if *gate == Gate::new()), "nothing acknowledged yet");
    walk.check(&start(), &Refusal::ItemsOpen).through().stands(StageName::Grind);
    // A light spin takes 0.001 off below the smallest end, not 0.002.
    let plan = walk.visit.plan(&walk.facts).unwrap();
    assert!((plan.final_diameter.inches() - 4.999).abs() < 1e-9, "{plan:?}");
}

#[test]
fn a_relief_is_not_ground_again_because_the_unit_left_the_rails() {
    let mut walk = relief_at(StageName::Clearance);
    walk.through().through().stands(StageName::Clearance);
    assert_eq!(walk.visit.position(), 7);
    walk.take(Event::Paused).take(Event::TakenUp).stands(StageName::Front).through().through();
    walk.stands(StageName::Clearance);
    assert_eq!(walk.visit.turning(), Turning::Grind);
    walk.take(Event::Back).stands(StageName::Relief).take(Event::Back).stands(StageName::Rear);
    walk.take(Event::Next).stands(StageName::Relief).isolate().take(Event::Next).stands(StageName::Clearance);
    walk.through().stands(StageName::Grind);

    let mut rounds = relief_at(StageName::Clearance);
    rounds.through().passes(3).take(Event::Paused).take(Event::TakenUp).stands(StageName::Front);
    rounds.through().through().stands(StageName::Finger);
    assert!(!rounds.visit.relief().finger_set(), "the finger left with the unit");
    assert_eq!(rounds.visit.relief().rounds_done(), 3);
}

#[test]
fn the_gate_asks_what_concerns_the_work() {
    let mut walk = Walk::coming_for(VisitKind::BackLap, bench::unit());
    walk.facts.gate.items[0].work = vec![Turning::Grind, Turning::Relief];
    walk.facts.gate.items.push(GateItem {
        id: "brush".to_owned(),
        per: Per::Grind,
        work: vec![Turning::BackLap],
        look_over: false,
    });
    assert_eq!(Gate::towards(Turning::BackLap).asked(&walk.facts), ["guard", "look", "rating", "brush"]);
    assert_eq!(Gate::new().asked(&walk.facts), ["bedknife", "guard", "look", "rating"]);
    walk.on_to(StageName::Clearance).hold_all().take(start()).stands(StageName::BackLap);
}

#[test]
fn back_lap_leaves_the_land_alone() {
    let mut walk = Walk::coming_for(VisitKind::BackLap, bench::unit());
    walk.through().stands(StageName::Clearance).check(&start(), &Refusal::ItemsOpen).through();
    walk.check(&Event::Next, &Refusal::PassesOpen { open: 1 });
    walk.check(&Event::CountRead { count: 8 }, &Refusal::NotHere { stage: StageName::BackLap });
    walk.take(Event::StandStill { held_ms: HELD });
    walk.check(&Event::CountRead { count: 8 }, &Refusal::IsolationNeeded { stage: StageName::BackLap }).isolate();
    let range = |place, count, least, most| Refusal::CountOutOfRange { place, count, least, most };
    walk.check(&Event::CountRead { count: 0 }, &range(Place::Minutes, 0, 1, 120)).take(Event::CountRead { count: 8 });
    walk.check(&Event::CountRead { count: 9 }, &range(Place::Grit, 9, 36, 600)).take(Event::CountRead { count: 120 });
    walk.check(&Event::Next, &Refusal::PaperNotCut).take(Event::PaperCut { whole_length: true }).take(Event::Next);
    let [Effect::ServiceDone { service, ready: true }, _] = walk.effects.as_slice() else { panic!() };
    assert_eq!((service.kind, service.land, service.verdict), (VisitKind::BackLap, None, ServiceVerdict::Done));
    walk.stands(StageName::Return);
}

#[test]
fn a_lap_that_lost_its_clearance_still_has_to_come_to_rest() {
    let mut walk = Walk::coming_for(VisitKind::BackLap, bench::unit());
    walk.on_to(StageName::BackLap).restart().stands(StageName::Clearance);
    assert!(walk.visit.only_runs_down(&walk.facts));
    walk.take(Event::StandStill { held_ms: HELD }).stands(StageName::BackLap).isolate();
    // Paper is not cut: once more, and that needs a clearance of its own.
    walk.take(Event::Back).stands(StageName::Clearance).check(&start(), &Refusal::ItemsOpen);
    walk.through();
    assert_eq!(walk.visit.back_lap().runs(), 2);
}

#[test]
fn a_knife_is_done_when_all_of_it_is_said() {
    let mut walk = Walk::coming_for(VisitKind::Bedknife, bench::unit());
    walk.through().stands(StageName::Knife).isolate().check(&Event::Next, &Refusal::KnifeWorkNotSaid);
    walk.take(Event::BedknifeSaid { work: BedknifeWork::New });
    let angle = AngleReading::from_hundredths;
    walk.check(&Event::Read { reading: inch("0.120") }, &Refusal::NoNumberAsked);
    walk.take(Event::AngleRead { angle: angle(620) }).take(Event::AngleRead { angle: angle(1_500) });
    walk.read(inch("0.055"));
    let off = walk.refused(&Event::Next);
    assert!(matches!(off, Refusal::AngleOff { place: Place::TopAngle, .. }), "{off:?}");
    walk.take(Event::PlacePicked { place: Place::TopAngle }).take(Event::AngleRead { angle: angle(600) });
    let least = walk.facts.knife.least_thickness;
    walk.check(&Event::Next, &Refusal::KnifeThin { thickness: inch("0.055"), least });
    walk.take(Event::PlacePicked { place: Place::Thickness }).read(inch("0.120"));
    for check in KnifeCheck::ALL {
        walk.check(&Event::Next, &Refusal::KnifeCheckOpen { check }).take(Event::KnifeChecked { check, done: true });
    }
    walk.check(&Event::Next, &Refusal::PaperNotCut).take(Event::PaperCut { whole_length: true }).take(Event::Next);
    walk.stands(StageName::Label);
    let content = walk.visit.label_content(&walk.facts).unwrap();
    assert_eq!((content.verdict, content.lead, content.cone), (LabelVerdict::Done, None, None));
    walk.print().scan_label().take(Event::Next).stands(StageName::Return);
}

/// Gauges 0.118 and 0.131 at y = 2 and 20, 0.125 wanted, edge at 5.2, wheelbase 11, adjusters −1.5 and 23.5: +0.01807
/// and −0.01617 (handbook, section 3).
#[test]
fn both_ends_of_the_height_in_one_go() {
    let mut unit = bench::unit();
    (unit.unit_type.touch_left, unit.unit_type.touch_right) = (inch("2"), inch("20"));
    unit.unit_type.setup.edge_x = Some(inch("5.2"));
    let mut walk = Walk::coming_for(VisitKind::HeightOfCut, unit);
    walk.on_to(StageName::Height).isolate().read(inch("0.118")).read(inch("0.131"));
    let outcome = walk.visit.height_outcome(&walk.facts).unwrap().unwrap();
    assert!((outcome.left.raise.inches() - 0.018_07).abs() < 5e-6, "{outcome:?}");
    assert!((outcome.right.raise.inches() + 0.016_17).abs() < 5e-6, "{outcome:?}");
    assert!((outcome.left.hand.turns.unwrap().turns() - 24.0 * outcome.left.raise.inches()).abs() < 1e-9);
    walk.check(&Event::Next, &Refusal::NotProven);
    walk.take(Event::Turned { which: super::Which::Other }).read(inch("0.125")).read(inch("0.1268"));
    // 0.0018 + 0.0003 against 0.002: within, not proven.
    walk.check(&Event::Next, &Refusal::NotProven).take(Event::NotProvenAccepted).take(Event::Next);
    assert_eq!(walk.visit.label_content(&walk.facts).unwrap().verdict, LabelVerdict::WithinNotProven);
    walk.take(Event::Back).take(Event::MeasuredAgain).read(inch("0.125")).read(inch("0.1255")).take(Event::Next);
    let content = walk.visit.label_content(&walk.facts).unwrap();
    assert_eq!((content.verdict, content.height_of_cut), (LabelVerdict::Proven, Some(inch("0.125"))));
}

#[test]
fn on_a_fixed_head_the_height_is_set_at_the_front_roller() {
    let mut unit = bench::unit_in(FrameKind::FixedHead);
    unit.unit_type.wheelbase = inch("10");
    unit.unit_type.reel_x = inch("6");
    let mut walk = Walk::coming_for(VisitKind::HeightOfCut, unit);
    walk.on_to(StageName::Height).isolate().read(inch("0.119")).read(inch("0.119"));
    let outcome = walk.visit.height_outcome(&walk.facts).unwrap().unwrap();
    // The edge stands at six tenths of the way from the drum to the front roller: 0.006 up takes 0.010 there.
    assert!((outcome.left.raise.inches() - 0.010).abs() < 1e-9, "{outcome:?}");
    assert!((outcome.left.hand.turns.unwrap().turns() + 0.24).abs() < 1e-9, "the roller goes down");
}

#[test]
fn a_check_says_what_is_due_and_may_go_without_a_label() {
    let mut fit = Walk::coming_for(VisitKind::CheckOnly, bench::unit());
    fit.through().tape("5.001", "5.000").take(Event::Next).stands(StageName::Check);
    fit.check_all();
    assert_eq!(fit.visit.check_outcome(&fit.facts).unwrap().unwrap().due, []);
    fit.take(Event::Next).stands(StageName::Label);
    let content = fit.visit.label_content(&fit.facts).unwrap();
    assert_eq!((content.verdict, content.lead), (LabelVerdict::Fit, Some(inch("5.001"))));
    fit.take(Event::Next).stands(StageName::Return);

    let mut worn = bench::unit();
    if let Some(work) = &mut worn.last {
        (work.lead, work.trail) = (inch("4.520"), inch("4.520"));
    }
    let mut due = Walk::coming_for(VisitKind::CheckOnly, worn);
    // Below the limit nothing is asked: nothing is ground.
    due.through().tape("4.510", "4.500").take(Event::Next).isolate();
    due.read(inch("0.080")).read(inch("0.070")).read(inch("0.120")).read(inch("0.125"));
    due.check(&Event::Next, &Refusal::PaperNotSaid).take(Event::PaperCut { whole_length: false });
    let reasons = due.visit.check_outcome(&due.facts).unwrap().unwrap().due;
    assert!(matches!(
        reasons.as_slice(),
        [
            DueReason::WornOut { .. },
            DueReason::Cone { .. },
            DueReason::Land { .. },
            DueReason::Paper,
            DueReason::Height { .. }
        ]
    ));
    due.take(Event::Next);
    assert_eq!(due.visit.label_content(&due.facts).unwrap().verdict, LabelVerdict::Due);
    due.print().scan_label().take(Event::Next).stands(StageName::Return);
}

#[test]
fn what_was_ground_belongs_to_its_kind() {
    let mut walk = Walk::at(StageName::Grind);
    walk.passes(2).take(Event::Back);
    while walk.visit.stage_name() != StageName::Receive {
        walk.take(Event::Back);
    }
    let kind = VisitKind::CheckOnly;
    walk.check(&Event::KindChosen { kind }, &Refusal::WorkBegun { kind: VisitKind::Spin });
    walk.take(Event::KindChosen { kind: VisitKind::Spin });
}

#[test]
fn a_plate_check_is_not_passed_by() {
    let mut walk = Walk::of(bench::unit_in(FrameKind::FloatingReel));
    walk.on_to(StageName::Plate).isolate().check(&Event::Next, &Refusal::Missing { place: Place::EdgeLeft });
    walk.read(inch("0.125")).read(inch("0.1255")).read(thou("1")).read(thou("4"));
    walk.check(&Event::Next, &Refusal::NotProven).check(&Event::NotProvenAccepted, &Refusal::NotProven);
    walk.take(Event::MeasuredAgain).read(inch("0.125")).read(inch("0.125")).read(thou("1")).read(thou("2.5"));
    // 0.0015 and U = 2·√2·0.0005/(2√3) = 0.0004 against 0.002 (JCGM 100:2008, 4.3.7): proven; a 0.0017 is not.
    let outcome = walk.visit.plate_outcome(&walk.facts).unwrap();
    assert!((outcome.gap_u95.inches() - 0.000_408).abs() < 1e-6, "{outcome:?}");
    walk.take(Event::PlacePicked { place: Place::GapRight }).read(thou("2.7"));
    walk.check(&Event::Next, &Refusal::NotProven).take(Event::NotProvenAccepted).take(Event::Next);
    assert_eq!(walk.visit.label_content(&walk.facts).unwrap().verdict, LabelVerdict::WithinNotProven);
    walk.take(Event::Back).take(Event::MeasuredAgain);
    assert_eq!(walk.visit.label_content(&walk.facts), None, "no label without the plate");
}
