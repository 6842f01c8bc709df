//! Opening a journal that is somebody else's to write: a running kiosk's, or a copy on an inspector's disk. Nothing
//! is made beside the file and not a byte of it changes.

use super::schema;
use rusqlite::config::DbConfig;
use rusqlite::{Connection, OpenFlags};
use std::fs::{self, DirBuilder};
use std::io;
use std::path::{Path, PathBuf};
use std::time::SystemTime;
use thiserror::Error;

/// Why a file cannot be read as a journal.
#[derive(Debug, Error)]
pub enum Unreadable {
    /// There is no such file, or the system does not let us read it.
    #[error("{}: {error}", file.display())]
    File {
        /// The file.
        file: PathBuf,
        /// What the system said.
        error: io::Error,
    },
    /// The copy that a log without its index is read from could not be made.
    #[error("{} has to be copied to be read, and could not be copied to {}: {error}", file.display(), folder.display())]
    Copy {
        /// The file.
        file: PathBuf,
        /// Where the copy was to go.
        folder: PathBuf,
        /// What the system said.
        error: io::Error,
    },
    /// SQLite cannot read it.
    #[error("{} cannot be read as a database: {error}", file.display())]
    Database {
        /// The file.
        file: PathBuf,
        /// What SQLite said.
        error: rusqlite::Error,
    },
    /// It is something else.
    #[error("{} is not a journal of this program: {what}", file.display())]
    Foreign {
        /// The file.
        file: PathBuf,
        /// What is wrong with it.
        what: String,
    },
    /// It was being opened or closed every time we looked.
    #[error("{} changed while it was read; try again", file.display())]
    Disturbed {
        /// The file.
        file: PathBuf,
    },
}

/// How the file is read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Way {
    /// A write-ahead log and its index stand beside it: somebody has it open, or was killed. Read along with them.
    Live,
    /// Nothing stands beside it, so all there is is in the file, and SQLite is told that it does not change.
    Still,
    /// A copy with its log and without the index, which SQLite would have to make beside it: read from a copy of ours.
    Copied,
}

/// How often a file that is opened or closed under our hands is read again.
const TRIES: usize = 3;

/// A journal open for reading only.
#[derive(Debug)]
pub struct ReadOnlyJournal {
    connection: Connection,
    file: PathBuf,
    way: Way,
    seen: Option<(u64, SystemTime)>,
    _copy: Option<OwnFolder>,
}

/// A folder that goes when it is done with.
#[derive(Debug)]
struct OwnFolder(PathBuf);

impl Drop for OwnFolder {
    fn drop(&mut self) {
        if let Err(error) = fs::remove_dir_all(&self.0) {
            tracing::warn!(folder = %self.0.display(), %error, "a copy could not be removed");
        }
    }
}

impl ReadOnlyJournal {
    /// Opens a file that is there already.
    ///
    /// # Errors
    /// [`Unreadable`].
    pub fn open(file: &Path) -> Result<Self, Unreadable> {
        let missing = |error| Unreadable::File { file: file.to_owned(), error };
        let metadata = fs::metadata(file).map_err(missing)?;
        fs::File::open(file).map_err(missing)?;
        if !metadata.is_file() || metadata.len() == 0 {
            return Err(Unreadable::Foreign { file: file.to_owned(), what: "it holds nothing".to_owned() });
        }
        let (way, seen) = (way(file), stamp(file));
        let uncopied = |error| Unreadable::Copy { file: file.to_owned(), folder: std::env::temp_dir(), error };
        let copy = if way == Way::Copied { Some(copy(file).map_err(uncopied)?) } else { None };
        let read = copy.as_ref().map_or_else(|| file.to_owned(), |folder| folder.0.join("copy.db"));
        let unreadable = |error| Unreadable::Database { file: file.to_owned(), error };
        let connection = connect(&read, way).map_err(unreadable)?;
        let version = schema::version(&connection).map_err(unreadable)?;
        let foreign = |what: String| Unreadable::Foreign { file: file.to_owned(), what };
        if !version.is_ours {
            return Err(foreign("its mark is another".to_owned()));
        }
        if version.number < 1 || version.number > schema::KNOWN {
            let (found, known) = (version.number, schema::KNOWN);
            return Err(foreign(format!("its version is {found}, and versions 1 to {known} are known")));
        }
        Ok(Self { connection, file: file.to_owned(), way, seen, _copy: copy })
    }

    /// The connection; every read through it is of the same moment.
    pub const fn connection(&self) -> &Connection {
        &self.connection
    }

    /// The file that was asked for.
    pub fn file(&self) -> &Path {
        &self.file
    }

    /// Whether what was read can be relied on: a file taken for still must have stayed so.
    pub fn is_undisturbed(&self) -> bool {
        self.way != Way::Still || (way(&self.file) == Way::Still && stamp(&self.file) == self.seen)
    }

    /// Wraps a fault met while reading.
    pub fn unreadable(&self, error: rusqlite::Error) -> Unreadable {
        Unreadable::Database { file: self.file.clone(), error }
    }
}

/// Reads until nothing was opened or closed in between.
pub(super) fn steady<T>(
    database: &Path,
    mut read: impl FnMut(&ReadOnlyJournal) -> Result<T, Unreadable>,
) -> Result<T, Unreadable> {
    for _ in 0..TRIES {
        let journal = ReadOnlyJournal::open(database)?;
        let found = read(&journal);
        if journal.is_undisturbed() {
            return found;
        }
    }
    Err(Unreadable::Disturbed { file: database.to_owned() })
}

fn beside(file: &Path, ending: &str) -> PathBuf {
    let mut name = file.as_os_str().to_owned();
    name.push(ending);
    PathBuf::from(name)
}

fn way(file: &Path) -> Way {
    let log = fs::metadata(beside(file, "-wal"));
    match (log, beside(file, "-shm").exists()) {
        (Ok(_), true) => Way::Live,
        (Ok(log), false) if log.len() > 0 => Way::Copied,
        (Ok(_), false) | (Err(_), _) => Way::Still,
    }
}

fn stamp(file: &Path) -> Option<(u64, SystemTime)> {
    let metadata = fs::metadata(file).ok()?;
    Some((metadata.len(), metadata.modified().ok()?))
}

fn copy(file: &Path) -> io::Result<OwnFolder> {
    let mut random = [0u8; 8];
    getrandom::fill(&mut random).map_err(io::Error::other)?;
    let name = format!("sparkout-verify-{}", data_encoding::HEXLOWER.encode(&random));
    let path = std::env::temp_dir().join(name);
    let mut builder = DirBuilder::new();
    #[cfg(unix)]
    std::os::unix::fs::DirBuilderExt::mode(&mut builder, 0o700);
    builder.create(&path)?;
    let folder = OwnFolder(path);
    fs::copy(file, folder.0.join("copy.db"))?;
    fs::copy(beside(file, "-wal"), folder.0.join("copy.db-wal"))?;
    Ok(folder)
}

/// A connection to a file that nobody writes to and that has no log beside it.
///
/// # Errors
/// When it cannot be opened.
pub(super) fn connect_still(file: &Path) -> rusqlite::Result<Connection> {
    connect(file, Way::Still)
}

fn connect(file: &Path, way: Way) -> rusqlite::Result<Connection> {
    let flags = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_URI | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let immutable = if way == Way::Still { "?immutable=1" } else { "" };
    let connection = Connection::open_with_flags(format!("file:{}{immutable}", escaped(file)), flags)?;
    connection.set_db_config(DbConfig::SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, true)?;
    for (name, value) in [("query_only", "ON"), ("trusted_schema", "OFF"), ("cell_size_check", "ON")] {
        connection.pragma_update(None, name, value)?;
    }
    // One read transaction for everything, so that a kiosk that goes on writing does not move the end.
    connection.execute_batch("BEGIN")?;
    Ok(connection)
}

/// A path as SQLite's URIs take it: everything but letters, digits and a few marks as percent and two digits.
fn escaped(file: &Path) -> String {
    let plain = |byte: u8| byte.is_ascii_alphanumeric() || b"/-_.~".contains(&byte);
    let escape = |byte: &u8| if plain(*byte) { char::from(*byte).to_string() } else { format!("%{byte:02X}") };
    file.as_os_str().as_encoded_bytes().iter().map(escape).collect()
}
