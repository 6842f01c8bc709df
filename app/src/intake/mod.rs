//! Scanners that are devices of their own: a serial port, an input device taken exclusively, a folder of pictures.
//!
//! Each is read on a thread of its own. What it reads goes the way of the scans that come as keys, and means the same; a device
//! that is pulled out is told, looked for, and told again when it is back.

pub mod folder;
pub mod lines;
pub mod serial;
#[cfg(target_os = "linux")]
pub mod typed;

use crate::config::IntakeWiring;
use std::io;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

/// Between two attempts to open a device: a plug that is put back is found within this.
const RETRY_EVERY: Duration = Duration::from_millis(500);

/// What a source has to say.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Heard {
    /// A scan, as it was read.
    Scan(String),
    /// It is there, and reads.
    There {
        /// Which.
        source: String,
    },
    /// It is not there any more, or never was.
    Gone {
        /// Which.
        source: String,
    },
    /// A picture without a code that can be read.
    NoCode {
        /// Which.
        file: String,
    },
}

/// One source of scans.
pub trait Source: Send {
    /// What it is, for people.
    fn name(&self) -> String;

    /// Whether it can be opened now.
    ///
    /// # Errors
    /// What the system says.
    fn look(&mut self) -> io::Result<()>;

    /// Opens it and reads until `over`; tells [`Heard::There`] when it is open.
    ///
    /// # Errors
    /// What the system says when it cannot be opened or goes away.
    fn read(&mut self, over: &AtomicBool, hear: &mut dyn FnMut(Heard)) -> io::Result<()>;
}

/// The source for a configured device.
pub fn source(wiring: &IntakeWiring) -> Box<dyn Source> {
    match wiring {
        IntakeWiring::Serial { path, baud } => Box::new(serial::Serial::new(path.clone(), *baud)),
        #[cfg(target_os = "linux")]
        IntakeWiring::InputDevice { path } => Box::new(typed::InputDevice::new(path.clone())),
        IntakeWiring::Pictures { folder } => Box::new(folder::Pictures::new(folder.clone())),
    }
}

/// The threads that read. They end within a second after this is dropped.
#[derive(Debug)]
pub struct Intake {
    over: Arc<AtomicBool>,
}

impl Intake {
    /// Starts to read all of them.
    ///
    /// # Errors
    /// When the system gives no thread.
    pub fn start(wirings: &[IntakeWiring], hear: impl FnMut(Heard) + Send + Clone + 'static) -> io::Result<Self> {
        let intake = Self { over: Arc::new(AtomicBool::new(false)) };
        for wiring in wirings {
            let (mut source, over, mut hear) = (source(wiring), Arc::clone(&intake.over), hear.clone());
            let thread = std::thread::Builder::new().name("scanner".to_owned());
            thread.spawn(move || run(source.as_mut(), &over, &mut hear))?;
        }
        Ok(intake)
    }
}

impl Drop for Intake {
    fn drop(&mut self) {
        self.over.store(true, Ordering::Relaxed);
    }
}

/// Reads it for ever, whatever becomes of it in between. That it is gone is told once.
fn run(source: &mut dyn Source, over: &AtomicBool, hear: &mut dyn FnMut(Heard)) {
    let name = source.name();
    let mut told_gone = false;
    while !over.load(Ordering::Relaxed) {
        let mut was_there = false;
        let read = source.read(over, &mut |heard| {
            was_there |= matches!(heard, Heard::There { .. });
            hear(heard);
        });
        if let Err(error) = read {
            if was_there || !told_gone {
                tracing::warn!(source = name, %error, "a scanner is not there");
                hear(Heard::Gone { source: name.clone() });
                told_gone = true;
            }
            std::thread::sleep(RETRY_EVERY);
        }
    }
}
