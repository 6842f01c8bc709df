//! What each input may be, with the physical reason. Wide on purpose: these refuse what cannot stand on a bench or
//! was typed in the wrong unit; what is merely unusual is for the shop's own limits.

use super::error::{Amount, CalcError, Field};
use crate::quantity::{Angle, Length, Ratio, Speed, SpindleSpeed, Temperature};

/// An inclusive range of one kind of quantity.
#[derive(Debug, Clone, Copy)]
pub struct Allowed<Q> {
    least: Q,
    most: Q,
    as_amount: fn(Q) -> Amount,
}

impl<Q: Copy + PartialOrd> Allowed<Q> {
    /// From `least` to `most`, told as `as_amount` says.
    pub const fn new(least: Q, most: Q, as_amount: fn(Q) -> Amount) -> Self {
        Self { least, most, as_amount }
    }

    /// The least that is allowed.
    pub fn least(&self) -> Amount {
        (self.as_amount)(self.least)
    }

    /// The most that is allowed.
    pub fn most(&self) -> Amount {
        (self.as_amount)(self.most)
    }

    /// The value itself when it lies within.
    ///
    /// # Errors
    /// [`CalcError::OutOfRange`] when it does not, or is not a number.
    pub fn check(&self, field: impl Into<Field>, value: Q) -> Result<Q, CalcError> {
        if value >= self.least && value <= self.most {
            return Ok(value);
        }
        let value = (self.as_amount)(value);
        Err(CalcError::OutOfRange { field: field.into(), value, least: self.least(), most: self.most() })
    }

    /// The same for a value that may be left out.
    ///
    /// # Errors
    /// As [`Allowed::check`].
    pub fn check_optional(&self, field: impl Into<Field>, value: Option<Q>) -> Result<Option<Q>, CalcError> {
        value.map(|value| self.check(field, value)).transpose()
    }

    /// The refusal of a value that another input makes necessary.
    pub fn required(&self, field: impl Into<Field>, because: &'static str) -> CalcError {
        CalcError::Required { field: field.into(), least: self.least(), most: self.most(), because }
    }
}

/// A range of lengths.
pub(crate) const fn lengths(least_mm: f64, most_mm: f64) -> Allowed<Length> {
    Allowed::new(Length::from_mm(least_mm), Length::from_mm(most_mm), Amount::Length)
}

/// A range of how many entries a list may have.
pub(crate) const fn entries(least: u32, most: u32) -> Allowed<u32> {
    Allowed::new(least, most, Amount::Entries)
}

impl Allowed<u32> {
    /// Refuses a list that is too short or too long.
    ///
    /// # Errors
    /// As [`Allowed::check`].
    pub fn check_entries<T>(&self, field: impl Into<Field>, list: &[T]) -> Result<(), CalcError> {
        self.check(field, u32::try_from(list.len()).unwrap_or(u32::MAX)).map(drop)
    }
}

/// Diameter of a reel, new, worn or at its limit: below an inch nothing cuts, above 400 mm nothing fits the rails.
pub const REEL_DIAMETER: Allowed<Length> = lengths(25.0, 400.0);
/// Diameter of a grinding wheel, from a worn-out cup to the largest on any bench.
pub const WHEEL_DIAMETER: Allowed<Length> = lengths(10.0, 1000.0);
/// Blades of a reel: with fewer than three the tape does not go round, and more leave no gap for grass.
pub const BLADES: Allowed<u32> = Allowed::new(3, 30, Amount::Count);
/// Width of the land: a knife edge at the least; no blade is thicker than half an inch.
pub const LAND: Allowed<Length> = lengths(0.0, 12.7);
/// Limit of the land's width; none would allow a knife edge only.
pub const LAND_LIMIT: Allowed<Length> = lengths(0.001, 12.7);
/// Temperature of reel and tape: a shop in which somebody works, or a unit straight from the sun.
pub const TEMPERATURE: Allowed<Temperature> =
    Allowed::new(Temperature::from_celsius(-40.0), Temperature::from_celsius(80.0), Amount::Temperature);
/// What a dial or an indicator shows: two inches are more than any infeed screw's or plunger's travel in one setup.
pub const DIAL: Allowed<Length> = lengths(-50.8, 50.8);
/// A place along or across the unit, from whatever origin: no unit is longer than four metres.
pub const PLACE: Allowed<Length> = lengths(-4000.0, 4000.0);
/// A distance across the unit or along the reel.
pub const DISTANCE: Allowed<Length> = lengths(1.0, 4000.0);
/// What is still accepted as parallel, square or round: at least what light can show, at most what an eye can see.
pub const TOLERANCE: Allowed<Length> = lengths(0.000_1, 5.0);
/// Smallest step that a person can read off an instrument.
pub const GRADUATION: Allowed<Length> = lengths(0.0, 2.0);
/// Standard deviation of one reading or touch, repeated.
pub const REPEATABILITY: Allowed<Length> = lengths(0.0, 2.0);
/// Touches averaged at one end: more than a hundred wear the blade.
pub const TOUCHES: Allowed<u32> = Allowed::new(1, 100, Amount::Count);
/// Pitch of an adjusting screw, from an instrument thread to a coarse stud.
pub const PITCH: Allowed<Length> = lengths(0.1, 25.4);
/// Throw of an eccentric.
pub const THROW: Allowed<Length> = lengths(0.05, 100.0);
/// Where an eccentric stands, from its lowest lift to its highest; the other half turn gives the same lifts.
pub const ECCENTRIC_ANGLE: Allowed<Angle> =
    Allowed::new(Angle::from_degrees(0.0), Angle::from_degrees(180.0), Amount::Angle);
/// A limit on a roller's error beyond which the frame is treated in another way.
pub const FRAME_LIMIT: Allowed<Length> = lengths(0.0, 25.4);
/// Diameter of a roller.
pub const ROLLER_DIAMETER: Allowed<Length> = lengths(10.0, 400.0);
/// Diameter taken off beyond the smallest end so that it is ground all round.
pub const CLEANUP: Allowed<Length> = lengths(0.0, 10.0);
/// Infeed of one pass, on diameter: a tenth of a micrometre at the least, since no screw moves less.
pub const INFEED: Allowed<Length> = Allowed::new(INFEED_LEAST, Length::from_mm(2.0), Amount::Length);
/// The least infeed that is one.
pub const INFEED_LEAST: Length = Length::from_mm(0.000_1);
/// Passes without infeed.
pub const SPARKOUT: Allowed<u32> = Allowed::new(0, 1000, Amount::Count);
/// Speed of the wheel head along the reel.
pub const TRAVERSE: Allowed<Speed> =
    Allowed::new(Speed::from_metres_per_second(0.000_1), Speed::from_metres_per_second(5.0), Amount::TraverseSpeed);
/// Diameter that one whole grind takes off.
pub const REMOVAL: Allowed<Length> = lengths(0.000_1, 50.0);
/// Diameter taken off, nothing included.
pub const GRIND: Allowed<Length> = lengths(0.0, 50.0);
/// Diameter removed for each infeed: a setup that takes a twentieth only pushes; none takes twice what is fed.
pub const YIELD: Allowed<Ratio> = Allowed::new(Ratio::from_value(0.05), Ratio::from_value(2.0), Amount::Ratio);
/// Angle of the relief face below the tangent.
pub const RELIEF_ANGLE: Allowed<Angle> =
    Allowed::new(Angle::from_degrees(1.0), Angle::from_degrees(80.0), Amount::Angle);
/// Speed of a spindle that is turning at all.
pub const SPINDLE: Allowed<SpindleSpeed> =
    Allowed::new(SpindleSpeed::from_rpm(1.0), SpindleSpeed::from_rpm(60_000.0), Amount::SpindleSpeed);
/// Runout of a reel, the whole travel of an indicator.
pub const RUNOUT: Allowed<Length> = lengths(0.0, 25.4);
/// Tilt between the touch stations.
pub const TILT: Allowed<Length> = lengths(-50.8, 50.8);
/// Expanded uncertainty of a tilt.
pub const TILT_U95: Allowed<Length> = lengths(0.0, 50.8);
/// What a reel can lose at the least between new and worn out; less would be within one reading.
pub const LEAST_WEAR: Length = Length::from_mm(0.01);
/// How far apart two stations must lie before a difference between them is a slope.
pub const LEAST_APART: Length = Length::from_mm(1.0);

/// How far `other` lies from `zero`, signed.
///
/// # Errors
/// [`CalcError::TooClose`] below [`LEAST_APART`].
pub fn span(zero: (&'static str, Length), other: (&'static str, Length)) -> Result<Length, CalcError> {
    let span = other.1 - zero.1;
    if span.abs() < LEAST_APART {
        return Err(CalcError::TooClose {
            field: other.0.into(),
            value: Amount::Length(other.1),
            to: zero.0.into(),
            to_value: Amount::Length(zero.1),
            least_apart: Amount::Length(LEAST_APART),
        });
    }
    Ok(span)
}

/// The least that must remain of 1 − x/wheelbase for the front adjusters to lift what stands at x by it.
const LEVERAGE_LEAST: f64 = 0.01;

/// 1 − x/wheelbase: how much of the front adjusters' lift arrives at `x`, behind them, when the unit turns about
/// the rear support.
///
/// # Errors
/// [`CalcError::OutOfRange`], and [`CalcError::TooClose`] when it stands over the rear support, where they lift
/// nothing.
pub fn lever(x: (&'static str, Length), wheelbase: Length) -> Result<Ratio, CalcError> {
    DISTANCE.check("wheelbase", wheelbase)?;
    PLACE.check(x.0, x.1)?;
    let lever = 1.0 - (x.1 / wheelbase).value();
    if lever.abs() < LEVERAGE_LEAST {
        return Err(CalcError::TooClose {
            field: x.0.into(),
            value: Amount::Length(x.1),
            to: "wheelbase".into(),
            to_value: Amount::Length(wheelbase),
            least_apart: Amount::Length(wheelbase * LEVERAGE_LEAST),
        });
    }
    Ok(Ratio::from_value(lever))
}
