//! Whoever can write the file tries to change the record; verification finds it and says which entry.

use super::{entry, filled};
use crate::store::keys::StationKey;
use crate::store::read_only::{ReadOnlyJournal, Unreadable};
use crate::store::verify::{Finding, Report, verify};
use crate::store::{NewEntry, Record, SqliteRecord, open};
use proptest::prelude::*;
use rusqlite::{Connection, params};
use sparkout_core::journal::{Checkpoint, Hash, SignedCheckpoint, Tree, merkle};
use std::fs;
use std::path::Path;
use std::sync::LazyLock;
use tempfile::TempDir;

pub const DROP_GUARDS: &str = "DROP TRIGGER journal_grows_by_one; DROP TRIGGER journal_never_changes;
    DROP TRIGGER journal_never_shrinks; DROP TRIGGER node_never_changes; DROP TRIGGER node_never_shrinks;
    DROP TRIGGER node_is_new; DROP TRIGGER checkpoint_never_changes; DROP TRIGGER checkpoint_never_shrinks;
    DROP TRIGGER checkpoint_is_of_the_journal; DROP TRIGGER station_never_changes; DROP TRIGGER station_never_goes;";

/// A closed journal of nine entries: five one by one, and four in one transaction.
fn journal() -> TempDir {
    let (folder, mut record) = filled(5);
    let batch: Vec<NewEntry> = (6..=9).map(|number| entry(&format!(r#"{{"number":{number}}}"#))).collect();
    record.append(&batch, &[]).unwrap();
    folder
}

pub fn database(folder: &Path) -> Connection {
    Connection::open(folder.join("kiosk.db")).unwrap()
}

fn tampered(sql: &str) -> TempDir {
    let folder = journal();
    let database = database(folder.path());
    database.execute_batch(DROP_GUARDS).unwrap();
    database.execute_batch(sql).unwrap();
    folder
}

pub fn report(folder: &Path, elsewhere: Option<&str>) -> Report {
    let journal = ReadOnlyJournal::open(&folder.join("kiosk.db")).unwrap();
    let note = elsewhere.map(|note| SignedCheckpoint::parse(note).unwrap());
    verify(&journal, note.as_ref()).unwrap()
}

/// The findings' words after this SQL, first the first.
fn check(sql: &str, words: &[&str]) {
    let found = report(tampered(sql).path(), None);
    let told: Vec<String> = found.findings.iter().map(Finding::to_string).collect();
    assert_eq!(told.len(), words.len(), "{sql}: {told:?}");
    assert!(told.iter().zip(words).all(|(told, word)| told.contains(word)), "{sql}: {told:?}");
    assert!(found.altered.contains(&"journal_never_changes".to_owned()));
}

fn note(folder: &Path) -> String {
    open(folder).unwrap().head().unwrap().note
}

fn append(folder: &Path, text: &str) {
    open(folder).unwrap().append(&[entry(text)], &[]).unwrap();
}

#[test]
fn an_untouched_journal_verifies() {
    let folder = journal();
    let found = report(folder.path(), None);
    assert_eq!(found.findings, []);
    assert_eq!((found.size, found.heads, found.vouched), (9, 7, None));
    assert!(found.altered.is_empty());
    let head = open(folder.path()).unwrap().head().unwrap();
    assert_eq!(found.root, head.root);
    append(folder.path(), "later");
    assert_eq!(report(folder.path(), Some(&head.note)).vouched, Some(9));
}

#[test]
fn an_empty_journal_verifies() {
    let (folder, record) = filled(0);
    drop(record);
    let found = report(folder.path(), None);
    assert_eq!((found.findings.len(), found.size, found.root, found.heads), (0, 0, merkle::empty_root(), 1));
}

#[test]
fn a_changed_byte() {
    check("UPDATE journal SET leaf = CAST(replace(leaf, 'n', 'm') AS BLOB) WHERE seq = 3", &["entry 3 was changed"]);
    // One of four entries under one signature is still told by its number.
    check("UPDATE journal SET leaf = CAST(replace(leaf, '7', '11') AS BLOB) WHERE seq = 7", &["entry 7 was changed"]);
    check("UPDATE journal SET leaf = x'00' WHERE seq IN (2, 8)", &["entry 2 was changed"]);
}

#[test]
fn the_last_row_deleted() {
    check("DELETE FROM journal WHERE seq = 9", &["entry 9 missing: cut from the end"]);
    check("DELETE FROM journal WHERE seq > 3", &["entries 4 to 9 missing: cut from the end"]);
    check("DELETE FROM journal", &["entries 1 to 9 missing: cut from the end"]);
}

#[test]
fn a_row_in_between_deleted() {
    check("DELETE FROM journal WHERE seq = 4", &["entry 4 is missing: entry 5 follows entry 3"]);
    check("DELETE FROM journal WHERE seq = 1", &["entry 1 is missing"]);
    check("DELETE FROM journal WHERE seq = 5; UPDATE journal SET leaf = x'00' WHERE seq = 2", &["entry 2 was changed"]);
    let renumbered = "DELETE FROM journal WHERE seq = 4; UPDATE journal SET seq = seq - 1 WHERE seq > 4";
    check(renumbered, &["entry 4 was replaced: it holds what was entry 5"]);
}

#[test]
fn rows_swapped() {
    let swap = "UPDATE journal SET seq = -2 WHERE seq = 2; UPDATE journal SET seq = 2 WHERE seq = 8;
        UPDATE journal SET seq = 8 WHERE seq = -2;";
    check(swap, &["entry 2 was replaced: it holds what was entry 8, so entries were reordered, dropped or copied"]);
}

#[test]
fn a_row_added() {
    check("INSERT INTO journal VALUES (10, x'7b7d')", &["entry 10 added without the station's key"]);
    check("DELETE FROM checkpoint WHERE size > 3", &["entries 4 to 9 added without the station's key"]);
    check("DELETE FROM checkpoint", &["entries 1 to 9 added without the station's key"]);
}

#[test]
fn heads_and_hashes_altered() {
    check("UPDATE checkpoint SET signature = zeroblob(64) WHERE size = 4", &["head of 4 entries is not signed"]);
    check("UPDATE checkpoint SET root = zeroblob(32) WHERE size = 4", &["head of 4 entries is not signed"]);
    check("UPDATE node SET hash = zeroblob(32) WHERE level = 0 AND idx = 4", &["stored hash of entry 5 is wrong"]);
    check(
        "UPDATE node SET hash = zeroblob(32) WHERE level = 2 AND idx = 1",
        &["stored hash of entries 5 to 8 is wrong"],
    );
    check("DELETE FROM journal; DELETE FROM node; DELETE FROM checkpoint", &["there is no signed head"]);
}

/// Writes every stored hash anew over the entries as they are, as a forger would who knows the format.
fn rehash(database: &Connection) -> Tree {
    database.execute("DELETE FROM node", []).unwrap();
    let mut tree = Tree::new();
    let mut statement = database.prepare("SELECT leaf FROM journal ORDER BY seq").unwrap();
    let leaves: Vec<Vec<u8>> = statement.query_map([], |row| row.get(0)).unwrap().map(Result::unwrap).collect();
    for leaf in leaves {
        tree.append_noting(merkle::leaf_hash(&leaf), |node| {
            let values = params![node.level, node.index as i64, node.hash.as_bytes()];
            database.execute("INSERT INTO node VALUES (?1, ?2, ?3)", values).unwrap();
        });
    }
    tree
}

#[test]
fn hashes_made_to_fit_without_the_key() {
    for (seq, words) in [(4, "entry 4 was changed"), (7, "one of entries 6 to 9 was changed, and its stored hash")] {
        let folder = tampered(&format!("UPDATE journal SET leaf = x'7b7d' WHERE seq = {seq}"));
        rehash(&database(folder.path()));
        let found = report(folder.path(), None).findings;
        assert!(found[0].to_string().contains(words), "{found:?}");
    }
}

/// Signs every head anew over the entries as they are, with any key.
pub fn sign_anew(folder: &Path, key: &StationKey) -> Hash {
    sign_anew_at(folder, key, &[])
}

/// The same at these sizes only, or at every one where none is named.
pub fn sign_anew_at(folder: &Path, key: &StationKey, sizes: &[u64]) -> Hash {
    let database = database(folder);
    let root = rehash(&database).root();
    let origin: String = database.query_row("SELECT origin FROM station", [], |row| row.get(0)).unwrap();
    database.execute("DELETE FROM checkpoint", []).unwrap();
    let mut tree = Tree::new();
    let mut statement = database.prepare("SELECT leaf FROM journal ORDER BY seq").unwrap();
    let leaves: Vec<Vec<u8>> = statement.query_map([], |row| row.get(0)).unwrap().map(Result::unwrap).collect();
    for leaf in leaves {
        tree.append(merkle::leaf_hash(&leaf));
        if !sizes.is_empty() && !sizes.contains(&tree.size()) {
            continue;
        }
        let checkpoint = Checkpoint { origin: origin.clone(), size: tree.size(), root: tree.root() };
        let signature = checkpoint.sign(|text| key.sign(text));
        let sql = "INSERT INTO checkpoint VALUES (?1, ?2, ?3)";
        database.execute(sql, params![tree.size() as i64, tree.root().as_bytes(), signature]).unwrap();
    }
    database.execute("UPDATE station SET public_key = ?1", [key.public_key()]).unwrap();
    root
}

#[test]
fn rebuilt_with_another_key() {
    let folder = journal();
    let kept = note(folder.path());
    let forger = tempfile::tempdir().unwrap();
    let key = StationKey::create(&forger.path().join("key")).unwrap();
    let database = database(folder.path());
    database.execute_batch(DROP_GUARDS).unwrap();
    database.execute("UPDATE journal SET leaf = x'7b7d' WHERE seq = 4", []).unwrap();
    drop(database);
    let root = sign_anew(folder.path(), &key);
    let alone = report(folder.path(), None);
    assert_eq!(alone.findings, [], "nothing in the file can show it: this is what checkpoints elsewhere are for");
    assert_eq!(alone.root, root);
    let found = report(folder.path(), Some(&kept)).findings;
    assert!(matches!(found.as_slice(), [Finding::OtherKey { .. }]), "{found:?}");
    assert!(found[0].to_string().contains("rebuilt with another key"), "{}", found[0]);
}

/// The station's own key in the wrong hands, or a restored copy that went on by itself.
fn against_a_kept_head(change: impl FnOnce(&Path)) -> Vec<Finding> {
    let folder = journal();
    let kept = note(folder.path());
    change(folder.path());
    let found = report(folder.path(), Some(&kept));
    assert_eq!(found.vouched, None);
    found.findings
}

fn back_to_five(folder: &Path) {
    let database = database(folder);
    database.execute_batch(DROP_GUARDS).unwrap();
    let cut = "DELETE FROM journal WHERE seq > 5; DELETE FROM checkpoint WHERE size > 5; DELETE FROM node";
    database.execute_batch(cut).unwrap();
    rehash(&database);
}

#[test]
fn cut_forked_and_rewritten_are_told_apart() {
    let cut = against_a_kept_head(back_to_five);
    assert_eq!(cut, [Finding::ElsewhereCut { size: 5, vouched: 9 }]);
    assert!(cut[0].to_string().starts_with("cut: "), "{}", cut[0]);
    let grown = |to: u64| {
        move |folder: &Path| {
            back_to_five(folder);
            (6..=to).for_each(|number| append(folder, &format!("other {number}")));
        }
    };
    assert_eq!(against_a_kept_head(grown(7)), [Finding::ElsewhereCut { size: 7, vouched: 9 }]);
    let forked = against_a_kept_head(grown(9));
    assert_eq!(forked, [Finding::ElsewhereForked { size: 9 }]);
    assert!(forked[0].to_string().starts_with("forked: "));
    let rewritten = against_a_kept_head(grown(11));
    assert_eq!(rewritten, [Finding::ElsewhereRewritten { vouched: 9 }]);
    assert!(rewritten[0].to_string().starts_with("rewritten: "));
}

#[test]
fn the_head_of_another_log() {
    let (other, record) = filled(9);
    drop(record);
    let found = report(journal().path(), Some(&note(other.path()))).findings;
    assert!(matches!(found.as_slice(), [Finding::OtherLog { .. }]), "{found:?}");
}

#[test]
fn a_forged_checkpoint_vouches_for_nothing() {
    let folder = journal();
    let kept = note(folder.path()).replacen("\n9\n", "\n8\n", 1);
    let found = report(folder.path(), Some(&kept));
    assert!(matches!(found.findings.as_slice(), [Finding::OtherKey { .. }]), "{found:?}");
    assert_eq!(found.vouched, None);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, ..ProptestConfig::default() })]
    #[test]
    fn any_flipped_byte_is_found_or_harmless(place in any::<prop::sample::Index>(), flip in 1u8..=255, is_filled in any::<bool>()) {
        let (whole, key, root) = &*FILE;
        let mut bytes = whole.clone();
        // Most of a small file is empty; half of the flips go where something stands.
        let places: Vec<usize> = (0..bytes.len()).filter(|place| !is_filled || bytes[*place] != 0).collect();
        bytes[*place.get(&places)] ^= flip;
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("kiosk.db");
        fs::write(&file, bytes).unwrap();
        let found = ReadOnlyJournal::open(&file).and_then(|journal| verify(&journal, None));
        match found {
            Ok(found) if found.findings.is_empty() => prop_assert_eq!((found.size, found.root), (9, *root)),
            Ok(found) => prop_assert!(!found.findings[0].to_string().is_empty()),
            Err(error) => prop_assert!(!error.to_string().is_empty()),
        }
        // The kiosk either sees it too, or goes on with a journal that has the same root.
        fs::write(folder.path().join("station.key"), key).unwrap();
        if let Ok(record) = open(folder.path()) && record.check().is_ok() {
            prop_assert_eq!(record.head().unwrap().root, *root);
        }
    }
}

/// A head whose number was made a smaller one stands behind its betters: reading on "behind the last one" would never
/// come to an end. Every byte of the file that may be the ninth head's number is tried.
#[test]
fn a_head_out_of_its_order_is_read_once() {
    let (whole, ..) = &*FILE;
    let places: Vec<usize> = (0..whole.len()).filter(|place| whole[*place] == 9).collect();
    let mut told = 0;
    for place in places {
        let mut bytes = whole.clone();
        bytes[place] = 1;
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("kiosk.db");
        fs::write(&file, bytes).unwrap();
        let found = ReadOnlyJournal::open(&file).and_then(|journal| verify(&journal, None));
        told += usize::from(
            found.is_ok_and(|found| found.findings.iter().any(|f| matches!(f, Finding::HeadForged { .. }))),
        );
    }
    assert!(told > 0, "no byte was the head's number");
}

/// A closed journal's file, its key and its root.
static FILE: LazyLock<(Vec<u8>, Vec<u8>, Hash)> = LazyLock::new(|| {
    let folder = journal();
    let read = |name: &str| fs::read(folder.path().join(name)).unwrap();
    (read("kiosk.db"), read("station.key"), report(folder.path(), None).root)
});

fn names_in(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> =
        fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
    names.sort();
    names
}

#[test]
fn reading_changes_nothing_and_leaves_nothing() {
    let copies = |folder: &Path, names: &[&str]| {
        let copy = tempfile::tempdir().unwrap();
        names.iter().for_each(|name| fs::copy(folder.join(name), copy.path().join(name)).map(|_| ()).unwrap());
        copy
    };
    let (folder, record) = filled(9);
    // A copy with its log, one with log and index as a killed kiosk leaves them, and one of a file closed in order.
    let torn = copies(folder.path(), &["kiosk.db", "kiosk.db-wal"]);
    let killed = copies(folder.path(), &["kiosk.db", "kiosk.db-wal", "kiosk.db-shm"]);
    drop(record);
    let closed = copies(folder.path(), &["kiosk.db"]);
    for copy in [torn, killed, closed] {
        let hash = |name: &str| fs::read(copy.path().join(name)).ok().map(|bytes| merkle::leaf_hash(&bytes));
        let before = (names_in(copy.path()), hash("kiosk.db"), hash("kiosk.db-wal"));
        let found = report(copy.path(), None);
        assert_eq!((found.size, found.findings.len()), (9, 0), "{before:?}");
        assert_eq!((names_in(copy.path()), hash("kiosk.db"), hash("kiosk.db-wal")), before);
    }
}

#[test]
fn a_name_that_a_uri_would_misread() {
    let (folder, record) = filled(3);
    drop(record);
    let odd = folder.path().join("50% of? the #1 reel's.db");
    fs::copy(folder.path().join("kiosk.db"), &odd).unwrap();
    let journal = ReadOnlyJournal::open(&odd).unwrap();
    assert_eq!(verify(&journal, None).unwrap().size, 3);
}

#[test]
fn while_the_kiosk_writes() {
    let (folder, mut record): (TempDir, SqliteRecord) = filled(20);
    let file = folder.path().join("kiosk.db");
    let reader = std::thread::spawn(move || {
        let mut sizes = Vec::new();
        while sizes.last() != Some(&320) {
            let journal = ReadOnlyJournal::open(&file).unwrap();
            let found = verify(&journal, None).unwrap();
            assert_eq!(found.findings, []);
            assert!(journal.is_undisturbed());
            sizes.push(found.size);
        }
        sizes
    });
    for number in 21..=320u32 {
        record.append(&[entry(&format!("{number} {}", "x".repeat(500)))], &[]).unwrap();
    }
    let sizes = reader.join().unwrap();
    assert!(sizes.is_sorted());
    record.check().unwrap();
}

#[test]
fn what_is_no_journal_is_unreadable() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("kiosk.db");
    let opened = |file: &Path| ReadOnlyJournal::open(file).map(|_| ()).unwrap_err();
    assert!(matches!(opened(&file), Unreadable::File { .. }));
    assert!(!file.exists());
    fs::write(&file, []).unwrap();
    assert!(matches!(opened(&file), Unreadable::Foreign { .. }));
    fs::write(&file, "not a database at all").unwrap();
    assert!(matches!(opened(&file), Unreadable::Database { .. }));
    fs::remove_file(&file).unwrap();
    Connection::open(&file).unwrap().execute_batch("CREATE TABLE recipes (name TEXT)").unwrap();
    assert!(matches!(opened(&file), Unreadable::Foreign { .. }));
    assert!(matches!(opened(folder.path()), Unreadable::Foreign { .. }));
}
