//! The stages before and after the gate.

use super::{Sample, entry, mower, visit};
use sparkout_ui::screen::*;

pub fn all(language: Language) -> Vec<Sample> {
    let front = |body| visit(language, StopName::Front, Body::Front(body));
    let rear = |body| visit(language, StopName::Rear, Body::Rear(body));
    let dial = Some(entry(7, Asked::Dial, EndName::Trailing, SideName::Right, "thou", "+20.0"));
    let needle = Some(entry(8, Asked::Indicator, EndName::Trailing, SideName::Right, "thou", ""));
    vec![
        ("10-receive", visit(language, StopName::Receive, Body::Receive(receive(language)))),
        ("11-receive-held", visit(language, StopName::Receive, Body::Receive(held(language)))),
        ("11-receive-play", play_asked(language)),
        ("12-tape-first", tape_first(language)),
        ("13-tape-centre", tape_centre(language)),
        ("14-tape-done", visit(language, StopName::Tape, Body::Tape(tape(3)))),
        (
            "20-front-zero",
            front(Front {
                phase: TruePhase::First,
                predicted_lift: None,
                turn: None,
                alternative: None,
                tilt: String::new(),
                picture_tilt: 0.0,
                rounds: Vec::new(),
                round: 1,
                ..front_adjust()
            }),
        ),
        (
            "21-front-zero-again",
            front(Front {
                phase: TruePhase::First,
                expected_zero: "+0.8".into(),
                dial_target: 0.008,
                turn: None,
                alternative: None,
                ..front_adjust()
            }),
        ),
        (
            "22-front-second",
            Screen {
                entry: dial,
                ..front(Front {
                    phase: TruePhase::Second,
                    predicted_lift: None,
                    turn: None,
                    alternative: None,
                    tilt: String::new(),
                    reading: String::new(),
                    ..front_adjust()
                })
            },
        ),
        ("21-front-fixed-head", front(Front { fixed_head: true, ..front_adjust() })),
        ("23-front-adjust", front(front_adjust())),
        ("24-front-degrees", front(front_degrees())),
        (
            "25-front-touch-again",
            front(Front {
                phase: TruePhase::TouchAgain,
                predicted_lift: None,
                touches: 1,
                touches_needed: 4,
                turn: None,
                alternative: None,
                picture_tilt: 0.2,
                tilt: "1.5".into(),
                ..front_adjust()
            }),
        ),
        ("26-front-not-proven", front(front_not_proven())),
        (
            "27-front-parallel",
            front(Front {
                phase: TruePhase::Parallel,
                predicted_lift: None,
                turn: None,
                alternative: None,
                picture_tilt: 0.03,
                tilt: "0.3".into(),
                reading: "+20.6".into(),
                dial_hand: 0.206,
                can_go: true,
                ..front_adjust()
            }),
        ),
        (
            "30-rear-first",
            Screen {
                entry: needle.clone(),
                ..rear(Rear {
                    phase: TruePhase::First,
                    side: SideName::Left,
                    left: String::new(),
                    right: String::new(),
                    error: String::new(),
                    picture_tilt: 0.0,
                    turn: None,
                    rounds: Vec::new(),
                    ..rear_adjust()
                })
            },
        ),
        (
            "31-rear-second",
            Screen {
                entry: needle,
                ..rear(Rear {
                    phase: TruePhase::Second,
                    side: SideName::Right,
                    right: String::new(),
                    error: String::new(),
                    picture_tilt: 0.0,
                    turn: None,
                    rounds: Vec::new(),
                    ..rear_adjust()
                })
            },
        ),
        ("32-rear-adjust", rear(rear_adjust())),
        (
            "33-rear-parallel",
            rear(Rear {
                phase: TruePhase::Parallel,
                turn: None,
                error: "0.5".into(),
                sits: 1,
                picture_tilt: 0.05,
                can_go: true,
                ..rear_adjust()
            }),
        ),
        ("60-prove-first", prove_first(language)),
        ("61-prove-pass", visit(language, StopName::Prove, Body::Prove(prove(ProveVerdict::Pass)))),
        (
            "62-prove-regrind",
            visit(
                language,
                StopName::Prove,
                Body::Prove(Prove {
                    cone: "+0.0041".into(),
                    profile_after: [0.3, 0.0, -0.3],
                    can_go: false,
                    ..prove(ProveVerdict::Regrind)
                }),
            ),
        ),
        (
            "63-prove-repeat",
            visit(
                language,
                StopName::Prove,
                Body::Prove(Prove { cone: "+0.0016".into(), can_go: false, ..prove(ProveVerdict::Repeat) }),
            ),
        ),
        ("70-label-print", visit(language, StopName::Label, Body::Label(Label { read_back: true, ..label() }))),
        (
            "71-label-scan",
            visit(
                language,
                StopName::Label,
                Body::Label(Label { read_back: true, printed: true, printed_to: "label-Q-114.png".into(), ..label() }),
            ),
        ),
        (
            "80-return",
            visit(
                language,
                StopName::Return,
                Body::Return(Return {
                    tag: "Q-114".into(),
                    mower: mower(Some(1)),
                    next_due: super::day(language, "12 Jan 2027"),
                    position: "2".into(),
                }),
            ),
        ),
    ]
}

fn play(name: &str, value: &str) -> SetRow {
    SetRow { name: name.into(), label: name.into(), value: value.into(), now: false, off: false }
}

/// The play of the rollers is asked for.
fn play_asked(language: Language) -> Screen {
    let mut body = receive(language);
    body.play[1].now = true;
    let mut screen = visit(language, StopName::Receive, Body::Receive(body));
    let mut asked = entry(9, Asked::TypeField, EndName::Centre, SideName::Middle, "thou", "");
    asked.field = match language {
        Language::English => "Play, rollers".into(),
        Language::Spanish => "Juego, rodillos".into(),
    };
    screen.entry = Some(asked);
    screen
}

pub fn receive(language: Language) -> Receive {
    let kinds = [
        KindName::Spin,
        KindName::ReliefAndSpin,
        KindName::Bedknife,
        KindName::BackLap,
        KindName::HeightOfCut,
        KindName::CheckOnly,
    ];
    Receive {
        tag: "Q-114".into(),
        type_name: "Fairway type B".into(),
        blades: "11".into(),
        frame: FrameName::Adjustable,
        last_date: super::day(language, "14 May 2026"),
        last_operator: "IB".into(),
        last_land: "0.041 in".into(),
        grinds_left: "32".into(),
        used_percent: "30".into(),
        plot: super::card::wear(language),
        mower: mower(Some(1)),
        weight: "88 lb".into(),
        lift_index: "2.9".into(),
        needs_help: true,
        play: vec![
            play("Play, reel bearings", "2.0 thou · limit 3.0 thou"),
            play("Play, rollers", "not measured · limit 10.0 thou"),
        ],
        conditions: [Condition::Good, Condition::Note, Condition::NotSeen],
        kinds: kinds
            .iter()
            .map(|kind| KindChoice { kind: *kind, chosen: *kind == KindName::Spin, offered: true })
            .collect(),
        held: false,
        can_go: true,
    }
}

fn held(language: Language) -> Receive {
    Receive {
        conditions: [Condition::Good, Condition::Bad, Condition::Good],
        held: true,
        can_go: false,
        ..receive(language)
    }
}

fn tape(taken: usize) -> Tape {
    let values = ["5.020 in", "5.000 in", "5.012 in"];
    let ends =
        [(EndName::Leading, SideName::Left), (EndName::Trailing, SideName::Right), (EndName::Centre, SideName::Middle)];
    Tape {
        exaggeration: "60".into(),
        places: ends
            .iter()
            .zip(values)
            .enumerate()
            .map(|(index, ((end, side), value))| Place {
                end: *end,
                side: *side,
                value: if index < taken { value.into() } else { String::new() },
                now: index == taken,
                optional: *end == EndName::Centre,
            })
            .collect(),
        profile: if taken >= 2 { [0.7, 0.15, -0.7] } else { [0.0, 0.0, 0.0] },
        computed: taken >= 2,
        cone: "+0.020 in".into(),
        barrel: if taken >= 3 { "+0.002 in".into() } else { String::new() },
        zero_end: EndName::Leading,
        zero_side: SideName::Left,
        target: "+20.0".into(),
        unit: "thou".into(),
        smallest: "5.069 in".into(),
        used_percent: "7".into(),
        can_go: taken >= 2,
    }
}

/// Nothing taped yet.
pub fn tape_first(language: Language) -> Screen {
    let mut screen = visit(language, StopName::Tape, Body::Tape(tape(0)));
    screen.entry = Some(entry(1, Asked::Diameter, EndName::Leading, SideName::Left, "in", ""));
    screen
}

fn tape_centre(language: Language) -> Screen {
    let mut screen = visit(language, StopName::Tape, Body::Tape(tape(2)));
    screen.entry = Some(entry(3, Asked::Diameter, EndName::Centre, SideName::Middle, "in", "5.010"));
    screen
}

pub fn turn(amount: &str, side: SideName, direction: Direction, rezero: &str) -> Turn {
    Turn {
        amount: amount.into(),
        unit: TurnUnit::Turn,
        height_unit: "thou".into(),
        direction,
        side,
        from_above: true,
        height: "−3.8 thou".into(),
        flats: "0.5".into(),
        rezero: rezero.into(),
    }
}

fn round(number: u32, reading: &str, error: &str, turned: &str, now: bool) -> RoundLine {
    RoundLine {
        number,
        reading: reading.into(),
        error: error.into(),
        high: true,
        turned: turned.into(),
        turn_unit: TurnUnit::Turn,
        now,
        tilt: 0.55,
    }
}

fn front_adjust() -> Front {
    Front {
        fixed_head: false,
        phase: TruePhase::Adjust,
        round: 2,
        touches: 1,
        touches_needed: 0,
        zero_end: EndName::Leading,
        zero_side: SideName::Left,
        target: "+20.0".into(),
        unit: "thou".into(),
        reading: "+26.0".into(),
        tilt: "3.0".into(),
        tilt_u95: "0.7".into(),
        limit: "2.0".into(),
        sits: 1,
        picture_tilt: 0.55,
        exaggeration: "200".into(),
        dial_hand: 0.26,
        dial_target: 0.20,
        turn: Some(turn("0.09", SideName::Right, Direction::Clockwise, "+0.8")),
        alternative: Some(turn("0.09", SideName::Left, Direction::Counterclockwise, "+5.2")),
        expected_zero: String::new(),
        rounds: vec![
            RoundLine { tilt: 1.0, ..round(1, "+31.0", "5.5", "0.17", false) },
            round(2, "+26.0", "3.0", "", true),
        ],
        can_go: false,
        source: String::new(),
        predicted_lift: Some(0.1),
    }
}

fn front_degrees() -> Front {
    let degrees = Turn {
        unit: TurnUnit::Degrees,
        flats: String::new(),
        from_above: false,
        ..turn("4.1", SideName::Left, Direction::Counterclockwise, "+5.2")
    };
    let height =
        Turn { unit: TurnUnit::Height, flats: String::new(), ..turn("3.8", SideName::Right, Direction::Lower, "+0.8") };
    Front { turn: Some(degrees), alternative: Some(height), picture_tilt: -0.6, sits: -1, ..front_adjust() }
}

fn front_not_proven() -> Front {
    Front {
        phase: TruePhase::NotProven,
        tilt: "1.6".into(),
        picture_tilt: 0.3,
        turn: Some(turn("0.04", SideName::Right, Direction::Clockwise, "+0.3")),
        alternative: None,
        ..front_adjust()
    }
}

pub fn rear_adjust() -> Rear {
    Rear {
        phase: TruePhase::Adjust,
        round: 1,
        unit: "thou".into(),
        left: "+0.0".into(),
        right: "+6.0".into(),
        side: SideName::Right,
        error: "6.0".into(),
        error_u95: "0.6".into(),
        limit: "2.0".into(),
        sits: 1,
        picture_tilt: 0.7,
        exaggeration: "150".into(),
        turn: Some(Turn { rezero: String::new(), ..turn("0.14", SideName::Right, Direction::Counterclockwise, "") }),
        rounds: vec![round(1, "+6.0", "6.0", "", true)],
        remedy: Remedy::Turn,
        shims_side: SideName::Left,
        front_roller: false,
        can_go: false,
        left_hand: 0.0,
        right_hand: 0.06,
        stack: None,
    }
}

/// Of a stock of 1, 2, 5 and 10 thousandths.
pub fn shims() -> ShimStack {
    let piece = |thou: f32| ShimPiece { text: format!("{thou:.0} thou"), height: thou };
    ShimStack {
        pieces: vec![piece(10.0), piece(2.0), piece(2.0)],
        amount: "14.0".into(),
        unit: "thou".into(),
        total: "14.0 thou".into(),
        error: "0.0 thou".into(),
    }
}

fn prove_first(language: Language) -> Screen {
    let mut body = prove(ProveVerdict::Open);
    for (index, place) in body.places.iter_mut().enumerate() {
        place.now = index == 0;
        place.value = String::new();
    }
    body.cone = String::new();
    body.cone_u95 = String::new();
    body.removed = String::new();
    body.bedknife = BedknifeWork::NotSaid;
    body.paper_cuts = false;
    body.can_go = false;
    let mut screen = visit(language, StopName::Prove, Body::Prove(body));
    screen.entry = Some(entry(20, Asked::Diameter, EndName::Leading, SideName::Left, "in", "5.020"));
    screen
}

fn prove(verdict: ProveVerdict) -> Prove {
    let place =
        |what, side, value: &str, optional| ProvePlace { what, side, value: value.into(), now: false, optional };
    Prove {
        exaggeration: "60".into(),
        places: vec![
            place(ProveName::Leading, SideName::Left, "4.9980 in", false),
            place(ProveName::Trailing, SideName::Right, "4.9975 in", false),
            place(ProveName::Land, SideName::Middle, "0.064 in", true),
            place(ProveName::HeightOfCut, SideName::Middle, "", true),
        ],
        verdict,
        cone_before: "+0.020 in".into(),
        cone: "+0.0005".into(),
        cone_u95: "0.0008".into(),
        unit: "in".into(),
        limit: "0.002".into(),
        removed: "0.022 in".into(),
        misclosure: "+0.0001 ± 0.0011 in".into(),
        profile_before: [0.7, 0.15, -0.7],
        profile_after: [-0.18, -0.2, -0.22],
        bedknife: BedknifeWork::Faced,
        paper_cuts: true,
        relief_due: true,
        can_go: true,
    }
}

/// Dots that stand for a label; the real one comes from `core`.
fn label() -> Label {
    let (width, height) = (496_u32, 232_u32);
    let pixels = (0..height)
        .flat_map(|y| (0..width).map(move |x| (x, y)))
        .map(|(x, y)| {
            let code = x < 200
                && (16..216).contains(&y)
                && x > 16
                && ((x / 8) * 7 + (y / 8) * 13 + (x / 8) * (y / 8)) % 3 == 0;
            let text = x > 220 && x < 470 && y % 28 > 8 && y % 28 < 22 && x % 14 < 9;
            if code || text { 0 } else { 255 }
        })
        .collect();
    Label { raster: Raster { width, height, pixels }, verdict: ProveVerdict::Pass, ..Label::default() }
}
