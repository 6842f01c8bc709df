use super::{ALL, refused, run, with};
use serde_json::Value;

/// Every field of every example, at every depth: set to something impossible, it is refused by its name.
#[test]
fn every_field_is_refused_by_name() {
    for calculation in ALL {
        let example: Value = serde_json::from_str(calculation.example).unwrap();
        let mut paths = Vec::new();
        collect("", "", &example, &mut paths);
        for (path, name) in paths {
            let given = example.pointer(&path).unwrap();
            for bad in ["NaN", "Infinity", "-1e999", "true", "\"eleven\"", "[]", "1e30", "-1e30", "null"] {
                // Any text may be a tag, and some lists may be empty.
                if (name.ends_with(".tag") && bad.starts_with('"')) || (given.is_array() && bad == "[]") {
                    continue;
                }
                let text = set(&example, &path, bad);
                let line = run(calculation.name, &text).expect_err(&text);
                assert!(line.starts_with(&name), "{}: {name} = {bad}: {line}", calculation.name);
                assert!(line.contains("must be"), "{line}");
            }
        }
    }
}

/// Every field of the outermost object that an example gives and the calculation needs: without it, it is missed by
/// its name.
#[test]
fn what_is_missing_is_named() {
    for calculation in ALL {
        let example: Value = serde_json::from_str(calculation.example).unwrap();
        let mut needed = 0;
        for name in example.as_object().unwrap().keys() {
            if let Err(line) = run(calculation.name, &with(calculation.example, name, None)) {
                needed += 1;
                assert!(line.starts_with(name) && line.contains("missing") && line.contains("must be"), "{line}");
            }
        }
        assert!(needed >= 1, "{} needs next to nothing", calculation.name);
        refused(calculation.name, "{}", &["missing"]);
    }
}

#[test]
fn what_is_unknown_is_named() {
    for calculation in ALL {
        let text = with(calculation.example, "colour", Some("\"red\""));
        refused(calculation.name, &text, &["colour is \"red\"", "no such field"]);
    }
    let inner = r#"{"diameter": 6, "spindle_rpm": 3450, "rated_rpm": 4140, "di\nal": 1}"#;
    refused("wheel", inner, &["di\u{fffd}al", "diameter, spindle_rpm, rated_rpm"]);
    let nested = with(super::find("prove").unwrap().example, "before", Some(r#"{"lead": 5, "trail": 5, "middle": 5}"#));
    refused("prove", &nested, &["before.middle is 5", "only lead, trail"]);
}

#[test]
fn the_range_is_told_in_the_units_of_the_object() {
    refused("tape", r#"{"blades": 11, "lead": 50, "trail": 5}"#, &["lead is 50;", "0.984251969 in", "15.7480315 in"]);
    let metric = r#"{"units": "metric", "blades": 11, "lead": 5, "trail": 127}"#;
    refused("tape", metric, &["lead is 5;", "from 25 mm to 400 mm"]);
    refused("tape", r#"{"blades": 11.5, "lead": 5, "trail": 5}"#, &["blades is 11.5;", "a whole number from 3 to 30"]);
    refused("tape", r#"{"blades": 11, "lead": NaN, "trail": 5}"#, &["lead is NaN;"]);
    refused("tape", r#"{"blades": 11, "lead": 1e400, "trail": 5}"#, &["lead is 1e400;"]);
    refused("tape", r#"{"blades": -1, "lead": 5, "trail": 5}"#, &["blades is -1;"]);
    let plan = with(super::find("plan").unwrap().example, "traverse", Some("0"));
    refused("plan", &plan, &["traverse is 0;", "in/min"]);
    refused(
        "tape",
        r#"{"blades": 11, "lead": 5, "trail": 5, "limit_basis": "gauge"}"#,
        &["limit_basis is \"gauge\"", "tape or caliper"],
    );
    refused(
        "tape",
        r#"{"units": "feet", "blades": 11, "lead": 5, "trail": 5}"#,
        &["units is \"feet\"", "inch or metric"],
    );
}

#[test]
fn what_contradicts_is_told_with_what_is_left() {
    let limit = r#"{"blades": 11, "lead": 5, "trail": 5, "wear_limit": 5.3, "new_diameter": 5.25}"#;
    refused("tape", limit, &["wear_limit is 5.3 in", "new_diameter leaves it from"]);
    let front = super::find("front").unwrap().example;
    let touch = with(front, "touch", Some(r#"{"zero_y": 21, "other_y": 21}"#));
    refused("front", &touch, &["touch.other_y is 21 in", "touch.zero_y is 21 in", "apart"]);
    refused("front", &with(front, "reel_x", Some("11")), &["reel_x is 11 in", "wheelbase is 11 in"]);
    let eccentric = with(front, "adjuster_kind", Some(r#"{"eccentric": {"throw": 0.06, "angle": 0}}"#));
    refused("front", &eccentric, &["move_other.height wants -0.00375 in", "from 0 in to 0.12 in"]);
    for kind in [r#"{}"#, r#"{"screw": {"pitch": 0.05}, "eccentric": {"throw": 0.06, "angle": 0}}"#] {
        refused("front", &with(front, "adjuster_kind", Some(kind)), &["adjuster_kind holds", "screw or eccentric"]);
    }
    let rear = super::find("rear").unwrap().example;
    refused("rear", &with(rear, "roller_a", Some("2.5")), &["roller_b is missing: roller_a is given"]);
    refused("rear", &with(rear, "frame", Some("\"welded\"")), &["frame_limit is missing"]);
    refused(
        "wheel",
        r#"{"diameter": 6, "spindle_rpm": 1, "rated_rpm": 1, "reel_rpm": 1}"#,
        &["reel_diameter is missing"],
    );
}

#[test]
fn what_is_no_object_is_refused() {
    for text in ["", "nonsense", "[]", "5", "null", "\"{}\"", "{} {}", "{\"blades\": 11", "\u{0}"] {
        refused("tape", text, &["the input is"]);
    }
    refused("tape", r#"{"blades": 11, "lead": 5, "lead": 5.1, "trail": 5}"#, &["\"lead\" stands twice"]);
}

/// Where every value stands, as a JSON pointer and as messages name it.
fn collect(path: &str, name: &str, value: &Value, paths: &mut Vec<(String, String)>) {
    let mut below = |path: String, name: String, value: &Value| {
        collect(&path, &name, value, paths);
        paths.push((path, name));
    };
    if let Value::Object(map) = value {
        for (key, value) in map {
            let dot = if name.is_empty() { "" } else { "." };
            below(format!("{path}/{key}"), format!("{name}{dot}{key}"), value);
        }
    } else if let Value::Array(list) = value {
        for (row, value) in list.iter().enumerate() {
            below(format!("{path}/{row}"), format!("{name}[{row}]"), value);
        }
    }
}

/// The example as text with the value at `path` replaced by raw text, which need not be JSON.
fn set(example: &Value, path: &str, raw: &str) -> String {
    let mut changed = example.clone();
    *changed.pointer_mut(path).unwrap() = "PLACE".into();
    changed.to_string().replace("\"PLACE\"", raw)
}
