//! What Front left against what Prove finds, on units that are ground by a wheel that makes the underside level.

use crate::chance::{Chance, read_off};
use sparkout_core::bench::{DialKind, End};
use sparkout_core::calc::front::{FrontInput, FrontUncertainty, Pair, front};
use sparkout_core::calc::prove::{ProveInput, TiltLeft, prove};
use sparkout_core::quantity::Length;

const DRAWS: u64 = 5_000;

fn mm(value: f64) -> Length {
    Length::from_mm(value)
}

/// One visit with so many touches; its misclosure in units of the uncertainty that is stated for it.
fn visit(touches: u32, chance: &mut Chance) -> f64 {
    let dial = if chance.below(2) == 0 { DialKind::Diameter } else { DialKind::Radius };
    let (q_dial, q_tape, touch_sd) =
        (chance.between(0.001, 0.026), chance.between(0.001, 0.026), chance.between(0.0, 0.01));
    let (largest, cone, tilt) = (chance.between(100.0, 200.0), chance.between(-0.6, 0.6), chance.between(-0.05, 0.05));
    let k = dial.factor();
    let touched = |chance: &mut Chance, height: f64| {
        let phase = chance.between(0.0, 1.0);
        let sum: f64 =
            (0..touches).map(|_| read_off(k * height + phase + chance.normal(touch_sd), q_dial) - phase).sum();
        sum / f64::from(touches)
    };
    let (zero, other) = (touched(chance, -largest / 2.0), touched(chance, tilt - (largest - cone) / 2.0));
    let answer = front(&FrontInput {
        zero_diameter: mm(read_off(largest, q_tape)),
        other_diameter: mm(read_off(largest - cone, q_tape)),
        reading: mm(other - zero),
        dial,
        touch: Pair { zero_y: mm(25.0), other_y: mm(535.0) },
        tape_y: None,
        adjuster: Pair { zero_y: mm(-40.0), other_y: mm(600.0) },
        reel_x: mm(115.0),
        wheelbase: mm(280.0),
        jack_y: mm(280.0),
        tolerance: mm(0.05),
        uncertainty: Some(FrontUncertainty {
            dial_graduation: mm(q_dial),
            tape_graduation: mm(q_tape),
            touch_sd: mm(touch_sd),
            touches_zero: touches,
            touches_other: touches,
        }),
        adjuster_kind: None,
    })
    .unwrap();
    // The wheel makes the underside level: other less zero diameter is twice the true tilt.
    let ground = largest - chance.between(0.7, 1.5);
    let zero_end = if chance.below(2) == 0 { End::Lead } else { End::Trail };
    let (at_zero, at_other) = (mm(read_off(ground, q_tape)), mm(read_off(ground + 2.0 * tilt, q_tape)));
    let (lead, trail) = if zero_end == End::Lead { (at_zero, at_other) } else { (at_other, at_zero) };
    let proved = prove(&ProveInput {
        lead,
        trail,
        centre: None,
        before: None,
        tape_graduation: mm(q_tape),
        tape_sd: None,
        tolerance: mm(0.05),
        tilt_left: Some(TiltLeft { tilt: answer.tilt, tilt_u95: answer.tilt_u95.unwrap(), zero_end }),
        runout: None,
        runout_limit: None,
        land: None,
        land_limit: None,
    })
    .unwrap();
    proved.misclosure.unwrap().abs().mm() / proved.misclosure_u95.unwrap().mm()
}

/// Within its stated uncertainty about 95 % of the time (JCGM 100:2008, 6.3.3, k = 2), whatever is touched how often.
/// The root mean square tells an uncertainty that is stated too large, which a count alone would not: with one touch
/// it is 1/k. Several touches scatter over the graduation and average it out in part, which the stated one leaves
/// out.
#[test]
fn misclosure_stays_within_its_uncertainty() {
    for (touches, least, most) in [(1, 0.49, 0.51), (2, 0.45, 0.51), (4, 0.42, 0.51)] {
        let mut chance = Chance::of(20);
        let shares: Vec<f64> = (0..DRAWS).map(|_| visit(touches, &mut chance)).collect();
        let within = shares.iter().filter(|share| **share <= 1.0).count() as f64 / DRAWS as f64;
        assert!((0.93..=0.99).contains(&within), "{touches} touches: {within}");
        let root_mean_square = (shares.iter().map(|share| share * share).sum::<f64>() / DRAWS as f64).sqrt();
        assert!((least..=most).contains(&root_mean_square), "{touches} touches: {root_mean_square}");
    }
}

/// A clamp that slips by more than the uncertainty is seen.
#[test]
fn a_unit_that_moved_shows() {
    let slipped = prove(&ProveInput {
        lead: mm(127.0),
        trail: mm(127.0 - 0.1),
        centre: None,
        before: None,
        tape_graduation: mm(0.02),
        tape_sd: Some(mm(0.005)),
        tolerance: mm(0.2),
        tilt_left: Some(TiltLeft { tilt: mm(0.01), tilt_u95: mm(0.01), zero_end: End::Lead }),
        runout: None,
        runout_limit: None,
        land: None,
        land_limit: None,
    })
    .unwrap();
    assert!(slipped.misclosure.unwrap() > slipped.misclosure_u95.unwrap());
}
