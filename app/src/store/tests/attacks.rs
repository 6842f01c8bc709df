//! The attacks that the record is made to withstand, each tried whole: every byte, every length, every place.
//! What verification is given besides the file is the newest head, as another machine would have kept it.

use super::tampering::{DROP_GUARDS, database, report, sign_anew, sign_anew_at};
use super::{entry, filled};
use crate::store::keys::StationKey;
use crate::store::read_only::ReadOnlyJournal;
use crate::store::verify::{Finding, Report, verify};
use crate::store::{NewEntry, Record, open};
use rusqlite::{Connection, params};
use sparkout_core::journal::SignedCheckpoint;
use std::fs;
use std::path::{Path, PathBuf};
use tempfile::TempDir;

/// A closed journal without its guards, as somebody has it who can write the file, and its newest head.
struct Victim {
    folder: TempDir,
    file: PathBuf,
    database: Connection,
    kept: String,
    size: u64,
}

/// One byte of what is hashed or signed: which column of which row, and where in it.
struct Place {
    table: &'static str,
    column: &'static str,
    row: i64,
    byte: usize,
}

impl Victim {
    /// So many entries, so many to a transaction; every one differs from every other.
    fn new(size: u64, to_a_transaction: u64) -> Self {
        let (folder, mut record) = filled(0);
        let numbers: Vec<u64> = (1..=size).collect();
        for part in numbers.chunks(usize::try_from(to_a_transaction).unwrap()) {
            let entries: Vec<NewEntry> = part.iter().map(|number| entry(&text(*number))).collect();
            record.append(&entries, &[]).unwrap();
        }
        let kept = record.head().unwrap().note;
        drop(record);
        let database = database(folder.path());
        database.execute_batch(DROP_GUARDS).unwrap();
        database.execute_batch("PRAGMA journal_mode = MEMORY; PRAGMA synchronous = OFF").unwrap();
        Self { file: folder.path().join("kiosk.db"), folder, database, kept, size }
    }

    fn report(&self) -> Report {
        report(self.folder.path(), Some(&self.kept))
    }

    /// Every byte of the entries, of the stored hashes and of the heads.
    fn places(&self) -> Vec<Place> {
        let of = |table: &'static str, column: &'static str| {
            let sql = format!("SELECT rowid, length({column}) FROM {table} ORDER BY rowid");
            // `node` has no rowid: its rows are counted by their order.
            let sql = if table == "node" {
                format!("SELECT row_number() OVER (ORDER BY level, idx), length({column}) FROM node")
            } else {
                sql
            };
            let mut statement = self.database.prepare(&sql).unwrap();
            let rows: Vec<(i64, isize)> =
                statement.query_map([], |row| Ok((row.get(0)?, row.get(1)?))).unwrap().map(Result::unwrap).collect();
            rows.into_iter()
                .flat_map(move |(row, length)| {
                    (0..length.unsigned_abs()).map(move |byte| Place { table, column, row, byte })
                })
                .collect::<Vec<_>>()
        };
        let mut places = of("journal", "leaf");
        for (table, column) in [("node", "hash"), ("checkpoint", "root"), ("checkpoint", "signature")] {
            places.extend(of(table, column));
        }
        places
    }

    /// Turns one bit over, verifies, and turns it back. What was found, in words.
    fn flipped(&self, place: &Place, bit: u8) -> Report {
        let Place { table, column, row, byte } = place;
        let is_this = if *table == "node" {
            "(level, idx) = (SELECT level, idx FROM node ORDER BY level, idx LIMIT 1 OFFSET ?1 - 1)"
        } else {
            "rowid = ?1"
        };
        let read = format!("SELECT {column} FROM {table} WHERE {is_this}");
        let whole: Vec<u8> = self.database.query_row(&read, [row], |row| row.get(0)).unwrap();
        let write = |bytes: &[u8]| {
            let sql = format!("UPDATE {table} SET {column} = ?2 WHERE {is_this}");
            assert_eq!(self.database.execute(&sql, params![row, bytes]).unwrap(), 1);
        };
        let mut bytes = whole.clone();
        bytes[*byte] ^= 1 << bit;
        write(&bytes);
        let found = self.report();
        write(&whole);
        found
    }
}

fn text(number: u64) -> String {
    format!(r#"{{"number":{number},"words":"entry {number} of a journal"}}"#)
}

/// The entry that a finding names, when it names one.
fn named(finding: &Finding) -> Option<u64> {
    match finding {
        Finding::Changed { seq } | Finding::Reordered { seq, .. } | Finding::Missing { seq, .. } => Some(*seq),
        _ => None,
    }
}

fn check_flip(victim: &Victim, place: &Place, bit: u8) {
    let found = victim.flipped(place, bit);
    let Place { table, column, row, byte } = place;
    assert!(!found.findings.is_empty(), "{table}.{column} row {row} byte {byte} bit {bit} passed");
    if *table == "journal" {
        let seq = u64::try_from(*row).unwrap();
        assert_eq!(named(&found.findings[0]), Some(seq), "byte {byte} of entry {seq}: {:?}", found.findings);
    }
}

#[test]
fn every_byte_of_a_hundred_entries() {
    // Two halves side by side: the machine that this must pass on has two cores.
    let halves = [0, 1].map(|half| {
        std::thread::spawn(move || {
            let victim = Victim::new(100, 10);
            let places = victim.places();
            assert!(places.len() > 100 * 40 + 197 * 32 + 10 * 96, "only {} places", places.len());
            for (index, place) in places.iter().enumerate().filter(|(index, _)| index % 2 == half) {
                check_flip(&victim, place, u8::try_from(index % 8).unwrap());
            }
            assert_eq!(victim.report().findings, [], "every byte is as it was");
        })
    });
    for half in halves {
        half.join().unwrap();
    }
}

#[test]
fn two_thousand_places_of_a_thousand_entries() {
    let victim = Victim::new(1000, 50);
    let places = victim.places();
    // A generator of its own, so that the same places are tried everywhere (Knuth's MMIX constants, from memory).
    let mut seed = 20_261_125u64;
    for _ in 0..2000 {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        let place = &places[usize::try_from(seed >> 33).unwrap() % places.len()];
        check_flip(&victim, place, u8::try_from(seed >> 32 & 7).unwrap());
    }
    assert_eq!(victim.report().findings, []);
}

#[test]
fn cut_at_every_length() {
    let victim = Victim::new(100, 1);
    for left in (0..victim.size).rev() {
        // The head goes with the entries, as it would in an older copy of the file.
        let cut = format!(
            "DELETE FROM journal WHERE seq > {left}; DELETE FROM checkpoint WHERE size > {left};
             DELETE FROM node WHERE (idx + 1) << level > {left};"
        );
        victim.database.execute_batch(&cut).unwrap();
        assert_eq!(victim.report().findings, [Finding::ElsewhereCut { size: left, vouched: 100 }], "cut to {left}");
    }
}

#[test]
fn forked_at_every_place() {
    let victim = Victim::new(100, 10);
    let key = StationKey::load(&victim.folder.path().join("station.key")).unwrap().unwrap();
    // A head for each transaction, as the station signed them.
    let sizes: Vec<u64> = (1..=10).map(|transaction| transaction * 10).collect();
    let entries: Vec<Vec<u8>> = (1..=100).map(|number| text(number).into_bytes()).collect();
    for (index, whole) in entries.iter().enumerate() {
        let change = |bytes: &[u8]| {
            let sql = "UPDATE journal SET leaf = ?2 WHERE seq = ?1";
            victim.database.execute(sql, params![i64::try_from(index).unwrap() + 1, bytes]).unwrap();
        };
        change(b"{\"another\":\"entry\"}");
        // With the station's own key: nothing inside the file tells any more.
        sign_anew_at(victim.folder.path(), &key, &sizes);
        assert_eq!(report(victim.folder.path(), None).findings, [], "entry {}", index + 1);
        assert_eq!(victim.report().findings, [Finding::ElsewhereForked { size: 100 }], "entry {}", index + 1);
        change(whole);
    }
}

#[test]
fn inserted_replaced_and_replayed() {
    let of = |victim: &Victim, sql: &str| {
        victim.database.execute_batch(sql).unwrap();
        victim.report().findings
    };
    let insert =
        "UPDATE journal SET seq = seq + 1000 WHERE seq >= 40; UPDATE journal SET seq = seq - 999 WHERE seq > 1000;
        INSERT INTO journal VALUES (40, x'7b7d');";
    assert_eq!(named(&of(&Victim::new(100, 10), insert)[0]), Some(40));
    let replace = "INSERT OR REPLACE INTO journal VALUES (40, x'7b7d')";
    assert_eq!(named(&of(&Victim::new(100, 10), replace)[0]), Some(40));
    let delete = "DELETE FROM journal WHERE seq = 40";
    assert_eq!(named(&of(&Victim::new(100, 10), delete)[0]), Some(40));
    let swap = "UPDATE journal SET seq = -40 WHERE seq = 40; UPDATE journal SET seq = 40 WHERE seq = 60;
        UPDATE journal SET seq = 60 WHERE seq = -40;";
    assert_eq!(named(&of(&Victim::new(100, 10), swap)[0]), Some(40));
}

#[test]
fn another_stations_entries_and_heads() {
    let (victim, other) = (Victim::new(100, 10), Victim::new(120, 10));
    let file = other.file.display().to_string();
    victim.database.execute("ATTACH ?1 AS other", [&file]).unwrap();
    let sql = "UPDATE journal SET leaf = (SELECT leaf FROM other.journal WHERE seq = 115) WHERE seq = 50";
    victim.database.execute_batch(sql).unwrap();
    assert_eq!(named(&victim.report().findings[0]), Some(50));
    // The whole of it, with its tree and its heads, under this station's name.
    let sql = "DELETE FROM journal; DELETE FROM node; DELETE FROM checkpoint;
        INSERT INTO journal SELECT * FROM other.journal; INSERT INTO node SELECT * FROM other.node;
        INSERT INTO checkpoint SELECT * FROM other.checkpoint;";
    victim.database.execute_batch(sql).unwrap();
    let found = victim.report().findings;
    assert!(found.iter().any(|finding| matches!(finding, Finding::HeadForged { .. })), "{found:?}");
    // And the station's row too: then it is another log, and the head kept elsewhere says so.
    let sql = "DELETE FROM station; INSERT INTO station SELECT * FROM other.station;";
    victim.database.execute_batch(sql).unwrap();
    let found = victim.report().findings;
    assert!(matches!(found.as_slice(), [Finding::OtherLog { .. }]), "{found:?}");
}

#[test]
fn yesterdays_copy_put_back() {
    let (folder, mut record) = filled(50);
    drop(record);
    let yesterday = tempfile::tempdir().unwrap();
    fs::copy(folder.path().join("kiosk.db"), yesterday.path().join("kiosk.db")).unwrap();
    record = open(folder.path()).unwrap();
    for number in 51..=60 {
        record.append(&[entry(&text(number))], &[]).unwrap();
    }
    let kept = record.head().unwrap().note;
    drop(record);
    put_back(yesterday.path(), folder.path());
    let found = report(folder.path(), Some(&kept)).findings;
    assert_eq!(found, [Finding::ElsewhereCut { size: 50, vouched: 60 }]);
    // It goes on from there, as a kiosk would that nobody told: first shorter, then as long, then longer.
    let mut record = open(folder.path()).unwrap();
    let mut grow = |to: u64| {
        while record.head().unwrap().size < to {
            record.append(&[entry("{\"after\":\"restore\"}")], &[]).unwrap();
        }
    };
    grow(60);
    assert_eq!(report(folder.path(), Some(&kept)).findings, [Finding::ElsewhereForked { size: 60 }]);
    grow(70);
    assert_eq!(report(folder.path(), Some(&kept)).findings, [Finding::ElsewhereRewritten { vouched: 60 }]);
}

fn put_back(from: &Path, to: &Path) {
    for name in ["kiosk.db-wal", "kiosk.db-shm"] {
        let _ = fs::remove_file(to.join(name));
    }
    fs::copy(from.join("kiosk.db"), to.join("kiosk.db")).unwrap();
}

#[test]
fn the_tree_built_anew_with_another_key() {
    let victim = Victim::new(100, 10);
    let elsewhere = tempfile::tempdir().unwrap();
    let key = StationKey::create(&elsewhere.path().join("key")).unwrap();
    victim.database.execute("UPDATE journal SET leaf = x'7b7d' WHERE seq = 40", []).unwrap();
    sign_anew(victim.folder.path(), &key);
    let found = victim.report().findings;
    assert!(matches!(found.as_slice(), [Finding::OtherKey { .. }]), "{found:?}");
}

/// The clock set back an hour, and an hour later set right again: order stays the journal's, the entries stay as they
/// were signed, and verification says where the clock jumped.
#[test]
fn the_clock_rolled_back_an_hour() {
    let (folder, mut record) = filled(0);
    let stamped = |number: i64| {
        let wrong = if (40..60).contains(&number) { -3_600 } else { 0 };
        let wall = jiff::Timestamp::from_second(1_780_000_000 + number * 60 + wrong).unwrap();
        entry(&format!(r#"{{"at":{{"wall":"{wall}","monotonic_ms":{},"boot":"b"}},"body":null}}"#, number * 60_000))
    };
    for number in 1..=100 {
        record.append(&[stamped(number)], &[]).unwrap();
    }
    let kept = record.head().unwrap().note;
    drop(record);
    let found = report(folder.path(), Some(&kept));
    assert_eq!((found.findings.as_slice(), found.vouched), ([].as_slice(), Some(100)));
    let (turned, count) = found.turned;
    let told: Vec<String> = turned.iter().map(ToString::to_string).collect();
    assert_eq!(told, ["set back by 1 h 00 min before entry 40", "set forward by 1 h 00 min before entry 60"]);
    assert_eq!(count, 2);
    // Times put right afterwards, as somebody would who had nothing to gain from the truth, are changed bytes.
    let database = database(folder.path());
    database.execute_batch(DROP_GUARDS).unwrap();
    let mended = stamped(30).bytes;
    database.execute("UPDATE journal SET leaf = ?1 WHERE seq = 40", [mended]).unwrap();
    assert_eq!(named(&report(folder.path(), Some(&kept)).findings[0]), Some(40));
}

/// Every byte of the head that is kept elsewhere: a forged witness vouches for nothing.
#[test]
fn every_byte_of_the_kept_head() {
    let victim = Victim::new(100, 10);
    let journal = ReadOnlyJournal::open(&victim.file).unwrap();
    for place in 0..victim.kept.len() {
        let mut bytes = victim.kept.clone().into_bytes();
        bytes[place] ^= 1 << (place % 8);
        let Ok(Ok(note)) = String::from_utf8(bytes).map(|text| SignedCheckpoint::parse(&text)) else { continue };
        let found = verify(&journal, Some(&note)).unwrap();
        assert!(!found.findings.is_empty() && found.vouched.is_none(), "byte {place} passed");
    }
}

/// The file itself cut at every page, as a card leaves it that was pulled while it copied.
#[test]
fn the_file_cut_at_every_page() {
    let victim = Victim::new(100, 10);
    let whole = fs::read(&victim.file).unwrap();
    let cut = victim.folder.path().join("cut.db");
    let note = SignedCheckpoint::parse(&victim.kept).unwrap();
    for left in (0..whole.len()).step_by(4096) {
        fs::write(&cut, &whole[..left]).unwrap();
        let found = ReadOnlyJournal::open(&cut).and_then(|journal| verify(&journal, Some(&note)));
        assert!(found.is_err() || found.is_ok_and(|found| !found.findings.is_empty()), "{left} bytes passed");
    }
}
