//! What of a journal is sent: read beside the kiosk that goes on writing, without a lock that it would have to wait for.

use super::journal::{self, Station};
use super::read_only::{ReadOnlyJournal, Unreadable};
use super::rows::{node, read_entries};
use super::{NumberedEntry, StoreError};
use rusqlite::OptionalExtension;
use sparkout_core::journal::checkpoint::NamedKey;
use sparkout_core::journal::stored::{StoredError, Subtrees};
use sparkout_core::journal::{Checkpoint, Hash};
use std::path::Path;
use thiserror::Error;

/// Why there is nothing to send.
#[derive(Debug, Error)]
pub enum NotSendable {
    /// The file cannot be read.
    #[error(transparent)]
    Unreadable(#[from] Unreadable),
    /// What is in it does not fit.
    #[error("{0}: {detail}", detail = .0.detail())]
    Store(#[from] StoreError),
}

/// A journal as it stood at one moment.
pub struct Outgoing {
    file: ReadOnlyJournal,
    /// Which log.
    station: Station,
    head: Checkpoint,
    note: String,
}

impl Outgoing {
    /// Takes the moment.
    ///
    /// # Errors
    /// [`NotSendable`].
    pub fn open(database: &Path) -> Result<Self, NotSendable> {
        let file = ReadOnlyJournal::open(database)?;
        let missing = |what: &str| StoreError::corrupt(what);
        let station = journal::station(file.connection())?.ok_or_else(|| missing("it does not say whose it is"))?;
        let newest = "SELECT size, root, signature FROM checkpoint ORDER BY size DESC LIMIT 1";
        let read = |row: &rusqlite::Row<'_>| {
            Ok((row.get::<_, i64>(0)?.unsigned_abs(), row.get::<_, [u8; 32]>(1)?, row.get::<_, [u8; 64]>(2)?))
        };
        let found = file.connection().query_row(newest, [], read).optional().map_err(StoreError::from)?;
        let (size, root, signature) = found.ok_or_else(|| missing("there is no signed head"))?;
        let head = station.checkpoint(size, Hash::from_bytes(root));
        let note = head.note(&station.key, &signature);
        Ok(Self { file, station, head, note })
    }

    /// The log's key under its origin.
    pub const fn key(&self) -> &NamedKey {
        &self.station.key
    }

    /// Which log.
    pub const fn station(&self) -> &Station {
        &self.station
    }

    /// How many entries there are.
    pub const fn size(&self) -> u64 {
        self.head.size
    }

    /// The newest signed head.
    pub fn note(&self) -> &str {
        &self.note
    }

    /// Entries from this number on, `most` at the most and `bytes_most` bytes together, but one at least.
    ///
    /// # Errors
    /// [`StoreError`].
    pub fn batch(&self, from: u64, most: usize, bytes_most: usize) -> Result<Vec<NumberedEntry>, StoreError> {
        let mut bytes = 0;
        let mut batch = read_entries(self.file.connection(), from, most)?;
        let fits = batch.iter().take_while(|(_, entry)| {
            bytes += entry.len();
            bytes <= bytes_most
        });
        let fits = fits.count().max(1);
        batch.truncate(fits);
        Ok(batch)
    }

    /// What proves that the journal begins with its first `older` entries.
    ///
    /// # Errors
    /// [`StoreError`].
    pub fn consistency(&self, older: u64) -> Result<Vec<Hash>, StoreError> {
        let look_up = |level, index| node(self.file.connection(), (level, index)).map(Some);
        Subtrees::new(self.head.size, look_up).consistency(older, self.head.size).map_err(|error| match error {
            StoredError::Store(error) => error,
            StoredError::Proof(_) | StoredError::Missing { .. } => StoreError::Other { detail: error.to_string() },
        })
    }
}
