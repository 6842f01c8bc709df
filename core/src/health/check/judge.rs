//! What the readings of both runs say, and what the grinder's record says afterwards.

use super::CheckRefusal;
use crate::calc::error::CalcError;
use crate::calc::master::{Master, MasterInput, MasterVerdict, Station, master};
use crate::calc::uncertainty::{COVERAGE, at_most, combined, of_graduation};
use crate::facts::BenchFacts;
use crate::quantity::Length;
use crate::record::{Grinder, MasterCheck, Operator};
use jiff::ToSpan;
use jiff::civil::Date;

/// What the readings say.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CheckOutcome {
    /// The calculation's answer.
    pub master: Master,
    /// Between the outermost stations.
    pub span: Length,
    /// Expanded uncertainty of the error of parallelism.
    pub parallel_u95: Length,
    /// Whether a true verdict is proven.
    pub proven: bool,
}

pub(super) fn judged(
    readings: Vec<Station>,
    reversed: Vec<Station>,
    facts: &BenchFacts,
) -> Result<CheckOutcome, CalcError> {
    let ys: Vec<Length> = readings.iter().map(|station| station.y).collect();
    let (least, most) = ys.iter().fold((ys[0], ys[0]), |(least, most), y| (least.min(*y), most.max(*y)));
    let (span, dial, tolerance) = (most - least, facts.grinder.dial, facts.upkeep.check.tolerance);
    let found = master(&MasterInput { readings, reversed: Some(reversed), dial, span, tolerance })?;
    let parallel_u95 = parallel_u95(&ys, span, facts);
    let proven = found.verdict == MasterVerdict::True && at_most(found.parallel_error.abs() + parallel_u95, tolerance);
    Ok(CheckOutcome { master: found, span, parallel_u95, proven })
}

/// Expanded uncertainty of slope × span from two runs: each reading carries the dial's graduation and a touch's
/// repeatability, u² = (q/(2√3))² + s², over k; the slope of one run has u/√Σ(y − ȳ)² (JCGM 100:2008, H.3), and the
/// half sum of two runs 1/√2 of that.
fn parallel_u95(ys: &[Length], span: Length, facts: &BenchFacts) -> Length {
    let of_reading = combined(&[of_graduation(facts.grinder.dial_graduation.length()), facts.instruments.touch_sd]);
    let places: Vec<f64> = ys.iter().map(|y| y.mm()).collect();
    let middle = crate::calc::line::mean(&places);
    let squares: f64 = places.iter().map(|y| (y - middle).powi(2)).sum();
    let share = span.mm() / (2.0 * squares).sqrt();
    of_reading * (COVERAGE * share / facts.grinder.dial.factor())
}

/// The grinder's record after a check. Only a true one counts for the next months; one out of true leaves the old day
/// and takes away whatever a lead had allowed before it was known.
pub(super) fn checked(facts: &BenchFacts, operator: &Operator, outcome: &CheckOutcome) -> Grinder {
    let rules = &facts.upkeep.check;
    let master = outcome.master;
    let record = MasterCheck {
        date: facts.today,
        operator: operator.initials.clone(),
        span: outcome.span,
        parallel_error: master.parallel_error,
        parallel_u95: outcome.parallel_u95,
        straightness: master.straightness,
        bar_error: master.bar_error.unwrap_or(Length::ZERO),
        tolerance: rules.tolerance,
        verdict: master.verdict,
        proven: outcome.proven,
    };
    let check_due = match master.verdict {
        MasterVerdict::True => next_due(facts.today, rules.every_months),
        MasterVerdict::OutOfTrue => facts.grinder.check_due,
    };
    Grinder {
        check_due,
        check_override: None,
        override_until: None,
        last_check: Some(Box::new(record)),
        ..facts.grinder.clone()
    }
}

fn next_due(today: Date, months: u32) -> Date {
    today.saturating_add(i64::from(months).months())
}

/// The grinder's record with a lead's word in it.
pub(super) fn overridden(facts: &BenchFacts, reason: &str) -> Result<Grinder, CheckRefusal> {
    let operator = facts.operator.as_ref().ok_or(CheckRefusal::NoOperator)?;
    if !operator.lead {
        return Err(CheckRefusal::NotALead { name: operator.name.clone() });
    }
    if reason.trim().is_empty() {
        return Err(CheckRefusal::NoReason);
    }
    let grinder = &facts.grinder;
    if facts.today <= grinder.check_due && grinder.out_of_true().is_none() {
        return Err(CheckRefusal::NothingToOverride);
    }
    let days_after = i64::from(facts.upkeep.check.override_days.max(1)) - 1;
    Ok(Grinder {
        check_override: Some((operator.initials.clone(), reason.trim().to_owned())),
        override_until: Some(facts.today.saturating_add(days_after.days())),
        ..grinder.clone()
    })
}
