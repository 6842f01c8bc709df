//! How long an operator stood beside a grinding wheel today, from the visits' own entries, and what noise that makes
//! with the sound level that the shop has entered.
//!
//! It is an estimate and says so: the level is one number for the whole bench, and what else was loud that day is not
//! known. No level entered is no estimate, never a dose of nothing.

use crate::calc::dose::{Dose, Segment, dose};
use crate::calc::error::CalcError;
use crate::facts::BenchFacts;
use crate::moment::Moment;
use crate::quantity::Ratio;
use crate::visit::{Running, Stage, Visit};
use jiff::civil::Date;
use serde::{Deserialize, Serialize};

/// Grinding under power that goes on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct UnderPower {
    /// The badge of who was cleared for it.
    pub operator: String,
    /// Since when.
    pub since: Moment,
    /// The last pass that is on record.
    last_pass: Option<Moment>,
}

/// A stretch of grinding that is over.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stretch {
    /// The badge of who ground.
    pub operator: String,
    /// The day it ended, in the shop's own time zone by the station's clock.
    pub day: Date,
    /// How long, milliseconds.
    pub ms: u64,
}

/// What an operator has ground on one day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DayGround {
    /// The day.
    pub day: Date,
    /// How long, milliseconds.
    pub ms: u64,
}

impl DayGround {
    /// The day with one more stretch; a stretch of another day begins anew.
    #[must_use]
    pub fn with(day: Option<Self>, stretch: &Stretch) -> Self {
        let before = day.filter(|known| known.day == stretch.day).map_or(0, |known| known.ms);
        Self { day: stretch.day, ms: before.saturating_add(stretch.ms) }
    }
}

/// The grinding under power in this visit, if there is any. Back-lapping runs the reel against a bedknife and not
/// against the wheel: the grinder's level says nothing of it, and it is left out.
pub fn under_power(visit: &Visit) -> Option<UnderPower> {
    let of = |running: &Running| UnderPower {
        operator: running.clearance().operator().to_owned(),
        since: running.started().clone(),
        last_pass: visit.passes().last().cloned(),
    };
    match visit.stage() {
        Stage::Grind(grind) => Some(UnderPower {
            operator: grind.clearance().operator().to_owned(),
            since: grind.started().clone(),
            last_pass: visit.passes().last().cloned(),
        }),
        Stage::Relief(running) => Some(of(running)),
        _ => None,
    }
}

impl UnderPower {
    /// How long it has gone on, milliseconds. Over a restart nobody knows when the wheel stopped: what counts then is up
    /// to the last pass on record, which is too little rather than invented.
    pub fn ms(&self, now: &Moment) -> u64 {
        let until = |moment: &Moment| moment.since(&self.since);
        let lasted = until(now).or_else(|| self.last_pass.as_ref().and_then(until)).unwrap_or_default();
        u64::try_from(lasted.as_millis()).unwrap_or(u64::MAX)
    }

    /// The stretch that is over, if what went on before is not what goes on after an event.
    pub fn ended(&self, after: &Visit, facts: &BenchFacts, now: &Moment) -> Option<Stretch> {
        if under_power(after).is_some_and(|still| still.since == self.since) {
            return None;
        }
        Some(Stretch { operator: self.operator.clone(), day: facts.today, ms: self.ms(now) })
    }
}

/// From this share of the dose a person is told, before the action level (common practice: in time to change hands).
pub const WARNED_FROM_PERCENT: f64 = 40.0;

/// How loud the day was, as far as it is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum NoiseToday {
    /// The shop has entered no level.
    NoLevel,
    /// The dose from grinding at this bench alone.
    Estimated {
        /// By 29 CFR 1910.95, Appendix A.
        dose: Dose,
        /// How long was ground, milliseconds.
        ms: u64,
    },
}

/// The estimate from the entered level, dBA, and the time ground.
///
/// # Errors
/// [`CalcError`] where level or time is out of the equation's range.
pub fn noise_today(level: Option<Ratio>, ms: u64) -> Result<NoiseToday, CalcError> {
    let Some(level) = level else { return Ok(NoiseToday::NoLevel) };
    let hours = Ratio::from_value(ms as f64 / 3_600_000.0);
    Ok(NoiseToday::Estimated { dose: dose(&[Segment { level, hours }])?, ms })
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
    use super::*;

    const HOUR_MS: u64 = 3_600_000;

    #[track_caller]
    fn percent(level: f64, ms: u64) -> f64 {
        match noise_today(Some(Ratio::from_value(level)), ms).unwrap() {
            NoiseToday::Estimated { dose, .. } => dose.dose_percent.value(),
            NoiseToday::NoLevel => panic!("a level was given"),
        }
    }

    /// 29 CFR 1910.95, Table G-16: 90 dBA may last 8 h, 95 dBA 4 h, 100 dBA 2 h; 1910.95(c): the action level is half.
    #[test]
    fn the_tables_hours_are_the_whole_dose() {
        for (level, hours) in [(90.0, 8), (95.0, 4), (100.0, 2), (105.0, 1)] {
            assert!((percent(level, hours * HOUR_MS) - 100.0).abs() < 1e-9, "{level}");
            assert!((percent(level, hours * HOUR_MS / 2) - 50.0).abs() < 1e-9, "{level}");
        }
        assert!(percent(79.0, 8 * HOUR_MS).abs() < 1e-12, "below 80 dBA nothing counts");
    }

    #[test]
    fn no_level_is_no_estimate_and_not_a_dose_of_nothing() {
        assert_eq!(noise_today(None, 8 * HOUR_MS).unwrap(), NoiseToday::NoLevel);
    }

    #[test]
    fn stretches_of_one_day_add_up_and_another_day_begins_anew() {
        let stretch = |day: i8, ms| Stretch { operator: "1042".to_owned(), day: Date::constant(2026, 5, day), ms };
        let one = DayGround::with(None, &stretch(14, 60_000));
        let two = DayGround::with(Some(one), &stretch(14, 30_000));
        assert_eq!(two, DayGround { day: Date::constant(2026, 5, 14), ms: 90_000 });
        assert_eq!(DayGround::with(Some(two), &stretch(15, 5)).ms, 5);
    }
}
