//! Matched sets: whether the reels of one mower are of one size, so that they cut alike.

use super::forecast::smallest_on_limit_basis;
use crate::calc::error::CalcError;
use crate::calc::matched::{Matched, Unit as Sized, matched};
use crate::quantity::Length;
use crate::record::{Unit, UnitStatus, UnitType};
use std::collections::BTreeMap;

/// The units on one mower whose size is known.
#[derive(Debug, Clone, PartialEq)]
pub struct MowerSet {
    /// The mower's name.
    pub mower: String,
    /// Tags and diameters, by position.
    pub units: Vec<Sized>,
    /// How they match; the calculation's refusal where they cannot be compared.
    pub matched: Result<Matched, CalcError>,
}

/// The sets by mower: units in service or ready that have work on record. One unit alone makes no set.
pub fn mower_sets<'a>(units: impl Iterator<Item = (&'a Unit, &'a UnitType)>, tolerance: Length) -> Vec<MowerSet> {
    let mut mowers: BTreeMap<&str, Vec<(u32, Sized)>> = BTreeMap::new();
    for (unit, unit_type) in units.filter(|(unit, _)| on_mower(unit)) {
        let Some(last) = unit.history.last() else { continue };
        let Ok(diameter) = smallest_on_limit_basis(last, unit_type) else { continue };
        mowers.entry(&unit.mower).or_default().push((unit.position, Sized { tag: unit.tag.clone(), diameter }));
    }
    mowers
        .into_iter()
        .filter(|(_, list)| list.len() > 1)
        .map(|(mower, mut list)| {
            list.sort_by(|one, other| (one.0, &one.1.tag).cmp(&(other.0, &other.1.tag)));
            let units: Vec<Sized> = list.into_iter().map(|(_, unit)| unit).collect();
            let matched = matched(&units, tolerance);
            MowerSet { mower: mower.to_owned(), units, matched }
        })
        .collect()
}

fn on_mower(unit: &Unit) -> bool {
    matches!(unit.status, UnitStatus::InService | UnitStatus::Ready)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
    use super::*;
    use crate::outlook::sample::{inch, unit_type, unit_with};
    use jiff::civil::date;

    fn unit(tag: &str, mower: &str, position: u32, diameter: &str) -> Unit {
        let history = [(date(2031, 3, 1), diameter)];
        Unit { tag: tag.to_owned(), mower: mower.to_owned(), position, ..unit_with(&history) }
    }

    #[test]
    fn the_odd_one_of_a_mower_is_named_and_what_all_can_be_brought_to() {
        let units = [
            unit("A3", "A", 3, "4.900"),
            unit("A1", "A", 1, "4.990"),
            unit("A2", "A", 2, "4.980"),
            unit("B1", "B", 1, "4.700"),
        ];
        let unit_type = unit_type();
        let sets = mower_sets(units.iter().map(|unit| (unit, &unit_type)), inch("0.030").length());
        assert_eq!(sets.len(), 1, "one unit alone makes no set");
        let tags: Vec<&str> = sets[0].units.iter().map(|unit| unit.tag.as_str()).collect();
        assert_eq!((sets[0].mower.as_str(), tags), ("A", vec!["A1", "A2", "A3"]));
        let matched = sets[0].matched.as_ref().unwrap();
        assert_eq!(matched.odd_ones, ["A3"]);
        assert_eq!(matched.bring_to, inch("4.900").length());
        assert!((matched.spread.inches() - 0.090).abs() < 1e-12);
    }
}
