//! 29 CFR 1910.95, Appendix A: noise.

use super::{calc, calc_each, near, number, prints_as};
use serde_json::{Value, json};

fn one(level: f64, hours: f64) -> Value {
    json!({ "segments": [{ "level": level, "hours": hours }] })
}

/// Hours that a level may last: those whose dose is 100 %.
fn allowed_hours(levels: &[f64]) -> Vec<f64> {
    let inputs: Vec<Value> = levels.iter().map(|level| one(*level, 1.0)).collect();
    calc_each("dose", &inputs).iter().map(|answer| 100.0 / number(answer, "/dose_percent")).collect()
}

/// Table G-16a, as printed, all rows from 80 dBA. At 83 dBA the current page of the agency prints 21.2; an older copy
/// of it and the formula (21.112) give 21.1.
#[test]
fn table_g_16a() {
    let printed = [
        "32", "27.9", "24.3", "21.1", "18.4", "16", "13.9", "12.1", "10.6", "9.2", "8", "7.0", "6.1", "5.3", "4.6",
        "4", "3.5", "3.0", "2.6", "2.3", "2", "1.7", "1.5", "1.3", "1.1", "1", "0.87", "0.76", "0.66", "0.57", "0.5",
        "0.44", "0.38", "0.33", "0.29", "0.25", "0.22", "0.19", "0.16", "0.14", "0.125", "0.11", "0.095", "0.082",
        "0.072", "0.063", "0.054", "0.047", "0.041", "0.036", "0.031",
    ];
    let levels: Vec<f64> = (80..=130).map(f64::from).collect();
    assert_eq!(levels.len(), printed.len());
    for (hours, printed) in allowed_hours(&levels).into_iter().zip(printed) {
        prints_as(hours, printed);
    }
}

/// The formula of the same appendix, unrounded, computed.
#[test]
fn hours_unrounded() {
    let rows = [
        (80.0, 32.0),
        (83.0, 21.11213),
        (88.0, 10.55606),
        (92.0, 6.06287),
        (97.0, 3.03143),
        (102.0, 1.51572),
        (106.0, 0.87055),
        (130.0, 0.03125),
    ];
    for (hours, (_, expected)) in allowed_hours(&rows.map(|row| row.0)).into_iter().zip(rows) {
        near(hours, expected, 1e-5);
    }
}

/// Table G-16 (from memory; 41 CFR 50-204.10, table I, prints the same): as long as it says is never over the limit.
/// It rounds 92 dBA down to 6 h, 97 to 3 h and 102 to 1.5 h, where the formula leaves a little more.
#[test]
fn table_g_16() {
    let rows = [
        (90.0, 8.0),
        (92.0, 6.0),
        (95.0, 4.0),
        (97.0, 3.0),
        (100.0, 2.0),
        (102.0, 1.5),
        (105.0, 1.0),
        (110.0, 0.5),
        (115.0, 0.25),
    ];
    for (level, hours) in rows {
        assert_eq!(calc("dose", one(level, hours))["over_limit"], false, "{level}");
        assert_eq!(calc("dose", one(level, hours * 1.02))["over_limit"], true, "{level}");
    }
}

/// Worked doses: 92 dBA for 8 h ("about 131 %") and 91 % after a public copy of the appendix; the others computed by
/// its formulas.
#[test]
fn worked_doses() {
    let rows = [
        (vec![(92.0, 8.0)], 131.951, "92.0"),
        (vec![(90.0, 7.28)], 91.0, "89.32"),
        (vec![(90.0, 8.0)], 100.0, "90.00"),
        (vec![(85.0, 8.0)], 50.0, "85.00"),
        (vec![(90.0, 4.0), (95.0, 2.0), (85.0, 2.0)], 112.5, "90.85"),
        (vec![(90.0, 10.0)], 125.0, "91.61"),
    ];
    for (segments, percent, twa) in rows {
        let segments: Vec<Value> =
            segments.into_iter().map(|(level, hours)| json!({ "level": level, "hours": hours })).collect();
        let answer = calc("dose", json!({ "segments": segments }));
        near(number(&answer, "/dose_percent"), percent, 0.0005);
        prints_as(number(&answer, "/twa"), twa);
    }
}

/// Table A-1, dose to time-weighted average: the formula's values to 0.1 dB (the print itself from memory; at 115 % it
/// may differ by 0.1, the formula gives 91.008).
#[test]
fn table_a_1() {
    let rows = [
        (10.0, "73.4"),
        (15.0, "76.3"),
        (20.0, "78.4"),
        (25.0, "80.0"),
        (30.0, "81.3"),
        (35.0, "82.4"),
        (40.0, "83.4"),
        (45.0, "84.2"),
        (50.0, "85.0"),
        (55.0, "85.7"),
        (60.0, "86.3"),
        (65.0, "86.9"),
        (70.0, "87.4"),
        (75.0, "87.9"),
        (80.0, "88.4"),
        (85.0, "88.8"),
        (90.0, "89.2"),
        (95.0, "89.6"),
        (100.0, "90.0"),
        (110.0, "90.7"),
        (115.0, "91.008"),
        (120.0, "91.3"),
        (125.0, "91.6"),
        (130.0, "91.9"),
        (150.0, "92.9"),
        (200.0, "95.0"),
        (300.0, "97.9"),
        (400.0, "100.0"),
        (500.0, "101.6"),
        (999.0, "106.6"),
    ];
    let inputs: Vec<Value> = rows.iter().map(|(percent, _)| one(90.0, percent * 0.08)).collect();
    for (answer, (percent, twa)) in calc_each("dose", &inputs).iter().zip(rows) {
        near(number(answer, "/dose_percent"), percent, 1e-9);
        prints_as(number(answer, "/twa"), twa);
    }
}

/// 1910.95(c)(1) and (d)(2)(i), from memory: action from 50 % (85 dBA over 8 h), and nothing below 80 dBA counts.
#[test]
fn action_level() {
    for (level, hours, action) in [(85.0, 8.0, true), (84.9, 8.0, false), (85.0, 7.99, false), (79.9, 24.0, false)] {
        assert_eq!(calc("dose", one(level, hours))["action_level"], action, "{level} {hours}");
    }
    assert_eq!(calc("dose", one(79.9, 24.0))["twa"], Value::Null);
}
