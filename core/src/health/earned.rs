//! Earned repeatabilities: what Front and Prove had to assume, from what the bench did since.
//!
//! Two sources, both with the graduations taken out, since those are counted beside them:
//!
//! - **Repeated touches.** Each reading of one round has a zero of its own, so its variance is 2·(s² + q²/12) (JCGM
//!   100:2008, 5.1.2 and 4.3.7). Pooled over visits: Σ(R − R̄)² on Σ(n − 1) degrees of freedom (JCGM 100:2008, 4.2.4).
//! - **Closures.** Misclosure is zero − other + 2·tilt, with tilt = (R − target)/k, so its variance is
//!   4·(s_tape² + q_tape²/12) + (4/k²)·(2·s²/n + 2·q²/12): two tapings of two ends and the dial. Its scatter about its
//!   mean, on n − 1 degrees of freedom, gives whichever of the two repeatabilities is not known yet; the mean is left
//!   out because a constant misclosure is the rails' fault, not the hand's.
//!
//! A sum of squares on ν degrees of freedom has a relative standard uncertainty of √(2/ν), and the standard deviation
//! from it about 1/√(2ν) (JCGM 100:2008, E.4.3, Table E.1, from memory: 16 % for twenty). What is left after a known
//! part was taken out has fewer: ν·(left/whole)² (JCGM 100:2008, G.4.1, Welch–Satterthwaite, from memory).

use super::closure::{Closure, Sign, charted};
use crate::quantity::Length;
use crate::reading::Reading;
use serde::{Deserialize, Serialize};

/// Closures, or degrees of freedom of repeated touches, from which on they replace what was assumed.
pub const ENOUGH: u32 = 20;
/// Below so many degrees of freedom, what is left beside the graduations is hidden by them.
const LEFT_LEAST: f64 = 5.0;
/// Looked back over, newest first: repeatability belongs to the hands and tools of today.
const LOOKED_BACK: usize = 100;

/// Where a repeatability comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub enum Source {
    /// The configuration; nothing was looked at yet.
    #[default]
    Assumed,
    /// The configuration, because too little was done.
    TooFew {
        /// So many closures there are.
        closures: u32,
        /// So many it takes.
        needed: u32,
    },
    /// The configuration, because the graduations explain all the scatter there is.
    Hidden {
        /// Of so many closures.
        closures: u32,
    },
    /// The scatter of closures.
    Closures {
        /// Of so many.
        closures: u32,
        /// What is left of their degrees of freedom, whole.
        degrees_of_freedom: u32,
        /// Whether all are of the operator at the bench.
        own: bool,
    },
    /// The scatter of touches repeated within a visit.
    Touches {
        /// In so many visits.
        visits: u32,
        /// What is left of their degrees of freedom, whole.
        degrees_of_freedom: u32,
        /// Whether all are of the operator at the bench.
        own: bool,
    },
}

/// A standard deviation and how well it is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Estimate {
    /// The standard deviation.
    pub sd: Length,
    /// Its effective degrees of freedom.
    pub degrees_of_freedom: f64,
    /// Visits it comes from.
    pub visits: u32,
}

/// What the bench has earned.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Earned {
    /// Standard deviation of a touch, in dial units; none while what is assumed stands.
    pub touch_sd: Option<Length>,
    /// Where it comes from.
    pub touch_source: Source,
    /// Standard deviation of a tape reading beside its graduation.
    pub tape_sd: Option<Length>,
    /// Where it comes from.
    pub tape_source: Source,
}

/// What closures of one grinder, oldest first, have earned for an operator: their own touches where they made
/// enough, the bench's otherwise. The tape's repeatability can be told from a touch's only where repeated touches told
/// that one; otherwise all scatter counts as the touch's, which makes Front ask for more, never for less.
pub fn earned(closures: &[Closure], operator: Option<&str>) -> Earned {
    let recent = &closures[closures.len().saturating_sub(LOOKED_BACK)..];
    let all: Vec<&Closure> = recent.iter().collect();
    let own: Vec<&Closure> = all.iter().copied().filter(|one| Some(one.operator.as_str()) == operator).collect();
    let by_touches = from_touches(&own).map(|found| (found, true)).or_else(|| Some((from_touches(&all)?, false)));
    if let Some((touch, own)) = by_touches {
        let (tape_sd, tape_source) = tape(&all, touch.sd);
        let degrees_of_freedom = touch.degrees_of_freedom as u32;
        let touch_source = Source::Touches { visits: touch.visits, degrees_of_freedom, own };
        return Earned { touch_sd: Some(touch.sd), touch_source, tape_sd, tape_source };
    }
    let (touch_sd, touch_source) = touch(&own, true).unwrap_or_else(|| {
        let closures = count(all.len());
        touch(&all, false).unwrap_or((None, Source::TooFew { closures, needed: ENOUGH }))
    });
    Earned { touch_sd, touch_source, tape_sd: None, tape_source: Source::Assumed }
}

fn touch(closures: &[&Closure], own: bool) -> Option<(Option<Length>, Source)> {
    let scatter = scatter(closures)?;
    Some(match touch_sd(closures, &scatter) {
        Some(found) => {
            let degrees_of_freedom = found.degrees_of_freedom as u32;
            (Some(found.sd), Source::Closures { closures: found.visits, degrees_of_freedom, own })
        }
        None => (None, Source::Hidden { closures: scatter.count }),
    })
}

fn tape(closures: &[&Closure], touch_sd: Length) -> (Option<Length>, Source) {
    let Some(scatter) = scatter(closures) else {
        return (None, Source::TooFew { closures: count(closures.len()), needed: ENOUGH });
    };
    let explained = mean_of(closures, &scatter, |closure| {
        let (graduations, per_touch) = parts(closure);
        graduations + per_touch * touch_sd.mm().powi(2)
    });
    match left(&scatter, explained, 4.0) {
        Some(found) => {
            let degrees_of_freedom = found.degrees_of_freedom as u32;
            (Some(found.sd), Source::Closures { closures: found.visits, degrees_of_freedom, own: false })
        }
        None => (None, Source::Hidden { closures: scatter.count }),
    }
}

fn touch_sd(closures: &[&Closure], scatter: &Scatter) -> Option<Estimate> {
    let explained = mean_of(closures, scatter, |closure| parts(closure).0);
    let per_touch = mean_of(closures, scatter, |closure| parts(closure).1);
    left(scatter, explained, per_touch)
}

/// The repeatability of touches from visits that made several; none below [`ENOUGH`] degrees of freedom, or where the
/// dial's graduation hides it.
pub fn from_touches(closures: &[&Closure]) -> Option<Estimate> {
    let (mut squares, mut explained, mut freedom, mut visits) = (0.0, 0.0, 0.0, 0);
    for closure in closures.iter().filter(|closure| closure.lesson.touches.len() > 1) {
        let readings: Vec<f64> = closure.lesson.touches.iter().map(|reading| reading.length().mm()).collect();
        let of_visit = (readings.len() - 1) as f64;
        squares += squares_about_mean(&readings);
        explained += of_visit * 2.0 * graduation(closure.lesson.dial_graduation);
        freedom += of_visit;
        visits += 1;
    }
    if freedom < f64::from(ENOUGH) {
        return None;
    }
    let scatter = Scatter { variance: squares / freedom, freedom, count: visits, kept: Vec::new() };
    left(&scatter, explained / freedom, 2.0)
}

/// Variance of misclosures about their mean.
struct Scatter {
    variance: f64,
    freedom: f64,
    count: u32,
    /// Which of them were counted.
    kept: Vec<bool>,
}

/// None below [`ENOUGH`]. A closure beyond the chart's limits has a cause of its own (a clamp that slipped) and says
/// nothing about repeatability.
fn scatter(closures: &[&Closure]) -> Option<Scatter> {
    let values: Vec<Length> = closures.iter().map(|closure| closure.misclosure).collect();
    let chart = charted(&values).ok()?;
    let kept: Vec<bool> = chart.points.iter().map(|(_, sign)| *sign != Some(Sign::Outside)).collect();
    let counted: Vec<f64> = values.iter().zip(&kept).filter(|(_, kept)| **kept).map(|(value, _)| value.mm()).collect();
    let number = count(counted.len());
    if number < ENOUGH {
        return None;
    }
    let freedom = f64::from(number - 1);
    Some(Scatter { variance: squares_about_mean(&counted) / freedom, freedom, count: number, kept })
}

/// What is left of a scatter beside its explained part, for one of the `times` that it enters.
fn left(scatter: &Scatter, explained: f64, times: f64) -> Option<Estimate> {
    let left = scatter.variance - explained;
    if left <= 0.0 {
        return None;
    }
    let degrees_of_freedom = scatter.freedom * (left / scatter.variance).powi(2);
    (degrees_of_freedom >= LEFT_LEAST).then(|| Estimate {
        sd: Length::from_mm((left / times).sqrt()),
        degrees_of_freedom,
        visits: scatter.count,
    })
}

/// Of a misclosure's variance: what the graduations make, and how often a touch's variance enters.
fn parts(closure: &Closure) -> (f64, f64) {
    let lesson = &closure.lesson;
    let of_dial = 4.0 / lesson.dial.factor().powi(2);
    let touches = lesson.touches.len().max(1) as f64;
    let graduations = 4.0 * graduation(lesson.tape_graduation) + of_dial * 2.0 * graduation(lesson.dial_graduation);
    (graduations, of_dial * 2.0 / touches)
}

fn mean_of(closures: &[&Closure], scatter: &Scatter, of: impl Fn(&Closure) -> f64) -> f64 {
    let counted = closures.iter().zip(&scatter.kept).filter(|(_, kept)| **kept);
    counted.map(|(closure, _)| of(closure)).sum::<f64>() / f64::from(scatter.count)
}

/// Variance of a reading to the nearest graduation, q²/12.
fn graduation(graduation: Reading) -> f64 {
    graduation.length().mm().powi(2) / 12.0
}

fn squares_about_mean(values: &[f64]) -> f64 {
    let mean = crate::calc::line::mean(values);
    values.iter().map(|value| (value - mean).powi(2)).sum()
}

fn count(length: usize) -> u32 {
    u32::try_from(length).unwrap_or(u32::MAX)
}
