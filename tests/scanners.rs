//! Scanners that are devices of their own, read by the real kiosk: a serial port whose other end is the test's (`socat`, a
//! pair of pseudo-terminals), and a folder of pictures.
#![allow(clippy::expect_used, clippy::panic)]

use crate::printing::until;
use crate::rehearsing::{Kiosk, Stand, sparkout};
use std::ffi::OsStr;
use std::fs::File;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

/// A cable with a scanner at its end. Dropping it pulls the plug: both ends are gone.
pub struct Cable {
    child: Child,
    scanner: File,
}

impl Cable {
    /// Plugs it in: the kiosk's end lies at `port`.
    pub fn plug(port: &Path) -> Self {
        let far = port.with_extension("scanner");
        let end = |path: &Path| format!("pty,raw,echo=0,link={}", path.display());
        let mut child = Command::new("socat")
            .args([end(port), end(&far)])
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .expect("socat is missing: install it, the tests need a serial cable");
        let begun = Instant::now();
        let scanner = loop {
            match File::options().write(true).open(&far) {
                Ok(file) if port.exists() => break file,
                Ok(_) | Err(_) => {
                    assert!(begun.elapsed() < Duration::from_secs(10), "no cable");
                    assert!(matches!(child.try_wait(), Ok(None)), "socat ended");
                    std::thread::sleep(Duration::from_millis(20));
                }
            }
        };
        Self { child, scanner }
    }

    /// What the scanner sends.
    pub fn send(&mut self, bytes: &[u8]) {
        self.scanner.write_all(bytes).expect("the cable takes bytes");
    }
}

impl Drop for Cable {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

fn kiosk(stand: &Stand, lines: &str) -> Kiosk {
    let config = stand.beside("own.toml");
    std::fs::write(&config, lines).expect("a file");
    // Sets the invented shop up.
    stand.play("expect Scan a unit’s tag");
    Kiosk::start_with(stand, None, &[OsStr::new("--config"), config.as_os_str()])
}

fn serial(stand: &Stand) -> (PathBuf, Kiosk) {
    let port = stand.beside("port");
    let kiosk = kiosk(stand, &format!("[intake]\nserial = {:?}\n", port.display().to_string()));
    (port, kiosk)
}

#[test]
fn a_serial_scanner_in_parts_with_noise_and_without_its_terminator() {
    let stand = Stand::new();
    let mut cable = Cable::plug(&stand.beside("port"));
    let (_, mut kiosk) = serial(&stand);
    cable.send(b"SPKB4");
    std::thread::sleep(Duration::from_millis(40));
    cable.send(b"1042A\r\n");
    until(&mut kiosk, "is at the bench");
    // Noise of a loose plug.
    cable.send(&[0xff, 0x00, 0xfe, 0x81, b'\r']);
    until(&mut kiosk, "The scanner sent a character that no code here has");
    // A scanner that sends no terminator: silence ends the scan.
    cable.send(b"Q-114");
    until(&mut kiosk, "Reel bearings");
    assert!(stand.events().iter().any(|event| event == "opened"));
}

#[test]
fn a_serial_scanner_that_is_pulled_out_and_put_back_is_told_and_works() {
    let stand = Stand::new();
    let (port, mut kiosk) = serial(&stand);
    until(&mut kiosk, "is not there. Check its plug");
    let cable = Cable::plug(&port);
    until(&mut kiosk, "The scanner is back");
    drop(cable);
    until(&mut kiosk, "is not there. Check its plug");
    let mut cable = Cable::plug(&port);
    until(&mut kiosk, "The scanner is back");
    cable.send(b"SPKB41042A\r");
    until(&mut kiosk, "is at the bench");
}

#[test]
fn a_picture_put_into_the_folder_is_a_scan() {
    let stand = Stand::new();
    let folder = stand.beside("pictures");
    std::fs::create_dir(&folder).expect("a folder");
    let mut kiosk = kiosk(&stand, &format!("[intake]\npicture_folder = {:?}\n", folder.display().to_string()));
    let content = r#"{"unit": "Q-114", "mower": "Greens 3", "position": "2", "date": "2026-05-01", "operator": "MS",
        "station": "Bench B", "verdict": "done", "grind": "V0000099"}"#;
    let picture = stand.beside("label.png");
    let mut drawing = Command::new(env!("CARGO_BIN_EXE_sparkout"))
        .args(["label", "render"])
        .arg(&picture)
        .stdin(Stdio::piped())
        .stdout(Stdio::null())
        .spawn()
        .expect("the program starts");
    drawing.stdin.take().expect("its input is open").write_all(content.as_bytes()).expect("it takes its input");
    assert!(drawing.wait().expect("it ends").success());
    std::fs::copy(&picture, folder.join("label.png")).expect("the folder takes files");
    until(&mut kiosk, "That is the label of Q-114: work done on 1 May 2026; nobody signed it");
    std::fs::write(folder.join("hand.jpg"), "no picture").expect("the folder takes files");
    until(&mut kiosk, "No code can be read in hand.jpg");
}

#[test]
fn the_doctor_says_of_each_device_whether_it_is_fine() {
    let stand = Stand::new();
    let (labels, port) = (stand.beside("labels"), stand.beside("port"));
    std::fs::create_dir(&labels).expect("a folder");
    let config = stand.beside("own.toml");
    let lines = format!(
        "[label]\nfolder = {:?}\n[intake]\nserial = {:?}\n",
        labels.display().to_string(),
        port.display().to_string()
    );
    std::fs::write(&config, lines).expect("a file");
    let doctor = |more: &[&str]| {
        let config = config.display().to_string();
        sparkout(["doctor", "--config", &config].into_iter().chain(more.iter().copied()))
    };
    let ended = doctor(&[]);
    assert_eq!(ended.code, Some(1), "{}{}", ended.out, ended.err);
    let lines: Vec<&str> = ended.out.lines().collect();
    assert!(lines[0].starts_with("label folder") && lines[0].ends_with(": fine"), "{lines:?}");
    assert!(lines[1].starts_with("scanner") && lines[1].contains("check its path"), "{lines:?}");
    let cable = Cable::plug(&port);
    let ended = doctor(&["--json"]);
    assert_eq!(ended.code, Some(0), "{}{}", ended.out, ended.err);
    for line in ended.out.lines() {
        let finding: serde_json::Value = serde_json::from_str(line).expect("JSON on every line");
        assert_eq!(finding["fine"], true, "{line}");
    }
    drop(cable);
}
