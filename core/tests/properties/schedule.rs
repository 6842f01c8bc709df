//! A reel ground pass by pass as `plan` says.

use proptest::prelude::*;
use sparkout_core::bench::DialKind;
use sparkout_core::calc::plan::{PlanInput, PlanVerdict, plan};
use sparkout_core::quantity::{Length, Ratio, Speed};

/// A picometre: nothing that a wheel could take off.
const NOTHING_MM: f64 = 1e-9;

fn any_plan() -> impl Strategy<Value = PlanInput> {
    let reel = (80.0..200.0_f64, -1.0..1.0_f64, prop::option::of(-0.3..0.3_f64));
    // From a reel far from its limit to one below it, and often just there.
    let limit = prop_oneof![0.0..5.0_f64, -0.2..0.2_f64];
    let feed = (0.0..0.3_f64, 0.005..0.2_f64, prop::option::of(0.05..2.0_f64), any::<bool>());
    (reel, limit, feed, 0.02..0.5_f64, 0_u32..6).prop_map(
        |((lead, cone, bulge), above_limit, (cleanup, infeed, yielded, radius), usual, sparkout)| {
            let trail = lead - cone;
            let centre = bulge.map(|bulge| f64::midpoint(lead, trail) + bulge);
            let smallest = lead.min(trail).min(centre.unwrap_or(lead));
            PlanInput {
                lead: Length::from_mm(lead),
                trail: Length::from_mm(trail),
                centre: centre.map(Length::from_mm),
                wear_limit: Length::from_mm(smallest - above_limit),
                cleanup: Length::from_mm(cleanup),
                infeed: Length::from_mm(infeed),
                sparkout,
                stroke: Length::from_mm(600.0),
                traverse: Speed::from_metres_per_second(0.04),
                usual_removal: Length::from_mm(usual),
                dial: if radius { DialKind::Radius } else { DialKind::Diameter },
                infeed_yield: yielded.map(Ratio::from_value),
                land: None,
                relief_angle: None,
                land_limit: None,
            }
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2_000))]

    /// Feeding by the schedule with the yield that was told ends at the told diameter, never past it on the way, no
    /// pass feeds more than its infeed, and a reel that ends below its limit was told to.
    #[test]
    fn the_schedule_keeps_its_word(input in any_plan()) {
        let told = plan(&input).unwrap();
        let places = [Some(input.lead), Some(input.trail), input.centre];
        let mut reel: Vec<f64> = places.into_iter().flatten().map(|place| place.mm()).collect();
        let smallest = reel.iter().copied().fold(f64::INFINITY, f64::min);
        let mut wheel_at = reel.iter().copied().fold(0.0, f64::max);
        let on_diameter = 2.0 / input.dial.factor();
        let mut dial = 0.0;
        prop_assert_eq!(told.schedule.len(), told.passes as usize);
        for shown in &told.schedule {
            let fed = (shown.mm() - dial) * on_diameter;
            dial = shown.mm();
            prop_assert!(fed > 0.0 && fed <= input.infeed.mm() * (1.0 + 1e-8), "a pass feeds {fed}");
            wheel_at -= fed * input.infeed_yield.map_or(1.0, Ratio::value);
            reel.iter_mut().for_each(|place| *place = place.min(wheel_at));
            let least = reel.iter().copied().fold(f64::INFINITY, f64::min);
            prop_assert!(least >= told.final_diameter.mm() - NOTHING_MM);
            prop_assert!(told.verdict == PlanVerdict::BelowLimit || least >= input.wear_limit.mm() - NOTHING_MM);
        }
        // A cylinder, and ground all round.
        prop_assert!(reel.iter().all(|place| (place - told.final_diameter.mm()).abs() < 1e-8), "{reel:?}");
        prop_assert!((smallest - input.cleanup.mm() - told.final_diameter.mm()).abs() < NOTHING_MM);
        let below = told.final_diameter.mm() < input.wear_limit.mm() - 2.0 * NOTHING_MM;
        prop_assert_eq!(below, told.verdict == PlanVerdict::BelowLimit);
    }

    /// As many usual grinds as are told fit above the limit, and not one more.
    #[test]
    fn the_grinds_left_are_there(input in any_plan()) {
        let told = plan(&input).unwrap();
        let after = |grinds: u32| told.final_diameter.mm() - input.usual_removal.mm() * f64::from(grinds);
        let near = 1e-8 * input.usual_removal.mm().max(1.0);
        prop_assert!(after(told.grinds_left + 1) < input.wear_limit.mm() + near);
        if told.verdict == PlanVerdict::Grind {
            prop_assert!(after(told.grinds_left) >= input.wear_limit.mm() - near);
        } else {
            prop_assert_eq!(told.grinds_left, 0);
        }
    }
}
