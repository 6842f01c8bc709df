//! Straight lines: least squares in `master`, Theil and Sen in `wear`.

use super::{calc, near, number};
use serde_json::{Value, json};

const NORRIS: [(f64, f64); 36] = [
    (0.2, 0.1),
    (337.4, 338.8),
    (118.2, 118.1),
    (884.6, 888.0),
    (10.1, 9.2),
    (226.5, 228.1),
    (666.3, 668.5),
    (996.3, 998.5),
    (448.6, 449.1),
    (777.0, 778.9),
    (558.2, 559.2),
    (0.4, 0.3),
    (0.6, 0.1),
    (775.5, 778.1),
    (666.9, 668.8),
    (338.0, 339.3),
    (447.5, 448.9),
    (11.6, 10.8),
    (556.0, 557.7),
    (228.1, 228.3),
    (995.8, 998.0),
    (887.6, 888.8),
    (120.2, 119.6),
    (0.3, 0.3),
    (0.3, 0.6),
    (556.8, 557.6),
    (339.1, 339.3),
    (887.2, 888.0),
    (999.0, 998.5),
    (779.0, 778.9),
    (11.1, 10.2),
    (118.3, 117.6),
    (229.2, 228.9),
    (669.1, 668.4),
    (448.9, 449.2),
    (0.5, 0.2),
];

/// The day that many days after 1 January 2000.
fn day(days: f64) -> String {
    let days = jiff::Span::new().days(days.round() as i64);
    jiff::civil::date(2000, 1, 1).checked_add(days).expect("within the calendar").to_string()
}

/// NIST StRD "Norris", certified slope, to eleven digits. No dial goes to 999, so the ordinates are a twentieth.
#[test]
fn norris_slope() {
    let readings: Vec<Value> = NORRIS.iter().map(|(x, y)| json!({ "y": x, "dial": y / 20.0 })).collect();
    let answer = calc(
        "master",
        json!({ "units": "metric", "readings": readings, "dial": "radius", "span": 1000, "tolerance": 0.1 }),
    );
    let certified = 1.002_116_818_020_45;
    near(number(&answer, "/slope") * 20.0, certified, 1e-11);
    near(number(&answer, "/parallel_error"), 1000.0 * certified / 20.0, 1e-9);
    // Range of the residuals about the certified line.
    let beside = |(x, y): &(f64, f64)| y - (-0.262_323_073_774_029 + certified * x);
    let (least, most) = NORRIS
        .iter()
        .map(beside)
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), off| (least.min(off), most.max(off)));
    near(number(&answer, "/straightness") * 20.0, most - least, 1e-9);
}

/// Theil-Sen slope of the same data, 1.0021968366, computed with a general-purpose statistics library. Days are ten to
/// the unit, and a reel gets smaller.
#[test]
fn norris_theil_sen() {
    let history: Vec<Value> =
        NORRIS.iter().map(|(x, y)| json!({ "date": day(10.0 * x), "diameter": 390.0 - 0.3 * y })).collect();
    let answer = calc("wear", json!({ "units": "metric", "history": history, "wear_limit": 60 }));
    near(number(&answer, "/per_year"), -0.3 / 10.0 * 1.002_196_836_6 * 365.25, 1e-8);
}

/// Sen, J. Am. Stat. Assoc. 63, 1379 (1968), as in a general-purpose statistics library's own test: slope 4, intercept 4
/// through the medians. The line 4 + 4x reaches 100 at x = 24. The interval of the test, at 93 %, is with the tests of
/// the library crate; the program's is at 95 %.
#[test]
fn sen_1968() {
    let points = [(1.0, 9.0), (2.0, 15.0), (3.0, 19.0), (4.0, 20.0), (10.0, 45.0), (12.0, 55.0), (18.0, 78.0)];
    let history: Vec<Value> = points.iter().map(|(x, y)| json!({ "date": day(*x), "diameter": 200.0 - y })).collect();
    let answer = calc("wear", json!({ "units": "metric", "history": history, "wear_limit": 100 }));
    near(number(&answer, "/per_year"), -4.0 * 365.25, 1e-9);
    assert_eq!(answer["at_limit"], day(24.0));
}

/// The same test's degenerate case: y 0 1 1 over x 0 1 2, slope 0.5, intercept 0.5 through the medians: 50.5 at 100.
#[test]
fn ties() {
    let points = [(0.0, 0.0), (1.0, 1.0), (2.0, 1.0)];
    let history: Vec<Value> = points.iter().map(|(x, y)| json!({ "date": day(*x), "diameter": 200.0 - y })).collect();
    let answer = calc("wear", json!({ "units": "metric", "history": history, "wear_limit": 149.5 }));
    near(number(&answer, "/per_year"), -0.5 * 365.25, 1e-9);
    assert_eq!(answer["at_limit"], day(100.0));
}
