//! Home's list of what is due, and a unit's card, as the screens take them.

use super::generated as g;
use super::plots;
use super::views::{list, mower, text};
use crate::screen;

pub(super) fn due_line(line: &screen::DueLine) -> g::DueLine {
    g::DueLine {
        tag: text(&line.tag),
        place: text(&line.place),
        reason: text(&line.reason),
        day: text(&line.day),
        overdue: line.overdue,
        pressing: line.pressing,
    }
}

fn visit_line(visit: &screen::VisitLine) -> g::VisitLine {
    g::VisitLine {
        date: text(&visit.date),
        who: text(&visit.who),
        removed: text(&visit.removed),
        cone: text(&visit.cone),
        proven: visit.proven,
        land: text(&visit.land),
        height: text(&visit.height),
    }
}

pub(super) fn unit_card(card: &screen::UnitCard) -> g::UnitCardView {
    g::UnitCardView {
        tag: text(&card.tag),
        type_name: text(&card.type_name),
        blades: text(&card.blades),
        frame: card.frame.into(),
        serial: text(&card.serial),
        place: text(&card.place),
        status: card.status.into(),
        next_due: text(&card.next_due),
        due_why: text(&card.due_why),
        overdue: card.overdue,
        grinds_left: text(&card.grinds_left),
        wear: plots::wear(&card.wear),
        land: plots::land(&card.land),
        visits: list(&card.visits, visit_line),
        unit: text(&card.unit),
        mower: mower((!card.mower.slots.is_empty()).then_some(&card.mower)),
    }
}

/// Each piece from where to where in the stack's whole height.
pub(super) fn shim_stack(stack: Option<&screen::ShimStack>) -> g::ShimStackView {
    let Some(stack) = stack else { return g::ShimStackView::default() };
    let whole: f32 = stack.pieces.iter().map(|piece| piece.height).sum();
    let mut low = 0.0;
    let pieces: Vec<_> = stack
        .pieces
        .iter()
        .map(|piece| {
            let from = low;
            low += if whole > 0.0 { piece.height / whole } else { 0.0 };
            (text(&piece.text), from, low)
        })
        .collect();
    g::ShimStackView {
        pieces: list(&pieces, |(text, low, high)| g::ShimPieceView { text: text.clone(), low: *low, high: *high }),
        amount: text(&stack.amount),
        unit: text(&stack.unit),
        total: text(&stack.total),
        error: text(&stack.error),
    }
}
