//! Play measured at Receive. That play beyond the type's limit holds the visit is the handbook's section 1; the shop's
//! own limits are from memory of the trade.

use super::{Answer, Condition, Event, Part, Reading, Refusal, StageName, Walk, bench, inch, thou};
use crate::visit::PLAYS;
use crate::visit::event::{Place, Question};
use proptest::prelude::*;

fn pick(place: Place) -> Event {
    Event::PlacePicked { place }
}

#[test]
fn play_beyond_the_limit_holds_until_it_is_mended() {
    for (place, part, within, beyond) in
        [(Place::BearingPlay, Part::Bearings, "3", "3.5"), (Place::RollerPlay, Part::Rollers, "10", "10.5")]
    {
        let mut walk = Walk::new();
        walk.check(&Event::Read { reading: thou("1") }, &Refusal::NoNumberAsked);
        walk.look().take(pick(place)).read(thou(within));
        assert!(!walk.visit.receive().holds(part), "up to the limit is within it");
        walk.take(pick(place)).read(thou(beyond)).check(&Event::Next, &Refusal::HeldForRepair);
        assert_eq!(walk.visit.receive().play(place), Some(thou(beyond)));
        // Another number does not make it good: somebody mends it, by name.
        walk.take(pick(place)).read(thou(within)).check(&Event::Next, &Refusal::HeldForRepair);
        walk.take(Event::Mended { part });
        assert_eq!((walk.visit.receive().play(place), walk.visit.receive().mended_by(part)), (None, Some("AM")));
        assert_eq!(walk.replayed(), walk.visit);
        walk.take(Event::Next).stands(StageName::Tape);
    }
}

#[test]
fn the_types_limit_comes_before_the_shops() {
    let mut unit = bench::unit();
    unit.unit_type.setup.play_limit = Some(thou("5"));
    unit.unit_type.setup.roller_play_limit = Some(thou("2"));
    let mut walk = Walk::of(unit);
    walk.look().take(pick(Place::BearingPlay)).read(thou("4"));
    walk.take(pick(Place::RollerPlay)).read(thou("2.5"));
    assert_eq!(Part::ALL.map(|part| walk.visit.receive().holds(part)), [false, true, false]);
}

#[test]
fn nobody_has_to_measure_it() {
    let mut walk = Walk::new();
    walk.take(pick(Place::BearingPlay)).take(pick(Place::BearingPlay));
    assert_eq!(walk.visit.receive().asked(), None, "pressed twice, it is left out");
    walk.take(pick(Place::BearingPlay)).look().take(Event::Next).stands(StageName::Tape);
    walk.take(Event::Back);
    assert_eq!((walk.visit.receive().asked(), walk.visit.receive().play(Place::BearingPlay)), (None, None));
}

#[test]
fn measuring_is_looking_and_takes_no_note_away() {
    let mut walk = Walk::new();
    walk.take(pick(Place::RollerPlay)).read(thou("1"));
    assert_eq!(walk.visit.receive().condition(Part::Rollers), Some(Condition::Good));
    walk.take(Event::Looked { part: Part::Rollers, condition: Condition::Note });
    walk.take(pick(Place::RollerPlay)).read(thou("2"));
    assert_eq!(walk.visit.receive().condition(Part::Rollers), Some(Condition::Note));
}

#[test]
fn what_cannot_be_play_is_refused_or_asked_about() {
    let mut walk = Walk::new();
    walk.take(pick(Place::BearingPlay));
    for reading in [thou("-1"), inch("0.251")] {
        let refusal = walk.refused(&Event::Read { reading });
        assert!(matches!(refusal, Refusal::OutOfRange { place: Some(Place::BearingPlay), .. }), "{refusal:?}");
    }
    // Inches typed where thousandths are asked.
    let (typed, offered) = (Reading::from_nanometres(127), thou("5"));
    walk.read(typed);
    assert_eq!(walk.visit.question(), Some(&Question::TooFine { reading: typed, offered }));
    walk.answer(Answer::Offered).look_on();
    assert!(walk.visit.receive().holds(Part::Bearings));
}

impl Walk {
    fn look_on(&mut self) -> &mut Self {
        for part in [Part::Rollers, Part::Blades] {
            self.take(Event::Looked { part, condition: Condition::Good });
        }
        self
    }
}

proptest! {
    /// A visit is held exactly when a measured play is beyond its limit, and a replay agrees.
    #[test]
    fn held_when_beyond(play in 0_i64..20_000, limit in 1_i64..20_000, which in 0_usize..2) {
        let (place, part) = PLAYS[which];
        let (play, limit) = (Reading::from_nanometres(play * 254), Reading::from_nanometres(limit * 254));
        let mut unit = bench::unit();
        let setup = &mut unit.unit_type.setup;
        (setup.play_limit, setup.roller_play_limit) = (Some(limit), Some(limit));
        let mut walk = Walk::of(unit);
        walk.look().take(pick(place));
        prop_assume!(play <= inch("0.250"));
        walk.read(play);
        if walk.visit.question().is_some() {
            walk.answer(Answer::Keep);
        }
        prop_assert_eq!(walk.visit.receive().holds(part), play > limit);
        prop_assert_eq!(walk.replayed(), walk.visit);
    }
}
