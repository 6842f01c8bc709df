//! What changes a journal at the hub.

use super::row_number;
use crate::hub::store::{Growth, Judge, LogName, LogState, NewEvent, Pushed, Refusal, Refused, WorkedOut};
use crate::store::{DerivedWrite, StoreError};
use rusqlite::{Connection, OptionalExtension, Row, Transaction, TransactionBehavior, params};
use sparkout_core::journal::{Hash, SignedCheckpoint, Tree};

/// Refused entries, and alarms, of one station that are kept: more than anybody looks at, and no way to fill the disk.
const KEPT_MOST: i64 = 1000;
/// Letters of a refused head that are kept as evidence: more than any head of ours, and it may be anything.
const HEAD_MOST: usize = 4096;
const HASH_BYTES: usize = 32;

pub(super) fn log_state(connection: &Connection, log: &LogName) -> Result<LogState, StoreError> {
    let sql = "SELECT stored, frontier, note FROM log WHERE station = ?1 AND incarnation = ?2";
    let read = |row: &Row<'_>| Ok((super::number(row, 0)?, row.get::<_, Vec<u8>>(1)?, row.get::<_, String>(2)?));
    let found = connection.prepare_cached(sql)?.query_row([&log.station, &log.incarnation], read).optional()?;
    let Some((stored, frontier, note)) = found else { return Ok(LogState::default()) };
    let damaged = |what: &dyn std::fmt::Display| StoreError::Corrupt { detail: format!("{log:?}: {what}") };
    let frontier = frontier.chunks(HASH_BYTES).map(Hash::from_slice).collect::<Option<Vec<_>>>();
    let frontier = frontier.ok_or_else(|| damaged(&"a hash is cut"))?;
    let tree = Tree::from_frontier(stored, frontier).map_err(|error| damaged(&error))?;
    let head = SignedCheckpoint::parse(&note).map_err(|error| damaged(&error))?;
    Ok(LogState { tree, vouched: Some(head.checkpoint().clone()) })
}

pub(super) fn push(
    connection: &mut Connection,
    log: &LogName,
    (from, count): (u64, u64),
    now_ms: i64,
    judge: &mut Judge<'_>,
) -> Result<Result<Pushed, Refusal>, StoreError> {
    let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
    let state = log_state(&transaction, log)?;
    let known = known_hashes(&transaction, log, from, count)?;
    let outcome = match judge(&state, &known) {
        Ok(growth) => {
            grow(&transaction, log, &growth, now_ms)?;
            let feed = newest_feed(&transaction)?;
            Ok(Pushed { stored: growth.tree.size(), new: growth.entries.len() as u64, vouched: growth.head.size, feed })
        }
        Err(refused) => {
            note_refusal(&transaction, log, &refused, now_ms)?;
            Err(refused.refusal)
        }
    };
    transaction.commit()?;
    Ok(outcome)
}

pub(super) fn newest_feed(connection: &Connection) -> rusqlite::Result<u64> {
    connection.query_row("SELECT coalesce(max(feed), 0) FROM event", [], |row| super::number(row, 0))
}

fn known_hashes(transaction: &Transaction<'_>, log: &LogName, from: u64, count: u64) -> rusqlite::Result<Vec<Hash>> {
    let sql = "SELECT hash FROM event WHERE station = ?1 AND incarnation = ?2 AND seq >= ?3 AND seq < ?4 ORDER BY seq";
    let (from, end) = (row_number(from), row_number(from.saturating_add(count)));
    let mut statement = transaction.prepare_cached(sql)?;
    let hash = |row: &Row<'_>| row.get(0).map(Hash::from_bytes);
    statement.query_map(params![log.station, log.incarnation, from, end], hash)?.collect()
}

fn grow(transaction: &Transaction<'_>, log: &LogName, growth: &Growth, now_ms: i64) -> Result<(), StoreError> {
    for entry in &growth.entries {
        transaction
            .prepare_cached(
                "INSERT INTO event (station, incarnation, seq, hash, bytes, held) VALUES (?1, ?2, ?3, ?4, ?5, ?6)",
            )?
            .execute(params![
                log.station,
                log.incarnation,
                row_number(entry.seq),
                entry.hash.as_bytes(),
                entry.bytes,
                entry.held.is_some()
            ])?;
        if entry.held.is_some() {
            put_aside(transaction, log, entry, now_ms)?;
        }
    }
    let frontier: Vec<u8> = growth.tree.frontier().iter().flat_map(|hash| *hash.as_bytes()).collect();
    transaction
        .prepare_cached(
            "INSERT INTO log (station, incarnation, stored, frontier, vouched, root, note, heard_ms, clock_off_ms)
             VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9)
             ON CONFLICT (station, incarnation) DO UPDATE SET stored = excluded.stored, frontier = excluded.frontier,
                 vouched = excluded.vouched, root = excluded.root, note = excluded.note, heard_ms = excluded.heard_ms,
                 clock_off_ms = excluded.clock_off_ms",
        )?
        .execute(params![
            log.station,
            log.incarnation,
            row_number(growth.tree.size()),
            frontier,
            row_number(growth.head.size),
            growth.head.root.as_bytes(),
            growth.note,
            now_ms,
            growth.clock_off_ms
        ])?;
    Ok(())
}

fn note_refusal(
    transaction: &Transaction<'_>,
    log: &LogName,
    refused: &Refused,
    now_ms: i64,
) -> Result<(), StoreError> {
    for entry in &refused.aside {
        put_aside(transaction, log, entry, now_ms)?;
    }
    if refused.refusal.is_alarm() { raise(transaction, log, refused, now_ms) } else { Ok(()) }
}

fn raise(transaction: &Transaction<'_>, log: &LogName, refused: &Refused, now_ms: i64) -> Result<(), StoreError> {
    let alarm = refused.refusal.to_string();
    let again = "UPDATE alarm SET last_ms = ?4, times = times + 1
                 WHERE station = ?1 AND incarnation = ?2 AND alarm = ?3";
    if transaction.execute(again, params![log.station, log.incarnation, alarm, now_ms])? > 0 {
        return Ok(());
    }
    if rows_of(transaction, "SELECT count(*) FROM alarm WHERE station = ?1", log)? >= KEPT_MOST {
        tracing::error!(station = log.station, alarm, "there are too many alarms of this station to keep one more");
        return Ok(());
    }
    let head: String = refused.note.chars().take(HEAD_MOST).collect();
    transaction.execute(
        "INSERT INTO alarm (station, incarnation, alarm, note, first_ms, last_ms) VALUES (?1, ?2, ?3, ?4, ?5, ?5)",
        params![log.station, log.incarnation, alarm, head, now_ms],
    )?;
    Ok(())
}

fn rows_of(transaction: &Transaction<'_>, sql: &str, log: &LogName) -> rusqlite::Result<i64> {
    transaction.prepare_cached(sql)?.query_row([&log.station], |row| row.get(0))
}

fn put_aside(transaction: &Transaction<'_>, log: &LogName, entry: &NewEvent, now_ms: i64) -> Result<(), StoreError> {
    if rows_of(transaction, "SELECT count(*) FROM quarantine WHERE station = ?1", log)? >= KEPT_MOST {
        tracing::error!(station = log.station, seq = entry.seq, "the quarantine is full; this one is not kept");
        return Ok(());
    }
    transaction.execute(
        "INSERT OR IGNORE INTO quarantine (station, incarnation, seq, hash, bytes, reason, at_ms)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)",
        params![
            log.station,
            log.incarnation,
            row_number(entry.seq),
            entry.hash.as_bytes(),
            entry.bytes,
            entry.held.as_deref().unwrap_or_default(),
            now_ms
        ],
    )?;
    Ok(())
}

pub(super) fn work_out(
    connection: &mut Connection,
    log: &LogName,
    worked: &[WorkedOut],
    now_ms: i64,
) -> Result<(), StoreError> {
    let Some(last) = worked.last() else { return Ok(()) };
    let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
    for entry in worked {
        for write in &entry.writes {
            write_record(&transaction, log, entry.feed, write)?;
        }
        if let Some(reason) = &entry.reason {
            transaction.execute(
                "INSERT OR IGNORE INTO quarantine (station, incarnation, seq, hash, bytes, reason, at_ms)
                 SELECT station, incarnation, seq, hash, bytes, ?2, ?3 FROM event WHERE feed = ?1",
                params![row_number(entry.feed), reason, now_ms],
            )?;
        }
    }
    transaction.execute(
        "UPDATE log SET worked_out = ?3 WHERE station = ?1 AND incarnation = ?2",
        params![log.station, log.incarnation, row_number(last.seq)],
    )?;
    Ok(transaction.commit()?)
}

fn write_record(
    transaction: &Transaction<'_>,
    log: &LogName,
    feed: u64,
    write: &DerivedWrite,
) -> Result<(), StoreError> {
    match write {
        DerivedWrite::Put { kind, key, body } => transaction
            .prepare_cached(
                "INSERT OR REPLACE INTO derived (station, incarnation, kind, key, body, feed)
                 VALUES (?1, ?2, ?3, ?4, ?5, ?6)",
            )?
            .execute(params![log.station, log.incarnation, kind, key, body, row_number(feed)])?,
        DerivedWrite::Remove { kind, key } => transaction
            .prepare_cached("DELETE FROM derived WHERE station = ?1 AND incarnation = ?2 AND kind = ?3 AND key = ?4")?
            .execute(params![log.station, log.incarnation, kind, key])?,
        // What a PIN is compared with never leaves its bench.
        DerivedWrite::Pin { .. } => 0,
    };
    Ok(())
}
