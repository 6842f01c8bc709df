//! Every template, read by two decoders that are not ours (zbar, and ZXing by its C++ port) as it was drawn and as the world leaves
//! it: `templates/readers.py`.
#![allow(clippy::expect_used, clippy::panic)]

use crate::rehearsing::{Stand, program};
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

const CONTENT: &str = r#"{
    "unit": "Q-114", "mower": "Greens 3", "position": "atrás izquierda", "date": "2026-11-25",
    "lead_nanometres": 126949200, "trail_nanometres": 126936500, "cone_mm": 0.0127, "cone_u95_mm": 0.0073,
    "land_nanometres": 1016000, "height_of_cut_nanometres": 3175000, "operator": "MS", "station": "Bench A",
    "verdict": "proven", "next_due": "2027-03-01", "grind": "A7-000412"
}"#;

fn drawn(arguments: &[&str], file: &Path, input: &str) -> PathBuf {
    let mut child = program()
        .arg("label")
        .args(arguments)
        .arg(file)
        .stdin(Stdio::piped())
        .stdout(Stdio::null())
        .spawn()
        .expect("the program starts");
    // What reads no input may have ended before it is written.
    let _ = child.stdin.take().expect("its input is open").write_all(input.as_bytes());
    assert!(child.wait().expect("it ends").success(), "{arguments:?}");
    file.to_owned()
}

#[test]
fn every_key_card_on_the_sheet_is_read_by_foreign_decoders() {
    let stand = Stand::new();
    let sheet = drawn(&["cards", "--keys"], &stand.beside("keys.png"), "");
    let output = Command::new("zbarimg").args(["-q", "--raw"]).arg(sheet).output().expect("tests/run.sh installs it");
    let text = String::from_utf8(output.stdout).expect("codes are text");
    let mut read: Vec<&str> = text.lines().collect();
    let mut meant: Vec<String> = sparkout_core::scan::KeyCard::all().map(sparkout_core::scan::KeyCard::code).collect();
    read.sort_unstable();
    meant.sort_unstable();
    assert_eq!(read, meant);
}

/// (state, decoder, what was read) of each file.
type Read = (String, Vec<(String, String, Vec<String>)>);

fn read(files: &[PathBuf]) -> Vec<Read> {
    let python = Path::new(env!("CARGO_TARGET_TMPDIR")).with_file_name("crosscheck").join("bin/python");
    assert!(python.exists(), "{} is missing: tests/run.sh installs it, which this check needs", python.display());
    let script = Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/../tests/templates/readers.py"));
    let output = Command::new(python).arg("-B").arg(script).args(files).output().expect("Python starts");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let lines = String::from_utf8(output.stdout).expect("JSON");
    lines.lines().map(|line| serde_json::from_str(line).expect("JSON on every line")).collect()
}

#[test]
fn foreign_decoders_read_every_template_however_it_lies() {
    let stand = Stand::new();
    let mut files = Vec::new();
    for dpi in ["203", "300", "600"] {
        let file = |name: &str| stand.beside(&format!("{name}-{dpi}.png"));
        files.push(drawn(&["render", "--hub", "hub.example", "--dpi", dpi], &file("result"), CONTENT));
        files.push(drawn(&["tag", "--below", "Greens 3 · 2", "--dpi", dpi, "Q-114"], &file("tag"), ""));
        files.push(drawn(&["badge", "--dpi", dpi, "1042", "María Sáenz"], &file("badge"), ""));
    }
    // Signed by a bench: the demonstration's.
    let demo = stand.beside("demo");
    assert!(program().args(["demo", "--headless"]).arg(&demo).status().expect("the program starts").success());
    files.push(demo.join("label.png"));
    files.push(drawn(&["cards", "--language", "es"], &stand.beside("cards.png"), ""));
    for (name, states) in read(&files) {
        let meant = &states[0].2;
        let is_sheet = name.contains("cards");
        assert_eq!(meant.len(), if is_sheet { 5 } else { 1 }, "{name}");
        for pair in states.chunks(2) {
            let [(state, _, by_zxing), (_, _, by_zbar)] = pair else { panic!("two decoders a state") };
            if is_sheet {
                // A decoder may overlook one of several on a page, which a scanner never has before it; none reads a wrong one.
                assert!(by_zxing.iter().chain(by_zbar).all(|text| meant.contains(text)), "{name} {state}");
                assert!(meant.iter().all(|text| by_zxing.contains(text) || by_zbar.contains(text)), "{name} {state}");
            } else {
                assert_eq!((by_zxing, by_zbar), (meant, meant), "{name} {state}");
            }
        }
    }
}
