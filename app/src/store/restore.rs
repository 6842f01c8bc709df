//! `sparkout journal restore`: a backup put back, or a cloned card, goes on as a log of its own.
//!
//! Two files that both went on as the same log would be two histories under one name, and a witness would see a fork
//! where nobody meant one. So whatever was put back is another incarnation: its entries begin with those of the log
//! that it came from, byte for byte, and the next one names that log by its whole signed head.

use super::journal::{self, SqliteRecord, Station};
use super::keys::{self, StationKey};
use super::open::{self, DATABASE};
use super::read_only::{ReadOnlyJournal, Unreadable};
use super::rows::{row_number, write_entry};
use super::verify::{Finding, verify};
use super::{NewEntry, OpenFailure, StoreError, schema};
use rusqlite::{Connection, TransactionBehavior, params};
use sparkout_core::entry::{Entry, EntryBody};
use sparkout_core::journal::{Checkpoint, SignedCheckpoint, Tree};
use sparkout_core::moment::Moment;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use thiserror::Error;

/// Where the new file is made, until it is whole.
const PART: &str = "kiosk.db.part";

/// What was put back, and as what.
#[derive(Debug)]
pub struct Restored {
    /// The head of the log that it goes on from.
    pub parent: Checkpoint,
    /// The new log's name.
    pub origin: String,
    /// Where the file went that stood in the folder, if one did.
    pub set_aside: Option<PathBuf>,
}

/// Why nothing was put back.
#[derive(Debug, Error)]
pub enum NotRestored {
    /// The file cannot be read.
    #[error(transparent)]
    Unreadable(#[from] Unreadable),
    /// What fails verification is evidence, and no beginning.
    #[error("the file fails verification, so it is not put back: {0}")]
    Fails(Finding),
    /// The folder is not there for us.
    #[error("{0}")]
    Folder(#[from] OpenFailure),
    /// The new file could not be written.
    #[error("{0} ({detail})", detail = .0.detail())]
    Store(#[from] StoreError),
    /// The system does not let us.
    #[error("{}: {error}", file.display())]
    File {
        /// Which file.
        file: PathBuf,
        /// What the system said.
        error: io::Error,
    },
}

/// Puts the journal in `from` into a folder as a new incarnation. What stood there is set aside untouched.
///
/// # Errors
/// [`NotRestored`]; the folder's journal is then as it was.
pub fn restore(from: &Path, folder: &Path, at: &Moment) -> Result<Restored, NotRestored> {
    let found = ReadOnlyJournal::open(from)?;
    if let Some(finding) = verify(&found, None)?.findings.into_iter().next() {
        return Err(NotRestored::Fails(finding));
    }
    let fault = |file: &Path| {
        let file = file.to_owned();
        move |error| NotRestored::File { file, error }
    };
    fs::create_dir_all(folder).map_err(fault(folder))?;
    let _lock = open::lock(folder)?;
    let part = folder.join(PART);
    for ending in ["", "-wal", "-shm"] {
        match fs::remove_file(folder.join(format!("{PART}{ending}"))) {
            Err(error) if error.kind() != io::ErrorKind::NotFound => return Err(fault(&part)(error)),
            Ok(()) | Err(_) => {}
        }
    }
    let key_file = folder.join(open::KEY);
    let key = match StationKey::load(&key_file) {
        Ok(Some(key)) => key,
        Ok(None) => StationKey::create(&key_file).map_err(fault(&key_file))?,
        Err(error) => return Err(fault(&key_file)(error)),
    };
    let station = Station::new(&key, keys::new_incarnation().map_err(fault(&key_file))?)?;
    let parent = copy(&found, &part, &station, &key, at)?;
    drop(found);
    let database = folder.join(DATABASE);
    let set_aside = database.exists().then(|| open::set_aside(folder).map_err(fault(&database))).transpose()?;
    fs::rename(&part, &database).map_err(fault(&part))?;
    keys::sync_folder_of(&database).map_err(fault(&database))?;
    Ok(Restored { parent, origin: station.origin, set_aside })
}

/// Writes the new file whole, and reads its head back before anything else is touched.
fn copy(
    found: &ReadOnlyJournal,
    part: &Path,
    station: &Station,
    key: &StationKey,
    at: &Moment,
) -> Result<Checkpoint, NotRestored> {
    let sql = |error| NotRestored::Store(StoreError::from(error));
    let mut connection = open::connect(part)?;
    schema::upgrade(&mut connection).map_err(sql)?;
    let (note, parent) = journal::newest_head(found.connection())?;
    journal::begin(&mut connection, station, key, Some(&parent.origin))?;
    let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate).map_err(sql)?;
    let mut tree = Tree::new();
    for entry in entries(found.connection()).map_err(sql)? {
        write_entry(&transaction, &mut tree, &entry)?;
    }
    derived(found.connection(), &transaction).map_err(sql)?;
    if (tree.size(), tree.root()) != (parent.size, parent.root) {
        return Err(StoreError::corrupt("what was copied is not what was signed").into());
    }
    let entry = Entry { at: at.clone(), facts: None, body: EntryBody::Continues { parent: note } };
    let bytes = serde_json::to_vec(&entry).map_err(|error| StoreError::Other { detail: error.to_string() })?;
    write_entry(&transaction, &mut tree, &NewEntry { visit: None, bytes })?;
    journal::sign_head(&transaction, station, key, &tree)?;
    transaction.commit().map_err(sql)?;
    journal::read_head(&connection, station)?;
    // Closing writes the log into the file, so that the file alone is the journal.
    connection.close().map_err(|(_, error)| sql(error))?;
    Ok(parent)
}

fn entries(from: &Connection) -> rusqlite::Result<Vec<NewEntry>> {
    let sql = "SELECT visit, leaf FROM journal LEFT JOIN visit_entry USING (seq) ORDER BY seq";
    from.prepare(sql)?.query_map([], |row| Ok(NewEntry { visit: row.get(0)?, bytes: row.get(1)? }))?.collect()
}

fn derived(from: &Connection, to: &Connection) -> rusqlite::Result<()> {
    let mut statement = from.prepare("SELECT kind, key, body, seq FROM derived")?;
    let mut rows = statement.query([])?;
    while let Some(row) = rows.next()? {
        let (kind, key, body): (String, String, String) = (row.get(0)?, row.get(1)?, row.get(2)?);
        let seq = row_number(row.get::<_, i64>(3)?.unsigned_abs());
        to.prepare_cached("INSERT INTO derived (kind, key, body, seq) VALUES (?1, ?2, ?3, ?4)")?
            .execute(params![kind, key, body, seq])?;
    }
    Ok(())
}

/// The log that this one goes on from, by the entry that says so, and that entry's number.
///
/// # Errors
/// When the file cannot be read.
pub(super) fn parent(connection: &Connection) -> rusqlite::Result<Option<(u64, Checkpoint)>> {
    // It is signed by itself: no smaller head has an entry.
    let sql = "SELECT seq, leaf FROM journal WHERE seq = (SELECT min(size) FROM checkpoint WHERE size > 0)";
    let mut statement = connection.prepare(sql)?;
    let mut rows = statement.query([])?;
    let Some(row) = rows.next()? else { return Ok(None) };
    let seq = row.get::<_, i64>(0)?.unsigned_abs();
    let Ok(entry) = serde_json::from_slice::<Entry>(row.get_ref(1)?.as_bytes()?) else { return Ok(None) };
    let EntryBody::Continues { parent } = entry.body else { return Ok(None) };
    Ok(SignedCheckpoint::parse(&parent).ok().map(|note| (seq, note.checkpoint().clone())))
}

impl SqliteRecord {
    /// The log that this one goes on from, if it is one that was put back.
    ///
    /// # Errors
    /// [`StoreError`].
    pub fn parent(&self) -> Result<Option<Checkpoint>, StoreError> {
        Ok(parent(self.connection()?)?.map(|(_, parent)| parent))
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
    use super::*;
    use crate::store::tests::{entry, filled, of_visit, put};
    use crate::store::{Record, open};

    fn now() -> Moment {
        Moment { wall: "2026-05-14T09:30:00Z".parse().unwrap(), monotonic_ms: 0, boot: "b".to_owned() }
    }

    fn checked(folder: &Path) -> crate::store::verify::Report {
        verify(&ReadOnlyJournal::open(&folder.join(DATABASE)).unwrap(), None).unwrap()
    }

    #[test]
    fn a_backup_goes_on_as_another_log_that_names_its_parent() {
        let (folder, mut record) = filled(7);
        record.append(&[of_visit("V1", "{}")], &[put("unit", "U1", "card")]).unwrap();
        let (head, station) = (record.head().unwrap(), record.station().clone());
        drop(record);
        let backup = tempfile::tempdir().unwrap();
        let file = backup.path().join("yesterday.db");
        fs::copy(folder.path().join(DATABASE), &file).unwrap();
        let mut record = open(folder.path()).unwrap();
        record.append(&[entry("lost with the card")], &[]).unwrap();
        drop(record);
        let restored = restore(&file, folder.path(), &now()).unwrap();
        assert_eq!((restored.parent.size, restored.parent.root), (head.size, head.root));
        assert!(restored.set_aside.unwrap().exists());
        let mut record = open(folder.path()).unwrap();
        // The same station, another incarnation, the same entries and what was worked out from them, and one more.
        assert_eq!(record.station().station, station.station);
        assert_ne!(record.station().origin, station.origin);
        assert_eq!(record.parent().unwrap().unwrap(), restored.parent);
        assert_eq!(record.head().unwrap().size, 9);
        assert_eq!(record.entries_of_visit("V1").unwrap(), [(8, b"{}".to_vec())]);
        assert_eq!(record.derived("unit", "U1").unwrap().as_deref(), Some("card"));
        record.check().unwrap();
        record.append(&[entry("onwards")], &[]).unwrap();
        drop(record);
        let found = checked(folder.path());
        assert_eq!((found.findings.as_slice(), found.size), ([].as_slice(), 10));
        assert_eq!(found.parent.unwrap(), restored.parent);
        assert!(!folder.path().join(PART).exists());
    }

    #[test]
    fn a_parent_that_does_not_go_with_the_entries_is_found() {
        let (folder, record) = filled(5);
        drop(record);
        restore(&folder.path().join(DATABASE), folder.path(), &now()).unwrap();
        let mut record = open(folder.path()).unwrap();
        record.append(&[entry("onwards")], &[]).unwrap();
        drop(record);
        // Somebody with the key writes an inherited entry anew, and signs all of it again.
        let database = rusqlite::Connection::open(folder.path().join(DATABASE)).unwrap();
        database.execute_batch(crate::store::tests::tampering::DROP_GUARDS).unwrap();
        database.execute("UPDATE journal SET leaf = x'7b7d' WHERE seq = 2", []).unwrap();
        database.execute("DELETE FROM checkpoint WHERE size BETWEEN 1 AND 5", []).unwrap();
        drop(database);
        let key = StationKey::load(&folder.path().join(open::KEY)).unwrap().unwrap();
        crate::store::tests::tampering::sign_anew_at(folder.path(), &key, &[6, 7]);
        assert_eq!(checked(folder.path()).findings, [Finding::OtherParent { seq: 6 }]);
    }

    #[test]
    fn what_fails_or_is_in_use_is_not_put_back() {
        let (folder, record) = filled(5);
        let file = folder.path().join(DATABASE);
        let in_use = restore(&file, folder.path(), &now());
        assert!(matches!(in_use, Err(NotRestored::Folder(OpenFailure::InUse))), "{in_use:?}");
        drop(record);
        let change = "DROP TRIGGER journal_never_changes; UPDATE journal SET leaf = x'00' WHERE seq = 2";
        rusqlite::Connection::open(&file).unwrap().execute_batch(change).unwrap();
        let fails = restore(&file, folder.path(), &now());
        assert!(matches!(fails, Err(NotRestored::Fails(Finding::Changed { seq: 2 }))), "{fails:?}");
        assert!(file.exists() && !folder.path().join("set-aside").exists());
    }
}
