//! Power cuts, kills and writes that fail in the midst.

use super::{entry, filled, mid_flight, of_visit, put};
use crate::store::fault::StoreError;
use crate::store::{Record, open};
use std::fs;
use std::io::{BufRead, BufReader};
use std::path::Path;
use std::process::{Command, Stdio};
use tempfile::tempdir;

#[test]
fn power_cut_at_any_byte_of_the_log() {
    let (folder, record) = filled(6);
    let whole = fs::read(folder.path().join("kiosk.db-wal")).unwrap();
    let mut sizes = Vec::new();
    for length in (0..=whole.len()).step_by(1021).chain([whole.len()]) {
        let copy = mid_flight(folder.path());
        fs::write(copy.path().join("kiosk.db-wal"), &whole[..length]).unwrap();
        // Before the schema is on the disk there is nothing to lose, and the key made first begins anew.
        let cut = open(copy.path()).unwrap_or_else(|failure| panic!("cut at {length}: {failure:?}"));
        cut.check().unwrap();
        sizes.push(cut.head().unwrap().size);
    }
    assert!(sizes.is_sorted(), "{sizes:?}");
    assert_eq!(sizes.last(), Some(&6));
    drop(record);
}

const CHILD: &str = "SPARKOUT_TEST_CHILD_FOLDER";
const CHILD_TEST: &str = "store::tests::power::kill_loses_nothing_that_was_stored";

/// Appends without end and says each sequence number once it is returned as stored, or what went wrong.
fn append_as_child(folder: &Path) -> ! {
    let mut record = open(folder).unwrap();
    loop {
        let seq = record.head().unwrap().size + 1;
        let text = format!(r#"{{"seq":{seq},"filling":"{}"}}"#, "x".repeat(3000));
        match record.append(&[of_visit("v", &text)], &[put("visit", "v", &text)]) {
            Ok(stored) => println!("\nstored {}", stored.seq),
            Err(error) => {
                let settled = record.check().is_ok();
                println!("\nrefused {} {settled} {error:?}", record.head().unwrap().size);
                std::process::exit(0);
            }
        }
    }
}

fn child(folder: &Path, shell: &str) -> std::process::Child {
    let mut command = Command::new("sh");
    command.args(["-c", &format!("{shell} exec \"$0\" --exact {CHILD_TEST} --nocapture")]);
    command.arg(std::env::current_exe().unwrap()).env(CHILD, folder);
    command.stdout(Stdio::piped()).stderr(Stdio::null()).spawn().unwrap()
}

#[test]
fn kill_loses_nothing_that_was_stored() {
    if let Ok(folder) = std::env::var(CHILD) {
        append_as_child(Path::new(&folder));
    }
    let folder = tempdir().unwrap();
    let mut kept = 0;
    for round in 0..4 {
        let mut child = child(folder.path(), "");
        let mut lines = BufReader::new(child.stdout.take().unwrap()).lines();
        let mut told = 0;
        let mut rounds = 0;
        while rounds < 15 + round * 7 {
            let line = lines.next().unwrap().unwrap();
            if let Some(seq) = line.strip_prefix("stored ") {
                told = seq.parse().unwrap();
                rounds += 1;
            }
        }
        child.kill().unwrap();
        let rest = lines.map_while(Result::ok).filter_map(|line| line.strip_prefix("stored ")?.parse().ok());
        told = rest.last().unwrap_or(told);
        child.wait().unwrap();
        let record = open(folder.path()).unwrap();
        record.check().unwrap();
        let size = record.head().unwrap().size;
        // One more may be there than could be told.
        assert!(size == told || size == told + 1, "{size} on the disk, {told} told");
        assert!(told > kept);
        assert_eq!(record.entries_of_visit("v").unwrap().len() as u64, size);
        let newest = record.entries(size, 1).unwrap().remove(0).1;
        assert_eq!(record.derived("visit", "v").unwrap().unwrap().into_bytes(), newest);
        kept = size;
    }
}

#[test]
fn a_write_that_fails_in_the_midst_leaves_the_last_head() {
    // The system refuses to let a file grow beyond this (setrlimit(2), RLIMIT_FSIZE; 512-byte blocks in POSIX sh),
    // in the midst of a transaction wherever that happens to be.
    for blocks in [200, 333, 1000] {
        let folder = tempdir().unwrap();
        let mut child = child(folder.path(), &format!("trap '' XFSZ; ulimit -f {blocks};"));
        let lines = BufReader::new(child.stdout.take().unwrap()).lines().map_while(Result::ok);
        let (mut told, mut refused) = (0, None);
        for line in lines {
            if let Some(seq) = line.strip_prefix("stored ") {
                told = seq.parse::<u64>().unwrap();
            }
            refused = refused.or(line.strip_prefix("refused ").map(str::to_owned));
        }
        child.wait().unwrap();
        let refused = refused.expect("the child met the limit");
        assert!(refused.starts_with(&format!("{told} true ")), "{told} told, then {refused}");
        assert!(refused.contains("Unwritable") || refused.contains("Full"), "{refused}");
        let mut record = open(folder.path()).unwrap();
        record.check().unwrap();
        assert_eq!(record.head().unwrap().size, told);
        assert_eq!(record.append(&[entry("room again")], &[]).unwrap().seq, told + 1);
    }
}

#[test]
fn a_commit_found_stored_after_all_is_told() {
    let (folder, mut record) = filled(2);
    // As after a failed commit whose file could not be opened again, and which then turns out to be there.
    let other = mid_flight(folder.path());
    let mut second = open(other.path()).unwrap();
    second.append(&[entry("in doubt")], &[]).unwrap();
    record.leave_in_doubt_for_test(second.on_disk_for_test());
    drop(second);
    fs::copy(other.path().join("kiosk.db"), folder.path().join("kiosk.db")).unwrap();
    assert!(matches!(record.entries(1, 9), Err(StoreError::Unwritable { .. })));
    assert_eq!(record.append(&[entry("next")], &[]), Err(StoreError::Reload { from_seq: 3 }));
    assert_eq!(record.entries(3, 9).unwrap(), [(3, b"in doubt".to_vec())]);
    assert_eq!(record.append(&[entry("next")], &[]).unwrap().seq, 4);
    record.check().unwrap();
}
