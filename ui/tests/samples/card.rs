//! A unit's card in each state of its record.

use super::record::{TODAY, history, thou, unit, unit_type, work};
use super::{Sample, bare, mower};
use jiff::civil::date;
use sparkout_core::outlook::due::DueRules;
use sparkout_core::quantity::Length;
use sparkout_core::reading::Reading;
use sparkout_core::record::Work;
use sparkout_ui::present::{CardBeside, unit_card};
use sparkout_ui::screen::*;

pub fn all(language: Language) -> Vec<Sample> {
    vec![
        ("15-card", screen(language, history())),
        ("16-card-first", screen(language, vec![work(date(2026, 10, 5), 5046, 1, None)])),
        ("17-card-worn-out", screen(language, worn_out())),
    ]
}

fn worn_out() -> Vec<Work> {
    let less = |reading: Reading| Reading::from_nanometres(reading.nanometres() - thou(400).nanometres());
    history().into_iter().map(|work| Work { lead: less(work.lead), trail: less(work.trail), ..work }).collect()
}

fn screen(language: Language, works: Vec<Work>) -> Screen {
    bare(language, Body::UnitCard(card(language, works)))
}

/// The card of a unit with this history.
pub fn card(language: Language, works: Vec<Work>) -> UnitCard {
    let (unit, unit_type) = (unit(works), unit_type());
    let beside = CardBeside {
        settings: Settings { language, ..Settings::default() },
        unit_type: Some(&unit_type),
        mower: mower(Some(1)),
        rules: DueRules {
            interval_days: Some(42),
            season: None,
            usual_removal: Length::from_inches(0.012),
            limit_ahead_days: 120,
        },
        today: TODAY,
    };
    unit_card(&unit, beside)
}

/// The plot as it stands at Receive.
pub fn wear(language: Language) -> WearPlot {
    card(language, history()).wear
}
