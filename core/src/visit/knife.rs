//! Knife: the bedknife faced, reground or new, and adjusted to the reel.

use super::Visit;
use super::event::{BedknifeWork, Effect, Event, KnifeCheck, Place};
use super::refusal::Refusal;
use super::values::Values;
use crate::angle::AngleReading;
use crate::facts::BenchFacts;
use crate::quantity::Angle;
use crate::reading::Reading;
use crate::record::{KnifeShape, Service, ServiceVerdict};

/// What was done to the bedknife.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct KnifeState {
    work: Option<BedknifeWork>,
    top: Option<AngleReading>,
    front: Option<AngleReading>,
    thickness: Values,
    picked: Option<Place>,
    checks: [bool; 3],
    paper_cut: bool,
}

/// No bedknife is thicker than an inch.
const THICKNESS_MOST: Reading = Reading::from_nanometres(25_400_000);
/// A face relieved further has no metal behind its edge.
const ANGLE_MOST: AngleReading = AngleReading::from_hundredths(6_000);

impl KnifeState {
    /// What was done.
    pub const fn work(&self) -> Option<BedknifeWork> {
        self.work
    }

    /// The angle of a face: [`Place::TopAngle`] or [`Place::FrontAngle`].
    pub const fn angle(&self, place: Place) -> Option<AngleReading> {
        match place {
            Place::TopAngle => self.top,
            Place::FrontAngle => self.front,
            _ => None,
        }
    }

    /// What is left of its thickness.
    pub fn thickness(&self) -> Option<Reading> {
        self.thickness.get(Place::Thickness)
    }

    /// Whether a check is made.
    pub const fn checked(&self, check: KnifeCheck) -> bool {
        self.checks[check as usize]
    }

    /// Whether paper is cut along the whole length.
    pub const fn paper_cut(&self) -> bool {
        self.paper_cut
    }

    /// What is asked for now.
    pub fn asked(&self) -> Option<Place> {
        let missing = match (self.top, self.front, self.thickness()) {
            (None, _, _) => Some(Place::TopAngle),
            (Some(_), None, _) => Some(Place::FrontAngle),
            (Some(_), Some(_), None) => Some(Place::Thickness),
            (Some(_), Some(_), Some(_)) => None,
        };
        self.picked.or(missing)
    }
}

impl Visit {
    /// How this unit's bedknife is ground: as its type says, else as the shop does.
    pub fn knife_shape(&self, facts: &BenchFacts) -> KnifeShape {
        self.unit.unit_type.setup.knife.unwrap_or(facts.knife)
    }

    pub(super) fn knife_event(&mut self, facts: &BenchFacts, event: &Event) -> Result<Vec<Effect>, Refusal> {
        match event {
            Event::BedknifeSaid { work } => self.knife.work = Some(*work),
            Event::AngleRead { angle } => self.angle_read(*angle)?,
            Event::Read { reading } => self.thickness_read(*reading)?,
            Event::PlacePicked { place: place @ (Place::TopAngle | Place::FrontAngle | Place::Thickness) } => {
                self.knife.picked = Some(*place);
            }
            Event::KnifeChecked { check, done } => self.knife.checks[*check as usize] = *done,
            Event::PaperCut { whole_length } => self.knife.paper_cut = *whole_length,
            Event::Next => return self.leave_knife(facts),
            _ => return Err(self.not_here()),
        }
        self.label.void();
        Ok(Vec::new())
    }

    fn angle_read(&mut self, angle: AngleReading) -> Result<(), Refusal> {
        let place = self.knife.asked().ok_or(Refusal::NoNumberAsked)?;
        let face = match place {
            Place::TopAngle => &mut self.knife.top,
            Place::FrontAngle => &mut self.knife.front,
            _ => return Err(Refusal::NoNumberAsked),
        };
        if !(AngleReading::default()..=ANGLE_MOST).contains(&angle) {
            return Err(Refusal::AngleOff { place, angle, least: Angle::ZERO, most: ANGLE_MOST.angle() });
        }
        *face = Some(angle);
        self.knife.picked = None;
        Ok(())
    }

    fn thickness_read(&mut self, reading: Reading) -> Result<(), Refusal> {
        let place = self.knife.asked().filter(|place| *place == Place::Thickness).ok_or(Refusal::NoNumberAsked)?;
        let least = Reading::from_nanometres(1);
        if !(least..=THICKNESS_MOST).contains(&reading) {
            return Err(Refusal::OutOfRange { place: Some(place), reading, least, most: THICKNESS_MOST });
        }
        self.knife.thickness.set(place, reading);
        self.knife.picked = None;
        Ok(())
    }

    /// Whether an angle lies within what is asked for.
    ///
    /// # Errors
    /// [`Refusal::Missing`], or [`Refusal::AngleOff`] with the range.
    pub fn knife_angle(&self, facts: &BenchFacts, place: Place) -> Result<(), Refusal> {
        let shape = self.knife_shape(facts);
        let wanted = if place == Place::TopAngle { shape.top_angle } else { shape.front_angle };
        let angle = self.knife.angle(place).ok_or(Refusal::Missing { place })?;
        let (least, most) = (wanted - shape.angle_tolerance, wanted + shape.angle_tolerance);
        // A hundredth of a hundredth: what binary fractions add is not an error of the grind.
        let same = Angle::from_degrees(1e-4);
        if angle.angle() >= least - same && angle.angle() <= most + same {
            return Ok(());
        }
        Err(Refusal::AngleOff { place, angle, least, most })
    }

    fn leave_knife(&mut self, facts: &BenchFacts) -> Result<Vec<Effect>, Refusal> {
        let work = self.knife.work.ok_or(Refusal::KnifeWorkNotSaid)?;
        self.knife_angle(facts, Place::TopAngle)?;
        self.knife_angle(facts, Place::FrontAngle)?;
        let thickness = self.knife.thickness().ok_or(Refusal::Missing { place: Place::Thickness })?;
        let least = self.knife_shape(facts).least_thickness;
        if thickness < least {
            return Err(Refusal::KnifeThin { thickness, least });
        }
        if let Some(check) = KnifeCheck::ALL.into_iter().find(|check| !self.knife.checked(*check)) {
            return Err(Refusal::KnifeCheckOpen { check });
        }
        if !self.knife.paper_cut {
            return Err(Refusal::PaperNotCut);
        }
        let done = self.service(facts, ServiceVerdict::Done)?;
        let service = Service { bedknife: Some(work), thickness: Some(thickness), ..done };
        self.knife.picked = None;
        let mut effects = vec![Effect::ServiceDone { service: Box::new(service), ready: true }];
        effects.extend(self.enter_next());
        Ok(effects)
    }
}
