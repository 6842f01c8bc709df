//! A person's shift: `dose` and `lift`.

use super::{near, refused};
use crate::calc::dose::{Segment, allowed_hours, dose};
use crate::calc::lift::{Coupling, Lift, LiftInput, LiftVerdict, lift};
use crate::quantity::{Angle, Length, Mass, Ratio};
use proptest::prelude::*;

fn segments(list: &[(f64, f64)]) -> Vec<Segment> {
    list.iter()
        .map(|(level, hours)| Segment { level: Ratio::from_value(*level), hours: Ratio::from_value(*hours) })
        .collect()
}

/// 29 CFR 1910.95, Appendix A, table G-16a, as printed, all 51 rows. The current page prints 21.2 at 83 dBA; the
/// formula (21.112) and older copies give 21.1.
#[test]
fn table_g_16a() {
    let printed = [
        "32", "27.9", "24.3", "21.1", "18.4", "16", "13.9", "12.1", "10.6", "9.2", "8", "7.0", "6.1", "5.3", "4.6",
        "4", "3.5", "3.0", "2.6", "2.3", "2", "1.7", "1.5", "1.3", "1.1", "1", "0.87", "0.76", "0.66", "0.57", "0.5",
        "0.44", "0.38", "0.33", "0.29", "0.25", "0.22", "0.19", "0.16", "0.14", "0.125", "0.11", "0.095", "0.082",
        "0.072", "0.063", "0.054", "0.047", "0.041", "0.036", "0.031",
    ];
    for (step, hours) in printed.into_iter().enumerate() {
        let allowed = allowed_hours(Ratio::from_value(80.0 + step as f64)).value();
        let decimals = hours.split_once('.').map_or(0, |(_, decimals)| decimals.len());
        let half_up = (allowed * 10_f64.powi(decimals as i32) + 0.5 + 1e-9).floor() / 10_f64.powi(decimals as i32);
        near(half_up, hours.parse().unwrap(), 1e-9);
    }
}

/// The formula of the same appendix, unrounded, computed.
#[test]
fn hours_unrounded() {
    for (level, hours) in [
        (80.0, 32.0),
        (83.0, 21.11213),
        (88.0, 10.55606),
        (92.0, 6.06287),
        (97.0, 3.03143),
        (102.0, 1.51572),
        (106.0, 0.87055),
        (130.0, 0.03125),
    ] {
        near(allowed_hours(Ratio::from_value(level)).value(), hours, 1e-5);
    }
}

/// Worked doses: 92 dBA for 8 h after a public copy of Appendix A (about 131 %), the rest computed by its formulas.
#[test]
fn doses() {
    for (list, percent, twa) in [
        (&[(92.0, 8.0)][..], 131.951, 92.0),
        (&[(90.0, 8.0)], 100.0, 90.0),
        (&[(85.0, 8.0)], 50.0, 85.0),
        (&[(90.0, 4.0), (95.0, 2.0), (85.0, 2.0)], 112.5, 90.85),
        (&[(90.0, 10.0)], 125.0, 91.61),
        (&[(90.0, 7.28)], 91.0, 89.32),
    ] {
        let answer = dose(&segments(list)).unwrap();
        near(answer.dose_percent.value(), percent, 0.01);
        near(answer.twa.unwrap().value(), twa, 0.01);
    }
}

/// 29 CFR 1910.95, Appendix A, table A-1: formula values to 0.1 dB, the printed table from memory.
#[test]
fn table_a_1() {
    for (percent, twa) in [
        (10.0, 73.4),
        (15.0, 76.3),
        (20.0, 78.4),
        (25.0, 80.0),
        (30.0, 81.3),
        (35.0, 82.4),
        (40.0, 83.4),
        (45.0, 84.2),
        (50.0, 85.0),
        (55.0, 85.7),
        (60.0, 86.3),
        (65.0, 86.9),
        (70.0, 87.4),
        (75.0, 87.9),
        (80.0, 88.4),
        (85.0, 88.8),
        (90.0, 89.2),
        (95.0, 89.6),
        (100.0, 90.0),
        (110.0, 90.7),
        (120.0, 91.3),
        (125.0, 91.6),
        (130.0, 91.9),
        (150.0, 92.9),
        (200.0, 95.0),
        (300.0, 97.9),
        (400.0, 100.0),
        (500.0, 101.6),
        (999.0, 106.6),
    ] {
        let answer = dose(&segments(&[(90.0, percent / 100.0 * 8.0)])).unwrap();
        near(answer.twa.unwrap().value(), twa, 0.05 + 1e-9);
    }
}

/// Action level from 50 %, limit above 100 % (29 CFR 1910.95(c)(1) and table G-16).
#[test]
fn marks() {
    let marks = |list: &[(f64, f64)]| {
        let answer = dose(&segments(list)).unwrap();
        (answer.action_level, answer.over_limit)
    };
    assert_eq!(marks(&[(85.0, 8.0)]), (true, false));
    assert_eq!(marks(&[(85.0, 7.99)]), (false, false));
    assert_eq!(marks(&[(90.0, 8.0)]), (true, false));
    assert_eq!(marks(&[(90.0, 8.0 / 3.0); 3]), (true, false));
    assert_eq!(marks(&[(90.0, 8.01)]), (true, true));
    let quiet = dose(&segments(&[(79.9, 8.0), (60.0, 2.0)])).unwrap();
    assert_eq!((quiet.dose_percent, quiet.twa), (Ratio::ZERO, None));
    assert_eq!(dose(&[]).unwrap().twa, None);
    refused(dose(&segments(&[(90.0, 8.0), (141.0, 1.0)])), "segments[1].level");
    refused(dose(&segments(&[(90.0, -1.0)])), "segments[0].hours");
    refused(dose(&segments(&[(f64::NAN, 1.0)])), "segments[0].level");
}

fn lifted(load: f64, [h, v, d]: [f64; 3], fm: f64, coupling: Coupling) -> LiftInput {
    LiftInput {
        load: Mass::from_pounds(load),
        horizontal: Length::from_inches(h),
        vertical: Length::from_inches(v),
        travel: Length::from_inches(d),
        asymmetry: Angle::from_degrees(0.0),
        frequency_multiplier: Ratio::from_value(fm),
        coupling,
    }
}

/// DHHS (NIOSH) 94-110 (revised 2021), examples 1 (p. 35), 2 (p. 39) and 4 (p. 46); 4 after a page-referenced copy,
/// 1 and 2 from memory. The printed answers use multipliers rounded to two places, so they agree within 0.4 lb and
/// 0.11; the full-precision ones are computed.
#[test]
fn printed_examples() {
    use Coupling::{Fair, Good, Poor};
    for (input, printed, full) in [
        (lifted(44.0, [23.0, 15.0, 49.0], 1.0, Fair), (16.3, 2.7), (16.017, 2.747)),
        (lifted(44.0, [23.0, 64.0, 49.0], 1.0, Good), (14.5, 3.0), (14.153, 3.109)),
        (lifted(35.0, [20.0, 27.0, 17.0], 1.0, Poor), (20.9, 1.7), (20.771, 1.685)),
        (lifted(35.0, [20.0, 10.0, 17.0], 1.0, Poor), (18.1, 1.9), (18.062, 1.938)),
        (lifted(26.0, [10.0, 22.0, 37.0], 0.88, Fair), (34.9, 0.7), (34.814, 0.747)),
        (lifted(26.0, [20.0, 59.0, 37.0], 0.88, Fair), (15.2, 1.7), (15.253, 1.705)),
    ] {
        let answer: Lift = lift(&input).unwrap();
        near(answer.recommended_weight.pounds(), printed.0, 0.4);
        near(answer.lifting_index.value(), printed.1, 0.11);
        near(answer.recommended_weight.pounds(), full.0, 0.0005);
        near(answer.lifting_index.value(), full.1, 0.0005);
        let expected = if full.1 <= 1.0 { LiftVerdict::OnePerson } else { LiftVerdict::Assist };
        assert_eq!(answer.verdict, expected);
    }
}

/// The same document, tables 1 to 4 and 7: where the multipliers begin and end.
#[test]
fn multipliers() {
    let best = lift(&lifted(51.0, [5.0, 30.0, 3.0], 1.0, Coupling::Good)).unwrap();
    for multiplier in [best.hm, best.vm, best.dm, best.am, best.fm, best.cm] {
        near(multiplier.value(), 1.0, 1e-12);
    }
    near(best.recommended_weight.pounds(), 51.0, 1e-9);
    let turned =
        LiftInput { asymmetry: Angle::from_degrees(135.0), ..lifted(10.0, [25.0, 70.0, 70.0], 0.13, Coupling::Poor) };
    let worst = lift(&turned).unwrap();
    near(worst.hm.value(), 0.4, 1e-12);
    near(worst.vm.value(), 0.7, 1e-12);
    near(worst.am.value(), 0.568, 1e-12);
    near(worst.cm.value(), 0.9, 1e-12);
    refused(lift(&lifted(10.0, [25.1, 30.0, 10.0], 1.0, Coupling::Good)), "horizontal");
    refused(lift(&lifted(10.0, [10.0, 70.1, 10.0], 1.0, Coupling::Good)), "vertical");
    refused(lift(&lifted(10.0, [10.0, 30.0, 70.1], 1.0, Coupling::Good)), "travel");
    refused(lift(&lifted(10.0, [10.0, 30.0, 10.0], 0.0, Coupling::Good)), "frequency_multiplier");
    refused(lift(&LiftInput { asymmetry: Angle::from_degrees(136.0), ..turned }), "asymmetry");
    refused(lift(&lifted(0.0, [10.0, 30.0, 10.0], 1.0, Coupling::Good)), "load");
}

proptest! {
    /// A level held for eight hours is its own time-weighted average, and two halves are the whole.
    #[test]
    fn a_constant_level_is_its_average(level in 80.0..115.0_f64, share in 0.01..0.99_f64) {
        let whole = dose(&segments(&[(level, 8.0)])).unwrap();
        prop_assert!((whole.twa.unwrap().value() - level).abs() < 1e-9);
        let halves = dose(&segments(&[(level, 8.0 * share), (level, 8.0 * (1.0 - share))])).unwrap();
        prop_assert!((halves.dose_percent - whole.dose_percent).abs() < Ratio::from_value(1e-9 * whole.dose_percent.value()));
    }
}
