//! Lift: whether one person may lift a unit, after the revised lifting equation of DHHS (NIOSH) 94-110,
//! revised 2021.
//!
//! The equation is published with two sets of constants that are not conversions of each other (51 lb is not 23
//! kg); the one in pounds and inches is used whatever the units of the input, so that both give the same answer.

use super::error::{Amount, CalcError};
use super::limits::{Allowed, lengths};
use crate::quantity::{Angle, Length, Mass, Ratio};
use serde::{Deserialize, Serialize};

/// What is lifted.
pub const LOAD: Allowed<Mass> = Allowed::new(Mass::from_kilograms(0.01), Mass::from_kilograms(1000.0), Amount::Mass);
/// Hands in front of the ankles: beyond 25 in the multiplier is nothing.
pub const HORIZONTAL: Allowed<Length> = lengths(0.0, 635.0);
/// Hands above the floor: beyond 70 in the multiplier is nothing.
pub const VERTICAL: Allowed<Length> = lengths(0.0, 1778.0);
/// Height of the lift: beyond 70 in the multiplier is nothing.
pub const TRAVEL: Allowed<Length> = lengths(0.0, 1778.0);
/// Turn of the body: beyond 135° the multiplier is nothing.
pub const ASYMMETRY: Allowed<Angle> = Allowed::new(Angle::from_degrees(0.0), Angle::from_degrees(135.0), Amount::Angle);
/// Frequency multiplier as read from table 5; the smallest printed that is not nothing is 0.13, and a zero is
/// refused.
pub const FREQUENCY: Allowed<Ratio> = Allowed::new(Ratio::from_value(0.01), Ratio::from_value(1.0), Amount::Ratio);

/// Load constant of the equation in pounds.
pub const LOAD_CONSTANT: Mass = Mass::from_pounds(51.0);
/// Height of the hands from which a fair grip costs nothing, in inches.
const KNUCKLE_HEIGHT_INCHES: f64 = 30.0;
/// Distances below which the equation counts these, in inches.
const NEAREST_INCHES: f64 = 10.0;

/// How well the hands hold it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Coupling {
    /// Handles or cut-outs.
    Good,
    /// A grip of sorts.
    Fair,
    /// Bulky, or sagging.
    Poor,
}

/// A lift.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct LiftInput {
    /// What is lifted.
    pub load: Mass,
    /// Hands in front of the ankles.
    pub horizontal: Length,
    /// Hands above the floor.
    pub vertical: Length,
    /// Height of the lift.
    pub travel: Length,
    /// Turn of the body.
    pub asymmetry: Angle,
    /// From table 5, by lifts a minute, duration and height.
    pub frequency_multiplier: Ratio,
    /// How well the hands hold it.
    pub coupling: Coupling,
}

/// For how many it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum LiftVerdict {
    /// Not above the recommended weight.
    OnePerson,
    /// Above it: a second person or a hoist.
    Assist,
}

/// The equation's answer.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Lift {
    /// Horizontal multiplier.
    pub hm: Ratio,
    /// Vertical multiplier.
    pub vm: Ratio,
    /// Distance multiplier.
    pub dm: Ratio,
    /// Asymmetric multiplier.
    pub am: Ratio,
    /// Frequency multiplier.
    pub fm: Ratio,
    /// Coupling multiplier.
    pub cm: Ratio,
    /// Recommended weight limit.
    pub recommended_weight: Mass,
    /// Load over it.
    pub lifting_index: Ratio,
    /// For how many it is: one person up to an index of 1.
    pub verdict: LiftVerdict,
}

/// RWL = LC·HM·VM·DM·AM·FM·CM, LI = load/RWL, in full precision (the manual's printed answers use multipliers
/// rounded to two places).
///
/// # Errors
/// [`CalcError`] naming the input that is out of range; that is also where a multiplier would be nothing.
pub fn lift(input: &LiftInput) -> Result<Lift, CalcError> {
    LOAD.check("load", input.load)?;
    HORIZONTAL.check("horizontal", input.horizontal)?;
    VERTICAL.check("vertical", input.vertical)?;
    TRAVEL.check("travel", input.travel)?;
    ASYMMETRY.check("asymmetry", input.asymmetry)?;
    FREQUENCY.check("frequency_multiplier", input.frequency_multiplier)?;
    let vertical = input.vertical.inches();
    let hm = NEAREST_INCHES / input.horizontal.inches().max(NEAREST_INCHES);
    let vm = 1.0 - 0.0075 * (vertical - KNUCKLE_HEIGHT_INCHES).abs();
    let dm = 0.82 + 1.8 / input.travel.inches().max(NEAREST_INCHES);
    let am = 1.0 - 0.0032 * input.asymmetry.degrees();
    let cm = match input.coupling {
        Coupling::Good => 1.0,
        Coupling::Fair if vertical >= KNUCKLE_HEIGHT_INCHES => 1.0,
        Coupling::Fair => 0.95,
        Coupling::Poor => 0.90,
    };
    let fm = input.frequency_multiplier.value();
    let recommended_weight = LOAD_CONSTANT * (hm * vm * dm * am * fm * cm);
    let lifting_index = input.load / recommended_weight;
    let verdict = if lifting_index <= Ratio::from_value(1.0) { LiftVerdict::OnePerson } else { LiftVerdict::Assist };
    let [hm, vm, dm, am, fm, cm] = [hm, vm, dm, am, fm, cm].map(Ratio::from_value);
    Ok(Lift { hm, vm, dm, am, fm, cm, recommended_weight, lifting_index, verdict })
}
