//! Relief: the land made narrow again by grinding the blades' backs, one after the other over a finger.

use super::event::{Effect, Event, Place};
use super::gate::Block;
use super::prove::LAND_MOST;
use super::refusal::Refusal;
use super::values::Values;
use super::{Stage, Visit};
use crate::calc::relief::{Relief, ReliefInput, relief};
use crate::facts::BenchFacts;
use crate::moment::Moment;
use crate::quantity::Length;
use crate::reading::Reading;
use crate::record::{Service, ServiceVerdict};

/// What Relief was set to, did and found.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct ReliefState {
    before: Values,
    after: Values,
    finger_set: bool,
    rounds_done: u32,
    rounds_repeated: u32,
    last: Option<Moment>,
    stood_still: bool,
    finished: bool,
}

/// How the relief is ground.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ReliefPlan {
    /// Where blade and finger stand.
    pub position: Relief,
    /// Metal that comes off the relief face, square to it.
    pub depth: Length,
    /// Rounds over all blades with infeed.
    pub with_infeed: u32,
    /// All rounds, those without infeed included.
    pub rounds: u32,
    /// What the dial shows more after each round with infeed, in its own graduation.
    pub dial_step: Length,
}

/// The land is measured at both ends: a coned reel has two.
const BEFORE: [Place; 2] = [Place::LandLead, Place::LandTrail];
/// A quotient this near to a whole number of rounds counts as it.
const WHOLE_WITHIN: f64 = 1e-9;
/// No relief takes more rounds; an infeed that asks for more was set in the wrong unit.
const ROUNDS_MOST: f64 = 1_000.0;

impl ReliefState {
    /// The land before, at [`Place::LandLead`] or [`Place::LandTrail`].
    pub fn before(&self, place: Place) -> Option<Reading> {
        self.before.get(place)
    }

    /// The land afterwards, at the same places.
    pub fn after(&self, place: Place) -> Option<Reading> {
        self.after.get(place)
    }

    /// The wider land afterwards.
    pub fn land_after(&self) -> Option<Reading> {
        self.after.larger(Place::LandLead, Place::LandTrail)
    }

    /// The land that is asked for before the relief.
    pub fn asked_before(&self) -> Option<Place> {
        self.before.asked(&BEFORE)
    }

    /// The land that is asked for afterwards.
    pub fn asked_after(&self) -> Option<Place> {
        self.after.asked(&BEFORE)
    }

    /// Whether blade and finger stand as told.
    pub const fn finger_set(&self) -> bool {
        self.finger_set
    }

    /// How many rounds are done.
    pub const fn rounds_done(&self) -> u32 {
        self.rounds_done
    }

    /// How many were made once more at the same dial.
    pub const fn rounds_repeated(&self) -> u32 {
        self.rounds_repeated
    }

    /// When the last one was done.
    pub const fn last(&self) -> Option<&Moment> {
        self.last.as_ref()
    }

    /// Whether wheel and reel have come to rest after it.
    pub const fn stood_still(&self) -> bool {
        self.stood_still
    }

    /// Whether the relief is ground and its lands are measured.
    pub const fn finished(&self) -> bool {
        self.finished
    }

    pub(super) const fn stands(&mut self) {
        self.stood_still = true;
    }

    /// Back at the lands: they may be measured again.
    pub(super) const fn look_again(&mut self) {
        self.finished = false;
    }

    /// The unit left the rails, and the finger with it.
    pub(super) const fn begin_finger_again(&mut self) {
        self.finger_set = false;
    }
}

impl Visit {
    /// How the relief is ground, once the land is measured at both ends.
    ///
    /// To make a land of width L narrower by L − w, the plane of the relief face moves by (L − w)·sin α square to
    /// itself. The wheel comes up along the line of its own infeed, which leans by α − β from that square, so that a
    /// round takes off its infeed times cos(α − β).
    ///
    /// # Errors
    /// While a land or the wheel's record is missing, when the land is no wider than relief would leave it, or the
    /// calculation's own refusal.
    pub fn relief_plan(&self, facts: &BenchFacts) -> Result<ReliefPlan, Refusal> {
        let wheel = facts.wheel.as_ref().ok_or(Refusal::Blocked(Block::NoWheel))?;
        let missing = self.relief.asked_before().unwrap_or(Place::LandLead);
        let land = self.relief.before.larger(Place::LandLead, Place::LandTrail);
        let land = land.ok_or(Refusal::Missing { place: missing })?;
        let wanted = facts.grinding.relief.land;
        if land.length() <= wanted {
            return Err(Refusal::NothingToRelieve { land, wanted });
        }
        let taped = self.taped().ok_or(Refusal::Missing { place: Place::Lead })??;
        let unit_type = &self.unit.unit_type;
        let position = relief(&ReliefInput {
            reel_diameter: taped.diameter.lead.max(taped.diameter.trail),
            wheel_diameter: wheel.diameter.length(),
            relief_angle: unit_type.relief_angle,
            wheel_offset: None,
        })?;
        let alpha = unit_type.relief_angle.degrees();
        let depth = (land.length() - wanted) * alpha.to_radians().sin();
        let lean = (alpha - position.blade_angle.degrees()).to_radians().cos();
        let rounds = (depth / (facts.grinding.relief.infeed * lean)).value();
        let with_infeed = (rounds - WHOLE_WITHIN).ceil().clamp(1.0, ROUNDS_MOST) as u32;
        Ok(ReliefPlan {
            position,
            depth,
            with_infeed,
            rounds: with_infeed + facts.grinding.relief.sparkout_rounds,
            dial_step: facts.grinding.relief.infeed * facts.grinder.dial.factor(),
        })
    }

    pub(super) fn finger_done(&self) -> bool {
        self.relief.finger_set && self.relief.asked_before().is_none()
    }

    /// Whether every round of the relief is made.
    pub fn relief_rounds_done(&self, facts: &BenchFacts) -> bool {
        let all = self.relief_plan(facts).map(|plan| plan.rounds);
        self.relief.rounds_done > 0 && all.is_ok_and(|all| self.relief.rounds_done >= all)
    }

    pub(super) fn finger_event(&mut self, facts: &BenchFacts, event: &Event) -> Result<Vec<Effect>, Refusal> {
        match event {
            Event::Read { reading } => {
                let place = self.relief.asked_before().ok_or(Refusal::NoNumberAsked)?;
                land_in_range(place, *reading)?;
                // Another land makes another number of rounds; those made were made for the old one.
                self.relief.before.set(place, *reading);
                self.relief.rounds_done = 0;
            }
            Event::PlacePicked { place: place @ (Place::LandLead | Place::LandTrail) } => {
                self.relief.before.pick(Some(*place));
            }
            Event::FingerSet => {
                self.relief_plan(facts)?;
                self.relief.finger_set = true;
            }
            Event::Next => {
                self.relief_plan(facts)?;
                if !self.relief.finger_set {
                    return Err(Refusal::NotTrued { stage: super::kind::StageName::Finger });
                }
                self.relief.before.pick(None);
                return Ok(self.enter_next());
            }
            _ => return Err(self.not_here()),
        }
        Ok(Vec::new())
    }

    pub(super) fn relief_event(
        &mut self,
        facts: &BenchFacts,
        event: &Event,
        now: &Moment,
    ) -> Result<Vec<Effect>, Refusal> {
        let Stage::Relief(running) = &self.stage else { return Err(self.not_here()) };
        let open = self.relief_plan(facts)?.rounds.saturating_sub(self.relief.rounds_done);
        match event {
            // To stop needs no clearance.
            Event::StandStill { held_ms } if open == 0 => self.stand_still(facts, *held_ms),
            Event::PassDone | Event::PassRepeated | Event::StandStill { .. } | Event::Next
                if running.lapse(facts, now).is_some() =>
            {
                Err(running.lapse(facts, now).map_or_else(|| self.not_here(), Refusal::Lapsed))
            }
            Event::PassDone | Event::PassRepeated if open == 0 => Err(Refusal::PassesDone),
            Event::PassDone => {
                self.relief.rounds_done += 1;
                self.relief.last = Some(now.clone());
                Ok(Vec::new())
            }
            Event::PassRepeated => {
                self.relief.rounds_repeated += 1;
                self.relief.last = Some(now.clone());
                Ok(Vec::new())
            }
            Event::StandStill { .. } | Event::Next => Err(Refusal::PassesOpen { open }),
            _ => Err(self.not_here()),
        }
    }

    pub(super) fn relief_lands_event(&mut self, facts: &BenchFacts, event: &Event) -> Result<Vec<Effect>, Refusal> {
        match event {
            Event::Read { reading } => {
                let place = self.relief.asked_after().ok_or(Refusal::NoNumberAsked)?;
                land_in_range(place, *reading)?;
                self.relief.after.set(place, *reading);
                Ok(Vec::new())
            }
            Event::PlacePicked { place: place @ (Place::LandLead | Place::LandTrail) } => {
                self.relief.after.pick(Some(*place));
                Ok(Vec::new())
            }
            Event::Regrind => self.relieve_again(),
            Event::Next => self.leave_relief(facts),
            _ => Err(self.not_here()),
        }
    }

    /// The lands that were just measured are those before another relief.
    fn relieve_again(&mut self) -> Result<Vec<Effect>, Refusal> {
        for place in BEFORE {
            self.relief.after.get(place).ok_or(Refusal::Missing { place })?;
        }
        let before = std::mem::take(&mut self.relief.after);
        self.relief = ReliefState { before, ..ReliefState::default() };
        Ok(self.enter(super::kind::StageName::Finger))
    }

    fn leave_relief(&mut self, facts: &BenchFacts) -> Result<Vec<Effect>, Refusal> {
        if let Some(place) = self.relief.asked_after() {
            return Err(Refusal::Missing { place });
        }
        let land = self.relief.land_after().ok_or(Refusal::Missing { place: Place::LandLead })?;
        let limit = self.unit.unit_type.land_limit;
        if land > limit {
            return Err(Refusal::LandWide { land, limit });
        }
        let land = self.relief.after(Place::LandLead).zip(self.relief.after(Place::LandTrail));
        let service = Service { land, ..self.service(facts, ServiceVerdict::Done)? };
        self.relief.finished = true;
        let mut effects = vec![Effect::ServiceDone { service: Box::new(service), ready: false }];
        effects.extend(self.enter_next());
        Ok(effects)
    }
}

/// A land is at least the finest thing that can be seen and never wider than the blade.
pub(super) fn land_in_range(place: Place, reading: Reading) -> Result<(), Refusal> {
    let least = Reading::from_nanometres(1);
    if (least..=LAND_MOST).contains(&reading) {
        return Ok(());
    }
    Err(Refusal::OutOfRange { place: Some(place), reading, least, most: LAND_MOST })
}
