//! What the kiosk knows of its hub, in a file beside the journal.

use crate::hub::tls::Fingerprint;
use crate::hub::wire::{PullReply, bytes_in};
use crate::store::StoreError;
use crate::store::beside::{self, Kind};
use rusqlite::{Connection, OptionalExtension, TransactionBehavior, params};
use std::fs::OpenOptions;
use std::path::{Path, PathBuf};

/// The file in the journal's folder.
const DATABASE: &str = "link.db";
const KIND: Kind = Kind {
    migrations: &[include_str!("../../../migrations/link/0001_link.sql")],
    // "SPKL"
    application_id: 0x5350_4b4c,
};

/// The hub of this kiosk.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Paired {
    /// Where it answers, with its scheme.
    pub address: String,
    /// Its authority; none where the hub is on this machine and speaks plainly.
    pub fingerprint: Option<Fingerprint>,
    /// This kiosk's token.
    pub token: String,
}

/// The file.
pub struct LinkStore(Connection);

fn file(folder: &Path) -> PathBuf {
    folder.join(DATABASE)
}

fn row_number(number: u64) -> i64 {
    i64::try_from(number).unwrap_or(i64::MAX)
}

impl LinkStore {
    /// Whether there is one in this folder.
    pub fn is_in(folder: &Path) -> bool {
        file(folder).exists()
    }

    /// Opens it, and makes it where it is not.
    ///
    /// # Errors
    /// [`StoreError`].
    pub fn open(folder: &Path) -> Result<Self, StoreError> {
        let file = file(folder);
        // SQLite would let everybody read it; what it makes beside the file gets the file's own mode.
        let mut options = OpenOptions::new();
        options.create(true).append(true);
        #[cfg(unix)]
        std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
        options
            .open(&file)
            .map_err(|error| StoreError::Unwritable { detail: format!("{}: {error}", file.display()) })?;
        beside::open(&file, KIND).map(Self)
    }

    /// The hub; none before it was paired.
    ///
    /// # Errors
    /// [`StoreError`].
    pub fn paired(&self) -> Result<Option<Paired>, StoreError> {
        let read = |row: &rusqlite::Row<'_>| Ok((row.get(0)?, row.get::<_, Option<String>>(1)?, row.get(2)?));
        let found = self.0.query_row("SELECT address, fingerprint, token FROM hub", [], read).optional()?;
        let Some((address, pinned, token)) = found else { return Ok(None) };
        let fingerprint = pinned.as_deref().map(|text| {
            let damaged = || StoreError::Corrupt { detail: "the hub's fingerprint is none".to_owned() };
            Fingerprint::parse(text).ok_or_else(damaged)
        });
        Ok(Some(Paired { address, fingerprint: fingerprint.transpose()?, token }))
    }

    /// Writes the hub over an older one. Another hub has another feed, so reading begins anew.
    ///
    /// # Errors
    /// [`StoreError`].
    pub fn pair(&mut self, paired: &Paired) -> Result<(), StoreError> {
        let transaction = self.0.transaction_with_behavior(TransactionBehavior::Immediate)?;
        transaction.execute(
            "INSERT OR REPLACE INTO hub (only, address, fingerprint, token) VALUES (1, ?1, ?2, ?3)",
            params![paired.address, paired.fingerprint.map(|pin| pin.to_string()), paired.token],
        )?;
        transaction.execute_batch("DELETE FROM cursor; DELETE FROM sent;")?;
        Ok(transaction.commit()?)
    }

    /// What the hub has named as stored of this journal.
    ///
    /// # Errors
    /// [`StoreError`].
    pub fn stored(&self, incarnation: &str) -> Result<u64, StoreError> {
        let sql = "SELECT stored FROM sent WHERE incarnation = ?1";
        let stored: Option<i64> = self.0.query_row(sql, [incarnation], |row| row.get(0)).optional()?;
        Ok(stored.unwrap_or(0).unsigned_abs())
    }

    /// The hub has named this much as stored, be it more or less than before.
    ///
    /// # Errors
    /// [`StoreError`].
    pub fn set_stored(&self, incarnation: &str, stored: u64) -> Result<(), StoreError> {
        let sql = "INSERT OR REPLACE INTO sent (incarnation, stored) VALUES (?1, ?2)";
        self.0.execute(sql, params![incarnation, row_number(stored)])?;
        Ok(())
    }

    /// Where to go on reading the feed.
    ///
    /// # Errors
    /// [`StoreError`].
    pub fn cursor(&self) -> Result<u64, StoreError> {
        let after: Option<i64> = self.0.query_row("SELECT after FROM cursor", [], |row| row.get(0)).optional()?;
        Ok(after.unwrap_or(0).unsigned_abs())
    }

    /// Keeps entries of others and where to go on, both or neither. One that is here already stays.
    ///
    /// # Errors
    /// [`StoreError`], also when an entry is not base64.
    pub fn hear(&mut self, pulled: &PullReply) -> Result<(), StoreError> {
        let transaction = self.0.transaction_with_behavior(TransactionBehavior::Immediate)?;
        for entry in &pulled.entries {
            let damaged = || StoreError::Corrupt { detail: "the hub sent an entry that is not base64".to_owned() };
            let bytes = bytes_in(&entry.bytes).ok_or_else(damaged)?;
            let sql = "INSERT OR IGNORE INTO heard (station, incarnation, seq, bytes) VALUES (?1, ?2, ?3, ?4)";
            let row = params![entry.station, entry.incarnation, row_number(entry.seq), bytes];
            transaction.prepare_cached(sql)?.execute(row)?;
        }
        let sql = "INSERT OR REPLACE INTO cursor (only, after) VALUES (1, ?1)";
        transaction.execute(sql, [row_number(pulled.next)])?;
        Ok(transaction.commit()?)
    }
}
