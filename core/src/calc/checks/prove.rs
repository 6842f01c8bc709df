use super::{inch, near, refused};
use crate::bench::End;
use crate::calc::prove::{Ends, ProveInput, ProveVerdict, TiltLeft, prove};
use crate::quantity::Length;
use proptest::prelude::*;

fn taped(lead: f64, trail: f64) -> ProveInput {
    ProveInput {
        lead: inch(lead),
        trail: inch(trail),
        centre: None,
        before: None,
        tape_graduation: inch(0.001),
        tape_sd: None,
        tolerance: inch(0.002),
        tilt_left: None,
        runout: None,
        runout_limit: None,
        land: None,
        land_limit: None,
    }
}

/// JCGM 100:2008, 4.3.7: two readings to 0.001 give u = 0.001·√(2/12), U = 0.000816; guarded after JCGM 106:2012,
/// 8.3.2.
#[test]
fn guarded_verdict() {
    let u95 = 2.0 * 0.001 * (2.0_f64 / 12.0).sqrt();
    let at = |cone: f64| prove(&taped(4.998 + cone, 4.998)).unwrap();
    near(at(0.0).cone_u95.inches(), u95, 1e-14);
    for (cone, verdict) in [
        (0.002 - u95 - 1e-6, ProveVerdict::Pass),
        (-(0.002 - u95 - 1e-6), ProveVerdict::Pass),
        (0.002 - u95 + 1e-6, ProveVerdict::Repeat),
        (-0.002, ProveVerdict::Repeat),
        (0.002_001, ProveVerdict::Regrind),
    ] {
        assert_eq!(at(cone).verdict, verdict, "{cone}");
    }
    let with_sd = prove(&ProveInput { tape_sd: Some(inch(0.0005)), ..taped(4.998, 4.998) }).unwrap();
    near(with_sd.cone_u95.inches(), 2.0 * (2.0 * (1e-6 / 12.0 + 2.5e-7_f64)).sqrt(), 1e-14);
}

#[test]
fn runout_beyond_its_limit_is_not_passed() {
    let at =
        |runout: f64| ProveInput { runout: Some(inch(runout)), runout_limit: Some(inch(0.001)), ..taped(4.998, 4.998) };
    assert_eq!(prove(&at(0.001)).unwrap().verdict, ProveVerdict::Pass);
    assert_eq!(prove(&at(0.0011)).unwrap().verdict, ProveVerdict::Regrind);
    let no_limit = ProveInput { runout_limit: None, ..at(0.5) };
    assert_eq!(prove(&no_limit).unwrap().verdict, ProveVerdict::Pass);
}

#[test]
fn removed_where_the_grind_began() {
    let before = |lead: f64, trail: f64| {
        let before = Some(Ends { lead: inch(lead), trail: inch(trail) });
        prove(&ProveInput { before, ..taped(4.998, 4.999) }).unwrap().removed.unwrap().inches()
    };
    near(before(5.020, 5.000), 0.022, 1e-12);
    near(before(5.000, 5.020), 0.021, 1e-12);
}

#[test]
fn relief() {
    let at = |land: f64| ProveInput { land: Some(inch(land)), land_limit: Some(inch(0.060)), ..taped(5.0, 5.0) };
    assert_eq!(prove(&at(0.060)).unwrap().relief_due, Some(false));
    assert_eq!(prove(&at(0.061)).unwrap().relief_due, Some(true));
    assert_eq!(prove(&taped(5.0, 5.0)).unwrap().relief_due, None);
}

#[test]
fn refusals_name_the_field() {
    refused(prove(&taped(50.0, 5.0)), "lead");
    refused(prove(&taped(5.0, 0.0)), "trail");
    let before = Some(Ends { lead: inch(5.0), trail: inch(500.0) });
    refused(prove(&ProveInput { before, ..taped(5.0, 5.0) }), "before.trail");
    let left = TiltLeft { tilt: inch(0.001), tilt_u95: inch(-0.001), zero_end: End::Lead };
    refused(prove(&ProveInput { tilt_left: Some(left), ..taped(5.0, 5.0) }), "tilt_left.tilt_u95");
    refused(prove(&ProveInput { tape_graduation: Length::from_mm(f64::NAN), ..taped(5.0, 5.0) }), "tape_graduation");
}

proptest! {
    /// A level wheel on a tilted axis grinds the underside level: r(y) = z(y) − h. So what Front left is found
    /// again, whichever end was zero.
    #[test]
    fn closes_with_front(tilt in -0.2..0.2_f64, radius in 50.0..150.0_f64, trail_is_zero in any::<bool>()) {
        let diameter_at = |axis_height: f64| Length::from_mm(2.0 * (axis_height + radius));
        let (zero, other) = (diameter_at(0.0), diameter_at(tilt));
        let zero_end = if trail_is_zero { End::Trail } else { End::Lead };
        let (lead, trail) = if trail_is_zero { (other, zero) } else { (zero, other) };
        let left = TiltLeft { tilt: Length::from_mm(tilt), tilt_u95: Length::from_mm(0.01), zero_end };
        let input = ProveInput { lead, trail, tilt_left: Some(left), ..taped(5.0, 5.0) };
        let answer = prove(&input).unwrap();
        prop_assert!(answer.misclosure.unwrap().abs() < Length::from_mm(1e-9));
        let u95 = (answer.cone_u95.mm().powi(2) + 0.02_f64.powi(2)).sqrt();
        prop_assert!((answer.misclosure_u95.unwrap().mm() - u95).abs() < 1e-12);
    }
}
