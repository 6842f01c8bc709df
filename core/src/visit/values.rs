//! Values that a stage asks for in an order of its own.

use super::event::Place;
use crate::reading::Reading;

/// What was read at the places of a stage, and which of them somebody wants to read next.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Values {
    read: Vec<(Place, Reading)>,
    picked: Option<Place>,
}

impl Values {
    /// What was read at a place.
    pub fn get(&self, place: Place) -> Option<Reading> {
        self.read.iter().find(|(known, _)| *known == place).map(|(_, reading)| *reading)
    }

    /// The place that is asked for now: the picked one, else the first of `order` that is missing.
    pub fn asked(&self, order: &[Place]) -> Option<Place> {
        self.picked.or_else(|| order.iter().copied().find(|place| self.get(*place).is_none()))
    }

    /// The larger of two places, once both are read.
    pub fn larger(&self, one: Place, other: Place) -> Option<Reading> {
        Some(self.get(one)?.max(self.get(other)?))
    }

    pub(super) fn set(&mut self, place: Place, reading: Reading) {
        self.forget(place);
        self.read.push((place, reading));
        self.picked = None;
    }

    pub(super) fn forget(&mut self, place: Place) {
        self.read.retain(|(known, _)| *known != place);
    }

    pub(super) const fn pick(&mut self, place: Option<Place>) {
        self.picked = place;
    }

    pub(super) fn clear(&mut self) {
        *self = Self::default();
    }
}
