//! Plots: their data as the screens take it, and their outlines as path commands.

use super::draw::{Pen, path};
use super::generated as g;
use super::generated::{PlotDraw, PlotPoint};
use super::views::list;
use crate::screen;
use slint::{Model, ModelRc, SharedString};
use std::f32::consts::TAU;

/// Corners of a disc: at the size of a plot's marks no eye counts them.
const DISC_CORNERS: u16 = 10;

fn points(points: &[(f32, f32)]) -> ModelRc<PlotPoint> {
    list(points, |(x, y)| PlotPoint { x: *x, y: *y })
}

fn ticks(ticks: &[screen::Tick]) -> ModelRc<g::PlotTick> {
    list(ticks, |tick| g::PlotTick { at: tick.at, text: tick.text.as_str().into() })
}

pub(super) fn wear(plot: &screen::WearPlot) -> g::WearPlotView {
    g::WearPlotView {
        how: plot.how.into(),
        leads: points(&plot.leads),
        trails: points(&plot.trails),
        line: points(&plot.line),
        forecast: points(&plot.forecast),
        band: points(&plot.band),
        limit_y: plot.limit_y,
        today_x: plot.today_x,
        days: ticks(&plot.days),
        diameters: ticks(&plot.diameters),
        limit: plot.limit.as_str().into(),
        newest: plot.newest.as_str().into(),
        per_year: plot.per_year.as_str().into(),
        at_limit: plot.at_limit.as_str().into(),
        earliest: plot.earliest.as_str().into(),
        latest: plot.latest.as_str().into(),
    }
}

pub(super) fn land(plot: &screen::LandPlot) -> g::LandPlotView {
    g::LandPlotView {
        points: points(&plot.points),
        limit_y: plot.limit_y,
        days: ticks(&plot.days),
        widths: ticks(&plot.widths),
        limit: plot.limit.as_str().into(),
        newest: plot.newest.as_str().into(),
        grinds_to_relief: plot.grinds_to_relief.as_str().into(),
        due: plot.due,
    }
}

/// The corners of a mark round each point.
fn marks(points: &ModelRc<PlotPoint>, width: f32, height: f32, corners: &[(f32, f32)]) -> SharedString {
    path(|pen| {
        for point in points.iter() {
            let (x, y) = (point.x * width, point.y * height);
            let outline: Vec<_> = corners.iter().map(|(dx, dy)| (x + dx, y + dy)).collect();
            pen.polygon(&outline);
        }
    })
}

fn discs(points: &ModelRc<PlotPoint>, width: f32, height: f32, radius: f32) -> SharedString {
    let corner = |index| {
        let angle = TAU * f32::from(index) / f32::from(DISC_CORNERS);
        (radius * angle.cos(), radius * angle.sin())
    };
    marks(points, width, height, &(0..DISC_CORNERS).map(corner).collect::<Vec<_>>())
}

fn diamonds(points: &ModelRc<PlotPoint>, width: f32, height: f32, radius: f32) -> SharedString {
    marks(points, width, height, &[(0.0, -radius), (radius, 0.0), (0.0, radius), (-radius, 0.0)])
}

fn squares(points: &ModelRc<PlotPoint>, width: f32, height: f32, radius: f32) -> SharedString {
    marks(points, width, height, &[(-radius, -radius), (radius, -radius), (radius, radius), (-radius, radius)])
}

fn trace(points: &ModelRc<PlotPoint>, width: f32, height: f32, closed: bool) -> SharedString {
    path(|pen| {
        for (index, point) in points.iter().enumerate() {
            pen.to(if index == 0 { 'M' } else { 'L' }, &[(point.x * width, point.y * height)]);
        }
        if closed && points.row_count() > 0 {
            pen.to('Z', &[]);
        }
    })
}

fn dashed_trace(points: &ModelRc<PlotPoint>, width: f32, height: f32, pattern: &[f32]) -> SharedString {
    let corners: Vec<_> = points.iter().map(|point| (point.x * width, point.y * height)).collect();
    path(|pen: &mut Pen| {
        for pair in corners.windows(2) {
            pen.dashes(pair[0], pair[1], pattern);
        }
    })
}

/// Answers the pure callbacks of `plot-draw.slint`.
pub(super) fn connect(draw: &PlotDraw<'_>) {
    draw.on_trace(|points, width, height, closed| trace(&points, width, height, closed));
    draw.on_dashed_trace(|points, width, height, dash, gap| dashed_trace(&points, width, height, &[dash, gap]));
    draw.on_discs(|points, width, height, radius| discs(&points, width, height, radius));
    draw.on_diamonds(|points, width, height, radius| diamonds(&points, width, height, radius));
    draw.on_squares(|points, width, height, radius| squares(&points, width, height, radius));
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_mark_is_drawn_round_each_point_and_a_trace_through_them() {
        let two = points(&[(0.0, 0.5), (1.0, 0.0)]);
        assert_eq!(diamonds(&two, 100.0, 50.0, 5.0).matches('M').count(), 2);
        assert!(diamonds(&two, 100.0, 50.0, 5.0).starts_with("M 0.00 20.00 L 5.00 25.00"));
        assert_eq!(trace(&two, 100.0, 50.0, false), "M 0.00 25.00 L 100.00 0.00 ");
        assert!(trace(&two, 100.0, 50.0, true).ends_with("Z "));
        assert_eq!(trace(&points(&[]), 100.0, 50.0, true), "");
        assert_eq!(discs(&two, 100.0, 50.0, 5.0).matches('L').count(), 2);
    }
}
