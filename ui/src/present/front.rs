//! Front: what to do now, the tilt drawn, and the rounds.

use super::turning::front_turn;
use super::{Beside, dial_target, end_name, figures, side_name};
use crate::screen::{Front, RoundLine, TruePhase, TurnUnit};
use crate::words;
use sparkout_core::bench::{DialKind, FrameKind};
use sparkout_core::calc::front::{Front as Outcome, FrontVerdict, Sits};
use sparkout_core::quantity::Length;
use sparkout_core::reading::LengthKind;
use sparkout_core::record::Side;
use sparkout_core::visit::event::Which;
use sparkout_core::visit::{FrontPhase, Round, Visit};

/// A tilt of this much fills the picture.
const DRAWN_MOST: Length = Length::from_inches(0.008);
/// What the picture multiplies heights by, roughly, at that scale.
const EXAGGERATION: &str = "200";

pub(super) fn front(visit: &Visit, beside: &Beside<'_>) -> Front {
    let units = beside.settings;
    let state = visit.front();
    let zero_end = visit.zero_end();
    let target = visit.taped().and_then(Result::ok).map(|taped| dial_target(taped.target, beside));
    let mut shown = Front {
        fixed_head: visit.unit().unit_type.frame == FrameKind::FixedHead,
        round: state.rounds().len() as u32 + 1,
        touches: state.readings().len() as u32,
        zero_end: end_name(zero_end),
        zero_side: side_name(visit.side_of(zero_end)),
        target: target.map_or_else(String::new, |target| figures::signed(target, units)),
        unit: figures::sign_of(LengthKind::Fine, units).to_owned(),
        limit: figures::plain(beside.facts.limits.tilt, LengthKind::Fine, units),
        exaggeration: EXAGGERATION.to_owned(),
        dial_target: target.map_or(0.0, |target| dial_fraction(target, beside)),
        expected_zero: state.expected_zero().map_or_else(String::new, |length| figures::signed(length, units)),
        rounds: state.rounds().iter().enumerate().map(|(index, round)| line(index, round, visit, beside)).collect(),
        can_go: visit.front_done(beside.facts),
        source: source(beside),
        ..Front::default()
    };
    match visit.front_phase(beside.facts) {
        Ok(FrontPhase::ZeroTouch) | Err(_) => shown.phase = TruePhase::First,
        Ok(FrontPhase::OtherTouch) => shown.phase = TruePhase::Second,
        Ok(FrontPhase::Judged(_)) => {}
    }
    if let Some(Ok(outcome)) = visit.front_outcome(beside.facts) {
        judged(&mut shown, visit, &outcome, beside);
    } else if let Some(round) = state.rounds().last() {
        // Until the next reading the picture keeps the last thing that was measured.
        shown.picture_tilt = picture_tilt(visit, &round.outcome);
        shown.sits = 0;
    }
    shown.predicted_lift = predicted(visit, &shown, beside);
    shown
}

/// How much higher the reel will lie, of the most that is drawn, once it was turned as asked: the dial's rezero is twice
/// that where the dial is graduated on diameter.
fn predicted(visit: &Visit, shown: &Front, beside: &Beside<'_>) -> Option<f32> {
    let rezero = match shown.phase {
        TruePhase::Adjust | TruePhase::NotProven => visit.front_cure(beside.facts, visit.front().which())?.rezero,
        TruePhase::First => visit.front().rounds().last()?.turned.as_ref()?.rezero,
        TruePhase::Second | TruePhase::TouchAgain | TruePhase::Parallel | TruePhase::AcceptedNotProven => return None,
    };
    let factor = match beside.facts.grinder.dial {
        DialKind::Diameter => 2.0,
        DialKind::Radius => 1.0,
    };
    Some((rezero / factor / DRAWN_MOST).value().clamp(-1.0, 1.0) as f32)
}

/// What warns comes before where the uncertainty comes from.
fn source(beside: &Beside<'_>) -> String {
    let facts = beside.facts;
    facts.upkeep.drift.first().map_or_else(
        || words::touch_source(facts.upkeep.touch_source, facts.instruments.touch_sd, beside.settings),
        |drift| words::drift(*drift, beside.settings),
    )
}

fn judged(shown: &mut Front, visit: &Visit, outcome: &Outcome, beside: &Beside<'_>) {
    let units = beside.settings;
    let kind = LengthKind::Fine;
    let reading = reading_of(outcome, beside);
    shown.reading = figures::signed(reading, units);
    shown.dial_hand = dial_fraction(reading, beside);
    shown.tilt = figures::plain(outcome.tilt, kind, units);
    shown.tilt_u95 = outcome.tilt_u95.map_or_else(String::new, |u95| figures::uncertainty(u95, units));
    shown.sits = match outcome.sits {
        Sits::High => 1,
        Sits::Low => -1,
        Sits::Level => 0,
    };
    shown.picture_tilt = picture_tilt(visit, outcome);
    shown.touches_needed = outcome.touches_needed.unwrap_or(0);
    let accepted = visit.front().accepted_by().is_some();
    if !matches!(shown.phase, TruePhase::Second)
        && !matches!(visit.front_phase(beside.facts), Ok(FrontPhase::ZeroTouch))
    {
        shown.phase = match (outcome.verdict, outcome.touches_needed) {
            (FrontVerdict::Parallel, _) => TruePhase::Parallel,
            (FrontVerdict::Adjust, _) => TruePhase::Adjust,
            (FrontVerdict::Repeat, _) if accepted => TruePhase::AcceptedNotProven,
            (FrontVerdict::Repeat, Some(_)) => TruePhase::TouchAgain,
            (FrontVerdict::Repeat, None) => TruePhase::NotProven,
        };
    }
    if matches!(shown.phase, TruePhase::Adjust | TruePhase::NotProven) {
        let which = visit.front().which();
        let other = match which {
            Which::Other => Which::Zero,
            Which::Zero => Which::Other,
        };
        shown.turn = turn_of(visit, which, beside);
        shown.alternative = turn_of(visit, other, beside);
    }
}

fn turn_of(visit: &Visit, which: Which, beside: &Beside<'_>) -> Option<crate::screen::Turn> {
    let cure = visit.front_cure(beside.facts, which)?;
    let side = visit.front_side(which).ok()?;
    Some(front_turn(&cure, side, visit.unit().unit_type.front.at(side), beside))
}

/// The dial reading that this outcome was made from.
fn reading_of(outcome: &Outcome, beside: &Beside<'_>) -> Length {
    let factor = match beside.facts.grinder.dial {
        DialKind::Diameter => 2.0,
        DialKind::Radius => 1.0,
    };
    outcome.target + outcome.tilt * factor
}

fn dial_fraction(value: Length, beside: &Beside<'_>) -> f32 {
    (value / beside.facts.grinder.dial_per_turn.length()).value() as f32
}

/// How much the operator's right end sits above the left, of the most that is drawn.
fn picture_tilt(visit: &Visit, outcome: &Outcome) -> f32 {
    let other_is_right = visit.front_side(Which::Other).is_ok_and(|side| side == Side::Right);
    let rise = if other_is_right { outcome.tilt } else { -outcome.tilt };
    (rise / DRAWN_MOST).value().clamp(-1.0, 1.0) as f32
}

fn line(index: usize, round: &Round, visit: &Visit, beside: &Beside<'_>) -> RoundLine {
    let units = beside.settings;
    let (turned, turn_unit) = match &round.turned {
        Some(cure) if cure.turns.is_some() => (
            cure.turns.map_or_else(String::new, |turns| figures::number(turns.turns().abs(), 2, beside.settings)),
            TurnUnit::Turn,
        ),
        Some(cure) if cure.degrees.is_some() => {
            (cure.degrees.map_or_else(String::new, |angle| format!("{:.0}", angle.degrees().abs())), TurnUnit::Degrees)
        }
        Some(cure) => (figures::plain(cure.height, LengthKind::Fine, units), TurnUnit::Height),
        None => (String::new(), TurnUnit::Height),
    };
    RoundLine {
        number: index as u32 + 1,
        reading: figures::signed(round.reading, units),
        error: figures::plain(round.outcome.tilt, LengthKind::Fine, units),
        high: round.outcome.sits == Sits::High,
        turned,
        turn_unit,
        now: false,
        tilt: picture_tilt(visit, &round.outcome),
    }
}
