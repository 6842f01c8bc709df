//! What the grinder's screens and the due list show, as the screens take it.

use super::card_views;
use super::generated as g;
use super::views::{count, list, text};
use crate::screen;

/// Due units that fit under each other at two metres.
const DUE_MOST: usize = 8;
/// Mowers that fit beside them.
const SETS_MOST: usize = 6;

fn chart(chart: &screen::ControlChart) -> g::ControlChart {
    let [centre_y, upper_y, lower_y] = chart.lines_y;
    let [centre, upper, lower] = &chart.lines;
    g::ControlChart {
        title: text(&chart.title),
        note: text(&chart.note),
        warns: chart.warns,
        enough: chart.enough,
        points: list(&chart.points, |(x, y, sign)| g::ChartPoint { x: *x, y: *y, sign: (*sign).into() }),
        line: list(&chart.points, |(x, y, _)| g::PlotPoint { x: *x, y: *y }),
        centre_y,
        upper_y,
        lower_y,
        centre: text(centre),
        upper: text(upper),
        lower: text(lower),
    }
}

pub(super) fn grinder(grinder: &screen::Grinder) -> g::GrinderView {
    g::GrinderView {
        name: text(&grinder.name),
        state: grinder.state.into(),
        state_detail: text(&grinder.state_detail),
        checked: text(&grinder.checked),
        due: text(&grinder.due),
        parallel: text(&grinder.parallel),
        straightness: text(&grinder.straightness),
        bar: text(&grinder.bar),
        unit: text(&grinder.unit),
        limit: text(&grinder.limit),
        can_override: grinder.can_override,
        closures: chart(&grinder.closures),
        spots: chart(&grinder.spots),
    }
}

pub(super) fn check(check: &screen::GrinderCheck) -> g::GrinderCheckView {
    g::GrinderCheckView {
        phase: check.phase.into(),
        turned: check.turned,
        station: count(check.station),
        place: text(check.stations.iter().find(|line| line.now).map_or("", |line| &line.place)),
        stations: list(&check.stations, |line| g::StationLine {
            place: text(&line.place),
            first: text(&line.first),
            reversed: text(&line.reversed),
            now: line.now,
        }),
        unit: text(&check.unit),
        parallel: text(&check.parallel),
        straightness: text(&check.straightness),
        bar: text(&check.bar),
        limit: text(&check.limit),
        state: check.state.into(),
    }
}

pub(super) fn spot(spot: &screen::SpotCheck) -> g::SpotCheckView {
    g::SpotCheckView { unit: text(&spot.unit), limit: text(&spot.limit) }
}

pub(super) fn overriding(body: &screen::CheckOverride) -> g::CheckOverrideView {
    g::CheckOverrideView {
        why: text(&body.why),
        reasons: list(&body.reasons, |reason| text(reason)),
        until: text(&body.until),
        lead: body.lead,
    }
}

pub(super) fn due(due: &screen::Due) -> g::DueView {
    g::DueView {
        more: i32::try_from(due.lines.len().saturating_sub(DUE_MOST)).unwrap_or(i32::MAX),
        lines: list(due.lines.get(..DUE_MOST).unwrap_or(&due.lines), card_views::due_line),
        sets: list(due.sets.get(..SETS_MOST).unwrap_or(&due.sets), |set| g::SetLine {
            mower: text(&set.mower),
            text: text(&set.text),
            matched: set.matched,
        }),
    }
}
