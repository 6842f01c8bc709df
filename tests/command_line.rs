//! The command line: exit codes, errors on one line, and what `demo --headless` leaves.
#![allow(clippy::expect_used)]

use crate::rehearsing::{Ended, Stand, program, sparkout, verify};
use std::path::Path;
use std::process::Command;

fn refused_on_one_line(ended: &Ended, code: i32, part: &str) {
    assert_eq!(ended.code, Some(code), "{}{}", ended.out, ended.err);
    assert!(ended.err.contains(part) && ended.err.trim_end().lines().count() == 1, "{}", ended.err);
}

#[test]
fn verify_tells_proved_tampered_and_unreadable_apart() {
    let stand = Stand::new();
    stand.play("scan SPKB41042A\nscan Q-114\n");
    let proved = stand.verify();
    assert_eq!(proved.code, Some(0), "{}", proved.out);
    assert!(proved.out.contains("verified"));
    drop(sparkout::store::open(&stand.data()).expect("the journal opens"));
    let copy = stand.beside("copy.db");
    std::fs::copy(stand.database(), &copy).expect("it can be copied");
    assert_eq!(verify(&copy).code, Some(0));
    let mut content = std::fs::read(&copy).expect("it can be read");
    // One letter of one entry, in the raw file.
    let at = content.windows(10).rposition(|part| part == b"Ines Barro").expect("the name is in the file");
    content[at] = b'J';
    std::fs::write(&copy, content).expect("it can be written");
    let tampered = verify(&copy);
    assert_eq!(tampered.code, Some(1), "{}{}", tampered.out, tampered.err);
    assert!(tampered.out.contains("FAILS"), "{}", tampered.out);
    refused_on_one_line(&verify(&stand.beside("absent.db")), 2, "absent.db");
    std::fs::write(stand.beside("text.db"), "not a database at all, only words").expect("it can be written");
    refused_on_one_line(&verify(&stand.beside("text.db")), 2, "text.db");
}

#[test]
fn rebuild_needs_a_journal_of_its_own() {
    let stand = Stand::new();
    let rebuild = || {
        let data = stand.data().display().to_string();
        sparkout(["journal", "rebuild", "--data", &data])
    };
    refused_on_one_line(&rebuild(), 2, "holds no journal");
    assert!(!stand.data().exists());
    stand.play("scan SPKB41042A\n");
    let held = sparkout::store::open(&stand.data()).expect("the journal opens");
    refused_on_one_line(&rebuild(), 2, "another sparkout is running");
    drop(held);
    assert_eq!(rebuild().code, Some(0));
}

#[test]
fn the_configuration_shown_is_one_that_is_taken() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let shown = sparkout(["config", "--show"]);
    assert_eq!(shown.code, Some(0));
    let file = folder.path().join("own.toml");
    let check = |text: &str| {
        std::fs::write(&file, text).expect("the folder takes files");
        sparkout([Path::new("config"), Path::new("--check"), &file])
    };
    assert_eq!(check(&shown.out).code, Some(0));
    refused_on_one_line(&check("[label]\ndpi = 20\n"), 2, "label.dpi is 20; between 150 and 1200 is taken");
    refused_on_one_line(&check("[screan]\n"), 2, "screan");
    refused_on_one_line(&check("not TOML"), 2, "is not TOML");
    assert_eq!(sparkout(["config"]).code, Some(2));
}

#[test]
fn a_line_that_fails_names_itself_and_the_screen() {
    let stand = Stand::new();
    let failed = sparkout(stand.command("scan Q-114\n\nexpect no such words\n"));
    assert_eq!(failed.code, Some(1));
    assert!(
        failed.err.contains("line 3: expect no such words") && failed.err.contains("on the screen: "),
        "{}",
        failed.err
    );
    let unread = sparkout(stand.command("jump up\n"));
    refused_on_one_line(&unread, 2, "line 1: jump up");
    refused_on_one_line(&sparkout(["rehearse", "/nowhere/at/all"]), 2, "cannot be read");
    let usage = sparkout(["demo", "--size", "1x1"]);
    assert!(usage.code == Some(2) && usage.err.contains("480 to 7680"), "{}", usage.err);
}

/// The pixels of a picture, and how many different ones.
fn picture(file: &Path) -> (u32, u32, usize) {
    let picture = image::open(file).expect("a picture").into_rgb8();
    let different: std::collections::BTreeSet<_> = picture.pixels().map(|pixel| pixel.0).collect();
    (picture.width(), picture.height(), different.len())
}

/// Without home, display, or fonts, as in an empty container.
fn walk(out: &Path, arguments: &[&str]) -> Ended {
    let path = std::env::var_os("PATH").unwrap_or_default();
    program()
        .env_clear()
        .env("PATH", path)
        .env("FONTCONFIG_FILE", "/dev/null")
        .env("SPARKOUT_LOG", "off")
        .args(["demo", "--headless"])
        .arg(out)
        .args(arguments)
        .output()
        .expect("the program starts")
        .into()
}

fn check_walk(out: &Path, size: (u32, u32)) {
    let screens: Vec<_> = std::fs::read_dir(out.join("screens"))
        .expect("screens")
        .filter_map(|file| file.ok().map(|file| file.path()))
        .collect();
    assert!(screens.len() >= 9, "{screens:?}");
    for screen in &screens {
        let (width, height, colours) = picture(screen);
        assert_eq!((width, height), size, "{}", screen.display());
        // One colour is blank, and two are a notice without letters: smoothed letters alone give dozens.
        assert!(colours > 30, "{} has {colours} colours", screen.display());
    }
    let verified = verify(&out.join("kiosk.db"));
    assert_eq!(verified.code, Some(0), "{}{}", verified.out, verified.err);
    let zbar = Command::new("zbarimg")
        .args(["-q", "--raw", "-Sdisable", "-Sqrcode.enable"])
        .arg(out.join("label.png"))
        .output()
        .expect("zbarimg is missing: install Debian's zbar-tools, the tests need a decoder that is not ours");
    let foreign = String::from_utf8_lossy(&zbar.stdout).trim_end().to_owned();
    let ours = sparkout([Path::new("label"), Path::new("read"), &out.join("label.png")]);
    assert_eq!(ours.code, Some(0), "{}", ours.err);
    let ours: serde_json::Value = serde_json::from_str(&ours.out).expect("it prints JSON");
    let address = sparkout_core::label::decode_url(&foreign).expect("a label of ours");
    assert_eq!(ours["record"], serde_json::to_value(&address.content).expect("JSON"));
    assert_eq!(ours["record"]["unit"], "Q-114");
}

#[test]
fn the_demonstration_needs_no_display_home_or_fonts() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let out = folder.path().join("out");
    let walked = walk(&out, &[]);
    assert_eq!(walked.code, Some(0), "{}", walked.err);
    check_walk(&out, (1280, 800));
    // What is there is not written over.
    refused_on_one_line(&walk(&out, &[]), 2, "name an empty folder");
    std::fs::create_dir(folder.path().join("notes")).expect("the folder takes folders");
    refused_on_one_line(&walk(folder.path(), &[]), 2, "name an empty folder");
}

#[test]
fn the_demonstration_takes_another_size_and_language() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let out = folder.path().join("out");
    let walked = walk(&out, &["--size", "1024x600", "--theme", "dark", "--units", "thou"]);
    assert_eq!(walked.code, Some(0), "{}", walked.err);
    check_walk(&out, (1024, 600));
}
