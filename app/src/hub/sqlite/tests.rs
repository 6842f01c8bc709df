use super::*;
use crate::hub::store::{Growth, NewEvent, Refused};
use sparkout_core::journal::checkpoint::NamedKey;
use sparkout_core::journal::merkle::leaf_hash;
use sparkout_core::journal::witness::Alarm;
use sparkout_core::journal::{Checkpoint, Tree};

fn hub() -> (tempfile::TempDir, SqliteHub) {
    let folder = tempfile::tempdir().unwrap();
    let hub = SqliteHub::open(folder.path()).unwrap();
    (folder, hub)
}

fn pairing(code: u8, station: &str, now: i64) -> Pairing {
    let station = KnownStation {
        station: station.to_owned(),
        name: format!("Bench {station}"),
        public_key: [7; 32],
        paired_ms: now,
        revoked_ms: None,
    };
    Pairing { code_hash: [code; 32], token_hash: [code; 32], station }
}

fn paired(hub: &SqliteHub, code: u8, station: &str) -> LogName {
    hub.open_code([code; 32], 1000, 5).unwrap();
    assert!(hub.pair(&pairing(code, station, 0)).unwrap());
    LogName { station: station.to_owned(), incarnation: "one".to_owned() }
}

/// Puts entries on a journal as the rules would have them, the last of them held.
fn grow(hub: &SqliteHub, log: &LogName, texts: &[&str], hold_last: bool) {
    let mut judge = |state: &LogState, _: &[sparkout_core::journal::Hash]| {
        let mut tree = state.tree.clone();
        let mut entries = Vec::new();
        for (index, text) in texts.iter().enumerate() {
            let hash = leaf_hash(text.as_bytes());
            tree.append(hash);
            let held = (hold_last && index + 1 == texts.len()).then(|| "not understood".to_owned());
            entries.push(NewEvent { seq: tree.size(), hash, bytes: text.as_bytes().to_vec(), held });
        }
        let head = Checkpoint { origin: "log".to_owned(), size: tree.size(), root: tree.root() };
        let note = head.note(&NamedKey::new("log", [7; 32]).unwrap(), &[9; 64]);
        Ok(Growth { tree, head, note, entries, clock_off_ms: Some(-5) })
    };
    hub.push(log, (1, 0), 10, &mut judge).unwrap().unwrap();
}

#[test]
fn a_code_pairs_once_in_its_time_and_five_wrong_tries_close_it() {
    let (_folder, hub) = hub();
    hub.open_code([1; 32], 1000, 5).unwrap();
    assert!(!hub.pair(&pairing(1, "a", 1000)).unwrap(), "too late");
    assert!(hub.pair(&pairing(1, "a", 999)).unwrap());
    assert!(!hub.pair(&pairing(1, "b", 999)).unwrap(), "used");
    hub.open_code([2; 32], 1000, 5).unwrap();
    for _ in 0..4 {
        assert!(!hub.pair(&pairing(9, "b", 0)).unwrap());
    }
    hub.open_code([3; 32], 1000, 5).unwrap();
    assert!(!hub.pair(&pairing(9, "b", 0)).unwrap());
    assert!(!hub.pair(&pairing(2, "b", 0)).unwrap(), "closed by five wrong tries");
    assert!(hub.pair(&pairing(3, "b", 0)).unwrap(), "made after four of them");
}

#[test]
fn a_token_is_taken_back_and_given_anew() {
    let (_folder, hub) = hub();
    paired(&hub, 1, "a");
    let known = |token: u8| hub.station_by_token([token; 32]).unwrap();
    assert_eq!(known(1).unwrap().revoked_ms, None);
    assert!(known(2).is_none());
    assert!(hub.revoke("a", 5).unwrap() && !hub.revoke("nobody", 5).unwrap());
    assert_eq!(known(1).unwrap().revoked_ms, Some(5));
    paired(&hub, 2, "a");
    assert!(known(1).is_none(), "the old token is gone");
    assert_eq!(known(2).unwrap().revoked_ms, None);
    assert_eq!(hub.stations().unwrap().len(), 1);
}

#[test]
fn what_was_pushed_is_there_after_a_restart_and_never_changes() {
    let (folder, hub) = hub();
    let log = paired(&hub, 1, "a");
    grow(&hub, &log, &["one", "two", "three"], false);
    grow(&hub, &log, &["four"], true);
    let before = hub.log(&log).unwrap();
    drop(hub);
    let hub = SqliteHub::open(folder.path()).unwrap();
    assert_eq!(hub.log(&log).unwrap(), before);
    assert_eq!(before.tree.size(), 4);
    let known = hub.logs().unwrap();
    assert_eq!((known[0].stored, known[0].vouched, known[0].clock_off_ms), (4, 4, Some(-5)));
    for meddling in [
        "UPDATE event SET bytes = 'other' WHERE seq = 2",
        "DELETE FROM event WHERE seq = 4",
        "INSERT OR REPLACE INTO event (feed, station, incarnation, seq, hash, bytes, held)
         SELECT feed, station, incarnation, seq, hash, x'00', 0 FROM event WHERE seq = 3",
        "UPDATE log SET stored = 3",
        "DELETE FROM log",
    ] {
        assert!(hub.writing().execute_batch(meddling).is_err(), "{meddling}");
    }
}

#[test]
fn a_reader_is_given_the_others_entries_once_and_not_those_held() {
    let (_folder, hub) = hub();
    let (a, b) = (paired(&hub, 1, "a"), paired(&hub, 2, "b"));
    grow(&hub, &a, &["a1", "a2"], false);
    grow(&hub, &b, &["b1"], false);
    grow(&hub, &a, &["a3", "a4"], true);
    let read = |after, most| {
        let (entries, next) = hub.feed(after, "b", most, usize::MAX).unwrap();
        let texts = entries.iter().map(|entry| String::from_utf8(entry.bytes.clone()).unwrap()).collect::<Vec<_>>();
        (texts.join(" "), next)
    };
    assert_eq!(read(0, 10), ("a1 a2 a3".to_owned(), 5));
    assert_eq!(read(0, 2), ("a1 a2".to_owned(), 2));
    assert_eq!(read(2, 2), ("a3".to_owned(), 5));
    assert_eq!(read(5, 2), (String::new(), 5));
    let (few, next) = hub.feed(0, "b", 10, 1).unwrap();
    assert_eq!((few.len(), next), (1, 1), "one at least, however large");
    assert_eq!(hub.quarantine(10).unwrap().len(), 1);
}

#[test]
fn a_refusal_is_counted_and_its_entries_are_kept_aside() {
    let (_folder, hub) = hub();
    let log = paired(&hub, 1, "a");
    grow(&hub, &log, &["one"], false);
    let aside = NewEvent { seq: 1, hash: leaf_hash(b"other"), bytes: b"other".to_vec(), held: Some("why".to_owned()) };
    let refused = |refusal: Refusal| {
        let refused = Refused { refusal, note: "note".to_owned(), aside: vec![aside.clone()] };
        hub.push(&log, (1, 1), 20, &mut |_, known| {
            assert_eq!(known, [leaf_hash(b"one")]);
            Err(refused.clone())
        })
    };
    for _ in 0..3 {
        assert_eq!(refused(Refusal::Clash { seq: 1 }).unwrap(), Err(Refusal::Clash { seq: 1 }));
    }
    refused(Alarm::Forked { size: 1 }.into()).unwrap().unwrap_err();
    refused(Refusal::Gap { stored: 1, from: 3 }).unwrap().unwrap_err();
    let mut alarms = hub.alarms(10).unwrap();
    alarms.sort_by_key(|alarm| alarm.times);
    assert_eq!(alarms.iter().map(|alarm| alarm.times).collect::<Vec<_>>(), [1, 3]);
    assert!(alarms[1].alarm.contains("entry 1 is stored already"));
    let held = hub.quarantine(10).unwrap();
    assert_eq!((held.len(), held[0].bytes.as_slice(), held[0].reason.as_str()), (1, &b"other"[..], "why"));
    assert_eq!(hub.log(&log).unwrap().tree, {
        let mut tree = Tree::new();
        tree.append(leaf_hash(b"one"));
        tree
    });
}

#[test]
fn a_file_of_another_kind_or_a_newer_version_is_left_alone() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join(DATABASE);
    Connection::open(&file).unwrap().execute_batch("CREATE TABLE other (x)").unwrap();
    assert!(matches!(SqliteHub::open(folder.path()), Err(StoreError::Corrupt { .. })));
    std::fs::remove_file(&file).unwrap();
    drop(SqliteHub::open(folder.path()).unwrap());
    Connection::open(&file).unwrap().pragma_update(None, "user_version", 99).unwrap();
    assert!(matches!(SqliteHub::open(folder.path()), Err(StoreError::Unwritable { .. })));
}
