use super::{inch, near, refused};
use crate::calc::adjuster::{AdjusterKind, Reach, eccentric_lift};
use crate::calc::error::CalcError;
use crate::quantity::{Angle, Length};
use proptest::prelude::*;

fn screw(threads_per_inch: f64) -> AdjusterKind {
    AdjusterKind::Screw { pitch: inch(1.0 / threads_per_inch) }
}

fn eccentric(throw: Length, degrees: f64) -> AdjusterKind {
    AdjusterKind::Eccentric { throw, angle: Angle::from_degrees(degrees) }
}

/// Rise of an eccentric, e·(1 − cos θ): exact mathematics, seven printed places.
#[test]
fn rise_of_an_eccentric() {
    let table = [
        (1.0, 30.0, 0.133_974_6),
        (1.0, 45.0, 0.292_893_2),
        (1.0, 60.0, 0.5),
        (1.0, 90.0, 1.0),
        (1.0, 180.0, 2.0),
        (0.5, 30.0, 0.066_987_3),
        (2.0, 15.0, 0.068_148_3),
    ];
    for (throw, degrees, rise) in table {
        near(eccentric_lift(inch(throw), Angle::from_degrees(degrees)).inches(), rise, 5e-8);
        let from_bottom = eccentric(inch(throw), 0.0).handwork(inch(rise));
        near(from_bottom.degrees.unwrap().degrees(), degrees, 1e-4);
    }
}

/// Turns = move × threads per inch: exact mathematics.
#[test]
fn turns_of_a_screw() {
    for (threads, turns) in [(13.0, 0.130), (16.0, 0.160), (18.0, 0.180), (20.0, 0.200), (24.0, 0.240), (28.0, 0.280)] {
        let hand = screw(threads).handwork(inch(0.010));
        near(hand.turns.unwrap().turns(), turns, 1e-12);
        near(hand.flats.unwrap().value(), turns * 6.0, 1e-12);
        assert_eq!((hand.degrees, hand.beyond_reach), (None, None));
    }
    for (pitch, turns) in [(1.0, 0.25), (1.25, 0.20), (1.5, 1.0 / 6.0), (1.75, 1.0 / 7.0)] {
        let kind = AdjusterKind::Screw { pitch: Length::from_mm(pitch) };
        near(kind.handwork(Length::from_mm(0.25)).turns.unwrap().turns(), turns, 1e-12);
    }
    // An eighth of a turn on a pitch of 1.25 mm is 0.15625 mm.
    let kind = AdjusterKind::Screw { pitch: Length::from_mm(1.25) };
    near(kind.handwork(Length::from_mm(-0.156_25)).turns.unwrap().turns(), -0.125, 1e-12);
}

/// Worked example, common practice: throw 0.060 standing at 60°, +0.00375.
#[test]
fn worked_eccentric() {
    let turned = eccentric(inch(0.060), 60.0).handwork(inch(0.003_75)).degrees.unwrap();
    near(turned.degrees(), 4.06, 0.005);
    near(turned.degrees(), 0.4375_f64.acos().to_degrees() - 60.0, 1e-9);
}

#[test]
fn beyond_an_eccentric_is_told_with_what_it_reaches() {
    let kind = eccentric(inch(0.060), 60.0);
    for height in [-0.0301, 0.0901] {
        let hand = kind.handwork(inch(height));
        assert_eq!(hand.degrees, None);
        let Reach { lowest, highest } = hand.beyond_reach.unwrap();
        near(lowest.inches(), -0.03, 1e-12);
        near(highest.inches(), 0.09, 1e-12);
        let error = hand.require("move_other.height", inch(height)).unwrap_err();
        assert!(matches!(error, CalcError::OutOfReach { .. }));
        refused(Err::<(), _>(error), "move_other.height");
    }
    near(kind.handwork(inch(-0.03)).degrees.unwrap().degrees(), -60.0, 1e-5);
    near(kind.handwork(inch(0.09)).degrees.unwrap().degrees(), 120.0, 1e-5);
}

#[test]
fn impossible_adjusters() {
    refused(AdjusterKind::Screw { pitch: Length::ZERO }.check(), "adjuster_kind.screw.pitch");
    refused(eccentric(Length::from_mm(-1.0), 0.0).check(), "adjuster_kind.eccentric.throw");
    refused(eccentric(inch(0.06), 181.0).check(), "adjuster_kind.eccentric.angle");
    refused(eccentric(inch(0.06), f64::NAN).check(), "adjuster_kind.eccentric.angle");
}

proptest! {
    /// Turned by what is told, an eccentric lifts by what was wanted.
    #[test]
    fn turned_it_lifts(throw in 0.1..50.0_f64, from in 0.0..180.0_f64, to in 0.0..180.0_f64) {
        let throw = Length::from_mm(throw);
        let (from, to) = (Angle::from_degrees(from), Angle::from_degrees(to));
        let height = eccentric_lift(throw, to) - eccentric_lift(throw, from);
        let turned = AdjusterKind::Eccentric { throw, angle: from }.handwork(height).degrees.unwrap();
        let lifted = eccentric_lift(throw, from + turned) - eccentric_lift(throw, from);
        prop_assert!((lifted - height).abs() < Length::from_mm(1e-9), "{lifted:?} {height:?}");
    }
}
