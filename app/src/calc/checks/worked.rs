use super::{ALL, given, near, number};
use serde_json::Value;

const FRONT: &str = r#"{"zero_diameter": 5.020, "other_diameter": 5.000, "reading": 0.026, "dial": "diameter",
    "touch": {"zero_y": 1, "other_y": 21}, "adjuster": {"zero_y": -1.5, "other_y": 23.5},
    "reel_x": 4.5, "wheelbase": 11, "jack_y": 11, "tolerance": 0.002"#;

fn front(more: &str) -> Value {
    given("front", &format!("{FRONT}{more}}}"))
}

#[test]
fn front_as_worked() {
    let answer = front("");
    near(&answer, "/target", 0.020, 1e-12);
    near(&answer, "/tilt", 0.003, 1e-12);
    assert_eq!((answer["sits"].as_str(), answer["verdict"].as_str()), (Some("high"), Some("adjust")));
    near(&answer, "/move_other/height", -0.003_75, 1e-12);
    near(&answer, "/move_other/rezero", 0.000_784_090_909_090_9, 1e-12);
    near(&answer, "/move_zero/height", 0.003_75, 1e-12);
    near(&answer, "/move_zero/rezero", 0.005_215_909_090_909, 1e-12);
    near(&answer, "/move_both/zero", -0.000_663_461_538_461_5, 1e-12);
    near(&answer, "/move_both/other", -0.004_413_461_538_461_5, 1e-12);
    for absent in ["tilt_u95", "touches_needed"] {
        assert_eq!(answer.get(absent), None);
    }
    assert_eq!(answer.pointer("/move_zero/turns"), None);
}

#[test]
fn front_with_adjusters_as_worked() {
    let screw = front(r#", "adjuster_kind": {"screw": {"pitch": 0.0416666666666667}}"#);
    near(&screw, "/move_zero/turns", 0.09, 1e-12);
    near(&screw, "/move_other/flats", -0.54, 1e-12);
    let eccentric = front(r#", "adjuster_kind": {"eccentric": {"throw": 0.060, "angle": 60}}"#);
    near(&eccentric, "/move_zero/degrees", 4.06, 0.005);
}

#[test]
fn front_uncertainty_as_worked() {
    let worth = r#", "uncertainty": {"dial_graduation": 0.001, "tape_graduation": 0.001, "touch_sd": 0.0003, "touches_zero": 1, "touches_other": 1}"#;
    near(&front(worth), "/tilt_u95", 2.0 * 0.000_358, 1e-6);
    let unproven = FRONT.replace("0.026", "0.0226");
    let answer = given("front", &format!("{unproven}{worth}}}"));
    assert_eq!(answer["verdict"], "repeat");
    assert_eq!(answer["touches_needed"], 2);
    let hopeless = FRONT.replace("0.026", "0.0229");
    let answer = given("front", &format!("{hopeless}{worth}}}"));
    assert_eq!(answer["verdict"], "repeat");
    assert_eq!(answer.get("touches_needed"), Some(&Value::Null));
}

#[test]
fn tape_as_worked() {
    let answer = given("tape", r#"{"blades": 11, "lead": 5.020, "trail": 5.000}"#);
    near(&answer, "/cone", 0.020, 1e-12);
    near(&answer, "/target", 0.020, 1e-12);
    assert_eq!(answer["zero_end"], "lead");
    near(&answer, "/diameter/trail", 5.0686, 5e-5);
    for absent in ["barrel", "wear_used"] {
        assert_eq!(answer.get(absent), None);
    }
    let lands = given("tape", r#"{"blades": 11, "lead": 5.000, "trail": 5.000, "land": 0.040}"#);
    near(&lands, "/diameter/lead", 5.0630, 5e-5);
}

#[test]
fn plan_as_worked() {
    let input = r#"{"lead": 5.020, "trail": 5.000, "wear_limit": 4.9, "cleanup": 0.002, "infeed": 0.002, "sparkout": 3,
        "stroke": 28, "traverse": 140, "usual_removal": 0.008, "land": 0.040, "relief_angle": 25}"#;
    let answer = given("plan", input);
    near(&answer, "/final_diameter", 4.998, 1e-12);
    near(&answer, "/stock", 0.022, 1e-12);
    assert_eq!(answer["passes"], 11);
    assert_eq!(answer["schedule"].as_array().unwrap().len(), 11);
    near(&answer, "/schedule/10", 0.022, 1e-12);
    near(&answer, "/minutes", 14.0 * 28.0 / 140.0, 1e-12);
    assert_eq!(answer["grinds_left"], 12);
    near(&answer, "/land_after/lead", 0.0637, 5e-5);
    assert_eq!((answer["verdict"].as_str(), answer.get("relief_due")), (Some("grind"), None));
}

#[test]
fn land_as_worked() {
    let answer = given("land", r#"{"land": 0.040, "diameter": 5.020, "removed": 0.022, "relief_angle": 25}"#);
    near(&answer, "/land_after", 0.0637, 5e-5);
    assert_eq!(answer.get("removals_to_limit"), None);
}

/// Common practice: rear roller of a welded frame out by more than 0.010 in, replace the frame.
#[test]
fn rear_by_frame() {
    let at = |b: f64, frame: &str| {
        let input = format!(
            r#"{{"reading_a": 0, "reading_b": {b}, "reading_span": 20, "adjuster_span": 25, "tolerance": 0.002, {frame}}}"#
        );
        given("rear", &input)
    };
    let welded = r#""frame": "welded", "frame_limit": 0.010"#;
    assert_eq!(at(0.010, welded)["verdict"], "record");
    assert_eq!(at(0.0101, welded)["verdict"], "replace_frame");
    let plates = r#""frame": "side_plates", "square_limit": 0.005"#;
    assert_eq!(at(-0.004, plates)["verdict"], "square_side_plates");
    assert_eq!(at(0.006, plates)["verdict"], "shim");
    let answer = at(0.004, r#""frame": "adjustable", "roller_a": 2.5, "roller_b": 2.503"#);
    near(&answer, "/error", 0.001, 1e-12);
    near(&answer, "/move_b", -0.001_25, 1e-12);
    assert_eq!(answer["verdict"], "parallel");
}

/// π·D·N computed: 6 in at 3450 rpm is 5419.2 ft/min, 27.53 m/s. Equal to the rating is within it (29 CFR
/// 1910.215(d)(1)).
#[test]
fn wheel_in_both_units() {
    let answer = given("wheel", r#"{"diameter": 6, "spindle_rpm": 3450, "rated_rpm": 3450}"#);
    near(&answer, "/surface_speed", 5419.2, 0.05);
    near(&answer, "/margin", 0.0, 0.0);
    assert_eq!(answer["verdict"], "within_rating");
    let metric = r#"{"units": "metric", "diameter": 152.4, "spindle_rpm": 3450, "rated_rpm": 3000, "reel_diameter": 127, "reel_rpm": 1200}"#;
    let answer = given("wheel", metric);
    near(&answer, "/surface_speed", 27.53, 0.005);
    near(&answer, "/reel_surface_speed", 1570.80 * 0.00508, 1e-4);
    assert_eq!(answer["verdict"], "overspeed");
}

#[test]
fn prove_closes() {
    let input = r#"{"lead": 4.998, "trail": 4.9988, "before": {"lead": 5.020, "trail": 5.000}, "tape_graduation": 0.001,
        "tolerance": 0.002, "tilt_left": {"tilt": 0.0004, "tilt_u95": 0.0007, "zero_end": "lead"}}"#;
    let answer = given("prove", input);
    near(&answer, "/cone", -0.0008, 1e-12);
    near(&answer, "/cone_u95", 2.0 * 0.001 / 6.0_f64.sqrt(), 1e-12);
    near(&answer, "/removed", 0.022, 1e-12);
    near(&answer, "/misclosure", 0.0, 1e-12);
    near(&answer, "/misclosure_u95", (4.0 * 1e-6 / 6.0 + 0.0014_f64.powi(2)).sqrt(), 1e-12);
    assert_eq!(answer["verdict"], "pass");
}

/// The keys whose numbers are the same in both systems of units.
const THE_SAME: [&str; 52] = [
    "blades",
    "reel_temperature",
    "tape_temperature",
    "touches_zero",
    "touches_other",
    "angle",
    "sparkout",
    "yield",
    "relief_angle",
    "spindle_rpm",
    "rated_rpm",
    "reel_rpm",
    "wear_used",
    "turns",
    "flats",
    "degrees",
    "touches_needed",
    "passes",
    "minutes",
    "grinds_left",
    "removals_to_limit",
    "margin",
    "most",
    "blade_angle",
    "contact_angle",
    "ratio",
    "rpm_for_match",
    "turns_a",
    "turns_b",
    "flats_a",
    "flats_b",
    "level",
    "hours",
    "hours_interval",
    "interval_days",
    "dose_percent",
    "twa",
    "asymmetry",
    "frequency_multiplier",
    "hm",
    "vm",
    "dm",
    "am",
    "fm",
    "cm",
    "lifting_index",
    "slope",
    "outside",
    "runs",
    "overdue_days",
    "fraction",
    "passes_without_infeed",
];

/// How many of the metric unit one of the other is, for the number under this key.
fn metric_each(key: &str) -> f64 {
    match key {
        key if THE_SAME.contains(&key) => 1.0,
        "surface_speed" | "reel_surface_speed" => 0.00508,
        "ground_speed" => 1.609344,
        "load" | "recommended_weight" => 0.453_592_37,
        _ => 25.4,
    }
}

/// Every number in its metric unit.
fn in_metric(key: &str, value: &Value) -> Value {
    match value {
        Value::Number(number) => (number.as_f64().unwrap() * metric_each(key)).into(),
        Value::Array(list) => list.iter().map(|element| in_metric(key, element)).collect(),
        Value::Object(map) => map.iter().map(|(key, value)| (key.clone(), in_metric(key, value))).collect(),
        Value::Null | Value::Bool(_) | Value::String(_) => value.clone(),
    }
}

fn agree(path: &str, inch: &Value, metric: &Value) {
    match (inch, metric) {
        (Value::Number(_), Value::Number(_)) => {
            let (inch, metric) = (inch.as_f64().unwrap(), metric.as_f64().unwrap());
            assert!((metric - inch).abs() <= 1e-9 * inch.abs().max(1e-3), "{path}: {metric} instead of {inch}");
        }
        (Value::Array(inch), Value::Array(metric)) => {
            assert_eq!(inch.len(), metric.len(), "{path}");
            inch.iter().zip(metric).for_each(|(inch, metric)| agree(path, inch, metric));
        }
        (Value::Object(inch), Value::Object(metric)) => {
            assert!(inch.keys().eq(metric.keys()), "{path}");
            inch.iter().for_each(|(key, value)| agree(&format!("{path}/{key}"), value, &metric[key]));
        }
        (inch, metric) => assert_eq!(inch, metric, "{path}"),
    }
}

#[test]
fn inch_and_metric_give_the_same() {
    for calculation in ALL {
        let input: Value = serde_json::from_str(calculation.example).unwrap();
        let mut metric = in_metric("", &input);
        if calculation.name != "match" {
            metric["units"] = "metric".into();
        }
        let expected = in_metric("", &given(calculation.name, calculation.example));
        agree(calculation.name, &expected, &given(calculation.name, &metric.to_string()));
    }
}

#[test]
fn full_double_precision_comes_out() {
    let answer = given("tape", r#"{"blades": 11, "lead": 5.020, "trail": 5.000}"#);
    let expected = 5.0 * (std::f64::consts::PI / 11.0) / (std::f64::consts::PI / 11.0).sin();
    assert!((number(&answer, "/diameter/trail") - expected).abs() < 4.0 * f64::EPSILON * expected);
}

/// Thicknesses as they are sold in inches, from memory.
#[test]
fn shims_stack() {
    let answer = given("shims", r#"{"target": 0.0135, "stock": [0.0015, 0.002, 0.005, 0.010], "most": 3}"#);
    assert_eq!(answer["stack"].as_array().unwrap().len(), 3);
    near(&answer, "/stack/0", 0.010, 1e-12);
    near(&answer, "/total", 0.0135, 1e-12);
    near(&answer, "/error", 0.0, 1e-12);
    let empty = given("shims", r#"{"target": 0.001, "stock": [0.005], "most": 3}"#);
    assert_eq!(empty["stack"].as_array().unwrap().len(), 0);
    near(&empty, "/error", -0.001, 1e-15);
}

#[test]
fn centre_and_relief_as_worked() {
    let input =
        r#"{"reel_diameter": 5, "wheel_diameter": 6, "offset_zero": 0.050, "offset_other": 0, "dial": "diameter"}"#;
    let answer = given("centre", input);
    near(&answer, "/dial_error_zero", 0.00045, 5e-6);
    near(&answer, "/false_cone", 0.00045, 5e-6);
    near(&answer, "/false_tilt", -0.000_227, 1e-6);
    let answer = given("relief", r#"{"reel_diameter": 5, "wheel_diameter": 6, "relief_angle": 25}"#);
    near(&answer, "/blade_angle", 13.65, 0.005);
    near(&answer, "/finger_offset", 0.590, 5e-4);
}

#[test]
fn clip_as_worked() {
    let input = r#"{"ground_speed": 3.5, "blades": 11, "reel_rpm": 2000, "height_of_cut": 0.125, "reel_diameter": 5}"#;
    let answer = given("clip", input);
    near(&answer, "/clip", 0.168, 1e-12);
    near(&answer, "/ratio", 1.344, 1e-12);
    near(&answer, "/rpm_for_match", 2688.0, 1e-8);
    let h: f64 = 0.084;
    near(&answer, "/scallop", 2.5 - (2.5_f64.powi(2) - h * h).sqrt(), 1e-12);
}

#[test]
fn height_as_worked() {
    let input = r#"{"wanted": 0.125, "gauge": [{"y": 2, "height": 0.118}, {"y": 20, "height": 0.131}],
        "edge_x": 5.2, "wheelbase": 11, "adjuster": {"a_y": -1.5, "b_y": 23.5}}"#;
    let answer = given("height", input);
    near(&answer, "/move_a", 0.01807, 5e-6);
    near(&answer, "/move_b", -0.01617, 5e-6);
    assert_eq!(answer.get("turns_a"), None);
}

/// Pythagoras on round numbers: a reel of 5 and an edge 2.4 below the axis stands 0.7 behind it.
#[test]
fn knife_on_round_numbers() {
    let answer = given("knife", r#"{"reel_diameter": 5, "axis_height": 2.525, "height_of_cut": 0.125}"#);
    near(&answer, "/behind_centre", 0.7, 1e-12);
    near(&answer, "/contact_angle", (0.7_f64 / 2.4).atan().to_degrees(), 1e-9);
    assert_eq!(answer.get("roller_move"), None);
}
