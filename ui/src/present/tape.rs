//! Tape: diameters, the cone and where to zero.

use super::{Beside, end_name, figures, place_end, place_side, side_name};
use crate::screen::{Place as ShownPlace, Tape};
use sparkout_core::bench::End;
use sparkout_core::quantity::Length;
use sparkout_core::reading::{LengthKind, Reading};
use sparkout_core::record::Side;
use sparkout_core::visit::Visit;
use sparkout_core::visit::event::Place;

/// What the outline multiplies differences by, roughly, against the reel's own radius.
pub(super) const EXAGGERATION: &str = "60";
/// A cone of this much fills the outline's exaggeration.
const DRAWN_MOST: Length = Length::from_inches(0.030);

pub(super) fn tape(visit: &Visit, beside: &Beside<'_>) -> Tape {
    let units = beside.settings;
    let state = visit.tape();
    let asked = state.asked();
    let places = [Place::Lead, Place::Trail, Place::Centre]
        .map(|place| ShownPlace {
            end: place_end(place),
            side: place_side(visit, place),
            value: state
                .reading(place)
                .map_or_else(String::new, |value| figures::reading_with_unit(value, LengthKind::Size, units)),
            now: asked == Some(place),
            optional: place == Place::Centre,
        })
        .to_vec();
    let zero_end = visit.zero_end();
    let mut shown = Tape {
        places,
        profile: profile(visit, |place| state.reading(place)),
        zero_end: end_name(zero_end),
        zero_side: side_name(visit.side_of(zero_end)),
        exaggeration: EXAGGERATION.to_owned(),
        unit: figures::sign_of(LengthKind::Fine, units).to_owned(),
        ..Tape::default()
    };
    if let Some(Ok(taped)) = visit.taped() {
        let smallest = taped.diameter.lead.min(taped.diameter.trail);
        shown.computed = true;
        shown.cone = figures::signed(taped.cone, units);
        shown.barrel = taped.barrel.map_or_else(String::new, |barrel| figures::signed(barrel, units));
        shown.target = figures::signed(super::dial_target(taped.target, beside), units);
        shown.smallest = figures::with_unit(smallest, LengthKind::Size, units);
        shown.used_percent = taped.wear_used.map_or_else(String::new, |used| format!("{:.0}", used.value() * 100.0));
        shown.can_go = true;
    }
    shown
}

/// The reel's outline as it stands before the operator: how much each place exceeds the mean, of the most that is drawn.
pub(super) fn profile(visit: &Visit, reading: impl Fn(Place) -> Option<Reading>) -> [f32; 3] {
    let (Some(lead), Some(trail)) = (reading(Place::Lead), reading(Place::Trail)) else { return [0.0; 3] };
    let (left, right) = match visit.side_of(End::Lead) {
        Some(Side::Right) => (trail, lead),
        Some(Side::Left) | None => (lead, trail),
    };
    let mean = (left.length() + right.length()) / 2.0;
    let centre = reading(Place::Centre).map_or(mean, Reading::length);
    [left.length(), centre, right.length()]
        .map(|diameter| ((diameter - mean) / DRAWN_MOST).value().clamp(-1.0, 1.0) as f32)
}
