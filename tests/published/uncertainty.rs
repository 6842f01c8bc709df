//! Uncertainty of measurement and what it allows to say.

use super::{calc, near, number};
use serde_json::{Value, json};
use sparkout_core::calc::uncertainty::{combined, of_graduation};
use sparkout_core::quantity::Length;

fn root_sum_of_squares(parts: &[f64]) -> f64 {
    let parts: Vec<Length> = parts.iter().map(|part| Length::from_mm(*part)).collect();
    combined(&parts).mm()
}

/// JCGM 100:2008, H.1 (end gauge), table H.1: 25, 9.7, 2.9 and 16.6 nm make 32 nm (31.66 unrounded), and 5.8, 3.9 and
/// 6.7 nm make the 9.7. First order only; with the second-order terms of H.1.7 (11.7 and 1.7 nm, from memory) 34.
#[test]
fn end_gauge() {
    near(root_sum_of_squares(&[5.8, 3.9, 6.7]), 9.7, 0.05);
    near(root_sum_of_squares(&[25.0, 9.7, 2.9, 16.6]), 31.66, 0.05);
    near(root_sum_of_squares(&[25.0, 9.7, 2.9, 16.6, 11.7, 1.7]), 33.85, 0.05);
}

/// The same, H.1.3: rectangular bounds of ±2e-6, ±1e-6 and ±0.05 are worth 1.2e-6, 0.58e-6 and 0.029. A graduation is
/// the whole width.
#[test]
fn rectangular_bounds() {
    for (bound, worth, places) in [(2.0, 1.2, 0.05), (1.0, 0.58, 0.005), (0.05, 0.029, 0.000_5)] {
        near(of_graduation(Length::from_mm(2.0 * bound)).mm(), worth, places);
    }
}

/// JCGM 101:2008, 9.2.2 to 9.2.4: four inputs of standard deviation 1 make 2.00; three of 1 and one of 10 make 10.1 (the
/// last from memory; recomputed).
#[test]
fn sums_of_four() {
    near(root_sum_of_squares(&[1.0; 4]), 2.00, 1e-12);
    near(root_sum_of_squares(&[1.0, 1.0, 1.0, 10.0]), 10.1, 0.05);
}

/// A cone and what its tape is worth: U = 2·√(2·q²/12).
fn proved(cone: f64, expanded: f64) -> Value {
    let graduation = expanded / 2.0 * 6.0_f64.sqrt();
    let answer = calc(
        "prove",
        json!({ "units": "metric", "lead": 127.0 + cone, "trail": 127.0, "tape_graduation": graduation,
            "tolerance": 0.050 }),
    );
    near(number(&answer, "/cone_u95"), expanded, 1e-12);
    answer
}

/// The worked acceptance of a feature of 9.95 to 10.05 with U = 0.010, guard band U (JCGM 106:2012, 8.3.2; ISO 14253-1
/// in its older text, from memory; the limits computed): accepted from 9.96 to 10.04, both included.
#[test]
fn guarded_acceptance() {
    for (cone, verdict) in [
        (0.040, "pass"),
        (-0.040, "pass"),
        (0.040_01, "repeat"),
        (-0.040_01, "repeat"),
        (0.050, "repeat"),
        (0.050_01, "regrind"),
        (0.060_01, "regrind"),
    ] {
        assert_eq!(proved(cone, 0.010)["verdict"], verdict, "{cone}");
    }
}
