//! The settings that a lead may change while the kiosk runs: what the file says of them, and the file with a lead's
//! values over it.

use super::Config;
use super::length::TextLength;
use anyhow::bail;
use sparkout_core::reading::Reading;
use sparkout_core::setting::{Setting, SettingValue};
use std::collections::BTreeMap;

impl Config {
    /// What the file says of a setting, or a lead has put over it.
    pub fn setting(&self, setting: Setting) -> SettingValue {
        match setting {
            Setting::TiltLimit => SettingValue::Length(self.limits.tilt.0),
            Setting::RearLimit => SettingValue::Length(self.limits.rear.0),
            Setting::ConeLimit => SettingValue::Length(self.limits.cone.0),
            Setting::Infeed => SettingValue::Length(self.grinding.infeed.0),
            Setting::SparkoutPasses => SettingValue::Count(self.grinding.sparkout_passes),
            Setting::LapseAfter => SettingValue::Minutes(u32::try_from(self.gate.lapse_minutes).unwrap_or(u32::MAX)),
            Setting::DimAfter => SettingValue::Minutes(self.screen.dim_after_minutes),
            Setting::PanelWidth => {
                // The file has it in millimetres with a point; a micrometre is far below what a target's size needs.
                let micrometres = (f64::from(self.screen.panel_width_mm) * 1000.0).round() as i64;
                SettingValue::Length(Reading::from_nanometres(micrometres * 1000))
            }
            Setting::ReducedMotion => SettingValue::On(self.screen.reduced_motion),
            Setting::AskPin => SettingValue::On(self.asks_pin()),
        }
    }

    /// The file with a lead's values over it. A value that is out of its range by now is left out.
    pub fn with_settings(&self, settings: &BTreeMap<Setting, SettingValue>) -> Self {
        let mut config = self.clone();
        for (setting, value) in settings {
            match setting.check(*value) {
                Ok(()) => config.put(*setting, *value),
                Err(error) => tracing::warn!(%error, "a setting on record is not used"),
            }
        }
        config
    }

    fn put(&mut self, setting: Setting, value: SettingValue) {
        match (setting, value) {
            (Setting::TiltLimit, SettingValue::Length(length)) => self.limits.tilt = TextLength(length),
            (Setting::RearLimit, SettingValue::Length(length)) => self.limits.rear = TextLength(length),
            (Setting::ConeLimit, SettingValue::Length(length)) => self.limits.cone = TextLength(length),
            (Setting::Infeed, SettingValue::Length(length)) => self.grinding.infeed = TextLength(length),
            (Setting::SparkoutPasses, SettingValue::Count(count)) => self.grinding.sparkout_passes = count,
            (Setting::LapseAfter, SettingValue::Minutes(minutes)) => self.gate.lapse_minutes = u64::from(minutes),
            (Setting::DimAfter, SettingValue::Minutes(minutes)) => self.screen.dim_after_minutes = minutes,
            (Setting::PanelWidth, SettingValue::Length(length)) => {
                self.screen.panel_width_mm = length.length().mm() as f32;
            }
            (Setting::ReducedMotion, SettingValue::On(on)) => self.screen.reduced_motion = on,
            (Setting::AskPin, SettingValue::On(on)) => self.pin.ask = on,
            // Its own check has refused any other pair.
            (_, SettingValue::On(_) | SettingValue::Minutes(_) | SettingValue::Count(_) | SettingValue::Length(_)) => {}
        }
    }

    /// How long nobody must do anything before the screen dims; `None` when it never does.
    pub fn dim_after_ms(&self) -> Option<u64> {
        (self.screen.dim_after_minutes > 0).then(|| u64::from(self.screen.dim_after_minutes) * 60_000)
    }

    pub(super) fn check_settings(&self) -> anyhow::Result<()> {
        for setting in Setting::ALL {
            if let Err(error) = setting.check(self.setting(setting)) {
                bail!("{}: {error}", key(setting));
            }
        }
        Ok(())
    }
}

/// Where a setting stands in the file.
const fn key(setting: Setting) -> &'static str {
    match setting {
        Setting::TiltLimit => "limits.tilt",
        Setting::RearLimit => "limits.rear",
        Setting::ConeLimit => "limits.cone",
        Setting::Infeed => "grinding.infeed",
        Setting::SparkoutPasses => "grinding.sparkout_passes",
        Setting::LapseAfter => "gate.lapse_minutes",
        Setting::DimAfter => "screen.dim_after_minutes",
        Setting::PanelWidth => "screen.panel_width_mm",
        Setting::ReducedMotion => "screen.reduced_motion",
        Setting::AskPin => "pin.ask",
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    #[test]
    fn every_setting_can_be_put_over_the_file_and_read_again() {
        let config = Config::load(None).unwrap();
        for setting in Setting::ALL {
            let (least, most) = setting.range();
            for value in [least, most] {
                let changed = config.with_settings(&BTreeMap::from([(setting, value)]));
                assert_eq!(changed.setting(setting), value);
                changed.check().unwrap();
                for other in Setting::ALL.into_iter().filter(|other| *other != setting) {
                    assert_eq!(changed.setting(other), config.setting(other));
                }
            }
        }
    }

    #[test]
    fn a_value_of_another_kind_or_out_of_range_changes_nothing() {
        let config = Config::load(None).unwrap();
        for value in [SettingValue::Minutes(61), SettingValue::Count(3)] {
            let changed = config.with_settings(&BTreeMap::from([(Setting::LapseAfter, value)]));
            assert_eq!(changed.setting(Setting::LapseAfter), SettingValue::Minutes(10));
        }
    }
}
