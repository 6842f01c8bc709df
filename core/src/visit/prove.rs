//! Prove: what came out, against what Front left.

use super::Visit;
use super::event::{Answer, BedknifeWork, Effect, Event, Place, Question, StopReason};
use super::gate::Block;
use super::kind::StageName;
use super::refusal::Refusal;
use super::tape::diameter_in_range;
use crate::calc::plan::PlanVerdict;
use crate::calc::prove::{Ends, Prove, ProveInput, ProveVerdict, TiltLeft, prove};
use crate::calc::uncertainty::at_most;
use crate::facts::BenchFacts;
use crate::quantity::Length;
use crate::reading::Reading;
use crate::record::Work;

/// What Prove found.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct ProveState {
    readings: [Option<Reading>; 5],
    picked: Option<Place>,
    bedknife: Option<BedknifeWork>,
    paper_cut: bool,
    accepted_by: Option<String>,
    proved_by: Option<String>,
}

/// The verdict on the whole visit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Judgement {
    /// Front and Prove are both proven.
    Proven,
    /// Within tolerance, not proven, recorded by name.
    WithinNotProven,
}

/// The values in the order they are asked; the first two are needed.
const PLACES: [Place; 5] = [Place::Lead, Place::Trail, Place::Centre, Place::Land, Place::HeightOfCut];

/// A land wider than this is no land but the whole blade.
pub(super) const LAND_MOST: Reading = Reading::from_nanometres(12_700_000);
/// Turf is not mown higher than this with a reel.
pub(super) const HEIGHT_MOST: Reading = Reading::from_nanometres(127_000_000);

impl ProveState {
    /// What was read at a place.
    pub fn reading(&self, place: Place) -> Option<Reading> {
        PLACES.iter().position(|known| *known == place).and_then(|index| self.readings[index])
    }

    /// The place that is asked for now.
    pub fn asked(&self) -> Option<Place> {
        self.picked.or_else(|| {
            [Place::Lead, Place::Trail, Place::Land, Place::HeightOfCut]
                .into_iter()
                .find(|place| self.reading(*place).is_none())
        })
    }

    /// What was done to the bedknife.
    pub const fn bedknife(&self) -> Option<BedknifeWork> {
        self.bedknife
    }

    /// Whether paper is cut along the whole length.
    pub const fn paper_cut(&self) -> bool {
        self.paper_cut
    }

    /// Who left Prove: the name on the work and on its label, whoever prints it.
    pub fn proved_by(&self) -> Option<&str> {
        self.proved_by.as_deref()
    }

    /// Who recorded it as within tolerance, not proven.
    pub fn accepted_by(&self) -> Option<&str> {
        self.accepted_by.as_deref()
    }

    fn set(&mut self, place: Place, reading: Option<Reading>) {
        if let Some(index) = PLACES.iter().position(|known| *known == place) {
            self.readings[index] = reading;
            self.picked = None;
        }
        // Land and height of cut say nothing about the cone that was accepted.
        if matches!(place, Place::Lead | Place::Trail | Place::Centre) {
            self.accepted_by = None;
        }
    }
}

impl Visit {
    /// What the readings say, once both ends are there.
    pub fn proved(&self, facts: &BenchFacts) -> Option<Result<Prove, Refusal>> {
        let state = &self.prove;
        let (lead, trail) = (state.reading(Place::Lead)?, state.reading(Place::Trail)?);
        let unit_type = &self.unit.unit_type;
        let tilt_left = self.front_outcome(facts).and_then(Result::ok).map(|front| TiltLeft {
            tilt: front.tilt,
            tilt_u95: front.tilt_u95.unwrap_or(Length::ZERO),
            zero_end: self.zero_end(),
        });
        let before = self.tape.ends().map(|(lead, trail)| Ends { lead: lead.length(), trail: trail.length() });
        let input = ProveInput {
            lead: lead.length(),
            trail: trail.length(),
            centre: state.reading(Place::Centre).map(Reading::length),
            before,
            tape_graduation: facts.instruments.tape_graduation.length(),
            tape_sd: facts.upkeep.tape_sd,
            tolerance: facts.limits.cone,
            tilt_left,
            runout: None,
            runout_limit: None,
            land: state.reading(Place::Land).map(Reading::length),
            land_limit: Some(unit_type.land_limit.length()),
        };
        Some(prove(&input).map_err(Refusal::from))
    }

    /// The verdict on the visit, once there is one.
    pub fn judgement(&self, facts: &BenchFacts) -> Option<Judgement> {
        let outcome = self.proved(facts)?.ok()?;
        let proven = outcome.verdict == ProveVerdict::Pass;
        let accepted = outcome.verdict == ProveVerdict::Repeat && self.prove.accepted_by.is_some();
        match (proven && self.front.accepted_by().is_none(), proven || accepted) {
            (true, _) => Some(Judgement::Proven),
            (false, true) => Some(Judgement::WithinNotProven),
            (false, false) => None,
        }
    }

    pub(super) fn prove_event(&mut self, facts: &BenchFacts, event: &Event) -> Result<Vec<Effect>, Refusal> {
        match event {
            Event::Read { reading } => {
                self.label.void();
                self.prove_read(facts, *reading)
            }
            Event::PlacePicked { place } if PLACES.contains(place) => {
                self.prove.picked = Some(*place);
                Ok(Vec::new())
            }
            Event::BedknifeSaid { work } => {
                self.prove.bedknife = Some(*work);
                Ok(Vec::new())
            }
            Event::PaperCut { whole_length } => {
                self.prove.paper_cut = *whole_length;
                Ok(Vec::new())
            }
            Event::MeasuredAgain => {
                self.prove.set(Place::Lead, None);
                self.prove.set(Place::Trail, None);
                self.prove.set(Place::Centre, None);
                self.label.void();
                Ok(Vec::new())
            }
            Event::NotProvenAccepted => self.accept_prove(facts),
            Event::Regrind => self.regrind_asked(facts),
            Event::Next => self.leave_prove(facts),
            _ => Err(self.not_here()),
        }
    }

    fn prove_read(&mut self, facts: &BenchFacts, reading: Reading) -> Result<Vec<Effect>, Refusal> {
        let place = self.prove.asked().ok_or(Refusal::NoNumberAsked)?;
        let within = |least: Reading, most: Reading| {
            if (least..=most).contains(&reading) {
                return Ok(());
            }
            Err(Refusal::OutOfRange { place: Some(place), reading, least, most })
        };
        match place {
            Place::Lead | Place::Trail | Place::Centre => diameter_in_range(place, reading, &self.unit.unit_type)?,
            Place::Land => within(Reading::from_nanometres(1), LAND_MOST)?,
            Place::HeightOfCut => within(Reading::from_nanometres(1), HEIGHT_MOST)?,
            _ => return Err(Refusal::NoNumberAsked),
        }
        self.prove.set(place, Some(reading));
        self.question = self.doubt_after_grind(facts, place, reading);
        Ok(Vec::new())
    }

    /// A grind takes off no more than was planned and puts nothing on.
    fn doubt_after_grind(&self, facts: &BenchFacts, place: Place, reading: Reading) -> Option<Question> {
        let (lead, trail) = self.tape.ends()?;
        let last = match place {
            Place::Lead => lead,
            Place::Trail => trail,
            Place::Centre => self.tape.reading(Place::Centre)?,
            _ => return None,
        };
        let removed = last.length() - reading.length();
        let grown = !at_most(-removed, facts.limits.cone);
        (grown || !at_most(removed, facts.limits.plausible_change)).then_some(Question::FarFromLast {
            place,
            reading,
            last,
        })
    }

    pub(super) fn prove_answer(&mut self, question: &Question, answer: Answer) -> Result<Vec<Effect>, Refusal> {
        match (question, answer) {
            (Question::FarFromLast { place, .. }, Answer::Again) => {
                self.prove.set(*place, None);
                self.prove.picked = Some(*place);
                Ok(Vec::new())
            }
            (Question::BelowLimit { .. }, Answer::Keep) => {
                self.regrind(self.first_on_rails().unwrap_or(StageName::Front))
            }
            (Question::BelowLimit { .. }, Answer::Again) => self.regrind(StageName::Tape),
            (Question::BelowLimit { .. }, Answer::Stop) => self.stop(StopReason::BelowLimit),
            _ => Ok(Vec::new()),
        }
    }

    fn accept_prove(&mut self, facts: &BenchFacts) -> Result<Vec<Effect>, Refusal> {
        let outcome = self.proved(facts).ok_or(Refusal::Missing { place: Place::Lead })??;
        if outcome.verdict != ProveVerdict::Repeat {
            return Err(Refusal::NotProven);
        }
        let operator = facts.operator.as_ref().ok_or(Refusal::Blocked(Block::NoOperator))?;
        self.label.void();
        self.prove.accepted_by = Some(operator.initials.clone());
        Ok(Vec::new())
    }

    /// Another grind takes more off: the wear limit is asked about as it is at Tape.
    fn regrind_asked(&mut self, facts: &BenchFacts) -> Result<Vec<Effect>, Refusal> {
        let mut ahead = self.handed_on();
        let effects = ahead.regrind(self.first_on_rails().unwrap_or(StageName::Front))?;
        let plan = ahead.plan(facts)?;
        if plan.verdict == PlanVerdict::BelowLimit {
            self.question = Some(self.below_limit(&plan));
            return Ok(Vec::new());
        }
        *self = ahead;
        Ok(effects)
    }

    /// Back to the rails with what was just taped: the reel is as it came out, and the unit is trued again.
    fn regrind(&mut self, to: StageName) -> Result<Vec<Effect>, Refusal> {
        let state = &self.prove;
        let lead = state.reading(Place::Lead).ok_or(Refusal::Missing { place: Place::Lead })?;
        let trail = state.reading(Place::Trail).ok_or(Refusal::Missing { place: Place::Trail })?;
        self.tape.replace_ends(lead, trail, state.reading(Place::Centre));
        self.prove = ProveState { bedknife: state.bedknife, ..ProveState::default() };
        self.label.void();
        self.begin_front_again();
        self.begin_rear_again();
        self.begin_passes_again();
        // What stood on the plate is ground once more.
        self.plate.begin_again();
        Ok(self.enter(to))
    }

    fn leave_prove(&mut self, facts: &BenchFacts) -> Result<Vec<Effect>, Refusal> {
        for place in [Place::Lead, Place::Trail] {
            self.prove.reading(place).ok_or(Refusal::Missing { place })?;
        }
        let judgement = self.judgement(facts).ok_or(Refusal::NotProven)?;
        if !self.prove.paper_cut {
            return Err(Refusal::PaperNotCut);
        }
        let operator = facts.operator.as_ref().ok_or(Refusal::Blocked(Block::NoOperator))?;
        self.prove.proved_by = Some(operator.initials.clone());
        self.done_by = Some(operator.initials.clone());
        let work = self.work(facts, judgement).ok_or(Refusal::NotProven)?;
        self.prove.picked = None;
        let mut effects = vec![Effect::WorkDone(Box::new(work))];
        effects.extend(self.enter_next());
        Ok(effects)
    }

    fn work(&self, facts: &BenchFacts, judgement: Judgement) -> Option<Work> {
        let (before_lead, before_trail) = self.tape.ends()?;
        Some(Work {
            date: facts.today,
            operator: self.prove.proved_by.clone().unwrap_or_default(),
            before_lead,
            before_trail,
            lead: self.prove.reading(Place::Lead)?,
            trail: self.prove.reading(Place::Trail)?,
            land: self.prove.reading(Place::Land),
            height_of_cut: self.prove.reading(Place::HeightOfCut),
            proven: judgement == Judgement::Proven,
            visit: Some(self.id.clone()),
            lesson: self.lesson(facts),
        })
    }
}
