//! Prove: before and after, and the verdict.

use super::tape::{EXAGGERATION, profile};
use super::{Beside, figures, place_side};
use crate::screen::{BedknifeWork as ShownWork, Prove, ProveName, ProvePlace, ProveVerdict as Shown};
use sparkout_core::calc::prove::{Prove as Outcome, ProveVerdict};
use sparkout_core::reading::{LengthKind, Reading};
use sparkout_core::visit::Visit;
use sparkout_core::visit::event::{BedknifeWork, Place};

const PLACES: [(Place, ProveName, bool); 5] = [
    (Place::Lead, ProveName::Leading, false),
    (Place::Trail, ProveName::Trailing, false),
    (Place::Centre, ProveName::Centre, true),
    (Place::Land, ProveName::Land, true),
    (Place::HeightOfCut, ProveName::HeightOfCut, true),
];

pub(super) fn prove(visit: &Visit, beside: &Beside<'_>) -> Prove {
    let units = beside.settings;
    let state = visit.prove();
    let asked = state.asked();
    let show = |reading: Reading| figures::reading_with_unit(reading, LengthKind::Size, units);
    let before = visit.tape().ends().map(|(lead, trail)| lead.length() - trail.length());
    let mut shown = Prove {
        places: PLACES
            .iter()
            .map(|(place, what, optional)| ProvePlace {
                what: *what,
                side: place_side(visit, *place),
                value: state.reading(*place).map_or_else(String::new, show),
                now: asked == Some(*place),
                optional: *optional,
            })
            .collect(),
        cone_before: before.map_or_else(String::new, |cone| figures::signed_with_unit(cone, units)),
        unit: figures::sign_of(LengthKind::Fine, units).to_owned(),
        limit: figures::plain(beside.facts.limits.cone, LengthKind::Fine, units),
        exaggeration: EXAGGERATION.to_owned(),
        profile_before: profile(visit, |place| visit.tape().reading(place)),
        profile_after: profile(visit, |place| state.reading(place)),
        bedknife: bedknife(state.bedknife()),
        paper_cuts: state.paper_cut(),
        ..Prove::default()
    };
    if let Some(Ok(outcome)) = visit.proved(beside.facts) {
        judged(&mut shown, visit, &outcome, beside);
    }
    shown
}

fn judged(shown: &mut Prove, visit: &Visit, outcome: &Outcome, beside: &Beside<'_>) {
    let units = beside.settings;
    shown.verdict = verdict(visit, outcome);
    shown.cone = figures::signed(outcome.cone, units);
    shown.cone_u95 = figures::uncertainty(outcome.cone_u95, units);
    shown.removed =
        outcome.removed.map_or_else(String::new, |removed| figures::with_unit(removed, LengthKind::Fine, units));
    shown.misclosure = match (outcome.misclosure, outcome.misclosure_u95) {
        (Some(misclosure), Some(u95)) => {
            let sign = figures::sign_of(LengthKind::Fine, units);
            format!("{} ± {} {sign}", figures::signed(misclosure, units), figures::uncertainty(u95, units))
        }
        (Some(misclosure), None) => figures::signed_with_unit(misclosure, units),
        (None, _) => String::new(),
    };
    shown.relief_due = outcome.relief_due.unwrap_or(false);
    shown.can_go = visit.judgement(beside.facts).is_some() && shown.paper_cuts;
}

/// What stands on the screen and the label for this outcome.
pub(super) fn verdict(visit: &Visit, outcome: &Outcome) -> Shown {
    match outcome.verdict {
        ProveVerdict::Pass => Shown::Pass,
        ProveVerdict::Regrind => Shown::Regrind,
        ProveVerdict::Repeat if visit.prove().accepted_by().is_some() => Shown::AcceptedNotProven,
        ProveVerdict::Repeat => Shown::Repeat,
    }
}

pub(super) const fn bedknife(work: Option<BedknifeWork>) -> ShownWork {
    match work {
        None => ShownWork::NotSaid,
        Some(BedknifeWork::Faced) => ShownWork::Faced,
        Some(BedknifeWork::Reground) => ShownWork::Reground,
        Some(BedknifeWork::New) => ShownWork::New,
    }
}
