//! Front: tilt, turn, what the zero end will read, touches needed.

use super::sheet::{Line, Out, Sheet, Var};
use super::tape::{dial_factor, taped};
use super::words::{self, Origin, Pair};
use crate::present::front as present_front;
use crate::present::turning::front_turn;
use crate::present::{dial_target, figures};
use crate::screen::{Formula, TurnUnit, Why};
use sparkout_core::bench::FrameKind;
use sparkout_core::calc::adjuster::AdjusterKind;
use sparkout_core::calc::front::{Front as Outcome, FrontMove, FrontVerdict};
use sparkout_core::quantity::{Length, Turns};
use sparkout_core::reading::{LengthKind, Reading};
use sparkout_core::record::Adjuster;
use sparkout_core::visit::FrontPhase;
use sparkout_core::visit::event::Which;

fn outcome(sheet: &Sheet<'_>) -> Option<Outcome> {
    sheet.visit.front_outcome(sheet.beside.facts)?.ok()
}

/// The dial at the other end: as read, or the mean of the touches.
fn reading(sheet: &Sheet<'_>) -> Option<Var> {
    match sheet.visit.front().readings() {
        [] => None,
        [reading] => Some(sheet.read("R", *reading, LengthKind::Fine, words::READING, Origin::Dial(1))),
        several => {
            let sum = several.iter().fold(Length::ZERO, |sum, reading| sum + reading.length());
            let mean = sum / several.len() as f64;
            let touches = several.len() as u32;
            Some(sheet.computed("R", mean, LengthKind::Fine, words::READING, Origin::Dial(touches)))
        }
    }
}

/// What the uncertainty of a tilt is made of, besides the number of touches.
struct Worth {
    factor: Var,
    touch_sd: Var,
    dial_step: Var,
    tape_step: Var,
}

impl Worth {
    fn of(sheet: &Sheet<'_>) -> Self {
        let (grinder, instruments) = (&sheet.beside.facts.grinder, &sheet.beside.facts.instruments);
        let step =
            |letter, reading: Reading, name: Pair, origin| sheet.read(letter, reading, LengthKind::Fine, name, origin);
        Self {
            factor: dial_factor(sheet),
            touch_sd: sheet.finer("s", instruments.touch_sd, words::TOUCH_SD, Origin::Assumed),
            dial_step: step("q", grinder.dial_graduation, words::DIAL_STEP, Origin::Grinder),
            tape_step: step("p", instruments.tape_graduation, words::TAPE_STEP, Origin::Configured),
        }
    }
}

/// U from s, n, q and p: two readings of one instrument to the nearest step q are worth 2·(q/(2√3))² = q²/6.
const WORTH: &str = "2 ÷ {k} × √(2 × {s}² ÷ {n} + {q}² ÷ 6 + ({k} ÷ 2)² × {p}² ÷ 6)";

pub(super) fn tilt(sheet: &Sheet<'_>) -> Option<Why> {
    let (outcome, settings) = (outcome(sheet)?, sheet.settings());
    let target = dial_target(taped(sheet)?.target, sheet.beside);
    let target = sheet.computed("T", target, LengthKind::Fine, words::TARGET, Origin::Computed);
    let (read, worth) = (reading(sheet)?, Worth::of(sheet));
    let touches = sheet.visit.front().readings().len() as f64;
    let touches = sheet.other("n", touches, 0, "", words::TOUCHES, Origin::Counted);
    let u95 = outcome.tilt_u95?;
    let tilt = sheet.finer("t", outcome.tilt, words::TILT, Origin::Computed);
    let guard = sheet.finer("U", u95, words::UNCERTAINTY, Origin::Computed);
    let limit = sheet.finer("L", sheet.beside.facts.limits.tilt, words::LIMIT, Origin::Configured);
    let vars = [&read, &target, &worth.factor, &worth.touch_sd, &touches, &worth.dial_step, &worth.tape_step, &limit];
    let sign = sheet.fine_sign();
    let (relation, follows) = match outcome.verdict {
        FrontVerdict::Parallel => ("|{t}| + {U} ≤ {L}", words::PARALLEL),
        FrontVerdict::Adjust => ("|{t}| > {L}", words::ADJUST),
        FrontVerdict::Repeat => ("|{t}| + {U} > {L}", words::REPEAT),
    };
    let signed = figures::signed(outcome.tilt, settings);
    let worth_shown = figures::uncertainty(u95, settings);
    let formulas = vec![
        sheet.formula(&Line { left: "t", right: "({R} − {T}) ÷ {k}" }, &vars, Out::nearest(signed.clone(), sign)),
        sheet.formula(&Line { left: "U", right: WORTH }, &vars, Out::up(worth_shown.clone(), sign)),
        sheet.comparison(relation, &[&tilt, &guard, &limit]),
    ];
    let mut why = sheet.why(words::TILT_TITLE, format!("{signed} ± {worth_shown} {sign}"), formulas, &vars, words::GUM);
    why.follows = sheet.say(follows).to_owned();
    Some(why)
}

pub(super) fn touches_needed(sheet: &Sheet<'_>) -> Option<Why> {
    let outcome = outcome(sheet)?;
    let needed = outcome.touches_needed?;
    let worth = Worth::of(sheet);
    let tilt = sheet.finer("t", outcome.tilt, words::TILT, Origin::Computed);
    let limit = sheet.finer("L", sheet.beside.facts.limits.tilt, words::LIMIT, Origin::Configured);
    let at = |touches: u32, sign: &str| {
        let touches = sheet.other("n", f64::from(touches), 0, "", words::TOUCHES, Origin::Computed);
        let vars = [&tilt, &worth.factor, &worth.touch_sd, &touches, &worth.dial_step, &worth.tape_step, &limit];
        sheet.comparison(&format!("|{{t}}| + {WORTH} {sign} {{L}}"), &vars)
    };
    let mut formulas = vec![at(needed, "≤")];
    if needed > 1 {
        formulas.push(at(needed - 1, ">"));
    }
    let count = sheet.other("n", f64::from(needed), 0, "", words::TOUCHES, Origin::Computed);
    let vars = [&tilt, &worth.factor, &worth.touch_sd, &count, &worth.dial_step, &worth.tape_step, &limit];
    let result = format!("{needed} {}", sheet.say(words::TOUCHES_UNIT));
    Some(sheet.why(words::TOUCHES_TITLE, result, formulas, &vars, words::GUM))
}

/// What an adjuster turns for a height, and what goes in besides it.
pub(super) fn handwork(
    sheet: &Sheet<'_>,
    height: &Var,
    turns: Option<Turns>,
    amount: &str,
    adjuster: &Adjuster,
) -> (Vec<Formula>, Vec<Var>) {
    let settings = sheet.settings();
    match (adjuster.kind, turns) {
        (AdjusterKind::Screw { pitch }, Some(turns)) => {
            let pitch = sheet.finer("p", pitch, words::PITCH, Origin::Type);
            let flats = figures::number(turns.flats().abs(), 1, settings);
            let vars = [height, &pitch];
            let (turn, flat) = (sheet.say(words::TURN_UNIT), sheet.say(words::FLATS_UNIT));
            let turned = Out::nearest(amount.to_owned(), turn);
            let formulas = vec![
                sheet.formula(&Line { left: "n", right: "|{h}| ÷ {p}" }, &vars, turned),
                sheet.formula(&Line { left: "n", right: "6 × |{h}| ÷ {p}" }, &vars, Out::nearest(flats, flat)),
            ];
            (formulas, vec![pitch])
        }
        (AdjusterKind::Eccentric { throw, angle }, _) if amount.ends_with('°') => {
            let throw = sheet.finer("e", throw, words::THROW, Origin::Type);
            let angle = sheet.degrees("d", angle.degrees(), 2, words::ECCENTRIC_AT, Origin::Type);
            let vars = [height, &throw, &angle];
            let line = Line { left: "n", right: "|arccos(cos({d}) − {h} ÷ {e}) − {d}|" };
            let out = Out::nearest(amount.trim_end_matches('°').to_owned(), "°");
            (vec![sheet.formula(&line, &vars, out)], vec![throw, angle])
        }
        (AdjusterKind::Screw { .. } | AdjusterKind::Eccentric { .. }, _) => (Vec::new(), Vec::new()),
    }
}

/// The cure that is shown, while one is.
fn shown_cure(sheet: &Sheet<'_>) -> Option<(Which, FrontMove)> {
    present_front::front(sheet.visit, sheet.beside).turn?;
    let which = sheet.visit.front().which();
    Some((which, sheet.visit.front_cure(sheet.beside.facts, which)?))
}

pub(super) fn turn(sheet: &Sheet<'_>) -> Option<Why> {
    let (which, cure) = shown_cure(sheet)?;
    let outcome = outcome(sheet)?;
    let unit_type = sheet.unit_type();
    let (zero, other) = sheet.visit.zero_and_other_side().ok()?;
    let side = sheet.visit.front_side(which).ok()?;
    let apart = |one: Reading, two: Reading| Reading::from_nanometres((one.nanometres() - two.nanometres()).abs());
    let adjusters = apart(unit_type.front.at(zero).y, unit_type.front.at(other).y);
    let touches = apart(unit_type.touch_at(zero), unit_type.touch_at(other));
    let tilt = sheet.computed("t", outcome.tilt, LengthKind::Fine, words::TILT, Origin::Computed);
    let adjusters = sheet.read("A", adjusters, LengthKind::Size, words::ADJUSTERS_APART, Origin::Type);
    let touches = sheet.read("B", touches, LengthKind::Size, words::TOUCHES_APART, Origin::Type);
    let right = match which {
        Which::Other => "−{t} × {A} ÷ {B}",
        Which::Zero => "{t} × {A} ÷ {B}",
    };
    let adjuster = unit_type.front.at(side);
    let shown = front_turn(&cure, side, adjuster, sheet.beside);
    let height = sheet.finer("h", cure.height, words::HEIGHT, Origin::Computed);
    let out = Out::nearest(figures::signed(cure.height, sheet.settings()), sheet.fine_sign());
    let mut formulas = vec![sheet.formula(&Line { left: "h", right }, &[&tilt, &adjusters, &touches], out)];
    let amount = amount(sheet, &shown);
    let (more, parts) = handwork(sheet, &height, cure.turns, amount_figure(&shown, &amount), adjuster);
    formulas.extend(more);
    let mut vars = vec![&tilt, &adjusters, &touches];
    vars.extend(parts.iter());
    Some(sheet.why(words::TURN_TITLE, amount, formulas, &vars, words::RIGID_BODY))
}

/// The amount as it is turned, with its unit.
pub(super) fn amount(sheet: &Sheet<'_>, turn: &crate::screen::Turn) -> String {
    match turn.unit {
        TurnUnit::Turn => format!("{} {}", turn.amount, sheet.say(words::TURN_UNIT)),
        TurnUnit::Degrees => format!("{}°", turn.amount),
        TurnUnit::Height => turn.height.clone(),
    }
}

/// The amount as it stands in a formula: with its sign of degrees, else bare.
pub(super) fn amount_figure<'a>(turn: &'a crate::screen::Turn, with_unit: &'a str) -> &'a str {
    match turn.unit {
        TurnUnit::Degrees => with_unit,
        TurnUnit::Turn | TurnUnit::Height => &turn.amount,
    }
}

/// While something is to be turned: after it; while the zero end is touched again: what was foretold for it.
pub(super) fn rezero(sheet: &Sheet<'_>) -> Option<Why> {
    let (which, height, rezero) = match shown_cure(sheet) {
        Some((which, cure)) => (which, cure.height, cure.rezero),
        None if sheet.visit.front_phase(sheet.beside.facts).ok()? != FrontPhase::ZeroTouch => return None,
        None => {
            let round = sheet.visit.front().rounds().last()?;
            let cure = match round.which {
                Which::Other => &round.outcome.move_other,
                Which::Zero => &round.outcome.move_zero,
            };
            (round.which, cure.height, cure.rezero)
        }
    };
    let unit_type = sheet.unit_type();
    let (zero, other) = sheet.visit.zero_and_other_side().ok()?;
    let (rests, turns) = match which {
        Which::Other => (zero, other),
        Which::Zero => (other, zero),
    };
    let (rests, turns) = (unit_type.front.at(rests).y, unit_type.front.at(turns).y);
    // Along the reel from the adjuster that rests towards the one that turns.
    let along = |y: Reading| {
        let from = y.nanometres() - rests.nanometres();
        Reading::from_nanometres(if turns >= rests { from } else { -from })
    };
    let size = |letter, reading, name| sheet.read(letter, reading, LengthKind::Size, name, Origin::Type);
    let factor = dial_factor(sheet);
    let height = sheet.finer("h", height, words::HEIGHT, Origin::Computed);
    let touch = size("u", along(unit_type.touch_at(zero)), words::TOUCH_FROM_REST);
    let jack = size("v", along(unit_type.jack_y), words::JACK_FROM_REST);
    // On a fixed head the drum is the datum that stands on the rails.
    let (of_reel, of_jack) = match unit_type.frame {
        FrameKind::FixedHead => (words::REEL_FROM_DRUM, words::JACK_FROM_DRUM),
        FrameKind::Adjustable | FrameKind::SidePlates | FrameKind::Welded | FrameKind::FloatingReel => {
            (words::REEL_BACK, words::WHEELBASE)
        }
    };
    let back = size("x", unit_type.reel_x, of_reel);
    let base = size("W", unit_type.wheelbase, of_jack);
    let span = size("A", along(turns), words::ADJUSTERS_APART);
    let vars = [&factor, &height, &touch, &jack, &back, &base, &span];
    let out = Out::nearest(figures::signed(rezero, sheet.settings()), sheet.fine_sign());
    let line = Line { left: "r", right: "{k} × {h} × ({u} − {x} ÷ {W} × {v}) ÷ {A}" };
    let formula = sheet.formula(&line, &vars, out);
    let result = figures::signed_with_unit(rezero, sheet.settings());
    Some(sheet.why(words::REZERO_TITLE, result, vec![formula], &vars, words::RIGID_BODY))
}
