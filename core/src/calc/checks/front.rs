use super::{inch, near, prints_as, refused};
use crate::bench::DialKind;
use crate::calc::adjuster::AdjusterKind;
use crate::calc::error::CalcError;
use crate::calc::front::{Front, FrontInput, FrontUncertainty, FrontVerdict, Pair, Sits, front, front_strict};
use crate::quantity::{Angle, Length};
use proptest::prelude::*;

/// The worked example of the bench, common practice, no source.
fn worked() -> FrontInput {
    FrontInput {
        zero_diameter: inch(5.020),
        other_diameter: inch(5.000),
        reading: inch(0.026),
        dial: DialKind::Diameter,
        touch: Pair { zero_y: inch(1.0), other_y: inch(21.0) },
        tape_y: None,
        adjuster: Pair { zero_y: inch(-1.5), other_y: inch(23.5) },
        reel_x: inch(4.5),
        wheelbase: inch(11.0),
        jack_y: inch(11.0),
        tolerance: inch(0.002),
        uncertainty: None,
        adjuster_kind: None,
    }
}

fn worth(touch_sd: f64, touches: u32) -> FrontUncertainty {
    FrontUncertainty {
        dial_graduation: inch(0.001),
        tape_graduation: inch(0.001),
        touch_sd: inch(touch_sd),
        touches_zero: touches,
        touches_other: touches,
    }
}

#[test]
fn worked_example() {
    let answer = front(&worked()).unwrap();
    near(answer.target.inches(), 0.020, 1e-13);
    near(answer.tilt.inches(), 0.003, 1e-13);
    assert_eq!((answer.sits, answer.verdict), (Sits::High, FrontVerdict::Adjust));
    assert_eq!((answer.tilt_u95, answer.touches_needed), (None, None));
    near(answer.move_other.height.inches(), -0.003_75, 1e-13);
    prints_as(answer.move_other.rezero, "0.00078");
    near(answer.move_zero.height.inches(), 0.003_75, 1e-13);
    prints_as(answer.move_zero.rezero, "0.00522");
    prints_as(answer.move_both.zero, "-0.000663");
    prints_as(answer.move_both.other, "-0.004413");
}

#[test]
fn worked_screw_and_eccentric() {
    let screw = AdjusterKind::Screw { pitch: inch(1.0 / 24.0) };
    let answer = front(&FrontInput { adjuster_kind: Some(screw), ..worked() }).unwrap();
    near(answer.move_zero.turns.unwrap().turns(), 0.09, 1e-12);
    near(answer.move_other.flats.unwrap().value(), -0.54, 1e-12);
    let eccentric = AdjusterKind::Eccentric { throw: inch(0.060), angle: Angle::from_degrees(60.0) };
    let answer = front_strict(&FrontInput { adjuster_kind: Some(eccentric), ..worked() }).unwrap();
    near(answer.move_zero.degrees.unwrap().degrees(), 4.06, 0.005);
    assert!(answer.move_other.degrees.unwrap().degrees() < 0.0);
}

#[test]
fn an_eccentric_out_of_reach_leaves_the_rest() {
    let at_bottom = AdjusterKind::Eccentric { throw: inch(0.060), angle: Angle::from_degrees(0.0) };
    let input = FrontInput { adjuster_kind: Some(at_bottom), ..worked() };
    let answer = front(&input).unwrap();
    assert!(answer.move_zero.degrees.is_some() && answer.move_zero.beyond_reach.is_none());
    assert_eq!(answer.move_other.degrees, None);
    assert_eq!(answer.move_other.beyond_reach.unwrap().lowest, Length::ZERO);
    let error = front_strict(&input).unwrap_err();
    assert!(matches!(error, CalcError::OutOfReach { .. }));
    refused(Err::<(), _>(error), "move_other.height");
}

/// Worked example, common practice: u(tilt) = 0.000358. Propagation after JCGM 100:2008, 5.1.2.
#[test]
fn worked_uncertainty() {
    let answer = front(&FrontInput { uncertainty: Some(worth(0.0003, 1)), ..worked() }).unwrap();
    prints_as(answer.tilt_u95.unwrap() / 2.0, "0.000358");
    assert_eq!(answer.verdict, FrontVerdict::Adjust);
}

/// Guarded acceptance, JCGM 106:2012, 8.3.2: at U = 0.000716 a tilt up to 0.001284 is proven within 0.002.
#[test]
fn guarded_verdict_and_touches() {
    let at = |tilt: f64, worth: FrontUncertainty| {
        let reading = inch(0.020 + 2.0 * tilt);
        front(&FrontInput { reading, uncertainty: Some(worth), ..worked() }).unwrap()
    };
    let one = worth(0.0003, 1);
    assert_eq!(at(0.001_28, one).verdict, FrontVerdict::Parallel);
    assert_eq!(at(-0.001_28, one).verdict, FrontVerdict::Parallel);
    let unproven = at(0.001_29, one);
    assert_eq!((unproven.verdict, unproven.touches_needed), (FrontVerdict::Repeat, Some(2)));
    // Graduations alone leave u = 0.000289, which no number of touches takes away.
    let hopeless = at(0.001_45, one);
    assert_eq!((hopeless.verdict, hopeless.touches_needed), (FrontVerdict::Repeat, None));
    assert_eq!(at(0.002_01, one).verdict, FrontVerdict::Adjust);
    // With the repeatability 0.001: u² = s²/2n + 8.33e-8 must come to (0.00035)² at 0.0013, which takes 13, and to
    // (0.0005)² at 0.001.
    assert_eq!(at(0.0013, worth(0.001, 1)).touches_needed, None);
    assert_eq!(at(0.001, worth(0.001, 1)).touches_needed, Some(3));
    // Exactly on the tolerance is within it, whatever binary fractions make of the reading.
    let exact = front(&FrontInput { reading: inch(0.024), ..worked() }).unwrap();
    assert_eq!(exact.verdict, FrontVerdict::Parallel);
}

#[test]
fn level_below_a_micrometre() {
    let at = |tilt_mm: f64| {
        let reading = inch(0.020) + Length::from_mm(2.0 * tilt_mm);
        front(&FrontInput { reading, ..worked() }).unwrap().sits
    };
    assert_eq!(
        [at(0.000_99), at(-0.000_99), at(0.001_01), at(-0.001_01)],
        [Sits::Level, Sits::Level, Sits::High, Sits::Low]
    );
}

#[test]
fn a_dial_in_radius_shows_half() {
    let reading = inch(0.013);
    let answer = front(&FrontInput { reading, dial: DialKind::Radius, ..worked() }).unwrap();
    near(answer.target.inches(), 0.010, 1e-13);
    near(answer.tilt.inches(), 0.003, 1e-13);
    prints_as(answer.move_other.rezero, "0.00039");
}

#[test]
fn taped_elsewhere_the_cone_is_scaled() {
    let tape_y = Some(Pair { zero_y: inch(0.0), other_y: inch(22.0) });
    let answer = front(&FrontInput { tape_y, uncertainty: Some(worth(0.0, 1)), ..worked() }).unwrap();
    near(answer.target.inches(), 0.020 * 20.0 / 22.0, 1e-13);
    let graduation_squared = 2.0 * 0.001 * 0.001 / 12.0;
    let expected = (graduation_squared * (1.0 + (20.0_f64 / 22.0).powi(2))).sqrt();
    near(answer.tilt_u95.unwrap().inches(), expected, 1e-13);
    let backwards = Some(Pair { zero_y: inch(22.0), other_y: inch(0.0) });
    refused(front(&FrontInput { tape_y: backwards, ..worked() }), "tape_y.other_y");
}

#[test]
fn degenerate_geometry_is_refused() {
    let touch = Pair { zero_y: inch(1.0), other_y: inch(1.0) };
    refused(front(&FrontInput { touch, ..worked() }), "touch.other_y");
    refused(front(&FrontInput { adjuster: touch, ..worked() }), "adjuster.other_y");
    refused(front(&FrontInput { tape_y: Some(touch), ..worked() }), "tape_y.other_y");
    refused(front(&FrontInput { wheelbase: Length::ZERO, ..worked() }), "wheelbase");
    let error = front(&FrontInput { reel_x: inch(11.0), ..worked() }).unwrap_err();
    assert!(matches!(error, CalcError::TooClose { .. }));
    refused(Err::<(), _>(error), "reel_x");
    refused(front(&FrontInput { reading: Length::from_mm(f64::NAN), ..worked() }), "reading");
    refused(front(&FrontInput { tolerance: Length::ZERO, ..worked() }), "tolerance");
    let uncertainty = Some(FrontUncertainty { touches_other: 0, ..worth(0.0003, 1) });
    refused(front(&FrontInput { uncertainty, ..worked() }), "uncertainty.touches_other");
}

/// A unit on three points, solved as a plane through them and not by the formula under test: z = p + q·x + r·y.
#[derive(Debug)]
struct Unit {
    input: FrontInput,
    axis_zero: f64,
    axis_other: f64,
}

impl Unit {
    fn of(input: FrontInput, tilt: f64) -> Self {
        Self { input, axis_zero: 0.0, axis_other: tilt }
    }

    /// The axis after raising the frame at the adjusters by `a` and `b`, all in mm; the jack stays.
    fn moved(&self, a: f64, b: f64) -> (f64, f64) {
        let points = [
            (0.0, self.input.adjuster.zero_y.mm(), a),
            (0.0, self.input.adjuster.other_y.mm(), b),
            (self.input.wheelbase.mm(), self.input.jack_y.mm(), 0.0),
        ];
        let [(x1, y1, z1), (x2, y2, z2), (x3, y3, z3)] = points;
        let cross = |u1: f64, v1: f64, u2: f64, v2: f64| u1 * v2 - u2 * v1;
        let area = cross(x2 - x1, y2 - y1, x3 - x1, y3 - y1);
        let q = cross(z2 - z1, y2 - y1, z3 - z1, y3 - y1) / area;
        let r = cross(x2 - x1, z2 - z1, x3 - x1, z3 - z1) / area;
        let rise = |y: f64| z1 + q * (self.input.reel_x.mm() - x1) + r * (y - y1);
        (self.axis_zero + rise(self.input.touch.zero_y.mm()), self.axis_other + rise(self.input.touch.other_y.mm()))
    }

    /// What the dial shows at both ends when it was zeroed at the zero end before the move.
    fn dial(&self, (zero, other): (f64, f64)) -> (f64, f64) {
        let k = self.input.dial.factor();
        let touch = |z: f64, diameter: Length| k * (z - diameter.mm() / 2.0);
        let zeroed = touch(self.axis_zero, self.input.zero_diameter);
        (touch(zero, self.input.zero_diameter) - zeroed, touch(other, self.input.other_diameter) - zeroed)
    }
}

fn any_unit() -> impl Strategy<Value = Unit> {
    let y = |least: f64, most: f64| least..most;
    let along = (y(-30.0, 60.0), y(400.0, 800.0), y(-150.0, 20.0), y(450.0, 1000.0), y(100.0, 500.0));
    let across = (50.0..700.0_f64, 250.0..800.0_f64);
    let reel = (80.0..260.0_f64, -1.0..1.0_f64, -2.0..2.0_f64, any::<bool>(), any::<bool>());
    (along, across, reel).prop_filter_map(
        "over the jack",
        |(along, (reel_x, wheelbase), (diameter, cone, tilt, radius, swap))| {
            let (touch_zero, touch_other, adjuster_zero, adjuster_other, jack_y) = along;
            let pair = |zero: f64, other: f64| {
                let (zero, other) = if swap { (other, zero) } else { (zero, other) };
                Pair { zero_y: Length::from_mm(zero), other_y: Length::from_mm(other) }
            };
            let input = FrontInput {
                zero_diameter: Length::from_mm(diameter),
                other_diameter: Length::from_mm(diameter - cone),
                dial: if radius { DialKind::Radius } else { DialKind::Diameter },
                touch: pair(touch_zero, touch_other),
                adjuster: pair(adjuster_zero, adjuster_other),
                reel_x: Length::from_mm(reel_x),
                wheelbase: Length::from_mm(wheelbase),
                jack_y: Length::from_mm(jack_y),
                ..worked()
            };
            ((1.0 - reel_x / wheelbase).abs() > 0.02).then(|| Unit::of(input, tilt))
        },
    )
}

fn read_off(unit: &Unit) -> Front {
    let (zero, reading) = unit.dial((unit.axis_zero, unit.axis_other));
    assert_eq!(zero, 0.0);
    front(&FrontInput { reading: Length::from_mm(reading), ..unit.input }).unwrap()
}

proptest! {
    /// Each single move levels the simulated unit, and the dial then reads at the zero end what was told
    /// beforehand.
    #[test]
    fn each_move_levels_and_rezeroes_as_told(unit in any_unit()) {
        let answer = read_off(&unit);
        prop_assert!((answer.tilt.mm() - unit.axis_other).abs() < 1e-9);
        for (a, b, told) in [
            (0.0, answer.move_other.height.mm(), answer.move_other.rezero.mm()),
            (answer.move_zero.height.mm(), 0.0, answer.move_zero.rezero.mm()),
            (answer.move_both.zero.mm(), answer.move_both.other.mm(), 0.0),
        ] {
            let (zero, other) = unit.moved(a, b);
            prop_assert!((zero - other).abs() < 1e-8, "still tilted by {}", other - zero);
            let (at_zero, at_other) = unit.dial((zero, other));
            prop_assert!((at_zero - told).abs() < 1e-8, "{at_zero} instead of {told}");
            prop_assert!((at_other - at_zero - answer.target.mm()).abs() < 1e-8);
        }
    }

    /// Twice the same unit in another unit of length: the answer scales with it.
    #[test]
    fn inch_and_metric_agree(unit in any_unit()) {
        let told = read_off(&unit);
        let typed = |length: Length| Length::from_inches(length.mm() / 25.4);
        let pair = |pair: Pair| Pair { zero_y: typed(pair.zero_y), other_y: typed(pair.other_y) };
        let (_, reading) = unit.dial((unit.axis_zero, unit.axis_other));
        let again = front(&FrontInput {
            zero_diameter: typed(unit.input.zero_diameter),
            other_diameter: typed(unit.input.other_diameter),
            reading: typed(Length::from_mm(reading)),
            touch: pair(unit.input.touch),
            adjuster: pair(unit.input.adjuster),
            reel_x: typed(unit.input.reel_x),
            wheelbase: typed(unit.input.wheelbase),
            jack_y: typed(unit.input.jack_y),
            ..unit.input
        }).unwrap();
        for (one, two) in [
            (told.tilt, again.tilt),
            (told.move_other.height, again.move_other.height),
            (told.move_zero.rezero, again.move_zero.rezero),
            (told.move_both.zero, again.move_both.zero),
        ] {
            prop_assert!((one.mm() - two.mm()).abs() <= 1e-9 * one.mm().abs().max(0.01), "{one:?} {two:?}");
        }
    }
}
