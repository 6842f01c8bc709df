//! Rear: the rear roller trued to the rails, read with an indicator along its top.

use super::Visit;
use super::event::{Answer, Effect, Event, Place, Question};
use super::front::meant_thousandths;
use super::refusal::Refusal;
use crate::calc::rear::{Rear, RearInput, RearUncertainty, RearVerdict, rear};
use crate::facts::BenchFacts;
use crate::quantity::Length;
use crate::reading::Reading;

/// What Rear read and turned.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct RearState {
    rounds: Vec<RearRound>,
    left: Option<Reading>,
    right: Option<Reading>,
    picked: Option<Place>,
}

/// A round that ended with a turn.
#[derive(Debug, Clone, PartialEq)]
pub struct RearRound {
    /// Indicator at the operator's left.
    pub left: Reading,
    /// Indicator at the operator's right.
    pub right: Reading,
    /// What they said.
    pub outcome: Rear,
}

/// An indicator further than this from its zero was not set on the roller: its own travel ends about there.
const INDICATOR_MOST: Reading = Reading::from_nanometres(12_700_000);
const INDICATOR_LEAST: Reading = Reading::from_nanometres(-12_700_000);

impl RearState {
    /// The rounds that ended with a turn, oldest first.
    pub fn rounds(&self) -> &[RearRound] {
        &self.rounds
    }

    /// The reading at a place of this round.
    pub const fn reading(&self, place: Place) -> Option<Reading> {
        match place {
            Place::RearLeft => self.left,
            Place::RearRight => self.right,
            Place::Lead | Place::Trail | Place::Centre | Place::Land | Place::HeightOfCut => None,
        }
    }

    /// The place that is asked for now.
    pub fn asked(&self) -> Option<Place> {
        self.picked
            .or_else(|| [Place::RearLeft, Place::RearRight].into_iter().find(|place| self.reading(*place).is_none()))
    }
}

impl Visit {
    /// What the readings of the round in hand say, once both are there. End b is the operator's right.
    pub fn rear_outcome(&self, facts: &BenchFacts) -> Option<Result<Rear, Refusal>> {
        let (left, right) = (self.rear.left?, self.rear.right?);
        let unit_type = &self.unit.unit_type;
        let span = unit_type.rear.right.y.length() - unit_type.rear.left.y.length();
        let input = RearInput {
            reading_a: left.length(),
            reading_b: right.length(),
            roller: None,
            reading_span: unit_type.rear_reading_span.length(),
            adjuster_span: span,
            frame: unit_type.frame,
            tolerance: facts.limits.rear,
            square_limit: None,
            frame_limit: None,
            uncertainty: Some(RearUncertainty {
                indicator_graduation: facts.instruments.indicator_graduation.length(),
                indicator_sd: Length::ZERO,
            }),
            adjuster_kind: Some(unit_type.rear.right.kind),
        };
        Some(rear(&input).map_err(Refusal::from))
    }

    /// Whether Rear may be left.
    pub fn rear_done(&self, facts: &BenchFacts) -> bool {
        matches!(self.rear_outcome(facts), Some(Ok(outcome)) if outcome.verdict == RearVerdict::Parallel)
    }

    pub(super) fn rear_event(&mut self, facts: &BenchFacts, event: &Event) -> Result<Vec<Effect>, Refusal> {
        match event {
            Event::Read { reading } => self.rear_read(facts, *reading),
            Event::PlacePicked { place: place @ (Place::RearLeft | Place::RearRight) } => {
                self.rear.picked = Some(*place);
                Ok(Vec::new())
            }
            Event::Turned { .. } => self.rear_turned(facts),
            Event::Next if self.rear_done(facts) => {
                // The rear roller stands as it should, but the reel may have been left in the meantime.
                self.require_trued(facts)?;
                Ok(self.enter_next())
            }
            Event::Next => Err(Refusal::NotProven),
            _ => Err(self.not_here()),
        }
    }

    fn rear_read(&mut self, facts: &BenchFacts, reading: Reading) -> Result<Vec<Effect>, Refusal> {
        let place = self.rear.asked().ok_or(Refusal::NoNumberAsked)?;
        if !(INDICATOR_LEAST..=INDICATOR_MOST).contains(&reading) {
            return Err(Refusal::OutOfRange {
                place: Some(place),
                reading,
                least: INDICATOR_LEAST,
                most: INDICATOR_MOST,
            });
        }
        let within = |offered: &Reading| (INDICATOR_LEAST..=INDICATOR_MOST).contains(offered);
        if let Some(offered) = meant_thousandths(reading, facts.instruments.indicator_graduation).filter(within) {
            self.question = Some(Question::TooFine { reading, offered });
            return Ok(Vec::new());
        }
        self.keep_indicator(place, reading)
    }

    fn keep_indicator(&mut self, place: Place, reading: Reading) -> Result<Vec<Effect>, Refusal> {
        match place {
            Place::RearLeft => self.rear.left = Some(reading),
            Place::RearRight => self.rear.right = Some(reading),
            Place::Lead | Place::Trail | Place::Centre | Place::Land | Place::HeightOfCut => {
                return Err(Refusal::NoNumberAsked);
            }
        }
        self.rear.picked = None;
        Ok(Vec::new())
    }

    pub(super) fn rear_answer(&mut self, question: &Question, answer: Answer) -> Result<Vec<Effect>, Refusal> {
        let Question::TooFine { reading, offered } = question else { return Err(Refusal::NotAnAnswer) };
        let place = self.rear.asked().ok_or(Refusal::NoNumberAsked)?;
        match answer {
            Answer::Keep => self.keep_indicator(place, *reading),
            Answer::Offered => self.keep_indicator(place, *offered),
            Answer::Again | Answer::Stop => Ok(Vec::new()),
        }
    }

    fn rear_turned(&mut self, facts: &BenchFacts) -> Result<Vec<Effect>, Refusal> {
        let left = self.rear.left.ok_or(Refusal::Missing { place: Place::RearLeft })?;
        let right = self.rear.right.ok_or(Refusal::Missing { place: Place::RearRight })?;
        let outcome = self.rear_outcome(facts).ok_or(Refusal::NoNumberAsked)??;
        if outcome.verdict == RearVerdict::Parallel {
            return Err(self.not_here());
        }
        self.unit.unit_type.rear.right.kind.turned(outcome.degrees);
        self.rear.rounds.push(RearRound { left, right, outcome });
        (self.rear.left, self.rear.right, self.rear.picked) = (None, None, None);
        Ok(Vec::new())
    }

    /// The rear roller is to be trued anew: the frame that carries it was moved.
    pub(super) fn begin_rear_again(&mut self) {
        self.rear = RearState::default();
    }
}
