//! The journal on a real disk: what is stored stays, and what is not stored is told.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod attacks;
mod model;
mod opening;
mod power;
pub mod shared;
pub mod tampering;

use super::fault::StoreError;
use super::{DerivedWrite, NewEntry, Record, SqliteRecord, open, schema};
use rusqlite::Connection;
use std::fs;
use std::path::Path;
use tempfile::{TempDir, tempdir};

pub fn entry(text: &str) -> NewEntry {
    NewEntry { visit: None, bytes: text.as_bytes().to_vec() }
}

pub fn of_visit(visit: &str, text: &str) -> NewEntry {
    NewEntry { visit: Some(visit.to_owned()), bytes: text.as_bytes().to_vec() }
}

pub fn put(kind: &str, key: &str, body: &str) -> DerivedWrite {
    DerivedWrite::Put { kind: kind.to_owned(), key: key.to_owned(), body: body.to_owned() }
}

/// A folder with a journal of this many entries, each of its own transaction.
pub fn filled(count: u64) -> (TempDir, SqliteRecord) {
    let folder = tempdir().unwrap();
    let mut record = open(folder.path()).unwrap();
    for number in 1..=count {
        record.append(&[entry(&format!(r#"{{"number":{number}}}"#))], &[]).unwrap();
    }
    (folder, record)
}

/// What a power cut leaves: the file and its log as they stand while the journal is open, nothing else of SQLite's.
pub fn mid_flight(folder: &Path) -> TempDir {
    let copy = tempdir().unwrap();
    for name in ["kiosk.db", "kiosk.db-wal", "station.key"] {
        if folder.join(name).exists() {
            fs::copy(folder.join(name), copy.path().join(name)).unwrap();
        }
    }
    copy
}

#[test]
fn sqlite_is_new_enough_and_set_as_it_must_be() {
    // SQLite release notes, 3.51.3 (2026): the write-ahead log's reset fault is mended there.
    assert!(rusqlite::version_number() >= schema::SQLITE_OLDEST.0);
    let (_folder, record) = filled(0);
    let value = |name: &str| {
        record
            .connection()
            .unwrap()
            .pragma_query_value(None, name, |row| row.get::<_, rusqlite::types::Value>(0))
            .unwrap()
    };
    assert_eq!(value("journal_mode"), "wal".to_owned().into());
    for (name, wanted) in [("synchronous", 2), ("foreign_keys", 1), ("recursive_triggers", 1), ("trusted_schema", 0)] {
        assert_eq!(value(name), rusqlite::types::Value::Integer(wanted), "{name}");
    }
    assert_eq!(value("cell_size_check"), 1.into());
    assert_eq!(value("user_version"), schema::KNOWN.into());
}

#[test]
fn nothing_changes_or_removes_a_journal_row() {
    let (folder, record) = filled(3);
    // A stranger's connection, with SQLite's own defaults: recursive_triggers is off there.
    let stranger = Connection::open(folder.path().join("kiosk.db")).unwrap();
    let both = [record.connection().unwrap(), &stranger];
    for sql in [
        "UPDATE journal SET leaf = x'00' WHERE seq = 2",
        "UPDATE OR REPLACE journal SET seq = 3 WHERE seq = 2",
        "DELETE FROM journal WHERE seq = 3",
        "DELETE FROM journal",
        "INSERT OR REPLACE INTO journal (seq, leaf) VALUES (2, x'00')",
        "REPLACE INTO journal (seq, leaf) VALUES (3, x'00')",
        "INSERT OR IGNORE INTO journal (seq, leaf) VALUES (2, x'00')",
        "INSERT INTO journal (seq, leaf) VALUES (2, x'00') ON CONFLICT DO UPDATE SET leaf = excluded.leaf",
        "INSERT INTO journal (seq, leaf) VALUES (5, x'00')",
        "INSERT INTO journal (seq, leaf) VALUES (0, x'00')",
        "INSERT INTO journal (leaf) VALUES (x'00')",
        "INSERT INTO journal (seq, leaf) VALUES (4, x'')",
        "INSERT INTO journal (seq, leaf) VALUES (4, 'text')",
        "UPDATE checkpoint SET size = 9 WHERE size = 3",
        "DELETE FROM checkpoint WHERE size = 3",
        "INSERT OR REPLACE INTO checkpoint SELECT size, zeroblob(32), signature FROM checkpoint WHERE size = 3",
        "INSERT INTO checkpoint VALUES (9, zeroblob(32), zeroblob(64))",
        "UPDATE node SET hash = zeroblob(32)",
        "DELETE FROM node",
        "INSERT OR REPLACE INTO node VALUES (0, 1, zeroblob(32))",
        "UPDATE station SET public_key = zeroblob(32)",
        "DELETE FROM station",
        "INSERT OR REPLACE INTO station VALUES (1, 'a', 'b', NULL, 'c', zeroblob(32))",
    ] {
        for connection in both {
            assert!(connection.execute(sql, []).is_err(), "{sql}");
        }
    }
    drop(stranger);
    record.check().unwrap();
    assert_eq!(record.entries(1, 9).unwrap().len(), 3);
}

#[test]
fn reopened_with_the_same_head() {
    let (folder, mut record) = filled(5);
    let stored =
        record.append(&[of_visit("v1", "{}"), of_visit("v2", "[]"), of_visit("v1", "7")], &[put("unit", "U1", "card")]);
    assert_eq!(stored.unwrap().seq, 8);
    let (head, station) = (record.head().unwrap(), record.station().clone());
    drop(record);
    assert!(!folder.path().join("kiosk.db-wal").exists(), "a file closed in order is whole by itself");
    let mut record = open(folder.path()).unwrap();
    assert_eq!(record.head().unwrap(), head);
    assert_eq!(record.station(), &station);
    assert_eq!(record.entries_of_visit("v1").unwrap(), [(6, b"{}".to_vec()), (8, b"7".to_vec())]);
    assert_eq!(record.derived("unit", "U1").unwrap().as_deref(), Some("card"));
    assert_eq!(record.append(&[entry("9")], &[]).unwrap().seq, 9);
    record.check().unwrap();
}

#[test]
fn a_batch_stands_or_falls_together() {
    let (_folder, mut record) = filled(2);
    let head = record.head().unwrap();
    let too_large = NewEntry { visit: None, bytes: vec![b'x'; 1_048_577] };
    let refused = record.append(&[of_visit("v", "good"), too_large], &[put("unit", "U1", "card")]);
    assert!(matches!(refused, Err(StoreError::Other { .. })), "{refused:?}");
    assert_eq!(record.head().unwrap(), head);
    assert!(record.entries_of_visit("v").unwrap().is_empty());
    assert_eq!(record.derived("unit", "U1").unwrap(), None);
    assert!(record.append(&[], &[put("unit", "U1", "card")]).is_err());
    assert_eq!(record.append(&[], &[]).unwrap().root, head.root);
    assert_eq!(record.append(&[entry("good")], &[]).unwrap().seq, 3);
    record.check().unwrap();
}

#[test]
fn a_full_disk_is_told_and_nothing_is_half_stored() {
    let (folder, mut record) = filled(3);
    let pages: i64 = record.connection().unwrap().pragma_query_value(None, "page_count", |row| row.get(0)).unwrap();
    record.connection().unwrap().pragma_update(None, "max_page_count", pages).unwrap();
    let head = record.head().unwrap();
    let large = of_visit("v", &"x".repeat(200_000));
    let refused = record.append(&[of_visit("v", "small"), large.clone()], &[put("unit", "U1", "card")]);
    assert!(matches!(refused, Err(StoreError::Full { .. })), "{refused:?}");
    assert_eq!(refused.unwrap_err().to_string(), "the disk is full; this was not stored");
    assert_eq!(record.head().unwrap(), head);
    assert!(record.entries_of_visit("v").unwrap().is_empty());
    // The limit belonged to the connection, which a failed write closes: room again.
    assert_eq!(record.append(&[large], &[]).unwrap().seq, 4);
    record.check().unwrap();
    drop(record);
    assert_eq!(open(folder.path()).unwrap().head().unwrap().size, 4);
}

#[test]
fn a_disk_that_takes_nothing_is_told() {
    let (_folder, mut record) = filled(1);
    record.connection().unwrap().pragma_update(None, "query_only", "ON").unwrap();
    let refused = record.append(&[entry("x")], &[]);
    assert!(matches!(refused, Err(StoreError::Unwritable { .. })), "{refused:?}");
    assert_eq!(record.head().unwrap().size, 1);
    assert_eq!(record.append(&[entry("x")], &[]).unwrap().seq, 2);
}

#[test]
fn derived_records_are_rebuilt_from_the_journal() {
    let (_folder, mut record) = filled(2500);
    record.append(&[entry("last")], &[put("count", "all", "wrong"), put("stray", "a", "b")]).unwrap();
    record
        .rebuild_derived(&mut |seq, bytes| {
            vec![put("count", "all", &seq.to_string()), put("size", &seq.to_string(), &bytes.len().to_string())]
        })
        .unwrap();
    assert_eq!(record.derived("count", "all").unwrap().as_deref(), Some("2501"));
    assert_eq!(record.derived("stray", "a").unwrap(), None);
    assert_eq!(record.derived_all("size").unwrap().len(), 2501);
}
