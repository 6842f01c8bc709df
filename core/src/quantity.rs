//! Physical quantities as types: no bare floating-point number crosses a public boundary.
//!
//! Each wraps an `f64` in one fixed unit, named by its constructor and its getter. Nothing is rounded
//! on the way; what a person typed is a [`crate::reading::Reading`], which is exact.

use serde::{Deserialize, Serialize};
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub};

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $from:ident, $get:ident, $unit:literal) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default, Serialize, Deserialize)]
        #[serde(transparent)]
        pub struct $name(f64);

        impl $name {
            /// Nothing of it.
            pub const ZERO: Self = Self(0.0);

            #[doc = concat!("From a value in ", $unit, ".")]
            pub const fn $from(value: f64) -> Self {
                Self(value)
            }

            #[doc = concat!("The value in ", $unit, ".")]
            pub const fn $get(self) -> f64 {
                self.0
            }

            /// The size without the sign.
            pub fn abs(self) -> Self {
                Self(self.0.abs())
            }

            /// The larger of two.
            pub fn max(self, other: Self) -> Self {
                Self(self.0.max(other.0))
            }

            /// The smaller of two.
            pub fn min(self, other: Self) -> Self {
                Self(self.0.min(other.0))
            }

            /// Whether it is a number that arithmetic can go on with.
            pub fn is_finite(self) -> bool {
                self.0.is_finite()
            }
        }

        impl Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self(self.0 + other.0)
            }
        }

        impl AddAssign for $name {
            fn add_assign(&mut self, other: Self) {
                self.0 += other.0;
            }
        }

        impl Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self(self.0 - other.0)
            }
        }

        impl Neg for $name {
            type Output = Self;
            fn neg(self) -> Self {
                Self(-self.0)
            }
        }

        impl Mul<f64> for $name {
            type Output = Self;
            fn mul(self, factor: f64) -> Self {
                Self(self.0 * factor)
            }
        }

        impl Div<f64> for $name {
            type Output = Self;
            fn div(self, divisor: f64) -> Self {
                Self(self.0 / divisor)
            }
        }

        impl Div for $name {
            type Output = Ratio;
            fn div(self, other: Self) -> Ratio {
                Ratio(self.0 / other.0)
            }
        }
    };
}

quantity! {
    /// A computed length, or a difference of two: a diameter, a tilt, a dial value, a place along the reel.
    Length, from_mm, mm, "millimetres"
}
quantity! {
    /// An angle.
    Angle, from_degrees, degrees, "degrees"
}
quantity! {
    /// A temperature on the Celsius scale.
    Temperature, from_celsius, celsius, "degrees Celsius"
}
quantity! {
    /// The speed of a spindle.
    SpindleSpeed, from_rpm, rpm, "revolutions per minute"
}
quantity! {
    /// The speed of a surface, or of the wheel head along the reel.
    Speed, from_metres_per_second, metres_per_second, "metres per second"
}
quantity! {
    /// A turn of a screw; + raises the frame.
    Turns, from_turns, turns, "whole turns"
}
quantity! {
    /// A quantity without unit.
    Ratio, from_value, value, "one"
}
quantity! {
    /// A span of time inside a plan.
    Minutes, from_minutes, minutes, "minutes"
}
quantity! {
    /// A mass.
    Mass, from_kilograms, kilograms, "kilograms"
}

/// Millimetres in an inch, exact (international inch, 1959).
pub const MM_PER_INCH: f64 = 25.4;
/// Kilograms in a pound avoirdupois, exact (1959).
pub const KG_PER_POUND: f64 = 0.453_592_37;
/// Metres a second in a foot a minute, exact.
pub const METRES_PER_SECOND_PER_FOOT_PER_MINUTE: f64 = 0.3048 / 60.0;

impl Length {
    /// From a value in inches.
    pub const fn from_inches(inches: f64) -> Self {
        Self(inches * MM_PER_INCH)
    }

    /// The value in inches.
    pub const fn inches(self) -> f64 {
        self.0 / MM_PER_INCH
    }

    /// The value in thousandths of an inch.
    pub const fn thou(self) -> f64 {
        self.0 / MM_PER_INCH * 1000.0
    }
}

impl Speed {
    /// From a value in feet per minute, the unit in which wheels are rated in the United States.
    pub const fn from_feet_per_minute(feet_per_minute: f64) -> Self {
        Self(feet_per_minute * METRES_PER_SECOND_PER_FOOT_PER_MINUTE)
    }

    /// The value in feet per minute.
    pub const fn feet_per_minute(self) -> f64 {
        self.0 / METRES_PER_SECOND_PER_FOOT_PER_MINUTE
    }
}

impl Mass {
    /// From a value in pounds.
    pub const fn from_pounds(pounds: f64) -> Self {
        Self(pounds * KG_PER_POUND)
    }

    /// The value in pounds.
    pub const fn pounds(self) -> f64 {
        self.0 / KG_PER_POUND
    }
}

impl Turns {
    /// Sixths of a turn: how many flats of a hexagon pass by.
    pub const fn flats(self) -> f64 {
        self.0 * 6.0
    }
}
