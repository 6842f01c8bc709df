use super::{inch, near, refused};
use crate::calc::shims::{Shims, ShimsInput, shims};
use crate::quantity::Length;
use proptest::prelude::*;

fn best(target: f64, stock: &[f64], most: u32) -> Shims {
    shims(&ShimsInput { target: inch(target), stock: stock.iter().copied().map(inch).collect(), most }).unwrap()
}

#[track_caller]
fn stacks(answer: &Shims, pieces: &[f64]) {
    assert_eq!(answer.stack.len(), pieces.len(), "{answer:?}");
    for (piece, expected) in answer.stack.iter().zip(pieces) {
        near(piece.inches(), *expected, 1e-12);
    }
    near(answer.total.inches(), pieces.iter().sum(), 1e-12);
}

/// Thicknesses as they are sold in inches, from memory; what is best follows from the rule alone.
#[test]
fn smallest_error_then_fewest_then_thinner() {
    let stock = [0.001, 0.0015, 0.002, 0.003, 0.005, 0.010, 0.025];
    stacks(&best(0.0135, &stock, 4), &[0.010, 0.002, 0.0015]);
    stacks(&best(0.004, &[0.001, 0.003, 0.002], 4), &[0.003, 0.001]);
    stacks(&best(0.0045, &[0.004, 0.005], 3), &[0.004]);
    stacks(&best(0.050, &[0.010], 3), &[0.010; 3]);
    let over = best(0.0038, &[0.002], 5);
    stacks(&over, &[0.002, 0.002]);
    near(over.error.inches(), 0.0002, 1e-12);
}

#[test]
fn no_stack_is_a_stack() {
    stacks(&best(0.001, &[0.005], 5), &[]);
    near(best(0.001, &[0.005], 5).error.inches(), -0.001, 1e-15);
    stacks(&best(0.010, &[0.005], 0), &[]);
    // 0 and 0.010 are equally near to 0.005: no piece is fewer than one.
    stacks(&best(0.005, &[0.010], 3), &[]);
}

#[test]
fn refusals_name_the_field() {
    let of = |target: f64, stock: &[f64], most: u32| {
        shims(&ShimsInput { target: inch(target), stock: stock.iter().copied().map(inch).collect(), most })
    };
    refused(of(0.0, &[0.001], 3), "target");
    refused(of(0.01, &[], 3), "stock");
    refused(of(0.01, &[0.001, -0.001], 3), "stock[1]");
    refused(of(0.01, &[0.001], 51), "most");
    // Sixty-four thicknesses without a common measure: refused in time instead of searched for ever.
    let unrelated: Vec<f64> = (0..64).map(|k| 0.001 + 0.000_1 * f64::from(k).sqrt()).collect();
    refused(of(0.123_456_789, &unrelated, 40), "most");
}

/// Every stack, thickest pieces first, by brute force.
fn every(stock: &[i64], most: u32, from: usize, total: i64, pieces: u32, all: &mut Vec<(i64, u32)>) {
    all.push((total, pieces));
    if most > 0 {
        for (kind, thickness) in stock.iter().enumerate().skip(from) {
            every(stock, most - 1, kind, total + thickness, pieces + 1, all);
        }
    }
}

proptest! {
    /// Against all stacks in whole micrometres.
    #[test]
    fn none_is_better(target in 1_i64..400, stock in prop::collection::vec(5_i64..90, 1..5), most in 0_u32..6) {
        let mut all = Vec::new();
        every(&stock, most, 0, 0, 0, &mut all);
        let expected = all.iter().map(|(total, pieces)| ((total - target).abs(), *pieces, *total)).min().unwrap();
        let micrometres = |value: i64| Length::from_mm(value as f64 / 1000.0);
        let input = ShimsInput { target: micrometres(target), stock: stock.iter().copied().map(micrometres).collect(), most };
        let answer = shims(&input).unwrap();
        let total = (answer.total.mm() * 1000.0).round() as i64;
        let pieces = u32::try_from(answer.stack.len()).unwrap();
        prop_assert_eq!(((total - target).abs(), pieces, total), expected);
        prop_assert!((answer.error.mm() * 1000.0 - (total - target) as f64).abs() < 1e-6);
    }
}
