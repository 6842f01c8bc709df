//! Height: both ends of the height of cut put right in one go.

use super::adjuster::{AdjusterKind, Handwork};
use super::clip::HEIGHT_OF_CUT;
use super::error::CalcError;
use super::limits;
use crate::quantity::Length;
use serde::{Deserialize, Serialize};

/// A reading of the height-of-cut gauge.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Gauge {
    /// Where, along the reel.
    pub y: Length,
    /// Height of the edge there.
    pub height: Length,
}

/// Where the front adjusters stand, along the reel.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Adjusters {
    /// Adjuster a.
    pub a_y: Length,
    /// Adjuster b.
    pub b_y: Length,
}

/// A unit on a plate, its rear roller a fixed line. All x from the front adjusters, + to the rear.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct HeightInput {
    /// Height of cut wanted.
    pub wanted: Length,
    /// Two readings.
    pub gauge: [Gauge; 2],
    /// The bedknife's edge behind the front adjusters.
    pub edge_x: Length,
    /// The rear roller behind them.
    pub wheelbase: Length,
    /// Where they stand.
    pub adjuster: Adjusters,
    /// How they lift.
    pub adjuster_kind: Option<AdjusterKind>,
}

/// What to do at both adjusters.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Height {
    /// Height at adjuster a; + raises the frame there.
    pub move_a: Length,
    /// Height at adjuster b.
    pub move_b: Length,
    /// What the hand does at a.
    pub hand_a: Handwork,
    /// What the hand does at b.
    pub hand_b: Handwork,
}

/// Moves for both adjusters: the edge at (x_e, y) rises by (1 − x_e/L)·(a + (b − a)(y − y_A)/(y_B − y_A)), so the
/// deficit over that lever is taken linearly to y_A and y_B. An eccentric out of reach leaves its degrees out.
///
/// # Errors
/// [`CalcError`] naming the input that is out of range, or geometry from which nothing can be computed.
pub fn height(input: &HeightInput) -> Result<Height, CalcError> {
    HEIGHT_OF_CUT.check("wanted", input.wanted)?;
    let [one, two] = input.gauge;
    limits::PLACE.check("gauge[0].y", one.y)?;
    limits::PLACE.check("gauge[1].y", two.y)?;
    HEIGHT_OF_CUT.check("gauge[0].height", one.height)?;
    HEIGHT_OF_CUT.check("gauge[1].height", two.height)?;
    limits::PLACE.check("adjuster.a_y", input.adjuster.a_y)?;
    limits::PLACE.check("adjuster.b_y", input.adjuster.b_y)?;
    limits::span(("adjuster.a_y", input.adjuster.a_y), ("adjuster.b_y", input.adjuster.b_y))?;
    let span = limits::span(("gauge[0].y", one.y), ("gauge[1].y", two.y))?;
    let lever = limits::lever(("edge_x", input.edge_x), input.wheelbase)?.value();
    input.adjuster_kind.map(AdjusterKind::check).transpose()?;
    let slope = ((one.height - two.height) / span).value();
    let move_at = |y: Length| (input.wanted - one.height + (y - one.y) * slope) / lever;
    let (move_a, move_b) = (move_at(input.adjuster.a_y), move_at(input.adjuster.b_y));
    let hand = |height| input.adjuster_kind.map_or_else(Handwork::default, |kind| kind.handwork(height));
    Ok(Height { move_a, move_b, hand_a: hand(move_a), hand_b: hand(move_b) })
}

/// As [`height`], but refuses when an eccentric cannot reach a height.
///
/// # Errors
/// As [`height`], and [`CalcError::OutOfReach`].
pub fn height_strict(input: &HeightInput) -> Result<Height, CalcError> {
    let height = height(input)?;
    height.hand_a.require("move_a", height.move_a)?;
    height.hand_b.require("move_b", height.move_b)?;
    Ok(height)
}
