//! Label and Return.

use super::{Beside, figures};
use crate::screen::{Label, ProveVerdict, Return};
use sparkout_core::label::LabelVerdict;
use sparkout_core::visit::Visit;
use sparkout_core::visit::kind::VisitKind;

pub(super) fn label(visit: &Visit, beside: &Beside<'_>) -> Label {
    let state = visit.label();
    let printed = state.code().is_some();
    Label {
        raster: beside.label.clone().unwrap_or_default(),
        read_back: beside.label.is_some(),
        printed,
        scanned: state.scanned(),
        printed_to: state.printed_to().to_owned(),
        verdict: match visit.label_content(beside.facts).map(|content| content.verdict) {
            Some(LabelVerdict::Proven) => ProveVerdict::Pass,
            Some(LabelVerdict::WithinNotProven) => ProveVerdict::AcceptedNotProven,
            Some(LabelVerdict::Done) => ProveVerdict::Done,
            Some(LabelVerdict::Fit) => ProveVerdict::Fit,
            Some(LabelVerdict::Due) => ProveVerdict::Due,
            None => ProveVerdict::Open,
        },
        // A unit that was only looked at goes back without a label where nobody wants one.
        can_go: state.scanned() || (visit.kind() == VisitKind::CheckOnly && !printed),
    }
}

pub(super) fn back(visit: &Visit, beside: &Beside<'_>) -> Return {
    let next_due = visit.label_content(beside.facts).and_then(|content| content.next_due);
    Return {
        tag: visit.unit().tag.clone(),
        mower: beside.mower.clone(),
        position: if visit.unit().mower.is_empty() { String::new() } else { visit.unit().position.to_string() },
        next_due: next_due.map_or_else(String::new, |due| figures::date(due, beside.settings)),
    }
}
