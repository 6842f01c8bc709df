//! The calculations of shift and records.

use super::{given, near, refused};
use serde_json::{Value, json};

/// 29 CFR 1910.95, Appendix A: 90 × 4 + 95 × 2 + 85 × 2 is 112.5 %, 90.85 dBA, by its formulas.
#[test]
fn dose_of_a_shift() {
    let answer = given(
        "dose",
        r#"{"segments": [{"level": 90, "hours": 4}, {"level": 95, "hours": 2}, {"level": 85, "hours": 2}]}"#,
    );
    near(&answer, "/dose_percent", 112.5, 1e-9);
    near(&answer, "/twa", 90.85, 0.005);
    assert_eq!((&answer["action_level"], &answer["over_limit"]), (&json!(true), &json!(true)));
    let none = given("dose", r#"{"segments": []}"#);
    assert_eq!((none.get("twa"), &none["dose_percent"]), (Some(&Value::Null), &json!(0.0)));
}

/// DHHS (NIOSH) 94-110 (revised 2021), example 1, p. 35, from memory: printed 16.3 lb and 2.7 with rounded
/// multipliers, 16.017 and 2.747 in full.
#[test]
fn lift_of_example_1() {
    let input = r#"{"load": 44, "horizontal": 23, "vertical": 15, "travel": 49, "asymmetry": 0, "frequency_multiplier": 1, "coupling": "fair"}"#;
    let answer = given("lift", input);
    near(&answer, "/recommended_weight", 16.017, 0.0005);
    near(&answer, "/lifting_index", 2.747, 0.0005);
    near(&answer, "/cm", 0.95, 1e-12);
    assert_eq!(answer["verdict"], "assist");
    let far = input.replace("23", "26");
    refused("lift", &far, &["horizontal is 26;", "from 0 in to 25 in"]);
}

/// NIST/SEMATECH e-Handbook 6.3.2.2.
#[test]
fn chart_of_flow_rates() {
    let answer = given("chart", super::find("chart").unwrap().example);
    near(&answer, "/centre", 50.81, 1e-9);
    near(&answer, "/upper", 55.8041, 1e-4);
    near(&answer, "/lower", 45.8159, 1e-4);
    assert_eq!((&answer["outside"], &answer["runs"]), (&json!([]), &json!([])));
}

#[test]
fn master_bar_turned() {
    let input = r#"{"readings": [{"y": 0, "dial": 0}, {"y": 20, "dial": 0.0012}],
        "reversed": [{"y": 0, "dial": 0}, {"y": 20, "dial": 0.0004}], "dial": "diameter", "span": 10, "tolerance": 0.0005}"#;
    let answer = given("master", input);
    near(&answer, "/slope", 0.0004 / 20.0, 1e-15);
    near(&answer, "/parallel_error", 0.0002, 1e-14);
    near(&answer, "/bar_error", 0.0001, 1e-14);
    assert_eq!(answer["verdict"], "true");
}

#[test]
fn wear_to_the_limit() {
    let history = r#"{"date": "2024-03-01", "diameter": 5.00}, {"date": "2024-06-09", "diameter": 4.99}, {"date": "2024-09-17", "diameter": 4.98}"#;
    let three = given("wear", &format!(r#"{{"history": [{history}], "wear_limit": 4.90}}"#));
    near(&three, "/per_year", -0.036_525, 1e-12);
    assert_eq!((&three["at_limit"], three.get("earliest")), (&json!("2026-11-26"), Some(&Value::Null)));
    let four = format!(r#"{{"history": [{history}, {{"date": "2024-12-26", "diameter": 4.97}}], "wear_limit": 4.90}}"#);
    assert_eq!(given("wear", &four)["latest"], "2026-11-26");
    refused("wear", &four.replace("2024-06-09", "2024-06-31"), &["history[1].date is \"2024-06-31\"", "a date from"]);
    refused("wear", &four.replace("2024-06-09", "2024-06-09T10:00"), &["history[1].date"]);
}

#[test]
fn matching_reels() {
    let answer = given("match", super::find("match").unwrap().example);
    near(&answer, "/spread", 0.054, 1e-12);
    near(&answer, "/bring_to", 4.950, 1e-12);
    assert_eq!(answer["odd_ones"], json!(["CU-3"]));
    let mixed = r#"{"units": [{"tag": "A", "diameter": 127}, {"tag": "B", "diameter": 5}], "tolerance": 0.25}"#;
    refused("match", mixed, &["units[1].diameter is 5;", "from 25 mm to 400 mm"]);
    refused("match", r#"{"units": [{"tag": "", "diameter": 5}], "tolerance": 0.01}"#, &["units[0].tag is \"\""]);
}

#[test]
fn due_by_open_days() {
    let answer = given("due", super::find("due").unwrap().example);
    assert_eq!(answer, json!({"due": "2026-05-30", "reason": "interval", "overdue_days": 0}));
    let nothing = given("due", r#"{"today": "2026-05-10"}"#);
    assert_eq!(nothing, json!({"due": null, "reason": "not_due", "overdue_days": 0}));
    let season = r#"{"today": "2026-05-10", "season": {"from": "4-1", "to": "10-31"}}"#;
    refused("due", season, &["season.from is \"4-1\"", "01-01"]);
    refused(
        "due",
        r#"{"today": "2026-05-10", "last_grind": "2026-05-11"}"#,
        &["last_grind is 2026-05-11", "2026-05-10"],
    );
}

#[test]
fn yield_and_spring() {
    let answer = given("yield", super::find("yield").unwrap().example);
    near(&answer, "/yield", 0.84, 1e-12);
    near(&answer, "/suggested_infeed", 0.010 / 0.84, 1e-12);
    // With 0.6 of the pending removed by each pass, 0.001248 is left of three; 0.4³ of it is below 0.0002, 0.4²
    // just so too.
    let answer = given("spring", super::find("spring").unwrap().example);
    near(&answer, "/fraction", 0.6, 1e-12);
    near(&answer, "/left", 0.001_248, 1e-12);
    assert_eq!(answer["passes_without_infeed"], 2);
}
