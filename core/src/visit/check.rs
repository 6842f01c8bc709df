//! Check: the unit looked at and measured, nothing changed, and said whether work is due.

use super::Visit;
use super::event::{Effect, Event, Place};
use super::gate::Block;
use super::height::height_in_range;
use super::refusal::Refusal;
use super::relief::land_in_range;
use super::values::Values;
use crate::calc::uncertainty::{COVERAGE, at_most, of_difference};
use crate::facts::BenchFacts;
use crate::quantity::Length;
use crate::reading::Reading;
use crate::record::{Service, ServiceVerdict};

/// What Check found.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct CheckState {
    values: Values,
    paper: Option<bool>,
}

/// Why work is due.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum DueReason {
    /// The reel has reached its wear limit.
    WornOut {
        /// The smaller diameter, on the limit's basis.
        smallest: Length,
        /// The limit.
        limit: Reading,
    },
    /// The reel is coned beyond the tolerance, as measured.
    Cone {
        /// Leading less trailing diameter.
        cone: Length,
        /// The tolerance.
        tolerance: Length,
    },
    /// The land has reached its limit: relief is due.
    Land {
        /// The wider of both ends.
        land: Reading,
        /// The limit.
        limit: Reading,
    },
    /// Paper is not cut along the whole length.
    Paper,
    /// The height of cut differs between the stations, or from the one wanted.
    Height {
        /// The larger error.
        error: Length,
        /// The tolerance.
        tolerance: Length,
    },
}

/// What Check says.
#[derive(Debug, Clone, PartialEq)]
pub struct CheckOutcome {
    /// Leading less trailing diameter.
    pub cone: Length,
    /// Its expanded uncertainty, about 95 %.
    pub cone_u95: Length,
    /// Why work is due; none when the unit is fit.
    pub due: Vec<DueReason>,
}

const PLACES: [Place; 4] = [Place::LandLead, Place::LandTrail, Place::HeightLeft, Place::HeightRight];

impl CheckState {
    /// What was read at a place.
    pub fn reading(&self, place: Place) -> Option<Reading> {
        self.values.get(place)
    }

    /// The place that is asked for now.
    pub fn asked(&self) -> Option<Place> {
        self.values.asked(&PLACES)
    }

    /// Whether paper is cut along the whole length, once somebody tried.
    pub const fn paper(&self) -> Option<bool> {
        self.paper
    }
}

impl Visit {
    /// What Check says, once everything is read and tried. A limit that is only touched counts as reached.
    ///
    /// # Errors
    /// The calculation's own refusal about what was taped.
    pub fn check_outcome(&self, facts: &BenchFacts) -> Option<Result<CheckOutcome, Refusal>> {
        let state = &self.check;
        let land = state.values.larger(Place::LandLead, Place::LandTrail)?;
        let heights = (state.reading(Place::HeightLeft)?, state.reading(Place::HeightRight)?);
        let paper = state.paper?;
        Some(self.checked(facts, land, heights, paper))
    }

    fn checked(
        &self,
        facts: &BenchFacts,
        land: Reading,
        heights: (Reading, Reading),
        paper: bool,
    ) -> Result<CheckOutcome, Refusal> {
        let (lead, trail) = self.tape.ends().ok_or(Refusal::Missing { place: Place::Lead })?;
        let unit_type = &self.unit.unit_type;
        let cone = lead.length() - trail.length();
        let (on_lead, on_trail, on_centre) = self.on_limit_basis()?;
        let smallest = on_centre.map_or_else(|| on_lead.min(on_trail), |centre| centre.min(on_lead).min(on_trail));
        let mut due = Vec::new();
        if smallest <= unit_type.wear_limit.length() {
            due.push(DueReason::WornOut { smallest, limit: unit_type.wear_limit });
        }
        if !at_most(cone.abs(), facts.limits.cone) {
            due.push(DueReason::Cone { cone, tolerance: facts.limits.cone });
        }
        if land >= unit_type.land_limit {
            due.push(DueReason::Land { land, limit: unit_type.land_limit });
        }
        if !paper {
            due.push(DueReason::Paper);
        }
        let error = self.height_error(heights);
        if !at_most(error, facts.limits.setup.height) {
            due.push(DueReason::Height { error, tolerance: facts.limits.setup.height });
        }
        let cone_u95 = of_difference(facts.instruments.tape_graduation.length(), Length::ZERO) * COVERAGE;
        Ok(CheckOutcome { cone, cone_u95, due })
    }

    /// From the height that is wanted, or where none is known from one station to the other.
    fn height_error(&self, (left, right): (Reading, Reading)) -> Length {
        match self.height_wanted() {
            Some(wanted) => {
                let off = |reading: Reading| (reading.length() - wanted.length()).abs();
                off(left).max(off(right))
            }
            None => (left.length() - right.length()).abs(),
        }
    }

    pub(super) fn check_event(&mut self, facts: &BenchFacts, event: &Event) -> Result<Vec<Effect>, Refusal> {
        match event {
            Event::Read { reading } => self.check_read(*reading)?,
            Event::PlacePicked { place } if PLACES.contains(place) => self.check.values.pick(Some(*place)),
            Event::PaperCut { whole_length } => self.check.paper = Some(*whole_length),
            Event::Next => return self.leave_check(facts),
            _ => return Err(self.not_here()),
        }
        self.label.void();
        Ok(Vec::new())
    }

    fn check_read(&mut self, reading: Reading) -> Result<(), Refusal> {
        let place = self.check.asked().ok_or(Refusal::NoNumberAsked)?;
        match place {
            Place::HeightLeft | Place::HeightRight => height_in_range(place, reading)?,
            _ => land_in_range(place, reading)?,
        }
        self.check.values.set(place, reading);
        Ok(())
    }

    fn leave_check(&mut self, facts: &BenchFacts) -> Result<Vec<Effect>, Refusal> {
        for place in PLACES {
            self.check.reading(place).ok_or(Refusal::Missing { place })?;
        }
        let outcome = self.check_outcome(facts).ok_or(Refusal::PaperNotSaid)??;
        let verdict = if outcome.due.is_empty() { ServiceVerdict::Fit } else { ServiceVerdict::Due };
        let read = |place| self.check.reading(place);
        let service = Service {
            land: read(Place::LandLead).zip(read(Place::LandTrail)),
            height_of_cut: read(Place::HeightLeft).min(read(Place::HeightRight)),
            ..self.service(facts, verdict)?
        };
        self.check.values.pick(None);
        let mut effects = vec![Effect::ServiceDone { service: Box::new(service), ready: true }];
        effects.extend(self.enter_next());
        Ok(effects)
    }

    /// A service of this visit as it is put on the unit's card, by whoever stands at the bench.
    pub(super) fn service(&mut self, facts: &BenchFacts, verdict: ServiceVerdict) -> Result<Service, Refusal> {
        let operator = facts.operator.as_ref().ok_or(Refusal::Blocked(Block::NoOperator))?;
        self.done_by = Some(operator.initials.clone());
        Ok(Service {
            date: facts.today,
            operator: operator.initials.clone(),
            kind: self.kind,
            bedknife: None,
            thickness: None,
            land: None,
            height_of_cut: None,
            verdict,
            visit: self.id.clone(),
        })
    }
}
