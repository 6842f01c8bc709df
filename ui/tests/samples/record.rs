//! An invented unit and its type, as the record holds them.

use jiff::civil::{Date, date};
use sparkout_core::bench::{FrameKind, LimitBasis};
use sparkout_core::calc::adjuster::AdjusterKind;
use sparkout_core::quantity::{Angle, Length};
use sparkout_core::reading::Reading;
use sparkout_core::record::{Adjuster, AdjusterPair, SeenFrom, Side, TypeSetup, Unit, UnitStatus, UnitType, Work};

/// A day of the samples.
pub const TODAY: Date = date(2026, 11, 25);

/// Thousandths of an inch, exactly.
pub const fn thou(value: i64) -> Reading {
    Reading::from_nanometres(value * 25_400)
}

/// A fairway type whose limit is taped.
pub fn unit_type() -> UnitType {
    let kind = AdjusterKind::Screw { pitch: Length::from_inches(1.0 / 24.0) };
    let adjuster = |y| Adjuster { y: thou(y), kind, clockwise_raises: Some(true), seen_from: SeenFrom::Above };
    let pair = AdjusterPair { left: adjuster(-1500), right: adjuster(23_500) };
    UnitType {
        name: "Fairway type B".to_owned(),
        frame: FrameKind::Adjustable,
        blades: 11,
        hand: None,
        leading_end_at: Some(Side::Left),
        new_diameter: thou(5060),
        wear_limit: thou(4500),
        limit_basis: LimitBasis::Tape,
        reel_length: thou(22_000),
        blade_thickness: thou(250),
        relief_angle: Angle::from_degrees(25.0),
        land_limit: thou(83),
        touch_left: thou(1000),
        touch_right: thou(21_000),
        front: pair,
        rear: pair,
        rear_reading_span: thou(20_000),
        reel_x: thou(4500),
        wheelbase: thou(11_000),
        jack_y: thou(11_000),
        weight: None,
        setup: TypeSetup::default(),
    }
}

/// Ground on a day: smaller diameter, cone and land afterwards, in thousandths; twelve thousandths taken off.
pub fn work(date: Date, smallest: i64, cone: i64, land: Option<i64>) -> Work {
    Work {
        date,
        operator: if smallest % 2 == 0 { "IB".to_owned() } else { "OH".to_owned() },
        before_lead: thou(smallest + 16),
        before_trail: thou(smallest + 12),
        lead: thou(smallest + cone),
        trail: thou(smallest),
        land: land.map(thou),
        height_of_cut: Some(thou(400)),
        proven: cone < 2,
        visit: None,
        lesson: None,
    }
}

/// A unit with this history.
pub fn unit(history: Vec<Work>) -> Unit {
    Unit {
        tag: "Q-114".to_owned(),
        type_name: "Fairway type B".to_owned(),
        serial: Some("22-B-0417".to_owned()),
        mower: "Fairway 3".to_owned(),
        position: 2,
        status: UnitStatus::InService,
        history,
        services: Vec::new(),
    }
}

/// Eleven grinds in three seasons.
pub fn history() -> Vec<Work> {
    vec![
        work(date(2024, 4, 8), 5046, 1, Some(26)),
        work(date(2024, 6, 3), 5033, 0, Some(34)),
        work(date(2024, 8, 12), 5017, 3, Some(43)),
        work(date(2024, 10, 7), 5004, 1, Some(51)),
        work(date(2025, 3, 31), 4990, 0, Some(60)),
        work(date(2025, 6, 2), 4971, 2, Some(70)),
        work(date(2025, 8, 25), 4957, 1, Some(25)),
        work(date(2025, 11, 3), 4938, 0, Some(33)),
        work(date(2026, 4, 6), 4927, 1, Some(42)),
        work(date(2026, 6, 15), 4909, 2, None),
        work(date(2026, 10, 5), 4893, 1, Some(58)),
    ]
}
