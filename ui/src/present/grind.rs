//! Grind: what to dial now, and the strip of passes.

use super::{Beside, figures};
use crate::screen::{Grind as Shown, PassCell, Settings, StopState};
use sparkout_core::quantity::Length;
use sparkout_core::reading::{LengthKind, Units};
use sparkout_core::visit::{Grind, Visit};

pub(super) fn grind(visit: &Visit, grind: &Grind, beside: &Beside<'_>) -> Shown {
    let units = beside.settings;
    let plan = grind.plan();
    let done = visit.passes().done();
    let all = grind.passes(beside.facts);
    let dial_after = |pass: u32| plan.schedule.get(pass as usize).map(|length| dial(*length, units));
    let elapsed = beside.now.since(grind.started()).map_or(0, |elapsed| elapsed.as_secs());
    let left = seconds_left(visit, grind, beside);
    Shown {
        pass: (done + 1).min(all),
        passes: all,
        dial: dial_after(done).unwrap_or_default(),
        unit: figures::sign_of(LengthKind::Fine, units).to_owned(),
        next_dial: dial_after(done + 1).unwrap_or_default(),
        strip: (0..all).map(|pass| cell(pass, done, dial_after(pass))).collect(),
        elapsed: figures::minutes_seconds(elapsed),
        left: figures::minutes_seconds(left.round() as u64),
        final_diameter: figures::with_unit(plan.final_diameter, LengthKind::Size, units),
        land_after: plan
            .land_after
            .map_or_else(String::new, |land| figures::with_unit(land.lead.max(land.trail), LengthKind::Size, units)),
        cleared_by: beside.facts.operator.as_ref().map_or_else(String::new, |operator| operator.initials.clone()),
        cleared_at: (beside.time_of_day)(grind.clearance().at()),
        run_down: done >= all,
    }
}

/// The time of the passes that are left, in seconds.
pub(super) fn seconds_left(visit: &Visit, grind: &Grind, beside: &Beside<'_>) -> f64 {
    let (all, done) = (grind.passes(beside.facts), visit.passes().done());
    let in_all = grind.plan().minutes.minutes() * 60.0;
    if all == 0 { 0.0 } else { in_all * f64::from(all - done.min(all)) / f64::from(all) }
}

/// All passes were made before the clearance was lost: what is left is to see both come to rest.
pub(super) fn run_down(visit: &Visit, beside: &Beside<'_>) -> Shown {
    let all = visit.passes_in_all(beside.facts);
    Shown { pass: all, passes: all, run_down: true, ..Shown::default() }
}

fn cell(pass: u32, done: u32, dial: Option<String>) -> PassCell {
    let state = match pass.cmp(&done) {
        std::cmp::Ordering::Less => StopState::Done,
        std::cmp::Ordering::Equal => StopState::Now,
        std::cmp::Ordering::Greater => StopState::ToCome,
    };
    PassCell { spark_out: dial.is_none(), dial: dial.unwrap_or_default(), state }
}

/// A dial value as it is set: no decimal that no dial shows, so that it is read at two metres.
pub(super) fn dial(length: Length, settings: Settings) -> String {
    let text = figures::plain(length, LengthKind::Fine, settings);
    let idle = match settings.units {
        // The nought and the sign before it.
        Units::Thou => 2,
        Units::Inch => 1,
        Units::Metric => 0,
    };
    let mut shown: Vec<char> = text.chars().collect();
    let noughts = shown.iter().rev().take_while(|letter| **letter == '0').count();
    if noughts > 0 {
        shown.truncate(shown.len() - idle);
    }
    shown.into_iter().collect()
}
