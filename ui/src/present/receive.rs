//! Receive: the unit's card and the look before it goes on the rails.

use super::{Beside, figures, plot};
use crate::screen::{Condition, FrameName, KindChoice, Receive, SetRow, WearPlot};
use crate::words;
use sparkout_core::bench::FrameKind;
use sparkout_core::calc::lift::LiftVerdict;
use sparkout_core::lifting::UnitLift;
use sparkout_core::outlook::forecast::smallest_on_limit_basis;
use sparkout_core::quantity::Mass;
use sparkout_core::reading::{LengthKind, Units};
use sparkout_core::visit::event::{Condition as Found, Part, Place};
use sparkout_core::visit::kind::KINDS;
use sparkout_core::visit::{PLAYS, Visit};

/// The unit's lift onto the rails, by the bench's entered heights; none where its weight is not known.
pub(super) fn unit_lift(visit: &Visit, beside: &Beside<'_>) -> Option<UnitLift> {
    // Heights beyond the equation were refused when the configuration was read; a weight may still be beyond it.
    beside.lifting.of(visit.unit().unit_type.weight?).ok()
}

pub(super) fn receive(visit: &Visit, beside: &Beside<'_>) -> Receive {
    let settings = beside.settings;
    let units = settings;
    let facts = visit.unit();
    let unit_type = &facts.unit_type;
    let state = visit.receive();
    let last = facts.last.as_ref();
    // The tape's chords are not compared with a limit that was given as the circle through the tips.
    let smallest = last.and_then(|work| smallest_on_limit_basis(work, unit_type).ok());
    let span = unit_type.new_diameter.length() - unit_type.wear_limit.length();
    let used = smallest.map(|now| ((unit_type.new_diameter.length() - now) / span).value() * 100.0);
    let left = smallest.map(|now| {
        let usable = now - unit_type.wear_limit.length();
        (usable / beside.facts.grinding.usual_removal).value().floor().max(0.0)
    });
    let lift = unit_lift(visit, beside);
    let show = |value: Option<f64>| value.map_or_else(String::new, |value| figures::number(value, 0, settings));
    Receive {
        tag: facts.tag.clone(),
        type_name: unit_type.name.clone(),
        blades: unit_type.blades.to_string(),
        frame: frame_name(unit_type.frame),
        last_date: last.map_or_else(String::new, |work| figures::date(work.date, settings)),
        last_operator: last.map_or_else(String::new, |work| work.operator.clone()),
        last_land: last
            .and_then(|work| work.land)
            .map_or_else(String::new, |land| figures::reading_with_unit(land, LengthKind::Size, units)),
        grinds_left: show(left),
        used_percent: show(used),
        plot: beside
            .unit
            .map_or_else(WearPlot::default, |unit| plot::wear(unit, unit_type, beside.facts.today, settings)),
        mower: beside.mower.clone(),
        weight: unit_type.weight.map_or_else(String::new, |weight| weight_text(weight, settings.units)),
        lift_index: lift.map_or_else(String::new, |lift| figures::number(lift.lift.lifting_index.value(), 1, settings)),
        needs_help: lift.is_some_and(|lift| lift.lift.verdict == LiftVerdict::Assist),
        conditions: Part::ALL.map(|part| condition(state.condition(part))),
        kinds: KINDS
            .iter()
            .map(|kind| KindChoice { kind: *kind, chosen: visit.kind() == *kind, offered: true })
            .collect(),
        play: PLAYS.iter().map(|(place, part)| play_row(visit, *place, *part, beside)).collect(),
        held: state.held(),
        can_go: state.looked() && !state.held(),
    }
}

/// The play at a place, where it was measured, and what it may be.
fn play_row(visit: &Visit, place: Place, part: Part, beside: &Beside<'_>) -> SetRow {
    let state = visit.receive();
    let limit = visit.play_limit(beside.facts, place);
    let with_unit = |length| figures::with_unit(length, LengthKind::Fine, beside.settings);
    let measured = state.play(place).map(|play| with_unit(play.length()));
    SetRow {
        name: words::place_label(place, crate::screen::Settings::default()),
        label: words::place_label(place, beside.settings),
        value: words::play(measured.as_deref(), &with_unit(limit), beside.settings),
        now: state.asked() == Some(place),
        off: state.play(place).is_some() && state.condition(part) == Some(Found::Bad),
    }
}

fn weight_text(weight: Mass, units: Units) -> String {
    match units {
        Units::Inch | Units::Thou => format!("{:.0} lb", weight.pounds()),
        Units::Metric => format!("{:.0} kg", weight.kilograms()),
    }
}

const fn condition(found: Option<Found>) -> Condition {
    match found {
        None => Condition::NotSeen,
        Some(Found::Good) => Condition::Good,
        Some(Found::Note) => Condition::Note,
        Some(Found::Bad) => Condition::Bad,
    }
}

pub(super) const fn frame_name(frame: FrameKind) -> FrameName {
    match frame {
        FrameKind::Adjustable => FrameName::Adjustable,
        FrameKind::SidePlates => FrameName::SidePlates,
        FrameKind::Welded => FrameName::Welded,
        FrameKind::FloatingReel => FrameName::FloatingReel,
        FrameKind::FixedHead => FrameName::FixedHead,
    }
}
