//! What a wheel gives: the metal it removes for each infeed, learnt from its own grinds, for the next plan.

use crate::calc::limits;
use crate::calc::yields::{Grind, YieldInput, infeed_yield};
use crate::quantity::Ratio;
use crate::record::Work;
use serde::{Deserialize, Serialize};

/// Grinds from which on a yield is planned with: fewer, and one misread tape decides it (common practice).
pub const ENOUGH: usize = 5;
/// The last so many are looked at: a wheel glazes and is dressed.
const LOOKED_BACK: usize = 20;

/// A learnt yield.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WheelYield {
    /// Diameter removed for each infeed.
    pub removed_per_infeed: Ratio,
    /// From so many grinds.
    pub grinds: u32,
}

/// What the mounting of a wheel on a grinder has given over its last grinds; none below [`ENOUGH`] of them, or when
/// they say what no setup does.
pub fn wheel_yield<'work>(
    works: impl Iterator<Item = &'work Work>,
    grinder: &str,
    mounting: &str,
) -> Option<WheelYield> {
    let mut dated: Vec<_> = works
        .filter_map(|work| {
            let lesson = work.lesson.as_deref()?;
            let here = lesson.grinder == grinder && lesson.wheel.as_deref() == Some(mounting);
            let grind = Grind { infeed: lesson.infeed?, removed: lesson.removed? };
            here.then_some(((work.date, &work.visit), grind))
        })
        .collect();
    dated.sort_by_key(|(when, _)| *when);
    let from = dated.len().saturating_sub(LOOKED_BACK);
    let grinds: Vec<Grind> = dated[from..].iter().map(|(_, grind)| *grind).collect();
    if grinds.len() < ENOUGH {
        return None;
    }
    let count = u32::try_from(grinds.len()).unwrap_or(u32::MAX);
    let found = infeed_yield(&YieldInput { grinds, wanted_removal: None }).ok()?.removed_per_infeed;
    limits::YIELD.check("yield", found).ok()?;
    Some(WheelYield { removed_per_infeed: found, grinds: count })
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
    use super::*;
    use crate::bench::DialKind;
    use crate::outlook::sample::{inch, unit_with};
    use crate::quantity::Length;
    use crate::record::{Lesson, Unit};
    use jiff::civil::date;

    fn unit(grinds: &[(f64, f64, &str)]) -> Unit {
        let days: Vec<_> = (1..=grinds.len()).map(|day| (date(2031, 3, day as i8), "5.000")).collect();
        let mut unit = unit_with(&days);
        for (work, (infeed, removed, wheel)) in unit.history.iter_mut().zip(grinds) {
            work.lesson = Some(Box::new(Lesson {
                grinder: "Bench 1".to_owned(),
                dial: DialKind::Diameter,
                dial_graduation: inch("0.001"),
                tape: String::new(),
                tape_graduation: inch("0.001"),
                wheel: Some((*wheel).to_owned()),
                infeed: Some(Length::from_mm(*infeed)),
                removed: Some(Length::from_mm(*removed)),
                touches: Vec::new(),
                tilt: None,
                misclosure: None,
                misclosure_u95: None,
            }));
        }
        unit
    }

    /// Least squares through the origin (handbook, section 3, `yield`): Σ infeed·removed / Σ infeed².
    #[test]
    fn enough_grinds_of_one_mounting_tell_its_yield() {
        let grinds = [(0.5, 0.45, "W-7"); 5];
        let found = wheel_yield(unit(&grinds).history.iter(), "Bench 1", "W-7").unwrap();
        assert!((found.removed_per_infeed.value() - 0.9).abs() < 1e-12);
        assert_eq!(found.grinds, 5);
        // Neither a fresh mounting, nor another grinder, nor too few.
        assert_eq!(wheel_yield(unit(&grinds).history.iter(), "Bench 1", "W-8"), None);
        assert_eq!(wheel_yield(unit(&grinds).history.iter(), "Bench 2", "W-7"), None);
        assert_eq!(wheel_yield(unit(&grinds[..4]).history.iter(), "Bench 1", "W-7"), None);
    }

    #[test]
    fn what_no_setup_does_is_not_planned_with() {
        let nothing = [(0.5, 0.001, "W-7"); 6];
        assert_eq!(wheel_yield(unit(&nothing).history.iter(), "Bench 1", "W-7"), None);
    }

    #[test]
    fn only_the_last_grinds_count() {
        let mut grinds = vec![(0.5, 0.25, "W-7"); 10];
        grinds.extend([(0.5, 0.45, "W-7"); 20]);
        let found = wheel_yield(unit(&grinds).history.iter(), "Bench 1", "W-7").unwrap();
        assert!((found.removed_per_infeed.value() - 0.9).abs() < 1e-12);
    }
}
