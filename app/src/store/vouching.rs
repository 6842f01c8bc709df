//! The witness on a thread of its own: a stick that hangs, or is pulled while it is written, holds up nobody's work.

use super::witness::{FolderWitness, NotVouched};
use std::path::PathBuf;
use std::sync::mpsc::{self, Receiver, Sender};
use std::time::Duration;

/// Offers the journal's newest head to the witness whenever it is asked to.
#[derive(Debug)]
pub struct Vouching {
    asked: Sender<()>,
    told: Receiver<Result<u64, NotVouched>>,
}

impl Vouching {
    /// Starts the thread, which reads the journal's file by itself. It ends when this is dropped, after what it is at;
    /// nobody waits for it.
    ///
    /// # Errors
    /// When the system gives no thread.
    pub fn start(witness: FolderWitness, database: PathBuf) -> std::io::Result<Self> {
        let (asked, asks) = mpsc::channel();
        let (tell, told) = mpsc::channel();
        std::thread::Builder::new().name("witness".to_owned()).spawn(move || {
            while asks.recv().is_ok() {
                // However often it was asked meanwhile, the newest head is offered once.
                while asks.try_recv().is_ok() {}
                if tell.send(witness.vouch_for(&database)).is_err() {
                    return;
                }
            }
        })?;
        Ok(Self { asked, told })
    }

    /// Has the newest head offered.
    pub fn ask(&self) {
        if self.asked.send(()).is_err() {
            tracing::error!("the witness's thread has ended");
        }
    }

    /// What came of it, once it has come.
    pub fn answer(&self) -> Option<Result<u64, NotVouched>> {
        self.told.try_recv().ok()
    }

    /// The same, waited for: only where nobody works yet.
    pub fn answer_within(&self, time: Duration) -> Option<Result<u64, NotVouched>> {
        self.told.recv_timeout(time).ok()
    }
}
