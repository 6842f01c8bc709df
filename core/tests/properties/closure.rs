//! What Front left against what Prove finds, on units that are ground by a wheel that makes the underside level.

use crate::chance::{Chance, read_off};
use sparkout_core::bench::{DialKind, End};
use sparkout_core::calc::front::{FrontInput, FrontUncertainty, Pair, front};
use sparkout_core::calc::prove::{ProveInput, TiltLeft, prove};
use sparkout_core::health::closure::Closure;
use sparkout_core::health::earned::earned;
use sparkout_core::quantity::Length;
use sparkout_core::reading::Reading;
use sparkout_core::record::Lesson;

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

/// What a bench does, known to the simulation alone.
struct Truth {
    dial: DialKind,
    q_dial: f64,
    q_tape: f64,
    touch_sd: f64,
    tape_sd: f64,
    touches: u32,
    /// A constant misclosure: the rails', not the hands'.
    offset: f64,
}

/// A finished visit as the unit's card keeps it: every number read off its instrument.
fn finished(truth: &Truth, chance: &mut Chance) -> Closure {
    let k = truth.dial.factor();
    let taped = |chance: &mut Chance, diameter: f64| read_off(diameter + chance.normal(truth.tape_sd), truth.q_tape);
    let (largest, tilt) = (chance.between(100.0, 200.0), chance.between(-0.05, 0.05));
    let other = largest - chance.between(0.0, 0.6);
    let target = k / 2.0 * (taped(chance, largest) - taped(chance, other));
    let touches: Vec<f64> = (0..truth.touches)
        .map(|_| {
            let zero = chance.between(0.0, 1.0);
            let at_zero = read_off(zero + chance.normal(truth.touch_sd), truth.q_dial);
            let rise = k * tilt + k / 2.0 * (largest - other);
            read_off(zero + rise + chance.normal(truth.touch_sd), truth.q_dial) - at_zero
        })
        .collect();
    let reading = touches.iter().sum::<f64>() / f64::from(truth.touches);
    let ground = largest - chance.between(0.7, 1.5);
    let (at_zero, at_other) = (taped(chance, ground), taped(chance, ground + 2.0 * tilt));
    let misclosure = mm(at_zero - at_other + 2.0 * (reading - target) / k + truth.offset);
    let nanometres = |value: f64| Reading::from_nanometres((value * 1e6).round() as i64);
    Closure {
        date: jiff::civil::date(2031, 3, 1),
        visit: None,
        unit: "U-1".to_owned(),
        operator: "AM".to_owned(),
        lesson: Lesson {
            grinder: "Bench 1".to_owned(),
            dial: truth.dial,
            dial_graduation: nanometres(truth.q_dial),
            tape: "Tape 1".to_owned(),
            tape_graduation: nanometres(truth.q_tape),
            wheel: None,
            infeed: None,
            removed: None,
            touches: touches.into_iter().map(nanometres).collect(),
            tilt: None,
            misclosure: Some(misclosure),
            misclosure_u95: None,
        },
        misclosure,
        misclosure_u95: mm(0.1),
    }
}

/// Root mean square over many benches of what each earned from so many visits; the mean square is what is estimated
/// without bias, and what an uncertainty is made of.
fn earned_by(truth: &Truth, visits: usize, chance: &mut Chance) -> (f64, Option<f64>) {
    const BENCHES: u32 = 400;
    let (mut touch, mut tape) = (Vec::new(), Vec::new());
    for _ in 0..BENCHES {
        let closures: Vec<Closure> = (0..visits).map(|_| finished(truth, chance)).collect();
        let found = earned(&closures, Some("AM"));
        touch.extend(found.touch_sd.map(Length::mm));
        tape.extend(found.tape_sd.map(Length::mm));
    }
    let rms = |values: &[f64]| (values.iter().map(|value| value * value).sum::<f64>() / values.len() as f64).sqrt();
    assert!(touch.len() as f64 > 0.95 * f64::from(BENCHES), "{}", touch.len());
    let of_tape = (tape.len() as f64 > 0.95 * f64::from(BENCHES)).then(|| rms(&tape));
    (rms(&touch), of_tape)
}

/// With the tape no worse than its graduation, the closures' scatter earns the touch's repeatability: true to a few
/// per cent from a hundred visits, whatever the dial is graduated in, and a constant misclosure does not enter.
#[test]
fn closures_earn_the_true_touch() {
    for (dial, offset) in [(DialKind::Diameter, 0.0), (DialKind::Radius, 0.05)] {
        let truth = Truth { dial, q_dial: 0.005, q_tape: 0.005, touch_sd: 0.01, tape_sd: 0.0, touches: 1, offset };
        let mut chance = Chance::of(31);
        for (visits, within) in [(25, 0.06), (100, 0.03)] {
            let (touch, tape) = earned_by(&truth, visits, &mut chance);
            assert!((touch / truth.touch_sd - 1.0).abs() < within, "{dial:?}, {visits} visits: {touch}");
            assert_eq!(tape, None);
        }
    }
}

/// Where touches are repeated they tell their own repeatability, and the closures then tell the tape's.
#[test]
fn repeated_touches_and_closures_earn_both() {
    let truth = Truth {
        dial: DialKind::Diameter,
        q_dial: 0.005,
        q_tape: 0.005,
        touch_sd: 0.01,
        tape_sd: 0.012,
        touches: 3,
        offset: 0.0,
    };
    let mut chance = Chance::of(32);
    let (touch, tape) = earned_by(&truth, 100, &mut chance);
    assert!((touch / truth.touch_sd - 1.0).abs() < 0.03, "{touch}");
    assert!((tape.unwrap() / truth.tape_sd - 1.0).abs() < 0.03, "{tape:?}");
}

/// An uncertainty stated from what was earned covers as one stated from the truth: about 95 % of later misclosures
/// (JCGM 100:2008, 6.3.3), though nobody told the bench how well its people touch.
#[test]
fn what_was_earned_states_the_uncertainty() {
    let truth = Truth {
        dial: DialKind::Diameter,
        q_dial: 0.005,
        q_tape: 0.005,
        touch_sd: 0.01,
        tape_sd: 0.0,
        touches: 1,
        offset: 0.0,
    };
    let mut chance = Chance::of(33);
    let (mut within, mut all) = (0_u32, 0_u32);
    for _ in 0..200 {
        let closures: Vec<Closure> = (0..40).map(|_| finished(&truth, &mut chance)).collect();
        let touch = earned(&closures, Some("AM")).touch_sd.unwrap().mm();
        let graduation = truth.q_dial * truth.q_dial / 12.0;
        let u95 = 2.0 * (6.0 * graduation + 2.0 * touch * touch).sqrt();
        for _ in 0..25 {
            within += u32::from(finished(&truth, &mut chance).misclosure.abs().mm() <= u95);
            all += 1;
        }
    }
    let share = f64::from(within) / f64::from(all);
    // Forty closures less the graduations leave some thirty degrees of freedom, for which twice a standard deviation
    // covers 94.5 % (Student).
    assert!((0.93..=0.965).contains(&share), "{share}");
}
