//! The shop's records, worked out from the stored journals by the same code as at the bench.
//!
//! It runs behind the pushes, on a thread of its own: a push is answered when its entries are safe, and an entry from
//! which nothing can be worked out must not stand in the way of the next.

use super::store::{HubStore, KnownLog, LogEntry, LogName, WorkedOut};
use crate::kiosk::Projector;
use crate::store::StoreError;
use std::collections::BTreeMap;
use std::sync::Arc;
use std::sync::mpsc::Receiver;

/// Entries taken at a time.
const AT_A_TIME: usize = 256;

/// Works out records whenever it is woken, until whoever wakes it is gone.
pub fn run(store: &Arc<dyn HubStore>, wake: &Receiver<()>, now_ms: impl Fn() -> i64) {
    let mut books = Books { store: Arc::clone(store), projectors: BTreeMap::new() };
    loop {
        if let Err(error) = books.catch_up(&now_ms) {
            tracing::error!(%error, detail = error.detail(), "the records could not be worked out; tried again later");
        }
        if wake.recv().is_err() {
            return;
        }
        // Many pushes are one catching up.
        while wake.try_recv().is_ok() {}
    }
}

struct Books {
    store: Arc<dyn HubStore>,
    /// Each journal's shop and open visits as they stood after the entries worked out so far.
    projectors: BTreeMap<LogName, (Projector, u64)>,
}

impl Books {
    fn catch_up(&mut self, now_ms: &impl Fn() -> i64) -> Result<(), StoreError> {
        for known in self.store.logs()? {
            if known.worked_out < known.stored {
                self.catch_up_log(&known, now_ms).inspect_err(|_| {
                    // What was taken and not written is taken again from the beginning.
                    self.projectors.remove(&known.log);
                })?;
            }
        }
        Ok(())
    }

    fn catch_up_log(&mut self, known: &KnownLog, now_ms: &impl Fn() -> i64) -> Result<(), StoreError> {
        let (projector, taken) = self.projectors.entry(known.log.clone()).or_default();
        loop {
            let entries = self.store.entries(&known.log, *taken + 1, AT_A_TIME)?;
            let Some(last) = entries.last() else { return Ok(()) };
            *taken = last.seq;
            let worked = entries.iter().map(|entry| work_out(projector, entry));
            // After a start the entries worked out before are taken again for what the later ones build on.
            let new: Vec<WorkedOut> = worked.filter(|worked| worked.seq > known.worked_out).collect();
            self.store.work_out(&known.log, &new, now_ms())?;
        }
    }
}

fn work_out(projector: &mut Projector, entry: &LogEntry) -> WorkedOut {
    let nothing = |reason| WorkedOut { seq: entry.seq, feed: entry.feed, writes: Vec::new(), reason };
    if entry.held {
        return nothing(None);
    }
    match projector.project(entry.seq, &entry.bytes) {
        Ok(writes) => WorkedOut { writes, ..nothing(None) },
        Err(error) => nothing(Some(format!("stored, and nothing follows from it here: {}", error.detail()))),
    }
}

#[cfg(test)]
mod tests;
