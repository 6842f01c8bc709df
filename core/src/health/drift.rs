//! Drift: what the charts of closure and of spot checks say before work is spoilt.

use super::closure::{Closure, Sign, charted};
use super::spot::SpotCheck;
use crate::quantity::Length;
use jiff::civil::Date;
use serde::{Deserialize, Serialize};

/// From so many values on a chart's limits are taken at their word: with fewer a mean range says little (common
/// practice).
pub const CHARTED_FROM: usize = 8;
/// The newest values that may warn: what stood out longer ago has been followed by a run's length of work.
const NEWEST: usize = 8;
/// The values a chart looks back over: about a year of a busy bench, so that an old bench is not judged by its youth.
pub const LOOKED_BACK: usize = 100;

/// Which chart warns.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Series {
    /// What Prove found beside what Front left.
    Closure,
    /// Spot checks from the surface plate.
    SpotCheck,
}

/// A warning.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Drift {
    /// Which chart.
    pub series: Series,
    /// What it shows.
    pub sign: Sign,
    /// The day of the newest value that shows it.
    pub date: Date,
}

/// What warns on a day after `checked`, the last finished check with the master bar: that check has answered for all
/// that was charted up to it.
pub fn drift(closures: &[Closure], spots: &[SpotCheck], checked: Option<Date>) -> Vec<Drift> {
    let closed: Vec<(Date, Length)> = closures.iter().map(|closure| (closure.date, closure.misclosure)).collect();
    let spotted: Vec<(Date, Length)> = spots.iter().map(|spot| (spot.date, spot.reading.length())).collect();
    [(Series::Closure, closed), (Series::SpotCheck, spotted)]
        .into_iter()
        .filter_map(|(series, values)| warning(series, &values, checked))
        .collect()
}

fn warning(series: Series, values: &[(Date, Length)], checked: Option<Date>) -> Option<Drift> {
    let values = &values[values.len().saturating_sub(LOOKED_BACK)..];
    if values.len() < CHARTED_FROM {
        return None;
    }
    let lengths: Vec<Length> = values.iter().map(|(_, value)| *value).collect();
    let chart = charted(&lengths).ok()?;
    let newest = values.iter().zip(&chart.points).rev().take(NEWEST);
    newest
        .filter(|((date, _), _)| checked.is_none_or(|checked| *date > checked))
        .find_map(|((date, _), (_, sign))| Some(Drift { series, sign: (*sign)?, date: *date }))
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
    use super::*;
    use crate::reading::Reading;
    use jiff::civil::date;

    fn spots(values_um: &[i64]) -> Vec<SpotCheck> {
        let day = |index: usize| date(2031, 3, i8::try_from(index).unwrap() + 1);
        let spot = |(index, um): (usize, &i64)| SpotCheck {
            date: day(index),
            operator: "AM".to_owned(),
            unit: "U-1".to_owned(),
            reading: Reading::from_nanometres(um * 1000),
        };
        values_um.iter().enumerate().map(spot).collect()
    }

    /// Scatter | what warns. A run of eight and limits of three sigma: NIST/SEMATECH e-Handbook, 6.3.2; that seven
    /// are no run is this project's handbook, section 3, `chart`.
    const ROWS: &[(&[i64], Option<Sign>)] = &[
        (&[10, -10, 10, -10, 10, -10, 10, -10, 10], None),
        (&[10, -10, 10, -10, 10, -10, 10, -10, 120], Some(Sign::Outside)),
        (&[-1, -9, -1, -9, -1, -9, -1, -9, 1, 9, 1, 9, 1, 9, 1, 9], Some(Sign::Run)),
        (&[-1, -9, -1, -9, -1, -9, -1, 1, 9, 1, 9, 1, 9, 1], None),
        // Too few to be taken at their word.
        (&[10, -10, 10, -10, 10, -10, 120], None),
    ];

    #[test]
    fn what_stands_out_warns() {
        for (values, sign) in ROWS {
            let found = drift(&[], &spots(values), None);
            assert_eq!(found.first().map(|drift| drift.sign), *sign, "{values:?}");
            assert!(found.iter().all(|drift| drift.series == Series::SpotCheck));
        }
    }

    #[test]
    fn a_check_answers_for_what_was_charted_before_it() {
        let spots = spots(ROWS[1].0);
        let last = spots.last().unwrap().date;
        assert!(drift(&[], &spots, Some(last)).is_empty());
        assert_eq!(drift(&[], &spots, last.yesterday().ok()).len(), 1);
    }

    #[test]
    fn what_stood_out_long_ago_is_no_warning() {
        let mut values = ROWS[1].0.to_vec();
        values.extend([10, -10, 10, -10, 10, -10, 10, -10]);
        assert!(drift(&[], &spots(&values), None).is_empty());
    }
}
