//! Rear: the rear roller trued to the rails, read with an indicator along its top, by what its frame allows.

use super::Visit;
use super::event::{Answer, Effect, Event, Hold, Place, Question, StopReason};
use super::front::meant_thousandths;
use super::gate::Block;
use super::kind::StageName;
use super::refusal::Refusal;
use crate::bench::FrameKind;
use crate::calc::adjuster::{AdjusterKind, Handwork};
use crate::calc::rear::{Rear, RearInput, RearUncertainty, RearVerdict, rear};
use crate::calc::shims::{Shims, ShimsInput, shims};
use crate::facts::BenchFacts;
use crate::quantity::Length;
use crate::reading::Reading;
use crate::record::Side;

/// What Rear read and turned.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct RearState {
    rounds: Vec<RearRound>,
    left: Option<Reading>,
    right: Option<Reading>,
    picked: Option<Place>,
    recorded_by: Option<String>,
}

/// What ended a round.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RearDone {
    /// An adjuster or an eccentric was turned.
    Turned,
    /// The side plates were squared.
    Squared,
    /// A stack of shims was laid in.
    Shimmed,
}

/// What is to be done about the rear roller.
#[derive(Debug, Clone, PartialEq)]
pub enum RearRemedy {
    /// Turn the adjuster at the operator's right.
    Turn,
    /// Loosen the side plates' bolts, settle the unit square on the rails, tighten, measure again.
    Square,
    /// Lay this stack in.
    Shim {
        /// At which side.
        at: Side,
        /// What to take from the shelf.
        stack: Shims,
    },
    /// Write it down: this frame has nothing to adjust.
    Record,
    /// Replace the frame, unless a lead lets the visit go on.
    ReplaceFrame,
}

/// A round that ended with something done.
#[derive(Debug, Clone, PartialEq)]
pub struct RearRound {
    /// Indicator at the operator's left.
    pub left: Reading,
    /// Indicator at the operator's right.
    pub right: Reading,
    /// What they said.
    pub outcome: Rear,
    /// What was done about it.
    pub done: RearDone,
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
            _ => None,
        }
    }

    /// Who wrote the error down, initials.
    pub fn recorded_by(&self) -> Option<&str> {
        self.recorded_by.as_deref()
    }

    fn was(&self, done: RearDone) -> bool {
        self.rounds.iter().any(|round| round.done == done)
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
            square_limit: Some(self.square_limit(facts)),
            frame_limit: Some(self.frame_limit(facts)),
            uncertainty: Some(RearUncertainty {
                indicator_graduation: facts.instruments.indicator_graduation.length(),
                indicator_sd: Length::ZERO,
            }),
            adjuster_kind: Some(unit_type.rear.right.kind),
        };
        Some(rear(&input).map_err(Refusal::from))
    }

    fn square_limit(&self, facts: &BenchFacts) -> Length {
        self.unit.unit_type.setup.square_limit.map_or(facts.limits.setup.square, Reading::length)
    }

    fn frame_limit(&self, facts: &BenchFacts) -> Length {
        self.unit.unit_type.setup.frame_limit.map_or(facts.limits.setup.frame, Reading::length)
    }

    /// What is to be done about the rear roller, once both readings are there and it is not parallel.
    pub fn rear_remedy(&self, facts: &BenchFacts) -> Option<Result<RearRemedy, Refusal>> {
        match self.rear_outcome(facts)? {
            Ok(outcome) => self.remedy(facts, &outcome),
            Err(refusal) => Some(Err(refusal)),
        }
    }

    fn remedy(&self, facts: &BenchFacts, outcome: &Rear) -> Option<Result<RearRemedy, Refusal>> {
        Some(match outcome.verdict {
            RearVerdict::Parallel => return None,
            RearVerdict::Adjust => Ok(RearRemedy::Turn),
            // What squaring left behind is not cured by squaring again.
            RearVerdict::SquareSidePlates if !self.rear.was(RearDone::Squared) => Ok(RearRemedy::Square),
            RearVerdict::SquareSidePlates | RearVerdict::Shim => self.shim_or_turn(facts, outcome),
            RearVerdict::Record => Ok(RearRemedy::Record),
            RearVerdict::ReplaceFrame => Ok(RearRemedy::ReplaceFrame),
        })
    }

    /// Shims first, from what is on the shelf; where they have had their turn, or none comes nearer, the eccentric if
    /// the type has one, and else the bolts again.
    fn shim_or_turn(&self, facts: &BenchFacts, outcome: &Rear) -> Result<RearRemedy, Refusal> {
        let eccentric = matches!(self.unit.unit_type.rear.right.kind, AdjusterKind::Eccentric { .. });
        let reaches = eccentric && outcome.beyond_reach.is_none();
        if self.rear.was(RearDone::Shimmed) && reaches {
            return Ok(RearRemedy::Turn);
        }
        let stack = shims(&ShimsInput {
            target: outcome.move_b.abs(),
            stock: facts.shims.thicknesses.iter().copied().map(Reading::length).collect(),
            most: facts.shims.most,
        })?;
        if stack.stack.is_empty() {
            return Ok(if reaches { RearRemedy::Turn } else { RearRemedy::Square });
        }
        // One end up is the other end down: a shim goes in where it moves the roller the way that is wanted.
        let raises = outcome.move_b > Length::ZERO;
        let at = if raises == self.unit.unit_type.setup.shim_raises { Side::Right } else { Side::Left };
        Ok(RearRemedy::Shim { at, stack })
    }

    /// Whether Rear may be left: parallel, or in a frame that cannot be adjusted recorded, or let go on by a lead.
    pub fn rear_done(&self, facts: &BenchFacts) -> bool {
        let Some(Ok(outcome)) = self.rear_outcome(facts) else { return false };
        match outcome.verdict {
            RearVerdict::Parallel => true,
            RearVerdict::Record => self.rear.recorded_by.is_some(),
            RearVerdict::ReplaceFrame => self.overridden(Hold::Frame).is_some(),
            RearVerdict::Adjust | RearVerdict::SquareSidePlates | RearVerdict::Shim => false,
        }
    }

    pub(super) fn rear_event(&mut self, facts: &BenchFacts, event: &Event) -> Result<Vec<Effect>, Refusal> {
        match event {
            Event::Read { reading } => self.rear_read(facts, *reading),
            Event::PlacePicked { place: place @ (Place::RearLeft | Place::RearRight) } => {
                self.rear.picked = Some(*place);
                Ok(Vec::new())
            }
            Event::Turned { .. } => self.rear_turned(facts),
            Event::Squared if self.rear_remedy(facts) == Some(Ok(RearRemedy::Square)) => {
                self.end_round(facts, RearDone::Squared)
            }
            Event::Shimmed if matches!(self.rear_remedy(facts), Some(Ok(RearRemedy::Shim { .. }))) => {
                self.end_round(facts, RearDone::Shimmed)
            }
            Event::ErrorRecorded if self.rear_remedy(facts) == Some(Ok(RearRemedy::Record)) => {
                let operator = facts.operator.as_ref().ok_or(Refusal::Blocked(Block::NoOperator))?;
                self.rear.recorded_by = Some(operator.initials.clone());
                Ok(Vec::new())
            }
            Event::Overridden { hold: Hold::Frame, reason } => match self.rear_remedy(facts) {
                Some(Ok(RearRemedy::ReplaceFrame)) => self.let_go_on(facts, Hold::Frame, reason),
                Some(_) | None => Err(Refusal::NotHeld),
            },
            Event::Stopped { reason: reason @ StopReason::FrameToReplace } => match self.rear_remedy(facts) {
                Some(Ok(RearRemedy::ReplaceFrame)) => self.stop(*reason),
                Some(_) | None => Err(self.not_here()),
            },
            Event::Next if self.rear_done(facts) => {
                // The rear roller stands as it should, but the reel may have been left in the meantime.
                self.require_trued_before(facts, Some(StageName::Rear))?;
                Ok(self.enter_next())
            }
            Event::Next => Err(self.why_not_done(facts)),
            _ => Err(self.not_here()),
        }
    }

    fn why_not_done(&self, facts: &BenchFacts) -> Refusal {
        match self.rear_outcome(facts) {
            Some(Ok(Rear { error, verdict: RearVerdict::ReplaceFrame, .. })) => {
                Refusal::FrameToReplace { error, limit: self.frame_limit(facts) }
            }
            Some(Ok(_) | Err(_)) | None => Refusal::NotProven,
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
            _ => return Err(Refusal::NoNumberAsked),
        }
        (self.rear.picked, self.rear.recorded_by) = (None, None);
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
        for place in [Place::RearLeft, Place::RearRight] {
            self.rear.reading(place).ok_or(Refusal::Missing { place })?;
        }
        let outcome = self.rear_outcome(facts).ok_or(Refusal::NoNumberAsked)??;
        // Side plates are turned only by their eccentric, and only when their turn has come.
        let turns = match self.unit.unit_type.frame {
            FrameKind::Adjustable | FrameKind::FloatingReel | FrameKind::FixedHead => true,
            FrameKind::SidePlates => self.rear_remedy(facts) == Some(Ok(RearRemedy::Turn)),
            FrameKind::Welded => false,
        };
        if outcome.verdict == RearVerdict::Parallel || !turns {
            return Err(self.not_here());
        }
        let hand = Handwork { beyond_reach: outcome.beyond_reach, ..Handwork::default() };
        hand.require("move_right", outcome.move_b)?;
        self.unit.unit_type.rear.right.kind.turned(outcome.degrees);
        self.end_round(facts, RearDone::Turned)
    }

    fn end_round(&mut self, facts: &BenchFacts, done: RearDone) -> Result<Vec<Effect>, Refusal> {
        let left = self.rear.left.ok_or(Refusal::Missing { place: Place::RearLeft })?;
        let right = self.rear.right.ok_or(Refusal::Missing { place: Place::RearRight })?;
        let outcome = self.rear_outcome(facts).ok_or(Refusal::NoNumberAsked)??;
        self.rear.rounds.push(RearRound { left, right, outcome, done });
        (self.rear.left, self.rear.right, self.rear.picked) = (None, None, None);
        Ok(Vec::new())
    }

    /// The rear roller is to be trued anew: the frame that carries it was moved.
    pub(super) fn begin_rear_again(&mut self) {
        self.rear = RearState::default();
    }
}
