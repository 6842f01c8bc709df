//! How far a wheel may wear.

use crate::quantity::{Length, Speed, SpindleSpeed};
use std::f64::consts::PI;

/// What a worn wheel is measured by, from the configuration.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WheelRules {
    /// Below this surface speed it no longer cuts as it should.
    pub least_speed: Speed,
    /// Below this it is not used whatever its speed: flanges and guard no longer fit it.
    pub least_diameter: Length,
}

/// What sets the smallest useful diameter.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SmallestBy {
    /// The surface would be too slow.
    Speed,
    /// Flanges and guard.
    Flanges,
}

/// The smallest useful diameter at a spindle's speed: the greater of the shop's own and v/(π·N), at which the surface
/// still runs at the least useful speed. A spindle that does not turn leaves only the shop's own.
pub fn smallest_useful(spindle: SpindleSpeed, rules: &WheelRules) -> (Length, SmallestBy) {
    let turns_per_second = spindle.rpm() / 60.0;
    let by_speed = Length::from_mm(rules.least_speed.metres_per_second() / (PI * turns_per_second) * 1000.0);
    if by_speed.is_finite() && by_speed > rules.least_diameter {
        (by_speed, SmallestBy::Speed)
    } else {
        (rules.least_diameter, SmallestBy::Flanges)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calc::wheel::surface_speed;

    fn rules(metres_per_second: f64, inches: f64) -> WheelRules {
        WheelRules {
            least_speed: Speed::from_metres_per_second(metres_per_second),
            least_diameter: Length::from_inches(inches),
        }
    }

    #[test]
    fn at_the_smallest_diameter_the_surface_runs_at_the_least_speed() {
        let spindle = SpindleSpeed::from_rpm(3_450.0);
        let (smallest, by) = smallest_useful(spindle, &rules(15.0, 3.0));
        assert_eq!(by, SmallestBy::Speed);
        // The definition itself: v = π·D·N.
        assert!((surface_speed(smallest, spindle).metres_per_second() - 15.0).abs() < 1e-9);
    }

    #[test]
    fn flanges_come_first_on_a_fast_spindle_and_on_one_that_stands() {
        let of = |rpm| smallest_useful(SpindleSpeed::from_rpm(rpm), &rules(15.0, 3.5));
        assert_eq!(of(3_450.0), (Length::from_inches(3.5), SmallestBy::Flanges));
        assert_eq!(of(0.0), (Length::from_inches(3.5), SmallestBy::Flanges));
    }
}
