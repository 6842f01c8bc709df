//! How long who stands at the bench has ground today, and what that says of the noise.

use super::bench::Bench;
use sparkout_core::exposure::{NoiseToday, noise_today, under_power};

impl Bench {
    /// The noise of the day for who stands at the bench, as far as it is known; nothing when nobody does.
    pub(super) fn noise(&self) -> Option<NoiseToday> {
        let operator = self.operator.as_ref()?;
        match noise_today(self.config.sound_level(), self.ground_ms(&operator.id)) {
            Ok(noise) => Some(noise),
            Err(error) => {
                tracing::warn!(%error, "the noise of the day cannot be worked out");
                None
            }
        }
    }

    /// What is over today, and what is under way.
    fn ground_ms(&self, badge: &str) -> u64 {
        let today = self.today();
        let over = self.shop.ground.get(badge).filter(|ground| ground.day == today).map_or(0, |ground| ground.ms);
        let now = self.clock.now();
        let under_way = self.on_rails().and_then(|open| under_power(&open.visit));
        let under_way = under_way.filter(|power| power.operator == badge).map_or(0, |power| power.ms(&now));
        over.saturating_add(under_way)
    }
}
