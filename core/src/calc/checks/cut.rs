//! What the turf gets: `clip`, `knife` and `height`.

use super::{inch, near, prints_as, refused};
use crate::calc::adjuster::AdjusterKind;
use crate::calc::clip::{ClipInput, clip};
use crate::calc::height::{Adjusters, Gauge, HeightInput, height, height_strict};
use crate::calc::knife::{KnifeInput, Pivot, knife};
use crate::quantity::{Angle, Length, Speed, SpindleSpeed};
use proptest::prelude::*;

/// Miles an hour, exact: 1609.344 m in 3600 s.
fn mph(value: f64) -> Speed {
    Speed::from_metres_per_second(value * 1609.344 / 3600.0)
}

fn over_turf(speed: f64, blades: u32, rpm: f64) -> ClipInput {
    ClipInput {
        ground_speed: mph(speed),
        blades,
        reel_speed: SpindleSpeed::from_rpm(rpm),
        height_of_cut: inch(0.125),
        reel_diameter: inch(5.0),
    }
}

/// Worked example, common practice: 3.5 mph, 11 blades, 2000 rpm: 0.168.
#[test]
fn worked_clip() {
    let answer = clip(&over_turf(3.5, 11, 2000.0)).unwrap();
    near(answer.clip.inches(), 0.168, 1e-12);
    near(answer.ratio.value(), 0.168 / 0.125, 1e-12);
    let matched = clip(&ClipInput { reel_speed: answer.speed_for_match, ..over_turf(3.5, 11, 2000.0) }).unwrap();
    near(matched.ratio.value(), 1.0, 1e-12);
}

/// f = v/(B·n) with 1 mph = 1056 in/min, exact; printed places.
#[test]
fn clip_lengths() {
    for (speed, blades, rpm, f) in [(3.0, 11, 2000.0, 0.1440), (4.0, 9, 1000.0, 0.46933), (5.0, 8, 1600.0, 0.41250)] {
        near(clip(&over_turf(speed, blades, rpm)).unwrap().clip.inches(), f, 5e-6);
    }
    // 1 km/h over one blade at one rpm: 16 666.67 mm; here for 5 km/h, 8 blades, 1600 rpm.
    let metric = ClipInput { ground_speed: Speed::from_metres_per_second(5.0 / 3.6), ..over_turf(1.0, 8, 1600.0) };
    near(clip(&metric).unwrap().clip.mm(), 16_666.67 * 5.0 / (8.0 * 1600.0), 1e-5);
}

/// Scallop R − √(R² − (f/2)²) after published cusp-height calculators: R 0.25 in, f 0.050 in → 0.001253 in; R 3 mm,
/// f 0.5 mm → 0.01043 mm. The rest computed: R 0.125, f 0.020 → 0.00040064 (one published page prints 0.000402); R
/// 2.5, f 0.250 → 0.00312696; R 63.5 mm, f 6.35 mm → 0.0794247 mm.
#[test]
fn scallops() {
    let of = |radius_mm: f64, clip_mm: f64| {
        let input = ClipInput {
            ground_speed: Speed::from_metres_per_second(clip_mm * 10_000.0 / 60_000.0),
            reel_diameter: Length::from_mm(2.0 * radius_mm),
            ..over_turf(1.0, 1, 10_000.0)
        };
        let answer = clip(&input).unwrap();
        near(answer.clip.mm(), clip_mm, 1e-12);
        answer.scallop
    };
    near(of(0.25 * 25.4, 0.050 * 25.4).inches(), 0.001_253_1, 5e-8);
    near(of(3.0, 0.5).mm(), 0.010_434_8, 5e-8);
    near(of(0.125 * 25.4, 0.020 * 25.4).inches(), 0.000_400_64, 5e-9);
    near(of(2.5 * 25.4, 0.250 * 25.4).inches(), 0.003_126_96, 5e-9);
    near(of(63.5, 6.35).mm(), 0.079_424_7, 5e-8);
    // Inverse f = 2·√(2Rh − h²): h 0.005 mm on R 3 mm → f 0.346 mm.
    near(of(3.0, 2.0 * (2.0 * 3.0 * 0.005 - 0.005_f64.powi(2)).sqrt()).mm(), 0.005, 1e-12);
    near(2.0 * (2.0 * 3.0 * 0.005 - 0.005_f64.powi(2)).sqrt(), 0.346, 5e-4);
}

#[test]
fn clip_refusals() {
    refused(clip(&ClipInput { reel_speed: SpindleSpeed::from_rpm(60.0), ..over_turf(5.0, 8, 60.0) }), "reel_rpm");
    refused(clip(&ClipInput { ground_speed: Speed::ZERO, ..over_turf(5.0, 8, 60.0) }), "ground_speed");
    refused(clip(&ClipInput { blades: 0, ..over_turf(5.0, 8, 1000.0) }), "blades");
    refused(clip(&ClipInput { height_of_cut: Length::ZERO, ..over_turf(5.0, 8, 1000.0) }), "height_of_cut");
}

fn bedknife() -> KnifeInput {
    KnifeInput {
        reel_diameter: inch(5.0),
        axis_height: inch(2.55),
        height_of_cut: inch(0.125),
        gap: Some(inch(0.001)),
        pivot: None,
        worn_diameter: None,
    }
}

#[test]
fn behind_centre_and_contact_angle() {
    let answer = knife(&bedknife()).unwrap();
    let behind = (2.501_f64.powi(2) - 2.425_f64.powi(2)).sqrt();
    near(answer.behind_centre.inches(), behind, 1e-12);
    near(answer.contact_angle.degrees(), (2.425_f64 / 2.501).acos().to_degrees(), 1e-9);
    assert_eq!(answer.worn, None);
    let bottom = KnifeInput { axis_height: inch(2.626), ..bedknife() };
    near(knife(&bottom).unwrap().behind_centre.inches(), 0.0, 1e-6);
    refused(knife(&KnifeInput { axis_height: inch(2.7), ..bedknife() }), "axis_height");
}

#[test]
fn worn_refusals() {
    let pivot = Some(Pivot { x: inch(2.0), z: inch(2.0), reel_x: inch(0.0) });
    let with = |worn: f64| KnifeInput { pivot, worn_diameter: Some(inch(worn)), ..bedknife() };
    assert!(knife(&with(4.8)).unwrap().worn.is_some());
    refused(knife(&with(5.1)), "worn_diameter");
    // A pivot 0.3 behind the axis keeps the edge at least 2.1 away from it.
    let close = Some(Pivot { x: inch(0.3), z: inch(2.55), reel_x: inch(0.0) });
    refused(knife(&KnifeInput { pivot: close, ..with(4.0) }), "worn_diameter");
    let on_axis = Some(Pivot { x: inch(0.0), z: inch(2.55), reel_x: inch(0.0) });
    refused(knife(&KnifeInput { pivot: on_axis, ..with(4.8) }), "pivot.x");
}

fn on_a_plate() -> HeightInput {
    HeightInput {
        wanted: inch(0.125),
        gauge: [Gauge { y: inch(2.0), height: inch(0.118) }, Gauge { y: inch(20.0), height: inch(0.131) }],
        edge_x: inch(5.2),
        wheelbase: inch(11.0),
        adjuster: Adjusters { a_y: inch(-1.5), b_y: inch(23.5) },
        adjuster_kind: None,
    }
}

/// Worked example, common practice: move A +0.01807, B −0.01617.
#[test]
fn worked_height() {
    let answer = height(&on_a_plate()).unwrap();
    prints_as(answer.move_a, "0.01807");
    prints_as(answer.move_b, "-0.01617");
    let screw = Some(AdjusterKind::Screw { pitch: inch(0.05) });
    let answer = height_strict(&HeightInput { adjuster_kind: screw, ..on_a_plate() }).unwrap();
    near(answer.hand_a.turns.unwrap().turns(), answer.move_a.inches() / 0.05, 1e-12);
}

#[test]
fn height_refusals() {
    let bottom = Some(AdjusterKind::Eccentric { throw: inch(0.06), angle: Angle::from_degrees(0.0) });
    let input = HeightInput { adjuster_kind: bottom, ..on_a_plate() };
    assert!(height(&input).unwrap().hand_b.beyond_reach.is_some());
    refused(height_strict(&input), "move_b");
    refused(height(&HeightInput { edge_x: inch(11.0), ..on_a_plate() }), "edge_x");
    refused(height(&HeightInput { gauge: [on_a_plate().gauge[0]; 2], ..on_a_plate() }), "gauge[1].y");
    refused(
        height(&HeightInput { adjuster: Adjusters { a_y: inch(1.0), b_y: inch(1.0) }, ..on_a_plate() }),
        "adjuster.b_y",
    );
}

proptest! {
    /// The worn edge lies on both circles, and a reel that is not worn leaves it where it is.
    #[test]
    fn worn_edge_lies_on_both_circles(x in 30.0..120.0_f64, z in 20.0..120.0_f64, worn in 0.0..4.0_f64) {
        let pivot = Pivot { x: Length::from_mm(x), z: Length::from_mm(z), reel_x: Length::from_mm(10.0) };
        let input = KnifeInput { pivot: Some(pivot), worn_diameter: Some(inch(5.0) - Length::from_mm(worn)), ..bedknife() };
        // A bed bar that points at the axis swings past the reel; such a pivot does not close the gap.
        if let Ok(answer) = knife(&input) {
            let edge = answer.worn.unwrap();
            let below = input.axis_height - edge.height_of_cut;
            let from_axis = edge.behind_centre.mm().hypot(below.mm());
            prop_assert!((from_axis - (63.5 - worn / 2.0 + 0.0254)).abs() < 1e-9);
            let arm = |behind: Length, height: Length| (x - 10.0 - behind.mm()).hypot(z - height.mm());
            let before = arm(answer.behind_centre, input.height_of_cut);
            prop_assert!((arm(edge.behind_centre, edge.height_of_cut) - before).abs() < 1e-9);
            prop_assert!((edge.roller_move - (edge.height_of_cut - input.height_of_cut)).abs() < Length::from_mm(1e-12));
        }
        let unworn = knife(&KnifeInput { worn_diameter: Some(inch(5.0)), ..input });
        if let Ok(answer) = unworn {
            prop_assert!(answer.worn.unwrap().roller_move.abs() < Length::from_mm(1e-5));
        }
    }

    /// After the moves the simulated unit, turned about its rear roller, cuts at the wanted height at both gauges.
    #[test]
    fn both_ends_come_right(one in 2.0..10.0_f64, two in 2.0..10.0_f64, edge in 50.0..200.0_f64) {
        let mut input = on_a_plate();
        input.gauge[0].height = Length::from_mm(one);
        input.gauge[1].height = Length::from_mm(two);
        input.edge_x = Length::from_mm(edge);
        let answer = height(&input).unwrap();
        for gauge in input.gauge {
            let share = ((gauge.y - input.adjuster.a_y) / (input.adjuster.b_y - input.adjuster.a_y)).value();
            let front = answer.move_a * (1.0 - share) + answer.move_b * share;
            let lifted = front * (1.0 - (input.edge_x / input.wheelbase).value());
            prop_assert!((gauge.height + lifted - input.wanted).abs() < Length::from_mm(1e-9));
        }
    }
}
