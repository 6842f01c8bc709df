//! Root of a function that changes sign once between two places.

/// Halvings after which a bracket of any finite size has shrunk to neighbouring floating-point numbers.
pub(crate) const STEPS_MOST: u32 = 200;

/// Where `f` crosses zero between `low` and `high`, by bisection: sure, and quick enough at a few dozen steps.
///
/// Stops when the bracket is at most `tolerance` wide, or when no number lies between its ends. `None` when the
/// signs at the ends are the same or something is not a number, and after [`STEPS_MOST`] halvings.
pub(crate) fn bisect(mut low: f64, mut high: f64, tolerance: f64, f: impl Fn(f64) -> f64) -> Option<f64> {
    let (at_low, at_high) = (f(low), f(high));
    if at_low == 0.0 {
        return Some(low);
    }
    if at_high == 0.0 {
        return Some(high);
    }
    if !at_low.is_finite() || !at_high.is_finite() || (at_low < 0.0) == (at_high < 0.0) {
        return None;
    }
    for _ in 0..STEPS_MOST {
        let middle = low + (high - low) / 2.0;
        if high - low <= tolerance || middle <= low || middle >= high {
            return Some(middle);
        }
        let at_middle = f(middle);
        if at_middle.is_nan() {
            return None;
        }
        if (at_middle < 0.0) == (at_low < 0.0) {
            low = middle;
        } else {
            high = middle;
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn finds_what_is_bracketed_and_refuses_what_is_not() {
        assert!((bisect(1.0, 2.0, 1e-13, |x| x * x - 2.0).unwrap_or(0.0) - 2.0_f64.sqrt()).abs() < 1e-12);
        assert!((bisect(0.0, 4.0, 0.0, |x| x.cos()).unwrap_or(0.0) - std::f64::consts::FRAC_PI_2).abs() < 1e-12);
        assert_eq!(bisect(2.0, 3.0, 1e-9, |x| x * x - 2.0), None);
        assert_eq!(bisect(0.0, 1.0, 1e-9, |_| f64::NAN), None);
        assert_eq!(bisect(-1.0, 1.0, 1e-9, |x| if x == 0.0 { f64::NAN } else { x }), None);
    }
}
