//! What is read from the hub's database.

use super::pushes::newest_feed;
use super::{log_name, number, row_number};
use crate::hub::store::{FeedEntry, KnownLog, LogEntry, LogName, Quarantined, Raised, StationRecord};
use crate::store::StoreError;
use rusqlite::{Connection, Row, params};
use sparkout_core::journal::Hash;

pub(super) fn logs(connection: &Connection) -> Result<Vec<KnownLog>, StoreError> {
    let sql = "SELECT station, incarnation, stored, vouched, root, heard_ms, clock_off_ms, worked_out FROM log
               ORDER BY station, incarnation";
    let read = |row: &Row<'_>| {
        Ok(KnownLog {
            log: log_name(row)?,
            stored: number(row, 2)?,
            vouched: number(row, 3)?,
            root: row.get(4).map(Hash::from_bytes)?,
            heard_ms: row.get(5)?,
            clock_off_ms: row.get(6)?,
            worked_out: number(row, 7)?,
        })
    };
    let logs = connection.prepare_cached(sql)?.query_map([], read)?.collect::<Result<_, _>>()?;
    Ok(logs)
}

pub(super) fn feed(
    connection: &mut Connection,
    after: u64,
    but: &str,
    most: usize,
    bytes_most: usize,
) -> Result<(Vec<FeedEntry>, u64), StoreError> {
    // One moment for both questions: the end of the feed is where the entries were looked for.
    let transaction = connection.transaction()?;
    let end = newest_feed(&transaction)?;
    let sql = "SELECT station, incarnation, feed, seq, bytes FROM event
               WHERE feed > ?1 AND station <> ?2 AND held = 0 ORDER BY feed LIMIT ?3";
    let mut statement = transaction.prepare_cached(sql)?;
    let mut rows = statement.query(params![row_number(after), but, i64::try_from(most).unwrap_or(i64::MAX)])?;
    let (mut entries, mut bytes) = (Vec::new(), 0);
    while let Some(row) = rows.next()? {
        let entry = FeedEntry { log: log_name(row)?, feed: number(row, 2)?, seq: number(row, 3)?, bytes: row.get(4)? };
        bytes += entry.bytes.len();
        let full = bytes >= bytes_most || entries.len() + 1 >= most;
        entries.push(entry);
        if full {
            let last = entries.last().map_or(end, |entry| entry.feed);
            return Ok((entries, last));
        }
    }
    Ok((entries, end))
}

pub(super) fn entries(
    connection: &Connection,
    log: &LogName,
    from: u64,
    most: usize,
) -> Result<Vec<LogEntry>, StoreError> {
    let sql = "SELECT seq, feed, bytes, held FROM event WHERE station = ?1 AND incarnation = ?2 AND seq >= ?3
               ORDER BY seq LIMIT ?4";
    let read = |row: &Row<'_>| {
        Ok(LogEntry { seq: number(row, 0)?, feed: number(row, 1)?, bytes: row.get(2)?, held: row.get(3)? })
    };
    let most = i64::try_from(most).unwrap_or(i64::MAX);
    let mut statement = connection.prepare_cached(sql)?;
    let found = statement.query_map(params![log.station, log.incarnation, row_number(from), most], read)?;
    Ok(found.collect::<Result<_, _>>()?)
}

pub(super) fn records(connection: &Connection, kind: &str) -> Result<Vec<StationRecord>, StoreError> {
    let sql = "SELECT station, key, body, feed FROM derived WHERE kind = ?1 ORDER BY key, feed";
    let read = |row: &Row<'_>| {
        Ok(StationRecord { station: row.get(0)?, key: row.get(1)?, body: row.get(2)?, feed: number(row, 3)? })
    };
    let records = connection.prepare_cached(sql)?.query_map([kind], read)?.collect::<Result<_, _>>()?;
    Ok(records)
}

pub(super) fn quarantine(connection: &Connection, most: usize) -> Result<Vec<Quarantined>, StoreError> {
    let sql = "SELECT station, incarnation, seq, bytes, reason, at_ms FROM quarantine ORDER BY id DESC LIMIT ?1";
    let read = |row: &Row<'_>| {
        let log = log_name(row)?;
        Ok(Quarantined { log, seq: number(row, 2)?, bytes: row.get(3)?, reason: row.get(4)?, at_ms: row.get(5)? })
    };
    let most = i64::try_from(most).unwrap_or(i64::MAX);
    let found = connection.prepare_cached(sql)?.query_map([most], read)?.collect::<Result<_, _>>()?;
    Ok(found)
}

pub(super) fn alarms(connection: &Connection, most: usize) -> Result<Vec<Raised>, StoreError> {
    let sql = "SELECT station, incarnation, alarm, note, first_ms, last_ms, times FROM alarm
               ORDER BY last_ms DESC, id DESC LIMIT ?1";
    let read = |row: &Row<'_>| {
        Ok(Raised {
            log: log_name(row)?,
            alarm: row.get(2)?,
            note: row.get(3)?,
            first_ms: row.get(4)?,
            last_ms: row.get(5)?,
            times: number(row, 6)?,
        })
    };
    let most = i64::try_from(most).unwrap_or(i64::MAX);
    let found = connection.prepare_cached(sql)?.query_map([most], read)?.collect::<Result<_, _>>()?;
    Ok(found)
}
