//! The gate's rules, a row a rule: situation, event, verdict.

use super::{Change, Event, HELD, Refusal, StageName, Walk, bench, held, start};
use crate::facts::{GuardInput, StopInput};
use crate::quantity::SpindleSpeed;
use crate::record::RingTest;
use crate::visit::Stage;
use crate::visit::gate::{Block, Clearance, Gate, blocks};
use jiff::civil::date;

fn locked_out() -> Block {
    Block::LockedOut { lock: "7".to_owned(), by: "Operator BN".to_owned() }
}

/// What stands in the way | the fact that makes it so.
const IN_THE_WAY: &[(&str, Change)] = &[
    ("nobody signed on", |facts| facts.operator = None),
    ("not trained", |facts| facts.operator.as_mut().unwrap().trained = false),
    ("no wheel", |facts| facts.wheel = None),
    ("not inspected", |facts| facts.wheel.as_mut().unwrap().inspected = false),
    ("no ring test", |facts| facts.wheel.as_mut().unwrap().ring_test = RingTest::Missing),
    ("no rating", |facts| facts.wheel.as_mut().unwrap().rated_speed = None),
    ("faster than rated", |facts| facts.grinder.spindle_speed = SpindleSpeed::from_rpm(4_141.0)),
    ("no speed at all", |facts| facts.grinder.spindle_speed = SpindleSpeed::from_rpm(0.0)),
    ("check overdue", |facts| facts.today = date(2031, 9, 2)),
    ("out of true", |facts| facts.grinder.last_check = Some(Box::new(bench::out_of_true()))),
    ("locked out", |facts| facts.lockout = Some(bench::locked("B-2", "BN"))),
    ("guard open", |facts| facts.guard = GuardInput::Open),
    ("guard not heard of", |facts| facts.guard = GuardInput::Stale),
    ("no connection to the guard", |facts| facts.guard = GuardInput::Lost),
    ("stop pressed", |facts| facts.stop = StopInput::Pressed),
    ("stop not heard of", |facts| facts.stop = StopInput::Stale),
    ("no connection to the stop", |facts| facts.stop = StopInput::Lost),
];

fn block_of(situation: &str) -> Block {
    let rated = SpindleSpeed::from_rpm(4_140.0);
    match situation {
        "nobody signed on" => Block::NoOperator,
        "not trained" => Block::NotTrained { name: "Operator AM".to_owned() },
        "no wheel" => Block::NoWheel,
        "not inspected" => Block::NotInspected,
        "no ring test" => Block::NoRingTest,
        "no rating" => Block::NoRatedSpeed,
        "faster than rated" => Block::Overspeed { spindle: SpindleSpeed::from_rpm(4_141.0), rated },
        // A speed that cannot be computed with is as good as one that is too high.
        "no speed at all" => Block::Overspeed { spindle: SpindleSpeed::from_rpm(0.0), rated },
        "check overdue" => Block::CheckOverdue { due: date(2031, 9, 1) },
        "out of true" => Block::OutOfTrue { checked: date(2031, 3, 1) },
        "locked out" => locked_out(),
        "guard open" => Block::GuardOpen,
        "stop pressed" => Block::StopPressed,
        "guard not heard of" | "stop not heard of" => Block::InputsStale,
        "no connection to the guard" | "no connection to the stop" => Block::InputsLost,
        other => panic!("{other}"),
    }
}

#[test]
fn nothing_stands_in_the_way_of_a_bench_in_order() {
    assert_eq!(blocks(&bench::facts()), []);
    let mut facts = bench::facts();
    facts.guard = GuardInput::NotFitted;
    facts.wheel.as_mut().unwrap().ring_test = RingTest::NotApplicable("resin bond".to_owned());
    facts.today = date(2031, 9, 2);
    facts.grinder.check_override = Some(("lead".to_owned(), "fitter comes tomorrow".to_owned()));
    assert_eq!(blocks(&facts), []);
    facts.grinder.last_check = Some(Box::new(bench::out_of_true()));
    assert_eq!(blocks(&facts), []);
}

/// A lead's word counts up to its last day, that day included, for an overdue check as for one out of true.
#[test]
fn a_lead_s_word_lapses() {
    let mut facts = bench::facts();
    facts.today = date(2031, 9, 2);
    facts.grinder.check_override = Some(("lead".to_owned(), "fitter comes tomorrow".to_owned()));
    facts.grinder.last_check = Some(Box::new(bench::out_of_true()));
    facts.grinder.override_until = Some(date(2031, 9, 2));
    assert_eq!(blocks(&facts), []);
    facts.today = date(2031, 9, 3);
    let both = [Block::CheckOverdue { due: date(2031, 9, 1) }, Block::OutOfTrue { checked: date(2031, 3, 1) }];
    assert_eq!(blocks(&facts), both);
}

#[test]
fn each_thing_in_the_way_is_named() {
    for (situation, make) in IN_THE_WAY {
        let mut facts = bench::facts();
        make(&mut facts);
        assert_eq!(blocks(&facts), [block_of(situation)], "{situation}");
    }
}

#[test]
fn a_complete_list_gives_no_grind_while_something_is_in_the_way() {
    for (situation, make) in IN_THE_WAY {
        let mut walk = Walk::at(StageName::Clearance);
        walk.hold_all();
        make(&mut walk.facts);
        assert!(matches!(walk.refused(&start()), Refusal::Lapsed(_)), "{situation}");
        let reason = walk.visit.lapse(&walk.facts, &walk.now).unwrap();
        walk.take(Event::Lapsed { reason }).stands(StageName::Clearance);
        assert!(matches!(walk.refused(&start()), Refusal::Blocked(_)), "{situation}");
        assert!(matches!(walk.visit.stage(), Stage::Clearance(gate) if *gate == Gate::new()), "{situation}");
    }
}

/// Situation | event | verdict.
#[test]
fn items_are_taken_one_by_one_by_one_person() {
    let mut walk = Walk::at(StageName::Clearance);
    walk.check(&start(), &Refusal::ItemsOpen).check(&Event::Next, &Refusal::ItemsOpen);
    // out of turn
    walk.check(&held("guard"), &Refusal::NotThisItem).check(&held("nonsense"), &Refusal::NotThisItem);
    // let go too early
    let short = Event::ItemHeld { item: "bedknife".to_owned(), wording: String::new(), held_ms: 999 };
    walk.check(&short, &Refusal::HeldTooShort { held_ms: 999, wanted_ms: 1_000 });
    walk.hold("bedknife").check(&held("bedknife"), &Refusal::NotThisItem);
    // another person goes on
    walk.facts.operator = Some(bench::operator("B-2", "BN"));
    walk.check(&held("guard"), &Refusal::AnotherOperator);
    // nobody, or somebody untrained
    walk.facts.operator = None;
    walk.check(&held("guard"), &Refusal::Blocked(Block::NoOperator));
    walk.facts.operator = Some(bench::operator("B-1", "AM"));
    walk.facts.operator.as_mut().unwrap().trained = false;
    walk.check(&held("guard"), &Refusal::Blocked(Block::NotTrained { name: "Operator AM".to_owned() }));
    // the one who began
    walk.facts.operator.as_mut().unwrap().trained = true;
    walk.hold("guard").hold("look").hold("rating");
    let early = Event::GrindStarted { held_ms: HELD - 1 };
    walk.check(&early, &Refusal::HeldTooShort { held_ms: 999, wanted_ms: 1_000 });
    walk.check(&held("rating"), &Refusal::NotThisItem).take(start()).stands(StageName::Grind);
    let Stage::Grind(grind) = walk.visit.stage() else { panic!() };
    assert_eq!(grind.clearance().operator(), "B-1");
    assert_eq!(grind.clearance().items().collect::<Vec<_>>(), ["bedknife", "guard", "look", "rating"]);
}

#[test]
fn nothing_is_acknowledged_while_hands_may_be_in() {
    for (situation, block) in [
        ("locked out", locked_out()),
        ("guard open", Block::GuardOpen),
        ("stop pressed", Block::StopPressed),
        ("guard not heard of", Block::InputsStale),
        ("no connection to the stop", Block::InputsLost),
    ] {
        let make = IN_THE_WAY.iter().find(|row| row.0 == situation).unwrap().1;
        let mut walk = Walk::at(StageName::Clearance);
        make(&mut walk.facts);
        walk.check(&held("bedknife"), &Refusal::Blocked(block));
    }
}

#[test]
fn a_block_that_went_away_leaves_a_complete_list_that_counts() {
    let mut walk = Walk::at(StageName::Clearance);
    walk.facts.wheel.as_mut().unwrap().inspected = false;
    walk.hold_all().check(&start(), &Refusal::Blocked(Block::NotInspected));
    walk.facts.wheel.as_mut().unwrap().inspected = true;
    walk.take(start()).stands(StageName::Grind);
}

/// Asked | what was acknowledged before, and what has changed since.
#[test]
fn items_are_asked_as_often_as_they_are_marked() {
    let all = ["bedknife", "guard", "look", "rating"];
    let per_grind_and = |item: &'static str| ["bedknife", "guard", item].to_vec();
    let table: Vec<(Vec<&str>, Change)> = vec![
        (vec!["bedknife", "guard"], |_| {}),
        (per_grind_and("look"), |facts| facts.operator = Some(bench::operator("B-2", "BN"))),
        (per_grind_and("look"), |facts| facts.shift = "2031-04-15".to_owned()),
        (all.to_vec(), |facts| facts.wheel.as_mut().unwrap().mounting = "M-4".to_owned()),
        (all.to_vec(), |facts| facts.grinder.name = "Bench 2".to_owned()),
        (all.to_vec(), |facts| facts.operator = None),
        (all.to_vec(), |facts| facts.wheel = None),
        (all.to_vec(), |facts| facts.acknowledged.clear()),
    ];
    for (row, (asked, change)) in table.into_iter().enumerate() {
        let mut facts = bench::facts();
        // An item before every grind is asked before every grind, whatever was kept.
        facts.acknowledged = all.map(bench::prior).to_vec();
        change(&mut facts);
        assert_eq!(Gate::new().asked(&facts), asked, "row {row}");
    }
}

#[test]
fn a_list_of_nothing_clears_nothing() {
    let mut walk = Walk::at(StageName::Clearance);
    walk.facts.gate.items.clear();
    walk.check(&start(), &Refusal::ItemsOpen);
}

#[test]
fn a_grind_is_reached_from_nowhere_else() {
    for stage in super::ALL_STAGES {
        if stage == StageName::Clearance {
            continue;
        }
        let mut walk = Walk::at(stage);
        walk.isolate();
        assert!(matches!(walk.refused(&start()), Refusal::NotHere { .. }), "{stage:?}");
        assert!(matches!(walk.refused(&held("bedknife")), Refusal::NotHere { .. }), "{stage:?}");
    }
}

/// The types themselves: a clearance cannot be copied or read back from a disk. Were it so, this would not compile,
/// because two of the implementations would fit.
#[test]
fn a_clearance_is_neither_copied_nor_read_back() {
    trait NotClone<Marker> {
        fn holds() -> bool {
            true
        }
    }
    impl<T> NotClone<()> for T {}
    impl<T: Clone> NotClone<u8> for T {}
    trait NotRead<Marker> {
        fn holds() -> bool {
            true
        }
    }
    impl<T> NotRead<()> for T {}
    impl<T: serde::de::DeserializeOwned> NotRead<u8> for T {}
    assert!(<Clearance as NotClone<_>>::holds() && <Clearance as NotRead<_>>::holds());
    assert!(<crate::visit::Grind as NotClone<_>>::holds() && <crate::visit::Grind as NotRead<_>>::holds());
    assert!(<crate::visit::Visit as NotClone<_>>::holds() && <crate::visit::Visit as NotRead<_>>::holds());
}
