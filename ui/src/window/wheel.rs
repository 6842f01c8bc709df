//! What the wheel's record, the lockout and their forms show, as the screens take it.

use super::generated as g;
use super::manners::{rows, texts};
use super::views::{list, text};
use crate::screen;

pub(super) fn wheel(card: &screen::WheelCard) -> g::WheelView {
    g::WheelView {
        state: card.state.into(),
        description: text(&card.description),
        missing: texts(&card.missing),
        diameter: text(&card.diameter),
        unit: text(&card.unit),
        diameter_foot: text(&card.diameter_foot),
        speed: text(&card.speed),
        speed_unit: text(&card.speed_unit),
        rpm: text(&card.rpm),
        margin_percent: text(&card.margin_percent),
        within_rating: card.within_rating,
        smallest: text(&card.smallest),
        smallest_foot: text(&card.smallest_foot),
        lines: list(&card.lines, |line| g::FieldRow {
            label: text(&line.label),
            value: text(&line.value),
            now: line.now,
        }),
        before: texts(&card.before),
        locked: card.locked,
    }
}

pub(super) fn lockout(card: &screen::LockoutCard) -> g::LockoutView {
    g::LockoutView {
        phase: card.phase.into(),
        number: text(&card.number),
        owner: text(&card.owner),
        to: text(&card.to),
        since: text(&card.since),
        own: card.own,
        may_force: card.may_force,
        signed_on: card.signed_on,
        told: text(&card.told),
    }
}

pub(super) fn form(form: &screen::Form) -> g::FormView {
    g::FormView {
        kind: form.kind.into(),
        rows: rows(&form.rows),
        asked: text(&form.asked),
        explained: text(&form.explained),
        choices: texts(&form.choices),
        has_letters: form.letters.is_some(),
        letters: text(form.letters.as_deref().unwrap_or_default()),
        complete: form.complete,
    }
}
