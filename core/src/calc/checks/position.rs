//! Where reel and wheel stand to each other: `centre` and `relief`.

use super::{inch, near, prints_as, refused};
use crate::bench::DialKind;
use crate::calc::centre::{CentreInput, centre};
use crate::calc::relief::{ReliefInput, relief};
use crate::quantity::{Angle, Length};
use proptest::prelude::*;

fn off(zero: f64, other: f64) -> CentreInput {
    CentreInput {
        reel_diameter: inch(5.0),
        wheel_diameter: inch(6.0),
        offset_zero: inch(zero),
        offset_other: inch(other),
        dial: DialKind::Diameter,
        allowed_error: None,
    }
}

/// Worked example, common practice: 5 in reel, 6 in wheel, 0.050 off: 0.00045 on the dial.
#[test]
fn worked_offset() {
    let answer = centre(&off(0.050, 0.050)).unwrap();
    prints_as(answer.dial_error_zero, "0.00045");
    assert_eq!((answer.false_tilt, answer.false_cone), (Length::ZERO, Length::ZERO));
    let one_end = centre(&CentreInput { allowed_error: Some(answer.dial_error_zero), ..off(0.0, -0.050) }).unwrap();
    near(one_end.dial_error_other.inches(), answer.dial_error_zero.inches(), 1e-15);
    near(one_end.false_tilt.inches(), answer.dial_error_zero.inches() / 2.0, 1e-15);
    near(one_end.false_cone.inches(), -answer.dial_error_zero.inches(), 1e-15);
    near(one_end.allowed_offset.unwrap().inches(), 0.050, 1e-12);
    let radius = centre(&CentreInput { dial: DialKind::Radius, ..off(0.0, 0.050) }).unwrap();
    near(radius.dial_error_other.inches(), answer.dial_error_zero.inches() / 2.0, 1e-15);
    near(radius.false_cone.inches(), -answer.dial_error_zero.inches(), 1e-15);
}

#[test]
fn reel_and_wheel_must_meet() {
    near(centre(&off(5.5, 0.0)).unwrap().dial_error_zero.inches(), 11.0, 1e-12);
    refused(centre(&off(0.0, 5.6)), "offset_other");
    refused(centre(&CentreInput { reel_diameter: Length::ZERO, ..off(0.0, 0.0) }), "reel_diameter");
    refused(centre(&CentreInput { allowed_error: Some(inch(-1.0)), ..off(0.0, 0.0) }), "allowed_error");
}

fn at(degrees: f64) -> ReliefInput {
    ReliefInput {
        reel_diameter: inch(5.0),
        wheel_diameter: inch(6.0),
        relief_angle: Angle::from_degrees(degrees),
        wheel_offset: None,
    }
}

/// Worked example, common practice: 25° with a 5 in reel over a 6 in wheel: blade 13.65° past bottom, finger 0.590
/// off.
#[test]
fn worked_relief() {
    let answer = relief(&at(25.0)).unwrap();
    near(answer.blade_angle.degrees(), 13.65, 0.005);
    prints_as(answer.finger_offset, "0.590");
}

#[test]
fn an_offset_that_no_blade_position_reaches() {
    refused(relief(&ReliefInput { wheel_offset: Some(inch(5.3)), ..at(25.0) }), "wheel_offset");
    refused(relief(&ReliefInput { wheel_offset: Some(inch(-5.3)), ..at(25.0) }), "wheel_offset");
    refused(relief(&at(0.0)), "relief_angle");
}

proptest! {
    /// The answer gives the angle back, and a much larger wheel comes near to α = β.
    #[test]
    fn gives_the_angle_back(reel in 80.0..300.0_f64, wheel in 80.0..300.0_f64, alpha in 5.0..40.0_f64, share in -0.3..0.3_f64) {
        let offset = share * (reel + wheel) / 2.0;
        let input = ReliefInput {
            reel_diameter: Length::from_mm(reel),
            wheel_diameter: Length::from_mm(wheel),
            relief_angle: Angle::from_degrees(alpha),
            wheel_offset: Some(Length::from_mm(offset)),
        };
        let answer = relief(&input).unwrap();
        let beta = answer.blade_angle.degrees();
        let again = beta + ((answer.finger_offset.mm() - offset) / (wheel / 2.0)).asin().to_degrees();
        prop_assert!((again - alpha).abs() < 1e-9, "{again} instead of {alpha}");
        let on_axis = ReliefInput { wheel_offset: None, reel_diameter: Length::from_mm(25.0), wheel_diameter: Length::from_mm(1000.0), ..input };
        prop_assert!((relief(&on_axis).unwrap().blade_angle.degrees() - alpha).abs() < 0.03 * alpha);
    }
}
