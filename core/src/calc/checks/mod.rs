//! The calculations against published values, worked examples and properties. Each names its source.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::float_cmp)]

mod adjuster;
mod cut;
mod front;
mod plan;
mod position;
mod prove;
mod rear;
mod records;
mod shift;
mod shims;
mod tape;
mod wear;
mod wheel;

use super::error::CalcError;
use crate::quantity::Length;

fn inch(value: f64) -> Length {
    Length::from_inches(value)
}

#[track_caller]
fn near(value: f64, expected: f64, tolerance: f64) {
    assert!((value - expected).abs() <= tolerance, "{value} instead of {expected}, within {tolerance}");
}

/// The whole of `value` agrees with a printed figure to half of its last place.
#[track_caller]
fn prints_as(value: Length, inches: &str) {
    let decimals = inches.split_once('.').map_or(0, |(_, decimals)| decimals.len());
    let printed = format!("{:.decimals$}", value.inches());
    assert_eq!(printed, inches, "{} in", value.inches());
}

#[track_caller]
fn refused<T: std::fmt::Debug>(result: Result<T, CalcError>, field: &str) {
    let error = result.expect_err(field);
    assert_eq!(error.field().to_string(), field, "{error}");
    let sentence = error.to_string();
    assert!(sentence.starts_with(field) && !sentence.contains('\n'), "{sentence}");
}
