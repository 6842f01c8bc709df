use super::{inch, near, refused};
use crate::bench::FrameKind;
use crate::calc::adjuster::AdjusterKind;
use crate::calc::error::CalcError;
use crate::calc::rear::{RearInput, RearUncertainty, RearVerdict, rear, rear_strict};
use crate::quantity::{Angle, Length};

fn out_by(error: f64, frame: FrameKind) -> RearInput {
    RearInput {
        reading_a: inch(0.001),
        reading_b: inch(0.001 + error),
        roller: None,
        reading_span: inch(20.0),
        adjuster_span: inch(25.0),
        frame,
        tolerance: inch(0.002),
        square_limit: Some(inch(0.006)),
        frame_limit: Some(inch(0.010)),
        uncertainty: None,
        adjuster_kind: None,
    }
}

#[test]
fn the_move_cures_the_error_over_the_adjusters_span() {
    let answer = rear(&out_by(0.004, FrameKind::Adjustable)).unwrap();
    near(answer.error.inches(), 0.004, 1e-14);
    near(answer.move_b.inches(), -0.005, 1e-14);
    assert_eq!((answer.verdict, answer.error_u95), (RearVerdict::Adjust, None));
}

/// The indicator rides on top, the roller stands on its underside: a roller that is larger at b reads high there by
/// the whole difference.
#[test]
fn a_tapered_roller() {
    let roller = Some((inch(2.000), inch(2.004)));
    let answer = rear(&RearInput { roller, ..out_by(0.004, FrameKind::Adjustable) }).unwrap();
    near(answer.error.inches(), 0.0, 1e-14);
    assert_eq!(answer.verdict, RearVerdict::Parallel);
}

/// Common practice: the rear roller of a welded frame out by more than 0.010 in, replace the frame.
#[test]
fn every_frame_has_its_remedy() {
    use FrameKind::{Adjustable, FixedHead, FloatingReel, SidePlates, Welded};
    use RearVerdict::{Adjust, Parallel, Record, ReplaceFrame, Shim, SquareSidePlates};
    for (frame, error, verdict) in [
        (Adjustable, 0.002, Parallel),
        (Adjustable, -0.0021, Adjust),
        (FloatingReel, 0.02, Adjust),
        (FixedHead, 0.02, Adjust),
        (SidePlates, -0.002, Parallel),
        (SidePlates, -0.006, SquareSidePlates),
        (SidePlates, 0.0061, Shim),
        (Welded, 0.001, Parallel),
        (Welded, 0.010, Record),
        (Welded, -0.0101, ReplaceFrame),
    ] {
        assert_eq!(rear(&out_by(error, frame)).unwrap().verdict, verdict, "{frame:?} {error}");
    }
}

#[test]
fn a_limit_that_the_frame_needs_is_asked_for_even_when_parallel() {
    refused(rear(&RearInput { square_limit: None, ..out_by(0.0, FrameKind::SidePlates) }), "square_limit");
    refused(rear(&RearInput { frame_limit: None, ..out_by(0.0, FrameKind::Welded) }), "frame_limit");
    assert!(rear(&RearInput { square_limit: None, frame_limit: None, ..out_by(0.0, FrameKind::Adjustable) }).is_ok());
}

/// JCGM 100:2008, 4.3.7 and 5.1.2: two readings, each q/(2√3) and s; decided with guard band U (JCGM 106:2012,
/// 8.3.2).
#[test]
fn uncertainty_guards_the_verdict() {
    let worth = RearUncertainty { indicator_graduation: inch(0.0005), indicator_sd: inch(0.0002) };
    let at = |error| rear(&RearInput { uncertainty: Some(worth), ..out_by(error, FrameKind::Adjustable) }).unwrap();
    let u95 = 2.0 * (2.0 * (0.0005_f64.powi(2) / 12.0 + 0.0002_f64.powi(2))).sqrt();
    near(at(0.0).error_u95.unwrap().inches(), u95, 1e-14);
    assert_eq!(at(0.002 - u95 - 1e-6).verdict, RearVerdict::Parallel);
    assert_eq!(at(0.002 - u95 + 1e-6).verdict, RearVerdict::Adjust);
}

#[test]
fn screws_and_eccentrics() {
    let screw = Some(AdjusterKind::Screw { pitch: inch(1.0 / 20.0) });
    let answer = rear(&RearInput { adjuster_kind: screw, ..out_by(0.004, FrameKind::Adjustable) }).unwrap();
    near(answer.turns.unwrap().turns(), -0.1, 1e-12);
    let at_bottom = Some(AdjusterKind::Eccentric { throw: inch(0.06), angle: Angle::from_degrees(0.0) });
    let input = RearInput { adjuster_kind: at_bottom, ..out_by(0.004, FrameKind::Adjustable) };
    let answer = rear(&input).unwrap();
    assert!(answer.degrees.is_none() && answer.beyond_reach.is_some());
    let error = rear_strict(&input).unwrap_err();
    assert!(matches!(error, CalcError::OutOfReach { .. }));
    refused(Err::<(), _>(error), "move_b");
    let raised = RearInput { reading_b: inch(-0.003), ..input };
    assert!(rear_strict(&raised).unwrap().degrees.unwrap().degrees() > 0.0);
}

#[test]
fn refusals_name_the_field() {
    let good = out_by(0.001, FrameKind::Adjustable);
    refused(rear(&RearInput { reading_span: Length::ZERO, ..good }), "reading_span");
    refused(rear(&RearInput { adjuster_span: inch(-25.0), ..good }), "adjuster_span");
    refused(rear(&RearInput { reading_a: Length::from_mm(f64::NAN), ..good }), "reading_a");
    refused(rear(&RearInput { roller: Some((inch(2.0), inch(0.0))), ..good }), "roller_b");
    refused(rear(&RearInput { tolerance: inch(-0.002), ..good }), "tolerance");
}
