//! Return: when it is due next.

use super::sheet::{Line, Out, Sheet};
use super::words::{self, Origin};
use crate::present::figures;
use crate::screen::Why;

pub(super) fn next_due(sheet: &Sheet<'_>) -> Option<Why> {
    let content = sheet.visit.label_content(sheet.beside.facts)?;
    let due = content.next_due?;
    let shown = figures::date(due, sheet.settings());
    let day = sheet.text("d", figures::date(content.date, sheet.settings()), words::GROUND_ON, Origin::Clock);
    let days = f64::from((due - content.date).get_days());
    let days = sheet.other("n", days, 0, "d", words::DAYS_BETWEEN, Origin::Assumed);
    let vars = [&day, &days];
    let line = Line { left: "", right: "{d} + {n} d" };
    let formula = sheet.formula(&line, &vars, Out::nearest(shown.clone(), ""));
    Some(sheet.why(words::DUE_TITLE, shown, vec![formula], &vars, words::COMMON_PRACTICE))
}
