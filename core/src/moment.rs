//! A point in time as the station records it: what the clock on the wall said, and what cannot jump.

use serde::{Deserialize, Serialize};
use std::time::Duration;

/// Wall time for people, monotonic time for everything that lapses.
///
/// A kiosk's wall clock may be wrong or set back; nothing is ordered by it and nothing lapses by it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Moment {
    /// What the station's clock said.
    pub wall: jiff::Timestamp,
    /// Milliseconds since the process's own zero; comparable only within one `boot`.
    pub monotonic_ms: u64,
    /// Names the process run that `monotonic_ms` belongs to.
    pub boot: String,
}

impl Moment {
    /// How long after `earlier` this is, or `None` when another process run lies between or the count ran
    /// backwards: nothing may stay in force on the word of a clock like that.
    pub fn since(&self, earlier: &Moment) -> Option<Duration> {
        let elapsed_ms = self.monotonic_ms.checked_sub(earlier.monotonic_ms)?;
        (self.boot == earlier.boot).then(|| Duration::from_millis(elapsed_ms))
    }
}
