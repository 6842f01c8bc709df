//! Why a unit is due, and how a mower's reels match.

use super::say;
use crate::present::figures;
use crate::screen::Settings;
use sparkout_core::outlook::due::{DueUnit, Reason};
use sparkout_core::outlook::sets::MowerSet;
use sparkout_core::reading::LengthKind;

/// The reason, as one line.
pub fn due_reason(unit: &DueUnit, settings: Settings) -> String {
    let size = |value| figures::with_unit(value, LengthKind::Size, settings);
    let date = |day| figures::date(day, settings.language);
    match unit.reason {
        Reason::WearLimit { diameter, limit } => {
            let (diameter, limit) = (size(diameter), size(limit));
            say!(
                settings,
                "Replace the reel: {diameter}, limit {limit}",
                "Reemplace el molinete: {diameter}, límite {limit}"
            )
        }
        Reason::Land { land, limit } => {
            let (land, limit) = (size(land), size(limit));
            say!(settings, "Relief: land {land}, limit {limit}", "Destalonar: faja {land}, límite {limit}")
        }
        Reason::Interval { last, days } => {
            let (last, over) = (date(last), unit.overdue_days);
            if over > 0 {
                say!(
                    settings,
                    "{over} days over: {days} open days since {last}",
                    "{over} días de más: {days} días de temporada desde el {last}"
                )
            } else {
                say!(settings, "{days} open days after {last}", "{days} días de temporada después del {last}")
            }
        }
        Reason::LimitSoon { at_limit, earliest } => {
            let at = date(at_limit);
            match earliest.map(date) {
                Some(earliest) => say!(
                    settings,
                    "Reel near its limit: about {at}, not before {earliest}",
                    "Molinete cerca de su límite: hacia el {at}, no antes del {earliest}"
                ),
                None => {
                    say!(settings, "Reel near its limit: about {at}", "Molinete cerca de su límite: hacia el {at}")
                }
            }
        }
        Reason::NothingOnRecord => {
            say!(settings, "Nothing on record: take it in", "Sin registro: tráigala al banco")
        }
        Reason::NotDue => say!(settings, "Not due", "No le toca"),
    }
}

/// What is reached already.
pub fn due_now(settings: Settings) -> String {
    say!(settings, "now", "ahora")
}

/// How a mower's reels match.
pub fn set_text(set: &MowerSet, settings: Settings) -> String {
    let Ok(matched) = &set.matched else {
        return say!(settings, "Cannot be compared.", "No se pueden comparar.");
    };
    let size = |value| figures::with_unit(value, LengthKind::Size, settings);
    let (spread, bring_to) = (size(matched.spread), size(matched.bring_to));
    if matched.odd_ones.is_empty() {
        return say!(settings, "Matched within {spread}", "Parejos en {spread}");
    }
    let odd = matched.odd_ones.join(", ");
    say!(
        settings,
        "Odd: {odd}. Spread {spread}; {bring_to} is common to all",
        "Dispares: {odd}. Diferencia {spread}; {bring_to} vale para todos"
    )
}
