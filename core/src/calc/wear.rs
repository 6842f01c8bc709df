//! Wear: how fast a reel wears, and when it will reach its limit.

use super::error::{Amount, CalcError, Field};
use super::limits::{self, Allowed, entries};
use super::line::theil_sen;
use crate::quantity::Length;
use jiff::civil::{Date, date};
use jiff::{Span, ToSpan};
use serde::{Deserialize, Serialize};

/// Day of a record: within the working life of any mower on any bench.
pub const DAY: Allowed<Date> = Allowed::new(date(1950, 1, 1), date(2200, 12, 31), Amount::Day);
/// Diameters on record: two make a slope.
pub const HISTORY: Allowed<u32> = entries(2, 1000);

/// Records from which on an interval is told.
const INTERVAL_FROM: usize = 4;
/// Normal quantile of a two-sided interval of 95 %.
const Z_95: f64 = 1.959_963_984_540_054;
/// Days in a year.
const DAYS_PER_YEAR: f64 = 365.25;
/// A day reached to within this share of it is that day, whatever binary fractions make of it.
const SAME_DAY: f64 = 1e-6;

/// A diameter on record.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Measured {
    /// When.
    pub date: Date,
    /// Which.
    pub diameter: Length,
}

/// How a reel wears.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Wear {
    /// Change of the diameter in a year of 365.25 days; negative when wearing.
    pub per_year: Length,
    /// The day on which the line meets the limit; none when it does not fall.
    pub at_limit: Option<Date>,
    /// The earliest such day, 95 %; none below four records.
    pub earliest: Option<Date>,
    /// The latest; none also when the flattest line does not fall.
    pub latest: Option<Date>,
}

/// The Theil–Sen line through the records: median slope, through the medians of day and diameter; interval of the
/// slope after Sen, J. Am. Stat. Assoc. 63, 1379 (1968). One misread tape does not tip it, as it would a
/// least-squares line.
///
/// # Errors
/// [`CalcError`] naming the record that is out of range, or records that are all of one day.
pub fn wear(history: &[Measured], wear_limit: Length) -> Result<Wear, CalcError> {
    HISTORY.check_entries("history", history)?;
    limits::REEL_DIAMETER.check("wear_limit", wear_limit)?;
    for (row, measured) in history.iter().enumerate() {
        DAY.check(Field::in_row("history[].date", row), measured.date)?;
        limits::REEL_DIAMETER.check(Field::in_row("history[].diameter", row), measured.diameter)?;
    }
    let first = history[0].date;
    let days = |date: Date| f64::from((date - first).get_days());
    let points: Vec<(f64, f64)> =
        history.iter().map(|measured| (days(measured.date), measured.diameter.mm())).collect();
    let last = history.len() - 1;
    let line = theil_sen(&points, Z_95).ok_or_else(|| CalcError::TooClose {
        field: Field::in_row("history[].date", last),
        value: Amount::Day(history[last].date),
        to: Field::in_row("history[].date", 0),
        to_value: Amount::Day(first),
        least_apart: Amount::Days(1),
    })?;
    let meets = |slope: f64| {
        let days = line.x_median + (wear_limit.mm() - line.y_median) / slope;
        if slope < 0.0 { day_after(first, days) } else { None }
    };
    let told = |slope: f64| if history.len() >= INTERVAL_FROM { meets(slope) } else { None };
    let (steepest, flattest) = (told(line.low), told(line.high));
    // Below the limit already, the steeper line met it later.
    let worn_out = line.y_median < wear_limit.mm();
    let (earliest, latest) = if worn_out { (flattest, steepest) } else { (steepest, flattest) };
    let per_year = Length::from_mm(line.slope * DAYS_PER_YEAR);
    Ok(Wear { per_year, at_limit: meets(line.slope), earliest, latest })
}

/// The day that so many days after `first` belongs to; none beyond the calendar.
fn day_after(first: Date, days: f64) -> Option<Date> {
    let whole = (days + SAME_DAY).floor();
    let days: Span = Span::new().try_days(whole as i64).ok()?;
    first.checked_add(days).ok()
}

/// The day after.
pub(crate) fn next_day(day: Date) -> Option<Date> {
    day.checked_add(1.day()).ok()
}
