//! The hub's database over SQLite: one file, one writer at a time, durable before it answers.

mod lists;
mod pushes;

use super::store::{
    FeedEntry, HubStore, Judge, KnownLog, KnownStation, LogEntry, LogName, LogState, Pairing, Pushed, Quarantined,
    Raised, Refusal, StationRecord, WorkedOut,
};
use crate::store::StoreError;
use crate::store::beside::{self, Kind};
use rusqlite::{Connection, OptionalExtension, Row, TransactionBehavior, params};
use std::path::Path;
use std::sync::{Mutex, MutexGuard, PoisonError};

/// The hub's file in its folder.
pub const DATABASE: &str = "hub.db";
const KIND: Kind = Kind {
    migrations: &[include_str!("../../../migrations/hub/0001_hub.sql")],
    // "SPKH"
    application_id: 0x5350_4b48,
};

/// The hub's database in one file.
pub struct SqliteHub {
    writing: Mutex<Connection>,
    /// Lists do not wait for a push that is being synced, nor it for them.
    reading: Mutex<Connection>,
}

impl SqliteHub {
    /// Opens the database of a folder, and makes it where it is not.
    ///
    /// # Errors
    /// [`StoreError`].
    pub fn open(folder: &Path) -> Result<Self, StoreError> {
        let file = folder.join(DATABASE);
        let writing = beside::open(&file, KIND)?;
        let reading = beside::open(&file, KIND)?;
        reading.pragma_update(None, "query_only", "ON")?;
        Ok(Self { writing: Mutex::new(writing), reading: Mutex::new(reading) })
    }

    /// A transaction that a panic broke off was rolled back by its own drop, so the connection is as good as before.
    fn writing(&self) -> MutexGuard<'_, Connection> {
        self.writing.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn reading(&self) -> MutexGuard<'_, Connection> {
        self.reading.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// SQLite's integers have a sign. No number here comes near their end, and one beyond it finds no row.
fn row_number(number: u64) -> i64 {
    i64::try_from(number).unwrap_or(i64::MAX)
}

fn number(row: &Row<'_>, column: usize) -> rusqlite::Result<u64> {
    Ok(row.get::<_, i64>(column)?.unsigned_abs())
}

fn log_name(row: &Row<'_>) -> rusqlite::Result<LogName> {
    Ok(LogName { station: row.get(0)?, incarnation: row.get(1)? })
}

fn known_station(row: &Row<'_>) -> rusqlite::Result<KnownStation> {
    Ok(KnownStation {
        station: row.get(0)?,
        name: row.get(1)?,
        public_key: row.get(2)?,
        paired_ms: row.get(3)?,
        revoked_ms: row.get(4)?,
    })
}

const STATION_COLUMNS: &str = "SELECT station, name, public_key, paired_ms, revoked_ms FROM station";

impl HubStore for SqliteHub {
    fn open_code(&self, code_hash: [u8; 32], expires_ms: i64, tries: u32) -> Result<(), StoreError> {
        let sql = "INSERT INTO pairing_code (code_hash, expires_ms, tries_left) VALUES (?1, ?2, ?3)";
        self.writing().execute(sql, params![code_hash, expires_ms, tries])?;
        Ok(())
    }

    fn pair(&self, pairing: &Pairing) -> Result<bool, StoreError> {
        let mut connection = self.writing();
        let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
        let open = "used_by IS NULL AND tries_left > 0 AND expires_ms > ?1";
        let (station, now) = (&pairing.station, pairing.station.paired_ms);
        let known = format!("SELECT 1 FROM pairing_code WHERE {open} AND code_hash = ?2");
        let is_open = transaction.query_row(&known, params![now, pairing.code_hash], |_| Ok(())).optional()?.is_some();
        if is_open {
            transaction.execute(
                "INSERT INTO station (station, name, public_key, token_hash, paired_ms) VALUES (?1, ?2, ?3, ?4, ?5)
                 ON CONFLICT (station) DO UPDATE SET name = excluded.name, token_hash = excluded.token_hash,
                     paired_ms = excluded.paired_ms, revoked_ms = NULL",
                params![station.station, station.name, station.public_key, pairing.token_hash, now],
            )?;
            let used = "UPDATE pairing_code SET used_by = ?1 WHERE code_hash = ?2";
            transaction.execute(used, params![station.station, pairing.code_hash])?;
        } else {
            let wrong = format!("UPDATE pairing_code SET tries_left = tries_left - 1 WHERE {open}");
            transaction.execute(&wrong, [now])?;
        }
        transaction.commit()?;
        Ok(is_open)
    }

    fn station_by_token(&self, token_hash: [u8; 32]) -> Result<Option<KnownStation>, StoreError> {
        let sql = format!("{STATION_COLUMNS} WHERE token_hash = ?1");
        Ok(self.reading().prepare_cached(&sql)?.query_row([token_hash], known_station).optional()?)
    }

    fn stations(&self) -> Result<Vec<KnownStation>, StoreError> {
        let connection = self.reading();
        let mut statement = connection.prepare_cached(&format!("{STATION_COLUMNS} ORDER BY name, station"))?;
        let stations = statement.query_map([], known_station)?.collect::<Result<_, _>>()?;
        Ok(stations)
    }

    fn revoke(&self, station: &str, now_ms: i64) -> Result<bool, StoreError> {
        let sql = "UPDATE station SET revoked_ms = coalesce(revoked_ms, ?2) WHERE station = ?1";
        Ok(self.writing().execute(sql, params![station, now_ms])? > 0)
    }

    fn log(&self, log: &LogName) -> Result<LogState, StoreError> {
        pushes::log_state(&self.reading(), log)
    }

    fn logs(&self) -> Result<Vec<KnownLog>, StoreError> {
        lists::logs(&self.reading())
    }

    fn push(
        &self,
        log: &LogName,
        offered: (u64, u64),
        now_ms: i64,
        judge: &mut Judge<'_>,
    ) -> Result<Result<Pushed, Refusal>, StoreError> {
        pushes::push(&mut self.writing(), log, offered, now_ms, judge)
    }

    fn feed(&self, after: u64, but: &str, most: usize, bytes_most: usize) -> Result<(Vec<FeedEntry>, u64), StoreError> {
        lists::feed(&mut self.reading(), after, but, most, bytes_most)
    }

    fn entries(&self, log: &LogName, from: u64, most: usize) -> Result<Vec<LogEntry>, StoreError> {
        lists::entries(&self.reading(), log, from, most)
    }

    fn work_out(&self, log: &LogName, worked: &[WorkedOut], now_ms: i64) -> Result<(), StoreError> {
        pushes::work_out(&mut self.writing(), log, worked, now_ms)
    }

    fn records(&self, kind: &str) -> Result<Vec<StationRecord>, StoreError> {
        lists::records(&self.reading(), kind)
    }

    fn quarantine(&self, most: usize) -> Result<Vec<Quarantined>, StoreError> {
        lists::quarantine(&self.reading(), most)
    }

    fn alarms(&self, most: usize) -> Result<Vec<Raised>, StoreError> {
        lists::alarms(&self.reading(), most)
    }
}

#[cfg(test)]
mod tests;
