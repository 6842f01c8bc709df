//! The head on a second card, with the real kiosk, the real command and real folders: an old card put back is told at
//! the bench before the first scan, stands in the journal, and `journal restore` makes it a log of its own.
#![allow(clippy::expect_used)]

use crate::rehearsing::{Ended, Stand, sparkout};
use std::fs;
use std::path::Path;

const CUT: &str = "The record is shorter than the second card knows it";
const REWRITTEN: &str = "entries are not those that the second card knows";

fn stand() -> Stand {
    let stand = Stand::new();
    fs::create_dir_all(stand.beside("card")).expect("a folder");
    let config = format!("[witness]\nfolder = {:?}\n", stand.beside("card").display().to_string());
    fs::write(stand.beside("script.toml"), config).expect("a configuration");
    stand
}

/// The kiosk's files as they lie there, in another folder and back.
fn copied(from: &Path, to: &Path) {
    fs::create_dir_all(to).expect("a folder");
    for name in ["kiosk.db", "kiosk.db-wal", "kiosk.db-shm"] {
        let _ = fs::remove_file(to.join(name));
        let _ = fs::copy(from.join(name), to.join(name));
    }
}

fn journal(arguments: &[&str], path: &Path) -> Ended {
    let path = path.display().to_string();
    sparkout(["journal"].iter().chain(arguments).copied().chain([path.as_str()]))
}

fn kept(stand: &Stand) -> Vec<std::path::PathBuf> {
    let folder = fs::read_dir(stand.beside("card")).expect("the card");
    let files = folder.map(|file| file.expect("a file").path());
    // Beside them may lie what a process was writing when it ended.
    let mut kept: Vec<_> = files.filter(|file| file.extension().is_some_and(|kind| kind == "checkpoint")).collect();
    kept.sort();
    kept
}

#[test]
fn yesterdays_card_put_back() {
    let stand = stand();
    stand.play("scan SPKB41042A");
    let yesterday = stand.beside("yesterday");
    copied(&stand.data(), &yesterday);
    stand.play("scan SPKB41042A\nscan Q-114\npress Reel bearings\npress Rollers");
    stand.play("expect Q-114");
    let [head] = <[_; 1]>::try_from(kept(&stand)).expect("one head");
    let vouched = ["verify", "--checkpoint", &head.display().to_string(), "--database"].map(str::to_owned);
    let verify = || journal(&vouched.each_ref().map(String::as_str), &stand.database());
    assert_eq!(verify().code, Some(0), "{}", verify().out);
    copied(&yesterday, &stand.data());
    let found = verify();
    assert!(found.code == Some(1) && found.out.contains("cut: the file ends at entry"), "{}", found.out);
    // At the bench: at once, and for as long as it is so; whatever is done meanwhile is kept.
    stand.play(&format!("expect {CUT}\nscan SPKB41042A\nexpect {CUT}\nscan Q-114\nexpect Q-114"));
    let told = journal(&["export", "--format", "csv", "--database"], &stand.database()).out;
    assert!(told.contains(CUT) && told.contains(",witness,"), "{told}");
    // Grown beyond what was vouched for it is another history, with words of its own.
    let looks = "press Reel bearings\npress Reel bearings\n".repeat(6);
    stand.play(&format!("scan SPKB41042A\n{looks}"));
    stand.play(&format!("expect {REWRITTEN}"));
    let found = verify();
    assert!(found.code == Some(1) && found.out.contains("rewritten: "), "{}", found.out);
}

#[test]
fn a_backup_put_back_by_command_is_another_log() {
    let stand = stand();
    stand.play("scan SPKB41042A");
    let backup = stand.beside("backup");
    copied(&stand.data(), &backup);
    stand.play("scan SPKB41042A\nscan Q-114\npress Reel bearings\npress Rollers");
    stand.play("expect Q-114");
    let data = stand.data().display().to_string();
    let from = backup.join("kiosk.db");
    let done = journal(&["restore", "--data", &data, "--from"], &from);
    assert_eq!(done.code, Some(0), "{}", done.err);
    assert!(done.out.contains("goes on   from sparkout/") && done.out.contains("set aside"), "{}", done.out);
    // What is lost is told once, because the card kept more than the backup has; then the new log is vouched for.
    stand.play(&format!("expect {CUT}\nscan SPKB41042A"));
    assert_eq!(kept(&stand).len(), 2, "{:?}", kept(&stand));
    stand.play("scan SPKB41042A\nexpect Bench 1");
    let verified = stand.verify();
    assert!(verified.code == Some(0) && verified.out.contains("goes on   from sparkout/"), "{}", verified.out);
    let told = journal(&["export", "--format", "csv", "--database"], &stand.database()).out;
    assert!(told.contains("Another log from here on: it goes on from sparkout/"), "{told}");
    assert_eq!(told.matches(CUT).count(), 1, "{told}");
    // Each day's line stays what it was when the day's sheet was printed.
    let days = journal(&["days", "--database"], &stand.database());
    let root = verified.out.lines().find_map(|line| line.strip_prefix("root      ")).expect("a root");
    assert!(days.code == Some(0) && days.out.starts_with("2026-05-14  entries 1 to "), "{}", days.out);
    assert!(days.out.contains(&root[..16]), "{} {}", days.out, verified.out);
}
