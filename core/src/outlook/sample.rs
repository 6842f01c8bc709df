//! An invented unit whose history is what a test says.
#![allow(clippy::unwrap_used)]

use crate::bench::{FrameKind, LimitBasis};
use crate::calc::adjuster::AdjusterKind;
use crate::quantity::{Angle, Length};
use crate::reading::{EntryUnit, Reading};
use crate::record::{Adjuster, AdjusterPair, SeenFrom, Side, TypeSetup, Unit, UnitStatus, UnitType, Work};
use jiff::civil::Date;

pub fn inch(text: &str) -> Reading {
    Reading::parse(text, EntryUnit::Inch).unwrap()
}

pub fn unit_type() -> UnitType {
    let kind = AdjusterKind::Screw { pitch: Length::from_inches(1.0 / 24.0) };
    let adjuster = |y: &str| Adjuster { y: inch(y), kind, clockwise_raises: None, seen_from: SeenFrom::Above };
    let pair = AdjusterPair { left: adjuster("-1.5"), right: adjuster("23.5") };
    UnitType {
        name: "Invented 22".to_owned(),
        frame: FrameKind::Adjustable,
        blades: 11,
        hand: None,
        leading_end_at: Some(Side::Left),
        new_diameter: inch("5.100"),
        wear_limit: inch("4.500"),
        limit_basis: LimitBasis::Tape,
        reel_length: inch("22"),
        blade_thickness: inch("0.250"),
        relief_angle: Angle::from_degrees(25.0),
        land_limit: inch("0.080"),
        touch_left: inch("1"),
        touch_right: inch("21"),
        front: pair,
        rear: pair,
        rear_reading_span: inch("20"),
        reel_x: inch("4.5"),
        wheelbase: inch("11"),
        jack_y: inch("11"),
        weight: None,
        setup: TypeSetup::default(),
    }
}

/// Ground true to this diameter on this day, with 0.010 taken off.
pub fn work(date: Date, diameter: &str) -> Work {
    let after = inch(diameter);
    let before = Reading::from_nanometres(after.nanometres() + 254_000);
    Work {
        date,
        operator: "AM".to_owned(),
        before_lead: before,
        before_trail: before,
        lead: after,
        trail: after,
        land: Some(inch("0.040")),
        height_of_cut: None,
        proven: true,
        visit: None,
        lesson: None,
    }
}

pub fn unit_with(history: &[(Date, &str)]) -> Unit {
    Unit {
        tag: "U-1".to_owned(),
        type_name: unit_type().name,
        serial: None,
        mower: "Mower 1".to_owned(),
        position: 1,
        status: UnitStatus::InService,
        services: Vec::new(),
        history: history.iter().map(|(day, diameter)| work(*day, diameter)).collect(),
    }
}
