//! Label and Return.

use super::{Beside, figures};
use crate::screen::{Label, ProveVerdict, Return};
use sparkout_core::visit::{Judgement, Visit};

pub(super) fn label(visit: &Visit, beside: &Beside<'_>) -> Label {
    let state = visit.label();
    let printed = state.code().is_some();
    Label {
        raster: beside.label.clone().unwrap_or_default(),
        read_back: beside.label.is_some(),
        printed,
        scanned: state.scanned(),
        printed_to: state.printed_to().to_owned(),
        verdict: match visit.judgement(beside.facts) {
            Some(Judgement::Proven) => ProveVerdict::Pass,
            Some(Judgement::WithinNotProven) => ProveVerdict::AcceptedNotProven,
            None => ProveVerdict::Open,
        },
        can_go: state.scanned(),
    }
}

pub(super) fn back(visit: &Visit, beside: &Beside<'_>) -> Return {
    let next_due = visit.label_content(beside.facts).and_then(|content| content.next_due);
    Return {
        tag: visit.unit().tag.clone(),
        mower: beside.mower.clone(),
        next_due: next_due.map_or_else(String::new, |due| figures::date(due, beside.settings.language)),
    }
}
