//! The schema's versions over SQLite's `user_version`, and the settings that every connection gets.

use rusqlite::config::DbConfig;
use rusqlite::{Connection, Result, TransactionBehavior};

/// Every release's change, in order; the number of those applied is the file's version.
const MIGRATIONS: [&str; 2] =
    [include_str!("../../../migrations/0001_journal.sql"), include_str!("../../../migrations/0002_pins.sql")];
/// The newest version that this program knows.
pub const KNOWN: i64 = MIGRATIONS.len() as i64;
/// Marks the file as ours, for `file` and for ourselves ("SPKO").
pub const APPLICATION_ID: i64 = 0x5350_4b4f;
/// The oldest SQLite whose write-ahead log does not lose a write when a checkpoint and a writer meet.
pub const SQLITE_OLDEST: (i32, &str) = (3_051_003, "3.51.3");

/// What a file says about itself, read without changing it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Version {
    /// How many migrations it has had.
    pub number: i64,
    /// Whether it is marked as ours.
    pub is_ours: bool,
    /// Whether it has no table at all: a file whose first start was cut short.
    pub is_empty: bool,
}

/// Reads the version.
///
/// # Errors
/// When the file is no database, or cannot be read.
pub fn version(connection: &Connection) -> Result<Version> {
    let pragma = |name| connection.pragma_query_value(None, name, |row| row.get::<_, i64>(0));
    let objects: i64 = connection.query_row("SELECT count(*) FROM sqlite_schema", [], |row| row.get(0))?;
    Ok(Version {
        number: pragma("user_version")?,
        is_ours: pragma("application_id")? == APPLICATION_ID,
        is_empty: objects == 0,
    })
}

/// The settings of a connection that writes.
///
/// # Errors
/// When SQLite refuses one, or the file cannot have a write-ahead log.
pub fn prepare(connection: &Connection) -> Result<()> {
    // FULL, not NORMAL: in WAL mode NORMAL may lose the last commits at a power cut, and a confirmed reading is
    // one of them.
    let mode: String = connection.pragma_update_and_check(None, "journal_mode", "WAL", |row| row.get(0))?;
    if mode != "wal" {
        let text = format!("the file keeps the journal mode {mode}");
        return Err(rusqlite::Error::SqliteFailure(
            rusqlite::ffi::Error::new(rusqlite::ffi::SQLITE_CANTOPEN),
            Some(text),
        ));
    }
    for (name, value) in [
        ("synchronous", "FULL"),
        ("foreign_keys", "ON"),
        ("recursive_triggers", "ON"),
        ("trusted_schema", "OFF"),
        ("cell_size_check", "ON"),
    ] {
        connection.pragma_update(None, name, value)?;
    }
    connection.set_db_config(DbConfig::SQLITE_DBCONFIG_DEFENSIVE, true)?;
    Ok(())
}

/// Brings a file to [`KNOWN`], each step in a transaction of its own together with its number.
///
/// # Errors
/// When a step fails; the file is then at the version before it.
pub fn upgrade(connection: &mut Connection) -> Result<()> {
    upgrade_by(connection, &MIGRATIONS, APPLICATION_ID)
}

/// The same for any database of this program: its changes in order, and its mark.
///
/// # Errors
/// When a step fails; the file is then at the version before it.
pub fn upgrade_by(connection: &mut Connection, migrations: &[&str], application_id: i64) -> Result<()> {
    let found = version(connection)?.number;
    for (number, sql) in (1i64..).zip(migrations).skip_while(|(number, _)| *number <= found) {
        let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
        transaction.execute_batch(sql)?;
        transaction.pragma_update(None, "application_id", application_id)?;
        transaction.pragma_update(None, "user_version", number)?;
        transaction.commit()?;
    }
    Ok(())
}

/// Names the tables and guards that are not as the migrations made them, up to the file's own version; none in a file
/// that nobody meddled with.
///
/// # Errors
/// When the file cannot be read.
pub fn altered(connection: &Connection) -> Result<Vec<String>> {
    let mut fresh = Connection::open_in_memory()?;
    let number = usize::try_from(version(connection)?.number).unwrap_or(0);
    upgrade_by(&mut fresh, &MIGRATIONS[..number.min(MIGRATIONS.len())], APPLICATION_ID)?;
    let (found, wanted) = (objects(connection)?, objects(&fresh)?);
    let missing = wanted.iter().filter(|object| !found.contains(object));
    let foreign = found.iter().filter(|object| !wanted.contains(object));
    let mut names: Vec<String> = missing.chain(foreign).map(|(name, _)| name.clone()).collect();
    names.sort();
    names.dedup();
    Ok(names)
}

fn objects(connection: &Connection) -> Result<Vec<(String, Option<String>)>> {
    // sqlite_ names are SQLite's own: statistics, or a foreign table's automatic index.
    let sql = "SELECT name, sql FROM sqlite_schema WHERE name NOT LIKE 'sqlite\\_%' ESCAPE '\\' ORDER BY name";
    connection.prepare(sql)?.query_map([], |row| Ok((row.get(0)?, row.get(1)?)))?.collect()
}
