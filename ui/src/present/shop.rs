//! The screens without a visit: home, find, enrol; and a mower seen from above.

use super::figures;
use crate::screen::{Choice, Enrol, Find, Home, MowerPicture, Settings, Slot, Waiting};
use sparkout_core::record::{Grinder, Mower, Operator, Unit, UnitStatus, UnitType};
use sparkout_core::visit::Visit;

/// Where the units sit round a mower, centre across and along, 0 to 1: front row first, then behind the wheels.
fn places(positions: u32) -> Vec<(f32, f32)> {
    let front = positions.div_ceil(2);
    let rear = positions - front;
    let row = |count: u32, along: f32, middle_ahead: f32| {
        (0..count).map(move |index| {
            // From side to side: beside each other they would touch.
            let across = if count > 1 { index as f32 / (count - 1) as f32 } else { 0.5 };
            let is_middle = count % 2 == 1 && index == count / 2;
            (across, if is_middle { along - middle_ahead } else { along })
        })
    };
    // A triplex carries its third unit under the belly.
    if positions == 3 {
        return vec![(0.2, 0.15), (0.8, 0.15), (0.5, 0.62)];
    }
    row(front, 0.17, 0.08).chain(row(rear, 0.82, 0.0)).collect()
}

/// A mower's picture: who sits where, and which one is in hand.
pub fn mower_picture<'a>(
    mower: &Mower,
    units: impl Iterator<Item = &'a Unit> + Clone,
    now: Option<u32>,
) -> MowerPicture {
    let slots = places(mower.positions).into_iter().zip(1..).map(|((x, y), position)| Slot {
        number: position.to_string(),
        tag: units
            .clone()
            .find(|unit| unit.mower == mower.name && unit.position == position && unit.status != UnitStatus::Retired)
            .map_or_else(String::new, |unit| unit.tag.clone()),
        x,
        y,
        now: now == Some(position),
    });
    MowerPicture { name: mower.name.clone(), slots: slots.collect() }
}

/// No visit on the rails.
pub fn home<'a>(
    shop: &str,
    grinder: &Grinder,
    operator: Option<&Operator>,
    waiting: impl Iterator<Item = (&'a Visit, String)>,
    units: usize,
    settings: Settings,
) -> Home {
    Home {
        operator: operator.map_or_else(String::new, |operator| operator.name.clone()),
        waiting: waiting
            .map(|(visit, since)| Waiting {
                tag: visit.unit().tag.clone(),
                place: place(&visit.unit().mower, visit.unit().position),
                stage: visit.stage_name(),
                since,
            })
            .collect(),
        shop: shop.to_owned(),
        grinder: grinder.name.clone(),
        check_due: figures::date(grinder.check_due, settings),
        units: units.to_string(),
        ..Home::default()
    }
}

/// Find by mower, then position.
pub fn find<'a>(mowers: &[Mower], chosen: Option<usize>, units: impl Iterator<Item = &'a Unit> + Clone) -> Find {
    Find {
        mowers: mower_choices(mowers, chosen),
        picture: chosen.and_then(|index| mowers.get(index)).map(|mower| mower_picture(mower, units, None)),
    }
}

/// Enrol an unknown tag: the type, then the place.
pub fn enrol<'a>(
    tag: &str,
    types: &[UnitType],
    type_chosen: Option<usize>,
    mowers: &[Mower],
    mower_chosen: Option<usize>,
    units: impl Iterator<Item = &'a Unit> + Clone,
    settings: Settings,
) -> Enrol {
    Enrol {
        tag: tag.to_owned(),
        types: types
            .iter()
            .enumerate()
            .map(|(index, unit_type)| Choice {
                name: unit_type.name.clone(),
                detail: format!("{} × {}", unit_type.blades, card_size(unit_type, settings)),
                chosen: type_chosen == Some(index),
            })
            .collect(),
        mowers: if type_chosen.is_some() { mower_choices(mowers, mower_chosen) } else { Vec::new() },
        picture: mower_chosen.and_then(|index| mowers.get(index)).map(|mower| mower_picture(mower, units, None)),
    }
}

fn mower_choices(mowers: &[Mower], chosen: Option<usize>) -> Vec<Choice> {
    mowers
        .iter()
        .enumerate()
        .map(|(index, mower)| Choice {
            name: mower.name.clone(),
            detail: mower.positions.to_string(),
            chosen: chosen == Some(index),
        })
        .collect()
}

fn card_size(unit_type: &UnitType, settings: Settings) -> String {
    figures::reading_with_unit(unit_type.new_diameter, sparkout_core::reading::LengthKind::Size, settings)
}

/// A place in one line; nothing for a unit on no mower.
pub fn place(mower: &str, position: u32) -> String {
    if mower.is_empty() {
        return String::new();
    }
    format!("{mower} · {position}")
}
