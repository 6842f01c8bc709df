//! Labels printed by the real kiosk on a printer that is not ours: `ippeveprinter` (Debian's cups-ipp-utils), made a label printer by
//! `printing/label.conf`. What comes out of it is read by CUPS's own library and decoded by `zbarimg`.
#![allow(clippy::expect_used, clippy::panic)]

use crate::rehearsing::{Kiosk, Stand, free_port, sparkout};
use crate::scanners::Cable;
use std::ffi::OsStr;
use std::net::TcpStream;
use std::os::unix::fs::PermissionsExt;
use std::os::unix::process::CommandExt;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

/// The printer's process, with everything that it started. Dropping it kills them, as pulling its plug would.
struct IppPrinter {
    child: Child,
    folder: PathBuf,
}

/// What the printer runs for each job: it waits while there are no labels, and then puts the page out.
const MECHANISM: &str = r#"#!/bin/sh
if [ -e "FOLDER/empty" ]; then
  echo "STATE: +media-empty-error" >&2
  while [ -e "FOLDER/empty" ]; do sleep 0.1; done
  echo "STATE: -media-empty-error" >&2
fi
cp "$1" "FOLDER/out/$(date +%s%N).part"
mv FOLDER/out/*.part "FOLDER/out/$(date +%s%N).pwg"
"#;

impl IppPrinter {
    fn start(folder: &Path, port: u16) -> Self {
        for part in ["spool", "out"] {
            std::fs::create_dir_all(folder.join(part)).expect("a folder");
        }
        let mechanism = folder.join("mechanism");
        std::fs::write(&mechanism, MECHANISM.replace("FOLDER", &folder.display().to_string())).expect("a file");
        std::fs::set_permissions(&mechanism, std::fs::Permissions::from_mode(0o755)).expect("a file of ours");
        // It ends where there is no bus of the system to ask for Avahi on, also when it is told to announce nothing: it gets a bus of
        // its own.
        let child = Command::new("dbus-run-session")
            .args(["--", "sh", "-c", "DBUS_SYSTEM_BUS_ADDRESS=$DBUS_SESSION_BUS_ADDRESS exec \"$@\"", "sh"])
            .args(["ippeveprinter", "-r", "off", "-n", "localhost", "-k", "-p"])
            .arg(port.to_string())
            .arg("-d")
            .arg(folder.join("spool"))
            .arg("-a")
            .arg(concat!(env!("CARGO_MANIFEST_DIR"), "/../tests/printing/label.conf"))
            .arg("-c")
            .arg(&mechanism)
            .arg("Labels")
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .process_group(0)
            .spawn()
            .expect("dbus-run-session is missing: install Debian's dbus");
        let printer = Self { child, folder: folder.to_owned() };
        let begun = Instant::now();
        while TcpStream::connect(("localhost", port)).is_err() {
            assert!(
                begun.elapsed() < Duration::from_secs(20),
                "the printer does not come up: install Debian's cups-ipp-utils, the tests need a printer that is not ours"
            );
            std::thread::sleep(Duration::from_millis(50));
        }
        printer
    }

    fn take_labels_out(folder: &Path) {
        std::fs::create_dir_all(folder).expect("a folder");
        std::fs::write(folder.join("empty"), "").expect("a file");
    }

    fn load_labels(folder: &Path) {
        std::fs::remove_file(folder.join("empty")).expect("they were out");
    }

    /// What came out so far.
    fn out(&self) -> Vec<PathBuf> {
        pages(&self.folder)
    }
}

fn pages(folder: &Path) -> Vec<PathBuf> {
    let files = std::fs::read_dir(folder.join("out")).expect("the printer's tray");
    let pages = files.filter_map(|file| Some(file.ok()?.path()));
    pages.filter(|page| page.extension() == Some(OsStr::new("pwg"))).collect()
}

impl Drop for IppPrinter {
    fn drop(&mut self) {
        // The whole group: what puts the page out goes with the printer.
        let _ = Command::new("kill").args(["-KILL", "--", &format!("-{}", self.child.id())]).status();
        let _ = self.child.wait();
    }
}

fn kiosk(stand: &Stand, port: u16) -> Kiosk {
    let config = stand.beside("own.toml");
    let printer = format!("[printer]\nkind = \"ipp\"\naddress = \"ipp://localhost:{port}/ipp/print\"\n");
    std::fs::write(&config, printer).expect("a file");
    if !stand.database().exists() {
        // Sets the invented shop up.
        stand.play("expect Scan a unit’s tag");
    }
    Kiosk::start_with(stand, None, &[OsStr::new("--config"), config.as_os_str()])
}

/// Waits in real time until a text stands on the screen.
pub fn until(kiosk: &mut Kiosk, text: &str) {
    kiosk.until(text, "0s", Duration::from_secs(40));
}

/// A check without work is the shortest way to a label.
const TO_THE_LABEL: &str = include_str!("printing/to-the-label.rehearse");

/// What the code of a page says: its raster read by libcups, its code by zbar.
fn decoded(stand: &Stand, page: &Path) -> String {
    let picture = stand.beside("page.pbm");
    let script = Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/../tests/printing/raster.py"));
    let read = Command::new("python3").arg("-B").arg(script).arg(page).arg(&picture).output().expect("Python starts");
    assert!(read.status.success(), "{}", String::from_utf8_lossy(&read.stderr));
    // 62 x 29 mm at 203 dpi, to whole dots.
    assert_eq!(String::from_utf8_lossy(&read.stdout).trim_end(), "495 231 203 custom_label_62x29mm");
    let code = Command::new("zbarimg").args(["-q", "--raw", "-Sdisable", "-Sqrcode.enable"]).arg(&picture).output();
    let code = code.expect("zbarimg is missing: install Debian's zbar-tools");
    assert!(code.status.success(), "zbarimg reads nothing in {}", picture.display());
    String::from_utf8_lossy(&code.stdout).trim_end().to_owned()
}

fn times(stand: &Stand, event: &str) -> usize {
    stand.events().iter().filter(|name| *name == event).count()
}

#[test]
fn a_label_is_printed_on_a_real_printer_and_closed_by_its_scan() {
    let (stand, port) = (Stand::new(), free_port());
    let printer = IppPrinter::start(&stand.beside("printer"), port);
    let mut kiosk = kiosk(&stand, port);
    kiosk.play(TO_THE_LABEL);
    kiosk.play("press Print label");
    until(&mut kiosk, "Label written");
    let pages = printer.out();
    assert_eq!(pages.len(), 1, "{pages:?}");
    let code = decoded(&stand, &pages[0]);
    kiosk.play(&format!("scan {code}\nexpect Label read on the unit"));
    assert_eq!((times(&stand, "print_asked"), times(&stand, "printed"), times(&stand, "label_scanned")), (1, 1, 1));
}

const OTHER_KEY: [u8; 32] = [
    0xd7, 0x5a, 0x98, 0x01, 0x82, 0xb1, 0x0a, 0xb7, 0xd5, 0x4b, 0xfe, 0xd3, 0xc9, 0x64, 0x07, 0x3a, 0x0e, 0xe1, 0x72,
    0xf3, 0xda, 0xa6, 0x23, 0x25, 0xaf, 0x02, 0x1a, 0x68, 0xf7, 0x07, 0x51, 0x1a,
];

/// What the hands and the serial scanner do in one whole visit; `serial` stands for the scanner.
const WHOLE_VISIT: &str = include_str!("printing/whole-visit.rehearse");

/// From the badge to the mower with a serial scanner and an IPP printer, both outside the kiosk's process.
#[test]
fn a_whole_visit_with_a_serial_scanner_and_a_network_printer() {
    let (stand, port) = (Stand::new(), free_port());
    let printer = IppPrinter::start(&stand.beside("printer"), port);
    let serial = stand.beside("port");
    let mut cable = Cable::plug(&serial);
    let config = stand.beside("own.toml");
    let lines = format!(
        "[printer]\nkind = \"ipp\"\naddress = \"ipp://localhost:{port}/ipp/print\"\n[intake]\nserial = {:?}\n",
        serial.display().to_string()
    );
    std::fs::write(&config, lines).expect("a file");
    let looked = sparkout([OsStr::new("doctor"), "--config".as_ref(), config.as_ref()]);
    assert_eq!(looked.code, Some(0), "{}{}", looked.out, looked.err);
    stand.play("expect Scan a unit’s tag");
    let mut kiosk = Kiosk::start_with(&stand, None, &[OsStr::new("--config"), config.as_os_str()]);
    for line in WHOLE_VISIT.lines() {
        if let Some(shown) = line.strip_prefix("await ") {
            until(&mut kiosk, shown);
            continue;
        }
        match line.strip_prefix("serial ") {
            Some(told) => {
                let (code, shown) = told.split_once(" -> ").expect("a code and what it shows");
                let code = if code == "@page" { decoded(&stand, &printer.out()[0]) } else { code.to_owned() };
                cable.send(format!("{code}\r\n").as_bytes());
                until(&mut kiosk, shown);
            }
            None => kiosk.play(line),
        }
    }
    assert_eq!(printer.out().len(), 1);
    let verified = stand.verify();
    assert_eq!(verified.code, Some(0), "{}", verified.err);
    // The bench's label is known as the bench's by whoever has its key line, and as nobody's by others.
    let key = verified.out.split_whitespace().find(|word| word.starts_with("sparkout/") && word.contains('+'));
    let key = key.expect("verify prints the key line");
    let picture = stand.beside("page.png");
    let converted = Command::new("convert").arg(stand.beside("page.pbm")).arg(&picture).status();
    assert!(converted.expect("convert is missing: install Debian's imagemagick").success());
    let read = |more: &[&str]| {
        let picture = picture.display().to_string();
        sparkout(["label", "read", &picture].into_iter().chain(more.iter().copied()))
    };
    let known = read(&["--key", key]);
    assert_eq!(known.code, Some(0), "{}", known.err);
    assert!(known.out.contains("signed with a key that was given"), "{}", known.out);
    // Test 1 of RFC 8032, section 7.1: somebody else's key.
    let other = sparkout_core::journal::checkpoint::NamedKey::new("other", OTHER_KEY).expect("a name");
    let unknown = read(&["--key", &other.verifier_line()]);
    assert_eq!(unknown.code, Some(1), "{}", unknown.err);
    assert!(unknown.out.contains("neither trusted nor false"), "{}", unknown.out);
}

#[test]
fn out_of_labels_is_told_and_the_label_comes_once_when_they_are_in() {
    let (stand, port) = (Stand::new(), free_port());
    let folder = stand.beside("printer");
    IppPrinter::take_labels_out(&folder);
    let printer = IppPrinter::start(&folder, port);
    let mut kiosk = kiosk(&stand, port);
    kiosk.play(TO_THE_LABEL);
    kiosk.play("press Print label");
    until(&mut kiosk, "the printer is out of labels: load a roll");
    // Pressed again by an impatient hand, and the kiosk killed while it waits.
    kiosk.play("press Print label");
    drop(kiosk);
    let mut kiosk = self::kiosk(&stand, port);
    until(&mut kiosk, "the printer is out of labels: load a roll");
    IppPrinter::load_labels(&folder);
    until(&mut kiosk, "Label written");
    assert_eq!(printer.out().len(), 1);
    assert_eq!(times(&stand, "printed"), 1);
}

#[test]
fn a_printer_that_is_not_there_yet_prints_once_when_it_comes() {
    let (stand, port) = (Stand::new(), free_port());
    let mut kiosk = kiosk(&stand, port);
    kiosk.play(TO_THE_LABEL);
    kiosk.play("press Print label");
    until(&mut kiosk, "the printer does not answer at");
    let printer = IppPrinter::start(&stand.beside("printer"), port);
    until(&mut kiosk, "Label written");
    assert_eq!(printer.out().len(), 1);
}

/// Nobody can know whether a label came out of a printer whose plug was pulled: the person looks, and the second wish is
/// written down as one.
#[test]
fn a_printer_killed_in_mid_job_and_brought_back_leaves_exactly_one_label() {
    let (stand, port) = (Stand::new(), free_port());
    let folder = stand.beside("printer");
    IppPrinter::take_labels_out(&folder);
    let printer = IppPrinter::start(&folder, port);
    let mut kiosk = kiosk(&stand, port);
    kiosk.play(TO_THE_LABEL);
    kiosk.play("press Print label");
    until(&mut kiosk, "the printer is out of labels");
    drop(printer);
    until(&mut kiosk, "the printer does not answer at");
    IppPrinter::load_labels(&folder);
    let printer = IppPrinter::start(&folder, port);
    until(&mut kiosk, "nobody knows whether the label came out");
    assert_eq!(printer.out().len(), 0, "nothing is printed blindly");
    kiosk.play("press Print label");
    until(&mut kiosk, "Label written");
    assert_eq!(printer.out().len(), 1);
    assert_eq!((times(&stand, "print_asked"), times(&stand, "printed")), (2, 1));
}
