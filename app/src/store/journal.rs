//! The journal over SQLite.

use super::fault::{OpenFailure, StoreError};
use super::keys::{self, StationKey};
use super::open::{self, FolderLock};
use super::rows::{node, numbered, read_entries, row_number, write_derived, write_entry};
use super::schema;
use super::{DerivedWrite, Head, NewEntry, NumberedEntry, PinHash, Project, Record, Stored};
use rusqlite::{Connection, OptionalExtension, Row, Transaction, TransactionBehavior, params};
use sparkout_core::journal::checkpoint::NamedKey;
use sparkout_core::journal::merkle;
use sparkout_core::journal::stored::{StoredError, Subtrees};
use sparkout_core::journal::{Checkpoint, Hash, Tree};
use std::path::PathBuf;

/// Entries read at a time where all are read.
const PAGE: usize = 1000;
/// The newest entries that the check at the start compares with their hashes: those a power cut could have hit.
const CHECKED_ENTRIES: u64 = 256;

/// Which log this is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Station {
    /// The station's id, which follows from its key.
    pub station: String,
    /// This file's own id: another file of the same station is another log.
    pub incarnation: String,
    /// The log's name in every head.
    pub origin: String,
    /// The key that signs, by the name under which it does, which is the origin.
    pub key: NamedKey,
}

/// The head as the file has it: checked against its own signature.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OnDisk {
    tree: Tree,
    signature: [u8; 64],
}

/// The journal of one folder. It holds the folder's lock as long as it lives.
pub struct SqliteRecord {
    folder: PathBuf,
    /// None after a commit failed and the file could not be opened again.
    connection: Option<Connection>,
    station: Station,
    key: StationKey,
    on_disk: OnDisk,
    /// What a failed commit was to make of the journal, until the file itself has said whether it did.
    in_doubt: Option<Tree>,
    _lock: FolderLock,
}

impl Station {
    /// The log that this key begins.
    ///
    /// # Errors
    /// [`StoreError::Other`] when the origin cannot name a key.
    pub fn new(key: &StationKey, incarnation: String) -> Result<Self, StoreError> {
        let station = key.station();
        let origin = format!("sparkout/{station}/{incarnation}");
        let key = NamedKey::new(&origin, key.public_key());
        let key = key.map_err(|error| StoreError::Other { detail: error.to_string() })?;
        Ok(Self { station, incarnation, origin, key })
    }

    /// The head of this log with this tree.
    pub fn checkpoint(&self, size: u64, root: Hash) -> Checkpoint {
        Checkpoint { origin: self.origin.clone(), size, root }
    }
}

/// Which log the file is; `None` in a file that was never begun.
///
/// # Errors
/// [`StoreError`].
pub fn station(connection: &Connection) -> Result<Option<Station>, StoreError> {
    let sql = "SELECT station, incarnation, origin, public_key FROM station";
    let read = |row: &Row<'_>| Ok((row.get(0)?, row.get(1)?, row.get::<_, String>(2)?, row.get::<_, [u8; 32]>(3)?));
    let Some((station, incarnation, origin, public_key)) = connection.query_row(sql, [], read).optional()? else {
        return Ok(None);
    };
    let key = NamedKey::new(&origin, public_key).map_err(|error| StoreError::corrupt(error.to_string()))?;
    Ok(Some(Station { station, incarnation, origin, key }))
}

/// The newest head as it stands in the file, as a whole note and as what it says. It is not checked here.
///
/// # Errors
/// [`StoreError`], also when there is none.
pub(super) fn newest_head(connection: &Connection) -> Result<(String, Checkpoint), StoreError> {
    let station = station(connection)?.ok_or_else(|| StoreError::corrupt("the journal does not say whose it is"))?;
    let newest = "SELECT size, root, signature FROM checkpoint ORDER BY size DESC LIMIT 1";
    let read = |row: &Row<'_>| Ok((row.get::<_, i64>(0)?, row.get::<_, [u8; 32]>(1)?, row.get::<_, [u8; 64]>(2)?));
    let head = connection.query_row(newest, [], read).optional()?;
    let (size, root, signature) = head.ok_or_else(|| StoreError::corrupt("there is no signed head"))?;
    let head = station.checkpoint(size.unsigned_abs(), Hash::from_bytes(root));
    Ok((head.note(&station.key, &signature), head))
}

/// Begins a log: whose it is, which log it goes on from if it does, and the signed head of nothing.
///
/// # Errors
/// [`StoreError`].
pub fn begin(
    connection: &mut Connection,
    station: &Station,
    key: &StationKey,
    parent: Option<&str>,
) -> Result<(), StoreError> {
    let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
    transaction.execute(
        "INSERT INTO station (only, station, incarnation, parent, origin, public_key) VALUES (1, ?1, ?2, ?5, ?3, ?4)",
        params![station.station, station.incarnation, station.origin, station.key.public_key(), parent],
    )?;
    sign_head(&transaction, station, key, &Tree::new())?;
    Ok(transaction.commit()?)
}

/// The newest head, checked: size, root from the stored subtrees, signature, and the last entry's own hash.
///
/// # Errors
/// [`StoreError::Corrupt`] with what does not fit.
pub fn read_head(connection: &Connection, station: &Station) -> Result<OnDisk, StoreError> {
    let size: i64 = connection.query_row("SELECT coalesce(max(seq), 0) FROM journal", [], |row| row.get(0))?;
    let newest = "SELECT size, root, signature FROM checkpoint ORDER BY size DESC LIMIT 1";
    let read = |row: &Row<'_>| Ok((row.get::<_, i64>(0)?, row.get::<_, [u8; 32]>(1)?, row.get::<_, [u8; 64]>(2)?));
    let head = connection.query_row(newest, [], read).optional()?;
    let (signed_size, root, signature) = head.ok_or_else(|| StoreError::corrupt("there is no signed head"))?;
    if signed_size != size {
        return Err(StoreError::corrupt(format!("{size} entries, and a head signed for {signed_size}")));
    }
    let size = size.unsigned_abs();
    let root = Hash::from_bytes(root);
    let frontier =
        merkle::frontier_places(size).into_iter().map(|place| node(connection, place)).collect::<Result<_, _>>()?;
    let tree = Tree::from_frontier(size, frontier).map_err(|error| StoreError::corrupt(error.to_string()))?;
    if tree.root() != root {
        return Err(StoreError::corrupt(format!("the hashes of {size} entries do not lead to the signed root")));
    }
    let checked = station.checkpoint(size, root).verify(&station.key, &signature, |text, signature| {
        keys::is_signed_by(station.key.public_key(), text, signature)
    });
    checked.map_err(|error| StoreError::corrupt(format!("the head of {size} entries: {error}")))?;
    newest_entries_fit(connection, size, 1)?;
    Ok(OnDisk { tree, signature })
}

fn newest_entries_fit(connection: &Connection, size: u64, most: u64) -> Result<(), StoreError> {
    let first = size.saturating_sub(most) + 1;
    for (seq, leaf) in read_entries(connection, first, usize::MAX)? {
        if node(connection, (0, seq - 1))? != merkle::leaf_hash(&leaf) {
            return Err(StoreError::corrupt(format!("entry {seq} is not the one that was hashed")));
        }
    }
    Ok(())
}

pub(super) fn sign_head(
    transaction: &Transaction<'_>,
    station: &Station,
    key: &StationKey,
    tree: &Tree,
) -> Result<[u8; 64], StoreError> {
    let root = tree.root();
    let signature = station.checkpoint(tree.size(), root).sign(|text| key.sign(text));
    transaction
        .prepare_cached("INSERT INTO checkpoint (size, root, signature) VALUES (?1, ?2, ?3)")?
        .execute(params![row_number(tree.size()), root.as_bytes(), signature])?;
    Ok(signature)
}

impl SqliteRecord {
    pub(super) const fn new(
        folder: PathBuf,
        connection: Connection,
        station: Station,
        key: StationKey,
        on_disk: OnDisk,
        lock: FolderLock,
    ) -> Self {
        Self { folder, connection: Some(connection), station, key, on_disk, in_doubt: None, _lock: lock }
    }

    /// Which log this is, for a daily sheet and for pairing.
    pub const fn station(&self) -> &Station {
        &self.station
    }

    /// Closes a file that [`Record::check`] found damaged and sets it aside untouched.
    pub fn retire(mut self, detail: String) -> OpenFailure {
        if let Some(connection) = self.connection.take() {
            open::leave_untouched(connection);
        }
        open::corrupt(&self.folder, detail)
    }

    pub(super) fn connection(&self) -> Result<&Connection, StoreError> {
        self.connection.as_ref().ok_or_else(closed)
    }

    /// Writes all of it in one transaction. When it was the commit that failed, `in_doubt` is left set.
    fn write(&mut self, entries: &[NewEntry], derived: &[DerivedWrite]) -> Result<OnDisk, StoreError> {
        let connection = self.connection.as_mut().ok_or_else(closed)?;
        let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
        let mut tree = self.on_disk.tree.clone();
        for entry in entries {
            write_entry(&transaction, &mut tree, entry)?;
        }
        let signature = sign_head(&transaction, &self.station, &self.key, &tree)?;
        for write in derived {
            write_derived(&transaction, tree.size(), write)?;
        }
        if let Err(error) = transaction.commit() {
            self.in_doubt = Some(tree);
            return Err(error.into());
        }
        Ok(OnDisk { tree, signature })
    }

    /// After a failed commit nothing in memory may be believed, and neither may the system's cache: a failed fsync
    /// can leave pages there that count as written and are not. Closing and opening anew asks the file itself.
    fn reopen(&mut self) -> Result<(), StoreError> {
        if let Some(connection) = self.connection.take() {
            open::leave_untouched(connection);
        }
        let connection = open::connect(&self.folder.join(open::DATABASE))?;
        let found = read_head(&connection, &self.station)?;
        let is_in_doubt = self.in_doubt.as_ref().is_some_and(|tree| *tree == found.tree);
        if is_in_doubt {
            // It is there, as far as can be read. Having the log written into the file and synced makes it so.
            let sql = "PRAGMA wal_checkpoint(TRUNCATE)";
            let busy: i64 = connection.query_row(sql, [], |row| row.get(0))?;
            if busy != 0 {
                return Err(StoreError::Unwritable { detail: "the log could not be written into the file".to_owned() });
            }
        } else if found.tree != self.on_disk.tree {
            let (size, known) = (found.tree.size(), self.on_disk.tree.size());
            return Err(StoreError::corrupt(format!("the file has {size} entries where {known} were stored")));
        }
        self.in_doubt = None;
        self.on_disk = found;
        self.connection = Some(connection);
        Ok(())
    }

    /// Opens the file again when an earlier append left it closed.
    fn settle(&mut self) -> Result<(), StoreError> {
        if self.connection.is_some() {
            return Ok(());
        }
        let known = self.on_disk.tree.size();
        self.reopen()?;
        if self.on_disk.tree.size() > known { Err(StoreError::Reload { from_seq: known + 1 }) } else { Ok(()) }
    }

    fn stored(&self) -> Stored {
        Stored { seq: self.on_disk.tree.size(), root: self.on_disk.tree.root() }
    }
}

fn closed() -> StoreError {
    StoreError::Unwritable { detail: "the file is closed after a failed write".to_owned() }
}

impl Record for SqliteRecord {
    fn append(&mut self, entries: &[NewEntry], derived: &[DerivedWrite]) -> Result<Stored, StoreError> {
        self.settle()?;
        if entries.is_empty() {
            return if derived.is_empty() {
                Ok(self.stored())
            } else {
                Err(StoreError::Other { detail: "derived records without an entry".to_owned() })
            };
        }
        match self.write(entries, derived) {
            Ok(on_disk) => self.on_disk = on_disk,
            Err(error) => {
                tracing::error!(detail = error.detail(), "append failed");
                let known = self.on_disk.tree.size();
                if let Err(again) = self.reopen() {
                    tracing::error!(detail = again.detail(), "the journal could not be opened again");
                    return Err(if matches!(again, StoreError::Corrupt { .. }) { again } else { error });
                }
                if self.on_disk.tree.size() == known {
                    return Err(error);
                }
            }
        }
        Ok(self.stored())
    }

    fn entries(&self, from_seq: u64, most: usize) -> Result<Vec<NumberedEntry>, StoreError> {
        read_entries(self.connection()?, from_seq, most)
    }

    fn entries_of_visit(&self, visit: &str) -> Result<Vec<NumberedEntry>, StoreError> {
        let sql = "SELECT seq, leaf FROM visit_entry JOIN journal USING (seq) WHERE visit = ?1 ORDER BY seq";
        let mut statement = self.connection()?.prepare_cached(sql)?;
        let entries = statement.query_map([visit], numbered)?.collect::<Result<_, _>>()?;
        Ok(entries)
    }

    fn derived(&self, kind: &str, key: &str) -> Result<Option<String>, StoreError> {
        let sql = "SELECT body FROM derived WHERE kind = ?1 AND key = ?2";
        Ok(self.connection()?.prepare_cached(sql)?.query_row([kind, key], |row| row.get(0)).optional()?)
    }

    fn derived_all(&self, kind: &str) -> Result<Vec<(String, String)>, StoreError> {
        let sql = "SELECT key, body FROM derived WHERE kind = ?1 ORDER BY key";
        let mut statement = self.connection()?.prepare_cached(sql)?;
        let records = statement.query_map([kind], |row| Ok((row.get(0)?, row.get(1)?)))?.collect::<Result<_, _>>()?;
        Ok(records)
    }

    fn pin_hash(&self, badge: &str) -> Result<Option<PinHash>, StoreError> {
        let sql = "SELECT hash FROM pin WHERE badge = ?1";
        let hash = self.connection()?.prepare_cached(sql)?.query_row([badge], |row| row.get(0)).optional()?;
        Ok(hash.map(PinHash::from_text))
    }

    fn pinned(&self) -> Result<Vec<String>, StoreError> {
        let mut statement = self.connection()?.prepare_cached("SELECT badge FROM pin ORDER BY badge")?;
        let badges = statement.query_map([], |row| row.get(0))?.collect::<Result<_, _>>()?;
        Ok(badges)
    }

    fn head(&self) -> Result<Head, StoreError> {
        let (size, root) = (self.on_disk.tree.size(), self.on_disk.tree.root());
        let note = self.station.checkpoint(size, root).note(&self.station.key, &self.on_disk.signature);
        Ok(Head { size, root, note })
    }

    fn signer(&self) -> Option<&StationKey> {
        Some(&self.key)
    }

    fn consistency(&self, older: u64) -> Result<Vec<Hash>, StoreError> {
        let (connection, size) = (self.connection()?, self.on_disk.tree.size());
        Subtrees::new(size, |level, index| node(connection, (level, index)).map(Some)).consistency(older, size).map_err(
            |error| match error {
                StoredError::Store(error) => error,
                StoredError::Proof(_) | StoredError::Missing { .. } => StoreError::Other { detail: error.to_string() },
            },
        )
    }

    fn check(&self) -> Result<(), StoreError> {
        let connection = self.connection()?;
        let found: String = connection.query_row("PRAGMA quick_check(1)", [], |row| row.get(0))?;
        if found != "ok" {
            return Err(StoreError::corrupt(found));
        }
        let altered = schema::altered(connection)?;
        if !altered.is_empty() {
            return Err(StoreError::corrupt(format!("not as they were made: {}", altered.join(", "))));
        }
        if read_head(connection, &self.station)? != self.on_disk {
            return Err(StoreError::corrupt("the file's head is not the one that was stored last"));
        }
        newest_entries_fit(connection, self.on_disk.tree.size(), CHECKED_ENTRIES)
    }

    fn rebuild_derived(&mut self, project: &mut Project<'_>) -> Result<(), StoreError> {
        self.settle()?;
        let connection = self.connection.as_mut().ok_or_else(closed)?;
        let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
        transaction.execute("DELETE FROM derived", [])?;
        let mut from_seq = 1;
        loop {
            let page = read_entries(&transaction, from_seq, PAGE)?;
            let Some((last, _)) = page.last() else { break };
            from_seq = last + 1;
            for (seq, bytes) in &page {
                for write in project(*seq, bytes) {
                    write_derived(&transaction, *seq, &write)?;
                }
            }
        }
        Ok(transaction.commit()?)
    }
}

/// What a test needs to bring about a failed commit that was stored after all.
#[cfg(test)]
impl SqliteRecord {
    pub(super) const fn on_disk_for_test(&self) -> &OnDisk {
        &self.on_disk
    }

    pub(super) fn leave_in_doubt_for_test(&mut self, wanted: &OnDisk) {
        self.in_doubt = Some(wanted.tree.clone());
        self.connection = None;
    }
}
