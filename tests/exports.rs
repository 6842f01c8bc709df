//! `sparkout journal export`: days, the table as another reader takes it, and the safety record as other tools read it.
#![allow(clippy::expect_used)]

use crate::rehearsing::{Ended, Stand, sparkout};
use std::path::{Path, PathBuf};
use std::process::Command;

/// The shop's zone lies five hours behind in May: its 14 May begins at 05:00 in Greenwich.
const SHOP: &str = "[shop]\nname = \"Larkfield Turf Shop\"\ntime_zone = \"America/Chicago\"\nregion = \"US\"\n";

/// A day with a checklist that lapsed by time, a grind, and a hold that a lead let go on.
fn journal() -> (Stand, PathBuf) {
    let stand = Stand::new();
    let scripts = Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/../tests/rehearsals"));
    stand.play_file(&scripts.join("gate-lapses-by-time.rehearse"));
    drop(sparkout::store::open(&stand.data()).expect("the journal opens"));
    std::fs::write(stand.beside("shop.toml"), SHOP).expect("it can be written");
    let file = stand.database();
    (stand, file)
}

fn export(stand: &Stand, file: &Path, more: &[&str]) -> Ended {
    let (file, config) = (file.display().to_string(), stand.beside("shop.toml").display().to_string());
    sparkout(["journal", "export", "--database", &file, "--config", &config].iter().chain(more))
}

/// The PDF's text, as `pdftotext` finds it, lines and columns put into words with one space between.
fn text_of(pdf: &Path) -> String {
    let ended: Ended = Command::new("pdftotext")
        .args(["-layout", "-enc", "UTF-8"])
        .arg(pdf)
        .arg("-")
        .output()
        .expect("pdftotext is missing: tests/run.sh installs it")
        .into();
    assert_eq!(ended.code, Some(0), "{}", ended.err);
    ended.out.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn pdf(stand: &Stand, file: &Path, name: &str, more: &[&str]) -> PathBuf {
    let out = stand.beside(name);
    let path = out.display().to_string();
    let ended = export(stand, file, &[&["--format", "pdf", "--out", path.as_str()], more].concat());
    assert_eq!((ended.code, ended.out.as_str()), (Some(0), ""), "{}", ended.err);
    // A look at its structure by a reader that is not ours.
    let checked: Ended = Command::new("qpdf")
        .arg("--check")
        .arg(&out)
        .output()
        .expect("qpdf is missing: tests/run.sh installs it")
        .into();
    assert_eq!(checked.code, Some(0), "{}{}", checked.out, checked.err);
    out
}

#[test]
fn days_are_the_shops_and_order_is_the_journals() {
    let (stand, file) = journal();
    let all = export(&stand, &file, &[]);
    let rows = |ended: &Ended| ended.out.lines().count();
    // The rehearsal begins on 14 May at 09:30 in Greenwich, which is 04:30 at the shop.
    let day = export(&stand, &file, &["--from", "2026-05-14", "--to", "2026-05-14"]);
    assert!(rows(&all) > 20);
    assert_eq!(day.out, all.out);
    for range in [["--to", "2026-05-13"], ["--from", "2026-05-15"]] {
        let none = export(&stand, &file, &range);
        assert_eq!((none.code, none.out.as_str()), (Some(0), ""), "{}", none.err);
    }
    let numbers: Vec<u64> = all
        .out
        .lines()
        .map(|line| serde_json::from_str::<serde_json::Value>(line).expect("JSON")["seq"].as_u64().expect("a number"))
        .collect();
    assert_eq!(numbers, (1..=numbers.len() as u64).collect::<Vec<_>>());
}

#[test]
fn what_cannot_be_done_is_said_on_one_line() {
    let (stand, file) = journal();
    let before = std::fs::read(&file).expect("it can be read");
    let own = file.display().to_string();
    for (more, part) in [
        (vec!["--from", "2026-05-15", "--to", "2026-05-14"], "--from 2026-05-15 is after --to 2026-05-14"),
        (vec!["--format", "pdf", "--out", &own], "kiosk.db"),
        (vec!["--format", "pdf", "--checkpoint", "absent.txt"], "absent.txt"),
    ] {
        let ended = export(&stand, &file, &more);
        assert_eq!(ended.code, Some(2), "{more:?}");
        assert!(ended.err.contains(part) && ended.err.trim_end().lines().count() == 1, "{}", ended.err);
    }
    assert_eq!(std::fs::read(&file).expect("it can be read"), before);
}

#[test]
fn another_reader_takes_the_table_as_it_is_meant() {
    let (stand, file) = journal();
    let out = stand.beside("journal.csv");
    let path = out.display().to_string();
    let ended = export(&stand, &file, &["--format", "csv", "--out", &path]);
    assert_eq!(ended.code, Some(0), "{}", ended.err);
    // Strict, so that a quote in the wrong place is an error; times by Python's own reading of ISO 8601.
    let script = r#"
import csv, datetime, decimal, hashlib, json, sys
rows = list(csv.DictReader(open(sys.argv[1], newline="", encoding="utf-8"), strict=True))
entries = [json.loads(line) for line in open(sys.argv[2], encoding="utf-8")]
assert len(rows) == len(entries) > 20, len(rows)
for row, entry in zip(rows, entries):
    assert None not in row and None not in row.values(), row
    assert int(row["seq"]) == entry["seq"] and row["leaf_hash"] == entry["leaf_hash"], row
    local, utc = (datetime.datetime.fromisoformat(row[name]) for name in ("local_time", "utc"))
    assert local == utc.replace(microsecond=0) and local.utcoffset() == datetime.timedelta(hours=-5), row
    assert row["exception"] in ("yes", "no") and row["station"] and row["what"], row
    if row["reading_in"]:
        inches, millimetres = (decimal.Decimal(row[name]) for name in ("reading_in", "reading_mm"))
        assert abs(inches * decimal.Decimal("25.4") - millimetres) <= decimal.Decimal("0.0000127"), row
    for name in ("operator", "badge", "unit", "visit", "what"):
        assert not row[name].startswith(("=", "+", "-", "@", "\t", "\r")), row
print(sum(row["exception"] == "yes" for row in rows), [row["reading_in"] for row in rows if row["reading_in"]][:2],
      [row["event"] for row in rows if row["exception"] == "yes"], {row["stage"] for row in rows if row["event"] == "item_held"})
"#;
    let lines = stand.beside("journal.jsonl");
    std::fs::write(&lines, export(&stand, &file, &[]).out).expect("it can be written");
    let read: Ended =
        Command::new("python3").args(["-B", "-c", script]).args([&out, &lines]).output().expect("Python starts").into();
    assert_eq!(read.code, Some(0), "{}{}", read.out, read.err);
    assert_eq!(read.out.trim(), "1 ['5.02', '5'] ['lapsed'] {'clearance'}");
}

#[test]
fn the_safety_record_tells_exceptions_first_and_each_acknowledgement() {
    let (stand, file) = journal();
    let text = text_of(&pdf(&stand, &file, "record.pdf", &["--from", "2026-05-14", "--to", "2026-05-14"]));
    let places = [
        "Safety record · Larkfield Turf Shop",
        "14 May 2026",
        "Verified when this was made",
        "No head kept elsewhere was given",
        "This is a record, not a safety device.",
        "local codes decide",
        "1 Exceptions",
        "CLEARANCE LAPSED",
        "2 Turning work and its clearance",
        "Acknowledged:",
        "Grind STARTED under a clearance",
        "surface speed",
        "3 Isolation and lockout",
        "Power off and tried before Tape",
        "4 All other entries",
        "5 Time ground and noise",
        "None in these days.",
    ];
    let mut rest = text.as_str();
    for part in places {
        let at = rest.find(part);
        assert!(at.is_some(), "{part:?} is missing, or not in its place: {text}");
        rest = &rest[at.unwrap_or_default()..];
    }
    assert!(text.contains("page 1 of"), "{text}");
    let acknowledged = stand.events().iter().filter(|event| *event == "item_held").count();
    assert_eq!(text.matches("Acknowledged:").count(), acknowledged, "{text}");
    for word in [" safe ", "OK to start", "success"] {
        assert!(!text.contains(word), "{word}: {text}");
    }
}

#[test]
fn minutes_ground_stand_by_person_and_day_and_without_a_level_no_noise_is_told() {
    let stand = Stand::new();
    stand.play_file(Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/../tests/rehearsals/noise.rehearse")));
    let told = |name: &str, level: &str| {
        std::fs::write(stand.beside("shop.toml"), format!("{SHOP}{level}")).expect("it can be written");
        text_of(&pdf(&stand, &stand.database(), name, &[]))
    };
    let without = told("without.pdf", "");
    assert!(without.contains("Ines Barro 14 May 2026 60.1 no level entered"), "{without}");
    // Table G-16: an hour of the two that 100 dBA may last.
    let with = told("with.pdf", "\n[noise]\nlevel_dba = 100.0\n");
    assert!(with.contains("Ines Barro 14 May 2026 60.1 50 %"), "{with}");
    assert!(with.contains("The noise is an estimate"), "{with}");
}

#[test]
fn spanish_on_letter_against_a_head_kept_elsewhere() {
    let (stand, file) = journal();
    let record = sparkout::store::open(&stand.data()).expect("the journal opens");
    let note = sparkout::store::Record::head(&record).expect("a head").note;
    drop(record);
    std::fs::write(stand.beside("kept.txt"), note).expect("it can be written");
    let kept = stand.beside("kept.txt").display().to_string();
    let more = ["--language", "es", "--paper", "letter", "--checkpoint", &kept];
    let made = pdf(&stand, &file, "registro.pdf", &more);
    let text = text_of(&made);
    for part in
        ["Registro de seguridad", "Excepciones", "PERMISO CADUCADO", "Rectificado INICIADO con permiso", "página 1 de"]
    {
        assert!(text.contains(part), "{part}: {text}");
    }
    assert!(text.contains("La cabecera guardada en otro lugar respalda los asientos 1 a"), "{text}");
    let told: Ended = Command::new("pdfinfo").arg(&made).output().expect("pdfinfo comes with pdftotext").into();
    let told = told.out.split_whitespace().collect::<Vec<_>>().join(" ");
    for part in ["Title: Registro de seguridad · Larkfield Turf Shop", "Tagged: yes", "612 x 792 pts"] {
        assert!(told.contains(part), "{part}: {told}");
    }
}

#[test]
fn an_empty_range_and_a_journal_that_fails_say_so_in_words() {
    let (stand, file) = journal();
    let text = text_of(&pdf(&stand, &file, "empty.pdf", &["--from", "2027-05-01"]));
    assert!(text.contains("There are no entries in these days.") && text.contains("from 1 May 2027"), "{text}");
    let copy = stand.beside("copy.db");
    std::fs::copy(&file, &copy).expect("it can be copied");
    let change = "DROP TRIGGER journal_never_changes; UPDATE journal SET leaf = x'7b7d' WHERE seq = 2";
    rusqlite::Connection::open(&copy).expect("it opens").execute_batch(change).expect("it is changed");
    let text = text_of(&pdf(&stand, &copy, "fails.pdf", &[]));
    assert!(text.contains("THE JOURNAL FAILS VERIFICATION") && text.contains("entry 2 was changed"), "{text}");
    assert!(!text.contains("Verified when this was made"), "{text}");
}
