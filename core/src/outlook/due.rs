//! Which units come to the bench next, each with its reason, the most pressing first.

use super::forecast::{forecast, smallest_on_limit_basis};
use crate::calc::due::{DueInput, DueReason, Season, due};
use crate::calc::error::CalcError;
use crate::calc::land::{LandInput, land};
use crate::quantity::{Length, Ratio};
use crate::reading::Reading;
use crate::record::{Unit, UnitStatus, UnitType, Work};
use jiff::civil::Date;

/// The shop's rules for what is due, from the configuration.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DueRules {
    /// Open-season days from grind to grind; none when the shop grinds by land and wear alone.
    pub interval_days: Option<u32>,
    /// The open season; all the year when not given.
    pub season: Option<Season>,
    /// Diameter that a grind usually takes.
    pub usual_removal: Length,
    /// A reel is told to reach its limit soon when its line meets it within so many days.
    pub limit_ahead_days: u32,
}

/// Why a unit stands in the list.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Reason {
    /// The next grind would take the reel below its wear limit: replace it.
    WearLimit {
        /// The smaller diameter after the last work, on the limit's basis.
        diameter: Length,
        /// The limit.
        limit: Length,
    },
    /// The land is wider than its limit: relief.
    Land {
        /// Its width after the last work.
        land: Length,
        /// The limit.
        limit: Length,
    },
    /// The open-season days since its last work are over, or will be on the day.
    Interval {
        /// The day of the last work.
        last: Date,
        /// After so many open-season days.
        days: u32,
    },
    /// Its line of wear meets the limit soon.
    LimitSoon {
        /// On this day.
        at_limit: Date,
        /// Not before, 95 %, where four pieces of work or more tell it.
        earliest: Option<Date>,
    },
    /// Nothing is on record of it.
    NothingOnRecord,
    /// Nothing known makes it due.
    NotDue,
}

/// A unit in the list.
#[derive(Debug, Clone, PartialEq)]
pub struct DueUnit {
    /// Its tag.
    pub tag: String,
    /// Its mower.
    pub mower: String,
    /// Its position there.
    pub position: u32,
    /// Why.
    pub reason: Reason,
    /// When; today for what is reached already and whose day is not known.
    pub due: Option<Date>,
    /// Days since then, 0 when it lies ahead.
    pub overdue_days: u32,
    /// Usual grinds until the land reaches its limit, not rounded; none where it is not known.
    pub grinds_to_relief: Option<Ratio>,
    /// The day on which the reel's line meets its wear limit.
    pub at_limit: Option<Date>,
}

/// Every unit in service or ready, the most pressing first: what cannot be ground again, then what is overdue by its
/// day, then what lies ahead, then what nothing is known of. A unit whose record cannot be computed with is listed as
/// one without a record: it needs a person's look, not silence.
pub fn due_list<'a>(
    units: impl Iterator<Item = (&'a Unit, &'a UnitType)>,
    rules: &DueRules,
    today: Date,
) -> Vec<DueUnit> {
    let mut list: Vec<DueUnit> = units
        .filter(|(unit, _)| matches!(unit.status, UnitStatus::InService | UnitStatus::Ready))
        .map(|(unit, unit_type)| of_unit(unit, unit_type, rules, today))
        .collect();
    list.sort_by_key(|unit| (rank(unit), unit.due, unit.tag.clone()));
    list
}

const fn rank(unit: &DueUnit) -> u8 {
    match unit.reason {
        Reason::WearLimit { .. } => 0,
        Reason::Land { .. } => 1,
        Reason::Interval { .. } | Reason::LimitSoon { .. } => 2,
        Reason::NothingOnRecord => 3,
        Reason::NotDue => 4,
    }
}

fn of_unit(unit: &Unit, unit_type: &UnitType, rules: &DueRules, today: Date) -> DueUnit {
    let mut found = DueUnit {
        tag: unit.tag.clone(),
        mower: unit.mower.clone(),
        position: unit.position,
        reason: Reason::NothingOnRecord,
        due: None,
        overdue_days: 0,
        grinds_to_relief: None,
        at_limit: None,
    };
    let Some(last) = unit.history.last() else { return found };
    found.grinds_to_relief = grinds_to_relief(last, unit_type, rules);
    let line = forecast(unit, unit_type).ok();
    found.at_limit = line.as_ref().and_then(|line| line.wear.at_limit);
    let Ok((reason, when, overdue_days)) = told(last, unit_type, rules, today) else { return found };
    (found.reason, found.due, found.overdue_days) = (reason, when, overdue_days);
    let soon = today.saturating_add(jiff::Span::new().days(i64::from(rules.limit_ahead_days)));
    let (at_limit, pressing) = (found.at_limit, matches!(reason, Reason::WearLimit { .. } | Reason::Land { .. }));
    if let Some(at_limit) = at_limit.filter(|day| !pressing && *day <= soon && when.is_none_or(|when| *day < when)) {
        let earliest = line.and_then(|line| line.wear.earliest);
        (found.reason, found.due, found.overdue_days) = (Reason::LimitSoon { at_limit, earliest }, Some(at_limit), 0);
    }
    found
}

fn told(
    last: &Work,
    unit_type: &UnitType,
    rules: &DueRules,
    today: Date,
) -> Result<(Reason, Option<Date>, u32), CalcError> {
    let diameter = smallest_on_limit_basis(last, unit_type)?;
    let (limit, land_limit) = (unit_type.wear_limit.length(), unit_type.land_limit.length());
    let answer = due(&DueInput {
        last_grind: Some(last.date),
        interval_days: rules.interval_days,
        season: rules.season,
        hours: None,
        hours_interval: None,
        land: last.land.map(Reading::length),
        land_limit: Some(land_limit),
        diameter: Some(diameter),
        wear_limit: Some(limit),
        usual_removal: Some(rules.usual_removal),
        today,
    })?;
    let reason = match answer.reason {
        DueReason::WearLimit => Reason::WearLimit { diameter, limit },
        DueReason::Land => Reason::Land { land: last.land.map_or(land_limit, Reading::length), limit: land_limit },
        DueReason::Interval => Reason::Interval { last: last.date, days: rules.interval_days.unwrap_or(0) },
        // No hours are kept of a unit yet.
        DueReason::Hours | DueReason::NotDue => Reason::NotDue,
    };
    Ok((reason, answer.due, answer.overdue_days))
}

/// Usual grinds until relief is due, from the land after the last work; none where the land was not measured.
pub fn grinds_to_relief(last: &Work, unit_type: &UnitType, rules: &DueRules) -> Option<Ratio> {
    let input = LandInput {
        land: last.land?.length(),
        diameter: smallest_on_limit_basis(last, unit_type).ok()?,
        removed: rules.usual_removal,
        relief_angle: unit_type.relief_angle,
        land_limit: Some(unit_type.land_limit.length()),
    };
    land(&input).ok()?.removals_to_limit
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::float_cmp)]
    use super::*;
    use crate::calc::due::MonthDay;
    use crate::outlook::sample::{inch, unit_type, unit_with};
    use jiff::civil::date;

    fn rules() -> DueRules {
        DueRules {
            interval_days: Some(42),
            season: Some(Season { from: MonthDay::new(4, 1).unwrap(), to: MonthDay::new(10, 31).unwrap() }),
            usual_removal: Length::from_inches(0.010),
            limit_ahead_days: 120,
        }
    }

    fn named(tag: &str, history: &[(Date, &str)]) -> Unit {
        Unit { tag: tag.to_owned(), ..unit_with(history) }
    }

    fn list(units: &[Unit], today: Date) -> Vec<DueUnit> {
        let unit_type = unit_type();
        due_list(units.iter().map(|unit| (unit, &unit_type)), &rules(), today)
    }

    #[test]
    fn the_most_pressing_stand_first_each_with_its_reason() {
        let today = date(2031, 7, 1);
        let mut wide = named("WIDE", &[(date(2031, 6, 20), "4.900")]);
        wide.history[0].land = Some(inch("0.090"));
        let units = [
            named("NEW", &[]),
            named("LATE", &[(date(2031, 4, 20), "4.900")]),
            named("AHEAD", &[(date(2031, 6, 25), "4.900")]),
            wide,
            named("THIN", &[(date(2031, 6, 25), "4.505")]),
        ];
        let found = list(&units, today);
        let tags: Vec<&str> = found.iter().map(|unit| unit.tag.as_str()).collect();
        assert_eq!(tags, ["THIN", "WIDE", "LATE", "AHEAD", "NEW"]);
        let (diameter, limit) = (inch("4.505").length(), inch("4.500").length());
        assert_eq!(found[0].reason, Reason::WearLimit { diameter, limit });
        assert_eq!(found[1].reason, Reason::Land { land: inch("0.090").length(), limit: inch("0.080").length() });
        assert_eq!(found[2].reason, Reason::Interval { last: date(2031, 4, 20), days: 42 });
        // 42 days after 20 April.
        assert_eq!((found[2].due, found[2].overdue_days), (Some(date(2031, 6, 1)), 30));
        assert_eq!((found[3].due, found[3].overdue_days), (Some(date(2031, 8, 6)), 0));
        assert_eq!(found[4].reason, Reason::NothingOnRecord);
    }

    /// Days out of season do not count: ground on 20 October, eleven days of it are open, and 31 follow in April.
    #[test]
    fn winter_does_not_make_a_unit_due() {
        let found = list(&[named("U", &[(date(2031, 10, 20), "4.900")])], date(2032, 1, 10));
        assert_eq!(found[0].due, Some(date(2032, 5, 1)));
    }

    /// A hundredth every 10 days, 0.030 above the limit: in 30 days the line meets it, before its interval is over.
    #[test]
    fn a_reel_that_wears_out_soon_says_so_before_its_interval() {
        let today = date(2031, 7, 1);
        let unit = named(
            "FAST",
            &[
                (date(2031, 6, 1), "4.560"),
                (date(2031, 6, 11), "4.550"),
                (date(2031, 6, 21), "4.540"),
                (today, "4.530"),
            ],
        );
        let found = list(&[unit], today);
        let Reason::LimitSoon { at_limit, earliest } = found[0].reason else { panic!("{:?}", found[0].reason) };
        assert_eq!((at_limit, earliest), (date(2031, 7, 31), Some(date(2031, 7, 31))));
        assert_eq!(found[0].due, Some(at_limit));
    }

    /// Land 0.040, limit 0.080, 25°: near enough (removed/2)/tan α a grind, so 0.0107 each and nearly four of them
    /// (handbook, section 2; the exact face grows a little faster).
    #[test]
    fn relief_is_foreseen() {
        let unit = named("U", &[(date(2031, 6, 25), "5.000")]);
        let found = list(&[unit], date(2031, 7, 1));
        let grinds = found[0].grinds_to_relief.unwrap().value();
        assert!((3.6..3.75).contains(&grinds), "{grinds}");
    }

    #[test]
    fn retired_and_spare_units_are_not_listed() {
        let mut units = [named("A", &[(date(2031, 4, 1), "4.9")]), named("B", &[(date(2031, 4, 1), "4.9")])];
        units[0].status = UnitStatus::Retired;
        units[1].status = UnitStatus::Spare;
        assert!(list(&units, date(2031, 7, 1)).is_empty());
    }
}
