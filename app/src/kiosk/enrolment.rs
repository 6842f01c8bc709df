//! Finding a unit by its place, and enrolling one that nobody knows: its type, its place, and a new type where none fits.

use super::bench::{Bench, View};
use super::health::GrinderPage;
use super::shop::Change;
use sparkout_core::angle::AngleReading;
use sparkout_core::bench::{FrameKind, LimitBasis};
use sparkout_core::calc::adjuster::AdjusterKind;
use sparkout_core::entry::{EntryBody, Record};
use sparkout_core::quantity::{Angle, Length};
use sparkout_core::reading::{LengthKind, Reading};
use sparkout_core::record::{Adjuster, AdjusterPair, Mower, SeenFrom, TypeSetup, Unit, UnitStatus, UnitType};
use sparkout_ui::action::Control;
use sparkout_ui::screen::{FormKind, Settings};
use sparkout_ui::words::{self, Made, Said, TypeField};

/// An unknown tag on its way to a record.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Enrolment {
    pub tag: String,
    pub type_chosen: Option<usize>,
    pub mower: Option<usize>,
}

/// A new type on its way to a record.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct TypeDraft {
    pub name: String,
    pub frame: Option<FrameKind>,
    /// How the front roller (the head, on a fixed head) is adjusted, and the other one.
    pub adjusters: Option<(Made, Made)>,
    pub blades: Option<u32>,
    /// Where an eccentric stands, from its lowest lift.
    pub resting: Option<AngleReading>,
    lengths: Vec<Option<Reading>>,
    picked: Option<TypeField>,
}

/// The kinds of frame, the most usual first.
const FRAMES: [FrameKind; 5] =
    [FrameKind::Adjustable, FrameKind::SidePlates, FrameKind::Welded, FrameKind::FloatingReel, FrameKind::FixedHead];

/// How both rollers of a frame may be made; what the trade has mostly comes first.
const fn makings(frame: FrameKind) -> &'static [(Made, Made)] {
    match frame {
        FrameKind::Adjustable | FrameKind::FloatingReel | FrameKind::FixedHead => &[
            (Made::Eccentrics, Made::Screws),
            (Made::Screws, Made::Screws),
            (Made::Eccentrics, Made::Eccentrics),
            (Made::Screws, Made::Eccentrics),
        ],
        FrameKind::SidePlates => &[
            (Made::Eccentrics, Made::Shims),
            (Made::Eccentrics, Made::Eccentrics),
            (Made::Screws, Made::Shims),
            (Made::Screws, Made::Eccentrics),
        ],
        FrameKind::Welded => &[(Made::Eccentrics, Made::Fixed), (Made::Screws, Made::Fixed)],
    }
}

/// Stands in the record where nothing is turned: the calculation wants an adjuster, and no screen tells its turns.
const NOTHING_TO_TURN: AdjusterKind = AdjusterKind::Screw { pitch: Length::from_mm(1.0) };
/// An eccentric goes from its lowest lift at 0° to its highest at 180°.
const RESTING_MOST: f64 = 180.0;

/// A reel has from three blades on a rough mower to fifteen on the finest greens (common practice).
const BLADES: std::ops::RangeInclusive<u32> = 3..=15;
/// Nothing on a cutting unit is longer than this.
const LENGTH_MOST: Reading = Reading::from_nanometres(2_000_000_000);
/// Adjusters stand outside the reel's end, so their place may be less than nothing.
const LENGTH_LEAST: Reading = Reading::from_nanometres(-500_000_000);

impl Enrolment {
    pub(super) fn of(tag: &str) -> Self {
        Self { tag: tag.to_owned(), type_chosen: None, mower: None }
    }
}

impl TypeDraft {
    fn named(name: String) -> Self {
        let lengths = vec![None; TypeField::ALL.len()];
        Self { name, frame: None, adjusters: None, blades: None, resting: None, lengths, picked: None }
    }

    pub(super) fn asked(&self) -> TypeField {
        let first = || self.fields().into_iter().find(|field| !self.has(*field));
        self.picked.or_else(first).unwrap_or(TypeField::Blades)
    }

    /// The values that a type of this making needs.
    pub(super) fn fields(&self) -> Vec<TypeField> {
        let made = |kind| self.adjusters.is_some_and(|(front, rear)| front == kind || rear == kind);
        let needed = |field: &TypeField| match field {
            TypeField::Pitch => made(Made::Screws),
            TypeField::Throw | TypeField::Resting => made(Made::Eccentrics),
            _ => true,
        };
        TypeField::ALL.into_iter().filter(needed).collect()
    }

    fn has(&self, field: TypeField) -> bool {
        match field {
            TypeField::Blades => self.blades.is_some(),
            TypeField::Resting => self.resting.is_some(),
            _ => self.length(field).is_some(),
        }
    }

    /// What can be chosen before the values are asked for.
    pub(super) fn choices(&self, settings: Settings) -> Vec<(String, String)> {
        match self.frame {
            None => FRAMES.into_iter().map(|frame| words::frame_choice(frame, settings)).collect(),
            Some(frame) => {
                let made = |(front, rear): &(Made, Made)| words::made_choice(frame, *front, *rear, settings);
                makings(frame).iter().map(made).collect()
            }
        }
    }

    fn choose(&mut self, index: usize) {
        match self.frame {
            None => self.frame = FRAMES.get(index).copied(),
            Some(frame) => self.adjusters = makings(frame).get(index).copied(),
        }
    }

    fn set_length(&mut self, field: TypeField, length: Reading) {
        if let Some(index) = TypeField::ALL.iter().position(|known| *known == field) {
            self.lengths[index] = Some(length);
        }
    }

    fn adjuster(&self, made: Made) -> Option<AdjusterKind> {
        Some(match made {
            Made::Screws => AdjusterKind::Screw { pitch: self.length(TypeField::Pitch)?.length() },
            Made::Eccentrics => {
                let throw = self.length(TypeField::Throw)?.length();
                AdjusterKind::Eccentric { throw, angle: self.resting?.angle() }
            }
            Made::Shims | Made::Fixed => NOTHING_TO_TURN,
        })
    }

    fn pair(&self, made: Made) -> Option<AdjusterPair> {
        let kind = self.adjuster(made)?.check().ok()?;
        let at = |y| Adjuster { y, kind, clockwise_raises: None, seen_from: SeenFrom::Above };
        Some(AdjusterPair {
            left: at(self.length(TypeField::AdjusterLeft)?),
            right: at(self.length(TypeField::AdjusterRight)?),
        })
    }

    pub(super) fn length(&self, field: TypeField) -> Option<Reading> {
        TypeField::ALL.iter().position(|known| *known == field).and_then(|index| self.lengths[index])
    }

    pub(super) fn complete(&self) -> bool {
        self.unit_type().is_some()
    }

    fn unit_type(&self) -> Option<UnitType> {
        let length = |field| self.length(field);
        let (front, rear) = self.adjusters?;
        Some(UnitType {
            name: self.name.clone(),
            frame: self.frame?,
            blades: self.blades?,
            hand: None,
            leading_end_at: None,
            new_diameter: length(TypeField::NewDiameter)?,
            wear_limit: length(TypeField::WearLimit)?,
            limit_basis: LimitBasis::Caliper,
            reel_length: length(TypeField::ReelLength)?,
            blade_thickness: length(TypeField::BladeThickness)?,
            // Common practice is 20 to 30 degrees; asked for when relief is ground.
            relief_angle: Angle::from_degrees(25.0),
            land_limit: length(TypeField::LandLimit)?,
            touch_left: length(TypeField::TouchLeft)?,
            touch_right: length(TypeField::TouchRight)?,
            front: self.pair(front)?,
            rear: self.pair(rear)?,
            rear_reading_span: length(TypeField::RearSpan)?,
            reel_x: length(TypeField::ReelX)?,
            wheelbase: length(TypeField::Wheelbase)?,
            jack_y: length(TypeField::JackY)?,
            weight: None,
            setup: TypeSetup::default(),
        })
        .filter(|made| made.new_diameter > made.wear_limit)
    }
}

impl Bench {
    pub(super) fn mowers(&self) -> Vec<Mower> {
        self.shop.mowers.values().cloned().collect()
    }

    pub(super) fn types(&self) -> Vec<UnitType> {
        self.shop.types.values().cloned().collect()
    }

    pub(super) fn view_back(&mut self) {
        self.view = match std::mem::replace(&mut self.view, View::Bench) {
            View::NewType(enrolment, TypeDraft { frame: None, .. }) => View::Enrol(enrolment),
            // One step back at a time; what was typed stays.
            View::NewType(enrolment, draft) if draft.adjusters.is_some() => {
                View::NewType(enrolment, TypeDraft { adjusters: None, ..draft })
            }
            View::NewType(enrolment, draft) => View::NewType(enrolment, TypeDraft { frame: None, ..draft }),
            View::Enrol(Enrolment { tag, type_chosen: Some(_), mower: Some(_) }) => {
                View::Enrol(Enrolment { type_chosen: None, mower: None, tag })
            }
            View::UnitCard { from, .. } => *from,
            View::Pin(draft) => {
                // What was typed is for nothing else.
                self.entry_serial += 1;
                draft.before()
            }
            View::ShopSettings(_) | View::Pages(_) => View::About,
            View::Form(form) => match form.kind {
                FormKind::Mount | FormKind::Scrap | FormKind::Measure => View::Wheel,
                FormKind::LockOn | FormKind::ForceRelease => View::Lockout { comes_off: false },
            },
            View::Lockout { comes_off: true } => View::Lockout { comes_off: false },
            // Where no unit is on the rails they are opened from the grinder.
            View::Wheel | View::Lockout { .. } if self.on_rails().is_none() => View::Grinder(GrinderPage::default()),
            View::Enrol(_)
            | View::Find { .. }
            | View::Bench
            | View::About
            | View::FirstStart(_)
            | View::Grinder(_)
            | View::Due
            | View::Wheel
            | View::Lockout { .. }
            | View::Why(_) => View::Bench,
        };
    }

    pub(super) fn enrolment_pressed(&mut self, control: Control, index: usize) {
        let types = self.types().len();
        match (self.view.clone(), control) {
            (View::Find { .. }, Control::PickMower) => self.view = View::Find { mower: Some(index) },
            (View::Find { mower: Some(mower) }, Control::PickPosition) => self.found(mower, index as u32 + 1),
            (View::Enrol(enrolment), Control::NewType) => self.draft(enrolment),
            (View::Enrol(enrolment), Control::PickType) if index >= types => self.draft(enrolment),
            (View::Enrol(enrolment), Control::PickType) => {
                self.view = View::Enrol(Enrolment { type_chosen: Some(index), ..enrolment });
            }
            (View::Enrol(enrolment), Control::PickMower) => {
                self.view = View::Enrol(Enrolment { mower: Some(index), ..enrolment });
            }
            (View::Enrol(enrolment), Control::PickPosition) => self.enrol(&enrolment, index as u32 + 1),
            _ => {}
        }
    }

    fn draft(&mut self, enrolment: Enrolment) {
        let name = (1..)
            .map(|number| format!("Type {number}"))
            .find(|name| !self.shop.types.contains_key(name))
            .unwrap_or_default();
        self.view = View::NewType(enrolment, TypeDraft::named(name));
    }

    fn found(&mut self, mower: usize, position: u32) {
        let Some(mower) = self.mowers().get(mower).map(|mower| mower.name.clone()) else { return };
        let there = self.shop.units.values().find(|unit| unit.mower == mower && unit.position == position);
        match there.map(|unit| unit.tag.clone()) {
            Some(tag) => self.unit(&tag),
            None => self.said = Some(Said::NobodyThere),
        }
    }

    fn enrol(&mut self, enrolment: &Enrolment, position: u32) {
        let type_name = enrolment.type_chosen.and_then(|index| self.types().get(index).map(|known| known.name.clone()));
        let mower = enrolment.mower.and_then(|index| self.mowers().get(index).cloned());
        let (Some(type_name), Some(mower)) = (type_name, mower) else { return };
        let unit = Unit {
            tag: enrolment.tag.clone(),
            type_name,
            serial: None,
            mower: mower.name,
            position,
            status: UnitStatus::InService,
            history: Vec::new(),
            services: Vec::new(),
        };
        if let Err(said) = self.displace(&unit) {
            return self.said = Some(said);
        }
        let tag = unit.tag.clone();
        let body = EntryBody::Record { record: Box::new(Record::Unit { unit: unit.clone() }) };
        match self.keep(body, &[Change::Unit(unit)]) {
            Ok(()) => {
                self.unit(&tag);
                self.said = Some(Said::Enrolled { tag });
            }
            Err(said) => self.said = Some(said),
        }
    }

    /// Two units cannot sit in one place: the one on record there is spare from now on.
    fn displace(&mut self, newcomer: &Unit) -> Result<(), Said> {
        let there = |unit: &&Unit| unit.mower == newcomer.mower && unit.position == newcomer.position;
        let Some(before) = self.shop.units.values().find(there) else { return Ok(()) };
        let unit = Unit { mower: String::new(), position: 0, status: UnitStatus::Spare, ..before.clone() };
        let body = EntryBody::Record { record: Box::new(Record::Unit { unit: unit.clone() }) };
        self.keep(body, &[Change::Unit(unit)])
    }

    /// A value of the new type was typed.
    pub(super) fn type_value(&mut self, text: &str) {
        let View::NewType(enrolment, mut draft) = self.view.clone() else { return };
        if draft.adjusters.is_none() {
            return;
        }
        let taken = match draft.asked() {
            TypeField::Blades => blades(text).map(|blades| draft.blades = Some(blades)),
            TypeField::Resting => resting(text).map(|angle| draft.resting = Some(angle)),
            field => self.type_length(field, text).map(|length| draft.set_length(field, length)),
        };
        self.entry_serial += 1;
        match taken {
            Ok(()) => {
                draft.picked = None;
                self.view = View::NewType(enrolment, draft);
            }
            Err(said) => self.said = Some(said),
        }
    }

    fn type_length(&self, field: TypeField, text: &str) -> Result<Reading, Said> {
        let unit = self.settings.units.entry_unit(LengthKind::Size);
        let reading = Reading::parse(text, unit).map_err(Said::Entry)?;
        let least = match field {
            TypeField::AdjusterLeft | TypeField::AdjusterRight | TypeField::JackY => LENGTH_LEAST,
            _ => Reading::from_nanometres(1),
        };
        if (least..=LENGTH_MOST).contains(&reading) {
            return Ok(reading);
        }
        let range = sparkout_core::visit::refusal::Refusal::OutOfRange {
            place: Some(sparkout_core::visit::event::Place::Centre),
            reading,
            least,
            most: LENGTH_MOST,
        };
        Err(Said::Refused(range))
    }

    pub(super) fn type_pressed(&mut self, control: Control, index: usize) {
        let View::NewType(enrolment, mut draft) = self.view.clone() else { return };
        match control {
            Control::PickField if draft.adjusters.is_none() => {
                draft.choose(index);
                self.view = View::NewType(enrolment, draft);
            }
            Control::PickField if index < draft.fields().len() => {
                draft.picked = draft.fields().get(index).copied();
                self.view = View::NewType(enrolment, draft);
            }
            Control::SaveType => self.save_type(enrolment, &draft),
            _ => {}
        }
    }

    fn save_type(&mut self, enrolment: Enrolment, draft: &TypeDraft) {
        let Some(unit_type) = draft.unit_type() else { return self.said = Some(Said::TypeIncomplete) };
        let name = unit_type.name.clone();
        let body = EntryBody::Record { record: Box::new(Record::Type { unit_type: unit_type.clone() }) };
        match self.keep(body, &[Change::Type(unit_type)]) {
            Ok(()) => {
                let type_chosen = self.types().iter().position(|known| known.name == name);
                self.view = View::Enrol(Enrolment { type_chosen, ..enrolment });
            }
            Err(said) => self.said = Some(said),
        }
    }
}

fn resting(text: &str) -> Result<AngleReading, Said> {
    let angle = AngleReading::parse(text).map_err(Said::Entry)?;
    let within = (0.0..=RESTING_MOST).contains(&angle.angle().degrees());
    within.then_some(angle).ok_or_else(|| Said::RestingOutOfRange { text: text.chars().take(24).collect() })
}

fn blades(text: &str) -> Result<u32, Said> {
    let shown = text.chars().take(24).collect::<String>();
    let count = text.trim().parse::<u32>().ok().filter(|count| BLADES.contains(count));
    count.ok_or(Said::BladesOutOfRange { text: shown, least: *BLADES.start(), most: *BLADES.end() })
}
