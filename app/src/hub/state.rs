//! What every answer of the hub can reach.

use super::api::problem::Refusal;
use super::metrics::Metrics;
use super::store::HubStore;
use crate::clock::Clock;
use crate::store::StoreError;
use std::sync::Arc;
use std::sync::mpsc::Sender;
use tokio::sync::watch;

/// A running hub.
pub struct Hub {
    store: Arc<dyn HubStore>,
    clock: Arc<dyn Clock>,
    /// What is counted.
    pub metrics: Metrics,
    /// Becomes true when the hub is to stop: open event streams end on it.
    pub stopping: watch::Receiver<bool>,
    /// The newest place in the feed, for event streams.
    pub news: watch::Sender<u64>,
    /// Wakes whoever works out the records.
    wake: Sender<()>,
}

impl Hub {
    /// A hub over a database.
    pub fn new(
        store: Arc<dyn HubStore>,
        clock: Arc<dyn Clock>,
        stopping: watch::Receiver<bool>,
        wake: Sender<()>,
    ) -> Self {
        Self { store, clock, metrics: Metrics::new(), stopping, news: watch::Sender::new(0), wake }
    }

    /// Now, milliseconds since 1970.
    pub fn now_ms(&self) -> i64 {
        self.clock.now().wall.as_millisecond()
    }

    /// Asks the database on a thread that may block.
    ///
    /// # Errors
    /// [`Refusal`], with the database's own fault told to the log alone.
    pub async fn ask<T: Send + 'static>(
        &self,
        ask: impl FnOnce(&dyn HubStore) -> Result<T, StoreError> + Send + 'static,
    ) -> Result<T, Refusal> {
        let store = Arc::clone(&self.store);
        match tokio::task::spawn_blocking(move || ask(store.as_ref())).await {
            Ok(Ok(answer)) => Ok(answer),
            Ok(Err(error)) => {
                tracing::error!(%error, detail = error.detail(), "the hub's database");
                Err(Refusal::store(&error))
            }
            Err(error) => {
                tracing::error!(%error, "a thread of the hub ended badly");
                Err(Refusal::internal())
            }
        }
    }

    /// Something new is stored.
    pub fn announce(&self, feed: u64) {
        self.news.send_if_modified(|newest| {
            let is_newer = feed > *newest;
            *newest = (*newest).max(feed);
            is_newer
        });
        if self.wake.send(()).is_err() {
            tracing::error!("the records are no longer worked out");
        }
    }
}
