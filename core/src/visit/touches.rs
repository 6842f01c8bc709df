//! What several touches at an end say about the repeatability of a touch.
//!
//! A reading of the dial at the other end carries the touch there and the one at which it was zeroed, so the spread of
//! readings is √2 times that of a touch. Rounds differ by what was turned, so only the spread within each counts; it is
//! pooled over the rounds of a visit (JCGM 100:2008, 4.2.4).

use crate::calc::uncertainty::of_graduation;
use crate::quantity::Length;
use crate::reading::Reading;

/// Below so many degrees of freedom the assumed repeatability is the better guess: a standard deviation from five is
/// itself only known to a third (JCGM 100:2008, Table E.1).
pub const FREEDOM_LEAST: u32 = 5;

/// A repeatability that touches have earned.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PooledTouch {
    /// Standard deviation of one touch, in dial units, as found.
    pub found: Length,
    /// The same as it is put into the uncertainty: never below what the graduation hides, and widened for its degrees of
    /// freedom so that U = 2·u covers as much as Student's factor would.
    pub used: Length,
    /// Degrees of freedom.
    pub freedom: u32,
}

/// Student's factors for 95.45 % (JCGM 100:2008, Table G.2), so that infinitely many degrees of freedom give 2.
const STUDENT: [(u32, f64); 20] = [
    (5, 2.65),
    (6, 2.52),
    (7, 2.43),
    (8, 2.37),
    (9, 2.32),
    (10, 2.28),
    (11, 2.25),
    (12, 2.23),
    (13, 2.21),
    (14, 2.20),
    (15, 2.18),
    (16, 2.17),
    (17, 2.16),
    (18, 2.15),
    (19, 2.14),
    (20, 2.13),
    (25, 2.11),
    (30, 2.09),
    (40, 2.06),
    (50, 2.05),
];

/// The factor for the nearest tabled number of degrees of freedom that is not above the given one, which errs to the
/// wide side.
fn student(freedom: u32) -> f64 {
    STUDENT.iter().rev().find(|(tabled, _)| *tabled <= freedom).map_or(STUDENT[0].1, |(_, factor)| *factor)
}

/// Pools the spread within rounds of readings, once there are [`FREEDOM_LEAST`] degrees of freedom. `graduation` is the
/// dial's: readings that all fall on one mark do not prove a spread of nothing.
pub fn pooled_touch<'a>(rounds: impl Iterator<Item = &'a [Reading]>, graduation: Length) -> Option<PooledTouch> {
    pooled(rounds, graduation, 2.0)
}

/// The same for readings that stand for themselves, as those of a gauge: each carries one scatter, not two.
pub fn pooled_readings<'a>(series: impl Iterator<Item = &'a [Reading]>, graduation: Length) -> Option<PooledTouch> {
    pooled(series, graduation, 1.0)
}

/// `carried` is how often the variance of a single act enters that of a reading.
fn pooled<'a>(rounds: impl Iterator<Item = &'a [Reading]>, graduation: Length, carried: f64) -> Option<PooledTouch> {
    let (mut squares, mut freedom) = (0.0, 0_u32);
    for readings in rounds.filter(|readings| readings.len() > 1) {
        let count = readings.len() as f64;
        let mean = readings.iter().map(|reading| reading.length().mm()).sum::<f64>() / count;
        squares += readings.iter().map(|reading| (reading.length().mm() - mean).powi(2)).sum::<f64>();
        freedom += readings.len() as u32 - 1;
    }
    if freedom < FREEDOM_LEAST {
        return None;
    }
    let found = Length::from_mm((squares / f64::from(freedom) / carried).sqrt());
    let used = found.max(of_graduation(graduation)) * (student(freedom) / 2.0);
    Some(PooledTouch { found, used, freedom })
}
