//! Individuals charts.

use super::{calc, near, number};
use serde_json::json;

/// NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2 (2012): flow rates of ten batches, in control. The limits
/// are those of 3/1.128; with the rounded 2.66 they would be 55.8049 and 45.8151. The limit of the ranges,
/// 3.267·1.8778, is computed and not printed there.
#[test]
fn flow_rates() {
    let values = json!({ "values": [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1] });
    let answer = calc("chart", values);
    near(number(&answer, "/centre"), 50.81, 1e-12);
    near(number(&answer, "/mean_range"), 1.8778, 5e-5);
    near(number(&answer, "/upper"), 55.8041, 1e-4);
    near(number(&answer, "/lower"), 45.8159, 1e-4);
    near(number(&answer, "/range_upper"), 6.1347, 1e-4);
    assert!(55.8049 - number(&answer, "/upper") > 5e-4);
    assert_eq!((&answer["outside"], &answer["runs"]), (&json!([]), &json!([])));
}

/// The constants of that page for two values, d2 = 1.128 and D4 = 3.267, on a mean range of 1.
#[test]
fn constants_for_two() {
    let answer = calc("chart", json!({ "values": [0.0, 1.0] }));
    near(number(&answer, "/upper") - number(&answer, "/centre"), 3.0 / 1.128, 1e-12);
    near(number(&answer, "/range_upper"), 3.267, 1e-12);
    // The exact constants, 2/√π and 3.26653, differ from the printed three decimals by less than half a last place.
    near(number(&answer, "/upper") - number(&answer, "/centre"), 3.0 / std::f64::consts::FRAC_2_SQRT_PI, 0.001);
    near(number(&answer, "/range_upper"), 3.26653, 0.0005);
}

/// NIST StRD, univariate: NumAcc1, 3 and 4 (from memory; recomputed). Their means, which a careless sum loses.
#[test]
fn means_of_large_values() {
    let answer = calc("chart", json!({ "values": [10_000_001.0, 10_000_003.0, 10_000_002.0] }));
    near(number(&answer, "/centre"), 10_000_002.0, 0.0);
    for offset in [0.0, 1_000_000.0, 10_000_000.0] {
        let pairs = [offset + 0.1, offset + 0.3].repeat(500);
        let values: Vec<f64> = std::iter::once(offset + 0.2).chain(pairs).collect();
        near(number(&calc("chart", json!({ "values": values })), "/centre"), offset + 0.2, 4e-9);
    }
}

/// NIST StRD, NumAcc2 (from memory; recomputed): 1.2, then 1.1 and 1.3 five hundred times, mean 1.2.
#[test]
fn mean_of_many() {
    let values: Vec<f64> = std::iter::once(1.2).chain([1.1, 1.3].repeat(500)).collect();
    near(number(&calc("chart", json!({ "values": values })), "/centre"), 1.2, 1e-14);
}
