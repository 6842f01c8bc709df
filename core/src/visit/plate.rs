//! Plate: a unit whose reel is moved to its bedknife is checked on a surface plate before it may leave.
//!
//! Both rollers stand on the plate, which is the ground. The edge's height over it at both ends tells whether the
//! bedknife lies along the rollers, and the thickest feeler that passes between blade and edge at both ends whether
//! the reel lies along the bedknife. Either difference counts against one tolerance, guarded by what the gauge and the
//! steps of the feeler set cannot tell apart (common practice; the model is ours). What is within tolerance and not
//! proven may be read again at the same setting: the sets are pooled (see [`super::repeats`]).

use super::Visit;
use super::event::{Effect, Event, Place};
use super::gate::Block;
use super::height::height_in_range;
use super::kind::StageName;
use super::refusal::Refusal;
use super::repeats::Repeats;
use crate::calc::uncertainty::{COVERAGE, Decision, decide};
use crate::facts::BenchFacts;
use crate::quantity::Length;
use crate::reading::Reading;

/// What was read on the plate.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct PlateState {
    values: Repeats,
    again: u32,
    accepted_by: Option<String>,
}

/// What the readings on the plate say.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlateOutcome {
    /// How much higher the bedknife's edge stands over the plate at the operator's right than at the left.
    pub edge: Length,
    /// Its expanded uncertainty, about 95 %.
    pub edge_u95: Length,
    /// How much wider the gap between reel and bedknife is at the operator's right than at the left.
    pub gap: Length,
    /// Its expanded uncertainty, about 95 %.
    pub gap_u95: Length,
    /// What can be said about the bedknife to the rollers.
    pub edge_decision: Decision,
    /// What can be said about the reel to the bedknife.
    pub gap_decision: Decision,
}

impl PlateOutcome {
    /// What can be said about both.
    pub const fn decision(&self) -> Decision {
        match (self.edge_decision, self.gap_decision) {
            (Decision::Beyond, _) | (_, Decision::Beyond) => Decision::Beyond,
            (Decision::Unproven, _) | (_, Decision::Unproven) => Decision::Unproven,
            (Decision::Proven, Decision::Proven) => Decision::Proven,
        }
    }
}

const EDGES: [Place; 2] = [Place::EdgeLeft, Place::EdgeRight];
const GAPS: [Place; 2] = [Place::GapLeft, Place::GapRight];
const PLACES: [Place; 4] = [Place::EdgeLeft, Place::EdgeRight, Place::GapLeft, Place::GapRight];
/// A gap that takes a thicker feeler was not closed at all.
const GAP_MOST: Reading = Reading::from_nanometres(2_540_000);

impl PlateState {
    /// What was read at a place, in the set in hand.
    pub fn reading(&self, place: Place) -> Option<Reading> {
        self.values.get(place)
    }

    /// The place that is asked for now.
    pub fn asked(&self) -> Option<Place> {
        self.values.asked(&PLACES)
    }

    /// How many sets of readings are pooled at this setting.
    pub const fn sets(&self) -> usize {
        self.values.sets()
    }

    /// How often it was measured again, whether the reel was moved or not.
    pub const fn again(&self) -> u32 {
        self.again
    }

    /// Who recorded it as within tolerance, not proven.
    pub fn accepted_by(&self) -> Option<&str> {
        self.accepted_by.as_deref()
    }

    pub(super) fn begin_again(&mut self) {
        *self = Self::default();
    }
}

impl Visit {
    /// What the readings on the plate say, once all four are there.
    pub fn plate_outcome(&self, facts: &BenchFacts) -> Option<PlateOutcome> {
        let values = &self.plate.values;
        let read = |place| values.mean(place);
        let edge = read(Place::EdgeRight)? - read(Place::EdgeLeft)?;
        let gap = read(Place::GapRight)? - read(Place::GapLeft)?;
        let (gauges, tolerance) = (facts.instruments.gauges, facts.limits.setup.plate);
        // A difference of two means.
        let u95 = |places, step: Reading| values.u_mean(places, step.length()) * 2.0_f64.sqrt() * COVERAGE;
        let (edge_u95, gap_u95) = (u95(&EDGES, gauges.height_graduation), u95(&GAPS, gauges.feeler_step));
        Some(PlateOutcome {
            edge,
            edge_u95,
            gap,
            gap_u95,
            edge_decision: decide(edge, edge_u95, tolerance),
            gap_decision: decide(gap, gap_u95, tolerance),
        })
    }

    /// Whether the plate check is made: proven, or recorded by name. There is no way round it.
    pub fn plate_done(&self, facts: &BenchFacts) -> bool {
        self.plate_outcome(facts).is_some_and(|outcome| match outcome.decision() {
            Decision::Proven => true,
            Decision::Unproven => self.plate.accepted_by.is_some(),
            Decision::Beyond => false,
        })
    }

    /// Whether this visit has passed the plate, where its unit needs it.
    pub(super) fn plate_passed(&self, facts: &BenchFacts) -> bool {
        !self.stages().contains(&StageName::Plate) || self.plate_done(facts)
    }

    pub(super) fn plate_event(&mut self, facts: &BenchFacts, event: &Event) -> Result<Vec<Effect>, Refusal> {
        match event {
            Event::Read { reading } => self.plate_read(*reading)?,
            Event::PlacePicked { place } if PLACES.contains(place) => self.plate.values.pick(Some(*place)),
            Event::MeasuredAgain => self.measure_plate_again(facts),
            Event::NotProvenAccepted => self.accept_plate(facts)?,
            Event::Next => {
                if let Some(place) = self.plate.asked() {
                    return Err(Refusal::Missing { place });
                }
                if !self.plate_done(facts) {
                    return Err(Refusal::NotProven);
                }
                return Ok(self.enter_next());
            }
            _ => return Err(self.not_here()),
        }
        self.label.void();
        Ok(Vec::new())
    }

    /// Beyond the tolerance something was moved before it is measured again. Within it nothing was: another set is
    /// pooled with those there are, so that no reading is thrown away because it did not please. What is typed wrong is
    /// put right at its own place.
    fn measure_plate_again(&mut self, facts: &BenchFacts) {
        match self.plate_outcome(facts).map(|outcome| outcome.decision()) {
            None => self.plate.values.begin_set(),
            Some(Decision::Beyond) => self.plate.values.settle(),
            Some(Decision::Proven | Decision::Unproven) => self.plate.values.repeat(),
        }
        self.plate.again += 1;
        self.plate.accepted_by = None;
    }

    fn plate_read(&mut self, reading: Reading) -> Result<(), Refusal> {
        let place = self.plate.asked().ok_or(Refusal::NoNumberAsked)?;
        match place {
            Place::EdgeLeft | Place::EdgeRight => height_in_range(place, reading)?,
            _ if (Reading::ZERO..=GAP_MOST).contains(&reading) => {}
            _ => {
                let (least, most) = (Reading::ZERO, GAP_MOST);
                return Err(Refusal::OutOfRange { place: Some(place), reading, least, most });
            }
        }
        self.plate.values.set(place, reading);
        self.plate.accepted_by = None;
        Ok(())
    }

    fn accept_plate(&mut self, facts: &BenchFacts) -> Result<(), Refusal> {
        let outcome = self.plate_outcome(facts).ok_or(Refusal::NoNumberAsked)?;
        if outcome.decision() != Decision::Unproven {
            return Err(Refusal::NotProven);
        }
        let operator = facts.operator.as_ref().ok_or(Refusal::Blocked(Block::NoOperator))?;
        self.plate.accepted_by = Some(operator.initials.clone());
        Ok(())
    }
}
