//! PINs: whether a badge asks for one, and what one is.

use super::{Config, within};
use anyhow::bail;
use serde::Deserialize;
use sparkout_core::pin::PinRules;

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct PinTexts {
    pub(super) ask: bool,
    digits: u32,
    tries: u32,
    lock_minutes: u32,
}

impl Config {
    pub(super) fn check_pins(&self) -> anyhow::Result<()> {
        if !matches!(self.pin.digits, 4 | 6) {
            bail!("pin.digits is {}; 4 or 6 is taken", self.pin.digits);
        }
        within("pin.tries", f64::from(self.pin.tries), 3.0, 10.0)?;
        within("pin.lock_minutes", f64::from(self.pin.lock_minutes), 1.0, 1440.0)
    }

    /// Whether a badge asks for its PIN.
    pub const fn asks_pin(&self) -> bool {
        self.pin.ask
    }

    /// Nobody is asked: where nothing is real.
    pub fn without_pins(&mut self) {
        self.pin.ask = false;
    }

    /// What a PIN is, and when a badge is locked.
    pub const fn pin_rules(&self) -> PinRules {
        PinRules { digits: self.pin.digits, tries: self.pin.tries, lock_minutes: self.pin.lock_minutes }
    }
}
