//! PINs stand nowhere: not in the journal, not in the database, not in a log, not in what a rehearsal writes.
#![allow(clippy::expect_used)]

use crate::rehearsing::{Stand, program, sparkout};
use std::ffi::OsStr;
use std::path::Path;
use std::process::Output;

/// Six digits, so that no hash and no time of day meets them by chance.
const PINS: [&str; 3] = ["830517", "209466", "571908"];
const ASKED: &str = "[pin]\nask = true\ndigits = 6\n";

fn rehearsed(stand: &Stand, lines: &str) -> Output {
    let config = stand.beside("script.toml");
    std::fs::write(&config, ASKED).expect("the folder takes files");
    let inputs = stand.beside("inputs");
    let mut command = program();
    command.args(stand.command(lines)).arg(format!("--inputs={}", inputs.display()));
    // Everything that any library has to say.
    command.env("SPARKOUT_LOG", "trace").output().expect("the program starts")
}

#[track_caller]
fn holds_no_pin(what: &str, bytes: &[u8]) {
    for pin in PINS {
        let found = bytes.windows(pin.len()).any(|window| window == pin.as_bytes());
        assert!(!found, "{what} holds a PIN");
    }
}

fn folder_holds_no_pin(folder: &Path) {
    for file in std::fs::read_dir(folder).expect("the folder is there") {
        let path = file.expect("a file").path();
        if path.is_dir() {
            folder_holds_no_pin(&path);
        } else {
            holds_no_pin(&path.display().to_string(), &std::fs::read(&path).expect("a file is read"));
        }
    }
}

#[test]
fn a_pin_stands_nowhere() {
    let stand = Stand::new();
    let [first, wrong, other] = PINS;
    let played = rehearsed(
        &stand,
        &format!(
            "scan SPKB41042A\npin {first}\nenter {first}\nshot kept\npress Sign out\nscan SPKB41042A\npin {wrong}\n\
             pin {first}\npress Settings\npress Change my PIN\nenter {first}\nenter {other}\npin {other}\nrestart\n\
             scan SPKB41042A\npin {wrong}\npin {other}\nexpect Ines Barro is at the bench\n"
        ),
    );
    assert_eq!(played.status.code(), Some(0), "{}", String::from_utf8_lossy(&played.stderr));
    holds_no_pin("standard output", &played.stdout);
    let log = String::from_utf8_lossy(&played.stderr);
    assert!(log.contains("about a PIN"), "the log tells of PINs, so there is something to look through: {log}");
    holds_no_pin("the log", &played.stderr);
    let database = std::fs::read(stand.database()).expect("the database is there");
    assert!(database.windows(10).any(|window| window == b"$argon2id$"), "a hash is there to be found");
    folder_holds_no_pin(&stand.data());
    holds_no_pin("the record of inputs", &std::fs::read(stand.beside("inputs")).expect("inputs were written down"));
    let entries = stand.entries();
    holds_no_pin("the journal", serde_json::to_string(&entries).expect("JSON").as_bytes());
    let told: Vec<_> = entries.iter().map(|entry| &entry["body"]).filter(|body| body["kind"] == "pin").collect();
    let said = told.iter().map(|body| body["what"].to_string()).collect::<Vec<_>>();
    assert_eq!(said, [r#""set""#, r#"{"wrong":{"in_a_row":1}}"#, r#""changed""#, r#"{"wrong":{"in_a_row":1}}"#]);
    for format in ["csv", "jsonl", "pdf"] {
        let out = stand.beside(format);
        let arguments = ["journal", "export", "--format", format, "--database"].map(OsStr::new);
        let rest = [stand.database().into_os_string(), "--out".into(), out.clone().into_os_string()];
        let ended = sparkout(arguments.into_iter().chain(rest.iter().map(AsRef::as_ref)));
        assert_eq!(ended.code, Some(0), "{format}: {}", ended.err);
        holds_no_pin(format, &std::fs::read(&out).expect("the export is there"));
    }
}

#[test]
fn a_line_that_fails_tells_no_pin() {
    let stand = Stand::new();
    let first = PINS[0];
    let failed = rehearsed(&stand, &format!("scan SPKB41042A\npin {first}\npin {first}\nexpect nothing of the kind\n"));
    assert_eq!(failed.status.code(), Some(1));
    holds_no_pin("the failure", &failed.stderr);
    // Half typed: the screen that is told has dots.
    let stand = Stand::new();
    let half = rehearsed(&stand, &format!("scan SPKB41042A\ntype {first}\nexpect nothing of the kind\n"));
    let told = String::from_utf8_lossy(&half.stderr).into_owned();
    assert!(told.contains("••••••"), "{told}");
    holds_no_pin("the failure", &half.stderr);
    let unread = rehearsed(&stand, &format!("pin {first}12345\n"));
    assert_ne!(unread.status.code(), Some(0));
    holds_no_pin("the refusal", &unread.stderr);
}

#[test]
fn a_lost_pepper_is_told_and_whoever_has_the_folder_begins_anew() {
    let stand = Stand::new();
    let first = PINS[0];
    let set =
        rehearsed(&stand, &format!("scan SPKB41042A\npin {first}\npin {first}\nexpect Ines Barro is at the bench\n"));
    assert_eq!(set.status.code(), Some(0), "{}", String::from_utf8_lossy(&set.stderr));
    let pepper = stand.data().join("pin.pepper");
    std::fs::remove_file(&pepper).expect("the pepper is there");
    let lost = rehearsed(&stand, "scan SPKB41042A\nrefused the file pin.pepper is missing\n");
    assert_eq!(lost.status.code(), Some(0), "{}", String::from_utf8_lossy(&lost.stderr));
    assert!(!pepper.exists());
    let data = stand.data();
    let forget = |badge: &str| {
        let arguments = ["pin".as_ref(), "forget".as_ref(), "--data".as_ref(), data.as_os_str()];
        let badge = ["--badge", badge].map(OsStr::new);
        sparkout(arguments.into_iter().chain(badge))
    };
    assert_eq!(forget("1077").code, Some(2), "that badge has none");
    let forgotten = forget("1042");
    assert_eq!((forgotten.code, forgotten.out.trim()), (Some(0), "PIN taken away: 1042"));
    let anew = rehearsed(&stand, "scan SPKB41042A\nexpect Choose a PIN of 6 digits\n");
    assert_eq!(anew.status.code(), Some(0), "{}", String::from_utf8_lossy(&anew.stderr));
    assert!(pepper.exists());
    let entries = stand.entries();
    assert!(entries.iter().any(|entry| entry["body"]["what"] == "forgotten"), "it stands on record");
    assert_eq!(stand.verify().code, Some(0));
}
