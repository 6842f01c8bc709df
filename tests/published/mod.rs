//! Published values, row by row through the real `sparkout calc`. Each test names its document, section or table and
//! year; what stands here from memory says so.
//!
//! What the same documents hold and no calculation computes, so that it is not tested here:
//!
//! - 29 CFR 1910.215: guard openings, work-rest and tongue gaps, flanges, ring test; 1910.147; 1910.133: texts and
//!   looks of the safety gate, nothing computed. Its (d)(1), spindle against marked speed, is in `wheels`.
//! - NIOSH 94-110, table 5 (frequency multipliers): `lift` takes the multiplier, it does not choose it. The composite
//!   index of several tasks (2.4.5) likewise; the single-task limits it is built of are in `lifting`.
//! - NIST StRD "Norris": standard deviations, R², F. `master` tells slope and range of residuals only.
//! - NIST StRD NumAcc: standard deviations. `chart` tells mean and mean range.
//! - JCGM 100, H.1: effective degrees of freedom and U99; every U here is with k = 2. JCGM 101: coverage intervals of
//!   a Monte Carlo. JCGM 106: probabilities of conformance and risks of producer and consumer.
//! - Aluminium and silicon: everything taped here is of steel.
//! - Surface finish (Ra = f²/32r): a roughness, not a height of scallop.
//! - GS1 and linear symbols, QR sizes, encodings, signatures, IPP and raster, contrast: no calculations; those parts
//!   have tests of their own.
#![allow(clippy::expect_used, clippy::panic)]

mod adjusters;
mod charts;
mod expansion;
mod lifting;
mod lines;
mod noise;
mod tape;
mod turf;
mod uncertainty;
mod wheels;

use crate::rehearsing::program;
use serde_json::Value;
use std::io::Write;
use std::process::Stdio;

/// The answers to all inputs, in one run of the program.
#[track_caller]
fn calc_each(name: &str, inputs: &[Value]) -> Vec<Value> {
    let mut child = program()
        .args(["calc", name, "--lines"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("the program starts");
    let lines: String = inputs.iter().map(|input| format!("{input}\n")).collect();
    let mut input = child.stdin.take().expect("its input is open");
    // From a thread of its own, or a table longer than the pipe would stop both.
    let writing = std::thread::spawn(move || input.write_all(lines.as_bytes()));
    let output = child.wait_with_output().expect("it ends");
    writing.join().expect("the writer ends").expect("it takes its input");
    let text = String::from_utf8(output.stdout).expect("it writes text");
    let answers: Vec<Value> = text.lines().map(|line| serde_json::from_str(line).expect("it writes JSON")).collect();
    assert_eq!(answers.len(), inputs.len());
    for (input, answer) in inputs.iter().zip(&answers) {
        assert_eq!(answer.get("refused"), None, "{input}");
    }
    answers
}

#[track_caller]
fn calc(name: &str, input: Value) -> Value {
    calc_each(name, &[input]).remove(0)
}

/// The number at a path such as `/move_other/rezero`.
#[track_caller]
fn number(answer: &Value, path: &str) -> f64 {
    answer.pointer(path).and_then(Value::as_f64).unwrap_or_else(|| panic!("no number {path} in {answer}"))
}

#[track_caller]
fn near(value: f64, expected: f64, tolerance: f64) {
    assert!((value - expected).abs() <= tolerance, "{value} instead of {expected}, within {tolerance}");
}

/// Half of the last place of a printed figure, and a little for ties.
fn half_place(printed: &str) -> f64 {
    let decimals = printed.split_once('.').map_or(0, |(_, decimals)| decimals.len());
    0.5 * 0.1_f64.powi(i32::try_from(decimals).expect("few decimals")) * (1.0 + 1e-9)
}

/// Agrees with a printed figure to half of its last place.
#[track_caller]
fn prints_as(value: f64, printed: &str) {
    near(value, printed.parse().expect("a printed number"), half_place(printed));
}
