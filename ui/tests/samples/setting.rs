//! Relief, Knife, Back-lap, Height, Plate, Check, and what the frames ask for at Rear.

use super::stages::{rear_adjust, shims, turn};
use super::{Sample, either, entry, visit_of};
use sparkout_ui::screen::*;

const RELIEF: [StopName; 10] = [
    StopName::Front,
    StopName::Rear,
    StopName::Finger,
    StopName::Clearance,
    StopName::Relief,
    StopName::Clearance,
    StopName::Grind,
    StopName::Prove,
    StopName::Label,
    StopName::Return,
];

fn row(language: Language, english: &str, spanish: &str, value: &str, now: bool, off: bool) -> SetRow {
    SetRow { name: english.into(), label: either(language, english, spanish), value: value.into(), now, off }
}

fn asking(mut screen: Screen, language: Language, english: &str, spanish: &str, unit: &str, hint: &str) -> Screen {
    let named = entry(7, Asked::TypeField, EndName::Centre, SideName::Middle, unit, hint);
    screen.entry = Some(Entry { field: either(language, english, spanish), ..named });
    screen
}

fn lands(language: Language, lead: &str, trail: &str, off: bool) -> Vec<SetRow> {
    vec![
        row(language, "Land, leading end", "Faja, entrada", lead, false, false),
        row(language, "Land, trailing end", "Faja, salida", trail, trail.is_empty(), off),
    ]
}

fn relief(language: Language) -> Relief {
    Relief {
        rows: lands(language, "0.080 in", "0.078 in", false),
        finger: "0.590".into(),
        finger_unit: "in".into(),
        blade_angle: "13.7".into(),
        relief_angle: "25°".into(),
        wanted: "0.020 in".into(),
        limit: "0.075 in".into(),
        round: 4,
        rounds: 14,
        blades: "11".into(),
        dial: "4.0".into(),
        unit: "thou".into(),
        cleared_by: "IB".into(),
        cleared_at: "09:31".into(),
        drawn: ReliefDrawn {
            relief_degrees: 25.0,
            blade_degrees: 13.65,
            blades: 11,
            lands: [1.0, 0.975],
            wanted: 0.25,
            limit: 0.94,
        },
        ..Relief::default()
    }
}

fn drawn(lands: [f32; 2], wanted: f32, limit: f32) -> ReliefDrawn {
    ReliefDrawn { lands, wanted, limit, ..relief(Language::English).drawn }
}

fn reliefs(language: Language) -> Vec<Sample> {
    let show = |stop, body| visit_of(language, &RELIEF, stop, Body::Relief(body));
    let first = Relief {
        rows: lands(language, "0.080 in", "", false),
        finger: String::new(),
        drawn: ReliefDrawn { blade_degrees: 0.0, ..drawn([1.0, 0.0], 0.25, 0.94) },
        ..relief(language)
    };
    let first = show(StopName::Finger, first);
    let rounds = Relief { phase: ReliefPhase::Rounds, ..relief(language) };
    let wide = Relief {
        phase: ReliefPhase::Lands,
        rows: lands(language, "0.021 in", "0.090 in", true),
        finger: String::new(),
        wide: true,
        drawn: drawn([0.233, 1.0], 0.222, 0.833),
        ..relief(language)
    };
    let narrow = Relief {
        wide: false,
        can_go: true,
        rows: lands(language, "0.021 in", "0.022 in", false),
        drawn: drawn([0.28, 0.293], 0.267, 1.0),
        ..wide.clone()
    };
    vec![
        ("45-relief-land", asking(first, language, "Land, trailing end", "Faja, salida", "in", "0.040")),
        ("45-relief-finger", show(StopName::Finger, relief(language))),
        ("45-relief-set", show(StopName::Finger, Relief { finger_set: true, can_go: true, ..relief(language) })),
        ("46-relief-round", show(StopName::Relief, rounds.clone())),
        ("46-relief-idle", show(StopName::Relief, Relief { dial: String::new(), round: 14, ..rounds.clone() })),
        ("47-relief-run-down", show(StopName::Relief, Relief { phase: ReliefPhase::RunDown, ..rounds })),
        ("48-relief-wide", show(StopName::Relief, wide)),
        ("48-relief-narrow", show(StopName::Relief, narrow)),
    ]
}

fn knife(language: Language, done: bool) -> Screen {
    let stops = [StopName::Receive, StopName::Knife, StopName::Label, StopName::Return];
    let body = Knife {
        rows: vec![
            row(language, "Top angle", "Ángulo superior", "5°", false, false),
            row(language, "Front angle", "Ángulo frontal", if done { "14.5°" } else { "18°" }, false, !done),
            row(language, "Thickness left", "Espesor restante", if done { "0.120 in" } else { "" }, !done, false),
        ],
        work: BedknifeWork::Reground,
        asked_for: either(
            language,
            "top 5° ± 1° · front 15° ± 1° · at least 0.060 in thick",
            "superior 5° ± 1° · frontal 15° ± 1° · espesor mínimo 0.060 in",
        ),
        checks: [true, done, done],
        paper_cuts: done,
        can_go: done,
        drawn: KnifeDrawn {
            top_degrees: 5.0,
            front_degrees: if done { 14.5 } else { 18.0 },
            thickness: if done { 0.8 } else { 0.0 },
            least: 0.4,
            least_text: "0.060 in".into(),
        },
    };
    visit_of(language, &stops, StopName::Knife, Body::Knife(body))
}

fn back_lap(language: Language, running: bool) -> Screen {
    let stops = [StopName::Receive, StopName::Clearance, StopName::BackLap, StopName::Return];
    let body = BackLap {
        running,
        elapsed: if running { "3:20".into() } else { String::new() },
        rows: vec![
            row(language, "Minutes lapped", "Minutos de asentado", "8 min", false, false),
            row(language, "Grit", "Grano", "", true, false),
        ],
        cleared_by: "IB".into(),
        cleared_at: if running { "09:31".into() } else { String::new() },
        ..BackLap::default()
    };
    visit_of(language, &stops, StopName::BackLap, Body::BackLap(body))
}

/// What a signed figure in thou is of the most that a picture draws.
fn part(figure: &str, most: f32) -> f32 {
    let first = figure.split(' ').next().unwrap_or_default().replace('−', "-");
    first.parse::<f32>().map_or(0.0, |thou| (thou / most).clamp(-1.0, 1.0))
}

fn height(language: Language, found: Found, left: &str, right: &str) -> Screen {
    let stops = [StopName::Receive, StopName::Height, StopName::Label, StopName::Return];
    let value = |value: &str| if left.is_empty() { String::new() } else { value.to_owned() };
    let body = Height {
        found,
        sets: 2,
        round: 1,
        rows: vec![
            row(language, "Height wanted", "Altura deseada", "0.125 in", false, false),
            row(language, "Height, your left", "Altura, izquierda", &value("0.118 in"), left.is_empty(), false),
            row(language, "Height, your right", "Altura, derecha", &value("0.131 in"), false, false),
        ],
        left: left.into(),
        right: right.into(),
        u95: "0.3".into(),
        unit: "thou".into(),
        limit: "2.0".into(),
        turn_left: turn("0.43", SideName::Left, Direction::Counterclockwise, ""),
        turn_right: turn("0.39", SideName::Right, Direction::Clockwise, ""),
        can_go: matches!(found, Found::Within | Found::Accepted),
        drawn: HeightDrawn { left: part(left, 15.0), right: part(right, 15.0), exaggeration: "80".into() },
    };
    visit_of(language, &stops, StopName::Height, Body::Height(body))
}

fn plate(language: Language, found: Found, gap: &str) -> Screen {
    let stops = [
        StopName::Receive,
        StopName::Tape,
        StopName::Front,
        StopName::Rear,
        StopName::Clearance,
        StopName::Grind,
        StopName::Prove,
        StopName::Plate,
        StopName::Label,
        StopName::Return,
    ];
    let body = Plate {
        found,
        sets: 2,
        rows: vec![
            row(language, "Edge, your left", "Filo, izquierda", "0.400 in", false, false),
            row(language, "Edge, your right", "Filo, derecha", "0.4005 in", false, false),
            row(language, "Gap, your left", "Holgura, izquierda", "1.0 thou", false, false),
            row(
                language,
                "Gap, your right",
                "Holgura, derecha",
                if gap.is_empty() { "" } else { "2.5 thou" },
                gap.is_empty(),
                false,
            ),
        ],
        edge: if gap.is_empty() { String::new() } else { "+0.5 ± 0.4".into() },
        gap: gap.into(),
        unit: "thou".into(),
        limit: "2.0".into(),
        can_go: matches!(found, Found::Within | Found::Accepted),
        drawn: PlateDrawn {
            edge: if gap.is_empty() { 0.0 } else { part("+0.5", 5.0) },
            gap: part(gap, 5.0),
            limit: part("2.0", 5.0),
            edge_off: false,
            gap_off: found == Found::Beyond,
            exaggeration: "150".into(),
        },
    };
    visit_of(language, &stops, StopName::Plate, Body::Plate(body))
}

fn check(language: Language, due: bool) -> Screen {
    let stops = [StopName::Receive, StopName::Tape, StopName::Check, StopName::Label, StopName::Return];
    let reasons = [
        either(
            language,
            "Coned by +8.0 thou, limit 2.0 thou. Spin it.",
            "Cono de +8.0 thou, límite 2.0 thou. Rectifique.",
        ),
        either(
            language,
            "Land 0.080 in, limit 0.075 in. Relief is due.",
            "Faja 0.080 in, límite 0.075 in. Corresponde destalonar.",
        ),
        either(language, "Paper is not cut along the whole length.", "No corta papel a todo lo largo."),
    ];
    let body = Check {
        rows: vec![
            row(
                language,
                "Land, leading end",
                "Faja, entrada",
                if due { "0.080 in" } else { "0.060 in" },
                false,
                false,
            ),
            row(
                language,
                "Land, trailing end",
                "Faja, salida",
                if due { "0.070 in" } else { "0.058 in" },
                false,
                false,
            ),
            row(language, "Height, your left", "Altura, izquierda", "0.400 in", false, false),
            row(language, "Height, your right", "Altura, derecha", "0.4005 in", false, false),
        ],
        paper: if due { Paper::NotCut } else { Paper::Cut },
        judged: true,
        due: if due { reasons.to_vec() } else { Vec::new() },
        cone: if due { "+8.0 ± 0.8 thou".into() } else { "+1.0 ± 0.8 thou".into() },
        can_go: true,
        profile: if due { [0.13, 0.02, -0.13] } else { [0.017, 0.0, -0.017] },
        exaggeration: "60".into(),
    };
    visit_of(language, &stops, StopName::Check, Body::Check(body))
}

fn rears(language: Language) -> Vec<Sample> {
    let stops =
        [StopName::Tape, StopName::Front, StopName::Rear, StopName::Clearance, StopName::Grind, StopName::Prove];
    let show = |body| visit_of(language, &stops, StopName::Rear, Body::Rear(body));
    let base = Rear { turn: None, error: "14.0".into(), right: "+14.0".into(), right_hand: 0.14, ..rear_adjust() };
    let shim = Rear { remedy: Remedy::Shim, stack: Some(shims()), shims_side: SideName::Left, ..base.clone() };
    let recorded = Rear { remedy: Remedy::Record, phase: TruePhase::AcceptedNotProven, can_go: true, ..base.clone() };
    vec![
        ("34-rear-square", show(Rear { remedy: Remedy::Square, ..base.clone() })),
        ("34-rear-shim", show(shim)),
        ("34-rear-record", show(Rear { remedy: Remedy::Record, ..base.clone() })),
        ("34-rear-recorded", show(recorded)),
        ("34-rear-replace", show(Rear { remedy: Remedy::Replace, ..base })),
    ]
}

/// All of them, in the order of a visit.
pub fn all(language: Language) -> Vec<Sample> {
    let mut samples = rears(language);
    samples.extend(reliefs(language));
    let thickness = asking(knife(language, false), language, "Thickness left", "Espesor restante", "in", "");
    let grit = asking(back_lap(language, false), language, "Grit", "Grano", "", "");
    let lapped = back_lap(language, false);
    let gauge = asking(
        height(language, Found::Open, "", ""),
        language,
        "Height, your left",
        "Altura, izquierda",
        "in",
        "0.125",
    );
    let gap = asking(plate(language, Found::Open, ""), language, "Gap, your right", "Holgura, derecha", "thou", "");
    samples.extend([
        ("63-knife", thickness),
        ("63-knife-done", knife(language, true)),
        ("64-back-lap-running", back_lap(language, true)),
        ("64-back-lap-grit", grit),
        ("64-back-lap", lapped),
        ("65-height", gauge),
        ("65-height-adjust", height(language, Found::Beyond, "−7.0", "+6.0")),
        ("65-height-not-proven", height(language, Found::NotProven, "−1.8", "+1.0")),
        ("65-height-proven", height(language, Found::Within, "−0.5", "+0.5")),
        ("66-plate", gap),
        ("66-plate-beyond", plate(language, Found::Beyond, "+3.0 ± 0.4")),
        ("66-plate-proven", plate(language, Found::Within, "+1.5 ± 0.4")),
        ("67-check-due", check(language, true)),
        ("67-check-fit", check(language, false)),
    ]);
    samples
}
