//! Tape: diameters at both ends, and the middle where somebody wants it.

use super::Visit;
use super::event::{Answer, Effect, Event, Place, Question, StopReason};
use super::refusal::Refusal;
use crate::bench::{End, LimitBasis};
use crate::calc::plan::{Plan, PlanVerdict};
use crate::calc::tape::{Tape, TapeInput, tape};
use crate::calc::uncertainty::at_most;
use crate::facts::BenchFacts;
use crate::quantity::Length;
use crate::reading::Reading;
use crate::record::UnitType;

/// What Tape read.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct TapeState {
    readings: [Option<Reading>; 3],
    picked: Option<Place>,
}

/// The places in the order they are asked.
const PLACES: [Place; 3] = [Place::Lead, Place::Trail, Place::Centre];

/// Below this share of its wear limit a diameter cannot be this reel's: an entry mistake, not wear.
const LEAST_OF_LIMIT: f64 = 0.75;
/// Above this share of its diameter when new it cannot be this reel's.
const MOST_OF_NEW: f64 = 1.25;

impl TapeState {
    /// Both ends as read, once they are there.
    pub fn ends(&self) -> Option<(Reading, Reading)> {
        Some((self.readings[0]?, self.readings[1]?))
    }

    /// What was read at a place.
    pub fn reading(&self, place: Place) -> Option<Reading> {
        PLACES.iter().position(|known| *known == place).and_then(|index| self.readings[index])
    }

    /// The place that is asked for now: the picked one, else the first that is missing and needed.
    pub fn asked(&self) -> Option<Place> {
        self.picked.or_else(|| [Place::Lead, Place::Trail].into_iter().find(|place| self.reading(*place).is_none()))
    }

    pub(super) fn replace_ends(&mut self, lead: Reading, trail: Reading, centre: Option<Reading>) {
        *self = Self { readings: [Some(lead), Some(trail), centre], picked: None };
    }

    fn set(&mut self, place: Place, reading: Option<Reading>) {
        if let Some(index) = PLACES.iter().position(|known| *known == place) {
            self.readings[index] = reading;
            self.picked = None;
        }
    }
}

/// Refuses a diameter that cannot be this reel's.
pub(super) fn diameter_in_range(place: Place, reading: Reading, unit_type: &UnitType) -> Result<(), Refusal> {
    let part = |whole: Reading, share: f64| Reading::from_nanometres((whole.nanometres() as f64 * share) as i64);
    let least = part(unit_type.wear_limit, LEAST_OF_LIMIT);
    let most = part(unit_type.new_diameter, MOST_OF_NEW);
    if (least..=most).contains(&reading) {
        return Ok(());
    }
    Err(Refusal::OutOfRange { place: Some(place), reading, least, most })
}

impl Visit {
    /// What the tape's readings say, once both ends are there.
    ///
    /// # Errors
    /// The calculation's own refusal.
    pub fn taped(&self) -> Option<Result<Tape, Refusal>> {
        let (lead, trail) = self.tape.ends()?;
        let unit_type = &self.unit.unit_type;
        let input = TapeInput {
            blades: unit_type.blades,
            lead: lead.length(),
            trail: trail.length(),
            centre: self.tape.reading(Place::Centre).map(Reading::length),
            land: self.unit.last.as_ref().and_then(|work| work.land).map(Reading::length),
            reel_temperature: None,
            tape_temperature: None,
            wear_limit: Some(unit_type.wear_limit.length()),
            limit_basis: unit_type.limit_basis,
            new_diameter: Some(unit_type.new_diameter.length()),
        };
        Some(tape(&input).map_err(Refusal::from))
    }

    pub(super) fn tape_event(&mut self, facts: &BenchFacts, event: &Event) -> Result<Vec<Effect>, Refusal> {
        match event {
            Event::Read { reading } => self.tape_read(facts, *reading),
            Event::PlacePicked { place } if PLACES.contains(place) => {
                self.tape.picked = Some(*place);
                Ok(Vec::new())
            }
            Event::Next => self.leave_tape(facts),
            _ => Err(self.not_here()),
        }
    }

    fn tape_read(&mut self, facts: &BenchFacts, reading: Reading) -> Result<Vec<Effect>, Refusal> {
        let place = self.tape.asked().ok_or(Refusal::NoNumberAsked)?;
        diameter_in_range(place, reading, &self.unit.unit_type)?;
        self.retape(|tape| tape.set(place, Some(reading)));
        self.question = self.doubt(facts, place, reading).or_else(|| self.doubt_about_ends(facts, place));
        Ok(Vec::new())
    }

    /// Changes what was taped. The dial's target and the schedule of passes hang on it: what was trued or ground to
    /// other diameters does not survive.
    fn retape(&mut self, change: impl FnOnce(&mut TapeState)) {
        let before = self.tape;
        change(&mut self.tape);
        if before.ends() != self.tape.ends() {
            self.begin_front_again();
        }
        if before.readings != self.tape.readings {
            self.begin_passes_again();
        }
    }

    /// The ends are not where they were thought to be.
    pub(super) fn begin_tape_again(&mut self) {
        self.retape(|tape| *tape = TapeState::default());
        self.begin_front_again();
    }

    pub(super) fn below_limit(&self, plan: &Plan) -> Question {
        Question::BelowLimit {
            ends_at: Reading::from_nanometres((plan.final_diameter.mm() * 1e6).round() as i64),
            limit: self.unit.unit_type.wear_limit,
        }
    }

    fn doubt(&self, facts: &BenchFacts, place: Place, reading: Reading) -> Option<Question> {
        let new = self.unit.unit_type.new_diameter;
        let far = facts.limits.plausible_change;
        if !at_most(reading.length() - new.length(), far) {
            return Some(Question::LargerThanNew { place, reading, new });
        }
        let work = self.unit.last.as_ref()?;
        let last = match place {
            Place::Lead => work.lead,
            Place::Trail => work.trail,
            _ => work.smallest(),
        };
        (!at_most((reading.length() - last.length()).abs(), far)).then_some(Question::FarFromLast {
            place,
            reading,
            last,
        })
    }

    /// A reel wears in its own pattern: a cone as large as last time but the other way round is more
    /// likely a tape held at the wrong end first.
    fn doubt_about_ends(&self, facts: &BenchFacts, place: Place) -> Option<Question> {
        if !matches!(place, Place::Lead | Place::Trail) {
            return None;
        }
        let (lead, trail) = self.tape.ends()?;
        let work = self.unit.last.as_ref()?;
        let cone = Reading::from_nanometres(lead.nanometres() - trail.nanometres());
        let last = Reading::from_nanometres(work.before_lead.nanometres() - work.before_trail.nanometres());
        let telling = |cone: Reading| at_most(facts.limits.swap_cone, cone.length().abs());
        let opposed = cone.nanometres().signum() * last.nanometres().signum() < 0;
        (telling(cone) && telling(last) && opposed).then_some(Question::EndsSwapped { cone, last })
    }

    fn leave_tape(&mut self, facts: &BenchFacts) -> Result<Vec<Effect>, Refusal> {
        if self.tape.reading(Place::Lead).is_none() {
            return Err(Refusal::Missing { place: Place::Lead });
        }
        if self.tape.reading(Place::Trail).is_none() {
            return Err(Refusal::Missing { place: Place::Trail });
        }
        if self.spins() {
            let plan = self.plan(facts)?;
            if plan.verdict == PlanVerdict::BelowLimit {
                self.question = Some(self.below_limit(&plan));
                return Ok(Vec::new());
            }
        }
        self.tape.picked = None;
        Ok(self.enter_next())
    }

    pub(super) fn tape_answer(&mut self, question: &Question, answer: Answer) -> Result<Vec<Effect>, Refusal> {
        match (question, answer) {
            (Question::BelowLimit { .. }, Answer::Stop) => return self.stop(StopReason::BelowLimit),
            (Question::BelowLimit { .. }, Answer::Keep) => {
                self.tape.picked = None;
                return Ok(self.enter_next());
            }
            (Question::BelowLimit { .. }, _) => {}
            (Question::EndsSwapped { .. }, Answer::Offered) => self.retape(|tape| tape.readings.swap(0, 1)),
            (Question::EndsSwapped { .. }, Answer::Again) => self.retape(|tape| {
                tape.set(Place::Lead, None);
                tape.set(Place::Trail, None);
            }),
            (Question::FarFromLast { place, .. } | Question::LargerThanNew { place, .. }, Answer::Again) => {
                self.retape(|tape| {
                    tape.set(*place, None);
                    tape.picked = Some(*place);
                });
            }
            _ => {}
        }
        Ok(Vec::new())
    }

    /// A diameter that was far from the expected and is right all the same may still have been taken at the wrong end.
    pub(super) fn kept_diameter(&mut self, facts: &BenchFacts, question: &Question) -> Result<Vec<Effect>, Refusal> {
        if let Question::FarFromLast { place, .. } | Question::LargerThanNew { place, .. } = question {
            self.question = self.doubt_about_ends(facts, *place);
        }
        Ok(Vec::new())
    }

    /// The diameters on the basis the wear limit was given in: leading, trailing, middle.
    pub(super) fn on_limit_basis(&self) -> Result<(Length, Length, Option<Length>), Refusal> {
        let taped = self.taped().ok_or(Refusal::Missing { place: Place::Lead })??;
        let (lead, trail) = self.tape.ends().ok_or(Refusal::Missing { place: Place::Trail })?;
        Ok(match self.unit.unit_type.limit_basis {
            LimitBasis::Tape => (lead.length(), trail.length(), self.tape.reading(Place::Centre).map(Reading::length)),
            LimitBasis::Caliper => (taped.diameter.lead, taped.diameter.trail, taped.diameter.centre),
        })
    }

    /// The end the dial is zeroed at: the larger one.
    pub fn zero_end(&self) -> End {
        self.tape.ends().map_or(End::Lead, |(lead, trail)| if trail > lead { End::Trail } else { End::Lead })
    }
}
