//! Shims: the stack of stock thicknesses that comes nearest to a height.

use super::error::{Amount, CalcError, Field};
use super::limits::{Allowed, entries, lengths};
use crate::quantity::Length;
use serde::{Deserialize, Serialize};
use std::collections::HashSet;

/// Height that a stack can have: one tenth of a micrometre to two inches, beyond which a spacer is turned.
pub const TARGET: Allowed<Length> = lengths(0.000_1, 50.8);
/// Thickness of one piece: the thinnest foil that can be handled to half an inch.
pub const THICKNESS: Allowed<Length> = lengths(0.001, 12.7);
/// Kinds of thickness in stock.
pub const STOCK: Allowed<u32> = entries(1, 64);
/// Pieces in a stack; a stack of more than fifty is a spring.
pub const PIECES: Allowed<u32> = Allowed::new(0, 50, Amount::Count);

/// Two totals nearer than this are the same height: a picometre, far above what rounding adds to a sum.
const SAME_MM: f64 = 1e-9;

/// Different heights that are looked at before the search is refused. Stock in whole micrometres or tenths of a
/// thousandth stays far below.
const HEIGHTS_MOST: usize = 400_000;

/// What is wanted and what there is.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct ShimsInput {
    /// Height wanted.
    pub target: Length,
    /// Thicknesses in stock, each as often as needed.
    pub stock: Vec<Length>,
    /// Most pieces in the stack.
    pub most: u32,
}

/// The best stack.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Shims {
    /// Its pieces, the thickest first; none when nothing comes nearer.
    pub stack: Vec<Length>,
    /// Its height.
    pub total: Length,
    /// Total less target.
    pub error: Length,
}

/// A height that a stack reaches with the fewest pieces.
struct Node {
    height_mm: f64,
    /// The stack below, and the piece put on it; none for the empty stack.
    on: Option<(usize, f64)>,
}

/// The stack with the smallest error, then with the fewest pieces, then the thinner one.
///
/// Heights are reached piece by piece, each kept once, so that the first stack to reach one has the fewest pieces;
/// what overshoots is not built on.
///
/// # Errors
/// [`CalcError`] naming the input that is out of range, or a stock of so many unrelated thicknesses that the search
/// would not end.
pub fn shims(input: &ShimsInput) -> Result<Shims, CalcError> {
    let thicknesses = check(input)?;
    let target = input.target.mm();
    let thickest = thicknesses.first().copied().unwrap_or(0.0);
    let mut nodes = vec![Node { height_mm: 0.0, on: None }];
    let mut known = HashSet::from([0_i64]);
    let (mut best, mut best_badness, mut level) = (0, badness(0.0, 0, target), 0..1);
    for pieces in 1..=input.most {
        let pieces_left = input.most - pieces + 1;
        for below in level.clone() {
            let height = nodes[below].height_mm;
            let best_error = (nodes[best].height_mm - target).abs();
            // Neither an overshoot nor what cannot come near enough any more is built on.
            if height >= target || height + thickest * f64::from(pieces_left) < target - best_error - SAME_MM {
                continue;
            }
            for piece in &thicknesses {
                let height_mm = height + piece;
                if !known.insert(in_steps(height_mm)) {
                    continue;
                }
                nodes.push(Node { height_mm, on: Some((below, *piece)) });
                let badness = badness(height_mm, pieces, target);
                if badness < best_badness {
                    (best, best_badness) = (nodes.len() - 1, badness);
                }
            }
            if nodes.len() > HEIGHTS_MOST {
                return Err(too_many(input));
            }
        }
        level = level.end..nodes.len();
        if level.is_empty() || best_badness.0 == 0 {
            break;
        }
    }
    Ok(taken_apart(&nodes, best, input.target))
}

fn in_steps(height_mm: f64) -> i64 {
    (height_mm / SAME_MM).round() as i64
}

/// What makes a stack worse: its error, then its pieces, then its height.
fn badness(height_mm: f64, pieces: u32, target_mm: f64) -> (i64, u32, i64) {
    (in_steps((height_mm - target_mm).abs()), pieces, in_steps(height_mm))
}

fn taken_apart(nodes: &[Node], best: usize, target: Length) -> Shims {
    let mut stack = Vec::new();
    let mut at = best;
    while let Some((below, piece)) = nodes[at].on {
        stack.push(piece);
        at = below;
    }
    stack.sort_by(|one, other| other.total_cmp(one));
    let total = Length::from_mm(stack.iter().sum());
    Shims { stack: stack.into_iter().map(Length::from_mm).collect(), total, error: total - target }
}

/// The thicknesses in mm, the thickest first, each once.
fn check(input: &ShimsInput) -> Result<Vec<f64>, CalcError> {
    TARGET.check("target", input.target)?;
    STOCK.check_entries("stock", &input.stock)?;
    PIECES.check("most", input.most)?;
    for (row, thickness) in input.stock.iter().enumerate() {
        THICKNESS.check(Field::in_row("stock[]", row), *thickness)?;
    }
    let mut thicknesses: Vec<f64> = input.stock.iter().map(|thickness| thickness.mm()).collect();
    thicknesses.sort_by(|one, other| other.total_cmp(one));
    thicknesses.dedup();
    Ok(thicknesses)
}

fn too_many(input: &ShimsInput) -> CalcError {
    CalcError::Contradicts {
        field: "most".into(),
        value: Amount::Count(input.most),
        least: PIECES.least(),
        most: Amount::Count(input.most.saturating_sub(1)),
        because: "a stock of so many unrelated thicknesses",
    }
}
