//! The guard's and the stop's switches, read over Modbus TCP on a thread of their own.
//!
//! Only reading functions are called. Each change of what the switches say is told once, as it happens; `core` judges,
//! the kiosk revokes. It is never the safety function: what stops the machine is wired to the machine.

mod poll;

use sparkout_core::inputs::{InputRules, Judge, Switches};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

/// Which of the module's tables the bits lie in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Table {
    /// Discrete inputs, function 02.
    Discrete,
    /// Coils, function 01: some modules offer their inputs there.
    Coil,
    /// Input registers of sixteen bits, function 04.
    Register,
}

impl Table {
    /// How many bits it has.
    pub const fn bits(self) -> u32 {
        match self {
            Self::Discrete | Self::Coil => 1 << 16,
            Self::Register => 1 << 20,
        }
    }

    const fn bits_each(self) -> u32 {
        match self {
            Self::Discrete | Self::Coil => 1,
            Self::Register => 16,
        }
    }
}

/// The bit of one switch.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Contact {
    /// Counted from 0.
    pub bit: u32,
    /// Whether a 0 is closed or released; else a 1 is.
    pub inverted: bool,
}

/// How the switches of a bench are read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Wiring {
    /// Name or address of the input module.
    pub host: String,
    /// Its TCP port.
    pub port: u16,
    /// Its unit identifier.
    pub unit: u8,
    /// Where the bits lie.
    pub table: Table,
    /// The guard's, if it has a switch.
    pub guard: Option<Contact>,
    /// The stop's, if it has a switch.
    pub stop: Option<Contact>,
    /// From one request to the next.
    pub period: Duration,
    /// How what is read is judged.
    pub rules: InputRules,
}

impl Wiring {
    /// What is known before anything was heard.
    pub fn unheard(&self) -> Switches {
        Judge::new(self.rules).seen(Duration::ZERO)
    }

    fn contacts(&self) -> impl Iterator<Item = Contact> {
        [self.guard, self.stop].into_iter().flatten()
    }

    /// The first address that is read.
    pub fn first(&self) -> u16 {
        let first = self.contacts().map(|contact| contact.bit / self.table.bits_each()).min();
        u16::try_from(first.unwrap_or(0)).unwrap_or(u16::MAX)
    }

    /// How many addresses are read.
    pub fn count(&self) -> u16 {
        let last = self.contacts().map(|contact| contact.bit / self.table.bits_each()).max();
        let span = last.unwrap_or(0).saturating_sub(u32::from(self.first())) + 1;
        u16::try_from(span).unwrap_or(u16::MAX)
    }
}

/// The thread that reads. It ends within a few seconds after this is dropped.
#[derive(Debug)]
pub struct Watching {
    over: Arc<AtomicBool>,
}

impl Watching {
    /// Starts to read, and tells every change.
    ///
    /// # Errors
    /// When the system gives no thread.
    pub fn start(wiring: Wiring, tell: impl FnMut(Switches) + Send + 'static) -> std::io::Result<Self> {
        let over = Arc::new(AtomicBool::new(false));
        let ends = Arc::clone(&over);
        std::thread::Builder::new().name("inputs".to_owned()).spawn(move || poll::run(&wiring, &ends, tell))?;
        Ok(Self { over })
    }
}

impl Drop for Watching {
    fn drop(&mut self) {
        self.over.store(true, Ordering::Relaxed);
    }
}
