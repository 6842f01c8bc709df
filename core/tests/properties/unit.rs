//! A unit on the rails as it is: a plane on three points, two diameters, and a wheel head that comes up until it
//! touches. Nothing of the calculations under test is used here. All lengths in mm.

use crate::chance::{Chance, read_off};
use proptest::prelude::*;
use sparkout_core::bench::DialKind;
use sparkout_core::calc::front::{FrontInput, FrontUncertainty, Pair, front};
use sparkout_core::quantity::Length;

/// What a person knows of the unit, and how it really is.
#[derive(Debug, Clone)]
pub struct Unit {
    /// What is typed; the diameters are as taped.
    pub input: FrontInput,
    /// True diameters at the touches.
    diameters: (f64, f64),
    /// True heights of the axis at the touches.
    axis: (f64, f64),
}

impl Unit {
    /// How much higher the axis really stands at the other touch.
    pub fn tilt(&self) -> f64 {
        self.axis.1 - self.axis.0
    }

    /// What the infeed dial would show, without end, at the touch of the zero end and of the other.
    pub fn dial(&self) -> (f64, f64) {
        let k = self.input.dial.factor();
        (k * (self.axis.0 - self.diameters.0 / 2.0), k * (self.axis.1 - self.diameters.1 / 2.0))
    }

    /// Raises the frame at the adjusters; the jack stays. A plane z = p + q·x + r·y through three points.
    pub fn raise(&mut self, at_zero: f64, at_other: f64) {
        let [(x1, y1, z1), (x2, y2, z2), (x3, y3, z3)] = [
            (0.0, self.input.adjuster.zero_y.mm(), at_zero),
            (0.0, self.input.adjuster.other_y.mm(), at_other),
            (self.input.wheelbase.mm(), self.input.jack_y.mm(), 0.0),
        ];
        let area = (x2 - x1) * (y3 - y1) - (x3 - x1) * (y2 - y1);
        let q = ((z2 - z1) * (y3 - y1) - (z3 - z1) * (y2 - y1)) / area;
        let r = ((x2 - x1) * (z3 - z1) - (x3 - x1) * (z2 - z1)) / area;
        let rise = |y: Length| z1 + q * (self.input.reel_x.mm() - x1) + r * (y.mm() - y1);
        self.axis.0 += rise(self.input.touch.zero_y);
        self.axis.1 += rise(self.input.touch.other_y);
    }

    /// One touch at each end, with the hand's scatter.
    pub fn touch(&self, chance: &mut Chance) -> (f64, f64) {
        let (zero, other) = self.dial();
        let sd = self.worth().touch_sd.mm();
        (zero + chance.normal(sd), other + chance.normal(sd))
    }

    /// Both readings to the dial's graduation.
    pub fn rounded(&self, (zero, other): (f64, f64)) -> (f64, f64) {
        let graduation = self.worth().dial_graduation.mm();
        (read_off(zero, graduation), read_off(other, graduation))
    }

    fn worth(&self) -> FrontUncertainty {
        self.input.uncertainty.expect("every unit here is read with a stated worth")
    }
}

/// How fine the person reads, and what is wanted of U against the tolerance.
#[derive(Debug, Clone, Copy)]
struct Worth {
    dial_graduation: f64,
    tape_graduation: f64,
    touch_sd: f64,
    tolerance_over_u: f64,
}

fn worths() -> impl Strategy<Value = Worth> {
    (0.000_5..0.026_f64, 0.0..0.026_f64, 0.0..0.01_f64, 2.000_001..12.0_f64).prop_map(
        |(dial_graduation, tape_graduation, touch_sd, tolerance_over_u)| Worth {
            dial_graduation,
            tape_graduation,
            touch_sd,
            tolerance_over_u,
        },
    )
}

/// Any unit of the bench that is taped by rounding to the graduation, with U < T/2 at one touch at each end. The
/// tilt is up to 30 times the tolerance, as a unit comes that was put together anew.
pub fn any_unit() -> impl Strategy<Value = Unit> {
    let touches = (-30.0..60.0_f64, 400.0..800.0_f64);
    let adjusters = (-150.0..20.0_f64, 450.0..1000.0_f64, 100.0..500.0_f64);
    let across =
        (50.0..700.0_f64, 250.0..800.0_f64).prop_filter("over the jack", |(x, base)| (1.0 - x / base).abs() > 0.05);
    let reel = (80.0..260.0_f64, -1.0..1.0_f64, -30.0..30.0_f64);
    let kinds = (any::<bool>(), any::<bool>(), prop::option::of((0.0..50.0_f64, 390.0..820.0_f64)));
    (touches, adjusters, across, reel, kinds, worths()).prop_map(
        |(touches, adjusters, (reel_x, wheelbase), (diameter, cone, tilts), (radius, swap, taped), worth)| {
            let pair = |(zero, other): (f64, f64)| {
                let (zero, other) = if swap { (other, zero) } else { (zero, other) };
                Pair { zero_y: Length::from_mm(zero), other_y: Length::from_mm(other) }
            };
            let (touch, tape_y) = (pair(touches), taped.map(pair));
            let along = |y: Length| ((y - touch.zero_y) / (touch.other_y - touch.zero_y)).value();
            let read = |y: Length| Length::from_mm(read_off(diameter - cone * along(y), worth.tape_graduation));
            let stations = tape_y.unwrap_or(touch);
            let input = FrontInput {
                zero_diameter: read(stations.zero_y),
                other_diameter: read(stations.other_y),
                reading: Length::ZERO,
                dial: if radius { DialKind::Radius } else { DialKind::Diameter },
                touch,
                tape_y,
                adjuster: pair((adjusters.0, adjusters.1)),
                reel_x: Length::from_mm(reel_x),
                wheelbase: Length::from_mm(wheelbase),
                jack_y: Length::from_mm(adjusters.2),
                tolerance: Length::from_mm(0.05),
                uncertainty: Some(FrontUncertainty {
                    dial_graduation: Length::from_mm(worth.dial_graduation),
                    tape_graduation: Length::from_mm(worth.tape_graduation),
                    touch_sd: Length::from_mm(worth.touch_sd),
                    touches_zero: 1,
                    touches_other: 1,
                }),
                adjuster_kind: None,
            };
            // U does not depend on the tolerance, so the tolerance can be chosen by it.
            let expanded = front(&input).unwrap().tilt_u95.unwrap();
            let tolerance = expanded * worth.tolerance_over_u;
            let tilt = (tolerance * tilts).mm().clamp(-3.0, 3.0);
            Unit { input: FrontInput { tolerance, ..input }, diameters: (diameter, diameter - cone), axis: (0.0, tilt) }
        },
    )
}
