//! Prove, Label and Return: judging, another grind, and a label that says what is so.

use super::{Answer, Effect, Event, Place, Refusal, StageName, Walk, bench, inch};
use crate::calc::prove::ProveVerdict;
use crate::label::LabelVerdict;
use crate::quantity::Length;
use crate::visit::event::{BedknifeWork, Question, StopReason, UnitFacts};
use crate::visit::gate::Block;
use crate::visit::{FrontPhase, Judgement};

const CUT: Event = Event::PaperCut { whole_length: true };

fn at_prove() -> Walk {
    let mut walk = Walk::at(StageName::Prove);
    walk.isolate();
    walk
}

#[test]
fn what_prove_wants_before_the_label() {
    let mut walk = at_prove();
    walk.check(&Event::Next, &Refusal::Missing { place: Place::Lead }).read(inch("4.998"));
    walk.check(&Event::Next, &Refusal::Missing { place: Place::Trail }).read(inch("4.998"));
    walk.check(&Event::Next, &Refusal::PaperNotCut).take(CUT).take(Event::PaperCut { whole_length: false });
    walk.check(&Event::Next, &Refusal::PaperNotCut).take(CUT);
    walk.take(Event::BedknifeSaid { work: BedknifeWork::Faced });
    let signed_on = walk.facts.operator.take();
    walk.check(&Event::Next, &Refusal::Blocked(Block::NoOperator));
    walk.facts.operator = signed_on;
    walk.take(Event::Next).stands(StageName::Label);
}

#[test]
fn numbers_that_cannot_be_true() {
    // Below three quarters of its wear limit or a quarter above new, a diameter is not this reel's.
    let diameter = (Place::Lead, inch("3.375"), crate::reading::Reading::from_nanometres(161_925_000));
    let land = (Place::Land, crate::reading::Reading::from_nanometres(1), inch("0.5"));
    let height = (Place::HeightOfCut, crate::reading::Reading::from_nanometres(1), inch("5"));
    for (place, least, most) in [diameter, land, height] {
        let mut walk = at_prove();
        walk.take(Event::PlacePicked { place });
        let beyond = [least.nanometres() - 1, most.nanometres() + 1, 0, -1, i64::MIN, i64::MAX, 50 * 25_400_000];
        for reading in beyond.map(crate::reading::Reading::from_nanometres) {
            let place = Some(place);
            walk.check(&Event::Read { reading }, &Refusal::OutOfRange { place, reading, least, most });
        }
        walk.read(most);
        assert_eq!(walk.visit.prove().reading(place), Some(most));
    }
    let mut tape = Walk::at(StageName::Tape);
    tape.isolate();
    let (place, least, most) = (Some(diameter.0), diameter.1, diameter.2);
    for reading in [inch("50"), inch("-5.02"), inch("0")] {
        tape.check(&Event::Read { reading }, &Refusal::OutOfRange { place, reading, least, most });
    }
}

/// A cone of 0.0015 with U = 0.0008 is within 0.002, but not proven.
#[test]
fn within_but_not_proven_is_recorded_by_name_and_stands_on_the_label() {
    let mut walk = at_prove();
    walk.read(inch("4.9985")).read(inch("4.9970")).take(CUT);
    assert_eq!(walk.visit.proved(&walk.facts).unwrap().unwrap().verdict, ProveVerdict::Repeat);
    walk.check(&Event::Next, &Refusal::NotProven);
    let signed_on = walk.facts.operator.take();
    walk.check(&Event::NotProvenAccepted, &Refusal::Blocked(Block::NoOperator));
    walk.facts.operator = signed_on;
    walk.take(Event::NotProvenAccepted);
    assert_eq!(walk.visit.prove().accepted_by(), Some("AM"));
    walk.read(inch("0.050"));
    assert_eq!(walk.visit.prove().accepted_by(), Some("AM"), "the land says nothing about the cone");
    walk.take(Event::MeasuredAgain).read(inch("4.9985")).read(inch("4.9970"));
    walk.check(&Event::Next, &Refusal::NotProven).take(Event::NotProvenAccepted).take(Event::Next);
    assert!(matches!(walk.effects.first(), Some(Effect::WorkDone(work)) if !work.proven));
    let content = walk.visit.label_content(&walk.facts).unwrap();
    assert_eq!((content.verdict, content.operator.as_str()), (LabelVerdict::WithinNotProven, "AM"));
}

#[test]
fn a_front_that_was_accepted_not_proven_stands_on_the_label() {
    let mut walk = Walk::at(StageName::Front);
    walk.touch("23.6").take(Event::NotProvenAccepted).take(Event::Next).on_to(StageName::Prove);
    walk.prove("4.998", "4.998").take(CUT).take(Event::Next);
    assert_eq!(walk.visit.judgement(&walk.facts), Some(Judgement::WithinNotProven));
    assert_eq!(walk.visit.label_content(&walk.facts).unwrap().verdict, LabelVerdict::WithinNotProven);
}

#[test]
fn another_grind_begins_at_front_with_what_was_taped_now() {
    let mut walk = at_prove();
    walk.check(&Event::Regrind, &Refusal::Missing { place: Place::Lead });
    walk.read(inch("5.001")).check(&Event::Regrind, &Refusal::Missing { place: Place::Trail });
    walk.read(inch("4.998")).take(Event::BedknifeSaid { work: BedknifeWork::New });
    assert_eq!(walk.visit.proved(&walk.facts).unwrap().unwrap().verdict, ProveVerdict::Regrind);
    walk.check(&Event::NotProvenAccepted, &Refusal::NotProven).take(Event::Regrind).stands(StageName::Front);
    assert_eq!(walk.visit.tape().ends(), Some((inch("5.001"), inch("4.998"))));
    assert_eq!((walk.visit.passes().done(), walk.visit.prove().reading(Place::Lead)), (0, None));
    assert_eq!(walk.visit.prove().bedknife(), Some(BedknifeWork::New));
    assert!(!walk.visit.rear_done(&walk.facts) && walk.visit.asks_isolation(&walk.facts));
    walk.touch("3");
    let Ok(FrontPhase::Judged(outcome)) = walk.visit.front_phase(&walk.facts) else { panic!() };
    assert!((outcome.target.inches() - 0.003).abs() < 1e-9);
    walk.take(Event::Next).through().through().through().stands(StageName::Prove);
    walk.prove("4.996", "4.996").take(CUT).take(Event::Next).on_to(StageName::Return);
    assert_eq!(walk.replayed(), walk.visit);
}

#[test]
fn another_grind_below_the_wear_limit_is_asked_about() {
    let question = Question::BelowLimit { ends_at: inch("4.497"), limit: inch("4.500") };
    for answer in [Answer::Keep, Answer::Again, Answer::Stop] {
        let mut walk = Walk::of(UnitFacts { last: None, ..bench::unit() });
        walk.on_to(StageName::Tape).tape("4.512", "4.503").take(Event::Next).touch("9").take(Event::Next);
        walk.on_to(StageName::Prove).prove("4.503", "4.499").take(Event::Regrind).stands(StageName::Prove);
        assert_eq!(walk.visit.question(), Some(&question));
        walk.answer(answer);
        match answer {
            Answer::Keep => assert_eq!(walk.effects, [Effect::StageEntered(StageName::Front)]),
            Answer::Again | Answer::Offered => assert_eq!(walk.visit.stage_name(), StageName::Tape),
            Answer::Stop => assert_eq!(walk.effects, [Effect::ClosedUnfinished(StopReason::BelowLimit)]),
        }
        assert_eq!(walk.visit.stage_name() == StageName::Front, answer == Answer::Keep);
        assert_eq!(walk.visit.closed(), answer == Answer::Stop);
    }
}

#[test]
fn closure_finds_what_front_left() {
    let mut walk = Walk::at(StageName::Front);
    // A tilt of 0.0005 left in is ground in as a cone of 0.001 (handbook, section 2).
    walk.touch("21").take(Event::Next).on_to(StageName::Prove).prove("4.998", "4.999");
    let outcome = walk.visit.proved(&walk.facts).unwrap().unwrap();
    assert!(outcome.misclosure.unwrap().abs() < Length::from_inches(1e-9), "{outcome:?}");
}

#[test]
fn only_the_label_that_was_printed_counts() {
    let mut walk = Walk::at(StageName::Label);
    walk.check(&Event::Next, &Refusal::NotPrinted);
    walk.check(&Event::LabelScanned { code: walk.code() }, &Refusal::NotPrinted);
    let meant = walk.code();
    let printed = |code: &str| Event::Printed { code: code.to_owned(), to: String::new() };
    let mut other = Walk::at(StageName::Prove);
    other.prove("4.997", "4.997").take(CUT).take(Event::Next);
    for wrong in ["", "HTTPS://HUB.SHOP.EXAMPLE", &meant[..meant.len() - 8], &other.code()] {
        walk.check(&printed(wrong), &Refusal::LabelWrong);
    }
    let signed_on = walk.facts.operator.take();
    walk.check(&Event::PrintAsked, &Refusal::Blocked(Block::NoOperator));
    walk.facts.operator = signed_on;
    walk.print().check(&Event::Next, &Refusal::LabelNotScanned);
    walk.check(&Event::LabelScanned { code: other.code() }, &Refusal::OtherLabel);
    walk.scan_label();
    assert!(walk.visit.label().scanned());
    walk.print().check(&Event::Next, &Refusal::LabelNotScanned);
    assert_eq!((walk.visit.label().prints(), walk.visit.label().printed_to()), (2, "label.png"));
    walk.scan_label().take(Event::Next).stands(StageName::Return);
    walk.check(&Event::Next, &Refusal::NotHere { stage: StageName::Return });
}

#[test]
fn other_figures_need_another_label() {
    let mut walk = Walk::at(StageName::Label);
    walk.print().scan_label().take(Event::Back).take(Event::Next);
    assert!(walk.visit.label().scanned(), "nothing was measured anew");
    walk.take(Event::Back).take(Event::PlacePicked { place: Place::Land }).read(inch("0.060")).take(Event::Next);
    walk.check(&Event::Next, &Refusal::NotPrinted);
    walk.print().scan_label().take(Event::Next).stands(StageName::Return);
}
