//! Receive: the unit's card and the look before it goes on the rails.

use super::{Beside, figures};
use crate::screen::{Condition, FrameName, KindChoice, KindName, Plot, Receive};
use sparkout_core::bench::FrameKind;
use sparkout_core::quantity::{Length, Mass};
use sparkout_core::reading::{LengthKind, Units};
use sparkout_core::record::Unit;
use sparkout_core::visit::Visit;
use sparkout_core::visit::event::{Condition as Found, Part};
use sparkout_core::visit::kind::{KINDS, VisitKind, stages};

/// Above this a second person or the hoist is suggested until the bench's own lifting estimate is entered
/// (the load constant of NIOSH 94-110 is 23 kg for a lift in the best posture; a bench lift is never that).
const ONE_PERSON_MOST: Mass = Mass::from_kilograms(23.0);

pub(super) fn receive(visit: &Visit, beside: &Beside<'_>) -> Receive {
    let settings = beside.settings;
    let units = settings.units;
    let facts = visit.unit();
    let unit_type = &facts.unit_type;
    let state = visit.receive();
    let last = facts.last.as_ref();
    let smallest = last.map(|work| work.smallest().length());
    let span = unit_type.new_diameter.length() - unit_type.wear_limit.length();
    let used = smallest.map(|now| ((unit_type.new_diameter.length() - now) / span).value() * 100.0);
    let left = smallest.map(|now| {
        let usable = now - unit_type.wear_limit.length();
        (usable / beside.facts.grinding.usual_removal).value().floor().max(0.0)
    });
    let show = |value: Option<f64>| value.map_or_else(String::new, |value| format!("{value:.0}"));
    Receive {
        tag: facts.tag.clone(),
        type_name: unit_type.name.clone(),
        blades: unit_type.blades.to_string(),
        frame: frame_name(unit_type.frame),
        last_date: last.map_or_else(String::new, |work| figures::date(work.date, settings.language)),
        last_operator: last.map_or_else(String::new, |work| work.operator.clone()),
        last_land: last
            .and_then(|work| work.land)
            .map_or_else(String::new, |land| figures::reading_with_unit(land, LengthKind::Size, units)),
        grinds_left: show(left),
        used_percent: show(used),
        plot: beside.unit.map_or_else(Plot::default, |unit| plot(unit, visit, beside)),
        mower: beside.mower.clone(),
        weight: unit_type.weight.map_or_else(String::new, |weight| weight_text(weight, units)),
        needs_help: unit_type.weight.is_some_and(|weight| weight > ONE_PERSON_MOST),
        conditions: Part::ALL.map(|part| condition(state.condition(part))),
        kinds: KINDS
            .iter()
            .map(|kind| KindChoice {
                kind: kind_name(*kind),
                chosen: visit.kind() == Some(*kind),
                offered: stages(*kind, unit_type.frame).is_some(),
            })
            .collect(),
        held: state.held(),
        can_go: state.looked() && !state.held() && visit.kind().is_some(),
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

const fn frame_name(frame: FrameKind) -> FrameName {
    match frame {
        FrameKind::Adjustable => FrameName::Adjustable,
        FrameKind::SidePlates => FrameName::SidePlates,
        FrameKind::Welded => FrameName::Welded,
        FrameKind::FloatingReel => FrameName::FloatingReel,
        FrameKind::FixedHead => FrameName::FixedHead,
    }
}

const fn kind_name(kind: VisitKind) -> KindName {
    match kind {
        VisitKind::Spin => KindName::Spin,
        VisitKind::ReliefAndSpin => KindName::ReliefAndSpin,
        VisitKind::Bedknife => KindName::Bedknife,
        VisitKind::BackLap => KindName::BackLap,
        VisitKind::HeightOfCut => KindName::HeightOfCut,
        VisitKind::CheckOnly => KindName::CheckOnly,
    }
}

/// Diameter over time, from just below the wear limit to the diameter when new.
fn plot(unit: &Unit, visit: &Visit, beside: &Beside<'_>) -> Plot {
    let settings = beside.settings;
    let unit_type = &visit.unit().unit_type;
    let (new, limit) = (unit_type.new_diameter.length(), unit_type.wear_limit.length());
    let (Some(first), Some(last)) = (unit.history.first(), unit.history.last()) else { return Plot::default() };
    let margin = (new - limit) * 0.15;
    let height = |diameter: Length| ((new - diameter) / (new - limit + margin)).value().clamp(0.0, 1.0) as f32;
    let days = |date: jiff::civil::Date| f64::from((date - first.date).get_days());
    let span = days(last.date).max(1.0);
    Plot {
        points: unit
            .history
            .iter()
            .map(|work| ((days(work.date) / span) as f32, height(work.smallest().length())))
            .collect(),
        limit_y: height(limit),
        limit: figures::with_unit(limit, LengthKind::Size, settings.units),
        newest: figures::reading_with_unit(last.smallest(), LengthKind::Size, settings.units),
        from: figures::date(first.date, settings.language),
        to: figures::date(last.date, settings.language),
    }
}
