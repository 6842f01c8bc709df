//! Straight lines through points, and middles of lists, kept stable for values that are large beside their spread.

/// The mean, summed about the first value.
pub(crate) fn mean(values: &[f64]) -> f64 {
    let first = values.first().copied().unwrap_or(0.0);
    first + values.iter().map(|value| value - first).sum::<f64>() / values.len() as f64
}

/// The middle value, or the mean of the middle two.
pub(crate) fn median(values: &[f64]) -> f64 {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    let half = sorted.len() / 2;
    if sorted.len() % 2 == 1 { sorted[half] } else { f64::midpoint(sorted[half - 1], sorted[half]) }
}

/// Intercept and slope of the least-squares line through (x, y); no number when all x are the same.
pub(crate) fn least_squares(points: &[(f64, f64)]) -> (f64, f64) {
    let (xs, ys): (Vec<f64>, Vec<f64>) = points.iter().copied().unzip();
    let (x_mean, y_mean) = (mean(&xs), mean(&ys));
    let products = points.iter().map(|(x, y)| (x - x_mean) * (y - y_mean)).sum::<f64>();
    let squares = points.iter().map(|(x, _)| (x - x_mean).powi(2)).sum::<f64>();
    let slope = products / squares;
    (y_mean - slope * x_mean, slope)
}

/// A line with the slopes between which the true one lies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct TheilSen {
    /// Median of the slopes of all pairs.
    pub slope: f64,
    /// The lower end of the slope's interval.
    pub low: f64,
    /// The upper end.
    pub high: f64,
    /// The line's values there: it passes through the medians of both.
    pub x_median: f64,
    /// See [`TheilSen::x_median`].
    pub y_median: f64,
}

/// Median of the slopes between all pairs with different x, and the interval for the normal quantile `z` (Sen, J.
/// Am. Stat. Assoc. 63, 1379, 1968). `None` when all x are the same.
pub(crate) fn theil_sen(points: &[(f64, f64)], z: f64) -> Option<TheilSen> {
    let mut slopes = Vec::new();
    for (at, (x1, y1)) in points.iter().enumerate() {
        for (x2, y2) in &points[at + 1..] {
            if (x2 - x1).abs() > 0.0 {
                slopes.push((y2 - y1) / (x2 - x1));
            }
        }
    }
    if slopes.is_empty() {
        return None;
    }
    slopes.sort_by(f64::total_cmp);
    let (xs, ys): (Vec<f64>, Vec<f64>) = points.iter().copied().unzip();
    let of_ties = |count: f64| count * (count - 1.0) * (2.0 * count + 5.0);
    let tied = |values: &[f64]| runs(values).into_iter().map(of_ties).sum::<f64>();
    let sigma = ((of_ties(points.len() as f64) - tied(&xs) - tied(&ys)) / 18.0).max(0.0).sqrt();
    let count = slopes.len() as f64;
    let last = slopes.len() - 1;
    let upper = ((count + z * sigma) / 2.0).round_ties_even() as usize;
    let lower = ((count - z * sigma) / 2.0).round_ties_even();
    Some(TheilSen {
        slope: median(&slopes),
        low: slopes[(lower.max(1.0) as usize - 1).min(last)],
        high: slopes[upper.min(last)],
        x_median: median(&xs),
        y_median: median(&ys),
    })
}

/// How often each repeated value stands.
fn runs(values: &[f64]) -> Vec<f64> {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    sorted
        .chunk_by(|one, other| one.total_cmp(other).is_eq())
        .filter(|run| run.len() > 1)
        .map(|run| run.len() as f64)
        .collect()
}
