//! Knife: where the bedknife's edge stands to the reel, and where a pivoting bed bar takes it as the reel wears.
//!
//! Side view, x to the rear, z up from the ground line through the roller bottoms.

use super::clip::HEIGHT_OF_CUT;
use super::error::{Amount, CalcError};
use super::limits::{self, Allowed, lengths};
use crate::quantity::{Angle, Length};
use serde::{Deserialize, Serialize};

/// Height of the reel's axis above the ground line.
pub const AXIS_HEIGHT: Allowed<Length> = lengths(5.0, 500.0);
/// Gap between blade and edge: contact to a tenth of an inch.
pub const GAP: Allowed<Length> = lengths(0.0, 2.54);

/// The bed bar's pivot and the reel's axis in one system of x.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Pivot {
    /// The pivot, to the rear.
    pub x: Length,
    /// The pivot above the ground line.
    pub z: Length,
    /// The reel's axis, to the rear.
    pub reel_x: Length,
}

/// A bedknife under a reel.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct KnifeInput {
    /// Diameter of the reel when the height of cut was set.
    pub reel_diameter: Length,
    /// The reel's axis above the ground line.
    pub axis_height: Length,
    /// The edge above the ground line.
    pub height_of_cut: Length,
    /// Gap between blade and edge; nothing when not given.
    pub gap: Option<Length>,
    /// The bed bar's pivot.
    pub pivot: Option<Pivot>,
    /// Diameter of the worn reel; with a pivot it tells where the edge goes.
    pub worn_diameter: Option<Length>,
}

/// The edge after wear.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct WornKnife {
    /// The edge above the ground line.
    pub height_of_cut: Length,
    /// The edge behind the reel's axis.
    pub behind_centre: Length,
    /// How far the frame must come down for the old height of cut.
    pub roller_move: Length,
}

/// Where the edge stands.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Knife {
    /// The edge behind the reel's axis.
    pub behind_centre: Length,
    /// Angle of the contact behind the lowest point of the reel.
    pub contact_angle: Angle,
    /// After wear, with a pivot and a worn diameter.
    pub worn: Option<WornKnife>,
}

/// Behind-centre distance, contact angle, and both after wear.
///
/// # Errors
/// [`CalcError`] naming the input that is out of range, a reel that does not reach the edge, or a worn one that the
/// bed bar does not reach.
pub fn knife(input: &KnifeInput) -> Result<Knife, CalcError> {
    let gap = check(input)?;
    let below = input.axis_height - input.height_of_cut;
    let reach = input.reel_diameter / 2.0 + gap;
    if below.abs() > reach {
        return Err(CalcError::Contradicts {
            field: "axis_height".into(),
            value: Amount::Length(input.axis_height),
            least: Amount::Length(input.height_of_cut - reach),
            most: Amount::Length(input.height_of_cut + reach),
            because: "a reel of this diameter over this height of cut",
        });
    }
    let behind = ((reach - below).mm() * (reach + below).mm()).sqrt();
    let worn = match (input.pivot, input.worn_diameter) {
        (Some(pivot), Some(worn)) => Some(swing(input, pivot, Length::from_mm(behind), worn, gap)?),
        (Some(_) | None, Some(_) | None) => None,
    };
    let contact_angle = Angle::from_degrees(behind.atan2(below.mm()).to_degrees());
    Ok(Knife { behind_centre: Length::from_mm(behind), contact_angle, worn })
}

fn check(input: &KnifeInput) -> Result<Length, CalcError> {
    limits::REEL_DIAMETER.check("reel_diameter", input.reel_diameter)?;
    AXIS_HEIGHT.check("axis_height", input.axis_height)?;
    HEIGHT_OF_CUT.check("height_of_cut", input.height_of_cut)?;
    if let Some(pivot) = input.pivot {
        limits::PLACE.check("pivot.x", pivot.x)?;
        limits::PLACE.check("pivot.z", pivot.z)?;
        limits::PLACE.check("pivot.reel_x", pivot.reel_x)?;
    }
    if let Some(worn) = input.worn_diameter {
        limits::REEL_DIAMETER.check("worn_diameter", worn)?;
        if worn > input.reel_diameter {
            return Err(worn_contradicts(worn, limits::REEL_DIAMETER.least(), input.reel_diameter, "reel_diameter"));
        }
    }
    Ok(GAP.check_optional("gap", input.gap)?.unwrap_or(Length::ZERO))
}

fn worn_contradicts(worn: Length, least: Amount, most: Length, because: &'static str) -> CalcError {
    let value = Amount::Length(worn);
    CalcError::Contradicts { field: "worn_diameter".into(), value, least, most: Amount::Length(most), because }
}

/// The edge swings about the pivot until it meets the worn reel: where two circles cross, on the side of the old
/// edge.
///
/// Seen from the reel's axis, with the pivot at distance d: along = (d² + r² − ρ²)/2d, across = √(r² − along²).
fn swing(input: &KnifeInput, pivot: Pivot, behind: Length, worn: Length, gap: Length) -> Result<WornKnife, CalcError> {
    let (old_x, old_z) = (behind.mm(), (input.height_of_cut - input.axis_height).mm());
    let (pivot_x, pivot_z) = ((pivot.x - pivot.reel_x).mm(), (pivot.z - input.axis_height).mm());
    let apart = pivot_x.hypot(pivot_z);
    let arm = (pivot_x - old_x).hypot(pivot_z - old_z);
    if apart < limits::LEAST_APART.mm() {
        return Err(CalcError::TooClose {
            field: "pivot.x".into(),
            value: Amount::Length(pivot.x),
            to: "pivot.reel_x".into(),
            to_value: Amount::Length(pivot.reel_x),
            least_apart: Amount::Length(limits::LEAST_APART),
        });
    }
    let reach = (worn / 2.0 + gap).mm();
    let along = (apart * apart + (reach - arm) * (reach + arm)) / (2.0 * apart);
    let under_root = (reach - along) * (reach + along);
    if under_root < 0.0 {
        let least = Amount::Length((Length::from_mm((apart - arm).abs()) - gap) * 2.0);
        return Err(worn_contradicts(
            worn,
            least,
            input.reel_diameter,
            "the bed bar, which swings no nearer to the axis,",
        ));
    }
    let across = under_root.sqrt();
    let (unit_x, unit_z) = (pivot_x / apart, pivot_z / apart);
    let candidate = |side: f64| (along * unit_x - side * across * unit_z, along * unit_z + side * across * unit_x);
    let distance = |(x, z): (f64, f64)| (x - old_x).hypot(z - old_z);
    let (one, other) = (candidate(1.0), candidate(-1.0));
    let (x, z) = if distance(one) <= distance(other) { one } else { other };
    let height_of_cut = input.axis_height + Length::from_mm(z);
    Ok(WornKnife { height_of_cut, behind_centre: Length::from_mm(x), roller_move: height_of_cut - input.height_of_cut })
}
