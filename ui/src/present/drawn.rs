//! Numbers of the pictures of Relief, Knife, Height and Plate: fractions of the most that is drawn.

use super::Beside;
use crate::screen::{HeightDrawn, KnifeDrawn, PlateDrawn, ReliefDrawn};
use sparkout_core::angle::AngleReading;
use sparkout_core::calc::uncertainty::Decision;
use sparkout_core::quantity::{Angle, Length};
use sparkout_core::reading::Reading;
use sparkout_core::visit::event::Place;
use sparkout_core::visit::{Stage, Visit};

/// An error of the height of cut of this much fills its picture.
const HEIGHT_MOST: Length = Length::from_inches(0.015);
/// What that picture multiplies errors by, roughly, at its scale.
const HEIGHT_EXAGGERATION: &str = "80";
/// A difference over the plate of this much fills its picture.
const PLATE_MOST: Length = Length::from_inches(0.005);
/// What that picture multiplies differences by, roughly, at its scale.
const PLATE_EXAGGERATION: &str = "150";
/// The picture of a bedknife has room for so many times the least thickness; for more when it is thicker.
const THICKEST_OF_LEAST: f64 = 2.5;

/// Part of a whole, signed, no more than the whole.
fn part(value: Length, most: Length) -> f32 {
    if most > Length::ZERO { (value / most).value().clamp(-1.0, 1.0) as f32 } else { 0.0 }
}

fn degrees(angle: Angle) -> f32 {
    angle.degrees() as f32
}

pub(super) fn relief(visit: &Visit, beside: &Beside<'_>) -> ReliefDrawn {
    let (state, unit_type) = (visit.relief(), &visit.unit().unit_type);
    let after = matches!(visit.stage(), Stage::ReliefLands);
    let land = |place| {
        let reading = if after { state.after(place) } else { state.before(place) };
        reading.map_or(Length::ZERO, Reading::length)
    };
    let (lands, wanted) = ([land(Place::LandLead), land(Place::LandTrail)], beside.facts.grinding.relief.land);
    let limit = unit_type.land_limit.length();
    let widest = lands.into_iter().fold(wanted.max(limit), Length::max);
    ReliefDrawn {
        relief_degrees: degrees(unit_type.relief_angle),
        blade_degrees: visit.relief_plan(beside.facts).map_or(0.0, |plan| degrees(plan.position.blade_angle)),
        blades: unit_type.blades,
        lands: lands.map(|land| part(land, widest)),
        wanted: part(wanted, widest),
        limit: part(limit, widest),
    }
}

pub(super) fn knife(visit: &Visit, beside: &Beside<'_>) -> KnifeDrawn {
    let (state, shape) = (visit.knife(), visit.knife_shape(beside.facts));
    let angle = |place, wanted| degrees(state.angle(place).map_or(wanted, AngleReading::angle));
    let least = shape.least_thickness.length();
    let left = state.thickness().map_or(Length::ZERO, Reading::length);
    let thickest = left.max(least * THICKEST_OF_LEAST);
    KnifeDrawn {
        top_degrees: angle(Place::TopAngle, shape.top_angle),
        front_degrees: angle(Place::FrontAngle, shape.front_angle),
        thickness: part(left, thickest),
        least: part(least, thickest),
        least_text: super::figures::reading_with_unit(
            shape.least_thickness,
            sparkout_core::reading::LengthKind::Size,
            beside.settings,
        ),
    }
}

pub(super) fn height(visit: &Visit, beside: &Beside<'_>) -> HeightDrawn {
    let outcome = visit.height_outcome(beside.facts).and_then(Result::ok);
    let error = |error: Option<Length>| error.map_or(0.0, |error| part(error, HEIGHT_MOST));
    HeightDrawn {
        left: error(outcome.as_ref().map(|outcome| outcome.left.error)),
        right: error(outcome.as_ref().map(|outcome| outcome.right.error)),
        exaggeration: HEIGHT_EXAGGERATION.to_owned(),
    }
}

pub(super) fn plate(visit: &Visit, beside: &Beside<'_>) -> PlateDrawn {
    let outcome = visit.plate_outcome(beside.facts);
    PlateDrawn {
        edge: outcome.map_or(0.0, |outcome| part(outcome.edge, PLATE_MOST)),
        gap: outcome.map_or(0.0, |outcome| part(outcome.gap, PLATE_MOST)),
        limit: part(beside.facts.limits.setup.plate, PLATE_MOST),
        edge_off: outcome.is_some_and(|outcome| outcome.edge_decision == Decision::Beyond),
        gap_off: outcome.is_some_and(|outcome| outcome.gap_decision == Decision::Beyond),
        exaggeration: PLATE_EXAGGERATION.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::float_cmp)]

    use super::*;

    #[test]
    fn a_part_is_signed_and_never_more_than_the_whole() {
        let thou = |value: f64| Length::from_inches(value / 1000.0);
        assert!((part(thou(-7.5), HEIGHT_MOST) + 0.5).abs() < 1e-6);
        assert_eq!(part(thou(90.0), HEIGHT_MOST), 1.0);
        assert_eq!(part(thou(-90.0), PLATE_MOST), -1.0);
        assert_eq!(part(thou(1.0), Length::ZERO), 0.0);
    }
}
