//! Touches pooled. Student's factors and the pooling are JCGM 100:2008, Table G.2 and 4.2.4.

use super::{Event, Reading, StageName, Walk, Which, thou};
use crate::quantity::Length;
use crate::visit::pooled_touch;

fn rounds(texts: &[&[&str]]) -> Vec<Vec<Reading>> {
    texts.iter().map(|round| round.iter().map(|text| thou(text)).collect()).collect()
}

fn pooled(texts: &[&[&str]], graduation: f64) -> Option<crate::visit::PooledTouch> {
    let rounds = rounds(texts);
    pooled_touch(rounds.iter().map(Vec::as_slice), Length::from_inches(graduation))
}

#[test]
fn fewer_than_five_degrees_of_freedom_earn_nothing() {
    assert_eq!(pooled(&[&["20", "21", "22", "20", "21"]], 0.001), None);
    assert_eq!(pooled(&[&["20"], &["30"], &["26"], &["20"], &["21"], &["22"], &["25"]], 0.001), None);
    assert!(pooled(&[&["20", "21", "22", "20", "21", "20"]], 0.001).is_some());
}

/// Sums of squares 2 and 2 over 2 + 3 degrees of freedom: s² = 0.8 of a reading, 0.4 of a touch, by hand.
#[test]
fn the_spread_within_rounds_is_pooled_and_widened() {
    let touch = pooled(&[&["20", "21", "22"], &["30", "32", "31", "31"]], 0.0001).unwrap();
    assert_eq!(touch.freedom, 5);
    assert!((touch.found.thou() - 0.4_f64.sqrt()).abs() < 1e-9, "{touch:?}");
    // Five degrees of freedom: 2.65 instead of 2.
    assert!((touch.used.thou() - 0.4_f64.sqrt() * 2.65 / 2.0).abs() < 1e-9, "{touch:?}");
}

#[test]
fn readings_on_one_mark_prove_no_spread_of_nothing() {
    let touch = pooled(&[&["20"; 12]], 0.001).unwrap();
    assert!(touch.found.mm().abs() < 1e-12);
    assert!((touch.used.thou() - 1.0 / (2.0 * 3.0_f64.sqrt()) * 2.25 / 2.0).abs() < 1e-9, "{touch:?}");
}

#[test]
fn front_uses_what_its_touches_earned() {
    let mut walk = Walk::at(StageName::Front);
    // Within tolerance, not proven: touched again and again.
    walk.facts.limits.tilt = Length::from_inches(0.003);
    let u95 = |walk: &Walk| walk.visit.front_outcome(&walk.facts).unwrap().unwrap().tilt_u95.unwrap();
    walk.touch("24.79");
    let first = u95(&walk);
    for dial in ["24.79"; 4] {
        walk.take(Event::TouchAgain).touch(dial);
    }
    assert!(u95(&walk) < first, "five touches of the assumed repeatability");
    assert_eq!(walk.visit.pooled_touches(&walk.facts), None);
    walk.take(Event::TouchAgain).touch("24.79");
    let earned = walk.visit.pooled_touches(&walk.facts).unwrap();
    assert_eq!(earned.freedom, 5);
    // The graduation hides a finer one, and five degrees of freedom widen it.
    assert!(earned.used > walk.facts.instruments.touch_sd, "{earned:?}");
    assert_eq!(walk.replayed(), walk.visit);
    // A turn ends the round; what it earned stays.
    walk.take(Event::Turned { which: Which::Other });
    assert_eq!(walk.visit.pooled_touches(&walk.facts), Some(earned));
}
