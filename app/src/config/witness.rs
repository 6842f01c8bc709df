//! Where the journal's head is kept a second time.

use super::{Config, within};
use serde::Deserialize;
use std::path::{Path, PathBuf};
use std::time::Duration;

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct WitnessTexts {
    folder: String,
    every_minutes: u32,
}

impl Config {
    pub(super) fn check_witness(&self) -> anyhow::Result<()> {
        within("witness.every_minutes", f64::from(self.witness.every_minutes), 1.0, 1_440.0)
    }

    /// The folder in which heads are kept; nothing where none is named. A relative one lies beside the journal's files.
    pub fn witness_folder(&self, journal: &Path) -> Option<PathBuf> {
        let named = self.witness.folder.as_str();
        (!named.is_empty()).then(|| journal.join(named))
    }

    /// How often the newest head is offered while the journal grows, besides at each shift's end.
    pub fn witness_every(&self) -> Duration {
        Duration::from_secs(60 * u64::from(self.witness.every_minutes))
    }
}
