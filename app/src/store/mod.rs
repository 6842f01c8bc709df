//! The journal on disk, and what is worked out from it.
//!
//! One file `kiosk.db` in one folder, one process at a time, one durable transaction for each append: the entries,
//! their place in the tree, the index by visit, the derived records and the newly signed head stand or fall together.
//! What is returned as stored is on the disk; what is returned as an error is not, or the error says so.

/// The program's databases beside the journal.
pub(crate) mod beside;
/// `sparkout journal`.
pub mod command;
/// The short root of every day.
pub mod days;
/// `sparkout journal export`.
mod export;
/// What can go wrong with the disk, in words.
pub mod fault;
/// The journal over SQLite.
pub mod journal;
/// The station's signing key.
pub mod keys;
/// The stored hashes read in order.
mod levels;
/// A journal in memory that can be told to fail, for rehearsals and tests.
pub mod memory;
/// Opening the folder: lock, version, key, head.
pub mod open;
/// The pepper beside the journal, and the hashes of PINs.
pub mod pepper;
/// Proving one entry.
pub mod prove;
/// Opening a journal that is somebody else's to write.
pub mod read_only;
/// Putting a backup back.
pub mod restore;
/// Rows of its tables.
mod rows;
/// The schema's versions.
pub mod schema;
/// What is sent to the hub.
pub(crate) mod sending;
/// The signatures of all heads.
mod signatures;
/// Proving that nothing was changed.
pub mod verify;
/// The witness on a thread of its own.
pub mod vouching;
/// The entries walked along.
mod walk;
/// Whether the wall clock was turned.
pub mod wall_clock;
/// A head kept on another disk.
pub mod witness;

#[cfg(test)]
pub(crate) mod tests;

pub use command::JournalCommand;
pub use fault::{OpenFailure, StoreError};
pub use journal::SqliteRecord;
pub use memory::MemoryRecord;
pub use open::open;
pub use pepper::{Pepper, PinHash};

use sparkout_core::journal::Hash;

/// One entry to be appended.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewEntry {
    /// The visit that it belongs to, where it belongs to one.
    pub visit: Option<String>,
    /// The exact bytes that are hashed and kept, 1 byte to 1 MiB.
    pub bytes: Vec<u8>,
}

/// A change of what is worked out from the journal, made in the same transaction as the entries it follows from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum DerivedWrite {
    /// Writes a record, over an older one of the same kind and key.
    Put {
        /// What kind of record, for instance a unit's card.
        kind: String,
        /// Which of its kind.
        key: String,
        /// The record.
        body: String,
    },
    /// Removes a record; one that is not there is no error.
    Remove {
        /// What kind of record.
        kind: String,
        /// Which of its kind.
        key: String,
    },
    /// Writes what a badge's PIN is compared with, or takes it away. It stands in a table of its own, which
    /// [`Record::rebuild_derived`] leaves alone: it follows from no entry.
    Pin {
        /// Whose.
        badge: String,
        /// The hash; `None` takes it away.
        hash: Option<PinHash>,
    },
}

/// What an append left on the disk.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stored {
    /// The sequence number of the last entry, from 1.
    pub seq: u64,
    /// The root over all entries up to it.
    pub root: Hash,
}

/// The journal's newest head.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Head {
    /// How many entries.
    pub size: u64,
    /// The root over them.
    pub root: Hash,
    /// The signed note that says both, to be kept by another machine.
    pub note: String,
}

/// An entry with its sequence number.
pub type NumberedEntry = (u64, Vec<u8>);

/// Works out from an entry (sequence number and bytes) what its derived records are.
pub type Project<'a> = dyn FnMut(u64, &[u8]) -> Vec<DerivedWrite> + 'a;

/// The seam: what the kiosk needs of its disk. A test gives it one that fails.
pub trait Record: Send {
    /// Appends entries and changes derived records in one durable transaction. Without entries nothing is derived
    /// from anything, so derived records alone are refused.
    ///
    /// # Errors
    /// [`StoreError`]; nothing of it is stored then.
    fn append(&mut self, entries: &[NewEntry], derived: &[DerivedWrite]) -> Result<Stored, StoreError>;

    /// Entries from this sequence number on, `most` at the most, in order.
    ///
    /// # Errors
    /// [`StoreError`].
    fn entries(&self, from_seq: u64, most: usize) -> Result<Vec<NumberedEntry>, StoreError>;

    /// All entries of one visit, in order.
    ///
    /// # Errors
    /// [`StoreError`].
    fn entries_of_visit(&self, visit: &str) -> Result<Vec<NumberedEntry>, StoreError>;

    /// One derived record.
    ///
    /// # Errors
    /// [`StoreError`].
    fn derived(&self, kind: &str, key: &str) -> Result<Option<String>, StoreError>;

    /// All derived records of a kind as (key, body), by key.
    ///
    /// # Errors
    /// [`StoreError`].
    fn derived_all(&self, kind: &str) -> Result<Vec<(String, String)>, StoreError>;

    /// What a badge's PIN is compared with, where it has one.
    ///
    /// # Errors
    /// [`StoreError`].
    fn pin_hash(&self, badge: &str) -> Result<Option<PinHash>, StoreError>;

    /// The badges that have a PIN, in order.
    ///
    /// # Errors
    /// [`StoreError`].
    fn pinned(&self) -> Result<Vec<String>, StoreError>;

    /// The newest signed head.
    ///
    /// # Errors
    /// [`StoreError`].
    fn head(&self) -> Result<Head, StoreError>;

    /// The key that signs labels; none where nobody signs, as in practice.
    fn signer(&self) -> Option<&keys::StationKey> {
        None
    }

    /// What proves that the journal begins with its first `older` entries: for a witness that has seen those.
    ///
    /// # Errors
    /// [`StoreError`], also when there are fewer.
    fn consistency(&self, older: u64) -> Result<Vec<Hash>, StoreError>;

    /// Looks through the file for damage, and at the newest entries against the signed head. It reads the whole
    /// file, so it belongs behind the first screen; no event may be accepted before it ends.
    ///
    /// # Errors
    /// [`StoreError::Corrupt`], or why it could not be looked at.
    fn check(&self) -> Result<(), StoreError>;

    /// Drops all derived records and works them out again from the first entry on, in one transaction.
    /// The index by visit stays: it was given with each entry and is not read out of the bytes.
    ///
    /// # Errors
    /// [`StoreError`]; the old records stand then.
    fn rebuild_derived(&mut self, project: &mut Project<'_>) -> Result<(), StoreError>;
}
