//! Due: when a unit comes to the bench next, and why.

use super::error::{Amount, CalcError, Field};
use super::limits::{self, Allowed};
use super::uncertainty::at_most;
use super::wear::{DAY, next_day};
use crate::quantity::{Length, Ratio};
use jiff::civil::Date;
use serde::{Deserialize, Serialize};

/// Open-season days between grinds.
pub const INTERVAL: Allowed<u32> = Allowed::new(1, 3660, Amount::Count);
/// Hours run.
pub const RUN: Allowed<Ratio> = Allowed::new(Ratio::from_value(0.0), Ratio::from_value(1e6), Amount::Hours);
/// Hours between grinds.
pub const RUN_INTERVAL: Allowed<Ratio> = Allowed::new(Ratio::from_value(0.1), Ratio::from_value(1e5), Amount::Hours);

/// A day of every year, 29 February included.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct MonthDay {
    /// 1–12.
    pub month: i8,
    /// 1–31.
    pub day: i8,
}

/// The days of the year on which the course is open, both included; past the turn of the year when `to` lies before
/// `from`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Season {
    /// The first.
    pub from: MonthDay,
    /// The last.
    pub to: MonthDay,
}

/// What is known of a unit.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct DueInput {
    /// When it was ground.
    pub last_grind: Option<Date>,
    /// Open-season days until the next grind.
    pub interval_days: Option<u32>,
    /// The open season; all the year when not given.
    pub season: Option<Season>,
    /// Hours run since.
    pub hours: Option<Ratio>,
    /// Hours until the next grind.
    pub hours_interval: Option<Ratio>,
    /// Width of the land.
    pub land: Option<Length>,
    /// Width at which relief is due.
    pub land_limit: Option<Length>,
    /// Diameter.
    pub diameter: Option<Length>,
    /// Diameter at which the reel is replaced.
    pub wear_limit: Option<Length>,
    /// Diameter that a grind usually takes.
    pub usual_removal: Option<Length>,
    /// The day on which it is asked.
    pub today: Date,
}

/// Why it is due.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum DueReason {
    /// The reel is at its wear limit, or the next grind would take it below: replace it.
    WearLimit,
    /// The land is wider than its limit: relief.
    Land,
    /// It has run its hours.
    Hours,
    /// Its days are over, or will be.
    Interval,
    /// Nothing known makes it due.
    NotDue,
}

/// When, and why.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Due {
    /// The day; today for what is reached already and whose day is not known.
    pub due: Option<Date>,
    /// Why.
    pub reason: DueReason,
    /// Days since then, 0 when it lies ahead.
    pub overdue_days: u32,
}

impl MonthDay {
    /// From a month and a day that some year has; `None` otherwise.
    pub fn new(month: i8, day: i8) -> Option<Self> {
        // A leap year has every day that any year has.
        const LEAP: i16 = 2000;
        Date::new(LEAP, month, day).ok().map(|_| Self { month, day })
    }
}

impl Season {
    /// Whether the course is open on that day.
    pub fn contains(self, date: Date) -> bool {
        let day = MonthDay { month: date.month(), day: date.day() };
        if self.from <= self.to { self.from <= day && day <= self.to } else { self.from <= day || day <= self.to }
    }
}

/// The earliest day that any rule gives: a rule that is reached already counts as today, and of those of one day
/// the graver is told.
///
/// # Errors
/// [`CalcError`] naming the input that is out of range, or a last grind that lies ahead.
pub fn due(input: &DueInput) -> Result<Due, CalcError> {
    check(input)?;
    let after_interval = match (input.last_grind, input.interval_days) {
        (Some(last), Some(days)) => after_open_days(last, days, input.season),
        (Some(_) | None, Some(_) | None) => None,
    };
    let today = |reached: bool| reached.then_some(input.today);
    let rules = [
        (DueReason::WearLimit, today(wears_out(input))),
        (DueReason::Land, today(input.land.zip(input.land_limit).is_some_and(|(land, limit)| !at_most(land, limit)))),
        (DueReason::Hours, today(input.hours.zip(input.hours_interval).is_some_and(|(hours, most)| hours >= most))),
        (DueReason::Interval, after_interval),
    ];
    let first = rules.into_iter().filter_map(|(reason, day)| Some((day?, reason))).min_by_key(|(day, _)| *day);
    let Some((day, reason)) = first else {
        return Ok(Due { due: None, reason: DueReason::NotDue, overdue_days: 0 });
    };
    let overdue_days = u32::try_from((input.today - day).get_days()).unwrap_or(0);
    Ok(Due { due: Some(day), reason, overdue_days })
}

fn wears_out(input: &DueInput) -> bool {
    input.diameter.zip(input.wear_limit).is_some_and(|(diameter, limit)| {
        let next = diameter - input.usual_removal.unwrap_or(Length::ZERO);
        match input.usual_removal {
            Some(_) => !at_most(limit, next),
            None => at_most(diameter, limit),
        }
    })
}

/// The day on which so many open days have passed since `last`, which itself does not count; none beyond the
/// calendar, and for a season without days.
fn after_open_days(last: Date, days: u32, season: Option<Season>) -> Option<Date> {
    /// Every season has at least 29 February once in eight years, so this many closed days in a row are never seen.
    const CLOSED_DAYS_MOST: u32 = 8 * 366 + 1;
    let (mut day, mut passed, mut closed) = (last, 0, 0);
    while passed < days {
        day = next_day(day)?;
        if season.is_none_or(|season| season.contains(day)) {
            (passed, closed) = (passed + 1, 0);
        } else {
            closed += 1;
        }
        if closed > CLOSED_DAYS_MOST {
            return None;
        }
    }
    Some(day)
}

fn check(input: &DueInput) -> Result<(), CalcError> {
    DAY.check("today", input.today)?;
    DAY.check_optional("last_grind", input.last_grind)?;
    if let Some(last) = input.last_grind.filter(|last| *last > input.today) {
        return Err(CalcError::Contradicts {
            field: Field::from("last_grind"),
            value: Amount::Day(last),
            least: DAY.least(),
            most: Amount::Day(input.today),
            because: "today",
        });
    }
    INTERVAL.check_optional("interval_days", input.interval_days)?;
    RUN.check_optional("hours", input.hours)?;
    RUN_INTERVAL.check_optional("hours_interval", input.hours_interval)?;
    limits::LAND.check_optional("land", input.land)?;
    limits::LAND_LIMIT.check_optional("land_limit", input.land_limit)?;
    limits::REEL_DIAMETER.check_optional("diameter", input.diameter)?;
    limits::REEL_DIAMETER.check_optional("wear_limit", input.wear_limit)?;
    limits::REMOVAL.check_optional("usual_removal", input.usual_removal)?;
    Ok(())
}
