//! Readings repeated on the plate and of the height of cut. Pooling is JCGM 100:2008, 4.2.4; Student's factors are its
//! Table G.2; that a graduation does not average out follows from 4.3.7.

use super::{Event, Reading, StageName, VisitKind, Walk, bench, inch, thou};
use crate::bench::FrameKind;
use crate::calc::uncertainty::Decision;
use crate::quantity::Length;
use crate::visit::event::{Place, Which};
use proptest::prelude::*;

/// Half a thousandth is read on gauge and feelers; 2·q/(2√3) of one, and √2 times that of a difference.
const U_READING: f64 = 0.5 / 1.732_050_807_568_877_2;

fn at_height() -> Walk {
    let mut walk = Walk::coming_for(VisitKind::HeightOfCut, bench::unit());
    walk.on_to(StageName::Height).isolate();
    walk
}

fn at_plate() -> Walk {
    let mut walk = Walk::coming_for(VisitKind::HeightOfCut, bench::unit_in(FrameKind::FloatingReel));
    walk.on_to(StageName::Plate).isolate();
    walk
}

fn height(walk: &Walk) -> (f64, f64, Decision) {
    let outcome = walk.visit.height_outcome(&walk.facts).unwrap().unwrap();
    (outcome.right.error.thou(), outcome.error_u95.thou(), outcome.decision)
}

fn plate(walk: &mut Walk, edges: [&str; 2], gaps: [&str; 2]) -> (f64, f64, Decision) {
    walk.read(inch(edges[0])).read(inch(edges[1])).read(thou(gaps[0])).read(thou(gaps[1]));
    let outcome = walk.visit.plate_outcome(&walk.facts).unwrap();
    (outcome.gap.thou(), outcome.gap_u95.thou(), outcome.decision())
}

#[track_caller]
fn near(found: f64, wanted: f64) {
    assert!((found - wanted).abs() < 1e-9, "{found} instead of {wanted}");
}

#[test]
fn a_height_within_tolerance_is_proven_by_measuring_again() {
    let mut walk = at_height();
    walk.read(inch("0.125")).read(inch("0.127"));
    assert_eq!(height(&walk).2, Decision::Unproven);
    walk.take(Event::MeasuredAgain);
    assert_eq!(walk.visit.height_outcome(&walk.facts), None, "half a set says nothing");
    walk.read(inch("0.125")).read(inch("0.126"));
    let (error, u95, decision) = height(&walk);
    near(error, 1.5);
    near(u95, U_READING);
    assert_eq!((decision, walk.visit.height().sets()), (Decision::Proven, 2));
    assert_eq!(walk.replayed(), walk.visit);
    walk.take(Event::Next).stands(StageName::Label);
    let service = walk.effects.iter().find_map(|effect| match effect {
        crate::visit::event::Effect::ServiceDone { service, .. } => Some(service),
        _ => None,
    });
    assert_eq!(service.unwrap().height_of_cut, Some(inch("0.125")));
}

/// Six sets at two stations: Σd² = 6·0.5²·… is 1.5 thou² at the right alone, over ten degrees of freedom, by hand.
#[test]
fn scatter_replaces_nothing_assumed_once_there_is_enough_of_it() {
    let mut walk = at_height();
    for right in ["126", "127", "126", "127", "126", "127"] {
        walk.read(thou("125")).read(thou(right)).take(Event::MeasuredAgain);
    }
    walk.read(thou("125")).read(thou("126.5"));
    let (error, u95, _) = height(&walk);
    near(error, 1.5);
    // Six at ±0.5, one at the mean: 1.5 over 2·6 degrees of freedom, Student's 2.23.
    let scatter = (1.5_f64 / 12.0).sqrt() * 2.23 / 2.0;
    near(u95, 2.0 * ((U_READING / 2.0).powi(2) + scatter.powi(2) / 7.0).sqrt());
}

#[test]
fn what_is_beyond_is_read_anew_and_a_turn_begins_another_setting() {
    let mut walk = at_height();
    walk.read(inch("0.125")).read(inch("0.135"));
    assert_eq!(height(&walk).2, Decision::Beyond);
    walk.take(Event::MeasuredAgain).read(inch("0.125")).read(inch("0.127"));
    near(height(&walk).0, 2.0);
    walk.take(Event::MeasuredAgain).read(inch("0.125")).read(inch("0.1265"));
    near(height(&walk).0, 1.75);
    walk.take(Event::Turned { which: Which::Other });
    assert_eq!(walk.visit.height().rounds().last().unwrap().right, inch("0.12675"));
    walk.read(inch("0.125")).read(inch("0.125"));
    near(height(&walk).0, 0.0);
    assert_eq!((walk.visit.height().sets(), walk.replayed()), (1, walk.visit.handed_on()));
}

#[test]
fn a_wrong_reading_is_put_right_at_its_own_place() {
    let mut walk = at_height();
    walk.read(inch("0.125")).read(inch("0.127")).take(Event::PlacePicked { place: Place::HeightRight });
    walk.read(inch("0.125"));
    assert_eq!((height(&walk).2, walk.visit.height().sets()), (Decision::Proven, 1));
}

#[test]
fn the_plate_pools_what_is_not_proven_and_not_what_was_moved() {
    let mut walk = at_plate();
    let (gap, u95, decision) = plate(&mut walk, ["0.125", "0.125"], ["1", "4"]);
    assert_eq!(decision, Decision::Beyond);
    near(gap, 3.0);
    near(u95, U_READING * 2.0_f64.sqrt());
    walk.take(Event::MeasuredAgain);
    let (gap, _, decision) = plate(&mut walk, ["0.125", "0.125"], ["1", "3"]);
    near(gap, 2.0);
    assert_eq!(decision, Decision::Unproven);
    walk.take(Event::MeasuredAgain);
    let (gap, _, decision) = plate(&mut walk, ["0.125", "0.125"], ["1", "2"]);
    near(gap, 1.5);
    assert_eq!((decision, walk.visit.plate().sets()), (Decision::Proven, 2));
    assert_eq!(walk.replayed(), walk.visit);
    walk.take(Event::Next).stands(StageName::Label);
}

#[test]
fn measuring_again_takes_an_acceptance_back() {
    let mut walk = at_plate();
    plate(&mut walk, ["0.125", "0.125"], ["1", "3"]);
    walk.take(Event::NotProvenAccepted).take(Event::MeasuredAgain);
    assert_eq!((walk.visit.plate().accepted_by(), walk.visit.plate_done(&walk.facts)), (None, false));
}

proptest! {
    /// However often and whatever is read: the mean is that of all sets since something was moved, the uncertainty
    /// never falls below what the graduation hides, and a replay finds the same.
    #[test]
    fn sets_pool_to_their_mean(rights in proptest::collection::vec(123_000_i64..127_000, 1..9)) {
        let mut walk = at_height();
        let mut pool: Vec<i64> = Vec::new();
        for right in rights {
            // Thousandths of a thousandth, to the nanometre.
            let nanometres = right * 254 / 10;
            if !pool.is_empty() {
                let beyond = height(&walk).2 == Decision::Beyond;
                walk.take(Event::MeasuredAgain);
                if beyond {
                    pool.clear();
                }
            }
            walk.read(inch("0.125")).read(Reading::from_nanometres(nanometres));
            pool.push(nanometres);
            let mean = pool.iter().sum::<i64>() as f64 / pool.len() as f64 / 1e6;
            let (error, u95, _) = height(&walk);
            prop_assert!((error - (Length::from_mm(mean) - inch("0.125").length()).thou()).abs() < 1e-9);
            prop_assert!(u95 >= U_READING - 1e-12);
            prop_assert_eq!(walk.visit.height().sets(), pool.len());
        }
        prop_assert_eq!(walk.replayed(), walk.visit);
    }
}
