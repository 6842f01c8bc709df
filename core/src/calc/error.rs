//! Why a calculation was refused: always with the field, its value and what is allowed, as quantities, so that the
//! screen and the command line can say it in the reader's own units.

use crate::quantity::{Angle, Length, Mass, Ratio, SpindleSpeed, Temperature};
use std::fmt;
use thiserror::Error;

/// An input by its name in the handbook, with the place in a list where it stands in one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Field {
    /// The path, such as `touch.other_y` or `gauge[].height`.
    pub path: &'static str,
    /// Which element of the list is meant, from 0.
    pub row: Option<usize>,
}

impl Field {
    /// A field of the `row`-th element of a list; `path` holds `[]` where the number goes.
    pub const fn in_row(path: &'static str, row: usize) -> Self {
        Self { path, row: Some(row) }
    }
}

impl From<&'static str> for Field {
    fn from(path: &'static str) -> Self {
        Self { path, row: None }
    }
}

impl fmt::Display for Field {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match (self.row, self.path.split_once("[]")) {
            (Some(row), Some((list, rest))) => write!(out, "{list}[{row}]{rest}"),
            (Some(_), None) | (None, _) => out.write_str(self.path),
        }
    }
}

/// A quantity of any kind. Three kinds of speed are kept apart because people read them in different units.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Amount {
    /// A length.
    Length(Length),
    /// An angle.
    Angle(Angle),
    /// The speed of a grinding wheel's or a reel's surface (ft/min or m/s).
    SurfaceSpeed(crate::quantity::Speed),
    /// The speed of a mower over the turf (mph or km/h).
    GroundSpeed(crate::quantity::Speed),
    /// The speed of the wheel head along the reel (length per minute).
    TraverseSpeed(crate::quantity::Speed),
    /// The speed of a spindle.
    SpindleSpeed(SpindleSpeed),
    /// A temperature.
    Temperature(Temperature),
    /// A mass.
    Mass(Mass),
    /// Something without unit.
    Ratio(Ratio),
    /// A whole number.
    Count(u32),
    /// How many entries a list has.
    Entries(u32),
    /// A day of the calendar.
    Day(jiff::civil::Date),
    /// A number of days.
    Days(u32),
    /// A span of hours, of which a ratio holds the number.
    Hours(Ratio),
    /// A sound level in dBA, of which a ratio holds the number.
    SoundLevel(Ratio),
}

impl fmt::Display for Amount {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Length(length) => write!(out, "{} mm", length.mm()),
            Self::Angle(angle) => write!(out, "{}°", angle.degrees()),
            Self::SurfaceSpeed(speed) => write!(out, "{} m/s", speed.metres_per_second()),
            Self::GroundSpeed(speed) => write!(out, "{} km/h", speed.metres_per_second() * 3.6),
            Self::TraverseSpeed(speed) => write!(out, "{} mm/min", speed.metres_per_second() * 60_000.0),
            Self::SpindleSpeed(speed) => write!(out, "{} rpm", speed.rpm()),
            Self::Temperature(temperature) => write!(out, "{} °C", temperature.celsius()),
            Self::Mass(mass) => write!(out, "{} kg", mass.kilograms()),
            Self::Ratio(ratio) => write!(out, "{}", ratio.value()),
            Self::Count(count) => write!(out, "{count}"),
            Self::Entries(count) => write!(out, "{count} entries"),
            Self::Day(day) => write!(out, "{day}"),
            Self::Days(days) => write!(out, "{days} d"),
            Self::Hours(hours) => write!(out, "{} h", hours.value()),
            Self::SoundLevel(level) => write!(out, "{} dBA", level.value()),
        }
    }
}

/// Why a calculation was refused.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum CalcError {
    /// No such thing exists at this bench, or it is not a number at all.
    #[error("{}", self.describe(&|amount| amount.to_string()))]
    OutOfRange {
        /// The input.
        field: Field,
        /// What it was.
        value: Amount,
        /// The least that is allowed.
        least: Amount,
        /// The most that is allowed.
        most: Amount,
    },
    /// Possible by itself, but not together with the other inputs.
    #[error("{}", self.describe(&|amount| amount.to_string()))]
    Contradicts {
        /// The input.
        field: Field,
        /// What it was.
        value: Amount,
        /// The least that the other inputs leave.
        least: Amount,
        /// The most that the other inputs leave.
        most: Amount,
        /// What it contradicts.
        because: &'static str,
    },
    /// Two places that must lie apart do not, so that nothing can be computed from them.
    #[error("{}", self.describe(&|amount| amount.to_string()))]
    TooClose {
        /// The input.
        field: Field,
        /// What it was.
        value: Amount,
        /// The input that it lies too close to.
        to: Field,
        /// What that was.
        to_value: Amount,
        /// How far apart they must be.
        least_apart: Amount,
    },
    /// Another input makes this one necessary.
    #[error("{}", self.describe(&|amount| amount.to_string()))]
    Required {
        /// The input.
        field: Field,
        /// The least that is allowed.
        least: Amount,
        /// The most that is allowed.
        most: Amount,
        /// Why it is needed.
        because: &'static str,
    },
    /// The height wanted is beyond what the eccentric can still give.
    #[error("{}", self.describe(&|amount| amount.to_string()))]
    OutOfReach {
        /// The move that asked for the height.
        field: Field,
        /// The height wanted; + raises the frame.
        value: Amount,
        /// The lowest that the eccentric still reaches from where it stands.
        least: Amount,
        /// The highest.
        most: Amount,
    },
    /// An equation's root was not found within the stated steps; no input within the allowed ranges is known to do
    /// so.
    #[error("{}", self.describe(&|amount| amount.to_string()))]
    NotSolved {
        /// The input that the equation was solved for.
        field: Field,
        /// What it was.
        value: Amount,
        /// How many steps were taken.
        steps: u32,
    },
}

impl CalcError {
    /// The input that was refused.
    pub const fn field(&self) -> Field {
        match self {
            Self::OutOfRange { field, .. }
            | Self::Contradicts { field, .. }
            | Self::TooClose { field, .. }
            | Self::Required { field, .. }
            | Self::OutOfReach { field, .. }
            | Self::NotSolved { field, .. } => *field,
        }
    }

    /// One plain sentence in which `show` writes each amount, in whatever units its reader uses.
    pub fn describe(&self, show: &dyn Fn(Amount) -> String) -> String {
        match self {
            Self::OutOfRange { field, value, least, most } => {
                format!("{field} is {}; it must be from {} to {}", show(*value), show(*least), show(*most))
            }
            Self::Contradicts { field, value, least, most, because } => {
                let (value, least, most) = (show(*value), show(*least), show(*most));
                format!("{field} is {value}; {because} leaves it from {least} to {most}")
            }
            Self::TooClose { field, value, to, to_value, least_apart } => {
                let (value, to_value, apart) = (show(*value), show(*to_value), show(*least_apart));
                format!("{field} is {value} and {to} is {to_value}; they must be at least {apart} apart")
            }
            Self::Required { field, least, most, because } => {
                format!("{field} is missing: {because}; it must be from {} to {}", show(*least), show(*most))
            }
            Self::OutOfReach { field, value, least, most } => {
                let (value, least, most) = (show(*value), show(*least), show(*most));
                format!("{field} wants {value}; the eccentric reaches from {least} to {most}")
            }
            Self::NotSolved { field, value, steps } => {
                format!("{field} is {}; no answer was found in {steps} steps", show(*value))
            }
        }
    }
}
