//! The straight visit, with the figures of the handbook's worked example (section 3).

use super::{Event, HELD, StageName, Walk, Which, held, inch, start, thou};
use crate::calc::front::{FrontVerdict, Sits};
use crate::label::LabelVerdict;
use crate::record::Side;
use crate::visit::event::Effect;
use crate::visit::{FrontPhase, Judgement, Stage};

#[track_caller]
fn judged(walk: &Walk) -> crate::calc::front::Front {
    match walk.visit.front_phase(&walk.facts).unwrap() {
        FrontPhase::Judged(outcome) => *outcome,
        other => panic!("{other:?}"),
    }
}

fn near(value: f64, expected: f64, within: f64) {
    assert!((value - expected).abs() <= within, "{value} instead of {expected}");
}

#[test]
fn all_nine_stages() {
    let mut walk = Walk::new();
    walk.look().take(Event::Next).stands(StageName::Tape);
    walk.tape("5.020", "5.000").take(Event::Next).stands(StageName::Front);

    walk.touch("26");
    let outcome = judged(&walk);
    near(outcome.target.inches(), 0.020, 1e-9);
    near(outcome.tilt.inches(), 0.003, 1e-9);
    assert_eq!((outcome.sits, outcome.verdict), (Sits::High, FrontVerdict::Adjust));
    let cure = walk.visit.front_cure(&walk.facts, Which::Other).unwrap();
    near(cure.height.inches(), -0.003_75, 1e-9);
    near(cure.turns.unwrap().turns(), -0.09, 1e-9);
    near(cure.rezero.inches(), 0.000_78, 0.000_005);
    assert_eq!(walk.visit.front_side(Which::Other), Ok(Side::Right));
    walk.take(Event::Turned { which: Which::Other });
    assert_eq!(walk.visit.front().expected_zero(), Some(outcome.move_other.rezero));
    walk.touch("20");
    assert_eq!(judged(&walk).verdict, FrontVerdict::Parallel);
    assert_eq!(walk.visit.front().rounds().len(), 1);
    walk.take(Event::Next).stands(StageName::Rear);

    walk.indicate("0", "0").take(Event::Next).stands(StageName::Clearance);
    for item in ["bedknife", "guard", "look", "rating"] {
        walk.take(held(item));
    }
    assert!(matches!(walk.visit.stage(), Stage::Cleared(_)));
    walk.take(start()).stands(StageName::Grind);

    let plan = walk.visit.plan(&walk.facts).unwrap();
    assert_eq!((plan.passes, walk.visit.passes_in_all(&walk.facts)), (11, 14));
    near(plan.final_diameter.inches(), 4.998, 1e-9);
    walk.passes(14).take(Event::StandStill { held_ms: HELD }).stands(StageName::Prove);

    walk.prove("4.998", "4.998").read(inch("0.050")).read(inch("0.125"));
    walk.take(Event::PaperCut { whole_length: true });
    assert_eq!(walk.visit.judgement(&walk.facts), Some(Judgement::Proven));
    walk.take(Event::Next).stands(StageName::Label);
    match walk.effects.as_slice() {
        [Effect::WorkDone(work), Effect::StageEntered(StageName::Label)] => {
            assert_eq!((work.before_lead, work.before_trail), (inch("5.020"), inch("5.000")));
            assert_eq!((work.lead, work.trail, work.land), (inch("4.998"), inch("4.998"), Some(inch("0.050"))));
            assert_eq!((work.proven, work.operator.as_str()), (true, "AM"));
        }
        other => panic!("{other:?}"),
    }

    walk.print().scan_label().take(Event::Next).stands(StageName::Return);
    walk.take(Event::PlaceConfirmed { scanned: true });
    assert!(walk.visit.closed());
    assert_eq!(walk.effects, [Effect::Closed]);
    assert_eq!(walk.replayed(), walk.visit);
}

#[test]
fn the_label_says_what_was_found() {
    let mut walk = Walk::at(StageName::Prove);
    walk.prove("4.998", "4.998").read(inch("0.050")).read(thou("125"));
    walk.take(Event::PaperCut { whole_length: true }).take(Event::Next).take(Event::PrintAsked);
    let [Effect::PrintLabel(content)] = walk.effects.as_slice() else { panic!("{:?}", walk.effects) };
    assert_eq!((content.unit.as_str(), content.mower.as_str(), content.position.as_str()), ("Q-114", "TRIPLEX-2", "1"));
    assert_eq!((content.lead, content.trail), (Some(inch("4.998")), Some(inch("4.998"))));
    assert_eq!((content.land, content.height_of_cut), (Some(inch("0.050")), Some(inch("0.125"))));
    assert_eq!((content.operator.as_str(), content.station.as_str()), ("AM", "Bench 1"));
    assert_eq!((content.verdict, content.grind.as_str()), (LabelVerdict::Proven, "V0000042"));
    assert_eq!((content.date, content.next_due), (walk.facts.today, Some(jiff::civil::date(2031, 5, 26))));
    // Two graduations of 0.001 in: 2·√2·0.001/(2√3), JCGM 100:2008, 4.3.7 and 5.1.2.
    near(content.cone_u95.unwrap().inches(), 0.000_816_5, 0.000_000_1);
}
