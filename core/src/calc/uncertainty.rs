//! Standard uncertainties and the guarded decision, shared by Front, Rear and Prove.
//!
//! Source of the propagation: JCGM 100:2008, 4.3.7 (a graduation is a rectangular distribution) and 5.1.2. Source
//! of the decision: JCGM 106:2012, 8.3.2, guard band equal to the expanded uncertainty.

use crate::quantity::Length;

/// Coverage factor for about 95 % (JCGM 100:2008, 6.3.3).
pub(crate) const COVERAGE: f64 = 2.0;

/// Below this two lengths count as equal in a comparison: a picometre, which no instrument shows and which is far
/// above what binary fractions add to a reading, so that a tilt of exactly the tolerance is within it.
const SAME: Length = Length::from_mm(1e-9);

/// Whether `value` is not above `limit`.
pub fn at_most(value: Length, limit: Length) -> bool {
    value <= limit + SAME
}

/// Standard uncertainty of a reading to the nearest graduation: q/(2√3).
pub fn of_graduation(graduation: Length) -> Length {
    graduation / (2.0 * 3.0_f64.sqrt())
}

/// Root of the sum of squares of independent contributions.
pub fn combined(parts: &[Length]) -> Length {
    Length::from_mm(parts.iter().map(|part| part.mm() * part.mm()).sum::<f64>().sqrt())
}

/// Standard uncertainty of the difference of two readings of one instrument.
pub fn of_difference(graduation: Length, repeatability: Length) -> Length {
    let reading = of_graduation(graduation);
    combined(&[reading, reading, repeatability, repeatability])
}

/// What a measurement allows one to say about a tolerance.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Decision {
    /// Within it even if the measurement is off by its expanded uncertainty.
    Proven,
    /// Beyond it as measured.
    Beyond,
    /// Within it as measured, but not proven.
    Unproven,
}

/// Decides on the size of `error` against `tolerance` with the expanded uncertainty as guard band.
pub fn decide(error: Length, expanded: Length, tolerance: Length) -> Decision {
    if at_most(error.abs() + expanded, tolerance) {
        Decision::Proven
    } else if at_most(error.abs(), tolerance) {
        Decision::Unproven
    } else {
        Decision::Beyond
    }
}
