//! Wear and what becomes due: `wear` and `due`.

use super::{inch, near, refused};
use crate::calc::due::{Due, DueInput, DueReason, MonthDay, Season, due};
use crate::calc::line::theil_sen;
use crate::calc::wear::{Measured, wear};
use crate::quantity::Ratio;
use jiff::ToSpan;
use jiff::civil::{Date, date};
use proptest::prelude::*;

/// Sen, J. Am. Stat. Assoc. 63, 1379 (1968), as in a general-purpose statistics library's own test: slope 4,
/// intercept 4 through the medians, 93 % interval 3.71 to 4.38.
#[test]
fn sen_1968() {
    let points: Vec<(f64, f64)> =
        [1.0, 2.0, 3.0, 4.0, 10.0, 12.0, 18.0].into_iter().zip([9.0, 15.0, 19.0, 20.0, 45.0, 55.0, 78.0]).collect();
    // Normal quantile for 93 %, two-sided.
    let line = theil_sen(&points, 1.811_910_673).unwrap();
    near(line.slope, 4.0, 1e-12);
    near(line.y_median - line.slope * line.x_median, 4.0, 1e-12);
    near(line.low, 3.714_286, 5e-7);
    near(line.high, 4.375, 1e-12);
}

/// The same library's degenerate case: y 0 1 1 over x 0 1 2 gives slope 0.5 and intercept 0.5.
#[test]
fn ties() {
    let line = theil_sen(&[(0.0, 0.0), (1.0, 1.0), (2.0, 1.0)], 1.96).unwrap();
    near(line.slope, 0.5, 1e-12);
    near(line.y_median - line.slope * line.x_median, 0.5, 1e-12);
    assert_eq!(theil_sen(&[(1.0, 0.0), (1.0, 5.0)], 1.96), None);
}

fn record(list: &[(Date, f64)]) -> Vec<Measured> {
    list.iter().map(|(date, diameter)| Measured { date: *date, diameter: inch(*diameter) }).collect()
}

#[test]
fn a_steady_reel() {
    let start = date(2024, 3, 1);
    let history: Vec<(Date, f64)> =
        (0..5).map(|season| (start + (season * 100).days(), 5.0 - 0.010 * f64::from(season))).collect();
    let answer = wear(&record(&history), inch(4.9)).unwrap();
    near(answer.per_year.inches(), -0.0001 * 365.25, 1e-12);
    let there = start + 1000.days();
    assert_eq!((answer.at_limit, answer.earliest, answer.latest), (Some(there), Some(there), Some(there)));
    let three = wear(&record(&history[..3]), inch(4.9)).unwrap();
    assert_eq!((three.at_limit, three.earliest, three.latest), (Some(there), None, None));
}

#[test]
fn one_misread_tape_does_not_tip_the_line() {
    let start = date(2024, 3, 1);
    let mut history: Vec<(Date, f64)> =
        (0..7).map(|season| (start + (season * 100).days(), 5.0 - 0.010 * f64::from(season))).collect();
    history[3].1 = 5.2;
    let answer = wear(&record(&history), inch(4.9)).unwrap();
    near(answer.per_year.inches(), -0.0001 * 365.25, 1e-9);
    assert!(answer.earliest <= answer.at_limit && answer.latest.is_none_or(|latest| Some(latest) >= answer.at_limit));
}

#[test]
fn a_reel_that_does_not_wear_has_no_day() {
    let history = record(&[
        (date(2024, 1, 1), 5.0),
        (date(2024, 6, 1), 5.0),
        (date(2025, 1, 1), 5.001),
        (date(2025, 6, 1), 5.001),
    ]);
    let answer = wear(&history, inch(4.9)).unwrap();
    assert_eq!((answer.at_limit, answer.latest), (None, None));
    // A fall so slow that the day lies beyond the calendar is none either.
    let slow = record(&[(date(2024, 1, 1), 5.0), (date(2025, 1, 1), 4.999_999_99)]);
    assert_eq!(wear(&slow, inch(1.0)).unwrap().at_limit, None);
}

#[test]
fn wear_refusals() {
    refused(wear(&record(&[(date(2024, 1, 1), 5.0)]), inch(4.9)), "history");
    refused(wear(&record(&[(date(2024, 1, 1), 5.0); 3]), inch(4.9)), "history[2].date");
    refused(wear(&record(&[(date(2024, 1, 1), 5.0), (date(1024, 1, 1), 5.0)]), inch(4.9)), "history[1].date");
    refused(wear(&record(&[(date(2024, 1, 1), 50.0), (date(2025, 1, 1), 5.0)]), inch(4.9)), "history[0].diameter");
}

fn nothing_known() -> DueInput {
    DueInput {
        last_grind: None,
        interval_days: None,
        season: None,
        hours: None,
        hours_interval: None,
        land: None,
        land_limit: None,
        diameter: None,
        wear_limit: None,
        usual_removal: None,
        today: date(2026, 5, 10),
    }
}

fn season(from: (i8, i8), to: (i8, i8)) -> Option<Season> {
    Some(Season { from: MonthDay::new(from.0, from.1).unwrap(), to: MonthDay::new(to.0, to.1).unwrap() })
}

#[test]
fn days_of_the_open_season() {
    let every_60 = DueInput { last_grind: Some(date(2026, 3, 1)), interval_days: Some(60), ..nothing_known() };
    let expected = Due { due: Some(date(2026, 4, 30)), reason: DueReason::Interval, overdue_days: 10 };
    assert_eq!(due(&every_60).unwrap(), expected);
    // From April on only: the sixtieth open day is 30 May.
    let spring = DueInput { season: season((4, 1), (10, 31)), ..every_60 };
    assert_eq!(due(&spring).unwrap(), Due { due: Some(date(2026, 5, 30)), overdue_days: 0, ..expected });
    // Over the turn of the year: 1 to 31 March are open, then 1 October on.
    let south = DueInput { season: season((10, 1), (3, 31)), ..every_60 };
    assert_eq!(due(&south).unwrap().due, Some(date(2026, 10, 30)));
    let leap = DueInput { season: season((2, 29), (2, 29)), interval_days: Some(1), ..every_60 };
    assert_eq!(due(&leap).unwrap().due, Some(date(2028, 2, 29)));
}

#[test]
fn the_first_and_gravest_reason_is_told() {
    let hours = DueInput {
        hours: Some(Ratio::from_value(120.0)),
        hours_interval: Some(Ratio::from_value(120.0)),
        ..nothing_known()
    };
    let today = Due { due: Some(date(2026, 5, 10)), reason: DueReason::Hours, overdue_days: 0 };
    assert_eq!(due(&hours).unwrap(), today);
    let land = DueInput { land: Some(inch(0.061)), land_limit: Some(inch(0.060)), ..hours };
    assert_eq!(due(&land).unwrap().reason, DueReason::Land);
    let worn =
        DueInput { diameter: Some(inch(4.905)), wear_limit: Some(inch(4.9)), usual_removal: Some(inch(0.010)), ..land };
    assert_eq!(due(&worn).unwrap(), Due { reason: DueReason::WearLimit, ..today });
    let one_more = DueInput { usual_removal: Some(inch(0.005)), ..worn };
    assert_eq!(due(&one_more).unwrap().reason, DueReason::Land);
    let overdue = DueInput { last_grind: Some(date(2026, 4, 1)), interval_days: Some(30), ..worn };
    let told = Due { due: Some(date(2026, 5, 1)), reason: DueReason::Interval, overdue_days: 9 };
    assert_eq!(due(&overdue).unwrap(), told);
    assert_eq!(due(&nothing_known()).unwrap(), Due { due: None, reason: DueReason::NotDue, overdue_days: 0 });
}

#[test]
fn due_refusals() {
    refused(due(&DueInput { last_grind: Some(date(2026, 5, 11)), ..nothing_known() }), "last_grind");
    refused(due(&DueInput { interval_days: Some(0), ..nothing_known() }), "interval_days");
    refused(due(&DueInput { today: date(1026, 5, 10), ..nothing_known() }), "today");
    assert_eq!(MonthDay::new(2, 30), None);
    assert_eq!(MonthDay::new(13, 1), None);
}

proptest! {
    /// As many open days lie between the last grind and the due day as the interval has, and the due day is one of
    /// them.
    #[test]
    fn counts_open_days(offset in 0_i32..700, days in 1_u32..400, from in (1_i8..=12, 1_i8..=28), to in (1_i8..=12, 1_i8..=28)) {
        let last = date(2024, 1, 1) + offset.days();
        let open = season(from, to).unwrap();
        let input = DueInput {
            last_grind: Some(last),
            interval_days: Some(days),
            season: Some(open),
            today: last,
            ..nothing_known()
        };
        let day = due(&input).unwrap().due.unwrap();
        prop_assert!(open.contains(day));
        let counted = last.series(1.day()).skip(1).take_while(|other| *other <= day).filter(|other| open.contains(*other)).count();
        prop_assert_eq!(counted, days as usize);
    }
}
