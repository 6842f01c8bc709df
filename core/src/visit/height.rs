//! Height: the height of cut read at two stations, and both adjusters told in one go. What is within tolerance and not
//! proven may be read again before anything is turned: the sets are pooled (see [`super::repeats`]).

use super::Visit;
use super::event::{Effect, Event, Place};
use super::gate::Block;
use super::prove::HEIGHT_MOST;
use super::refusal::Refusal;
use super::repeats::Repeats;
use crate::bench::FrameKind;
use crate::calc::adjuster::Handwork;
use crate::calc::height::{Adjusters, Gauge, HeightInput, height};
use crate::calc::uncertainty::{COVERAGE, Decision, decide};
use crate::facts::BenchFacts;
use crate::quantity::Length;
use crate::reading::Reading;
use crate::record::{Adjuster, AdjusterPair, Service, ServiceVerdict, Side};

/// What Height read and turned.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct HeightState {
    wanted: Option<Reading>,
    values: Repeats,
    again: u32,
    rounds: Vec<HeightRound>,
    accepted_by: Option<String>,
}

/// A round that ended with a turn.
#[derive(Debug, Clone, PartialEq)]
pub struct HeightRound {
    /// Gauge at the operator's left, the mean of its sets.
    pub left: Reading,
    /// Gauge at the operator's right, the mean of its sets.
    pub right: Reading,
    /// What they said.
    pub outcome: HeightOutcome,
}

/// One station, and the adjuster on its side.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeightSide {
    /// Height found less the one wanted.
    pub error: Length,
    /// What the frame is raised by at the adjuster.
    pub raise: Length,
    /// What the hand does for it, + as the adjuster's own record counts.
    pub hand: Handwork,
}

/// What two readings of the gauge say.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeightOutcome {
    /// At the operator's left.
    pub left: HeightSide,
    /// At the operator's right.
    pub right: HeightSide,
    /// Expanded uncertainty of either error, about 95 %.
    pub error_u95: Length,
    /// What can be said about the worse of both.
    pub decision: Decision,
}

const STATIONS: [Place; 2] = [Place::HeightLeft, Place::HeightRight];

impl HeightState {
    /// The rounds that ended with a turn, oldest first.
    pub fn rounds(&self) -> &[HeightRound] {
        &self.rounds
    }

    /// What the gauge read last at [`Place::HeightLeft`] or [`Place::HeightRight`] in this round.
    pub fn reading(&self, place: Place) -> Option<Reading> {
        self.values.get(place)
    }

    /// Who recorded it as within tolerance, not proven.
    pub fn accepted_by(&self) -> Option<&str> {
        self.accepted_by.as_deref()
    }

    /// How many sets of readings are pooled in this round.
    pub const fn sets(&self) -> usize {
        self.values.sets()
    }

    /// How often it was measured again without a turn.
    pub const fn again(&self) -> u32 {
        self.again
    }

    fn begin_round(&mut self) {
        self.values.settle();
        self.accepted_by = None;
    }
}

impl Visit {
    /// The height of cut that is wanted: as told in this visit, else the last one set, else the type's.
    pub fn height_wanted(&self) -> Option<Reading> {
        let last = self.unit.last.as_ref().and_then(|work| work.height_of_cut);
        self.height.wanted.or(last).or(self.unit.unit_type.setup.height_of_cut)
    }

    /// What is asked for now.
    pub fn height_asked(&self) -> Option<Place> {
        if self.height_wanted().is_none() {
            return Some(Place::HeightWanted);
        }
        self.height.values.asked(&STATIONS)
    }

    /// The adjusters that set the height of cut: the front roller's, which on a fixed head are those of `rear`.
    pub const fn height_adjusters(&self) -> &AdjusterPair {
        match self.unit.unit_type.frame {
            FrameKind::FixedHead => &self.unit.unit_type.rear,
            FrameKind::Adjustable | FrameKind::SidePlates | FrameKind::Welded | FrameKind::FloatingReel => {
                &self.unit.unit_type.front
            }
        }
    }

    /// What the readings say, once both are there.
    pub fn height_outcome(&self, facts: &BenchFacts) -> Option<Result<HeightOutcome, Refusal>> {
        let left = self.height.values.mean(Place::HeightLeft)?;
        let right = self.height.values.mean(Place::HeightRight)?;
        Some(self.height_of(facts, left, right, self.height_wanted()?))
    }

    fn height_of(
        &self,
        facts: &BenchFacts,
        left: Length,
        right: Length,
        wanted: Reading,
    ) -> Result<HeightOutcome, Refusal> {
        let (unit_type, pair) = (&self.unit.unit_type, self.height_adjusters());
        let wheelbase = unit_type.wheelbase.length();
        let edge = unit_type.setup.edge_x.unwrap_or(unit_type.reel_x).length();
        // On a fixed head the drum is the fixed line and the front roller moves: the same lever, seen from the other end.
        let fixed_head = unit_type.frame == FrameKind::FixedHead;
        let edge_x = if fixed_head { wheelbase - edge } else { edge };
        let moves = height(&HeightInput {
            wanted: wanted.length(),
            gauge: [
                Gauge { y: unit_type.touch_left.length(), height: left },
                Gauge { y: unit_type.touch_right.length(), height: right },
            ],
            edge_x,
            wheelbase,
            adjuster: Adjusters { a_y: pair.left.y.length(), b_y: pair.right.y.length() },
            adjuster_kind: None,
        })?;
        let side = |found: Length, raise: Length, adjuster: &Adjuster| {
            // The pair `rear` counts the roller's end, and the frame rises when its roller goes down.
            let counted = if fixed_head { -raise } else { raise };
            HeightSide { error: found - wanted.length(), raise, hand: adjuster.kind.handwork(counted) }
        };
        let (left, right) = (side(left, moves.move_a, &pair.left), side(right, moves.move_b, &pair.right));
        let graduation = facts.instruments.gauges.height_graduation.length();
        let error_u95 = self.height.values.u_mean(&STATIONS, graduation) * COVERAGE;
        let worse = left.error.abs().max(right.error.abs());
        let decision = decide(worse, error_u95, facts.limits.setup.height);
        Ok(HeightOutcome { left, right, error_u95, decision })
    }

    /// Whether Height may be left: proven, or recorded by name.
    pub fn height_done(&self, facts: &BenchFacts) -> bool {
        match self.height_outcome(facts) {
            Some(Ok(outcome)) => match outcome.decision {
                Decision::Proven => true,
                Decision::Unproven => self.height.accepted_by.is_some(),
                Decision::Beyond => false,
            },
            Some(Err(_)) | None => false,
        }
    }

    pub(super) fn height_event(&mut self, facts: &BenchFacts, event: &Event) -> Result<Vec<Effect>, Refusal> {
        match event {
            Event::Read { reading } => self.height_read(*reading)?,
            Event::PlacePicked { place: place @ (Place::HeightWanted | Place::HeightLeft | Place::HeightRight) } => {
                self.height.values.pick(Some(*place));
            }
            Event::Turned { .. } => self.height_turned(facts)?,
            Event::MeasuredAgain => self.measure_height_again(facts),
            Event::NotProvenAccepted => self.accept_height(facts)?,
            Event::Next if self.height_done(facts) => return self.leave_height(facts),
            Event::Next => return Err(Refusal::NotProven),
            _ => return Err(self.not_here()),
        }
        self.label.void();
        Ok(Vec::new())
    }

    /// Within tolerance another set is pooled with those there are. Beyond it, and nothing turned, a reading was wrong:
    /// the round is read anew.
    fn measure_height_again(&mut self, facts: &BenchFacts) {
        let decision = self.height_outcome(facts).and_then(Result::ok).map(|outcome| outcome.decision);
        match decision {
            Some(Decision::Proven | Decision::Unproven) => self.height.values.repeat(),
            Some(Decision::Beyond) => self.height.values = self.height.values.without_this_setting(),
            None => self.height.values.begin_set(),
        }
        self.height.again += 1;
        self.height.accepted_by = None;
    }

    fn height_read(&mut self, reading: Reading) -> Result<(), Refusal> {
        let place = self.height_asked().ok_or(Refusal::NoNumberAsked)?;
        height_in_range(place, reading)?;
        self.height.accepted_by = None;
        if place == Place::HeightWanted {
            self.height.wanted = Some(reading);
            self.height.values.pick(None);
        } else {
            self.height.values.set(place, reading);
        }
        Ok(())
    }

    fn height_turned(&mut self, facts: &BenchFacts) -> Result<(), Refusal> {
        let outcome = self.height_outcome(facts).ok_or(Refusal::NoNumberAsked)??;
        if outcome.decision == Decision::Proven {
            return Err(self.not_here());
        }
        outcome.left.hand.require("move_left", outcome.left.raise)?;
        outcome.right.hand.require("move_right", outcome.right.raise)?;
        let values = &self.height.values;
        let left = values.mean_reading(Place::HeightLeft).ok_or(Refusal::NoNumberAsked)?;
        let right = values.mean_reading(Place::HeightRight).ok_or(Refusal::NoNumberAsked)?;
        let fixed_head = self.unit.unit_type.frame == FrameKind::FixedHead;
        let unit_type = &mut self.unit.unit_type;
        let pair = if fixed_head { &mut unit_type.rear } else { &mut unit_type.front };
        pair.at_mut(Side::Left).kind.turned(outcome.left.hand.degrees);
        pair.at_mut(Side::Right).kind.turned(outcome.right.hand.degrees);
        self.height.rounds.push(HeightRound { left, right, outcome });
        self.height.begin_round();
        Ok(())
    }

    fn accept_height(&mut self, facts: &BenchFacts) -> Result<(), Refusal> {
        let outcome = self.height_outcome(facts).ok_or(Refusal::NoNumberAsked)??;
        if outcome.decision != Decision::Unproven {
            return Err(Refusal::NotProven);
        }
        let operator = facts.operator.as_ref().ok_or(Refusal::Blocked(Block::NoOperator))?;
        self.height.accepted_by = Some(operator.initials.clone());
        Ok(())
    }

    fn leave_height(&mut self, facts: &BenchFacts) -> Result<Vec<Effect>, Refusal> {
        let accepted = self.height.accepted_by.is_some();
        let verdict = if accepted { ServiceVerdict::DoneNotProven } else { ServiceVerdict::Done };
        let values = &self.height.values;
        let height_of_cut = values.mean_reading(Place::HeightLeft).min(values.mean_reading(Place::HeightRight));
        let service = Service { height_of_cut, ..self.service(facts, verdict)? };
        self.height.values.pick(None);
        let mut effects = vec![Effect::ServiceDone { service: Box::new(service), ready: true }];
        effects.extend(self.enter_next());
        Ok(effects)
    }
}

/// Turf is not mown higher than this with a reel, nor below the ground.
pub(super) fn height_in_range(place: Place, reading: Reading) -> Result<(), Refusal> {
    let least = Reading::from_nanometres(1);
    if (least..=HEIGHT_MOST).contains(&reading) {
        return Ok(());
    }
    Err(Refusal::OutOfRange { place: Some(place), reading, least, most: HEIGHT_MOST })
}
