//! One invented type for each kind of frame that the fleets do not have, on a mower that carries one of each.

use super::shop::{eccentric, fairway_type, inch};
use sparkout_core::bench::FrameKind;
use sparkout_core::record::{AdjusterPair, TypeSetup, UnitType};

/// The mower of odd ones.
pub const MOWER: &str = "Oddments 4";

/// Tag, type, position and diameter when new.
pub const UNITS: [(&str, &str, u32, &str); 4] = [
    ("O-401", "Rough type D", 1, "5.150"),
    ("O-402", "Trim type E", 2, "5.150"),
    ("O-403", "Greens type F", 3, "5.150"),
    ("O-404", "Walking type G", 4, "5.150"),
];

/// Their types, each as the fairway type but for its frame and what belongs to it.
pub fn types() -> anyhow::Result<Vec<UnitType>> {
    let named = |name: &str, frame| fairway_type().map(|fairway| UnitType { name: name.to_owned(), frame, ..fairway });
    let side_plates = UnitType {
        rear: AdjusterPair { left: eccentric("-1")?, right: eccentric("23")? },
        setup: TypeSetup { square_limit: Some(inch("0.005")?), ..TypeSetup::default() },
        ..named("Rough type D", FrameKind::SidePlates)?
    };
    let welded = UnitType {
        setup: TypeSetup { frame_limit: Some(inch("0.010")?), ..TypeSetup::default() },
        ..named("Trim type E", FrameKind::Welded)?
    };
    let fixed_head = UnitType {
        // From the drum: the reel, and the front roller with its jack.
        reel_x: inch("6")?,
        wheelbase: inch("10")?,
        setup: TypeSetup { edge_x: Some(inch("6.5")?), height_of_cut: Some(inch("0.125")?), ..TypeSetup::default() },
        ..named("Walking type G", FrameKind::FixedHead)?
    };
    Ok(vec![side_plates, welded, named("Greens type F", FrameKind::FloatingReel)?, fixed_head])
}
