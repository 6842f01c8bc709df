//! The journal of the real program, proved by a verifier that shares nothing with it: `verifier/verify_journal.py`.
#![allow(clippy::expect_used)]

use crate::rehearsing::{Ended, Stand, sparkout};
use std::ffi::OsStr;
use std::path::{Path, PathBuf};
use std::process::Command;

fn foreign<S: AsRef<OsStr>>(arguments: impl IntoIterator<Item = S>) -> Ended {
    let script = Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/../tests/verifier/verify_journal.py"));
    let python = Path::new(env!("CARGO_TARGET_TMPDIR")).with_file_name("crosscheck").join("bin/python");
    assert!(python.exists(), "{} is missing: tests/run.sh installs it, which this check needs", python.display());
    Command::new(python).arg("-B").arg(script).args(arguments).output().expect("Python starts").into()
}

/// A short visit's journal, closed, and the file's path.
fn journal() -> (Stand, PathBuf) {
    let stand = Stand::new();
    stand.play("scan SPKB41042A\nscan Q-114\n");
    drop(sparkout::store::open(&stand.data()).expect("the journal opens"));
    let file = stand.database();
    (stand, file)
}

fn told<'a>(ended: &'a Ended, name: &str) -> &'a str {
    let line = ended.out.lines().find_map(|line| line.strip_prefix(name)).unwrap_or_default();
    assert!(!line.is_empty(), "no {name} in {}", ended.out);
    line.trim()
}

#[test]
fn both_come_to_the_same_root() {
    let (stand, file) = journal();
    let (ours, theirs) = (stand.verify(), foreign([&file]));
    assert_eq!((ours.code, theirs.code), (Some(0), Some(0)), "{}{}{}", ours.out, theirs.out, theirs.err);
    let root = told(&ours, "root").split(", ").nth(1).expect("a root").to_owned();
    assert_eq!(told(&theirs, "verified"), format!("{} {root}", told(&ours, "entries")));
}

#[test]
fn both_name_the_entry_that_was_changed() {
    let (stand, file) = journal();
    let copy = stand.beside("copy.db");
    std::fs::copy(&file, &copy).expect("it can be copied");
    let mut content = std::fs::read(&copy).expect("it can be read");
    let at = content.windows(10).rposition(|part| part == b"Ines Barro").expect("the name is in the file");
    content[at] = b'J';
    std::fs::write(&copy, content).expect("it can be written");
    let (ours, theirs) = (crate::rehearsing::verify(&copy), foreign([&copy]));
    assert_eq!((ours.code, theirs.code), (Some(1), Some(1)), "{}{}", ours.out, theirs.out);
    let number = |text: &str| text.split_whitespace().find_map(|word| word.parse::<u64>().ok());
    assert_eq!(number(told(&ours, "FAILS")), number(told(&theirs, "FAILS")), "{}{}", ours.out, theirs.out);
}

#[test]
fn a_head_kept_elsewhere_and_proofs_hold_for_both() {
    let (stand, file) = journal();
    let note = stand.beside("kept.txt");
    let record = sparkout::store::open(&stand.data()).expect("the journal opens");
    let head = sparkout::store::Record::head(&record).expect("a head");
    std::fs::write(&note, &head.note).expect("it can be written");
    drop(record);
    stand.play("scan SPKB41042A\n");
    drop(sparkout::store::open(&stand.data()).expect("the journal opens"));
    let kept = ["--checkpoint".as_ref(), note.as_os_str(), file.as_os_str()];
    let theirs = foreign(kept);
    assert_eq!(theirs.code, Some(0), "{}{}", theirs.out, theirs.err);
    let key = told(&stand.verify(), "key").to_owned();
    for seq in [1, head.size / 2, head.size] {
        let out = stand.beside("proofs");
        std::fs::create_dir_all(&out).expect("a folder");
        let text = |path: &Path| path.display().to_string();
        let number = seq.to_string();
        let ended =
            sparkout(["journal", "proof", "--database", &text(&file), "--entry", &number, "--out", &text(&out)]);
        assert_eq!(ended.code, Some(0), "{}", ended.err);
        let (proof, entry) = (out.join(format!("entry-{seq}.tlog-proof")), out.join(format!("entry-{seq}.json")));
        let given = ["--proof", &text(&proof), "--entry", &text(&entry), "--key", &key];
        let (ours, theirs) = (sparkout(["journal", "check-proof"].iter().chain(&given)), foreign(given));
        assert_eq!((ours.code, theirs.code), (Some(0), Some(0)), "{}{}{}", ours.out, ours.err, theirs.out);
        std::fs::write(&entry, b"{}").expect("it can be written");
        let (ours, theirs) = (sparkout(["journal", "check-proof"].iter().chain(&given)), foreign(given));
        assert_eq!((ours.code, theirs.code), (Some(1), Some(1)), "{}{}{}", ours.out, ours.err, theirs.out);
    }
}

#[test]
fn both_follow_a_log_that_was_put_back() {
    let (stand, file) = journal();
    let text = |path: &Path| path.display().to_string();
    let parent = told(&stand.verify(), "root").split(", ").nth(1).expect("a root").to_owned();
    let size = told(&stand.verify(), "entries").to_owned();
    let done = sparkout(["journal", "restore", "--from", &text(&file), "--data", &text(&stand.data())]);
    assert_eq!(done.code, Some(0), "{}", done.err);
    let (ours, theirs) = (stand.verify(), foreign([&file]));
    assert_eq!((ours.code, theirs.code), (Some(0), Some(0)), "{}{}{}", ours.out, theirs.out, theirs.err);
    assert_eq!(told(&theirs, "parent"), format!("{size} {parent}"));
    assert!(told(&ours, "goes on").contains(&format!("entries 1 to {size}, root {}", &parent[..16])), "{}", ours.out);
}
