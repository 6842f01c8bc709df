//! The program's databases beside the journal: the hub's, and what a kiosk knows of its hub. They are opened by the
//! same rules as the journal: a file of somebody else's, or of a newer version, is left alone.

use super::StoreError;
use super::schema;
use rusqlite::Connection;
use std::path::Path;
use std::time::Duration;

/// How long a writer waits for another process on the same file: a pairing code made beside a running hub.
const BUSY: Duration = Duration::from_secs(5);

/// One of the program's databases.
#[derive(Debug, Clone, Copy)]
pub struct Kind {
    /// Its changes, in order.
    pub migrations: &'static [&'static str],
    /// Its mark in the file's head.
    pub application_id: i64,
}

/// Opens it, and makes it where it is not.
///
/// # Errors
/// [`StoreError`], also when the file is not of this kind or is of a newer version.
pub fn open(file: &Path, kind: Kind) -> Result<Connection, StoreError> {
    let mut connection = Connection::open(file)?;
    connection.busy_timeout(BUSY)?;
    if connection.is_readonly("main")? {
        return Err(StoreError::Unwritable { detail: format!("{} can only be read", file.display()) });
    }
    let found = schema::version(&connection)?;
    let mark: i64 = connection.pragma_query_value(None, "application_id", |row| row.get(0))?;
    let known = i64::try_from(kind.migrations.len()).unwrap_or(i64::MAX);
    let is_new = found.is_empty && found.number == 0;
    if !is_new && mark != kind.application_id {
        return Err(StoreError::corrupt(format!("{} is another kind of file", file.display())));
    }
    if found.number > known {
        let detail = format!("{} is of version {}, and {known} is known", file.display(), found.number);
        return Err(StoreError::Unwritable { detail });
    }
    schema::prepare(&connection)?;
    schema::upgrade_by(&mut connection, kind.migrations, kind.application_id)?;
    Ok(connection)
}
