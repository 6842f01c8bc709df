//! Surface speed of grinding wheels, π·D·N, and 29 CFR 1910.215(d)(1).

use super::{calc, calc_each, near, number, prints_as};
use serde_json::{Value, json};

fn wheel(diameter: f64, rpm: f64) -> Value {
    json!({ "diameter": diameter, "spindle_rpm": rpm, "rated_rpm": 60_000 })
}

/// Handbook columns of spindle speed for a surface speed in ft/min (the columns from memory, computed again), to the
/// nearest whole. 8 in at 6500 is 3103.52, which some print as 3103.
#[test]
fn columns_of_spindle_speeds() {
    let columns = [4000.0, 4500.0, 5000.0, 5500.0, 6000.0, 6500.0];
    let rows = [
        (1.0, [Some(15_279.0), None, Some(19_099.0), None, Some(22_918.0), None]),
        (6.0, [2546.0, 2865.0, 3183.0, 3501.0, 3820.0, 4138.0].map(Some)),
        (7.0, [2183.0, 2456.0, 2728.0, 3001.0, 3274.0, 3547.0].map(Some)),
        (8.0, [1910.0, 2149.0, 2387.0, 2626.0, 2865.0, 3104.0].map(Some)),
        (10.0, [1528.0, 1719.0, 1910.0, 2101.0, 2292.0, 2483.0].map(Some)),
    ];
    let inputs: Vec<Value> = rows.iter().map(|(diameter, _)| wheel(*diameter, 1000.0)).collect();
    for (answer, (diameter, printed)) in calc_each("wheel", &inputs).iter().zip(rows) {
        let feet_each_turn = number(answer, "/surface_speed") / 1000.0;
        for (feet, rpm) in columns.iter().zip(printed).filter_map(|(feet, rpm)| Some((feet, rpm?))) {
            near(feet / feet_each_turn, rpm, 0.5);
            // And the way back: at that speed the surface runs so fast.
            near(number(&calc("wheel", wheel(diameter, rpm)), "/surface_speed"), *feet, 0.5 * feet_each_turn);
        }
    }
}

/// The same the other way round, in ft/min and m/s, computed. A wheel worn from 8 to 6 in runs slower.
#[test]
fn surface_speeds() {
    let rows = [
        (6.0, 3450.0, "5419.2", "27.53"),
        (6.0, 3600.0, "5654.9", "28.73"),
        (8.0, 3450.0, "7225.7", "36.71"),
        (8.0, 1725.0, "3612.8", "18.35"),
        (10.0, 1750.0, "4581.5", "23.27"),
    ];
    for (diameter, rpm, feet, metres) in rows {
        prints_as(number(&calc("wheel", wheel(diameter, rpm)), "/surface_speed"), feet);
        let metric = json!({ "units": "metric", "diameter": diameter * 25.4, "spindle_rpm": rpm, "rated_rpm": 60_000 });
        prints_as(number(&calc("wheel", metric), "/surface_speed"), metres);
    }
}

/// One foot a minute is 0.00508 m/s: 4000, 6500 and 9500 ft/min.
#[test]
fn feet_a_minute_in_metres_a_second() {
    for (feet, metres) in [(4000.0, "20.32"), (6500.0, "33.02"), (9500.0, "48.26")] {
        let rpm = feet * 12.0 / (std::f64::consts::PI * 6.0);
        near(number(&calc("wheel", wheel(6.0, rpm)), "/surface_speed"), feet, 1e-9 * feet);
        let metric = json!({ "units": "metric", "diameter": 152.4, "spindle_rpm": rpm, "rated_rpm": 60_000 });
        prints_as(number(&calc("wheel", metric), "/surface_speed"), metres);
    }
}

/// Problems of public textbooks: 5 in at 1200 rpm, printed 1570 ft/min (exactly 1570.80); 6 in at 4100 ft/min, printed
/// "2600 to the nearest hundred" (2610.14).
#[test]
fn textbook_problems() {
    prints_as(number(&calc("wheel", wheel(5.0, 1200.0)), "/surface_speed"), "1570.80");
    near(number(&calc("wheel", wheel(6.0, 2610.14)), "/surface_speed"), 4100.0, 0.01);
}

/// 29 CFR 1910.215(d)(1) (confirmed in California Code of Regulations, title 8, 3580(a)): the spindle must not exceed
/// the maximum operating speed marked on the wheel; equality is allowed.
#[test]
fn marked_speed() {
    for (spindle, verdict) in [(3600.0, "within_rating"), (3600.001, "overspeed"), (3599.0, "within_rating")] {
        let answer = calc("wheel", json!({ "diameter": 6, "spindle_rpm": spindle, "rated_rpm": 3600 }));
        assert_eq!(answer["verdict"], verdict, "{spindle}");
        near(number(&answer, "/margin"), 1.0 - spindle / 3600.0, 1e-12);
    }
}
