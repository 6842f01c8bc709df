//! What records say: `master`, `chart`, `match`, `yield` and `spring`.

use super::{inch, near, refused};
use crate::bench::DialKind;
use crate::calc::chart::chart;
use crate::calc::line::{least_squares, mean};
use crate::calc::master::{MasterInput, MasterVerdict, Station, master};
use crate::calc::matched::{Unit, matched};
use crate::calc::yields::{Grind, SpringInput, YieldInput, infeed_yield, spring};
use crate::quantity::{Length, Ratio};
use proptest::prelude::*;

const NORRIS_X: [f64; 36] = [
    0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777.0, 558.2, 0.4, 0.6, 775.5, 666.9, 338.0, 447.5,
    11.6, 556.0, 228.1, 995.8, 887.6, 120.2, 0.3, 0.3, 556.8, 339.1, 887.2, 999.0, 779.0, 11.1, 118.3, 229.2, 669.1,
    448.9, 0.5,
];
const NORRIS_Y: [f64; 36] = [
    0.1, 338.8, 118.1, 888.0, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1, 778.1, 668.8, 339.3, 448.9,
    10.8, 557.7, 228.3, 998.0, 888.8, 119.6, 0.3, 0.6, 557.6, 339.3, 888.0, 998.5, 778.9, 10.2, 117.6, 228.9, 668.4,
    449.2, 0.2,
];

/// NIST StRD "Norris": certified intercept and slope, to eleven digits.
#[test]
fn norris() {
    let points: Vec<(f64, f64)> = NORRIS_X.into_iter().zip(NORRIS_Y).collect();
    let (intercept, slope) = least_squares(&points);
    near(intercept, -0.262_323_073_774_029, 1e-11 * 0.26);
    near(slope, 1.002_116_818_020_45, 1e-11);
}

/// NIST StRD NumAcc1 and 3, from memory, recomputed: means that a careless sum loses.
#[test]
fn means_of_large_values() {
    assert_eq!(mean(&[10_000_001.0, 10_000_003.0, 10_000_002.0]), 10_000_002.0);
    let pairs: Vec<f64> = std::iter::once(1_000_000.2).chain([1_000_000.1, 1_000_000.3].repeat(500)).collect();
    near(mean(&pairs), 1_000_000.2, 1e-9);
}

/// NIST/SEMATECH e-Handbook 6.3.2.2, flow rates: 50.81, 1.8778, 45.8159 to 55.8041, in control. The range limit
/// 3.267·1.8778 is not printed there.
#[test]
fn flow_rates() {
    let values = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1].map(Ratio::from_value);
    let answer = chart(&values).unwrap();
    near(answer.centre.value(), 50.81, 1e-9);
    near(answer.mean_range.value(), 1.8778, 5e-5);
    near(answer.upper.value(), 55.8041, 1e-4);
    near(answer.lower.value(), 45.8159, 1e-4);
    near(answer.range_upper.value(), 6.1347, 1e-4);
    assert_eq!((answer.outside, answer.runs), (vec![], vec![]));
}

#[test]
fn what_stands_out_on_a_chart() {
    let of = |values: &[f64]| chart(&values.iter().copied().map(Ratio::from_value).collect::<Vec<_>>()).unwrap();
    // Equal values lie on the centre, whatever their mean is in binary fractions.
    let equal = of(&[0.1; 20]);
    assert_eq!((equal.outside, equal.runs), (vec![], vec![]));
    let jump = of(&[&[1.0; 20][..], &[9.0], &[1.0; 20]].concat());
    assert_eq!(jump.outside, [20]);
    assert_eq!(jump.runs, (7..20).chain(28..41).collect::<Vec<_>>());
    let step = of(&[&[1.0, 1.1].repeat(4)[..], &[3.0], &[1.0, 1.1].repeat(3), &[3.0; 9]].concat());
    assert_eq!(step.runs, [7, 22, 23]);
    refused(chart(&[Ratio::ZERO]), "values");
    refused(chart(&[Ratio::ZERO, Ratio::from_value(f64::NAN)]), "values[1]");
}

fn stations(heights: &[(f64, f64)]) -> Vec<Station> {
    heights.iter().map(|(y, dial)| Station { y: inch(*y), dial: inch(*dial) }).collect()
}

fn bar(readings: &[(f64, f64)], reversed: Option<&[(f64, f64)]>) -> MasterInput {
    MasterInput {
        readings: stations(readings),
        reversed: reversed.map(stations),
        dial: DialKind::Diameter,
        span: inch(20.0),
        tolerance: inch(0.0005),
    }
}

#[test]
fn slope_and_straightness() {
    let answer = master(&bar(&[(0.0, 0.0), (10.0, 0.0004), (20.0, 0.0008)], None)).unwrap();
    near(answer.slope.value(), 0.000_02, 1e-15);
    near(answer.parallel_error.inches(), 0.0004, 1e-14);
    near(answer.straightness.inches(), 0.0, 1e-14);
    assert_eq!((answer.bar_error, answer.verdict), (None, MasterVerdict::True));
    let bowed = master(&bar(&[(0.0, 0.0), (10.0, 0.0018), (20.0, 0.0)], None)).unwrap();
    near(bowed.straightness.inches(), 0.0009, 1e-14);
    assert_eq!(bowed.verdict, MasterVerdict::OutOfTrue);
    let radius = MasterInput { dial: DialKind::Radius, ..bar(&[(0.0, 0.0), (20.0, 0.0004)], None) };
    near(master(&radius).unwrap().parallel_error.inches(), 0.0004, 1e-14);
}

#[test]
fn master_refusals() {
    refused(master(&bar(&[(0.0, 0.0)], None)), "readings");
    refused(master(&bar(&[(1.0, 0.0), (1.0, 0.1)], None)), "readings[1].y");
    refused(master(&bar(&[(0.0, 0.0), (20.0, 9.0)], None)), "readings[1].dial");
    refused(master(&bar(&[(0.0, 0.0), (20.0, 0.0)], Some(&[(0.0, 0.0)]))), "reversed");
    refused(master(&bar(&[(0.0, 0.0), (20.0, 0.0)], Some(&[(0.0, 0.0), (19.0, 0.0)]))), "reversed[1].y");
}

#[test]
fn reels_of_one_mower() {
    let unit = |tag: &str, diameter: f64| Unit { tag: tag.to_owned(), diameter: inch(diameter) };
    let units = [unit("A", 5.000), unit("B", 5.004), unit("C", 4.950)];
    let answer = matched(&units, inch(0.010)).unwrap();
    near(answer.spread.inches(), 0.054, 1e-12);
    assert_eq!(answer.odd_ones, ["C"]);
    near(answer.bring_to.inches(), 4.950, 1e-12);
    let exact = matched(&[unit("A", 5.0), unit("B", 5.01), unit("C", 5.02)], inch(0.010)).unwrap();
    assert!(exact.odd_ones.is_empty());
    refused(matched(&[], inch(0.01)), "units");
    refused(matched(&[unit("A", 5.0), unit("B", 0.0)], inch(0.01)), "units[1].diameter");
}

#[test]
fn yield_through_the_origin() {
    let grind = |infeed: f64, removed: f64| Grind { infeed: inch(infeed), removed: inch(removed) };
    let input =
        YieldInput { grinds: vec![grind(0.010, 0.008), grind(0.020, 0.017)], wanted_removal: Some(inch(0.010)) };
    let answer = infeed_yield(&input).unwrap();
    near(answer.removed_per_infeed.value(), (0.010 * 0.008 + 0.020 * 0.017) / (0.0001 + 0.0004), 1e-12);
    near(answer.suggested_infeed.unwrap().inches(), 0.010 / 0.84, 1e-12);
    let nothing = YieldInput { grinds: vec![grind(0.010, 0.0)], ..input.clone() };
    assert_eq!(infeed_yield(&nothing).unwrap().suggested_infeed, None);
    refused(infeed_yield(&YieldInput { grinds: vec![], ..input.clone() }), "grinds");
    refused(infeed_yield(&YieldInput { grinds: vec![grind(0.0, 0.0)], ..input }), "grinds[0].infeed");
}

#[test]
fn spring_refusals() {
    let of = |infeed: &[f64], removed: &[f64]| {
        let list = |values: &[f64]| values.iter().copied().map(inch).collect();
        spring(&SpringInput { infeed: list(infeed), removed: list(removed), tolerance: inch(0.0002) })
    };
    refused(of(&[], &[]), "infeed");
    refused(of(&[0.002], &[0.001, 0.001]), "removed");
    refused(of(&[0.0, 0.0], &[0.0, 0.0]), "infeed[1]");
    refused(of(&[0.002, 0.002], &[0.0, 0.0]), "removed[1]");
    assert_eq!(of(&[0.002], &[0.002]).unwrap().passes_without_infeed, 0);
}

proptest! {
    /// A grinder and a bar that are both out are told apart by turning the bar.
    #[test]
    fn reversal_parts_grinder_and_bar(grinder in -2e-4..2e-4_f64, taper in -2e-4..2e-4_f64, zero in -0.5..0.5_f64) {
        let run = |slope: f64| (0..6).map(|step| {
            let y = 100.0 * f64::from(step);
            Station { y: Length::from_mm(y), dial: Length::from_mm(2.0 * (zero + slope * y)) }
        }).collect::<Vec<_>>();
        let input = MasterInput {
            readings: run(grinder + taper),
            reversed: Some(run(grinder - taper)),
            dial: DialKind::Diameter,
            span: Length::from_mm(500.0),
            tolerance: Length::from_mm(0.01),
        };
        let answer = master(&input).unwrap();
        prop_assert!((answer.slope.value() - grinder).abs() < 1e-12);
        prop_assert!((answer.bar_error.unwrap().mm() - 500.0 * taper).abs() < 1e-9);
        prop_assert!(answer.straightness.mm() < 1e-9);
        prop_assert_eq!(answer.verdict == MasterVerdict::True, 500.0 * grinder.abs() <= 0.01);
    }

    /// A simulated setup gives its fraction back, and the passes told are the fewest that bring the pending within
    /// the tolerance.
    #[test]
    fn spring_is_found_again(fraction in 0.1..0.99_f64, feeds in prop::collection::vec(0.005..0.1_f64, 2..10), tolerance in 0.000_5..0.01_f64) {
        let mut pending = 0.0;
        let mut pass = |infeed: f64| {
            let removed = fraction * (pending + infeed);
            pending += infeed - removed;
            (removed, pending)
        };
        let passes: Vec<(f64, f64)> = feeds.iter().map(|infeed| pass(*infeed)).collect();
        let input = SpringInput {
            infeed: feeds.iter().copied().map(Length::from_mm).collect(),
            removed: passes.iter().map(|(removed, _)| Length::from_mm(*removed)).collect(),
            tolerance: Length::from_mm(tolerance),
        };
        let answer = spring(&input).unwrap();
        prop_assert!((answer.fraction.value() - fraction).abs() < 1e-9);
        let left = passes.last().unwrap().1;
        prop_assert!((answer.left.mm() - left).abs() < 1e-9);
        let (mut still, mut needed) = (left, 0);
        while still > tolerance {
            still = pass(0.0).1;
            needed += 1;
        }
        prop_assert_eq!(answer.passes_without_infeed, needed);
    }
}
