//! One round: send what is not stored yet, in order, in batches; then fetch what the others have done.

use super::client::{CallFault, HubClient};
use super::store::{LinkStore, Paired};
use super::{Now, State};
use crate::clock::Clock;
use crate::hub::wire::{BATCH_BYTES_MOST, ENTRIES_MOST, JournalState, PushRequest, bytes_out, hashes_out};
use crate::store::sending::{NotSendable, Outgoing};
use crate::store::{StoreError, open};
use std::path::PathBuf;
use std::sync::Arc;
use thiserror::Error;

/// Why a round was not finished.
#[derive(Debug, Error)]
pub enum RoundFault {
    /// The hub.
    #[error(transparent)]
    Call(#[from] CallFault),
    /// The journal.
    #[error("the journal cannot be read to be sent: {0}")]
    Journal(#[from] NotSendable),
    /// The link's own file.
    #[error("what is known of the hub cannot be kept: {0}: {detail}", detail = .0.detail())]
    Store(#[from] StoreError),
    /// The hub answered something that cannot be.
    #[error("the hub names {named} entries as stored, after {sent} were sent")]
    Nonsense {
        /// What it names.
        named: u64,
        /// What it must have.
        sent: u64,
    },
}

impl RoundFault {
    /// Whether trying again soon can help. A refused journal stays refused until somebody has looked at it.
    pub const fn passes(&self) -> bool {
        match self {
            Self::Call(CallFault::Refused { status, .. }) => *status >= 500 || *status == 408,
            Self::Call(CallFault::Address(_)) | Self::Nonsense { .. } => false,
            Self::Call(CallFault::Away(_) | CallFault::Foreign(_)) | Self::Journal(_) | Self::Store(_) => true,
        }
    }
}

/// Sends one kiosk's journal to one hub.
pub struct Sender {
    folder: PathBuf,
    store: LinkStore,
    client: HubClient,
    clock: Arc<dyn Clock>,
    /// What the hub has, by its own word since the last interruption, and of which file.
    known: Option<(String, JournalState)>,
}

impl Sender {
    /// A sender to the hub that this folder's kiosk was paired with.
    ///
    /// # Errors
    /// When the address is not usable.
    pub fn new(folder: PathBuf, store: LinkStore, paired: &Paired, clock: Arc<dyn Clock>) -> Result<Self, CallFault> {
        Ok(Self { folder, store, client: HubClient::of(paired)?, clock, known: None })
    }

    /// What the hub had named as stored when it was heard last.
    pub fn stored(&self) -> u64 {
        let journal = Outgoing::open(&self.folder.join(open::DATABASE)).ok();
        let stored = journal.and_then(|journal| self.store.stored(&journal.station().incarnation).ok());
        stored.unwrap_or(0)
    }

    /// One round; `now` is told after every batch.
    ///
    /// # Errors
    /// [`RoundFault`]; whatever the hub has named as stored until then is kept.
    pub async fn round(&mut self, now: &Now) -> Result<(), RoundFault> {
        let done = self.send(now).await;
        if done.is_err() {
            // What of the last batch arrived, the hub alone knows.
            self.known = None;
        }
        done?;
        self.fetch().await
    }

    async fn send(&mut self, now: &Now) -> Result<(), RoundFault> {
        let journal = Outgoing::open(&self.folder.join(open::DATABASE))?;
        let incarnation = journal.station().incarnation.clone();
        let mut known = match self.known.take() {
            Some((of, known)) if of == incarnation => known,
            Some(_) | None => {
                let known = self.client.state(&incarnation).await?;
                self.store.set_stored(&incarnation, known.stored)?;
                known
            }
        };
        now.set(State::Heard { stored: known.stored });
        while known.stored != journal.size() || known.vouched != journal.size() {
            known = self.push(&journal, &known).await?;
            self.store.set_stored(&incarnation, known.stored)?;
            now.set(State::Heard { stored: known.stored });
        }
        self.known = Some((incarnation, known));
        Ok(())
    }

    async fn push(&self, journal: &Outgoing, known: &JournalState) -> Result<JournalState, RoundFault> {
        // A journal shorter than what the hub vouches for is sent nonetheless: that it was cut is the hub's to say.
        let from = known.stored.min(journal.size()) + 1;
        let batch = journal.batch(from, ENTRIES_MOST, BATCH_BYTES_MOST)?;
        let up_to = batch.last().map_or(known.stored.min(journal.size()), |(seq, _)| *seq);
        let growth = if known.vouched <= journal.size() { journal.consistency(known.vouched)? } else { Vec::new() };
        let request = PushRequest {
            head: journal.note().to_owned(),
            growth: hashes_out(&growth),
            from,
            entries: batch.iter().map(|(_, bytes)| bytes_out(bytes)).collect(),
            covered: hashes_out(&journal.consistency(up_to)?),
            clock_ms: Some(self.clock.now().wall.as_millisecond()),
        };
        let reply = self.client.push(&journal.station().incarnation, &request).await?;
        if !reply.quarantined.is_empty() {
            tracing::warn!(entries = ?reply.quarantined, "the hub keeps entries that it does not understand");
        }
        // A hub that stored nothing of it and does not say why would be sent the same for ever.
        if reply.stored < up_to {
            return Err(RoundFault::Nonsense { named: reply.stored, sent: up_to });
        }
        Ok(JournalState { stored: reply.stored, vouched: reply.vouched })
    }

    async fn fetch(&mut self) -> Result<(), RoundFault> {
        loop {
            let after = self.store.cursor()?;
            let mut pulled = self.client.pull(after).await?;
            let is_all = pulled.entries.is_empty();
            if pulled.next < after {
                // The hub's feed was begun anew: read it from its beginning; what is here already stays.
                pulled.next = 0;
            }
            if pulled.next != after || !is_all {
                self.store.hear(&pulled)?;
            }
            if is_all {
                return Ok(());
            }
        }
    }
}
