//! Back-lap: the reel run backwards against the bedknife with compound, which sharpens and takes nothing off that a
//! tape would show.

use super::event::{Effect, Event, Place};
use super::refusal::Refusal;
use super::{Stage, Visit};
use crate::facts::BenchFacts;
use crate::moment::Moment;
use crate::record::{Service, ServiceVerdict};

/// How it was lapped.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct BackLapState {
    runs: u32,
    under_way: bool,
    stood_still: bool,
    minutes: Option<u32>,
    grit: Option<u32>,
    picked: Option<Place>,
    paper_cut: bool,
}

/// Nobody laps for longer in one visit: a reel that needs it needs the wheel.
const MINUTES_MOST: u32 = 120;
/// Mesh of lapping compound, from the coarsest to a polish (common practice).
const GRIT: (u32, u32) = (36, 600);

impl BackLapState {
    /// How often it was run.
    pub const fn runs(&self) -> u32 {
        self.runs
    }

    /// Whether it was started and nobody has seen the reel come to rest since.
    pub const fn turning(&self) -> bool {
        self.under_way && !self.stood_still
    }

    /// Whether the reel has come to rest.
    pub const fn stood_still(&self) -> bool {
        self.stood_still
    }

    /// For how long it was lapped, minutes.
    pub const fn minutes(&self) -> Option<u32> {
        self.minutes
    }

    /// The compound's mesh.
    pub const fn grit(&self) -> Option<u32> {
        self.grit
    }

    /// Whether paper is cut along the whole length.
    pub const fn paper_cut(&self) -> bool {
        self.paper_cut
    }

    /// What is asked for now.
    pub fn asked(&self) -> Option<Place> {
        self.picked.or(match (self.minutes, self.grit) {
            (None, _) => Some(Place::Minutes),
            (Some(_), None) => Some(Place::Grit),
            (Some(_), Some(_)) => None,
        })
    }

    pub(super) const fn begin(&mut self) {
        (self.under_way, self.stood_still, self.paper_cut) = (true, false, false);
        self.runs = self.runs.saturating_add(1);
    }

    pub(super) const fn stands(&mut self) {
        (self.under_way, self.stood_still) = (false, true);
    }
}

impl Visit {
    pub(super) fn back_lap_event(
        &mut self,
        facts: &BenchFacts,
        event: &Event,
        now: &Moment,
    ) -> Result<Vec<Effect>, Refusal> {
        let Stage::BackLap(running) = &self.stage else { return Err(self.not_here()) };
        match event {
            // To stop needs no clearance, and lapping ends when somebody says so.
            Event::StandStill { held_ms } => self.stand_still(facts, *held_ms),
            Event::Next => Err(running.lapse(facts, now).map_or(Refusal::PassesOpen { open: 1 }, Refusal::Lapsed)),
            _ => Err(self.not_here()),
        }
    }

    pub(super) fn back_lapped_event(&mut self, facts: &BenchFacts, event: &Event) -> Result<Vec<Effect>, Refusal> {
        match event {
            Event::CountRead { count } => self.lapped_with(*count),
            Event::PlacePicked { place: place @ (Place::Minutes | Place::Grit) } => {
                self.back_lap.picked = Some(*place);
                Ok(Vec::new())
            }
            Event::PaperCut { whole_length } => {
                self.back_lap.paper_cut = *whole_length;
                Ok(Vec::new())
            }
            Event::Next => self.leave_back_lap(facts),
            _ => Err(self.not_here()),
        }
    }

    fn lapped_with(&mut self, count: u32) -> Result<Vec<Effect>, Refusal> {
        let place = self.back_lap.asked().ok_or(Refusal::NoNumberAsked)?;
        let (least, most) = if place == Place::Grit { GRIT } else { (1, MINUTES_MOST) };
        if !(least..=most).contains(&count) {
            return Err(Refusal::CountOutOfRange { place, count, least, most });
        }
        if place == Place::Grit {
            self.back_lap.grit = Some(count);
        } else {
            self.back_lap.minutes = Some(count);
        }
        self.back_lap.picked = None;
        Ok(Vec::new())
    }

    fn leave_back_lap(&mut self, facts: &BenchFacts) -> Result<Vec<Effect>, Refusal> {
        if let Some(place) = self.back_lap.asked() {
            return Err(Refusal::Missing { place });
        }
        if !self.back_lap.paper_cut {
            return Err(Refusal::PaperNotCut);
        }
        let service: Service = self.service(facts, ServiceVerdict::Done)?;
        let mut effects = vec![Effect::ServiceDone { service: Box::new(service), ready: true }];
        effects.extend(self.enter_next());
        Ok(effects)
    }
}
