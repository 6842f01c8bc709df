//! Real faults under the real binary: damaged, newer, foreign, locked, full, read-only; and keys that must press nothing.
#![allow(clippy::expect_used, clippy::panic)]

use crate::rehearsing::{Kiosk, Stand, sparkout, verify};
use std::path::{Path, PathBuf};

/// Up to Tape with one reading kept.
const TO_TAPE: &str = "\
scan SPKB41042A
scan Q-114
press Reel bearings
press Rollers
press Blades and spiders
press To Tape
hold Power is off and was tried
enter 5.020
expect 5.020 in
";

/// A stand with a visit at Tape, its last process gone.
fn at_tape() -> Stand {
    let stand = Stand::new();
    stand.play(TO_TAPE);
    // A clean start and end writes the log into the file, so that the file alone holds everything.
    drop(sparkout::store::open(&stand.data()).expect("the journal opens"));
    stand
}

fn files_aside(stand: &Stand) -> Vec<PathBuf> {
    let Ok(folder) = std::fs::read_dir(stand.data().join("set-aside")) else { return Vec::new() };
    folder.filter_map(|file| file.ok().map(|file| file.path())).collect()
}

fn bytes(file: &Path) -> Vec<u8> {
    std::fs::read(file).expect("the file can be read")
}

/// The kiosk says so in words, takes nothing, and sets the file aside byte for byte; the next start begins an empty journal.
fn is_set_aside(stand: &Stand, title: &str) {
    let before = bytes(&stand.database());
    stand.play(&format!("expect {title}\nexpect It was set aside, untouched, as\nscan Q-114\nexpect {title}\n"));
    let aside = files_aside(stand);
    assert_eq!(aside.len(), 1, "{aside:?}");
    assert!(bytes(&aside[0]) == before, "the file set aside is not the one that was there");
    stand.play("expect Scan a unit\n");
    assert!(bytes(&aside[0]) == before);
}

#[test]
fn a_newer_file_is_set_aside() {
    let stand = at_tape();
    let connection = rusqlite::Connection::open(stand.database()).expect("it opens");
    connection.pragma_update(None, "user_version", 99).expect("it takes another version");
    connection.close().expect("it closes");
    is_set_aside(&stand, "The record is from a newer version");
}

#[test]
fn a_file_with_a_damaged_header_is_set_aside() {
    let stand = at_tape();
    let mut content = bytes(&stand.database());
    content[..16].copy_from_slice(b"no such database");
    std::fs::write(stand.database(), content).expect("the file can be written");
    is_set_aside(&stand, "The record is damaged");
}

#[test]
fn a_file_with_a_damaged_page_is_set_aside() {
    let stand = at_tape();
    let mut content = bytes(&stand.database());
    // SQLite file format, 1.3.2: the page size stands at offset 16. The third page is a table's root.
    let page = usize::from(u16::from_be_bytes([content[16], content[17]]));
    for byte in &mut content[2 * page..3 * page] {
        *byte ^= 0x5a;
    }
    std::fs::write(stand.database(), content).expect("the file can be written");
    is_set_aside(&stand, "The record is damaged");
}

#[test]
fn one_changed_reading_is_found_at_the_start() {
    let stand = at_tape();
    let connection = rusqlite::Connection::open(stand.database()).expect("it opens");
    connection
        .execute_batch(
            "DROP TRIGGER journal_never_changes;
             UPDATE journal SET leaf = CAST(replace(CAST(leaf AS TEXT), '127508000', '127509000') AS BLOB)
             WHERE seq = (SELECT max(seq) FROM journal)",
        )
        .expect("somebody with the file can change it");
    connection.close().expect("it closes");
    assert_eq!(stand.verify().code, Some(1));
    is_set_aside(&stand, "The record is damaged");
}

#[test]
fn a_folder_in_use_is_left_alone() {
    let stand = at_tape();
    let held = sparkout::store::open(&stand.data()).expect("the journal opens");
    stand.play("expect The record is in use\nexpect Close the other kiosk\nscan Q-114\nexpect The record is in use\n");
    drop(held);
    assert!(files_aside(&stand).is_empty());
    stand.play("expect 5.020 in\n".replace("expect 5.020 in", "scan SPKB41042A\nexpect 5.020 in").as_str());
}

#[test]
fn a_missing_key_is_told_and_comes_back() {
    let stand = at_tape();
    let key = stand.data().join("station.key");
    let content = bytes(&key);
    std::fs::remove_file(&key).expect("it can be removed");
    stand.play("expect The station's key is missing\nexpect Put the file station.key back\n");
    assert!(files_aside(&stand).is_empty() && !key.exists());
    std::fs::write(&key, content).expect("it can be put back");
    stand.play("expect 5.020 in\n");
}

/// A file that may not grow is what a full disk is to SQLite. The limit is the process's own, so that it works for root
/// and in a container as well.
#[test]
fn on_a_full_disk_nothing_is_shown_that_is_not_kept() {
    // Which event is the first without room depends on the limit: one of these meets a reading.
    let met_a_reading = (256..).step_by(48).take(6).any(fill_up);
    assert!(met_a_reading, "no limit met a reading");
}

/// Takes readings until the file may not grow. Tells whether it was a reading that found no room.
fn fill_up(blocks_most: u64) -> bool {
    let stand = at_tape();
    stand.play("enter 5.000\n");
    let mut kiosk = Kiosk::start(&stand, Some(blocks_most));
    kiosk.play("scan SPKB41042A\nexpect 5.020 in");
    let (mut kept, mut refused, mut is_reading) = ("5.000".to_owned(), None, false);
    for thousandths in 1..60 {
        let value = format!("5.{thousandths:03}");
        kiosk.play("press Centre");
        is_reading = kiosk.try_line(&format!("enter {value}")).is_ok();
        if kiosk.try_line(&format!("expect {value} in")).is_ok() {
            kept = value;
            continue;
        }
        refused = Some(value);
        break;
    }
    let refused = refused.expect("a file that may not grow fills up");
    let still = format!("refused Not kept\nexpect {kept} in\n");
    kiosk.play(&format!("{still}scan SPKC4NEXTU\n{still}expect Tape"));
    drop(kiosk);
    let entries = stand.entries();
    let readings: Vec<_> = entries.iter().filter_map(|entry| entry["body"]["event"]["reading"].as_i64()).collect();
    let nanometres = |text: &str| 127_000_000 + text[2..].parse::<i64>().expect("digits") * 25_400;
    assert_eq!(readings.last(), Some(&nanometres(&kept)), "{refused} was refused");
    let verified = stand.verify();
    assert_eq!(verified.code, Some(0), "{}{}", verified.out, verified.err);
    // With room again the same reading is taken.
    stand.play(&format!("expect {kept} in\npress Centre\nenter {refused}\nexpect {refused} in\n"));
    is_reading
}

#[test]
fn a_file_in_the_place_of_the_folder_is_told() {
    let stand = Stand::new();
    std::fs::write(stand.data(), "not a folder").expect("the folder takes files");
    let mut kiosk = Kiosk::start(&stand, None);
    kiosk.play("expect The record cannot be written\nexpect Make the folder writable");
}

/// Everything a keyboard has that does not walk, at a person's pace. Enter and space too: they press what the ring
/// stands on, and nobody has walked it anywhere.
const TYPED: &str = "type 0123456789.,-+<Enter><Space><Enter><Backspace><Delete><F1><Menu><Enter>\
                     abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ!\"#$%&'()*/:;=?@[]^_{|}~<Space><Enter>";

/// A scanner's text that names controls, and codes of every kind that is not a command card.
const SCANNED: [&str; 7] = [
    "Q-114",
    "Q-111",
    "I have checked it",
    "Start the grind",
    "Power is off and was tried",
    "Both stand still",
    "SPKP53FW329",
];

/// Does all that to the screen at hand and gives the events that came of it.
fn bombard(kiosk: &mut Kiosk, stand: &Stand) -> Vec<String> {
    let before = stand.events().len();
    kiosk.play(TYPED);
    for text in SCANNED {
        kiosk.play(&format!("scan {text}"));
    }
    stand.events().split_off(before)
}

/// Issue "One cutting unit": a scanner "can never press a button", and items are acknowledged "never by a key or a scan".
#[test]
fn keys_and_scans_press_nothing() {
    let stand = Stand::new();
    stand.play("scan SPKB41042A\n");
    let mut kiosk = Kiosk::start(&stand, None);
    let stages = [
        "scan SPKB41042A\nscan Q-114",
        "press Reel bearings\npress Rollers\npress Blades and spiders\npress To Tape",
        "hold Power is off and was tried",
        "enter 5.020\nenter 5.000",
        "press To Front",
        "hold Power is off and was tried",
        "press Zero set",
        "enter 26.0",
        "press Turned",
        "press Zero set\nenter 20.0",
        "press To Rear",
        "hold Power is off and was tried",
        "enter 0\nenter 0.5",
        "press To Clearance",
        "hold I have checked it",
        "hold I have checked it\nhold I have checked it\nhold I have checked it\nhold I have checked it\n\
         hold I have checked it\nexpect Start the grind",
        "hold Start the grind",
        "press Pass done",
        "press Pass done\npress Pass done\npress Pass done\npress Pass done\npress Pass done\npress Pass done\n\
         press Pass done\npress Pass done\npress Pass done\npress Pass done\npress Pass done\npress Pass done\n\
         press Pass done\nexpect Both stand still",
        "hold Both stand still",
        "hold Power is off and was tried",
        "enter 4.998\nenter 4.998\nenter 0.064\nenter 0.400",
        "press Paper cuts",
        "press To Label",
        "press Print label",
        "scan @label",
    ];
    for steps in stages {
        kiosk.play(steps);
        let events = bombard(&mut kiosk, &stand);
        assert!(events.is_empty(), "after {steps:?} keys and scans made {events:?}");
    }
}

/// Issue "The safety gate": keys "are typed at every screen with every control focused, and none ever acknowledges,
/// starts or releases anything". Every screen as drawn is walked by `ui/tests/reach.rs`; here each control that is held
/// has the ring on it and the real gate behind it.
#[test]
fn no_key_does_a_held_control() {
    const KEYS: &str = "type <Enter><Space><Enter><Enter>1<Backspace>a<Space><Delete><F1><Menu><Enter><Space>";
    let look = "scan SPKB41042A\nscan Q-114\npress Reel bearings\npress Rollers\npress Blades and spiders\n";
    let passes = "press Pass done\n".repeat(14) + "expect Both stand still";
    let places = [
        ("Power is off and was tried", format!("{look}press To Tape")),
        ("Power is off and was tried", "enter 5.020\nenter 5.000\npress To Front".to_owned()),
        (
            "Power is off and was tried",
            "press Zero set\nenter 26.0\npress Turned\npress Zero set\nenter 20.0\npress To Rear".to_owned(),
        ),
        ("I have checked it", "enter 0\nenter 0.5\npress To Clearance".to_owned()),
        ("I have checked it", String::new()),
        ("I have checked it", String::new()),
        ("I have checked it", String::new()),
        ("I have checked it", String::new()),
        ("I have checked it", String::new()),
        ("Start the grind", "expect Start the grind".to_owned()),
        ("Both stand still", passes),
    ];
    let stand = Stand::new();
    stand.play("scan SPKB41042A\n");
    let mut kiosk = Kiosk::start(&stand, None);
    for (held, steps) in places {
        kiosk.play(&steps);
        let before = stand.events().len();
        kiosk.play(&format!("walk {held}\n{KEYS}"));
        assert_eq!(stand.events()[before..], [] as [String; 0], "keys with the ring on {held:?}");
        kiosk.play(&format!("hold {held}"));
        assert!(stand.events().len() > before, "{held:?} takes a finger");
    }
}

/// A number typed on a keyboard is a reading, and the Enter that ends it confirms that number alone.
#[test]
fn a_keyboard_enters_numbers_and_nothing_else() {
    let stand = Stand::new();
    let lines = TO_TAPE.replace("enter 5.020", "type 5.03<Backspace>20<Enter>");
    stand.play(&format!("{lines}type 5,000<Enter><Enter><Enter>\nexpect +20.0\nexpect To Front\n"));
    let events = stand.events();
    assert_eq!(events.iter().filter(|event| *event == "read").count(), 2, "{events:?}");
}

/// What stands beside the journal can be worked out from it alone: finished work, changed types, visits waiting at
/// several stages, acknowledgements that may count again.
#[test]
fn derived_records_are_rebuilt_from_the_journal() {
    use sparkout::store::{Record, open};
    let scripts = Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/../tests/rehearsals"));
    for script in ["straight", "new-type", "other-unit", "gate-lapses-by-badge"] {
        let stand = Stand::new();
        stand.play_file(&scripts.join(format!("{script}.rehearse")));
        let all = || {
            let disk = open(&stand.data()).expect("the journal opens");
            let of_kind = |kind| disk.derived_all(kind).expect("it can be read");
            ["type", "unit", "mower", "operator", "bench", "open_visit"].map(of_kind)
        };
        let live = all();
        assert!(live[..5].iter().all(|records| !records.is_empty()), "{script}: {live:?}");
        // What stands there is wrong, as after a fault of ours.
        let connection = rusqlite::Connection::open(stand.database()).expect("it opens");
        connection.execute_batch("DELETE FROM derived WHERE kind <> 'type'").expect("derived records can go");
        connection.close().expect("it closes");
        assert_ne!(all(), live, "{script}");
        let data = stand.data().display().to_string();
        let rebuilt = sparkout(["journal", "rebuild", "--data", &data]);
        assert_eq!(rebuilt.code, Some(0), "{script}: {}", rebuilt.err);
        assert_eq!(all(), live, "{script}");
        assert_eq!(verify(&stand.database()).code, Some(0), "{script}");
    }
}
