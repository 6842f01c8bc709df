//! Geometry of the cut: length of clip and scallop.

use super::{calc, near, number, prints_as};
use serde_json::{Value, json};

/// f = v/(B·n), 1 mph being 1056 in/min: computed.
#[test]
fn clips() {
    for (mph, blades, rpm, clip) in
        [(3.0, 11, 2000.0, "0.1440"), (4.0, 9, 1000.0, "0.46933"), (5.0, 8, 1600.0, "0.41250")]
    {
        let input = json!({ "ground_speed": mph, "blades": blades, "reel_rpm": rpm, "height_of_cut": 0.5,
            "reel_diameter": 5 });
        prints_as(number(&calc("clip", input), "/clip"), clip);
        // In metric, f = km/h·16666.67/(B·rpm) mm.
        let metric = json!({ "units": "metric", "ground_speed": mph, "blades": blades, "reel_rpm": rpm,
            "height_of_cut": 12.7, "reel_diameter": 127 });
        near(number(&calc("clip", metric), "/clip"), mph * 16_666.67 / (f64::from(blades) * rpm), 1e-4);
    }
}

/// A cutter of this radius that advances by f between cuts.
fn scallop(units: &str, radius: f64, advance: f64) -> f64 {
    let each_minute = if units == "metric" { 1_000_000.0 / 60.0 } else { 1056.0 };
    let input: Value = json!({ "units": units, "ground_speed": advance * 10_000.0 / each_minute, "blades": 1,
        "reel_rpm": 10_000, "height_of_cut": if units == "metric" { 12.7 } else { 0.5 }, "reel_diameter": 2.0 * radius });
    let answer = calc("clip", input);
    near(number(&answer, "/clip"), advance, 1e-12);
    number(&answer, "/scallop")
}

/// h = R − √(R² − (f/2)²), the cusp left by a round cutter: several published calculators and handbook pages; the digits
/// beyond theirs are computed. One page prints 0.000402 for R 0.125, f 0.020.
#[test]
fn scallops() {
    prints_as(scallop("inch", 0.25, 0.050), "0.0012531");
    prints_as(scallop("inch", 0.25, 0.050), "0.001253");
    prints_as(scallop("inch", 0.125, 0.020), "0.00040064");
    prints_as(scallop("inch", 2.5, 0.250), "0.00312696");
    prints_as(scallop("metric", 3.0, 0.5), "0.0104348");
    prints_as(scallop("metric", 63.5, 6.35), "0.0794247");
    // The inverse f = 2·√(2Rh − h²): 0.346 for h 0.005 on R 3.
    near(scallop("metric", 3.0, 0.346), 0.005, 0.000_02);
    // Turning, f²/8r: 0.008 a revolution and a nose of 1/32 leave 0.000256; ten times as large, since no reel is so thin.
    near(scallop("inch", 10.0 / 32.0, 0.08), 0.00256, 0.000_02);
}
