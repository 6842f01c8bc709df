//! Receive: the look before it goes on the rails, and what it came for. Play is felt by hand, or measured with an
//! indicator where somebody wants a number: beyond the type's limit it holds the visit as a look that found it would.

use super::event::{Answer, Condition, Effect, Event, Hold, Part, Place, Question, StopReason};
use super::front::meant_thousandths;
use super::holds::Override;
use super::kind::VisitKind;
use super::refusal::Refusal;
use super::{Stage, Visit};
use crate::calc::uncertainty::at_most;
use crate::facts::BenchFacts;
use crate::quantity::Length;
use crate::reading::Reading;

/// What Receive found, and what became of it.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct ReceiveState {
    conditions: [Option<Condition>; 3],
    mended: Vec<(Part, String)>,
    overrides: Vec<Override>,
    play: [Option<Reading>; 2],
    picked: Option<Place>,
}

/// Where play is measured, with the part that it belongs to.
pub const PLAYS: [(Place, Part); 2] = [(Place::BearingPlay, Part::Bearings), (Place::RollerPlay, Part::Rollers)];
/// A bearing with more play than this has fallen out: the number is mistyped.
const PLAY_MOST: Reading = Reading::from_nanometres(6_350_000);

fn play_index(place: Place) -> Option<usize> {
    PLAYS.iter().position(|(known, _)| *known == place)
}

impl ReceiveState {
    /// What a look at a part found; `None` before the look.
    pub const fn condition(&self, part: Part) -> Option<Condition> {
        self.conditions[part as usize]
    }

    /// Whether something must be mended first.
    pub fn held(&self) -> bool {
        Part::ALL.into_iter().any(|part| self.holds(part))
    }

    /// Whether a part holds the visit: found bad, not mended, and no lead let it go on.
    pub fn holds(&self, part: Part) -> bool {
        self.found_bad(part) && !self.overrides.iter().any(|given| given.hold == Hold::Part(part))
    }

    /// Whether every part was looked at.
    pub fn looked(&self) -> bool {
        self.conditions.iter().all(Option::is_some)
    }

    /// Who mended a part, initials, the last of them.
    pub fn mended_by(&self, part: Part) -> Option<&str> {
        self.mended.iter().rev().find(|(mended, _)| *mended == part).map(|(_, by)| by.as_str())
    }

    /// What leads let go on, oldest first.
    pub fn overrides(&self) -> &[Override] {
        &self.overrides
    }

    /// The play that was measured at a place, where it was.
    pub fn play(&self, place: Place) -> Option<Reading> {
        self.play[play_index(place)?]
    }

    /// The place whose play is asked for now, if any: nobody has to measure it.
    pub const fn asked(&self) -> Option<Place> {
        self.picked
    }

    pub(super) fn found_bad(&self, part: Part) -> bool {
        self.condition(part) == Some(Condition::Bad)
    }

    pub(super) fn mend(&mut self, part: Part, by: &str) {
        self.conditions[part as usize] = Some(Condition::Good);
        self.mended.push((part, by.to_owned()));
        // What was measured before the mending is no longer so.
        for (index, (_, measured)) in PLAYS.iter().enumerate() {
            if *measured == part {
                self.play[index] = None;
            }
        }
        self.overrides.retain(|given| given.hold != Hold::Part(part));
    }

    pub(super) fn let_go_on(&mut self, given: Override) {
        self.overrides.retain(|known| known.hold != given.hold);
        self.overrides.push(given);
    }
}

impl Visit {
    pub(super) fn receive_event(&mut self, facts: &BenchFacts, event: &Event) -> Result<Vec<Effect>, Refusal> {
        match event {
            // What was found bad is mended or let go on by name; another look does not make it good.
            Event::Looked { part, condition } if self.receive.found_bad(*part) && *condition != Condition::Bad => {
                Err(Refusal::HeldForRepair)
            }
            Event::Looked { part, condition } => {
                self.receive.conditions[*part as usize] = Some(*condition);
                Ok(Vec::new())
            }
            Event::PlacePicked { place } if play_index(*place).is_some() => {
                // Pressed once more, it is left out after all.
                self.receive.picked = (self.receive.picked != Some(*place)).then_some(*place);
                Ok(Vec::new())
            }
            Event::Read { reading } => self.play_read(facts, *reading),
            Event::Mended { part } => self.mended(facts, *part),
            Event::Overridden { hold: hold @ Hold::Part(part), reason } => {
                if !self.receive.found_bad(*part) {
                    return Err(Refusal::NotHeld);
                }
                self.let_go_on(facts, *hold, reason)
            }
            Event::KindChosen { kind } => self.choose_kind(*kind),
            Event::Stopped { reason } => self.stop(*reason),
            Event::Next => self.leave_receive(),
            _ => Err(self.not_here()),
        }
    }

    /// Up to which play at a place a unit of this type is worked on: the type's limit, else the shop's.
    pub fn play_limit(&self, facts: &BenchFacts, place: Place) -> Length {
        let (setup, shop) = (&self.unit.unit_type.setup, &facts.limits.setup);
        let (own, shops) = match place {
            Place::RollerPlay => (setup.roller_play_limit, shop.roller_play),
            _ => (setup.play_limit, shop.bearing_play),
        };
        own.map_or(shops, Reading::length)
    }

    fn play_read(&mut self, facts: &BenchFacts, reading: Reading) -> Result<Vec<Effect>, Refusal> {
        let place = self.receive.picked.ok_or(Refusal::NoNumberAsked)?;
        let range = Reading::ZERO..=PLAY_MOST;
        if !range.contains(&reading) {
            return Err(Refusal::OutOfRange { place: Some(place), reading, least: Reading::ZERO, most: PLAY_MOST });
        }
        let offered = meant_thousandths(reading, facts.instruments.indicator_graduation);
        if let Some(offered) = offered.filter(|offered| range.contains(offered)) {
            self.question = Some(Question::TooFine { reading, offered });
            return Ok(Vec::new());
        }
        self.keep_play(facts, reading)
    }

    fn keep_play(&mut self, facts: &BenchFacts, reading: Reading) -> Result<Vec<Effect>, Refusal> {
        let place = self.receive.picked.ok_or(Refusal::NoNumberAsked)?;
        let index = play_index(place).ok_or(Refusal::NoNumberAsked)?;
        let part = PLAYS[index].1;
        if at_most(reading.length(), self.play_limit(facts, place)) {
            // Play is one of the things a look is for: the rest of the part was looked at to measure it.
            let seen = self.receive.conditions[part as usize];
            self.receive.conditions[part as usize] = seen.or(Some(Condition::Good));
        } else {
            self.receive.conditions[part as usize] = Some(Condition::Bad);
        }
        self.receive.play[index] = Some(reading);
        self.receive.picked = None;
        Ok(Vec::new())
    }

    pub(super) fn play_answer(
        &mut self,
        facts: &BenchFacts,
        question: &Question,
        answer: Answer,
    ) -> Result<Vec<Effect>, Refusal> {
        let Question::TooFine { reading, offered } = question else { return Err(Refusal::NotAnAnswer) };
        match answer {
            Answer::Keep => self.keep_play(facts, *reading),
            Answer::Offered => self.keep_play(facts, *offered),
            Answer::Again | Answer::Stop => Ok(Vec::new()),
        }
    }

    /// Metal that was taken off belongs to the kind of visit in which it was: another would have no record of it.
    fn choose_kind(&mut self, kind: VisitKind) -> Result<Vec<Effect>, Refusal> {
        let begun = self.passes.done() > 0
            || self.relief.rounds_done() > 0
            || self.relief.stood_still()
            || self.back_lap.runs() > 0;
        if begun && kind != self.kind {
            return Err(Refusal::WorkBegun { kind: self.kind });
        }
        self.kind = kind;
        Ok(Vec::new())
    }

    fn leave_receive(&mut self) -> Result<Vec<Effect>, Refusal> {
        if !self.receive.looked() {
            return Err(Refusal::NotLooked);
        }
        if self.receive.held() {
            return Err(Refusal::HeldForRepair);
        }
        if self.unit.unit_type.leading_end_at.is_none() {
            return Err(Refusal::LeadingEndUnknown);
        }
        self.receive.picked = None;
        Ok(self.enter_next())
    }

    pub(super) fn stop(&mut self, reason: StopReason) -> Result<Vec<Effect>, Refusal> {
        self.question = None;
        self.stage = Stage::Closed;
        Ok(vec![Effect::ClosedUnfinished(reason)])
    }
}
