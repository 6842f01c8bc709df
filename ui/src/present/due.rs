//! What is due, and how the mowers' reels match.

use super::{figures, shop};
use crate::screen::{Due, DueLine, SetLine, Settings};
use crate::words;
use sparkout_core::outlook::due::{DueUnit, Reason};
use sparkout_core::outlook::sets::MowerSet;

/// The list, the most pressing first.
pub fn due(units: &[DueUnit], sets: &[MowerSet], settings: Settings) -> Due {
    Due { lines: due_lines(units, settings), sets: sets.iter().map(|set| set_line(set, settings)).collect() }
}

/// Units of the list alone, in its order.
pub fn due_lines(units: &[DueUnit], settings: Settings) -> Vec<DueLine> {
    units.iter().map(|unit| line(unit, settings)).collect()
}

pub(super) fn line(unit: &DueUnit, settings: Settings) -> DueLine {
    let pressing = matches!(unit.reason, Reason::WearLimit { .. } | Reason::Land { .. });
    DueLine {
        tag: unit.tag.clone(),
        place: shop::place(&unit.mower, unit.position),
        reason: words::due_reason(unit, settings),
        day: match unit.due {
            // Since when it has been reached nobody knows.
            Some(_) if pressing => words::due_now(settings),
            Some(day) => figures::date(day, settings.language),
            None => String::new(),
        },
        overdue: unit.overdue_days > 0,
        pressing,
    }
}

fn set_line(set: &MowerSet, settings: Settings) -> SetLine {
    let matched = set.matched.as_ref().is_ok_and(|matched| matched.odd_ones.is_empty());
    SetLine { mower: set.mower.clone(), text: words::set_text(set, settings), matched }
}
