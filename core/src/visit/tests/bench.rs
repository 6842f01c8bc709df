//! An invented bench with the handbook's geometry: inches throughout.

use super::{inch, thou};
use crate::bench::{DialKind, FrameKind, LimitBasis};
use crate::calc::adjuster::AdjusterKind;
use crate::calc::master::MasterVerdict;
use crate::facts::{
    BenchFacts, GateItem, GateRules, Gauges, Grinding, GuardInput, Instruments, Limits, Per, PriorAcknowledgement,
    ReliefGrinding, SetupLimits, ShimStock, StopInput, Upkeep,
};
use crate::lockout::{Applied, Lockout, Padlock};
use crate::moment::Moment;
use crate::quantity::{Angle, Length, Speed, SpindleSpeed};
use crate::record::{
    Adjuster, AdjusterPair, Grinder, KnifeShape, MasterCheck, Operator, RingTest, SeenFrom, Side, TypeSetup, UnitType,
    Wheel, Work,
};
use crate::visit::event::UnitFacts;
use jiff::civil::date;

pub fn moment(monotonic_ms: u64) -> Moment {
    Moment { wall: "2031-04-14T08:00:00Z".parse().unwrap(), monotonic_ms, boot: "boot-1".to_owned() }
}

fn adjuster(y: &str, kind: AdjusterKind) -> Adjuster {
    Adjuster { y: inch(y), kind, clockwise_raises: Some(true), seen_from: SeenFrom::Above }
}

/// A 24-per-inch screw.
pub fn screw() -> AdjusterKind {
    AdjusterKind::Screw { pitch: Length::from_inches(1.0 / 24.0) }
}

pub fn pair(kind: AdjusterKind) -> AdjusterPair {
    AdjusterPair { left: adjuster("-1.5", kind), right: adjuster("23.5", kind) }
}

pub fn unit_type() -> UnitType {
    UnitType {
        name: "Greens 22".to_owned(),
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
        front: pair(screw()),
        rear: pair(screw()),
        rear_reading_span: inch("20"),
        reel_x: inch("4.5"),
        wheelbase: inch("11"),
        jack_y: inch("11"),
        weight: None,
        setup: TypeSetup::default(),
    }
}

/// The work before: it came in 0.010 larger at the leading end.
pub fn last_work() -> Work {
    Work {
        date: date(2031, 3, 3),
        operator: "AM".to_owned(),
        before_lead: inch("5.042"),
        before_trail: inch("5.032"),
        lead: inch("5.022"),
        trail: inch("5.022"),
        land: Some(inch("0.040")),
        height_of_cut: Some(inch("0.125")),
        proven: true,
        visit: Some("V0000007".to_owned()),
        lesson: None,
    }
}

pub fn unit() -> UnitFacts {
    UnitFacts {
        tag: "Q-114".to_owned(),
        unit_type: unit_type(),
        mower: "TRIPLEX-2".to_owned(),
        position: 1,
        last: Some(last_work()),
    }
}

pub fn operator(id: &str, initials: &str) -> Operator {
    Operator {
        id: id.to_owned(),
        name: format!("Operator {initials}"),
        initials: initials.to_owned(),
        trained: true,
        lead: false,
    }
}

pub fn wheel() -> Wheel {
    Wheel {
        mounting: "M-3".to_owned(),
        diameter: inch("6"),
        rated_speed: Some(SpindleSpeed::from_rpm(4_140.0)),
        inspected: true,
        ring_test: RingTest::Clear,
        mounted: None,
        looked_over: None,
        measured: None,
    }
}

/// Lock 7 of this person on the main isolator.
fn hung(badge: &str, initials: &str) -> Applied {
    Applied::hung(Padlock {
        number: "7".to_owned(),
        to: "Main isolator".to_owned(),
        badge: badge.to_owned(),
        by: operator(badge, initials).name,
        initials: initials.to_owned(),
        on: moment(0).wall,
    })
}

pub fn lock_hung(badge: &str, initials: &str) -> Lockout {
    Lockout::Applied(hung(badge, initials))
}

pub fn lock_tried(badge: &str, initials: &str) -> Lockout {
    Lockout::Tried(hung(badge, initials).tried(moment(1).wall))
}

/// The same lock under which the machine was tried and proved dead.
pub fn locked(badge: &str, initials: &str) -> Lockout {
    Lockout::Dead(hung(badge, initials).tried(moment(1).wall).proved_dead(moment(2).wall))
}

/// The unit with another frame; side plates get the eccentrics that some of them have at the rear.
pub fn unit_in(frame: FrameKind) -> UnitFacts {
    let mut unit = unit();
    unit.unit_type.frame = frame;
    unit
}

/// A check that found the rails out by three times what is accepted.
pub fn out_of_true() -> MasterCheck {
    MasterCheck {
        date: date(2031, 3, 1),
        operator: "AM".to_owned(),
        span: Length::from_inches(20.0),
        parallel_error: Length::from_inches(0.0015),
        parallel_u95: Length::from_inches(0.0003),
        straightness: Length::from_inches(0.0001),
        bar_error: Length::ZERO,
        tolerance: Length::from_inches(0.0005),
        verdict: MasterVerdict::OutOfTrue,
        proven: false,
    }
}

/// The gate's items: two before every grind, one a shift, one a mounting.
pub fn items() -> Vec<GateItem> {
    [("bedknife", Per::Grind), ("guard", Per::Grind), ("look", Per::Shift), ("rating", Per::Mounting)]
        .map(|(id, per)| GateItem { id: id.to_owned(), per, work: Vec::new(), look_over: false })
        .to_vec()
}

pub fn facts() -> BenchFacts {
    BenchFacts {
        operator: Some(operator("B-1", "AM")),
        grinder: Grinder {
            name: "Bench 1".to_owned(),
            dial: DialKind::Diameter,
            dial_per_turn: thou("100"),
            dial_graduation: thou("1"),
            spindle_speed: SpindleSpeed::from_rpm(3_450.0),
            check_due: date(2031, 9, 1),
            check_override: None,
            override_until: None,
            last_check: None,
        },
        wheel: Some(wheel()),
        lockout: None,
        guard: GuardInput::Closed,
        stop: StopInput::Released,
        today: date(2031, 4, 14),
        shift: "2031-04-14".to_owned(),
        instruments: Instruments {
            tape_graduation: thou("1"),
            indicator_graduation: thou("0.5"),
            touch_sd: Length::from_inches(0.000_3),
            gauges: Gauges::default(),
        },
        limits: Limits {
            tilt: Length::from_inches(0.002),
            rear: Length::from_inches(0.002),
            cone: Length::from_inches(0.002),
            plausible_change: Length::from_inches(0.060),
            swap_cone: Length::from_inches(0.006),
            setup: SetupLimits::default(),
        },
        grinding: Grinding {
            cleanup: Length::from_inches(0.002),
            infeed: Length::from_inches(0.002),
            sparkout_passes: 3,
            traverse: Speed::from_metres_per_second(0.085),
            usual_removal: Length::from_inches(0.010),
            relief: ReliefGrinding::default(),
        },
        gate: GateRules { items: items(), lapse_after_ms: 600_000, hold_ms: 1_000, look_over: false },
        acknowledged: Vec::new(),
        shims: ShimStock::default(),
        knife: KnifeShape::default(),
        upkeep: Upkeep::default(),
        untold: None,
    }
}

/// An acknowledgement that was made here earlier in this shift, by the first operator over this wheel.
pub fn prior(item: &str) -> PriorAcknowledgement {
    PriorAcknowledgement {
        item: item.to_owned(),
        operator: "B-1".to_owned(),
        mounting: "M-3".to_owned(),
        grinder: "Bench 1".to_owned(),
        shift: "2031-04-14".to_owned(),
    }
}
