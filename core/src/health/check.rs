//! The grinder's check with a master bar, turned end for end so that the bar's own taper is not blamed on the rails.
//!
//! As with a visit, [`step`] is the only way through: the screen, a rehearsal, a replay of the journal and the tests
//! all use it. The wheel is touched to the bar, or an indicator on its head is read, at the same stations in both runs.

mod event;
mod judge;

pub use event::{CheckEffect, CheckRefusal, GrinderEvent};
pub use judge::CheckOutcome;

use crate::calc::master::Station;
use crate::facts::BenchFacts;
use crate::moment::Moment;
use crate::reading::Reading;
use crate::record::Operator;
use judge::{checked, judged, overridden};

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

    /// Where it stands. A lockout of one's own that was proved dead answers for
    /// isolation, as it does at a visit's stages.
    pub fn phase(&self, facts: &BenchFacts) -> CheckPhase {
        if !self.isolated && !facts.locked_dead() {
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
