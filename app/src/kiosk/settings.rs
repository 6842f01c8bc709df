//! The shop's settings at the bench: everybody reads them, a lead changes them, and the change stands on record.

use super::bench::{Bench, View};
use super::shop::Change;
use sparkout_core::entry::EntryBody;
use sparkout_core::record::Operator;
use sparkout_core::setting::{Setting, SettingValue};
use sparkout_ui::action::Manner;
use sparkout_ui::screen::{Look, PickedSetting, SettingRow, Settings, ShopSettings};
use sparkout_ui::words::{self, Manners, Said};

/// The setting in hand, and what it would be set to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct SettingDraft {
    pub setting: Setting,
    pub value: Option<SettingValue>,
}

impl Bench {
    /// What a window is told by the settings in force.
    pub(super) const fn look(&self) -> Look {
        Look { panel_width_mm: self.config.screen.panel_width_mm, reduced_motion: self.config.screen.reduced_motion }
    }

    pub(super) fn dim_after_ms(&self) -> Option<u64> {
        self.config.dim_after_ms()
    }

    /// The lead at the bench, if it is one. In practice nobody is: the shop's settings are real.
    fn lead(&self) -> Result<&Operator, Said> {
        if self.practice {
            return Err(Said::Manners(Manners::NotFromPractice));
        }
        self.operator.as_ref().filter(|operator| operator.lead).ok_or(Said::Manners(Manners::LeadOnly))
    }

    pub(super) fn setting_pressed(&mut self, manner: Manner, index: usize) {
        if manner == Manner::ShopSettings {
            return self.view = View::ShopSettings(SettingDraft { setting: Setting::TiltLimit, value: None });
        }
        let View::ShopSettings(draft) = self.view else { return };
        let setting = draft.setting;
        if manner == Manner::PickSetting {
            if let Some(setting) = Setting::ALL.get(index) {
                self.view = View::ShopSettings(SettingDraft { setting: *setting, value: None });
            }
            return;
        }
        if let Err(said) = self.lead() {
            return self.said = Some(said);
        }
        let value = draft.value.unwrap_or_else(|| self.config.setting(setting));
        let step = |up| setting.stepped(value, self.settings.units, up);
        let value = match manner {
            Manner::Less => step(false),
            Manner::More => step(true),
            Manner::Default => self.base.setting(setting),
            Manner::KeepSetting => return self.keep_setting(setting, value),
            _ => return,
        };
        self.view = View::ShopSettings(SettingDraft { setting, value: Some(value) });
    }

    fn keep_setting(&mut self, setting: Setting, new: SettingValue) {
        let by = match self.lead() {
            Ok(lead) => lead.id.clone(),
            Err(said) => return self.said = Some(said),
        };
        let old = self.config.setting(setting);
        if setting.check(new).is_err() {
            return self.said = Some(Said::Manners(Manners::ValueNotTaken));
        }
        match self.keep(EntryBody::Settings { by, setting, old, new }, &[Change::Setting(setting, new)]) {
            Ok(()) => {
                self.put_in_force();
                self.view = View::ShopSettings(SettingDraft { setting, value: None });
                self.said = Some(Said::Manners(Manners::SettingKept { setting, old, new }));
            }
            Err(said) => self.said = Some(said),
        }
    }

    /// The configuration with the lead's values over it.
    pub(super) fn put_in_force(&mut self) {
        self.config = self.base.with_settings(&self.shop.settings);
    }

    pub(super) fn shop_settings(&self, draft: SettingDraft) -> ShopSettings {
        let settings = self.settings;
        let row = |setting: &Setting| SettingRow {
            name: words::setting_name(*setting, Settings::default()),
            label: words::setting_name(*setting, settings),
            value: words::setting_value(*setting, self.config.setting(*setting), settings),
            now: *setting == draft.setting,
        };
        let setting = draft.setting;
        let in_force = self.config.setting(setting);
        let value = draft.value.unwrap_or(in_force);
        let (least, most) = setting.range();
        let picked = PickedSetting {
            label: words::setting_name(setting, settings),
            value: words::setting_value(setting, value, settings),
            range: words::setting_range(setting, settings),
            default: words::setting_value(setting, self.base.setting(setting), settings),
            changed: value != in_force,
            less: value != least,
            more: value != most,
        };
        ShopSettings { rows: Setting::ALL.iter().map(row).collect(), picked, may_change: self.lead().is_ok() }
    }
}
