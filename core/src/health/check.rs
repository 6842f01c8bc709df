//! The grinder's check with a master bar, turned end for end so that the bar's own taper is not blamed on the rails.
//!
//! As with a visit, [`step`] is the only way through: the screen, a rehearsal, a replay of the journal and the tests
//! all use it. The wheel is touched to the bar, or an indicator on its head is read, at the same stations in both runs.

use super::spot::SpotCheck;
use crate::calc::error::CalcError;
use crate::calc::master::{Master, MasterInput, MasterVerdict, Station, master};
use crate::calc::uncertainty::{COVERAGE, at_most, combined, of_graduation};
use crate::facts::BenchFacts;
use crate::moment::Moment;
use crate::quantity::Length;
use crate::reading::Reading;
use crate::record::{Grinder, MasterCheck, Operator};
use jiff::ToSpan;
use jiff::civil::Date;
use serde::{Deserialize, Serialize};
use thiserror::Error;

/// Everything that can happen to the grinder's health. Each is written to the journal before it is shown as done.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "event", rename_all = "snake_case", deny_unknown_fields)]
pub enum GrinderEvent {
    /// A check begins, at the stations of the facts.
    Started,
    /// Power is off and was tried: a pointer was held.
    IsolationHeld {
        /// For how long, milliseconds.
        held_ms: u64,
    },
    /// The dial at the station that is asked for.
    Read {
        /// What it read.
        reading: Reading,
    },
    /// This station of the run in hand is to be read now, again if it was before.
    StationPicked {
        /// Its place in the list, from 0.
        station: u32,
    },
    /// The bar lies turned end for end.
    BarTurned,
    /// The readings stand: judge.
    Finished,
    /// The check ends without a verdict.
    Abandoned,
    /// A lead lets the grinder be used although its check says or asks otherwise.
    Overridden {
        /// Why, in the words that stood on the screen.
        reason: String,
    },
    /// A ground unit stood on the surface plate.
    SpotChecked {
        /// Its tag.
        unit: String,
        /// Right less left end of the reel's underside over the plate.
        reading: Reading,
    },
}

/// What is to be done because of an event.
#[derive(Debug, Clone, PartialEq)]
pub enum CheckEffect {
    /// The grinder's record says this now.
    GrinderChanged(Box<Grinder>),
    /// A spot check is kept.
    SpotKept(SpotCheck),
    /// The check is over.
    Over,
}

/// Why an event was not taken.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum CheckRefusal {
    /// Nobody signed on.
    #[error("nobody signed on")]
    NoOperator,
    /// Not trained for the bench.
    #[error("{name} is not recorded as trained")]
    NotTrained {
        /// Who.
        name: String,
    },
    /// Only a lead decides this.
    #[error("{name} is not a lead")]
    NotALead {
        /// Who asked.
        name: String,
    },
    /// An override without a reason.
    #[error("no reason was given")]
    NoReason,
    /// The grinder's check stands in nobody's way.
    #[error("nothing is to be overridden")]
    NothingToOverride,
    /// No check is open, or one is already.
    #[error("this does not belong here")]
    NotHere,
    /// Hands are about to go in: isolation comes first.
    #[error("isolation was not acknowledged")]
    IsolationNeeded,
    /// The pointer was let go too early.
    #[error("held {held_ms} ms of {wanted_ms} ms")]
    HeldTooShort {
        /// How long it was held, milliseconds.
        held_ms: u64,
        /// How long it must be, milliseconds.
        wanted_ms: u64,
    },
    /// No number like this can be true here.
    #[error("{reading:?} is outside {least:?} to {most:?}")]
    OutOfRange {
        /// What was typed.
        reading: Reading,
        /// The least that is taken.
        least: Reading,
        /// The most that is taken.
        most: Reading,
    },
    /// A station of the run in hand was not read.
    #[error("station {station} was not read")]
    StationOpen {
        /// Its place in the list, from 1.
        station: u32,
    },
    /// The bar was not turned end for end.
    #[error("the bar was not turned")]
    NotTurned,
    /// The rails are taken by a unit.
    #[error("{tag} is on the rails")]
    RailsTaken {
        /// Its tag.
        tag: String,
    },
    /// The rails are taken by the bar.
    #[error("a check is open")]
    CheckOpen,
    /// The readings cannot be computed with.
    #[error(transparent)]
    Calculation(#[from] CalcError),
}

/// A check in progress.
#[derive(Debug, Clone, PartialEq)]
pub struct Check {
    started: Moment,
    stations: Vec<Reading>,
    isolated: bool,
    first: Vec<Option<Reading>>,
    reversed: Vec<Option<Reading>>,
    turned: bool,
    picked: Option<usize>,
}

/// Where a check stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CheckPhase {
    /// Power off and tried, first.
    Isolation,
    /// Read the dial at this station of the run in hand.
    Reading {
        /// Its place in the list, from 0.
        station: usize,
    },
    /// Turn the bar end for end.
    TurnBar,
    /// Every reading is there.
    Complete,
}

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

impl Check {
    /// When it began.
    pub const fn started(&self) -> &Moment {
        &self.started
    }

    /// Where along the rails the bar is read.
    pub fn stations(&self) -> &[Reading] {
        &self.stations
    }

    /// Whether the bar lies turned end for end.
    pub const fn turned(&self) -> bool {
        self.turned
    }

    /// The readings of the first run.
    pub fn first(&self) -> &[Option<Reading>] {
        &self.first
    }

    /// The readings with the bar turned.
    pub fn reversed(&self) -> &[Option<Reading>] {
        &self.reversed
    }

    /// Where it stands. An open lockout answers for isolation, as it does at a visit's stages.
    pub fn phase(&self, facts: &BenchFacts) -> CheckPhase {
        if !self.isolated && facts.lockout.is_none() {
            return CheckPhase::Isolation;
        }
        let run = if self.turned { &self.reversed } else { &self.first };
        match self.picked.or_else(|| run.iter().position(Option::is_none)) {
            Some(station) => CheckPhase::Reading { station },
            None if self.turned => CheckPhase::Complete,
            None => CheckPhase::TurnBar,
        }
    }

    /// What the readings say, once both runs are whole.
    pub fn outcome(&self, facts: &BenchFacts) -> Option<Result<CheckOutcome, CheckRefusal>> {
        let readings = self.run(&self.first)?;
        let reversed = self.run(&self.reversed)?;
        Some(judged(readings, reversed, facts).map_err(CheckRefusal::from))
    }

    fn run(&self, readings: &[Option<Reading>]) -> Option<Vec<Station>> {
        let station = |(y, reading): (&Reading, &Option<Reading>)| {
            reading.map(|reading| Station { y: y.length(), dial: reading.length() })
        };
        self.stations.iter().zip(readings).map(station).collect()
    }
}

fn judged(readings: Vec<Station>, reversed: Vec<Station>, facts: &BenchFacts) -> Result<CheckOutcome, CalcError> {
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

/// What a step gives.
#[derive(Debug, PartialEq)]
pub struct CheckStepped {
    /// The check as it stands now; none when none is open.
    pub check: Option<Check>,
    /// What is to be done, in order.
    pub effects: Vec<CheckEffect>,
}

/// Takes one event: (open check, bench facts, event, time) to the check as it stands then and what is to be done.
///
/// # Errors
/// [`CheckRefusal`], with the numbers; the check given stays the true one.
pub fn step(
    check: Option<&Check>,
    facts: &BenchFacts,
    event: &GrinderEvent,
    now: &Moment,
) -> Result<CheckStepped, CheckRefusal> {
    match event {
        GrinderEvent::Overridden { reason } => {
            let grinder = overridden(facts, reason)?;
            let effects = vec![CheckEffect::GrinderChanged(Box::new(grinder))];
            return Ok(CheckStepped { check: check.cloned(), effects });
        }
        GrinderEvent::SpotChecked { unit, reading } => {
            let spot = super::spot::spot_check(facts, unit, *reading)?;
            return Ok(CheckStepped { check: check.cloned(), effects: vec![CheckEffect::SpotKept(spot)] });
        }
        GrinderEvent::Abandoned => {
            check.ok_or(CheckRefusal::NotHere)?;
            return Ok(CheckStepped { check: None, effects: vec![CheckEffect::Over] });
        }
        _ => {}
    }
    let operator = trained(facts)?;
    match (check, event) {
        (None, GrinderEvent::Started) => Ok(CheckStepped { check: Some(begun(facts, now)?), effects: Vec::new() }),
        (Some(_), GrinderEvent::Started) => Err(CheckRefusal::CheckOpen),
        (None, _) => Err(CheckRefusal::NotHere),
        (Some(check), GrinderEvent::Finished) => finished(check, facts, operator),
        (Some(check), _) => {
            let mut next = check.clone();
            next.take(facts, event)?;
            Ok(CheckStepped { check: Some(next), effects: Vec::new() })
        }
    }
}

/// Whoever stands at the bench, trained for it.
fn trained(facts: &BenchFacts) -> Result<&Operator, CheckRefusal> {
    let operator = facts.operator.as_ref().ok_or(CheckRefusal::NoOperator)?;
    if operator.trained { Ok(operator) } else { Err(CheckRefusal::NotTrained { name: operator.name.clone() }) }
}

fn begun(facts: &BenchFacts, now: &Moment) -> Result<Check, CheckRefusal> {
    let stations = facts.upkeep.check.stations.clone();
    crate::calc::master::STATIONS.check_entries("check stations", &stations)?;
    let none = vec![None; stations.len()];
    Ok(Check {
        started: now.clone(),
        stations,
        isolated: false,
        first: none.clone(),
        reversed: none,
        turned: false,
        picked: None,
    })
}

impl Check {
    fn take(&mut self, facts: &BenchFacts, event: &GrinderEvent) -> Result<(), CheckRefusal> {
        if let GrinderEvent::IsolationHeld { held_ms } = event {
            let wanted_ms = facts.gate.hold_ms;
            if *held_ms < wanted_ms {
                return Err(CheckRefusal::HeldTooShort { held_ms: *held_ms, wanted_ms });
            }
            self.isolated = true;
            return Ok(());
        }
        let phase = self.phase(facts);
        if phase == CheckPhase::Isolation {
            return Err(CheckRefusal::IsolationNeeded);
        }
        match (event, phase) {
            (GrinderEvent::Read { reading }, CheckPhase::Reading { station }) => self.read(facts, station, *reading),
            (GrinderEvent::StationPicked { station }, _) => {
                let station = *station as usize;
                self.stations.get(station).ok_or(CheckRefusal::NotHere)?;
                self.picked = Some(station);
                Ok(())
            }
            (GrinderEvent::BarTurned, CheckPhase::TurnBar) => {
                self.turned = true;
                Ok(())
            }
            (GrinderEvent::BarTurned, CheckPhase::Reading { station }) if !self.turned => {
                Err(CheckRefusal::StationOpen { station: station as u32 + 1 })
            }
            _ => Err(CheckRefusal::NotHere),
        }
    }

    fn read(&mut self, facts: &BenchFacts, station: usize, reading: Reading) -> Result<(), CheckRefusal> {
        let (least, most) = crate::visit::dial_range(facts);
        if !(least..=most).contains(&reading) {
            return Err(CheckRefusal::OutOfRange { reading, least, most });
        }
        let run = if self.turned { &mut self.reversed } else { &mut self.first };
        if let Some(slot) = run.get_mut(station) {
            *slot = Some(reading);
        }
        self.picked = None;
        Ok(())
    }
}

fn finished(check: &Check, facts: &BenchFacts, operator: &Operator) -> Result<CheckStepped, CheckRefusal> {
    match check.phase(facts) {
        CheckPhase::Complete => {}
        CheckPhase::Isolation => return Err(CheckRefusal::IsolationNeeded),
        CheckPhase::Reading { station } => return Err(CheckRefusal::StationOpen { station: station as u32 + 1 }),
        CheckPhase::TurnBar => return Err(CheckRefusal::NotTurned),
    }
    let outcome = check.outcome(facts).ok_or(CheckRefusal::NotTurned)??;
    let grinder = checked(facts, operator, &outcome);
    Ok(CheckStepped { check: None, effects: vec![CheckEffect::GrinderChanged(Box::new(grinder)), CheckEffect::Over] })
}

/// The grinder's record after a check. Only a true one counts for the next months; one out of true leaves the old day
/// and takes away whatever a lead had allowed before it was known.
fn checked(facts: &BenchFacts, operator: &Operator, outcome: &CheckOutcome) -> Grinder {
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
fn overridden(facts: &BenchFacts, reason: &str) -> Result<Grinder, CheckRefusal> {
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
