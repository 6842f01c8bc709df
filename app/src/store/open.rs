//! Opening the journal's folder: the lock, the file's version, the key, the head. A file that this program must
//! not touch is moved aside as it is, never repaired and never deleted: it is somebody's safety record.

use super::fault::{OpenFailure, StoreError};
use super::journal::{self, OnDisk, SqliteRecord, Station};
use super::keys::{self, StationKey};
use super::{read_only, schema};
use rusqlite::config::DbConfig;
use rusqlite::{Connection, OpenFlags};
use std::fs::{self, File, TryLockError};
use std::io;
use std::path::{Path, PathBuf};

/// The journal's file in its folder.
pub const DATABASE: &str = "kiosk.db";
/// The key's file in the same folder.
pub const KEY: &str = "station.key";
const LOCK: &str = "kiosk.lock";
const SET_ASIDE: &str = "set-aside";
/// What SQLite keeps beside its file; each is part of it.
const COMPANIONS: [&str; 4] = ["", "-wal", "-shm", "-journal"];
/// Files set aside beyond which somebody has to look.
const SET_ASIDE_MOST: u32 = 10_000;

/// Opens the journal of this folder, and makes folder, key and journal at the first start.
///
/// # Errors
/// [`OpenFailure`]: in words, with where the file was put if it was set aside.
pub fn open(folder: &Path) -> Result<SqliteRecord, OpenFailure> {
    let unwritable = |error: io::Error| OpenFailure::Unwritable { detail: format!("{}: {error}", folder.display()) };
    if rusqlite::version_number() < schema::SQLITE_OLDEST.0 {
        let found = rusqlite::version().to_owned();
        return Err(OpenFailure::SqliteTooOld { found, wanted: schema::SQLITE_OLDEST.1 });
    }
    fs::create_dir_all(folder).map_err(unwritable)?;
    let lock = lock(folder)?;
    let database = folder.join(DATABASE);
    let has_journal = look(folder, &database)?;
    let key = key(folder, has_journal)?;
    let failed = |error: StoreError| failure(folder, error);
    let mut connection = connect(&database).map_err(failed)?;
    let opened = begin_or_continue(&mut connection, &key);
    let (station, on_disk) = match opened {
        Ok(opened) => opened,
        Err(error) => {
            leave_untouched(connection);
            return Err(failed(error));
        }
    };
    keys::sync_folder_of(&database).map_err(unwritable)?;
    if station.key.public_key() != &key.public_key() {
        let detail = format!("the journal is signed by the key {}", station.key.key_id());
        return Err(OpenFailure::KeyUnusable { file: folder.join(KEY), detail });
    }
    Ok(SqliteRecord::new(folder.to_owned(), connection, station, key, on_disk, lock))
}

fn begin_or_continue(connection: &mut Connection, key: &StationKey) -> Result<(Station, OnDisk), StoreError> {
    schema::upgrade(connection)?;
    let station = match journal::station(connection)? {
        Some(station) => station,
        None => {
            let incarnation =
                keys::new_incarnation().map_err(|error| StoreError::Other { detail: error.to_string() })?;
            let station = Station::new(key, incarnation)?;
            journal::begin(connection, &station, key, None)?;
            station
        }
    };
    let on_disk = journal::read_head(connection, &station)?;
    Ok((station, on_disk))
}

/// Closes without writing the log into the file, which closing the last connection does otherwise.
pub(super) fn leave_untouched(connection: Connection) {
    if let Err(error) = connection.set_db_config(DbConfig::SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, true) {
        tracing::warn!(%error, "the log may be written into the file on closing");
    }
    drop(connection);
}

/// A connection with all its settings; makes the file where there is none.
///
/// # Errors
/// [`StoreError`], also when the file can be read and not written.
pub(super) fn connect(database: &Path) -> Result<Connection, StoreError> {
    let connection = Connection::open(database)?;
    // SQLite falls back to reading only without a word, and the first reading at the bench would be lost.
    if connection.is_readonly("main")? {
        return Err(StoreError::Unwritable { detail: format!("{} can only be read", database.display()) });
    }
    schema::prepare(&connection)?;
    Ok(connection)
}

/// Moves the journal's file and its companions into `set-aside` under a name not used before.
///
/// # Errors
/// When something cannot be moved.
pub(super) fn set_aside(folder: &Path) -> io::Result<PathBuf> {
    let aside = folder.join(SET_ASIDE);
    fs::create_dir_all(&aside)?;
    let is_taken = |name: &str| COMPANIONS.iter().any(|companion| aside.join(format!("{name}{companion}")).exists());
    let name = (1..=SET_ASIDE_MOST)
        .map(|number| format!("kiosk-{number:04}.db"))
        .find(|name| !is_taken(name))
        .ok_or_else(|| io::Error::other(format!("{} is full of journals", aside.display())))?;
    // The file first: if power goes in between, a log without its file is noticed, a file without its log is not.
    for companion in COMPANIONS {
        match fs::rename(folder.join(format!("{DATABASE}{companion}")), aside.join(format!("{name}{companion}"))) {
            Err(error) if error.kind() != io::ErrorKind::NotFound => return Err(error),
            Ok(()) | Err(_) => {}
        }
    }
    let file = aside.join(name);
    keys::sync_folder_of(&file)?;
    keys::sync_folder_of(&aside)?;
    Ok(file)
}

/// Sets the file aside as damaged.
pub(super) fn corrupt(folder: &Path, detail: String) -> OpenFailure {
    aside_as(folder, |set_aside| OpenFailure::Corrupt { detail, set_aside })
}

fn aside_as(folder: &Path, failure: impl FnOnce(PathBuf) -> OpenFailure) -> OpenFailure {
    match set_aside(folder) {
        Ok(file) => failure(file),
        Err(error) => OpenFailure::Unwritable { detail: format!("{DATABASE} could not be set aside: {error}") },
    }
}

fn failure(folder: &Path, error: StoreError) -> OpenFailure {
    match error {
        StoreError::Corrupt { detail } => corrupt(folder, detail),
        StoreError::Full { detail } => OpenFailure::Full { detail },
        StoreError::Unwritable { detail } | StoreError::Other { detail } => OpenFailure::Unwritable { detail },
        StoreError::Reload { from_seq } => OpenFailure::Unwritable { detail: format!("reload from {from_seq}") },
    }
}

/// The folder's lock. It is given up by name and not only by closing: a program started at that moment holds a copy
/// of the file until it has become that program.
pub struct FolderLock(File);

impl Drop for FolderLock {
    fn drop(&mut self) {
        if let Err(error) = self.0.unlock() {
            tracing::warn!(%error, "the folder stays locked until this process ends");
        }
    }
}

/// The system's lock on a file of its own: it goes with the process, however that ends. A lock on the database
/// would get into SQLite's own.
pub(super) fn lock(folder: &Path) -> Result<FolderLock, OpenFailure> {
    let path = folder.join(LOCK);
    let unwritable = |error: io::Error| OpenFailure::Unwritable { detail: format!("{}: {error}", path.display()) };
    let file = File::options().create(true).truncate(false).write(true).open(&path).map_err(unwritable)?;
    match file.try_lock() {
        Ok(()) => Ok(FolderLock(file)),
        Err(TryLockError::WouldBlock) => Err(OpenFailure::InUse),
        Err(TryLockError::Error(error)) => Err(unwritable(error)),
    }
}

/// Looks at a file without changing it, and sets it aside when it is not one to be opened. Tells whether it holds
/// a journal.
fn look(folder: &Path, database: &Path) -> Result<bool, OpenFailure> {
    let bytes = |companion: &str| {
        let file = folder.join(format!("{DATABASE}{companion}"));
        fs::metadata(file).map_or(0, |metadata| metadata.len())
    };
    if bytes("") == 0 {
        if bytes("-wal") > 0 {
            return Err(corrupt(folder, "the file is gone and its write-ahead log is not".to_owned()));
        }
        return Ok(false);
    }
    let (found, is_begun) =
        read_only(database, bytes("-wal") + bytes("-journal") > 0).map_err(|error| failure(folder, error))?;
    if found.number > schema::KNOWN && found.is_ours {
        let (found, known) = (found.number, schema::KNOWN);
        return Err(aside_as(folder, |set_aside| OpenFailure::Newer { found, known, set_aside }));
    }
    if found.is_empty && found.number == 0 {
        return Ok(false);
    }
    if !found.is_ours || found.number < 1 {
        return Err(corrupt(folder, "it is a database, and not a journal of this program".to_owned()));
    }
    Ok(is_begun)
}

/// Reads version and head without a change to the file, so that a file found damaged is set aside as it was found.
fn read_only(database: &Path, has_log: bool) -> Result<(schema::Version, bool), StoreError> {
    let connection = if has_log {
        let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
        let connection = Connection::open_with_flags(database, flags)?;
        connection.set_db_config(DbConfig::SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, true)?;
        connection
    } else {
        // Ours by the lock, so it does not change; and SQLite makes no log beside it.
        read_only::connect_still(database)?
    };
    let version = schema::version(&connection)?;
    if !version.is_ours || version.number != schema::KNOWN {
        return Ok((version, true));
    }
    let rows: i64 = connection.query_row(
        "SELECT (SELECT count(*) FROM checkpoint) + coalesce(max(seq), 0) FROM journal",
        [],
        |row| row.get(0),
    )?;
    match journal::station(&connection)? {
        // A first start that was cut short between the tables and the station.
        None if rows == 0 => return Ok((version, false)),
        None => return Err(StoreError::corrupt("the journal does not say whose it is")),
        Some(station) => journal::read_head(&connection, &station)?,
    };
    Ok((version, true))
}

fn key(folder: &Path, has_journal: bool) -> Result<StationKey, OpenFailure> {
    let file = folder.join(KEY);
    match StationKey::load(&file) {
        Ok(Some(key)) => Ok(key),
        Ok(None) if has_journal => Err(OpenFailure::KeyMissing { file }),
        Ok(None) => StationKey::create(&file)
            .map_err(|error| OpenFailure::Unwritable { detail: format!("{}: {error}", file.display()) }),
        Err(error) => Err(OpenFailure::KeyUnusable { file, detail: error.to_string() }),
    }
}
