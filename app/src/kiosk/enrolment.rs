//! Finding a unit by its place, and enrolling one that nobody knows: its type, its place, and a new type where none fits.

use super::bench::{Bench, View};
use super::shop::Change;
use sparkout_core::bench::{FrameKind, LimitBasis};
use sparkout_core::calc::adjuster::AdjusterKind;
use sparkout_core::entry::{EntryBody, Record};
use sparkout_core::quantity::Angle;
use sparkout_core::reading::{LengthKind, Reading};
use sparkout_core::record::{Adjuster, AdjusterPair, Mower, SeenFrom, Unit, UnitStatus, UnitType};
use sparkout_ui::action::Control;
use sparkout_ui::words::{Said, TypeField};

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
    pub blades: Option<u32>,
    pub lengths: Vec<Option<Reading>>,
    pub field: usize,
}

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
        Self { name, blades: None, lengths: vec![None; TypeField::ALL.len()], field: 0 }
    }

    pub(super) fn asked(&self) -> TypeField {
        TypeField::ALL.get(self.field).copied().unwrap_or(TypeField::Blades)
    }

    fn length(&self, field: TypeField) -> Option<Reading> {
        TypeField::ALL.iter().position(|known| *known == field).and_then(|index| self.lengths[index])
    }

    pub(super) fn complete(&self) -> bool {
        self.unit_type().is_some()
    }

    fn unit_type(&self) -> Option<UnitType> {
        let length = |field| self.length(field);
        let pitch = length(TypeField::Pitch)?;
        let adjuster = |y| Adjuster {
            y,
            kind: AdjusterKind::Screw { pitch: pitch.length() },
            clockwise_raises: None,
            seen_from: SeenFrom::Above,
        };
        let pair = AdjusterPair {
            left: adjuster(length(TypeField::AdjusterLeft)?),
            right: adjuster(length(TypeField::AdjusterRight)?),
        };
        Some(UnitType {
            name: self.name.clone(),
            frame: FrameKind::Adjustable,
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
            front: pair,
            rear: pair,
            rear_reading_span: length(TypeField::RearSpan)?,
            reel_x: length(TypeField::ReelX)?,
            wheelbase: length(TypeField::Wheelbase)?,
            jack_y: length(TypeField::JackY)?,
            weight: None,
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
            View::NewType(enrolment, _) => View::Enrol(enrolment),
            View::Enrol(Enrolment { tag, type_chosen: Some(_), mower: Some(_) }) => {
                View::Enrol(Enrolment { type_chosen: None, mower: None, tag })
            }
            View::Enrol(_) | View::Find { .. } | View::Bench | View::About => View::Bench,
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
        let taken = match draft.asked() {
            TypeField::Blades => blades(text).map(|blades| draft.blades = Some(blades)),
            field => self.type_length(field, text).map(|length| draft.lengths[draft.field] = Some(length)),
        };
        self.entry_serial += 1;
        match taken {
            Ok(()) => {
                let empty = |index: &usize| match TypeField::ALL[*index] {
                    TypeField::Blades => draft.blades.is_none(),
                    _ => draft.lengths[*index].is_none(),
                };
                draft.field = (0..TypeField::ALL.len()).find(empty).unwrap_or(draft.field);
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
            Control::PickField if index < TypeField::ALL.len() => {
                draft.field = index;
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

fn blades(text: &str) -> Result<u32, Said> {
    let shown = text.chars().take(24).collect::<String>();
    let count = text.trim().parse::<u32>().ok().filter(|count| BLADES.contains(count));
    count.ok_or(Said::BladesOutOfRange { text: shown, least: *BLADES.start(), most: *BLADES.end() })
}
