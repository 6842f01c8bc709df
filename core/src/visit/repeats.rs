//! Values of a stage that are read more than once at one setting: their means, and what their scatter says.
//!
//! Only what scatters averages out. The graduation does not: a value between two marks is read to the same mark each
//! time. So a mean of n readings carries u² = q²/12 + s²/n, where s is the scatter within settings, pooled over those
//! of the visit (JCGM 100:2008, 4.2.4) once there is enough of it, as [`super::touches`] does for Front. Before, no
//! repeatability is assumed beside the graduation, as with a single reading.

use super::event::Place;
use super::touches::{PooledTouch, pooled_readings};
use super::values::Values;
use crate::calc::uncertainty::{combined, of_graduation};
use crate::quantity::Length;
use crate::reading::Reading;

/// The set of values in hand, those read before at the same setting, and those of settings before it.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Repeats {
    now: Values,
    before: Vec<Values>,
    settled: Vec<Vec<Values>>,
}

impl Repeats {
    /// What was read last at a place, in the set in hand.
    pub fn get(&self, place: Place) -> Option<Reading> {
        self.now.get(place)
    }

    /// The place that is asked for now.
    pub fn asked(&self, order: &[Place]) -> Option<Place> {
        self.now.asked(order)
    }

    /// So many sets were read at this setting, the one in hand included.
    pub const fn sets(&self) -> usize {
        self.before.len() + 1
    }

    /// The mean at a place, once the set in hand has it too.
    pub fn mean(&self, place: Place) -> Option<Length> {
        self.get(place)?;
        let readings = of_place(&self.all_now(), place);
        let sum = readings.iter().fold(Length::ZERO, |sum, reading| sum + reading.length());
        Some(sum / readings.len() as f64)
    }

    /// The same to the nanometre, for records.
    pub fn mean_reading(&self, place: Place) -> Option<Reading> {
        self.mean(place).map(|mean| Reading::from_nanometres((mean.mm() * 1e6).round() as i64))
    }

    /// The scatter of single readings at these places, once there is enough of it.
    pub fn scatter(&self, places: &[Place], graduation: Length) -> Option<PooledTouch> {
        let now = self.all_now();
        let settings: Vec<Vec<&Values>> =
            self.settled.iter().map(|setting| setting.iter().collect()).chain(std::iter::once(now)).collect();
        let series: Vec<Vec<Reading>> =
            settings.iter().flat_map(|setting| places.iter().map(|place| of_place(setting, *place))).collect();
        pooled_readings(series.iter().map(Vec::as_slice), graduation)
    }

    /// Standard uncertainty of a mean at one of these places.
    pub fn u_mean(&self, places: &[Place], graduation: Length) -> Length {
        let scatter = self.scatter(places, graduation).map_or(Length::ZERO, |pooled| pooled.used);
        combined(&[of_graduation(graduation), scatter / (self.sets() as f64).sqrt()])
    }

    pub(super) fn set(&mut self, place: Place, reading: Reading) {
        self.now.set(place, reading);
    }

    pub(super) const fn pick(&mut self, place: Option<Place>) {
        self.now.pick(place);
    }

    /// Another set at the same setting, to be pooled with those there are.
    pub(super) fn repeat(&mut self) {
        self.now.pick(None);
        self.before.push(std::mem::take(&mut self.now));
    }

    /// The set in hand is read anew; those before it stay.
    pub(super) fn begin_set(&mut self) {
        self.now.clear();
    }

    /// Something was moved: what was read so far says nothing about the new setting but how much readings scatter.
    pub(super) fn settle(&mut self) {
        let mut sets = std::mem::take(&mut self.before);
        sets.push(std::mem::take(&mut self.now));
        self.settled.push(sets);
    }

    /// As it was before anything was read at this setting.
    pub(super) fn without_this_setting(&self) -> Self {
        Self { settled: self.settled.clone(), ..Self::default() }
    }

    fn all_now(&self) -> Vec<&Values> {
        self.before.iter().chain(std::iter::once(&self.now)).collect()
    }
}

fn of_place(sets: &[&Values], place: Place) -> Vec<Reading> {
    sets.iter().filter_map(|set| set.get(place)).collect()
}
