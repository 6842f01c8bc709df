use super::{inch, near, prints_as, refused};
use crate::bench::DialKind;
use crate::calc::land::{LandInput, land};
use crate::calc::plan::{PlanInput, PlanVerdict, plan};
use crate::quantity::{Angle, Length, Ratio, Speed};
use proptest::prelude::*;

/// Worked example, common practice: 5.020/5.000, cleanup 0.002, infeed 0.002.
fn worked() -> PlanInput {
    PlanInput {
        lead: inch(5.020),
        trail: inch(5.000),
        centre: None,
        wear_limit: inch(4.900),
        cleanup: inch(0.002),
        infeed: inch(0.002),
        sparkout: 2,
        stroke: inch(24.0),
        traverse: Speed::from_feet_per_minute(8.0),
        usual_removal: inch(0.010),
        dial: DialKind::Diameter,
        infeed_yield: None,
        land: None,
        relief_angle: None,
        land_limit: None,
    }
}

#[test]
fn worked_example() {
    let answer = plan(&worked()).unwrap();
    near(answer.final_diameter.inches(), 4.998, 1e-13);
    near(answer.stock.inches(), 0.022, 1e-13);
    assert_eq!(answer.passes, 11);
    assert_eq!(answer.schedule.len(), 11);
    near(answer.schedule[0].inches(), 0.002, 1e-13);
    near(answer.schedule[10].inches(), 0.022, 1e-13);
    // 13 travels of 24 in at 96 in a minute.
    near(answer.minutes.minutes(), 3.25, 1e-12);
    assert_eq!(answer.grinds_left, 9);
    assert_eq!(answer.verdict, PlanVerdict::Grind);
    assert_eq!((answer.land_after, answer.relief_due), (None, None));
}

#[test]
fn the_last_pass_takes_the_rest() {
    let answer = plan(&PlanInput { infeed: inch(0.004), ..worked() }).unwrap();
    assert_eq!(answer.passes, 6);
    near(answer.schedule[4].inches(), 0.020, 1e-13);
    near(answer.schedule[5].inches(), 0.022, 1e-13);
}

/// Common practice: a dial graduated on diameter shows twice the head's travel, so one in radius shows half of it.
#[test]
fn dial_in_radius_and_a_yielding_setup() {
    let radius = plan(&PlanInput { dial: DialKind::Radius, ..worked() }).unwrap();
    near(radius.schedule[10].inches(), 0.011, 1e-13);
    let half = plan(&PlanInput { infeed_yield: Some(Ratio::from_value(0.5)), ..worked() }).unwrap();
    assert_eq!(half.passes, 22);
    near(half.schedule[21].inches(), 0.044, 1e-13);
}

#[test]
fn the_middle_counts() {
    let hourglass = plan(&PlanInput { centre: Some(inch(4.990)), ..worked() }).unwrap();
    near(hourglass.final_diameter.inches(), 4.988, 1e-13);
    let barrel = plan(&PlanInput { centre: Some(inch(5.030)), ..worked() }).unwrap();
    near(barrel.stock.inches(), 0.032, 1e-13);
}

#[test]
fn at_and_below_the_wear_limit() {
    let at = plan(&PlanInput { wear_limit: inch(4.998), ..worked() }).unwrap();
    assert_eq!((at.verdict, at.grinds_left), (PlanVerdict::Grind, 0));
    let below = plan(&PlanInput { wear_limit: inch(4.9981), ..worked() }).unwrap();
    assert_eq!((below.verdict, below.grinds_left), (PlanVerdict::BelowLimit, 0));
    let ten = plan(&PlanInput { wear_limit: inch(4.898), ..worked() }).unwrap();
    assert_eq!(ten.grinds_left, 10);
}

/// Worked example, common practice: land 0.040 with 0.022 off 5.020 at 25°.
#[test]
fn worked_land() {
    let input = LandInput {
        land: inch(0.040),
        diameter: inch(5.020),
        removed: inch(0.022),
        relief_angle: Angle::from_degrees(25.0),
        land_limit: Some(inch(0.0637)),
    };
    let answer = land(&input).unwrap();
    prints_as(answer.land_after, "0.0637");
    near(answer.growth.inches(), answer.land_after.inches() - 0.040, 1e-14);
    near(answer.removals_to_limit.unwrap().value(), 1.0, 0.005);
    // The rule of thumb (removed/2)/tan α is near enough.
    near(answer.growth.inches(), 0.011 / 25.0_f64.to_radians().tan(), 0.0003);
    let there = land(&LandInput { land_limit: Some(answer.land_after), ..input }).unwrap();
    near(there.removals_to_limit.unwrap().value(), 1.0, 1e-9);
    let past = land(&LandInput { land_limit: Some(inch(0.030)), ..input }).unwrap();
    assert_eq!(past.removals_to_limit, Some(Ratio::ZERO));
    let idle = land(&LandInput { removed: Length::ZERO, ..input }).unwrap();
    near(idle.growth.inches(), 0.0, 1e-15);
    assert_eq!(idle.removals_to_limit, None);
    let shallow = Angle::from_degrees(2.0);
    refused(land(&LandInput { relief_angle: shallow, ..input }), "removed");
}

#[test]
fn land_in_the_plan_differs_between_the_ends_of_a_cone() {
    let input = PlanInput {
        land: Some(inch(0.040)),
        relief_angle: Some(Angle::from_degrees(25.0)),
        land_limit: Some(inch(0.060)),
        ..worked()
    };
    let answer = plan(&input).unwrap();
    let land_after = answer.land_after.unwrap();
    prints_as(land_after.lead, "0.0637");
    assert!(land_after.trail < inch(0.043));
    assert_eq!(answer.relief_due, Some(true));
    let wide = plan(&PlanInput { land_limit: Some(inch(0.064)), ..input }).unwrap();
    assert_eq!(wide.relief_due, Some(false));
    refused(plan(&PlanInput { relief_angle: Some(Angle::from_degrees(2.0)), ..input }), "relief_angle");
}

#[test]
fn refusals_name_the_field() {
    refused(plan(&PlanInput { infeed: Length::ZERO, ..worked() }), "infeed");
    let dust = PlanInput { lead: inch(9.0), infeed: Length::from_mm(0.001), ..worked() };
    refused(plan(&dust), "infeed");
    refused(plan(&PlanInput { traverse: Speed::ZERO, ..worked() }), "traverse");
    refused(plan(&PlanInput { cleanup: inch(-0.001), ..worked() }), "cleanup");
    refused(plan(&PlanInput { infeed_yield: Some(Ratio::ZERO), ..worked() }), "yield");
    refused(plan(&PlanInput { usual_removal: Length::ZERO, ..worked() }), "usual_removal");
    refused(plan(&PlanInput { sparkout: 100_000, ..worked() }), "sparkout");
}

proptest! {
    /// Decimal stock and infeed whose quotient is whole give that many passes, never one more, in inches and in
    /// millimetres.
    #[test]
    fn whole_quotients_are_whole(passes in 1_u32..200, infeed in 1_u32..100, trail in 30_000_u32..60_000) {
        let (infeed_units, trail_units) = (f64::from(infeed), f64::from(trail));
        let lead_units = trail_units + infeed_units * f64::from(passes);
        let inches = PlanInput {
            lead: inch(lead_units / 10_000.0),
            trail: inch(trail_units / 10_000.0),
            infeed: inch(infeed_units / 10_000.0),
            cleanup: Length::ZERO,
            ..worked()
        };
        prop_assert_eq!(plan(&inches).unwrap().passes, passes);
        let mm = |value: f64| Length::from_mm(value / 1000.0);
        let metric = PlanInput { lead: mm(lead_units), trail: mm(trail_units), infeed: mm(infeed_units), ..inches };
        prop_assert_eq!(plan(&metric).unwrap().passes, passes);
    }

    /// No step of the schedule is more than the infeed, and the last one stands at the whole stock.
    #[test]
    fn no_step_exceeds_the_infeed(cone in 0.0..1.0_f64, cleanup in 0.0..1.0_f64, infeed in 0.001..0.5_f64) {
        let input = PlanInput {
            lead: worked().trail + Length::from_mm(cone),
            cleanup: Length::from_mm(cleanup),
            infeed: Length::from_mm(infeed),
            ..worked()
        };
        let answer = plan(&input).unwrap();
        let mut before = Length::ZERO;
        for dial in &answer.schedule {
            let step = *dial - before;
            prop_assert!(step > -Length::from_mm(1e-9) && step <= input.infeed * (1.0 + 1e-8));
            before = *dial;
        }
        prop_assert!((before - answer.stock).abs() < Length::from_mm(1e-9));
    }

    /// The land as found by rays: the front of the blade and the new end of the face seen from the axis, times the
    /// new radius.
    #[test]
    fn land_meets_the_face(width in 0.0..3.0_f64, diameter in 80.0..300.0_f64, removed in 0.0..1.0_f64, degrees in 15.0..35.0_f64) {
        let input = LandInput {
            land: Length::from_mm(width),
            diameter: Length::from_mm(diameter),
            removed: Length::from_mm(removed),
            relief_angle: Angle::from_degrees(degrees),
            land_limit: None,
        };
        let answer = land(&input).unwrap();
        let radius = (diameter - removed) / 2.0;
        let turned = answer.land_after.mm() / radius - width / (diameter / 2.0);
        // The point on the new circle must lie on the straight face through the old land's end.
        let (x, z) = (radius * turned.sin(), radius * turned.cos());
        let below = diameter / 2.0 - z;
        prop_assert!((below - x * degrees.to_radians().tan()).abs() < 1e-9);
    }
}
