//! What the bench looks at while time passes: whether labels could be printed, and whether the clock on the wall moves
//! as time does.

use super::bench::Bench;
use sparkout_core::entry::EntryBody;
use sparkout_core::moment::Moment;
use sparkout_ui::words::{Manners, Said};

/// A printer that went away is told within two seconds; the bench ticks twice a second.
const PRINTER_EVERY_MS: u64 = 1_000;
/// A wall clock that is set right by the network moves by seconds; more is told.
const CLOCK_MOVED_MS: i64 = 120_000;
/// The strip says for so long that the clock was moved.
const CLOCK_TOLD_MS: u64 = 3_600_000;

/// What was seen when it was looked last.
#[derive(Debug, Default)]
pub(super) struct Watch {
    printer_ready: bool,
    printer_looked_ms: Option<u64>,
    /// Wall clock less the clock that only counts, milliseconds.
    offset_ms: Option<i64>,
    clock_moved_ms: Option<u64>,
}

impl Watch {
    pub const fn printer_ready(&self) -> bool {
        self.printer_ready
    }

    pub fn clock_changed(&self, now: &Moment) -> bool {
        self.clock_moved_ms.is_some_and(|moved| now.monotonic_ms.saturating_sub(moved) < CLOCK_TOLD_MS)
    }

    /// By how much the wall clock was moved, seconds, when it was.
    fn moved(&mut self, now: &Moment) -> Option<i64> {
        let counted = i64::try_from(now.monotonic_ms).unwrap_or(i64::MAX);
        let offset = now.wall.as_millisecond().saturating_sub(counted);
        let before = *self.offset_ms.get_or_insert(offset);
        let moved = offset.saturating_sub(before);
        if moved.abs() <= CLOCK_MOVED_MS {
            return None;
        }
        self.offset_ms = Some(offset);
        self.clock_moved_ms = Some(now.monotonic_ms);
        Some(moved / 1000)
    }
}

impl Bench {
    /// Looks at printer and clock.
    pub(super) fn look_round(&mut self) {
        let now = self.clock.now();
        let due = self.watch.printer_looked_ms.is_none_or(|at| now.monotonic_ms.saturating_sub(at) >= PRINTER_EVERY_MS);
        if due {
            self.watch.printer_ready = self.printer.ready();
            self.watch.printer_looked_ms = Some(now.monotonic_ms);
        }
        if let Some(seconds) = self.watch.moved(&now) {
            tracing::warn!(seconds, "the wall clock was moved");
            let told = match self.keep(EntryBody::ClockMoved { seconds }, &[]) {
                Ok(()) => Said::Manners(Manners::ClockMoved { seconds }),
                Err(said) => said,
            };
            self.say(told);
        }
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    fn at(wall: &str, monotonic_ms: u64) -> Moment {
        Moment { wall: wall.parse().unwrap(), monotonic_ms, boot: "b".to_owned() }
    }

    #[test]
    fn a_moved_clock_is_told_once_and_a_slow_one_when_it_has_gone_far_enough() {
        let mut watch = Watch::default();
        assert_eq!(watch.moved(&at("2026-05-14T09:30:00Z", 0)), None);
        assert_eq!(watch.moved(&at("2026-05-14T09:31:00Z", 60_000)), None);
        // A minute more than counted: a clock that is set right.
        assert_eq!(watch.moved(&at("2026-05-14T09:33:00Z", 120_000)), None);
        let ahead = at("2026-05-14T12:34:00Z", 180_000);
        assert_eq!(watch.moved(&ahead), Some(3 * 3600 + 60));
        assert!(watch.clock_changed(&ahead));
        assert_eq!(watch.moved(&at("2026-05-14T12:35:00Z", 240_000)), None);
        let back = at("2026-05-14T09:36:00Z", 300_000);
        assert_eq!(watch.moved(&back), Some(-3 * 3600));
        assert!(!watch.clock_changed(&at("2026-05-14T10:40:00Z", 300_000 + CLOCK_TOLD_MS)));
    }
}
