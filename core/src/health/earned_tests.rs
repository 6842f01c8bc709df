//! What is earned, on visits simulated from repeatabilities that are known.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use super::closure::{By, Closure, closures, gathered};
use super::earned::{ENOUGH, Source, earned};
use crate::bench::DialKind;
use crate::outlook::sample::{inch, unit_with};
use crate::quantity::Length;
use crate::reading::Reading;
use crate::record::Lesson;
use jiff::civil::date;

fn lesson() -> Lesson {
    Lesson {
        grinder: "Bench 1".to_owned(),
        dial: DialKind::Diameter,
        dial_graduation: inch("0.0001"),
        tape: "Tape 1".to_owned(),
        tape_graduation: inch("0.0001"),
        wheel: None,
        infeed: None,
        removed: None,
        touches: vec![inch("0.020")],
        tilt: None,
        misclosure: None,
        misclosure_u95: None,
    }
}

fn closure(operator: &str, misclosure_thou: f64, touches: &[&str]) -> Closure {
    let touches: Vec<Reading> = touches.iter().map(|text| inch(text)).collect();
    Closure {
        date: date(2031, 3, 1),
        visit: None,
        unit: "U-1".to_owned(),
        operator: operator.to_owned(),
        lesson: Lesson { touches, ..lesson() },
        misclosure: Length::from_inches(misclosure_thou / 1000.0),
        misclosure_u95: Length::from_inches(0.002),
    }
}

/// So many that scatter by ±1 thousandth about a constant.
fn pairs(count: u32, operator: &str) -> Vec<Closure> {
    (0..count).map(|index| closure(operator, if index % 2 == 0 { 6.0 } else { 4.0 }, &["0.020"])).collect()
}

#[test]
fn too_few_leave_what_was_assumed() {
    let found = earned(&pairs(ENOUGH - 1, "AM"), Some("AM"));
    assert_eq!((found.touch_sd, found.tape_sd), (None, None));
    assert_eq!(found.touch_source, Source::TooFew { closures: ENOUGH - 1, needed: ENOUGH });
}

/// Twenty misclosures of ±1 about their mean have a variance of 20/19 (JCGM 100:2008, 4.2.2); graduations of 0.1
/// take 6·0.01/12 out of it, and with one touch at each end of a dial in diameter a touch enters twice. The constant
/// five thousandths are nobody's repeatability.
#[test]
fn scatter_becomes_the_touch_s() {
    let found = earned(&pairs(20, "AM"), Some("AM"));
    let expected = ((20.0_f64 / 19.0 - 6.0 * 0.01 / 12.0) / 2.0).sqrt();
    assert!((found.touch_sd.unwrap().thou() - expected).abs() < 1e-9);
    assert_eq!(found.touch_source, Source::Closures { closures: 20, degrees_of_freedom: 18, own: true });
    assert_eq!(found.tape_source, Source::Assumed);
    // Nobody's own: the bench's.
    let bench = earned(&pairs(20, "AM"), Some("BN"));
    assert_eq!(bench.touch_source, Source::Closures { closures: 20, degrees_of_freedom: 18, own: false });
    assert_eq!(bench.touch_sd, found.touch_sd);
}

/// Repeated touches tell the touch's, so that what remains of the closures is the tape's.
#[test]
fn repeated_touches_leave_the_rest_to_the_tape() {
    let with_touches: Vec<Closure> = pairs(20, "AM")
        .into_iter()
        .map(|one| closure(&one.operator, one.misclosure.thou(), &["0.0195", "0.0205"]))
        .collect();
    let found = earned(&with_touches, Some("AM"));
    // (0.5² + 0.5²)/1 each, half of it a touch's, less the graduation's 0.01/12.
    let touch = (0.25_f64 - 0.01 / 12.0).sqrt();
    assert!((found.touch_sd.unwrap().thou() - touch).abs() < 1e-9);
    assert!(matches!(found.touch_source, Source::Touches { visits: 20, own: true, .. }));
    // Two touches at each end: a touch's variance enters once.
    let tape = ((20.0_f64 / 19.0 - 6.0 * 0.01 / 12.0 - touch * touch) / 4.0).sqrt();
    assert!((found.tape_sd.unwrap().thou() - tape).abs() < 1e-9);
    assert!(matches!(found.tape_source, Source::Closures { closures: 20, own: false, .. }));
}

#[test]
fn a_graduation_that_explains_all_hides_the_hand() {
    let coarse = |one: Closure| Closure { lesson: Lesson { tape_graduation: inch("0.002"), ..lesson() }, ..one };
    let found = earned(&pairs(24, "AM").into_iter().map(coarse).collect::<Vec<_>>(), Some("AM"));
    assert_eq!((found.touch_sd, found.touch_source), (None, Source::Hidden { closures: 24 }));
}

/// A clamp that slipped once is not repeatability (NIST/SEMATECH e-Handbook, 6.3.1: an assignable cause).
#[test]
fn what_has_a_cause_of_its_own_is_left_out() {
    let mut slipped = pairs(20, "AM");
    slipped.push(closure("AM", 40.0, &["0.020"]));
    let (with, without) = (earned(&slipped, Some("AM")), earned(&pairs(20, "AM"), Some("AM")));
    assert_eq!(with.touch_sd, without.touch_sd);
}

#[test]
fn closures_are_kept_by_grinder_tape_operator_and_unit() {
    let mut unit = unit_with(&[(date(2031, 1, 1), "5.000"), (date(2031, 2, 1), "4.990"), (date(2031, 3, 1), "4.980")]);
    for (index, work) in unit.history.iter_mut().enumerate().skip(1) {
        work.operator = ["AM", "BN"][index - 1].to_owned();
        let misclosure = Some(Length::from_mm(0.01));
        work.lesson = Some(Box::new(Lesson { misclosure, misclosure_u95: misclosure, ..lesson() }));
    }
    let mut other = unit_with(&[(date(2031, 1, 15), "5.000")]);
    other.tag = "U-2".to_owned();
    other.history[0].lesson = unit.history[1].lesson.clone();
    let all = closures([unit, other].iter());
    let days: Vec<_> = all.iter().map(|closure| closure.date).collect();
    assert_eq!(days, [date(2031, 1, 15), date(2031, 2, 1), date(2031, 3, 1)]);
    let sizes = |by| gathered(&all, by).into_iter().map(|(name, list)| (name, list.len())).collect::<Vec<_>>();
    assert_eq!(sizes(By::Grinder), [("Bench 1", 3)]);
    assert_eq!(sizes(By::Tape), [("Tape 1", 3)]);
    assert_eq!(sizes(By::Operator), [("AM", 2), ("BN", 1)]);
    assert_eq!(sizes(By::Unit), [("U-1", 2), ("U-2", 1)]);
}
