//! Rear: the roller's error and what to turn.

use super::turning::turn;
use super::{Beside, figures, side_name};
use crate::screen::{Rear, Remedy, RoundLine, ShimPiece, ShimStack, SideName, TruePhase, TurnUnit};
use sparkout_core::bench::FrameKind;
use sparkout_core::calc::rear::{Rear as Outcome, RearVerdict};
use sparkout_core::calc::shims::Shims;
use sparkout_core::quantity::Length;
use sparkout_core::reading::{LengthKind, Reading};
use sparkout_core::record::Side;
use sparkout_core::visit::event::Place;
use sparkout_core::visit::{RearDone, RearRemedy, RearRound, Visit};

/// An error of this much fills the picture.
const DRAWN_MOST: Length = Length::from_inches(0.012);
/// What the picture multiplies heights by, roughly, at that scale.
const EXAGGERATION: &str = "150";
/// Below this the roller is called level, as a tilt is at Front.
const LEVEL: Length = Length::from_mm(0.001);

pub(super) fn rear(visit: &Visit, beside: &Beside<'_>) -> Rear {
    let units = beside.settings;
    let state = visit.rear();
    let show =
        |reading: Option<Reading>| reading.map_or_else(String::new, |value| figures::signed_reading(value, units));
    let asked = state.asked();
    let mut shown = Rear {
        phase: if asked == Some(Place::RearRight) { TruePhase::Second } else { TruePhase::First },
        round: state.rounds().len() as u32 + 1,
        unit: figures::sign_of(LengthKind::Fine, units).to_owned(),
        left: show(state.reading(Place::RearLeft)),
        right: show(state.reading(Place::RearRight)),
        side: if asked == Some(Place::RearRight) { SideName::Right } else { SideName::Left },
        limit: figures::plain(beside.facts.limits.rear, LengthKind::Fine, units),
        exaggeration: EXAGGERATION.to_owned(),
        rounds: state.rounds().iter().enumerate().map(|(index, round)| line(index, round, beside)).collect(),
        front_roller: visit.unit().unit_type.frame == FrameKind::FixedHead,
        can_go: visit.rear_done(beside.facts),
        left_hand: hand(state.reading(Place::RearLeft), beside),
        right_hand: hand(state.reading(Place::RearRight), beside),
        ..Rear::default()
    };
    if let Some(Ok(outcome)) = visit.rear_outcome(beside.facts) {
        judged(&mut shown, visit, &outcome, asked, beside);
    } else if let Some(round) = state.rounds().last() {
        shown.picture_tilt = picture_tilt(&round.outcome);
    }
    shown
}

fn judged(shown: &mut Rear, visit: &Visit, outcome: &Outcome, asked: Option<Place>, beside: &Beside<'_>) {
    let units = beside.settings;
    shown.error = figures::plain(outcome.error, LengthKind::Fine, units);
    shown.error_u95 = outcome.error_u95.map_or_else(String::new, |u95| figures::uncertainty(u95, units));
    shown.sits = sits(outcome.error);
    shown.picture_tilt = picture_tilt(outcome);
    if asked.is_some() {
        return;
    }
    if visit.rear_done(beside.facts) {
        let proven = outcome.verdict == RearVerdict::Parallel;
        shown.phase = if proven { TruePhase::Parallel } else { TruePhase::AcceptedNotProven };
    } else {
        shown.phase = TruePhase::Adjust;
    }
    match visit.rear_remedy(beside.facts) {
        Some(Ok(RearRemedy::Turn)) => {
            let adjuster = visit.unit().unit_type.rear.at(Side::Right);
            shown.turn = Some(turn(outcome.move_b, outcome.turns, outcome.degrees, Side::Right, adjuster, beside));
        }
        Some(Ok(RearRemedy::Square)) => shown.remedy = Remedy::Square,
        Some(Ok(RearRemedy::Shim { at, stack })) => {
            shown.remedy = Remedy::Shim;
            shown.stack = Some(shim_stack(&stack, beside));
            shown.shims_side = side_name(Some(at));
        }
        Some(Ok(RearRemedy::Record)) => shown.remedy = Remedy::Record,
        Some(Ok(RearRemedy::ReplaceFrame)) => shown.remedy = Remedy::Replace,
        Some(Err(_)) | None => {}
    }
}

/// The indicator's hand: drawn as a dial of a hundred of its graduations.
fn hand(reading: Option<Reading>, beside: &Beside<'_>) -> f32 {
    let turn = beside.facts.instruments.indicator_graduation.length() * 100.0;
    reading.map_or(0.0, |reading| (reading.length() / turn).value() as f32)
}

fn shim_stack(shims: &Shims, beside: &Beside<'_>) -> ShimStack {
    let piece = |thickness: &Length| ShimPiece {
        text: figures::with_unit(*thickness, LengthKind::Fine, beside.settings),
        height: thickness.mm() as f32,
    };
    ShimStack {
        pieces: shims.stack.iter().map(piece).collect(),
        amount: figures::plain(shims.total, LengthKind::Fine, beside.settings),
        unit: figures::sign_of(LengthKind::Fine, beside.settings).to_owned(),
        total: figures::with_unit(shims.total, LengthKind::Fine, beside.settings),
        error: figures::signed_with_unit(shims.error, beside.settings),
    }
}

fn sits(error: Length) -> i32 {
    if error.abs() < LEVEL {
        return 0;
    }
    if error > Length::ZERO { 1 } else { -1 }
}

fn picture_tilt(outcome: &Outcome) -> f32 {
    (outcome.error / DRAWN_MOST).value().clamp(-1.0, 1.0) as f32
}

fn line(index: usize, round: &RearRound, beside: &Beside<'_>) -> RoundLine {
    let units = beside.settings;
    let turned_by_hand = round.done == RearDone::Turned;
    let (turned, turn_unit) = match (round.outcome.turns, round.outcome.degrees) {
        // What was squared or shimmed was not turned.
        _ if !turned_by_hand => (String::new(), TurnUnit::Height),
        (Some(turns), _) => (figures::number(turns.turns().abs(), 2, beside.settings), TurnUnit::Turn),
        (None, Some(angle)) => (format!("{:.0}", angle.degrees().abs()), TurnUnit::Degrees),
        (None, None) => (figures::plain(round.outcome.move_b, LengthKind::Fine, units), TurnUnit::Height),
    };
    RoundLine {
        number: index as u32 + 1,
        reading: figures::signed(round.right.length() - round.left.length(), units),
        error: figures::plain(round.outcome.error, LengthKind::Fine, units),
        high: round.outcome.error > Length::ZERO,
        turned,
        turn_unit,
        now: false,
        tilt: picture_tilt(&round.outcome),
    }
}
