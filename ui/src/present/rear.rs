//! Rear: the roller's error and what to turn.

use super::turning::turn;
use super::{Beside, figures};
use crate::screen::{Rear, RoundLine, SideName, TruePhase, TurnUnit};
use sparkout_core::calc::rear::{Rear as Outcome, RearVerdict};
use sparkout_core::quantity::Length;
use sparkout_core::reading::{LengthKind, Reading};
use sparkout_core::record::Side;
use sparkout_core::visit::event::Place;
use sparkout_core::visit::{RearRound, Visit};

/// An error of this much fills the picture.
const DRAWN_MOST: Length = Length::from_inches(0.012);
/// What the picture multiplies heights by, roughly, at that scale.
const EXAGGERATION: &str = "150";
/// Below this the roller is called level, as a tilt is at Front.
const LEVEL: Length = Length::from_mm(0.001);

pub(super) fn rear(visit: &Visit, beside: &Beside<'_>) -> Rear {
    let units = beside.settings.units;
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
        can_go: visit.rear_done(beside.facts),
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
    let units = beside.settings.units;
    shown.error = figures::plain(outcome.error, LengthKind::Fine, units);
    shown.error_u95 = outcome.error_u95.map_or_else(String::new, |u95| figures::uncertainty(u95, units));
    shown.sits = sits(outcome.error);
    shown.picture_tilt = picture_tilt(outcome);
    if asked.is_some() {
        return;
    }
    shown.phase = match outcome.verdict {
        RearVerdict::Parallel | RearVerdict::Record => TruePhase::Parallel,
        RearVerdict::Adjust | RearVerdict::SquareSidePlates | RearVerdict::Shim | RearVerdict::ReplaceFrame => {
            TruePhase::Adjust
        }
    };
    if shown.phase == TruePhase::Adjust {
        let adjuster = visit.unit().unit_type.rear.at(Side::Right);
        shown.turn = Some(turn(outcome.move_b, outcome.turns, outcome.degrees, Side::Right, adjuster, beside));
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
    let units = beside.settings.units;
    let (turned, turn_unit) = match (round.outcome.turns, round.outcome.degrees) {
        (Some(turns), _) => (format!("{:.2}", turns.turns().abs()), TurnUnit::Turn),
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
    }
}
