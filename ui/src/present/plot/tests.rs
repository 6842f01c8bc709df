#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::float_cmp)]

use super::*;
use crate::present::sample::{TODAY, history, thou, unit, unit_type, work};
use sparkout_core::reading::Units;
use sparkout_core::record::Work;

fn shown(works: Vec<Work>) -> WearPlot {
    wear(&unit(works), &unit_type(), TODAY, Settings::default())
}

/// Height of a closed outline above and below a place across it.
fn band_at(band: &[(f32, f32)], x: f32) -> (f32, f32) {
    let closed = band.iter().zip(band.iter().cycle().skip(1));
    let crossing = closed.filter_map(|(a, b)| {
        let (low, high) = if a.0 <= b.0 { (a, b) } else { (b, a) };
        let inside = low.0 <= x && x <= high.0 && high.0 - low.0 > 1e-6;
        inside.then(|| low.1 + (high.1 - low.1) * (x - low.0) / (high.0 - low.0))
    });
    crossing.fold((f32::MAX, f32::MIN), |(top, bottom), y| (top.min(y), bottom.max(y)))
}

#[test]
fn every_point_is_inside_the_frame() {
    let plot = shown(history());
    let lists = [&plot.leads, &plot.trails, &plot.line, &plot.forecast, &plot.band];
    for (x, y) in lists.into_iter().flatten() {
        assert!((0.0..=1.0).contains(x) && (0.0..=1.0).contains(y), "{x} {y}");
    }
    let ticks = plot.days.iter().chain(&plot.diameters);
    assert!(ticks.clone().count() >= 5 && ticks.clone().all(|tick| (0.0..=1.0).contains(&tick.at)), "{plot:?}");
    assert!((0.0..=1.0).contains(&plot.today_x) && (0.5..1.0).contains(&plot.limit_y));
}

#[test]
fn later_is_further_right_and_smaller_is_lower() {
    let plot = shown(history());
    assert!(plot.trails.windows(2).all(|pair| pair[0].0 < pair[1].0 && pair[0].1 < pair[1].1), "{:?}", plot.trails);
    assert!(plot.leads.iter().zip(&plot.trails).all(|(lead, trail)| lead.0 == trail.0 && lead.1 <= trail.1));
    assert!(plot.days.windows(2).all(|pair| pair[0].at < pair[1].at));
    // A diameter's mark stands where a grind of that diameter would.
    let mark = plot.diameters.iter().find(|tick| tick.text == "5.0").expect("a round mark");
    let (above, below) = (plot.trails[3], plot.trails[4]);
    assert!(above.1 < mark.at && mark.at < below.1, "5.004, 5.0, 4.990: {above:?} {mark:?} {below:?}");
}

#[test]
fn the_interval_encloses_the_forecast_and_both_end_at_the_limit() {
    let plot = shown(history());
    assert_eq!(plot.how, WearName::Wearing);
    let [from, to] = plot.forecast[..] else { panic!("a straight forecast: {:?}", plot.forecast) };
    for step in 0..=20_u8 {
        let part = f32::from(step) / 20.0;
        let x = from.0 + (to.0 - from.0) * part;
        let y = from.1 + (to.1 - from.1) * part;
        let (top, bottom) = band_at(&plot.band, x);
        assert!(top <= y + 1e-4 && y <= bottom + 1e-4, "at {x}: {top} {y} {bottom}");
    }
    let lowest = plot.band.iter().map(|point| point.1).fold(0.0, f32::max);
    assert!((lowest - plot.limit_y).abs() < 1e-4, "never below the limit");
    assert!(!plot.at_limit.is_empty() && !plot.earliest.is_empty() && !plot.latest.is_empty());
}

#[test]
fn the_line_meets_the_limit_on_the_day_that_is_told() {
    // A hundredth of an inch every fifty days, so that the Theil–Sen line is the line through every point.
    let works: Vec<_> = (0..6_i64)
        .map(|grind| work(TODAY.checked_sub((50 * (5 - grind)).days()).unwrap(), 4560 - 10 * grind, 0, None))
        .collect();
    let plot = shown(works);
    // One hundredth of an inch above the limit after the newest: fifty days.
    assert_eq!(plot.at_limit, figures::date(TODAY.checked_add(50.days()).unwrap(), Settings::default()));
    let end = plot.forecast[1];
    assert!((end.1 - plot.limit_y).abs() < 1e-4, "{end:?} {}", plot.limit_y);
    // 250 days to today, 50 more: five sixths of the way to the end.
    let first = plot.leads[0].0;
    assert!(((plot.today_x - first) / (end.0 - first) - 250.0 / 300.0).abs() < 1e-3);
}

#[test]
fn what_cannot_be_told_is_said_in_words_and_no_line_is_invented() {
    let none = shown(Vec::new());
    assert_eq!((none.how, none.leads.len(), none.limit.as_str()), (WearName::NoRecord, 0, "4.500 in"));
    let one = shown(vec![work(TODAY, 5046, 1, None)]);
    assert_eq!((one.how, one.leads.len(), one.line.len(), one.band.len()), (WearName::TooFew, 1, 0, 0));
    let growing = (0..5_i64).map(|grind| work(TODAY.checked_sub((200 - grind).days()).unwrap(), 5000 + grind, 0, None));
    let growing = shown(growing.collect());
    assert_eq!((growing.how, growing.forecast.len(), growing.band.len()), (WearName::NotWearing, 0, 0));
    assert!(growing.at_limit.is_empty() && growing.per_year.is_empty());
    let worn: Vec<_> = history().into_iter().map(|work| Work { trail: thou(4490), ..work }).collect();
    let worn = shown(worn);
    assert_eq!((worn.how, worn.forecast.len()), (WearName::WornOut, 0));
    // Two grinds make a line, and no interval.
    let two = shown(history().into_iter().take(2).collect());
    assert_eq!((two.how, two.line.len(), two.band.len(), two.earliest.as_str()), (WearName::Wearing, 2, 0, ""));
}

#[test]
fn a_long_history_is_thinned_and_keeps_its_newest() {
    let works: Vec<_> = (0..400_i64)
        .map(|grind| work(TODAY.checked_sub((2000 - 5 * grind).days()).unwrap(), 5400 - grind, 0, None))
        .collect();
    let plot = shown(works);
    assert!(plot.leads.len() <= DRAWN_MOST);
    let newest = plot.trails.last().unwrap();
    assert!(plot.trails.iter().all(|point| point.1 <= newest.1));
}

#[test]
fn axes_speak_the_unit_of_the_person() {
    let metric = Settings { units: Units::Metric, ..Settings::default() };
    let plot = wear(&unit(history()), &unit_type(), TODAY, metric);
    assert!(plot.diameters.iter().all(|tick| (110.0..140.0).contains(&tick.text.parse::<f64>().unwrap())), "{plot:?}");
    assert!(plot.limit.ends_with("mm"));
    let land = land(&unit(history()), &unit_type(), Length::from_inches(0.012), metric);
    assert!(land.limit.ends_with("mm") && land.points.len() == 10 && !land.due);
    let left: u32 = land.grinds_to_relief.parse().unwrap();
    assert!((1..4).contains(&left), "0.058 to 0.083 in at 25° and 0.012 a grind: {left}");
}

#[test]
fn round_steps_leave_few_marks() {
    for range in [0.003, 0.07, 0.61, 1.0, 7.3, 15.0, 99.0] {
        let marks = (range / round_step(range)).floor();
        assert!((1.0..=TICKS_MOST as f64).contains(&marks), "{range}: {marks}");
    }
}
