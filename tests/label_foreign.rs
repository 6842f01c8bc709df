//! Labels written by the program itself, read by a decoder that is not ours: `zbarimg` (Debian's zbar-tools).
#![allow(clippy::expect_used)]

use std::io::Write;
use std::path::Path;
use std::process::{Command, Stdio};

const CONTENT: &str = r#"{
    "unit": "Q-114", "mower": "Greens 3", "position": "atrás izquierda", "date": "2026-11-25",
    "lead_nanometres": 126949200, "trail_nanometres": 126936500, "cone_mm": 0.0127, "cone_u95_mm": 0.0073,
    "land_nanometres": 1016000, "height_of_cut_nanometres": 3175000, "operator": "MS", "station": "Bench A",
    "verdict": "proven", "next_due": "2027-03-01", "grind": "A7-000412"
}"#;

/// Runs `sparkout label render` and gives exit code, standard output and standard error.
fn render(content: &str, file: &Path, arguments: &[&str]) -> (Option<i32>, String, String) {
    let mut child = Command::new(env!("CARGO_BIN_EXE_sparkout"))
        .args(["label", "render"])
        .arg(file)
        .args(arguments)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts");
    child.stdin.take().expect("its input is open").write_all(content.as_bytes()).expect("it takes its input");
    let output = child.wait_with_output().expect("it ends");
    let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
    (output.status.code(), text(&output.stdout), text(&output.stderr))
}

fn read_by_zbar(file: &Path) -> String {
    let output = Command::new("zbarimg")
        .args(["-q", "--raw", "-Sdisable", "-Sqrcode.enable"])
        .arg(file)
        .output()
        .expect("zbarimg is missing: install Debian's zbar-tools, the tests need a decoder that is not ours");
    assert!(output.status.success(), "zbarimg reads nothing in {}", file.display());
    String::from_utf8_lossy(&output.stdout).trim_end().to_owned()
}

fn read_by_ourselves(file: &Path) -> serde_json::Value {
    let output = Command::new(env!("CARGO_BIN_EXE_sparkout"))
        .args(["label", "read"])
        .arg(file)
        .output()
        .expect("the program starts");
    assert_eq!(output.status.code(), Some(0), "{}", String::from_utf8_lossy(&output.stderr));
    serde_json::from_slice(&output.stdout).expect("it prints JSON")
}

/// ISO/IEC 18004, table 5: the alphanumeric set.
fn is_alphanumeric(text: &str) -> bool {
    text.chars().all(|character| "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:".contains(character))
}

#[test]
fn a_foreign_decoder_reads_every_resolution_and_language() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let sizes = [("203", "62x29"), ("300", "62x29"), ("600", "62x29"), ("203", "100x50"), ("300", "54x25")];
    for (dpi, size) in sizes {
        for (language, units) in [("en", "inch"), ("es", "metric"), ("en", "thou")] {
            let file = folder.path().join(format!("{dpi}-{size}-{language}-{units}.png"));
            let arguments =
                ["--dpi", dpi, "--size", size, "--language", language, "--units", units, "--hub", "hub.example"];
            let (code, _, error) = render(CONTENT, &file, &arguments);
            assert_eq!((code, error.as_str()), (Some(0), ""), "{dpi} {size} {language}");
            let url = read_by_zbar(&file);
            assert!(url.starts_with("HTTPS://HUB.EXAMPLE/L/") && is_alphanumeric(&url), "{url}");
            // What zbar read says the same as what we read.
            let address = sparkout_core::label::decode_url(&url).expect("a label of ours");
            let ours = read_by_ourselves(&file);
            assert_eq!(ours["record"], serde_json::to_value(&address.content).expect("JSON"));
            assert_eq!(ours["record"]["position"], "atrás izquierda");
            assert_eq!((ours["hub"].as_str(), ours["seal"].as_str()), (Some("HUB.EXAMPLE"), Some("digest")));
        }
    }
}

#[test]
fn what_cannot_be_drawn_is_told_in_one_line() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let file = folder.path().join("label.png");
    let long = CONTENT.replace("Q-114", &"W".repeat(60));
    let cases: [(&str, &Path, &[&str], &str); 6] = [
        ("{}", &file, &[], "missing field"),
        ("not JSON", &file, &[], "not a label's content"),
        (&long, &file, &[], "unit tag has 60 characters"),
        (CONTENT, &file, &["--size", "20x12"], "the label has"),
        (CONTENT, &file, &["--dpi", "72"], "150 to 1200"),
        (CONTENT, Path::new("/nowhere/at/all/label.png"), &[], "is not there"),
    ];
    for (content, file, arguments, told) in cases {
        let (code, _, error) = render(content, file, arguments);
        assert_eq!(code, Some(2), "{error}");
        assert!(error.contains(told) && error.trim_end().lines().count() == 1, "{error}");
        assert!(!file.exists());
    }
}

#[test]
fn pictures_without_a_label_are_told_apart() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let read = |name: &str, bytes: Option<&[u8]>| {
        let file = folder.path().join(name);
        if let Some(bytes) = bytes {
            std::fs::write(&file, bytes).expect("the folder takes files");
        }
        let output = Command::new(env!("CARGO_BIN_EXE_sparkout")).args(["label", "read"]).arg(&file).output();
        let output = output.expect("the program starts");
        assert_eq!(output.status.code(), Some(2));
        String::from_utf8_lossy(&output.stderr).into_owned()
    };
    assert!(read("absent.png", None).contains("cannot read"));
    assert!(read("text.png", Some(b"no picture")).contains("cannot be read as PNG"));
}
