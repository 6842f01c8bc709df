//! Dose: a shift's noise after 29 CFR 1910.95, Appendix A.

use super::error::{Amount, CalcError, Field};
use super::limits::{Allowed, entries};
use crate::quantity::Ratio;
use serde::{Deserialize, Serialize};

/// Sound level in dBA, the number held by a ratio: silence to the peak that no ear may meet (29 CFR 1910.95(b),
/// impact).
pub const LEVEL: Allowed<Ratio> = Allowed::new(Ratio::from_value(0.0), Ratio::from_value(140.0), Amount::SoundLevel);
/// Hours, the number held by a ratio: up to a week, for who averages over one.
pub const HOURS: Allowed<Ratio> = Allowed::new(Ratio::from_value(0.0), Ratio::from_value(168.0), Amount::Hours);
/// Segments of a shift.
pub const SEGMENTS: Allowed<u32> = entries(0, 1000);

/// Level below which nothing counts (29 CFR 1910.95(d)(2)(i), from memory).
const COUNTS_FROM_DBA: f64 = 80.0;
/// Level that may last eight hours, and the step that halves the time (29 CFR 1910.95, Appendix A).
const CRITERION_DBA: f64 = 90.0;
const CRITERION_HOURS: f64 = 8.0;
const EXCHANGE_DB: f64 = 5.0;
/// A dose this near to a mark, relatively, counts as on it: 3 × 33⅓ % is 100 %, whatever binary fractions say.
const SAME: f64 = 1e-9;

/// A stretch of even noise.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Segment {
    /// Sound level in dBA.
    pub level: Ratio,
    /// Hours that it lasts.
    pub hours: Ratio,
}

/// A shift's noise.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Dose {
    /// Dose in percent of what is allowed.
    pub dose_percent: Ratio,
    /// The level in dBA that gives the same dose in eight hours; none when the dose is nothing.
    pub twa: Option<Ratio>,
    /// From 50 %: hearing conservation is required.
    pub action_level: bool,
    /// Above 100 %.
    pub over_limit: bool,
}

/// Hours for which a level in dBA may last: 8 / 2^((L − 90)/5).
pub fn allowed_hours(level: Ratio) -> Ratio {
    Ratio::from_value(CRITERION_HOURS / ((level.value() - CRITERION_DBA) / EXCHANGE_DB).exp2())
}

/// D = 100·Σ(C/T); TWA = 5·log2(D/100) + 90, of which the standard prints the factor as 16.61·log10.
///
/// # Errors
/// [`CalcError`] naming the segment that is out of range.
pub fn dose(segments: &[Segment]) -> Result<Dose, CalcError> {
    SEGMENTS.check_entries("segments", segments)?;
    let mut dose = 0.0;
    for (row, segment) in segments.iter().enumerate() {
        LEVEL.check(Field::in_row("segments[].level", row), segment.level)?;
        HOURS.check(Field::in_row("segments[].hours", row), segment.hours)?;
        if segment.level.value() >= COUNTS_FROM_DBA {
            dose += 100.0 * (segment.hours / allowed_hours(segment.level)).value();
        }
    }
    let twa = (dose > 0.0).then(|| Ratio::from_value(EXCHANGE_DB * (dose / 100.0).log2() + CRITERION_DBA));
    Ok(Dose {
        dose_percent: Ratio::from_value(dose),
        twa,
        action_level: dose >= 50.0 * (1.0 - SAME),
        over_limit: dose > 100.0 * (1.0 + SAME),
    })
}
