//! Scanners that are devices of their own.

use super::{Config, within};
use serde::Deserialize;
use std::path::PathBuf;

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct IntakeTexts {
    serial: PathBuf,
    serial_baud: u32,
    input_device: PathBuf,
    picture_folder: PathBuf,
}

/// One source of scans.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum IntakeWiring {
    /// A serial port.
    Serial {
        /// Its path.
        path: PathBuf,
        /// Bits a second.
        baud: u32,
    },
    /// An input device of Linux, taken exclusively.
    #[cfg(target_os = "linux")]
    InputDevice {
        /// Its path.
        path: PathBuf,
    },
    /// A folder of pictures.
    Pictures {
        /// Which.
        folder: PathBuf,
    },
}

impl Config {
    /// What is read beside the keyboard.
    ///
    /// # Errors
    /// In words, naming the key, its value and what is allowed.
    pub fn intake(&self) -> anyhow::Result<Vec<IntakeWiring>> {
        let IntakeTexts { serial, serial_baud, input_device, picture_folder } = &self.intake;
        within("intake.serial_baud", f64::from(*serial_baud), 300.0, 921_600.0)?;
        let named = |path: &PathBuf| (!path.as_os_str().is_empty()).then(|| path.clone());
        let mut wirings = Vec::new();
        wirings.extend(named(serial).map(|path| IntakeWiring::Serial { path, baud: *serial_baud }));
        #[cfg(target_os = "linux")]
        wirings.extend(named(input_device).map(|path| IntakeWiring::InputDevice { path }));
        #[cfg(not(target_os = "linux"))]
        if named(input_device).is_some() {
            anyhow::bail!("intake.input_device: only Linux has such devices");
        }
        wirings.extend(named(picture_folder).map(|folder| IntakeWiring::Pictures { folder }));
        Ok(wirings)
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
    use super::*;

    #[test]
    fn only_what_is_named_is_read() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("own.toml");
        let load = |lines: &str| {
            std::fs::write(&file, format!("[intake]\n{lines}\n")).unwrap();
            Config::load(Some(&file))
        };
        assert_eq!(Config::load(None).unwrap().intake().unwrap(), []);
        let config = load("serial = \"/dev/ttyACM0\"\nserial_baud = 115200").unwrap();
        let serial = IntakeWiring::Serial { path: PathBuf::from("/dev/ttyACM0"), baud: 115_200 };
        assert_eq!(config.intake().unwrap(), [serial]);
        assert!(format!("{:#}", load("serial_baud = 0").unwrap_err()).contains("intake.serial_baud is 0"));
    }
}
