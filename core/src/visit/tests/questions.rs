//! What is asked about, each answer, and what becomes of a question when the person walks away.

use super::{Answer, Event, Place, Refusal, StageName, Walk, bench, inch, thou};
use crate::visit::event::{Effect, Question, StopReason};

/// A visit at Tape or Front with isolation acknowledged.
fn isolated(stage: StageName) -> Walk {
    let mut walk = Walk::at(stage);
    walk.isolate();
    walk
}

#[track_caller]
fn asks(walk: &mut Walk, question: &Question) {
    assert_eq!(walk.visit.question(), Some(question));
    walk.check(&Event::Next, &Refusal::QuestionOpen).check(&Event::Read { reading: inch("5") }, &Refusal::QuestionOpen);
    for answer in [Answer::Keep, Answer::Again, Answer::Offered, Answer::Stop] {
        if !question.answers().contains(&answer) {
            walk.check(&Event::Answered { answer }, &Refusal::NotAnAnswer);
        }
    }
}

fn far() -> Question {
    Question::FarFromLast { place: Place::Lead, reading: inch("4.950"), last: inch("5.022") }
}

#[test]
fn a_diameter_far_from_the_last() {
    for (answer, kept) in [(Answer::Keep, Some(inch("4.950"))), (Answer::Again, None)] {
        let mut walk = isolated(StageName::Tape);
        walk.read(inch("4.950"));
        asks(&mut walk, &far());
        walk.answer(answer).check(&Event::Answered { answer }, &Refusal::NotAnAnswer);
        assert_eq!(walk.visit.tape().reading(Place::Lead), kept);
        assert_eq!(walk.visit.tape().asked(), Some(if kept.is_some() { Place::Trail } else { Place::Lead }));
    }
    // 0.060 away is not far yet, 0.061 is; without a last work nothing is known.
    let mut walk = isolated(StageName::Tape);
    walk.read(inch("4.962"));
    assert_eq!(walk.visit.question(), None);
    walk.take(Event::PlacePicked { place: Place::Lead }).read(inch("4.961"));
    assert!(walk.visit.question().is_some());
    let mut unknown = Walk::of(crate::visit::event::UnitFacts { last: None, ..bench::unit() });
    unknown.on_to(StageName::Tape).isolate().read(inch("4.600"));
    assert_eq!(unknown.visit.question(), None);
}

#[test]
fn a_diameter_larger_than_new() {
    let larger = Question::LargerThanNew { place: Place::Trail, reading: inch("5.170"), new: inch("5.100") };
    let mut walk = isolated(StageName::Tape);
    walk.read(inch("5.020")).read(inch("5.170"));
    asks(&mut walk, &larger);
    walk.answer(Answer::Again).read(inch("5.170"));
    // What is kept may still be at the wrong end: the last cone ran the other way.
    walk.answer(Answer::Keep);
    assert!(matches!(walk.visit.question(), Some(Question::EndsSwapped { .. })));
}

#[test]
fn ends_swapped() {
    let question = Question::EndsSwapped { cone: inch("-0.020"), last: inch("0.010") };
    let table = [
        (Answer::Offered, Some((inch("5.020"), inch("5.000")))),
        (Answer::Keep, Some((inch("5.000"), inch("5.020")))),
        (Answer::Again, None),
    ];
    for (answer, ends) in table {
        let mut walk = isolated(StageName::Tape);
        walk.take(Event::PlacePicked { place: Place::Centre })
            .read(inch("5.011"))
            .read(inch("5.000"))
            .read(inch("5.020"));
        asks(&mut walk, &question);
        walk.answer(answer);
        assert_eq!(walk.visit.tape().ends(), ends, "{answer:?}");
        assert_eq!(walk.visit.tape().reading(Place::Centre), Some(inch("5.011")), "the middle has no other end");
        // Answered once, the middle does not bring it up again.
        walk.take(Event::PlacePicked { place: Place::Centre }).read(inch("5.010"));
        assert_eq!(walk.visit.question(), None, "{answer:?}");
    }
    // A cone as small as the tape's own doubt says nothing.
    let mut walk = isolated(StageName::Tape);
    walk.read(inch("5.000")).read(inch("5.005"));
    assert_eq!(walk.visit.question(), None);
}

#[test]
fn a_grind_that_would_end_below_the_wear_limit() {
    let worn = crate::visit::event::UnitFacts { last: None, ..bench::unit() };
    let below = Question::BelowLimit { ends_at: inch("4.499"), limit: inch("4.500") };
    for answer in [Answer::Stop, Answer::Again, Answer::Keep] {
        let mut walk = Walk::of(worn.clone());
        walk.on_to(StageName::Tape).tape("4.511", "4.501").take(Event::Next).stands(StageName::Tape);
        asks(&mut walk, &below);
        walk.answer(answer);
        match answer {
            Answer::Stop => {
                assert_eq!(walk.effects, [Effect::ClosedUnfinished(StopReason::BelowLimit)]);
                assert!(walk.visit.closed());
            }
            Answer::Keep => {
                walk.stands(StageName::Front);
            }
            Answer::Again | Answer::Offered => {
                walk.stands(StageName::Tape).take(Event::Next).answer(Answer::Again);
            }
        }
    }
    let mut just = Walk::of(worn);
    just.on_to(StageName::Tape).tape("4.512", "4.502").take(Event::Next).stands(StageName::Front);
}

#[test]
fn a_dial_that_stands_short_of_zero() {
    // Handbook, section 1: 94 on a dial of 100 offers -6. Taped 5.020 and 5.000, the dial is to read +20.
    let short = Question::DialShort { reading: thou("94"), offered: thou("-6") };
    let table = [(Answer::Offered, vec![thou("-6")]), (Answer::Keep, vec![thou("94")]), (Answer::Again, vec![])];
    for (answer, readings) in table {
        let mut walk = isolated(StageName::Front);
        walk.take(Event::ZeroSet).read(thou("94"));
        asks(&mut walk, &short);
        assert!(walk.visit.front().readings().is_empty(), "not taken before it is answered");
        walk.answer(answer);
        assert_eq!(walk.visit.front().readings(), readings, "{answer:?}");
    }
    // On a dial of radius the target is half as much, and with it what is nearer.
    let mut radius = isolated(StageName::Front);
    radius.facts.grinder.dial = crate::bench::DialKind::Radius;
    radius.take(Event::ZeroSet).read(thou("60.5"));
    assert_eq!(radius.visit.question(), Some(&Question::DialShort { reading: thou("60.5"), offered: thou("-39.5") }));
    for plain in ["26", "60", "-94", "100", "194"] {
        let mut walk = isolated(StageName::Front);
        walk.take(Event::ZeroSet).read(thou(plain));
        assert_eq!(walk.visit.question(), None, "{plain}");
    }
}

#[test]
fn inches_typed_where_thousandths_are_asked_for() {
    // Handbook, section 1: in thousandths mode an entry of "0.026" is asked about.
    let reading = crate::reading::Reading::from_nanometres(660);
    let fine = Question::TooFine { reading, offered: crate::reading::Reading::from_nanometres(660_000) };
    let offered = crate::reading::Reading::from_nanometres(660_000);
    for (answer, kept) in [(Answer::Offered, Some(offered)), (Answer::Keep, Some(reading)), (Answer::Again, None)] {
        let mut front = isolated(StageName::Front);
        front.take(Event::ZeroSet).read(reading);
        asks(&mut front, &fine);
        front.answer(answer);
        assert_eq!(front.visit.front().readings().first().copied(), kept, "{answer:?}");

        let mut rear = isolated(StageName::Rear);
        rear.take(Event::PlacePicked { place: Place::RearRight }).read(reading);
        asks(&mut rear, &fine);
        rear.answer(answer);
        assert_eq!(rear.visit.rear().reading(Place::RearRight), kept, "{answer:?}");
    }
    let mut zero = isolated(StageName::Front);
    zero.take(Event::ZeroSet).read(thou("0"));
    assert_eq!(zero.visit.question(), None, "nothing is no fine reading");
}

#[test]
fn a_reel_that_came_out_of_the_grind_as_it_cannot() {
    for (reading, asked) in [("5.023", true), ("5.021", false), ("4.959", true), ("4.998", false)] {
        let mut walk = isolated(StageName::Prove);
        walk.read(inch(reading));
        assert_eq!(walk.visit.question().is_some(), asked, "{reading}");
        if asked {
            asks(&mut walk, &Question::FarFromLast { place: Place::Lead, reading: inch(reading), last: inch("5.020") });
            walk.answer(Answer::Again).read(inch(reading)).answer(Answer::Keep);
            assert_eq!(walk.visit.prove().reading(Place::Lead), Some(inch(reading)));
        }
    }
}

#[test]
fn who_steps_back_from_a_doubt_has_not_confirmed_the_reading() {
    let mut walk = isolated(StageName::Tape);
    walk.read(inch("4.950")).take(Event::Back).stands(StageName::Receive);
    assert_eq!((walk.visit.question(), walk.visit.tape().reading(Place::Lead)), (None, None));
    walk.take(Event::Next).read(inch("5.000")).read(inch("5.020")).take(Event::Back);
    assert_eq!(walk.visit.tape().ends(), None);

    let mut front = isolated(StageName::Front);
    front.take(Event::ZeroSet).read(thou("94")).take(Event::Back).stands(StageName::Tape).take(Event::Next);
    assert!(front.visit.front().readings().is_empty());
}

#[test]
fn a_question_outlives_a_restart_and_at_tape_a_pause() {
    let mut walk = isolated(StageName::Tape);
    walk.read(inch("4.950")).restart();
    asks(&mut walk, &far());
    walk.take(Event::Paused).check(&Event::Answered { answer: Answer::Keep }, &Refusal::Paused).take(Event::TakenUp);
    asks(&mut walk, &far());

    let mut front = isolated(StageName::Front);
    front.take(Event::ZeroSet).read(thou("94")).restart();
    asks(&mut front, &Question::DialShort { reading: thou("94"), offered: thou("-6") });
    // What the dial said of a unit that left the rails is nobody's question any more.
    front.take(Event::Paused).take(Event::TakenUp);
    assert_eq!(front.visit.question(), None);
    front.through().stands(StageName::Rear);
}
