use super::{inch, near, refused};
use crate::calc::wheel::{WheelInput, WheelVerdict, wheel};
use crate::quantity::{Length, Speed, SpindleSpeed};

fn at(diameter: f64, rpm: f64) -> WheelInput {
    WheelInput {
        diameter: inch(diameter),
        spindle_speed: SpindleSpeed::from_rpm(rpm),
        rated_speed: SpindleSpeed::from_rpm(60_000.0),
        reel: None,
    }
}

fn feet_per_minute(diameter: f64, rpm: f64) -> f64 {
    wheel(&at(diameter, rpm)).unwrap().surface_speed.feet_per_minute()
}

/// π·D·N, computed to a tenth of a foot a minute and a hundredth of a metre a second.
#[test]
fn speeds_of_common_wheels() {
    for (diameter, rpm, feet, metres) in [
        (6.0, 3450.0, 5419.2, 27.53),
        (6.0, 3600.0, 5654.9, 28.73),
        (8.0, 3450.0, 7225.7, 36.71),
        (8.0, 1725.0, 3612.8, 18.35),
        (10.0, 1750.0, 4581.5, 23.27),
    ] {
        near(feet_per_minute(diameter, rpm), feet, 0.05);
        near(wheel(&at(diameter, rpm)).unwrap().surface_speed.metres_per_second(), metres, 0.005);
    }
}

/// Published problems: 5 in at 1200 rpm is 1570.80 ft/min (a textbook prints 1570); 6 in at 4100 ft/min turns
/// 2610.14 rpm (a textbook prints 2600).
#[test]
fn published_problems() {
    near(feet_per_minute(5.0, 1200.0), 1570.80, 0.005);
    near(feet_per_minute(6.0, 2610.14), 4100.0, 0.01);
}

/// Handbook columns of rpm for a surface speed, from memory, recomputed: rpm = 12·v/(π·D), printed to the nearest
/// whole.
#[test]
fn columns_of_spindle_speeds() {
    for (diameter, columns) in [
        (1.0, vec![(4000.0, 15_279.0), (5000.0, 19_099.0), (6000.0, 22_918.0)]),
        (
            6.0,
            vec![
                (4000.0, 2546.0),
                (4500.0, 2865.0),
                (5000.0, 3183.0),
                (5500.0, 3501.0),
                (6000.0, 3820.0),
                (6500.0, 4138.0),
            ],
        ),
        (
            7.0,
            vec![
                (4000.0, 2183.0),
                (4500.0, 2456.0),
                (5000.0, 2728.0),
                (5500.0, 3001.0),
                (6000.0, 3274.0),
                (6500.0, 3547.0),
            ],
        ),
        (
            8.0,
            vec![
                (4000.0, 1910.0),
                (4500.0, 2149.0),
                (5000.0, 2387.0),
                (5500.0, 2626.0),
                (6000.0, 2865.0),
                (6500.0, 3104.0),
            ],
        ),
        (
            10.0,
            vec![
                (4000.0, 1528.0),
                (4500.0, 1719.0),
                (5000.0, 1910.0),
                (5500.0, 2101.0),
                (6000.0, 2292.0),
                (6500.0, 2483.0),
            ],
        ),
    ] {
        let feet_each_turn = feet_per_minute(diameter, 1000.0) / 1000.0;
        for (feet, rpm) in columns {
            assert_eq!((feet / feet_each_turn).round(), rpm, "{diameter} in at {feet} ft/min");
        }
    }
}

/// 1 ft/min is 0.00508 m/s, exact; two printed places.
#[test]
fn feet_a_minute_in_metres_a_second() {
    for (feet, metres) in [(4000.0, 20.32), (6500.0, 33.02), (9500.0, 48.26)] {
        near(Speed::from_feet_per_minute(feet).metres_per_second(), metres, 1e-9);
    }
}

/// 29 CFR 1910.215(d)(1): the spindle must not exceed the wheel's marked speed; equality is allowed.
#[test]
fn rating() {
    let rated = |spindle: f64, rated: f64| {
        wheel(&WheelInput { rated_speed: SpindleSpeed::from_rpm(rated), ..at(6.0, spindle) }).unwrap()
    };
    assert_eq!(rated(3600.0, 3600.0).verdict, WheelVerdict::WithinRating);
    near(rated(3600.0, 3600.0).margin.value(), 0.0, 0.0);
    assert_eq!(rated(3600.1, 3600.0).verdict, WheelVerdict::Overspeed);
    near(rated(3450.0, 4140.0).margin.value(), 1.0 / 6.0, 1e-12);
    assert!(rated(4000.0, 3600.0).margin.value() < 0.0);
}

#[test]
fn the_reel_turns_too() {
    let reel = Some((inch(5.0), SpindleSpeed::from_rpm(1200.0)));
    let answer = wheel(&WheelInput { reel, ..at(6.0, 3450.0) }).unwrap();
    near(answer.reel_surface_speed.unwrap().feet_per_minute(), 1570.80, 0.005);
    assert_eq!(wheel(&at(6.0, 3450.0)).unwrap().reel_surface_speed, None);
}

#[test]
fn refusals_name_the_field() {
    refused(wheel(&at(0.0, 3450.0)), "diameter");
    refused(wheel(&at(6.0, -1.0)), "spindle_rpm");
    refused(wheel(&WheelInput { rated_speed: SpindleSpeed::ZERO, ..at(6.0, 3450.0) }), "rated_rpm");
    refused(
        wheel(&WheelInput { reel: Some((Length::ZERO, SpindleSpeed::from_rpm(1.0))), ..at(6.0, 3450.0) }),
        "reel_diameter",
    );
}
