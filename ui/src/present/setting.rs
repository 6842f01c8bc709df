//! Relief, Knife, Back-lap, Height, Plate and Check, ready to show.

use super::turning::turn;
use super::{Beside, bedknife, drawn, figures, tape};
use crate::locale::Manner;
use crate::screen::{
    BackLap, BedknifeWork, Check, Found, Height, Knife, Paper, Plate, Relief, ReliefPhase, SetRow, Turn,
};
use crate::words;
use sparkout_core::calc::uncertainty::Decision;
use sparkout_core::quantity::{Angle, Length};
use sparkout_core::reading::{LengthKind, Reading};
use sparkout_core::record::Side;
use sparkout_core::visit::event::{KnifeCheck, Place};
use sparkout_core::visit::{CheckOutcome, HeightSide, Stage, Visit};

/// The values of these stages, in the order they are asked.
pub fn places(visit: &Visit) -> &'static [Place] {
    match visit.stage() {
        Stage::Finger | Stage::Relief(_) | Stage::ReliefLands => &[Place::LandLead, Place::LandTrail],
        Stage::Knife => &[Place::TopAngle, Place::FrontAngle, Place::Thickness],
        Stage::BackLap(_) | Stage::BackLapped => &[Place::Minutes, Place::Grit],
        Stage::Height => &[Place::HeightWanted, Place::HeightLeft, Place::HeightRight],
        Stage::Plate => &[Place::EdgeLeft, Place::EdgeRight, Place::GapLeft, Place::GapRight],
        Stage::Check => &[Place::LandLead, Place::LandTrail, Place::HeightLeft, Place::HeightRight],
        _ => &[],
    }
}

/// What these stages ask for now.
pub(super) fn asked(visit: &Visit) -> Option<Place> {
    match visit.stage() {
        Stage::Finger => visit.relief().asked_before(),
        Stage::ReliefLands => visit.relief().asked_after(),
        Stage::Knife => visit.knife().asked(),
        Stage::BackLapped => visit.back_lap().asked(),
        Stage::Height => visit.height_asked(),
        Stage::Plate => visit.plate().asked(),
        Stage::Check => visit.check().asked(),
        _ => None,
    }
}

fn rows(visit: &Visit, beside: &Beside<'_>) -> Vec<SetRow> {
    let asked = asked(visit);
    let row = |place: &Place| SetRow {
        name: words::place_label(*place, crate::screen::Settings::default()),
        label: words::place_label(*place, beside.settings),
        value: value(visit, *place, beside),
        now: asked == Some(*place),
        off: off(visit, *place, beside),
    };
    places(visit).iter().map(row).collect()
}

fn value(visit: &Visit, place: Place, beside: &Beside<'_>) -> String {
    let reading = |reading: Option<Reading>, kind| {
        reading.map_or_else(String::new, |reading| figures::reading_with_unit(reading, kind, beside.settings))
    };
    let count = |count: Option<u32>, unit: &str| count.map_or_else(String::new, |count| format!("{count}{unit}"));
    match (visit.stage(), place) {
        (Stage::ReliefLands, _) => reading(visit.relief().after(place), LengthKind::Size),
        (Stage::Finger | Stage::Relief(_), _) => reading(visit.relief().before(place), LengthKind::Size),
        (Stage::Knife, Place::Thickness) => reading(visit.knife().thickness(), LengthKind::Size),
        (Stage::Knife, _) => visit.knife().angle(place).map_or_else(String::new, |angle| degrees(angle.angle())),
        (Stage::BackLap(_) | Stage::BackLapped, Place::Minutes) => count(visit.back_lap().minutes(), " min"),
        (Stage::BackLap(_) | Stage::BackLapped, _) => count(visit.back_lap().grit(), ""),
        (Stage::Height, Place::HeightWanted) => reading(visit.height_wanted(), LengthKind::Size),
        (Stage::Height, _) => reading(visit.height().reading(place), LengthKind::Size),
        // A gap is a thickness, not a difference: it carries no sign.
        (Stage::Plate, Place::GapLeft | Place::GapRight) => visit
            .plate()
            .reading(place)
            .map_or_else(String::new, |gap| figures::with_unit(gap.length(), LengthKind::Fine, beside.settings)),
        (Stage::Plate, _) => reading(visit.plate().reading(place), LengthKind::Size),
        (Stage::Check, _) => reading(visit.check().reading(place), LengthKind::Size),
        _ => String::new(),
    }
}

/// Whether a value is there and cannot stay so.
fn off(visit: &Visit, place: Place, beside: &Beside<'_>) -> bool {
    let limit = visit.unit().unit_type.land_limit;
    match (visit.stage(), place) {
        (Stage::ReliefLands, _) => visit.relief().after(place).is_some_and(|land| land > limit),
        (Stage::Knife, Place::Thickness) => {
            let least = visit.knife_shape(beside.facts).least_thickness;
            visit.knife().thickness().is_some_and(|thickness| thickness < least)
        }
        (Stage::Knife, _) => visit.knife().angle(place).is_some() && visit.knife_angle(beside.facts, place).is_err(),
        _ => false,
    }
}

/// An angle as it is set at a bench.
fn degrees(angle: Angle) -> String {
    let text = format!("{:.2}", angle.degrees());
    format!("{}°", text.trim_end_matches('0').trim_end_matches('.'))
}

fn size(length: Length, beside: &Beside<'_>) -> String {
    figures::with_unit(length, LengthKind::Size, beside.settings)
}

fn initials(beside: &Beside<'_>) -> String {
    beside.facts.operator.as_ref().map_or_else(String::new, |operator| operator.initials.clone())
}

pub(super) fn relief(visit: &Visit, beside: &Beside<'_>) -> Relief {
    let units = Manner::from(beside.settings);
    let (state, unit_type) = (visit.relief(), &visit.unit().unit_type);
    let plan = visit.relief_plan(beside.facts);
    let phase = match visit.stage() {
        Stage::Finger => ReliefPhase::Finger,
        Stage::ReliefLands => ReliefPhase::Lands,
        Stage::Relief(_) if !visit.relief_rounds_done(beside.facts) => ReliefPhase::Rounds,
        _ => ReliefPhase::RunDown,
    };
    let cleared_at = match visit.stage() {
        Stage::Relief(running) => (beside.time_of_day)(running.clearance().at()),
        _ => String::new(),
    };
    let mut shown = Relief {
        phase,
        rows: rows(visit, beside),
        relief_angle: degrees(unit_type.relief_angle),
        finger_set: state.finger_set(),
        narrow: matches!(plan, Err(sparkout_core::visit::refusal::Refusal::NothingToRelieve { .. })),
        wide: state.land_after().is_some_and(|land| land > unit_type.land_limit),
        wanted: size(beside.facts.grinding.relief.land, beside),
        limit: figures::reading_with_unit(unit_type.land_limit, LengthKind::Size, units),
        round: state.rounds_done() + 1,
        blades: unit_type.blades.to_string(),
        unit: figures::sign_of(LengthKind::Fine, units).to_owned(),
        cleared_by: initials(beside),
        cleared_at,
        drawn: drawn::relief(visit, beside),
        ..Relief::default()
    };
    if let Ok(plan) = plan {
        shown.finger = figures::plain(plan.position.finger_offset, LengthKind::Size, units);
        shown.finger_unit = figures::sign_of(LengthKind::Size, units).to_owned();
        shown.blade_angle = format!("{:.1}", plan.position.blade_angle.degrees());
        shown.rounds = plan.rounds;
        shown.round = shown.round.min(plan.rounds);
        let infeed = state.rounds_done() < plan.with_infeed;
        shown.dial = if infeed { figures::plain(plan.dial_step, LengthKind::Fine, units) } else { String::new() };
        shown.can_go = match phase {
            ReliefPhase::Finger => state.finger_set() && state.asked_before().is_none(),
            ReliefPhase::Lands => state.asked_after().is_none() && !shown.wide,
            ReliefPhase::Rounds | ReliefPhase::RunDown => false,
        };
    }
    shown
}

pub(super) fn knife(visit: &Visit, beside: &Beside<'_>) -> Knife {
    let state = visit.knife();
    let shape = visit.knife_shape(beside.facts);
    let tolerance = degrees(shape.angle_tolerance);
    let least = figures::reading_with_unit(shape.least_thickness, LengthKind::Size, beside.settings);
    let rows = rows(visit, beside);
    let right = state.asked().is_none() && rows.iter().all(|row| !row.off);
    Knife {
        rows,
        work: bedknife(state.work()),
        asked_for: words::knife_asked_for(
            &degrees(shape.top_angle),
            &degrees(shape.front_angle),
            &tolerance,
            &least,
            beside.settings,
        ),
        checks: KnifeCheck::ALL.map(|check| state.checked(check)),
        paper_cuts: state.paper_cut(),
        can_go: right
            && bedknife(state.work()) != BedknifeWork::NotSaid
            && KnifeCheck::ALL.into_iter().all(|check| state.checked(check))
            && state.paper_cut(),
        drawn: drawn::knife(visit, beside),
    }
}

pub(super) fn back_lap(visit: &Visit, beside: &Beside<'_>) -> BackLap {
    let state = visit.back_lap();
    let running = match visit.stage() {
        Stage::BackLap(running) => Some(running),
        _ => None,
    };
    let since = running.and_then(|running| beside.now.since(running.started()));
    BackLap {
        running: state.turning(),
        elapsed: since.map_or_else(String::new, |since| figures::minutes_seconds(since.as_secs())),
        rows: rows(visit, beside),
        paper_cuts: state.paper_cut(),
        cleared_by: initials(beside),
        cleared_at: running.map_or_else(String::new, |running| (beside.time_of_day)(running.clearance().at())),
        can_go: state.asked().is_none() && state.paper_cut(),
    }
}

const fn found(decision: Decision, accepted: bool) -> Found {
    match (decision, accepted) {
        (Decision::Proven, _) => Found::Within,
        (Decision::Unproven, true) => Found::Accepted,
        (Decision::Unproven, false) => Found::NotProven,
        (Decision::Beyond, _) => Found::Beyond,
    }
}

pub(super) fn height(visit: &Visit, beside: &Beside<'_>) -> Height {
    let units = Manner::from(beside.settings);
    let state = visit.height();
    let mut shown = Height {
        sets: state.sets() as u32,
        round: state.rounds().len() as u32 + 1,
        rows: rows(visit, beside),
        unit: figures::sign_of(LengthKind::Fine, units).to_owned(),
        limit: figures::plain(beside.facts.limits.setup.height, LengthKind::Fine, units),
        can_go: visit.height_done(beside.facts),
        drawn: drawn::height(visit, beside),
        ..Height::default()
    };
    if let Some(Ok(outcome)) = visit.height_outcome(beside.facts) {
        shown.found = found(outcome.decision, state.accepted_by().is_some());
        shown.left = figures::signed(outcome.left.error, units);
        shown.right = figures::signed(outcome.right.error, units);
        shown.u95 = figures::uncertainty(outcome.error_u95, units);
        shown.turn_left = height_turn(visit, &outcome.left, Side::Left, beside);
        shown.turn_right = height_turn(visit, &outcome.right, Side::Right, beside);
    }
    shown
}

fn height_turn(visit: &Visit, at: &HeightSide, side: Side, beside: &Beside<'_>) -> Turn {
    let pair = visit.height_adjusters();
    // At a pair that counts the roller's end, the frame rises when the roller sinks: the hand's own sign tells.
    let counted = at.hand.turns.map(|turns| turns.turns()).or(at.hand.degrees.map(Angle::degrees));
    let rises = counted.map_or(at.raise, |counted| at.raise.abs() * counted.signum());
    turn(rises, at.hand.turns, at.hand.degrees, side, pair.at(side), beside)
}

pub(super) fn plate(visit: &Visit, beside: &Beside<'_>) -> Plate {
    let units = Manner::from(beside.settings);
    let mut shown = Plate {
        sets: visit.plate().sets() as u32,
        rows: rows(visit, beside),
        unit: figures::sign_of(LengthKind::Fine, units).to_owned(),
        limit: figures::plain(beside.facts.limits.setup.plate, LengthKind::Fine, units),
        can_go: visit.plate_done(beside.facts),
        drawn: drawn::plate(visit, beside),
        ..Plate::default()
    };
    if let Some(outcome) = visit.plate_outcome(beside.facts) {
        let with_u95 = |value: Length, u95: Length| {
            format!("{} ± {}", figures::signed(value, units), figures::uncertainty(u95, units))
        };
        shown.found = found(outcome.decision(), visit.plate().accepted_by().is_some());
        shown.edge = with_u95(outcome.edge, outcome.edge_u95);
        shown.gap = with_u95(outcome.gap, outcome.gap_u95);
    }
    shown
}

pub(super) fn check(visit: &Visit, beside: &Beside<'_>) -> Check {
    let state = visit.check();
    let mut shown = Check {
        rows: rows(visit, beside),
        paper: match state.paper() {
            None => Paper::NotTried,
            Some(true) => Paper::Cut,
            Some(false) => Paper::NotCut,
        },
        profile: tape::profile(visit, |place| visit.tape().reading(place)),
        exaggeration: tape::EXAGGERATION.to_owned(),
        ..Check::default()
    };
    if let Some(Ok(CheckOutcome { cone, cone_u95, due })) = visit.check_outcome(beside.facts) {
        let units = Manner::from(beside.settings);
        let sign = figures::sign_of(LengthKind::Fine, units);
        shown.judged = true;
        shown.can_go = state.asked().is_none();
        shown.due = due.iter().map(|reason| words::due(reason, beside.settings)).collect();
        shown.cone = format!("{} ± {} {sign}", figures::signed(cone, units), figures::uncertainty(cone_u95, units));
    }
    shown
}
