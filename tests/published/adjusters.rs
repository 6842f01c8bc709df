//! Eccentrics, screws and shims.

use super::{calc, near, number};
use serde_json::{Value, json};

/// What turns or shims a roller's end by a height, from readings that ask for it.
fn moved(units: &str, height: f64, kind: Value) -> Value {
    let tolerance = if units == "metric" { 0.000_2 } else { 0.000_01 };
    let answer = calc(
        "rear",
        json!({ "units": units, "reading_a": height, "reading_b": 0, "reading_span": 20, "adjuster_span": 20,
            "frame": "adjustable", "tolerance": tolerance, "adjuster_kind": kind }),
    );
    near(number(&answer, "/move_b"), height, 1e-12);
    answer
}

/// Rise e·(1 − cos θ), exact mathematics, seven places.
#[test]
fn rise_of_an_eccentric() {
    let rows = [
        (1.0, 30.0, 0.133_974_6),
        (1.0, 45.0, 0.292_893_2),
        (1.0, 60.0, 0.5),
        (1.0, 90.0, 1.0),
        (1.0, 180.0, 2.0),
        (0.5, 30.0, 0.066_987_3),
        (2.0, 15.0, 0.068_148_3),
    ];
    for (throw, degrees, rise) in rows {
        let answer = moved("inch", rise, json!({ "eccentric": { "throw": throw, "angle": 0 } }));
        near(number(&answer, "/degrees"), degrees, 1e-5);
    }
}

/// Turns = move × threads an inch, 0.010 in, and the same in degrees of turn; exact mathematics.
#[test]
fn screws_in_inches() {
    let rows = [
        (13.0, 0.130, 46.8),
        (16.0, 0.160, 57.6),
        (18.0, 0.180, 64.8),
        (20.0, 0.200, 72.0),
        (24.0, 0.240, 86.4),
        (28.0, 0.280, 100.8),
    ];
    for (threads, turns, degrees) in rows {
        let answer = moved("inch", 0.010, json!({ "screw": { "pitch": 1.0 / threads } }));
        near(number(&answer, "/turns"), turns, 1e-12);
        near(number(&answer, "/turns") * 360.0, degrees, 1e-9);
    }
}

/// Turns = move/pitch, 0.25 mm; and an eighth of a turn on M8×1.25 is 0.15625 mm. Exact mathematics.
#[test]
fn screws_in_metric() {
    for (pitch, turns, places) in [(1.0, 0.25, 1e-12), (1.25, 0.20, 1e-12), (1.5, 0.1667, 5e-5), (1.75, 0.1429, 5e-5)] {
        let answer = moved("metric", 0.25, json!({ "screw": { "pitch": pitch } }));
        near(number(&answer, "/turns"), turns, places);
    }
    let answer = moved("metric", 0.156_25, json!({ "screw": { "pitch": 1.25 } }));
    near(number(&answer, "/turns"), 0.125, 1e-12);
}

/// Shim stock as it is sold, from memory only (a shop sets its own): each thickness is best had by one piece of it, and
/// .001, .005, .010 and .020 in are .0254, .127, .254 and .508 mm.
#[test]
fn shim_stock() {
    let inch = [
        0.001, 0.0015, 0.002, 0.003, 0.004, 0.005, 0.006, 0.007, 0.008, 0.009, 0.010, 0.012, 0.015, 0.020, 0.025,
        0.031, 0.047, 0.062, 0.125,
    ];
    let metric = [0.025, 0.05, 0.075, 0.10, 0.125, 0.15, 0.20, 0.25, 0.30, 0.40, 0.50, 0.60, 0.75, 0.80, 1.0];
    for (units, stock) in [("inch", &inch[..]), ("metric", &metric[..])] {
        for thickness in stock {
            let answer = calc("shims", json!({ "units": units, "target": thickness, "stock": stock, "most": 4 }));
            assert_eq!(answer["stack"].as_array().map(Vec::len), Some(1), "{thickness}");
            near(number(&answer, "/stack/0"), *thickness, 1e-12);
            near(number(&answer, "/error"), 0.0, 1e-12);
        }
    }
    for (inches, millimetres) in [(0.001, 0.0254), (0.005, 0.127), (0.010, 0.254), (0.015, 0.381), (0.020, 0.508)] {
        let answer =
            calc("shims", json!({ "units": "metric", "target": millimetres, "stock": [inches * 25.4], "most": 1 }));
        near(number(&answer, "/error"), 0.0, 1e-12);
    }
}
