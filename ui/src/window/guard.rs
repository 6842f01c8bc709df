//! The guard of a finger: what appears or changes its meaning under it takes no press for a moment.
//!
//! A tap that trembles presses twice. The first press brings another screen, and the second one would press what has
//! just come to stand there: "Take reading" has become "To Front". So whatever can be pressed is deaf for a moment after
//! it came to mean something else. Digits are not held up: they mean the same on every screen.

use crate::screen::{
    BarPhase, Body, FormKind, Found, LockPhase, ProveVerdict, ReliefPhase, Screen, StopName, TruePhase, WheelState,
};
use std::mem::{Discriminant, discriminant};
use std::time::Duration;

/// A second tap of a hand that meant one comes within this time; a person who has read the new words comes later.
pub const DEAF: Duration = Duration::from_millis(350);

/// What the controls of a screen mean: while it stays the same, so do they.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Meaning {
    body: Discriminant<Body>,
    stage: Option<StopName>,
    step: Step,
    entry: Option<u64>,
    question: bool,
}

/// Where a stage stands, as far as its main action hangs on it.
#[derive(Debug, Clone, PartialEq)]
enum Step {
    Alone,
    Receive { can_go: bool, held: bool },
    Tape { can_go: bool },
    Trued { phase: TruePhase, round: u32, touches: u32 },
    Gate { item: u32, complete: bool },
    Pass { pass: u32, run_down: bool },
    Prove { verdict: ProveVerdict, can_go: bool },
    Label { printed: bool, scanned: bool },
    Relief { phase: ReliefPhase, round: u32, finger_set: bool, can_go: bool },
    Settled { found: Found, round: u32, can_go: bool },
    Going { on: bool, can_go: bool },
    Bar { phase: BarPhase, turned: bool },
    Lock { phase: LockPhase, own: bool },
    Wheel { locked: bool, complete: bool },
    Form { kind: FormKind, field: Option<usize>, complete: bool },
}

impl Meaning {
    pub(super) fn of(screen: &Screen) -> Self {
        Self {
            body: discriminant(&screen.body),
            stage: match &screen.body {
                Body::IsolationAsked(stage) => Some(*stage),
                _ => None,
            },
            step: step(&screen.body),
            entry: screen.entry.as_ref().map(|entry| entry.serial),
            question: screen.question.is_some(),
        }
    }
}

fn step(body: &Body) -> Step {
    match body {
        Body::Receive(receive) => Step::Receive { can_go: receive.can_go, held: receive.held },
        Body::Tape(tape) => Step::Tape { can_go: tape.can_go },
        Body::Front(front) => Step::Trued { phase: front.phase, round: front.round, touches: front.touches },
        Body::Rear(rear) => Step::Trued { phase: rear.phase, round: rear.round, touches: 0 },
        Body::Clearance(gate) => {
            Step::Gate { item: gate.current.as_ref().map_or(0, |item| item.number), complete: gate.complete }
        }
        Body::Grind(grind) => Step::Pass { pass: grind.pass, run_down: grind.run_down },
        Body::Prove(prove) => Step::Prove { verdict: prove.verdict, can_go: prove.can_go },
        Body::Label(label) => Step::Label { printed: label.printed, scanned: label.scanned },
        Body::Relief(relief) => Step::Relief {
            phase: relief.phase,
            round: relief.round,
            finger_set: relief.finger_set,
            can_go: relief.can_go,
        },
        Body::Height(height) => Step::Settled { found: height.found, round: height.round, can_go: height.can_go },
        Body::Plate(plate) => Step::Settled { found: plate.found, round: 0, can_go: plate.can_go },
        Body::Knife(knife) => Step::Going { on: knife.paper_cuts, can_go: knife.can_go },
        Body::BackLap(lap) => Step::Going { on: lap.running, can_go: lap.can_go },
        Body::Check(check) => Step::Going { on: check.judged, can_go: check.can_go },
        Body::GrinderCheck(check) => Step::Bar { phase: check.phase, turned: check.turned },
        Body::Lockout(card) => Step::Lock { phase: card.phase, own: card.own },
        Body::Wheel(card) => Step::Wheel { locked: card.locked, complete: card.state == WheelState::Complete },
        Body::Form(form) => {
            let field = form.rows.iter().position(|row| row.now);
            Step::Form { kind: form.kind, field, complete: form.complete }
        }
        Body::Starting
        | Body::Fault(_)
        | Body::Home(_)
        | Body::Find(_)
        | Body::Enrol(_)
        | Body::NewType(_)
        | Body::IsolationAsked(_)
        | Body::Return(_)
        | Body::About(_)
        | Body::Grinder(_)
        | Body::SpotCheck(_)
        | Body::CheckOverride(_)
        | Body::Due(_)
        | Body::ShopSettings(_)
        | Body::Pages(_)
        | Body::FirstStart(_)
        | Body::UnitCard(_)
        | Body::Pin(_)
        | Body::Why(_) => Step::Alone,
    }
}
