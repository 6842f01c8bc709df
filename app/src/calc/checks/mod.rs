//! The calculations as the command line gives them, on text: worked examples of the bench (common practice, no
//! source), refusals, and both systems of units.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::float_cmp)]

mod records;
mod refusals;
mod worked;

use super::{ALL, answer, find};
use serde_json::Value;

fn run(name: &str, input: &str) -> Result<Value, String> {
    let text = answer(find(name).unwrap(), input).map_err(|refusal| refusal.to_string())?;
    assert_eq!(text.lines().count(), 1, "{text}");
    Ok(serde_json::from_str(&text).unwrap())
}

#[track_caller]
fn given(name: &str, input: &str) -> Value {
    run(name, input).unwrap_or_else(|line| panic!("{name} refused its input: {line}"))
}

/// The number at a path such as `/move_other/rezero`.
#[track_caller]
fn number(answer: &Value, path: &str) -> f64 {
    answer.pointer(path).and_then(Value::as_f64).unwrap_or_else(|| panic!("no number {path} in {answer}"))
}

#[track_caller]
fn near(answer: &Value, path: &str, expected: f64, tolerance: f64) {
    let value = number(answer, path);
    assert!((value - expected).abs() <= tolerance, "{path} is {value} instead of {expected}, within {tolerance}");
}

#[track_caller]
fn refused(name: &str, input: &str, parts: &[&str]) {
    let line = run(name, input).expect_err(input);
    assert!(!line.contains(['\n', '\r']), "{line:?}");
    for part in parts {
        assert!(line.contains(part), "{part:?} is not in {line:?}");
    }
}

/// The input with one field of the outermost object set, or taken out.
fn with(input: &str, name: &str, value: Option<&str>) -> String {
    let mut object: Value = serde_json::from_str(input).unwrap();
    let map = object.as_object_mut().unwrap();
    map.remove(name);
    let mut text = object.to_string();
    if let Some(value) = value {
        text.pop();
        let comma = if text.len() > 1 { "," } else { "" };
        text.push_str(&format!("{comma}{name:?}:{value}}}"));
    }
    text
}

#[test]
fn every_calculation_is_listed_explained_and_takes_its_example() {
    let listing = super::listing();
    assert_eq!(listing.lines().count(), ALL.len());
    for (calculation, line) in ALL.iter().zip(listing.lines()) {
        assert_eq!(line.split_whitespace().next(), Some(calculation.name));
        assert!(line.split_whitespace().count() > 3, "{line}");
        let answer = given(calculation.name, calculation.example);
        assert!(!answer.as_object().unwrap().is_empty());
        assert!(calculation.explain.len() > 100 && !calculation.explain.contains('\n'), "{}", calculation.name);
    }
}

#[test]
fn names_are_unique_and_unknown_ones_refused() {
    for (at, calculation) in ALL.iter().enumerate() {
        assert!(ALL[..at].iter().all(|earlier| earlier.name != calculation.name));
    }
    assert!(find("tapes").err().unwrap().to_string().contains("tape, front, rear"));
}
