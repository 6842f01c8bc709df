//! How one unit wears, from the work on its card: the same line for its plot, for what is due and for what to order.

use crate::bench::LimitBasis;
use crate::calc::error::CalcError;
use crate::calc::line::median;
use crate::calc::prove::Ends;
use crate::calc::tape::{TapeInput, tape};
use crate::calc::wear::{Measured, Wear, wear};
use crate::quantity::Length;
use crate::reading::Reading;
use crate::record::{Unit, UnitType, Work};
use jiff::civil::Date;

/// Days in a year, as [`Wear::per_year`] counts them.
const DAYS_PER_YEAR: f64 = 365.25;

/// A unit's wear, on the basis that its limit was given in.
#[derive(Debug, Clone, PartialEq)]
pub struct Forecast {
    /// The smaller diameter after every piece of work, oldest first.
    pub history: Vec<Measured>,
    /// Diameter at which the reel is replaced.
    pub wear_limit: Length,
    /// The Theil–Sen line through the history and the days on which it meets the limit, with their 95 % interval.
    pub wear: Wear,
    /// The line's day and diameter in the middle, through which it passes.
    middle: (f64, Length),
}

impl Forecast {
    /// The diameter that the line has on a day, before or after today.
    pub fn on(&self, day: Date) -> Length {
        let days = f64::from((day - self.history[0].date).get_days());
        self.middle.1 + self.wear.per_year * ((days - self.middle.0) / DAYS_PER_YEAR)
    }

    /// The newest diameter.
    pub fn newest(&self) -> Measured {
        self.history[self.history.len() - 1]
    }
}

/// The forecast of a unit of this type.
///
/// # Errors
/// [`CalcError`]: fewer than two pieces of work, all of them on one day, or a record that is out of range.
pub fn forecast(unit: &Unit, unit_type: &UnitType) -> Result<Forecast, CalcError> {
    let history =
        unit.history.iter().map(|work| measured(work, unit_type)).collect::<Result<Vec<Measured>, CalcError>>()?;
    let wear_limit = unit_type.wear_limit.length();
    let wear = wear(&history, wear_limit)?;
    let first = history[0].date;
    let days: Vec<f64> = history.iter().map(|point| f64::from((point.date - first).get_days())).collect();
    let diameters: Vec<f64> = history.iter().map(|point| point.diameter.mm()).collect();
    let middle = (median(&days), Length::from_mm(median(&diameters)));
    Ok(Forecast { history, wear_limit, wear, middle })
}

/// Both diameters after a piece of work, on the basis of the type's wear limit: as taped, or the circle through the tips.
///
/// # Errors
/// [`CalcError`] when the record's readings are out of range.
pub fn ends_on_limit_basis(work: &Work, unit_type: &UnitType) -> Result<Ends, CalcError> {
    let readings = TapeInput {
        blades: unit_type.blades,
        lead: work.lead.length(),
        trail: work.trail.length(),
        centre: None,
        land: work.land.map(Reading::length),
        reel_temperature: None,
        tape_temperature: None,
        wear_limit: None,
        limit_basis: unit_type.limit_basis,
        new_diameter: None,
    };
    match unit_type.limit_basis {
        LimitBasis::Tape => Ok(Ends { lead: readings.lead, trail: readings.trail }),
        LimitBasis::Caliper => {
            tape(&readings).map(|taped| Ends { lead: taped.diameter.lead, trail: taped.diameter.trail })
        }
    }
}

/// The smaller of them, which is where the reel is worn most.
///
/// # Errors
/// As [`ends_on_limit_basis`].
pub fn smallest_on_limit_basis(work: &Work, unit_type: &UnitType) -> Result<Length, CalcError> {
    ends_on_limit_basis(work, unit_type).map(|ends| if ends.trail < ends.lead { ends.trail } else { ends.lead })
}

fn measured(work: &Work, unit_type: &UnitType) -> Result<Measured, CalcError> {
    Ok(Measured { date: work.date, diameter: smallest_on_limit_basis(work, unit_type)? })
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::float_cmp)]
    use super::*;
    use crate::outlook::sample::{unit_type, unit_with};
    use jiff::civil::date;

    /// A hundredth of an inch every 50 days: a line through every point, so the Theil–Sen line is that line.
    fn steady() -> Unit {
        unit_with(&[
            (date(2031, 1, 1), "5.000"),
            (date(2031, 2, 20), "4.990"),
            (date(2031, 4, 11), "4.980"),
            (date(2031, 5, 31), "4.970"),
            (date(2031, 7, 20), "4.960"),
        ])
    }

    #[test]
    fn a_steady_reel_meets_its_limit_on_its_day() {
        let forecast = forecast(&steady(), &unit_type()).unwrap();
        assert!((forecast.wear.per_year.inches() + 0.010 * 365.25 / 50.0).abs() < 1e-9);
        // 0.460 above the limit of 4.500 after the last: 2300 days.
        assert_eq!(forecast.wear.at_limit, Some(date(2037, 11, 5)));
        assert!((forecast.on(date(2031, 4, 11)).inches() - 4.980).abs() < 1e-9);
        assert!((forecast.on(date(2037, 11, 5)).inches() - 4.500).abs() < 1e-9);
        assert_eq!(forecast.newest().date, date(2031, 7, 20));
    }

    /// On the caliper basis a taped reel is larger than the tape says, so that it lasts longer (handbook, section 2).
    #[test]
    fn the_limit_s_basis_is_kept() {
        let taped = forecast(&steady(), &unit_type()).unwrap();
        let caliper = UnitType { limit_basis: LimitBasis::Caliper, ..unit_type() };
        let tip = forecast(&steady(), &caliper).unwrap();
        assert!(tip.newest().diameter > taped.newest().diameter);
        assert!(tip.wear.at_limit > taped.wear.at_limit);
    }

    #[test]
    fn one_piece_of_work_is_no_line() {
        let unit = unit_with(&[(date(2031, 1, 1), "5.000")]);
        assert!(forecast(&unit, &unit_type()).is_err());
        let same_day = unit_with(&[(date(2031, 1, 1), "5.000"), (date(2031, 1, 1), "4.990")]);
        assert!(matches!(forecast(&same_day, &unit_type()), Err(CalcError::TooClose { .. })));
    }
}
