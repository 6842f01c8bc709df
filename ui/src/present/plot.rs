//! Plots over time as fractions of their frame: pure geometry, drawn elsewhere.

use super::figures;
use crate::screen::{LandPlot, Settings, Tick, WearName, WearPlot};
use jiff::ToSpan;
use jiff::civil::Date;
use sparkout_core::calc::land::{LandInput, land as land_after};
use sparkout_core::outlook::forecast::ends_on_limit_basis;
use sparkout_core::outlook::{Forecast, forecast};
use sparkout_core::quantity::Length;
use sparkout_core::reading::{EntryUnit, LengthKind};
use sparkout_core::record::{Unit, UnitType};

/// Grinds that are drawn: more could not be told apart, and would be slow to draw.
const DRAWN_MOST: usize = 60;
/// Above the largest and below the smallest value, so much of their range is left free.
const MARGIN: f64 = 0.09;
/// To the left and the right of the days.
const ASIDE: f64 = 0.02;
/// Above a land's limit its words stand.
const LAND_MARGIN: f64 = 0.4;
/// A forecast is drawn at most so many times as far as the record reaches back.
const AHEAD_MOST: f64 = 3.0;
/// And at least so many days.
const AHEAD_LEAST: f64 = 365.0;
/// Days in a year, as the wear is told.
const DAYS_PER_YEAR: f64 = 365.25;
/// Marks on an axis at most: their words must not touch.
const TICKS_MOST: usize = 5;

/// Days across and lengths down, onto 0 to 1.
#[derive(Debug, Clone, Copy)]
struct Frame {
    from: Date,
    days: f64,
    top_mm: f64,
    bottom_mm: f64,
}

impl Frame {
    fn day(&self, day: Date) -> f64 {
        f64::from((day - self.from).get_days())
    }

    fn x(&self, days: f64) -> f64 {
        days / self.days
    }

    fn y(&self, mm: f64) -> f64 {
        (self.top_mm - mm) / (self.top_mm - self.bottom_mm)
    }

    /// Values beyond the frame stand on its edge.
    fn point(&self, days: f64, mm: f64) -> (f32, f32) {
        (self.x(days).clamp(0.0, 1.0) as f32, self.y(mm).clamp(0.0, 1.0) as f32)
    }
}

/// A straight line of diameter over days since the frame's first.
#[derive(Debug, Clone, Copy)]
struct Line {
    days: f64,
    mm: f64,
    slope: f64,
}

impl Line {
    fn at(&self, days: f64) -> f64 {
        self.mm + self.slope * (days - self.days)
    }

    /// Where it meets a diameter; `None` when it does not fall.
    fn meets(&self, mm: f64) -> Option<f64> {
        (self.slope < 0.0).then(|| self.days + (mm - self.mm) / self.slope)
    }
}

/// Evenly thinned, with the newest always kept.
fn drawn<T: Copy>(all: &[T]) -> Vec<T> {
    let step = all.len().div_ceil(DRAWN_MOST).max(1);
    let mut kept: Vec<T> = all.iter().rev().step_by(step).copied().collect();
    kept.reverse();
    kept
}

/// Diameter over time with its forecast, from a unit's card.
pub(super) fn wear(unit: &Unit, unit_type: &UnitType, today: Date, settings: Settings) -> WearPlot {
    let points: Vec<(Date, Length, Length)> = unit
        .history
        .iter()
        .filter_map(|work| ends_on_limit_basis(work, unit_type).ok().map(|ends| (work.date, ends.lead, ends.trail)))
        .collect();
    let limit = unit_type.wear_limit.length();
    let shown = WearPlot { limit: figures::with_unit(limit, LengthKind::Size, settings), ..WearPlot::default() };
    let (Some((first, ..)), Some((_, lead, trail))) = (points.first(), points.last()) else { return shown };
    let newest = Length::from_mm(lead.mm().min(trail.mm()));
    let forecast = forecast(unit, unit_type).ok();
    let frame = wear_frame(*first, &points, limit, forecast.as_ref(), today);
    let at = |day: &Date, length: &Length| frame.point(frame.day(*day), length.mm());
    let mut plot = WearPlot {
        how: how(newest, limit, forecast.as_ref()),
        leads: drawn(&points).iter().map(|(day, lead, _)| at(day, lead)).collect(),
        trails: drawn(&points).iter().map(|(day, _, trail)| at(day, trail)).collect(),
        limit_y: frame.y(limit.mm()) as f32,
        today_x: frame.x(frame.day(today)).clamp(0.0, 1.0) as f32,
        days: day_ticks(&frame, settings),
        diameters: length_ticks(&frame, settings),
        newest: figures::with_unit(newest, LengthKind::Size, settings),
        ..shown
    };
    if let Some(forecast) = &forecast {
        lines(&mut plot, forecast, &frame, settings);
    }
    plot
}

fn how(newest: Length, limit: Length, forecast: Option<&Forecast>) -> WearName {
    match forecast {
        _ if newest <= limit => WearName::WornOut,
        None => WearName::TooFew,
        Some(forecast) if forecast.wear.at_limit.is_none() => WearName::NotWearing,
        Some(_) => WearName::Wearing,
    }
}

fn wear_frame(
    first: Date,
    points: &[(Date, Length, Length)],
    limit: Length,
    forecast: Option<&Forecast>,
    today: Date,
) -> Frame {
    let days = |day: Date| f64::from((day - first).get_days());
    let newest = points.iter().map(|(day, ..)| days(*day)).fold(0.0, f64::max);
    let now = days(today).max(newest).max(1.0);
    let wear = forecast.map(|forecast| &forecast.wear);
    let wanted = wear.and_then(|wear| wear.latest.or(wear.at_limit)).map_or(now, days);
    let end = wanted.min(now + (now * AHEAD_MOST).max(AHEAD_LEAST)).max(now);
    let values = points.iter().flat_map(|(_, lead, trail)| [lead.mm(), trail.mm()]).chain([limit.mm()]);
    let (least, most) = values.fold((f64::MAX, f64::MIN), |(least, most), mm| (least.min(mm), most.max(mm)));
    let margin = ((most - least) * MARGIN).max(0.1);
    // So that no mark is cut by the frame.
    let aside = (end * ASIDE).ceil();
    Frame {
        from: first.checked_sub((aside as i64).days()).unwrap_or(first),
        days: end + 2.0 * aside,
        top_mm: most + margin,
        bottom_mm: least - margin,
    }
}

/// The line, its continuation and the interval round it.
fn lines(plot: &mut WearPlot, forecast: &Forecast, frame: &Frame, settings: Settings) {
    let mut days: Vec<f64> = forecast.history.iter().map(|point| frame.day(point.date)).collect();
    days.sort_by(f64::total_cmp);
    let middle = f64::midpoint(days[(days.len() - 1) / 2], days[days.len() / 2]);
    let slope = forecast.wear.per_year.mm() / DAYS_PER_YEAR;
    let first = frame.day(forecast.history[0].date);
    let line = Line { days: middle, mm: forecast.on(forecast.history[0].date).mm() + slope * (middle - first), slope };
    let newest = frame.day(forecast.newest().date);
    plot.line = vec![frame.point(first, line.at(first)), frame.point(newest, line.at(newest))];
    if plot.how != WearName::Wearing {
        return;
    }
    let limit = forecast.wear_limit.mm();
    let end = line.meets(limit).unwrap_or(frame.days).clamp(newest, frame.days);
    plot.forecast = vec![frame.point(newest, line.at(newest)), frame.point(end, line.at(end))];
    let day = |day: Option<Date>| day.map_or_else(String::new, |day| figures::date(day, settings));
    plot.per_year = figures::with_unit(forecast.wear.per_year, LengthKind::Size, settings);
    plot.at_limit = day(forecast.wear.at_limit);
    plot.earliest = day(forecast.wear.earliest);
    plot.latest = day(forecast.wear.latest);
    if let Some(earliest) = forecast.wear.earliest {
        let through = |day: Date| (limit - line.mm) / (frame.day(day) - line.days);
        let steep = Line { slope: through(earliest).min(slope), ..line };
        // Without a latest day the flattest line may not fall at all: the band stays open above.
        let flat = Line { slope: forecast.wear.latest.map_or(0.0, through).max(slope), ..line };
        plot.band = band(&steep, &flat, newest, limit, frame);
    }
}

/// Between the steepest and the flattest line, down to the limit: along the one and back along the other.
fn band(steep: &Line, flat: &Line, newest: f64, limit: f64, frame: &Frame) -> Vec<(f32, f32)> {
    let ends = |line: &Line| line.meets(limit).unwrap_or(frame.days).clamp(newest, frame.days);
    let (low, high) = (ends(steep), ends(flat));
    let at = |line: &Line, days: f64| frame.point(days, line.at(days).max(limit));
    vec![
        at(flat, newest),
        at(flat, high),
        // Where both reach the limit this runs along it; at the frame's edge it runs down it.
        frame.point(high, steep.at(high).max(limit)),
        at(steep, low),
        at(steep, newest),
    ]
}

/// Land over time, and what is left of it.
pub(super) fn land(unit: &Unit, unit_type: &UnitType, usual_removal: Length, settings: Settings) -> LandPlot {
    let limit = unit_type.land_limit.length();
    let lands: Vec<(Date, Length)> =
        unit.history.iter().filter_map(|work| Some((work.date, work.land?.length()))).collect();
    let shown = LandPlot { limit: figures::with_unit(limit, LengthKind::Size, settings), ..LandPlot::default() };
    let (Some((first, _)), Some((last, newest))) = (lands.first().copied(), lands.last().copied()) else {
        return shown;
    };
    let most = lands.iter().map(|(_, land)| land.mm()).fold(limit.mm(), f64::max);
    let days = f64::from((last - first).get_days()).max(1.0);
    let aside = (days * 2.0 * ASIDE).ceil();
    let frame = Frame {
        from: first.checked_sub((aside as i64).days()).unwrap_or(first),
        days: days + 2.0 * aside,
        top_mm: most * (1.0 + LAND_MARGIN),
        bottom_mm: 0.0,
    };
    let end = |day: Date, at: f32| Tick { at, text: figures::month(day, settings) };
    let left = unit.history.last().and_then(|work| {
        let input = LandInput {
            land: newest,
            diameter: work.smallest().length(),
            removed: usual_removal,
            relief_angle: unit_type.relief_angle,
            land_limit: Some(limit),
        };
        land_after(&input).ok()?.removals_to_limit
    });
    LandPlot {
        points: drawn(&lands).iter().map(|(day, land)| frame.point(frame.day(*day), land.mm())).collect(),
        limit_y: frame.y(limit.mm()) as f32,
        days: if first == last { vec![end(first, 0.0)] } else { vec![end(first, 0.0), end(last, 1.0)] },
        widths: length_ticks(&frame, settings),
        newest: figures::with_unit(newest, LengthKind::Size, settings),
        grinds_to_relief: left.map_or_else(String::new, |left| format!("{:.0}", left.value().floor())),
        due: newest > limit,
        ..shown
    }
}

/// A round step that leaves at most [`TICKS_MOST`] marks: 1, 2 or 5 of a power of ten.
fn round_step(range: f64) -> f64 {
    let rough = range / TICKS_MOST as f64;
    let power = 10.0_f64.powf(rough.log10().floor());
    [1.0, 2.0, 5.0, 10.0].into_iter().map(|step| step * power).find(|step| *step >= rough).unwrap_or(rough)
}

fn length_ticks(frame: &Frame, settings: Settings) -> Vec<Tick> {
    let (mm_per, sign_decimals) = match settings.units.entry_unit(LengthKind::Size) {
        EntryUnit::Inch => (25.4, 3),
        EntryUnit::Thou => (0.0254, 1),
        EntryUnit::Millimetre => (1.0, 2),
    };
    let (low, high) = (frame.bottom_mm / mm_per, frame.top_mm / mm_per);
    let step = round_step(high - low);
    if step.is_nan() || step <= 0.0 {
        return Vec::new();
    }
    let decimals = (-step.log10().floor()).clamp(0.0, f64::from(sign_decimals)) as usize;
    let first = (low / step).ceil() as i64;
    (first..)
        .map(|index| index as f64 * step)
        .take_while(|value| *value <= high)
        .take(TICKS_MOST * 2)
        .map(|value| Tick { at: frame.y(value * mm_per) as f32, text: figures::number(value, decimals, settings) })
        .collect()
}

/// Turns of the year, or of its quarters when the plot is short.
fn day_ticks(frame: &Frame, settings: Settings) -> Vec<Tick> {
    let last = frame.from.checked_add((frame.days as i64).days()).unwrap_or(frame.from);
    let years = i32::from(last.year()) - i32::from(frame.from.year());
    let by_year = years >= 2;
    let every = if by_year { (years as usize).div_ceil(TICKS_MOST).max(1) } else { 1 };
    let months: &[i8] = if by_year { &[1] } else { &[1, 4, 7, 10] };
    let days = (frame.from.year()..=last.year()).flat_map(|year| {
        let months = months.iter();
        months.filter_map(move |month| Date::new(year, *month, 1).ok())
    });
    let inside: Vec<Date> = days.filter(|day| *day >= frame.from && *day <= last).step_by(every).collect();
    // Words as wide as a fifth of the frame would touch.
    let thin = inside.len().div_ceil(TICKS_MOST).max(1);
    inside
        .into_iter()
        .step_by(thin)
        .map(|day| Tick {
            at: frame.x(frame.day(day)) as f32,
            text: if by_year { day.year().to_string() } else { figures::month(day, settings) },
        })
        .collect()
}

#[cfg(test)]
mod tests;
