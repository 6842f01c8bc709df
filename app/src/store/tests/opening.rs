//! What must not be opened is not, is put aside untouched, and is told in words.

use super::{filled, mid_flight};
use crate::store::fault::{OpenFailure, StoreError};
use crate::store::read_only::ReadOnlyJournal;
use crate::store::verify::verify;
use crate::store::{Record, open, schema};
use rusqlite::Connection;
use sparkout_core::journal::merkle;
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use tempfile::tempdir;

/// The file and what stands beside it, byte for byte.
fn snapshot(folder: &Path, name: &str) -> BTreeMap<String, merkle::Hash> {
    let beside = |ending: &str| folder.join(format!("{name}{ending}"));
    let read = |ending: &&str| Some(((*ending).to_owned(), merkle::leaf_hash(&fs::read(beside(ending)).ok()?)));
    ["", "-wal", "-journal"].iter().filter_map(read).collect()
}

fn aside(failure: &OpenFailure) -> PathBuf {
    match failure {
        OpenFailure::Newer { set_aside, .. } | OpenFailure::Corrupt { set_aside, .. } => set_aside.clone(),
        OpenFailure::InUse
        | OpenFailure::Unwritable { .. }
        | OpenFailure::Full { .. }
        | OpenFailure::KeyMissing { .. }
        | OpenFailure::KeyUnusable { .. }
        | OpenFailure::SqliteTooOld { .. } => panic!("{failure:?}"),
    }
}

fn refused(folder: &Path) -> OpenFailure {
    match open(folder) {
        Err(failure) => failure,
        Ok(_) => panic!("it was opened"),
    }
}

/// Opens must fail, with the file moved as it was and nothing left in its place; the next start begins a new log.
fn check_set_aside(folder: &Path) -> OpenFailure {
    let before = snapshot(folder, "kiosk.db");
    let failure = refused(folder);
    let file = aside(&failure);
    let name = file.file_name().unwrap().to_str().unwrap().to_owned();
    assert_eq!(snapshot(file.parent().unwrap(), &name), before);
    assert!(snapshot(folder, "kiosk.db").is_empty());
    assert!(failure.to_string().contains(&name));
    let fresh = open(folder).unwrap();
    assert_eq!(fresh.head().unwrap().size, 0);
    failure
}

#[test]
fn a_folder_that_cannot_be_is_told() {
    let folder = tempdir().unwrap();
    let file = folder.path().join("file");
    fs::write(&file, "not a folder").unwrap();
    assert!(matches!(refused(&file), OpenFailure::Unwritable { .. }));
    assert!(matches!(refused(&file.join("below")), OpenFailure::Unwritable { .. }));
    let taken = tempdir().unwrap();
    fs::create_dir(taken.path().join("kiosk.lock")).unwrap();
    assert!(matches!(refused(taken.path()), OpenFailure::Unwritable { .. }));
}

#[test]
fn one_process_at_a_time() {
    let (folder, record) = filled(1);
    assert_eq!(refused(folder.path()), OpenFailure::InUse);
    drop(record);
    open(folder.path()).unwrap();
}

#[test]
fn a_newer_file_is_set_aside_untouched() {
    let (folder, record) = filled(2);
    drop(record);
    let file = folder.path().join("kiosk.db");
    Connection::open(&file).unwrap().pragma_update(None, "user_version", schema::KNOWN + 1).unwrap();
    let failure = check_set_aside(folder.path());
    assert!(matches!(failure, OpenFailure::Newer { found, known, .. } if found == known + 1), "{failure:?}");
}

/// A file of the first release: it proves as it is, and opening brings it up with everything in it.
#[test]
fn an_older_file_is_proved_as_it_is_and_brought_up_by_opening() {
    let (folder, record) = filled(3);
    let root = record.head().unwrap().root;
    drop(record);
    let file = folder.path().join("kiosk.db");
    let older = Connection::open(&file).unwrap();
    older.execute_batch("DROP TABLE pin; PRAGMA user_version = 1").unwrap();
    drop(older);
    let journal = ReadOnlyJournal::open(&file).unwrap();
    let found = verify(&journal, None).unwrap();
    assert!(found.altered.is_empty() && found.findings.is_empty(), "{found:?}");
    drop(journal);
    let record = open(folder.path()).unwrap();
    record.check().unwrap();
    assert_eq!((record.head().unwrap().root, record.pinned().unwrap()), (root, Vec::new()));
}

#[test]
fn a_newer_file_is_set_aside_with_its_log() {
    let (folder, record) = filled(2);
    record.connection().unwrap().pragma_update(None, "user_version", schema::KNOWN + 7).unwrap();
    let copy = mid_flight(folder.path());
    assert!(copy.path().join("kiosk.db-wal").exists());
    let failure = check_set_aside(copy.path());
    assert!(matches!(failure, OpenFailure::Newer { found, .. } if found == schema::KNOWN + 7), "{failure:?}");
    drop(record);
}

#[test]
fn garbage_is_set_aside_untouched() {
    for garbage in [vec![0xA5; 4096], b"SQLite format 3\0 and then nothing more of it".to_vec(), vec![0; 65_536]] {
        let (folder, record) = filled(2);
        drop(record);
        fs::write(folder.path().join("kiosk.db"), garbage).unwrap();
        let failure = check_set_aside(folder.path());
        assert!(matches!(failure, OpenFailure::Corrupt { .. }), "{failure:?}");
    }
}

#[test]
fn another_programs_database_is_set_aside() {
    let folder = tempdir().unwrap();
    let other = Connection::open(folder.path().join("kiosk.db")).unwrap();
    other.execute_batch("CREATE TABLE recipes (name TEXT)").unwrap();
    drop(other);
    assert!(matches!(check_set_aside(folder.path()), OpenFailure::Corrupt { .. }));
}

#[test]
fn a_log_without_its_file_is_set_aside() {
    let (folder, record) = filled(2);
    let copy = mid_flight(folder.path());
    fs::remove_file(copy.path().join("kiosk.db")).unwrap();
    let failure = check_set_aside(copy.path());
    assert!(matches!(failure, OpenFailure::Corrupt { .. }), "{failure:?}");
    drop(record);
}

#[test]
fn two_are_set_aside_under_two_names() {
    let folder = tempdir().unwrap();
    let mut names = Vec::new();
    for _ in 0..2 {
        fs::write(folder.path().join("kiosk.db"), [0xA5; 999]).unwrap();
        names.push(aside(&refused(folder.path())));
    }
    assert_ne!(names[0], names[1]);
    assert!(names.iter().all(|name| name.exists()));
}

#[test]
fn a_flipped_page_is_found_by_the_check_and_set_aside() {
    let (folder, record) = filled(400);
    drop(record);
    let file = folder.path().join("kiosk.db");
    let mut found = 0;
    let whole = fs::read(&file).unwrap();
    for page in (4096..whole.len()).step_by(4096) {
        // The head of a page: its kind, cells and free blocks.
        let mut bytes = whole.clone();
        bytes[page..page + 12].iter_mut().for_each(|byte| *byte ^= 0x5A);
        fs::write(&file, &bytes).unwrap();
        let failure = match open(folder.path()) {
            Err(failure) => failure,
            Ok(record) => match record.check() {
                Err(StoreError::Corrupt { detail }) => record.retire(detail),
                other => panic!("page at {page}: {other:?}"),
            },
        };
        assert!(fs::read(aside(&failure)).unwrap() == bytes, "page at {page}");
        found += 1;
    }
    assert!(found > 10, "{found}");
}

#[test]
fn a_changed_entry_among_the_newest_is_found_by_the_check() {
    let (folder, record) = filled(20);
    drop(record);
    let file = Connection::open(folder.path().join("kiosk.db")).unwrap();
    file.execute_batch("DROP TRIGGER journal_never_changes; UPDATE journal SET leaf = x'7b7d' WHERE seq = 7;").unwrap();
    drop(file);
    let record = open(folder.path()).unwrap();
    let Err(StoreError::Corrupt { detail }) = record.check() else { panic!("not found") };
    assert!(detail.contains("journal_never_changes"), "{detail}");
    let file = Connection::open(folder.path().join("kiosk.db")).unwrap();
    file.execute_batch(
        "CREATE TRIGGER journal_never_changes BEFORE UPDATE ON journal\nBEGIN\n    \
         SELECT RAISE(ABORT, 'a journal entry never changes');\nEND",
    )
    .unwrap();
    let Err(StoreError::Corrupt { detail }) = record.check() else { panic!("not found") };
    assert!(detail.contains("entry 7"), "{detail}");
}

#[test]
fn a_missing_key_is_told_and_nothing_is_moved() {
    let (folder, record) = filled(2);
    let head = record.head().unwrap();
    drop(record);
    let key = folder.path().join("station.key");
    let kept = folder.path().join("kept");
    fs::rename(&key, &kept).unwrap();
    assert_eq!(refused(folder.path()), OpenFailure::KeyMissing { file: key.clone() });
    fs::write(&key, "nonsense").unwrap();
    assert!(matches!(refused(folder.path()), OpenFailure::KeyUnusable { .. }));
    let (other, _record) = filled(0);
    fs::copy(other.path().join("station.key"), &key).unwrap();
    assert!(matches!(refused(folder.path()), OpenFailure::KeyUnusable { .. }));
    fs::rename(&kept, &key).unwrap();
    assert_eq!(open(folder.path()).unwrap().head().unwrap(), head);
}

#[cfg(unix)]
#[test]
fn nobody_else_reads_the_key() {
    use std::os::unix::fs::PermissionsExt;
    let (folder, _record) = filled(0);
    let mode = fs::metadata(folder.path().join("station.key")).unwrap().permissions().mode();
    assert_eq!(mode & 0o777, 0o600);
}
