//! The grinder's own health: how it stands, its charts, the check with the master bar, a lead's override.

use super::figures;
use crate::locale::Manner;
use crate::screen::{
    Asked, BarPhase, ChartSign, CheckOverride, ControlChart, Entry, Grinder, GrinderCheck, GrinderState, Settings,
    SpotCheck, StationLine,
};
use crate::words;
use sparkout_core::calc::master::MasterVerdict;
use sparkout_core::facts::BenchFacts;
use sparkout_core::health::check::{Check, CheckPhase};
use sparkout_core::health::closure::{Closure, Sign, charted};
use sparkout_core::health::drift::{CHARTED_FROM, Series};
use sparkout_core::health::spot::SpotCheck as Spot;
use sparkout_core::quantity::Length;
use sparkout_core::reading::{LengthKind, Reading};
use sparkout_core::record::{Grinder as Record, MasterCheck};

/// Closures that a chart shows with points that can be told apart.
pub const SHOWN_CLOSURES: usize = 40;

/// Which closures are charted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Gathered {
    /// All of this bench.
    Bench,
    /// Those of whoever stands there.
    Operator,
    /// Those of the tape in use.
    Tape,
    /// Those of a unit.
    Unit(String),
}

/// How the grinder stands on a day.
pub fn state(grinder: &Record, today: jiff::civil::Date) -> GrinderState {
    let (overdue, out) = (today > grinder.check_due, grinder.out_of_true().is_some());
    match &grinder.last_check {
        _ if (overdue || out) && grinder.overridden(today) => GrinderState::Overridden,
        _ if out => GrinderState::OutOfTrue,
        _ if overdue => GrinderState::Overdue,
        Some(check) if check.proven => GrinderState::InTrue,
        Some(_) => GrinderState::NotProven,
        None => GrinderState::Unchecked,
    }
}

/// The overview.
pub fn grinder(facts: &BenchFacts, closures: &[Closure], by: &Gathered, spots: &[Spot], settings: Settings) -> Grinder {
    let (record, units) = (&facts.grinder, settings);
    let state = state(record, facts.today);
    let last = record.last_check.as_deref();
    let fine = |value: Length| figures::plain(value, LengthKind::Fine, units);
    let by_whom =
        |check: &MasterCheck| format!("{} · {}", figures::date(check.date, settings.language), check.operator);
    Grinder {
        name: record.name.clone(),
        state,
        state_detail: words::grinder_state(record, state, settings),
        checked: last.map_or_else(String::new, by_whom),
        due: figures::date(record.check_due, settings.language),
        parallel: last.map_or_else(String::new, |check| {
            format!("{} ± {}", fine(check.parallel_error), figures::uncertainty(check.parallel_u95, units))
        }),
        straightness: last.map_or_else(String::new, |check| fine(check.straightness)),
        bar: last.map_or_else(String::new, |check| fine(check.bar_error)),
        unit: figures::sign_of(LengthKind::Fine, units).to_owned(),
        limit: figures::with_unit(facts.upkeep.check.tolerance, LengthKind::Fine, units),
        can_override: matches!(state, GrinderState::Overdue | GrinderState::OutOfTrue),
        closures: closure_chart(facts, closures, by, settings),
        spots: spot_chart(facts, spots, settings),
    }
}

fn closure_chart(facts: &BenchFacts, closures: &[Closure], by: &Gathered, settings: Settings) -> ControlChart {
    let values: Vec<Length> = closures.iter().map(|closure| closure.misclosure).collect();
    let operator = facts.operator.as_ref().map_or("", |operator| operator.name.as_str());
    let warning = facts.upkeep.drift.iter().find(|drift| drift.series == Series::Closure);
    ControlChart {
        title: words::closures_of(by, operator, &facts.upkeep.tape, values.len(), settings),
        note: warning.map_or_else(
            || words::touch_source(facts.upkeep.touch_source, facts.instruments.touch_sd, settings),
            |drift| words::drift(*drift, settings),
        ),
        warns: warning.is_some(),
        ..chart(&values, settings)
    }
}

fn spot_chart(facts: &BenchFacts, spots: &[Spot], settings: Settings) -> ControlChart {
    let from = spots.len().saturating_sub(SHOWN_CLOSURES);
    let values: Vec<Length> = spots[from..].iter().map(|spot| spot.reading.length()).collect();
    let warning = facts.upkeep.drift.iter().find(|drift| drift.series == Series::SpotCheck);
    let beyond = spots.last().filter(|spot| !spot.within(facts.upkeep.check.spot_limit));
    ControlChart {
        title: words::spots_title(values.len(), settings),
        note: match (warning, beyond) {
            (Some(drift), _) => words::drift(*drift, settings),
            (None, Some(spot)) => words::spot_beyond(&spot.unit, settings),
            (None, None) => words::spots_note(spots.last(), settings),
        },
        warns: warning.is_some() || beyond.is_some(),
        ..chart(&values, settings)
    }
}

/// The chart of these lengths; without limits below [`CHARTED_FROM`] values.
fn chart(values: &[Length], settings: Settings) -> ControlChart {
    let Ok(found) = charted(values).map_err(drop) else { return ControlChart::default() };
    let enough = values.len() >= CHARTED_FROM;
    let edges = [found.lower, found.upper];
    let all = values.iter().chain(edges.iter().filter(|_| enough));
    let (least, most) =
        all.fold((found.centre, found.centre), |(least, most), value| (least.min(*value), most.max(*value)));
    // A tenth above and below, so that nothing lies on the frame; a thousandth of a millimetre where all is one value.
    let margin = ((most - least) * 0.1).max(Length::from_mm(0.000_5));
    let span = most - least + margin * 2.0;
    let y = |value: Length| ((most + margin - value) / span).value().clamp(0.0, 1.0) as f32;
    let last = values.len().saturating_sub(1).max(1) as f32;
    let sign = |sign: Option<Sign>| match sign.filter(|_| enough) {
        None => ChartSign::None,
        Some(Sign::Outside) => ChartSign::Outside,
        Some(Sign::Run) => ChartSign::Run,
    };
    let shown = |value: Length| figures::signed(value, settings);
    ControlChart {
        enough,
        points: found
            .points
            .iter()
            .enumerate()
            .map(|(index, (value, why))| (index as f32 / last, y(*value), sign(*why)))
            .collect(),
        lines_y: [y(found.centre), y(found.upper), y(found.lower)],
        lines: [shown(found.centre), shown(found.upper), shown(found.lower)],
        ..ControlChart::default()
    }
}

/// The check with the master bar.
pub fn check(check: &Check, facts: &BenchFacts, settings: Settings) -> GrinderCheck {
    let units = Manner::from(settings);
    let phase = check.phase(facts);
    let now = match phase {
        CheckPhase::Reading { station } => Some(station),
        CheckPhase::Isolation | CheckPhase::TurnBar | CheckPhase::Complete => None,
    };
    let read = |value: Option<Reading>| value.map_or_else(String::new, |value| figures::signed_reading(value, units));
    let stations = check.stations().iter().zip(check.first().iter().zip(check.reversed())).enumerate();
    let mut shown = GrinderCheck {
        phase: match phase {
            CheckPhase::Isolation => BarPhase::Isolation,
            CheckPhase::Reading { .. } => BarPhase::Reading,
            CheckPhase::TurnBar => BarPhase::TurnBar,
            CheckPhase::Complete => BarPhase::Complete,
        },
        turned: check.turned(),
        station: now.map_or(0, |station| station as u32 + 1),
        stations: stations
            .map(|(index, (y, (first, reversed)))| StationLine {
                place: figures::reading_with_unit(*y, LengthKind::Size, units),
                first: read(*first),
                reversed: read(*reversed),
                now: now == Some(index),
            })
            .collect(),
        unit: figures::sign_of(LengthKind::Fine, units).to_owned(),
        limit: figures::with_unit(facts.upkeep.check.tolerance, LengthKind::Fine, units),
        ..GrinderCheck::default()
    };
    if let Some(Ok(outcome)) = check.outcome(facts) {
        let fine = |value: Length| figures::plain(value, LengthKind::Fine, units);
        let u95 = figures::uncertainty(outcome.parallel_u95, units);
        shown.parallel = format!("{} ± {u95}", fine(outcome.master.parallel_error));
        shown.straightness = fine(outcome.master.straightness);
        shown.bar = fine(outcome.master.bar_error.unwrap_or(Length::ZERO));
        shown.state = match outcome.master.verdict {
            MasterVerdict::OutOfTrue => GrinderState::OutOfTrue,
            MasterVerdict::True if outcome.proven => GrinderState::InTrue,
            MasterVerdict::True => GrinderState::NotProven,
        };
    }
    shown
}

/// The number that the check asks for now.
pub fn check_entry(check: &Check, facts: &BenchFacts, settings: Settings) -> Option<Entry> {
    let CheckPhase::Reading { station } = check.phase(facts) else { return None };
    let run = u64::from(check.turned());
    let place = check
        .stations()
        .get(station)
        .map_or_else(String::new, |y| figures::reading_with_unit(*y, LengthKind::Size, settings));
    Some(fine_entry(500_000 + run * 100 + station as u64, words::dial_at_station(&place, settings), settings))
}

/// The number that a spot check asks for, once a unit stands on the plate.
pub fn spot_entry(unit: Option<&str>, settings: Settings) -> Option<Entry> {
    unit.map(|_| fine_entry(600_000, words::spot_field(settings), settings))
}

fn fine_entry(serial: u64, field: String, settings: Settings) -> Entry {
    Entry {
        serial,
        asked: Asked::TypeField,
        unit: figures::sign_of(LengthKind::Fine, settings).to_owned(),
        field,
        signed: true,
        ..Entry::default()
    }
}

/// A unit on the surface plate.
pub fn spot(unit: Option<&str>, facts: &BenchFacts, settings: Settings) -> SpotCheck {
    SpotCheck {
        unit: unit.unwrap_or_default().to_owned(),
        limit: figures::with_unit(facts.upkeep.check.spot_limit, LengthKind::Fine, settings),
    }
}

/// A lead's reason.
pub fn overriding(facts: &BenchFacts, settings: Settings) -> CheckOverride {
    let record = &facts.grinder;
    let days_after = i64::from(facts.upkeep.check.override_days.max(1)) - 1;
    let until = facts.today.saturating_add(jiff::Span::new().days(days_after));
    CheckOverride {
        why: words::grinder_state(record, state(record, facts.today), settings),
        reasons: words::OVERRIDE_REASONS
            .iter()
            .map(|reason| words::override_reason(*reason, settings.language).to_owned())
            .collect(),
        until: figures::date(until, settings.language),
        lead: facts.operator.as_ref().is_some_and(|operator| operator.lead),
    }
}

/// What warns about the grinder where nobody looks for it: at Home and at Front.
pub fn grinder_warning(facts: &BenchFacts, check_open: bool, settings: Settings) -> String {
    if check_open {
        return words::check_open(settings);
    }
    match state(&facts.grinder, facts.today) {
        found @ (GrinderState::OutOfTrue | GrinderState::Overdue) => {
            words::grinder_state(&facts.grinder, found, settings)
        }
        GrinderState::Unchecked | GrinderState::InTrue | GrinderState::NotProven | GrinderState::Overridden => {
            facts.upkeep.drift.first().map_or_else(String::new, |drift| words::drift(*drift, settings))
        }
    }
}
