//! Front: the reel axis trued to the rails, in rounds of touches and turns.

use super::Visit;
use super::event::{Answer, Effect, Event, Place, Question, Which};
use super::kind::StageName;
use super::refusal::Refusal;
use super::touches::{PooledTouch, pooled_touch};
use crate::bench::End;
use crate::calc::adjuster::Handwork;
use crate::calc::front::{Front, FrontInput, FrontMove, FrontUncertainty, FrontVerdict, Pair, front};
use crate::facts::BenchFacts;
use crate::quantity::Length;
use crate::reading::Reading;
use crate::record::Side;

/// What Front read and turned.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct FrontState {
    rounds: Vec<Round>,
    readings: Vec<Reading>,
    zero_set: bool,
    touching_again: bool,
    which: Which,
    accepted_by: Option<String>,
}

/// A round that ended with a turn.
#[derive(Debug, Clone, PartialEq)]
pub struct Round {
    /// The mean of its readings.
    pub reading: Length,
    /// They themselves.
    pub readings: Vec<Reading>,
    /// What they said.
    pub outcome: Front,
    /// Which cure was used.
    pub which: Which,
    /// What was turned for it.
    pub turned: Option<FrontMove>,
}

/// Where Front stands.
#[derive(Debug, Clone, PartialEq)]
pub enum FrontPhase {
    /// Touch at the zero end and set the dial.
    ZeroTouch,
    /// Touch at the other end and read the dial.
    OtherTouch,
    /// Enough was read to say something.
    Judged(Box<Front>),
}

/// A dial reading beyond this many turns of the dial is an entry mistake: no touch is searched for so far.
const TURNS_MOST: i64 = 5;
/// Nor does an infeed screw travel further than this in one setup, whatever a turn of its dial counts: two inches,
/// as [`crate::calc::limits::DIAL`].
const TRAVEL_MOST_NANOMETRES: i64 = 50_800_000;

impl FrontState {
    /// The rounds that ended with a turn, oldest first.
    pub fn rounds(&self) -> &[Round] {
        &self.rounds
    }

    /// The readings of the round in hand.
    pub fn readings(&self) -> &[Reading] {
        &self.readings
    }

    /// Which of the two cures is shown.
    pub const fn which(&self) -> Which {
        self.which
    }

    /// Who recorded it as within tolerance, not proven.
    pub fn accepted_by(&self) -> Option<&str> {
        self.accepted_by.as_deref()
    }

    /// What the zero end is expected to read at the start of this round, after the last turn.
    pub fn expected_zero(&self) -> Option<Length> {
        self.rounds.last().map(|round| cure(&round.outcome, round.which).rezero)
    }

    /// Nothing read yet; the cure that is shown and the rounds before stay.
    fn begin_round(&mut self) {
        (self.zero_set, self.touching_again, self.accepted_by) = (false, false, None);
        self.readings.clear();
    }

    fn mean(&self) -> Option<Length> {
        let count = self.readings.len();
        (count > 0).then(|| {
            let sum = self.readings.iter().fold(Length::ZERO, |sum, reading| sum + reading.length());
            sum / count as f64
        })
    }
}

/// What a dial can have been read at.
pub(crate) fn dial_range(facts: &BenchFacts) -> (Reading, Reading) {
    let turns = facts.grinder.dial_per_turn.nanometres().saturating_mul(TURNS_MOST);
    let most = turns.min(TRAVEL_MOST_NANOMETRES);
    (Reading::from_nanometres(-most), Reading::from_nanometres(most))
}

/// A thousand times what was typed, where that is finer than the instrument can be read: as when inches are
/// typed where thousandths are asked for.
pub(super) fn meant_thousandths(reading: Reading, graduation: Reading) -> Option<Reading> {
    let typed = reading.nanometres();
    let too_fine = typed != 0 && typed.unsigned_abs().saturating_mul(5) < graduation.nanometres().unsigned_abs();
    too_fine.then(|| Reading::from_nanometres(typed.saturating_mul(1000)))
}

/// One of the two ways to cure a tilt.
pub fn cure(outcome: &Front, which: Which) -> &FrontMove {
    match which {
        Which::Other => &outcome.move_other,
        Which::Zero => &outcome.move_zero,
    }
}

impl Visit {
    /// Where Front stands.
    ///
    /// # Errors
    /// The calculation's own refusal, when the type's geometry cannot be computed with.
    pub fn front_phase(&self, facts: &BenchFacts) -> Result<FrontPhase, Refusal> {
        let state = &self.front;
        if state.zero_set {
            return Ok(FrontPhase::OtherTouch);
        }
        if state.touching_again {
            return Ok(FrontPhase::ZeroTouch);
        }
        match self.front_outcome(facts) {
            Some(outcome) => Ok(FrontPhase::Judged(Box::new(outcome?))),
            None => Ok(FrontPhase::ZeroTouch),
        }
    }

    /// What the readings of the round in hand say.
    pub fn front_outcome(&self, facts: &BenchFacts) -> Option<Result<Front, Refusal>> {
        let reading = self.front.mean()?;
        Some(self.front_input(facts, reading, Which::Other).and_then(|input| front(&input).map_err(Refusal::from)))
    }

    /// One of the two cures of the round in hand, turned at its own adjuster.
    pub fn front_cure(&self, facts: &BenchFacts, which: Which) -> Option<FrontMove> {
        let input = self.front_input(facts, self.front.mean()?, which).ok()?;
        front(&input).ok().map(|outcome| *cure(&outcome, which))
    }

    /// The side of the adjuster that a cure turns.
    ///
    /// # Errors
    /// While nobody has told where the leading end stands.
    pub fn front_side(&self, which: Which) -> Result<Side, Refusal> {
        let (zero, other) = self.zero_and_other_side()?;
        Ok(match which {
            Which::Other => other,
            Which::Zero => zero,
        })
    }

    /// Whether Front may be left: proven, or recorded by name.
    pub fn front_done(&self, facts: &BenchFacts) -> bool {
        match self.front_phase(facts) {
            Ok(FrontPhase::Judged(outcome)) => {
                let accepted = outcome.verdict == FrontVerdict::Repeat && self.front.accepted_by.is_some();
                outcome.verdict == FrontVerdict::Parallel || accepted
            }
            Ok(FrontPhase::ZeroTouch | FrontPhase::OtherTouch) | Err(_) => false,
        }
    }

    /// The sides of the zero end and of the other.
    ///
    /// # Errors
    /// While nobody has told where the leading end stands.
    pub fn zero_and_other_side(&self) -> Result<(Side, Side), Refusal> {
        let zero = self.side_of(self.zero_end()).ok_or(Refusal::LeadingEndUnknown)?;
        Ok((zero, zero.opposite()))
    }

    fn front_input(&self, facts: &BenchFacts, reading: Length, which: Which) -> Result<FrontInput, Refusal> {
        let (zero, other) = self.zero_and_other_side()?;
        let unit_type = &self.unit.unit_type;
        let (lead, trail) = self.tape.ends().ok_or(Refusal::Missing { place: Place::Lead })?;
        let (zero_diameter, other_diameter) = match self.zero_end() {
            End::Lead => (lead, trail),
            End::Trail => (trail, lead),
        };
        let touches = self.front.readings.len() as u32;
        Ok(FrontInput {
            zero_diameter: zero_diameter.length(),
            other_diameter: other_diameter.length(),
            reading,
            dial: facts.grinder.dial,
            touch: Pair { zero_y: unit_type.touch_at(zero).length(), other_y: unit_type.touch_at(other).length() },
            tape_y: None,
            adjuster: Pair {
                zero_y: unit_type.front.at(zero).y.length(),
                other_y: unit_type.front.at(other).y.length(),
            },
            reel_x: unit_type.reel_x.length(),
            wheelbase: unit_type.wheelbase.length(),
            jack_y: unit_type.jack_y.length(),
            tolerance: facts.limits.tilt,
            uncertainty: Some(FrontUncertainty {
                dial_graduation: facts.grinder.dial_graduation.length(),
                tape_graduation: facts.tape_step(),
                touch_sd: self.pooled_touches(facts).map_or(facts.instruments.touch_sd, |pooled| pooled.used),
                touches_zero: touches,
                touches_other: touches,
            }),
            adjuster_kind: Some(unit_type.front.at(self.front_side(which)?).kind),
        })
    }

    /// The repeatability that the touches of this visit have earned, once there are enough of them.
    pub fn pooled_touches(&self, facts: &BenchFacts) -> Option<PooledTouch> {
        let rounds = self.front.rounds.iter().map(|round| round.readings.as_slice());
        let all = rounds.chain(std::iter::once(self.front.readings.as_slice()));
        pooled_touch(all, facts.grinder.dial_graduation.length())
    }

    pub(super) fn front_event(&mut self, facts: &BenchFacts, event: &Event) -> Result<Vec<Effect>, Refusal> {
        match event {
            Event::ZeroSet if self.front_phase(facts)? == FrontPhase::ZeroTouch => {
                self.front.zero_set = true;
                self.front.touching_again = false;
                Ok(Vec::new())
            }
            Event::Read { reading } => self.front_read(facts, *reading),
            Event::CurePicked { which } => {
                self.front.which = *which;
                Ok(Vec::new())
            }
            Event::Turned { which } => self.front_turned(facts, *which),
            // A mistyped reading must not stay because it was plausible.
            Event::MeasuredAgain if self.front.zero_set || !self.front.readings.is_empty() => {
                self.front.begin_round();
                Ok(Vec::new())
            }
            Event::TouchAgain => self.touch_again(facts),
            Event::NotProvenAccepted => self.accept_front(facts),
            Event::Next if self.front_done(facts) => {
                self.require_trued_before(facts, Some(StageName::Front))?;
                Ok(self.enter_next())
            }
            Event::Next => Err(Refusal::NotProven),
            _ => Err(self.not_here()),
        }
    }

    fn front_read(&mut self, facts: &BenchFacts, reading: Reading) -> Result<Vec<Effect>, Refusal> {
        if !self.front.zero_set {
            return Err(Refusal::NoNumberAsked);
        }
        let (least, most) = dial_range(facts);
        if !(least..=most).contains(&reading) {
            return Err(Refusal::OutOfRange { place: None, reading, least, most });
        }
        self.question = self.doubt_about_dial(facts, reading);
        if self.question.is_none() {
            self.keep_dial(reading);
        }
        Ok(Vec::new())
    }

    fn keep_dial(&mut self, reading: Reading) {
        self.front.readings.push(reading);
        self.front.zero_set = false;
        // Another touch makes another outcome, and it was the old one that somebody accepted.
        self.front.accepted_by = None;
    }

    fn doubt_about_dial(&self, facts: &BenchFacts, reading: Reading) -> Option<Question> {
        let (least, most) = dial_range(facts);
        let within = |offered: &Reading| (least..=most).contains(offered);
        if let Some(offered) = meant_thousandths(reading, facts.grinder.dial_graduation).filter(within) {
            return Some(Question::TooFine { reading, offered });
        }
        let typed = reading.nanometres();
        // A dial that stands six short of zero shows 94: nobody reads it as -6.
        let turn = facts.grinder.dial_per_turn.nanometres();
        let short = typed - turn;
        let target = self.taped()?.ok()?.target.mm() * facts.grinder.dial.factor() / 2.0 * 1e6;
        let nearer_short = (short as f64 - target).abs() < (typed as f64 - target).abs();
        (typed > turn / 2 && typed < turn && nearer_short)
            .then_some(Question::DialShort { reading, offered: Reading::from_nanometres(short) })
    }

    pub(super) fn front_answer(&mut self, question: &Question, answer: Answer) -> Result<Vec<Effect>, Refusal> {
        if let Question::DialShort { reading, offered } | Question::TooFine { reading, offered } = question {
            match answer {
                Answer::Keep => self.keep_dial(*reading),
                Answer::Offered => self.keep_dial(*offered),
                Answer::Again | Answer::Stop => {}
            }
        }
        Ok(Vec::new())
    }

    fn front_turned(&mut self, facts: &BenchFacts, which: Which) -> Result<Vec<Effect>, Refusal> {
        let FrontPhase::Judged(outcome) = self.front_phase(facts)? else { return Err(self.not_here()) };
        if outcome.verdict == FrontVerdict::Parallel {
            return Err(self.not_here());
        }
        let reading = self.front.mean().ok_or(Refusal::NoNumberAsked)?;
        let turned = self.front_cure(facts, which);
        let side = self.front_side(which)?;
        if let Some(turned) = turned {
            let hand = Handwork { beyond_reach: turned.beyond_reach, ..Handwork::default() };
            hand.require("height", turned.height)?;
        }
        let degrees = turned.and_then(|turned| turned.degrees);
        self.unit.unit_type.front.at_mut(side).kind.turned(degrees);
        let readings = self.front.readings.clone();
        self.front.rounds.push(Round { reading, readings, outcome: *outcome, which, turned });
        self.front.begin_round();
        // The rear roller sits in the frame that was just tilted: what it read before is no longer so.
        self.begin_rear_again();
        Ok(Vec::new())
    }

    fn touch_again(&mut self, facts: &BenchFacts) -> Result<Vec<Effect>, Refusal> {
        let FrontPhase::Judged(outcome) = self.front_phase(facts)? else { return Err(self.not_here()) };
        if outcome.verdict != FrontVerdict::Repeat || outcome.touches_needed.is_none() {
            return Err(self.not_here());
        }
        self.front.touching_again = true;
        self.front.accepted_by = None;
        Ok(Vec::new())
    }

    fn accept_front(&mut self, facts: &BenchFacts) -> Result<Vec<Effect>, Refusal> {
        let FrontPhase::Judged(outcome) = self.front_phase(facts)? else { return Err(self.not_here()) };
        if outcome.verdict != FrontVerdict::Repeat {
            return Err(Refusal::NotProven);
        }
        let operator = facts.operator.as_ref().ok_or(Refusal::Blocked(super::gate::Block::NoOperator))?;
        self.front.accepted_by = Some(operator.initials.clone());
        Ok(Vec::new())
    }

    pub(super) fn begin_front_again(&mut self) {
        self.front = FrontState::default();
    }
}
