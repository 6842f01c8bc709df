//! How far a wheel may wear, and what a lockout holds off.

use super::length::TextLength;
use super::{Config, within};
use anyhow::bail;
use serde::Deserialize;
use sparkout_core::quantity::Speed;
use sparkout_core::reading::Reading;
use sparkout_core::wheel::WheelRules;
use sparkout_ui::screen::Language;

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct WheelTexts {
    least_speed_metres_per_second: f64,
    least_diameter: TextLength,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct LockoutTexts {
    points: Vec<PointTexts>,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
struct PointTexts {
    en: String,
    es: String,
}

/// Points that fit under each other where one is chosen.
const POINTS_MOST: usize = 4;

impl Config {
    pub(super) fn check_wheel(&self) -> anyhow::Result<()> {
        within("wheel.least_speed_metres_per_second", self.wheel.least_speed_metres_per_second, 1.0, 80.0)?;
        if self.wheel.least_diameter.0 <= Reading::ZERO {
            bail!("wheel.least_diameter must be more than nothing");
        }
        let points = &self.lockout.points;
        within("lockout.points: how many", points.len() as f64, 1.0, POINTS_MOST as f64)?;
        if points.iter().any(|point| point.en.trim().is_empty() || point.es.trim().is_empty()) {
            bail!("lockout.points: each is named in both languages, en and es");
        }
        Ok(())
    }

    /// How far a wheel may wear.
    pub fn wheel_rules(&self) -> WheelRules {
        WheelRules {
            least_speed: Speed::from_metres_per_second(self.wheel.least_speed_metres_per_second),
            least_diameter: self.wheel.least_diameter.0.length(),
        }
    }

    /// What a lock can be put on, in a person's language.
    pub fn lockout_points(&self, language: Language) -> Vec<String> {
        let named = |point: &PointTexts| match language {
            Language::English => point.en.clone(),
            Language::Spanish => point.es.clone(),
        };
        self.lockout.points.iter().map(named).collect()
    }
}
