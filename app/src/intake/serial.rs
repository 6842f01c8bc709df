//! A scanner on a serial port.

use super::lines::Lines;
use super::{Heard, Source};
use std::io;
use std::path::PathBuf;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};
use tokio_serial::{SerialPortBuilderExt, SerialStream};

/// A scanner sends its few dozen characters in one go; behind such a gap nothing more of them comes.
const SILENCE: Duration = Duration::from_millis(120);
/// So often is looked whether the kiosk ends.
const LOOK_EVERY: Duration = Duration::from_millis(100);

/// A serial port by a path that stays the same however it is plugged, such as those in `/dev/serial/by-id`.
pub struct Serial {
    path: PathBuf,
    baud: u32,
}

impl Serial {
    /// The port at this path, eight bits, no parity, one stop bit.
    pub const fn new(path: PathBuf, baud: u32) -> Self {
        Self { path, baud }
    }

    fn open(&self) -> io::Result<SerialStream> {
        let path = self.path.to_string_lossy();
        Ok(tokio_serial::new(path, self.baud).open_native_async()?)
    }

    async fn read_on(&self, over: &AtomicBool, hear: &mut dyn FnMut(Heard)) -> io::Result<()> {
        let mut port = self.open()?;
        hear(Heard::There { source: self.name() });
        let (begun, mut lines) = (Instant::now(), Lines::new(SILENCE));
        let mut buffer = [0_u8; 1024];
        while !over.load(Ordering::Relaxed) {
            match tokio::time::timeout(LOOK_EVERY, port.readable()).await {
                Err(_) => {}
                Ok(ready) => {
                    ready?;
                    match port.try_read(&mut buffer) {
                        Ok(0) => return Err(io::ErrorKind::UnexpectedEof.into()),
                        // Each byte as the character of its number: what is none of ours is refused with its number.
                        Ok(read) => buffer[..read]
                            .iter()
                            .filter_map(|byte| lines.take(char::from(*byte), begun.elapsed()))
                            .for_each(|scan| hear(Heard::Scan(scan))),
                        Err(error) if error.kind() == io::ErrorKind::WouldBlock => {}
                        Err(error) => return Err(error),
                    }
                }
            }
            if let Some(scan) = lines.silent(begun.elapsed()) {
                hear(Heard::Scan(scan));
            }
        }
        Ok(())
    }
}

fn runtime() -> io::Result<tokio::runtime::Runtime> {
    tokio::runtime::Builder::new_current_thread().enable_io().enable_time().build()
}

impl Source for Serial {
    fn name(&self) -> String {
        self.path.display().to_string()
    }

    fn look(&mut self) -> io::Result<()> {
        runtime()?.block_on(async { self.open().map(drop) })
    }

    fn read(&mut self, over: &AtomicBool, hear: &mut dyn FnMut(Heard)) -> io::Result<()> {
        runtime()?.block_on(self.read_on(over, hear))
    }
}
