//! The seam of time: a kiosk asks a clock, and a rehearsal gives it one that it moves itself.

use sparkout_core::moment::Moment;
use std::sync::Arc;
use std::sync::atomic::{AtomicI64, AtomicU64, Ordering};
use std::time::Instant;

/// Tells the time.
pub trait Clock: Send + Sync {
    /// Now.
    fn now(&self) -> Moment;
}

/// Names one run of the process, so that monotonic times of different runs are never compared.
fn boot_name(at: jiff::Timestamp) -> String {
    format!("{}-{}", at.as_millisecond(), std::process::id())
}

/// The machine's clocks.
pub struct SystemClock {
    begun: Instant,
    boot: String,
}

impl SystemClock {
    /// Begins counting.
    pub fn new() -> Self {
        Self { begun: Instant::now(), boot: boot_name(jiff::Timestamp::now()) }
    }
}

impl Default for SystemClock {
    fn default() -> Self {
        Self::new()
    }
}

impl Clock for SystemClock {
    fn now(&self) -> Moment {
        Moment {
            wall: jiff::Timestamp::now(),
            monotonic_ms: self.begun.elapsed().as_millis() as u64,
            boot: self.boot.clone(),
        }
    }
}

/// A clock that stands until it is moved.
#[derive(Clone)]
pub struct SimulatedClock {
    begun: jiff::Timestamp,
    milliseconds: Arc<AtomicU64>,
    /// By how much the clock on the wall was moved by hand, seconds.
    wall_moved: Arc<AtomicI64>,
    boot: String,
}

impl SimulatedClock {
    /// Begins at a wall time.
    pub fn starting_at(begun: jiff::Timestamp) -> Self {
        Self { begun, milliseconds: Arc::default(), wall_moved: Arc::default(), boot: boot_name(begun) }
    }

    /// Moves it on.
    pub fn advance(&self, milliseconds: u64) {
        self.milliseconds.fetch_add(milliseconds, Ordering::SeqCst);
    }

    /// Moves the clock on the wall alone, as a wrong hand or the network does; seconds, more is ahead.
    pub fn move_wall(&self, seconds: i64) {
        self.wall_moved.fetch_add(seconds, Ordering::SeqCst);
    }

    /// How far it was moved.
    pub fn milliseconds(&self) -> u64 {
        self.milliseconds.load(Ordering::SeqCst)
    }
}

impl Clock for SimulatedClock {
    fn now(&self) -> Moment {
        let milliseconds = self.milliseconds();
        let moved = jiff::SignedDuration::from_millis(i64::try_from(milliseconds).unwrap_or(i64::MAX));
        let by_hand = jiff::SignedDuration::from_secs(self.wall_moved.load(Ordering::SeqCst));
        let moved = moved.saturating_add(by_hand);
        Moment {
            wall: self.begun.checked_add(moved).unwrap_or(self.begun),
            monotonic_ms: milliseconds,
            boot: self.boot.clone(),
        }
    }
}
