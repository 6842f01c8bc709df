//! The units of an object: what its numbers mean, and how an amount is written for its reader.

use sparkout_core::calc::error::Amount;
use sparkout_core::quantity::{Angle, Length, Mass, Ratio, Speed, SpindleSpeed, Temperature};

/// The units of one JSON object.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Units {
    /// Inches, mph over the turf, ft/min at a surface, pounds.
    Inch,
    /// Millimetres, km/h, m/s, kilograms.
    Metric,
}

/// Metres a second in a mile an hour, exact (international mile of 1609.344 m).
const METRES_PER_SECOND_PER_MPH: f64 = 1609.344 / 3600.0;
const SECONDS_PER_MINUTE: f64 = 60.0;

impl Units {
    /// The words for them, in the field `units`.
    pub const WORDS: [&'static str; 2] = ["inch", "metric"];

    /// From a word of [`Units::WORDS`].
    pub fn of_word(word: &str) -> Option<Self> {
        match word {
            "inch" => Some(Self::Inch),
            "metric" => Some(Self::Metric),
            _ => None,
        }
    }

    pub fn length(self, length: Length) -> f64 {
        match self {
            Self::Inch => shortest_inches(length),
            Self::Metric => length.mm(),
        }
    }

    pub fn of_length(self, number: f64) -> Length {
        match self {
            Self::Inch => Length::from_inches(number),
            Self::Metric => Length::from_mm(number),
        }
    }

    pub fn mass(self, mass: Mass) -> f64 {
        match self {
            Self::Inch => mass.pounds(),
            Self::Metric => mass.kilograms(),
        }
    }

    pub fn surface_speed(self, speed: Speed) -> f64 {
        match self {
            Self::Inch => speed.feet_per_minute(),
            Self::Metric => speed.metres_per_second(),
        }
    }

    fn ground_speed(self, speed: Speed) -> f64 {
        match self {
            Self::Inch => speed.metres_per_second() / METRES_PER_SECOND_PER_MPH,
            Self::Metric => speed.metres_per_second() * 3.6,
        }
    }

    fn traverse(self, speed: Speed) -> f64 {
        self.length(Length::from_mm(speed.metres_per_second() * 1000.0 * SECONDS_PER_MINUTE))
    }

    /// The number of an amount, and its unit with a space before it where one belongs.
    fn written(self, amount: Amount) -> (f64, &'static str) {
        let inch = self == Self::Inch;
        let named = |inches: &'static str, metric: &'static str| if inch { inches } else { metric };
        match amount {
            Amount::Length(length) => (self.length(length), named(" in", " mm")),
            Amount::Angle(angle) => (angle.degrees(), "°"),
            Amount::SurfaceSpeed(speed) => (self.surface_speed(speed), named(" ft/min", " m/s")),
            Amount::GroundSpeed(speed) => (self.ground_speed(speed), named(" mph", " km/h")),
            Amount::TraverseSpeed(speed) => (self.traverse(speed), named(" in/min", " mm/min")),
            Amount::SpindleSpeed(speed) => (speed.rpm(), " rpm"),
            Amount::Temperature(temperature) => (temperature.celsius(), " °C"),
            Amount::Mass(mass) => (self.mass(mass), named(" lb", " kg")),
            Amount::Ratio(ratio) => (ratio.value(), ""),
            Amount::Count(count) => (f64::from(count), ""),
            Amount::Entries(count) => (f64::from(count), " entries"),
            Amount::Days(days) => (f64::from(days), " d"),
            // A day is no number; `show` writes it before it comes here.
            Amount::Day(_) => (f64::NAN, ""),
            Amount::Hours(hours) => (hours.value(), " h"),
            Amount::SoundLevel(level) => (level.value(), " dBA"),
        }
    }

    /// An amount in words, to nine digits: enough to tell it from its limit, without the noise of the conversion.
    pub fn show(self, amount: Amount) -> String {
        if let Amount::Day(day) = amount {
            return day.to_string();
        }
        let (number, unit) = self.written(amount);
        let short: f64 = format!("{number:.8e}").parse().unwrap_or(number) + 0.0;
        format!("{short}{unit}")
    }
}

/// Several neighbouring numbers of inches are the same length in millimetres, and any of them is exact; the one
/// with the fewest digits is what was typed, so that a length that only passes through comes out as it went in.
fn shortest_inches(length: Length) -> f64 {
    let near = length.inches();
    let (below, above) = (near.next_down(), near.next_up());
    [near, below, above, below.next_down(), above.next_up()]
        .into_iter()
        .filter(|inches| Length::from_inches(*inches) == length)
        .min_by_key(|inches| inches.to_string().len())
        .unwrap_or(near)
}

/// A quantity that a JSON number can stand for.
pub trait Typed: Sized {
    /// From a number in these units; `like` tells the kind where one type is typed in several units. `None` when no
    /// such quantity exists.
    fn typed(number: f64, units: Units, like: Amount) -> Option<Self>;
}

impl Typed for Length {
    fn typed(number: f64, units: Units, _: Amount) -> Option<Self> {
        Some(units.of_length(number))
    }
}

impl Typed for Mass {
    fn typed(number: f64, units: Units, _: Amount) -> Option<Self> {
        Some(match units {
            Units::Inch => Self::from_pounds(number),
            Units::Metric => Self::from_kilograms(number),
        })
    }
}

impl Typed for Angle {
    fn typed(number: f64, _: Units, _: Amount) -> Option<Self> {
        Some(Self::from_degrees(number))
    }
}

impl Typed for Temperature {
    fn typed(number: f64, _: Units, _: Amount) -> Option<Self> {
        Some(Self::from_celsius(number))
    }
}

impl Typed for SpindleSpeed {
    fn typed(number: f64, _: Units, _: Amount) -> Option<Self> {
        Some(Self::from_rpm(number))
    }
}

impl Typed for Ratio {
    fn typed(number: f64, _: Units, _: Amount) -> Option<Self> {
        Some(Self::from_value(number))
    }
}

impl Typed for Speed {
    fn typed(number: f64, units: Units, like: Amount) -> Option<Self> {
        // One of the unit, whatever it is, scales to all of it.
        let one = units.written(match like {
            Amount::GroundSpeed(_) => Amount::GroundSpeed(Self::from_metres_per_second(1.0)),
            Amount::TraverseSpeed(_) => Amount::TraverseSpeed(Self::from_metres_per_second(1.0)),
            Amount::SurfaceSpeed(_)
            | Amount::Length(_)
            | Amount::Angle(_)
            | Amount::SpindleSpeed(_)
            | Amount::Temperature(_)
            | Amount::Mass(_)
            | Amount::Ratio(_)
            | Amount::Count(_)
            | Amount::Entries(_)
            | Amount::Day(_)
            | Amount::Days(_)
            | Amount::Hours(_)
            | Amount::SoundLevel(_) => Amount::SurfaceSpeed(Self::from_metres_per_second(1.0)),
        });
        Some(Self::from_metres_per_second(number / one.0))
    }
}

impl Typed for u32 {
    fn typed(number: f64, _: Units, _: Amount) -> Option<Self> {
        let whole = number.fract() == 0.0 && (0.0..=f64::from(Self::MAX)).contains(&number);
        whole.then_some(number as Self)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn inches_come_out_as_they_went_in() {
        for ten_thousandths in 0..60_000 {
            let inches = f64::from(ten_thousandths) / 10_000.0;
            let units = Units::Inch;
            assert!((units.length(units.of_length(inches)) - inches).abs() == 0.0, "{inches}");
        }
    }
}
