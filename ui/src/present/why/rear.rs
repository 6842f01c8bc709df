//! Rear: the roller's error, and what to turn.

use super::front::{amount, amount_figure, handwork};
use super::sheet::{Line, Out, Sheet};
use super::words::{self, Origin};
use crate::present::{figures, rear as present_rear, turning};
use crate::screen::Why;
use sparkout_core::calc::rear::{Rear, RearVerdict};
use sparkout_core::reading::{LengthKind, Reading};
use sparkout_core::record::Side;
use sparkout_core::visit::event::Place;

fn outcome(sheet: &Sheet<'_>) -> Option<Rear> {
    sheet.visit.rear_outcome(sheet.beside.facts)?.ok()
}

pub(super) fn error(sheet: &Sheet<'_>) -> Option<Why> {
    let (outcome, settings) = (outcome(sheet)?, sheet.settings());
    let state = sheet.visit.rear();
    let fine = |letter, reading, name, origin| sheet.read(letter, reading, LengthKind::Fine, name, origin);
    let left = fine("a", state.reading(Place::RearLeft)?, words::AT_LEFT, Origin::Indicator(Side::Left));
    let right = fine("b", state.reading(Place::RearRight)?, words::AT_RIGHT, Origin::Indicator(Side::Right));
    let step = sheet.beside.facts.instruments.indicator_graduation;
    let step = fine("q", step, words::INDICATOR_STEP, Origin::Configured);
    let u95 = outcome.error_u95?;
    let error = sheet.finer("e", outcome.error, words::ROLLER_ERROR, Origin::Computed);
    let guard = sheet.finer("U", u95, words::UNCERTAINTY, Origin::Computed);
    let limit = sheet.finer("L", sheet.beside.facts.limits.rear, words::LIMIT, Origin::Configured);
    let (relation, follows) = match outcome.verdict {
        RearVerdict::Parallel => ("|{e}| + {U} ≤ {L}", words::PARALLEL),
        RearVerdict::Adjust
        | RearVerdict::SquareSidePlates
        | RearVerdict::Shim
        | RearVerdict::Record
        | RearVerdict::ReplaceFrame => ("|{e}| + {U} > {L}", words::TRUE_IT),
    };
    let vars = [&left, &right, &step, &limit];
    let sign = sheet.fine_sign();
    let (signed, worth) = (figures::signed(outcome.error, settings), figures::uncertainty(u95, settings));
    let formulas = vec![
        sheet.formula(&Line { left: "e", right: "{b} − {a}" }, &vars, Out::nearest(signed.clone(), sign)),
        sheet.formula(&Line { left: "U", right: "2 × √({q}² ÷ 6)" }, &vars, Out::up(worth.clone(), sign)),
        sheet.comparison(relation, &[&error, &guard, &limit]),
    ];
    let mut why = sheet.why(words::REAR_TITLE, format!("{signed} ± {worth} {sign}"), formulas, &vars, words::GUM);
    why.follows = sheet.say(follows).to_owned();
    Some(why)
}

pub(super) fn turn(sheet: &Sheet<'_>) -> Option<Why> {
    let outcome = outcome(sheet)?;
    // Nothing is turned where nothing is to be.
    present_rear::rear(sheet.visit, sheet.beside).turn?;
    let unit_type = sheet.unit_type();
    let adjuster = unit_type.rear.at(Side::Right);
    let span = unit_type.rear.right.y.nanometres() - unit_type.rear.left.y.nanometres();
    let error = sheet.computed("e", outcome.error, LengthKind::Fine, words::ROLLER_ERROR, Origin::Computed);
    let size = |letter, reading, name| sheet.read(letter, reading, LengthKind::Size, name, Origin::Type);
    let adjusters = size("A", Reading::from_nanometres(span), words::ADJUSTERS_APART);
    let readings = size("B", unit_type.rear_reading_span, words::READINGS_APART);
    let height = sheet.finer("h", outcome.move_b, words::HEIGHT, Origin::Computed);
    let shown = turning::turn(outcome.move_b, outcome.turns, outcome.degrees, Side::Right, adjuster, sheet.beside);
    let out = Out::nearest(figures::signed(outcome.move_b, sheet.settings()), sheet.fine_sign());
    let line = Line { left: "h", right: "−{e} × {A} ÷ {B}" };
    let mut formulas = vec![sheet.formula(&line, &[&error, &adjusters, &readings], out)];
    let amount = amount(sheet, &shown);
    let (more, parts) = handwork(sheet, &height, outcome.turns, amount_figure(&shown, &amount), adjuster);
    formulas.extend(more);
    let mut vars = vec![&error, &adjusters, &readings];
    vars.extend(parts.iter());
    Some(sheet.why(words::TURN_TITLE, amount, formulas, &vars, words::RIGID_BODY))
}
