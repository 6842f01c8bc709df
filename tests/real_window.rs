//! A whole visit on a real window: an X server, a pointer and keys that are not ours, and the label read by a decoder
//! that is not ours. Where to press comes from the same visit rehearsed without a display at the same size.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use std::path::{Path, PathBuf};
use std::process::{Child, Command, Output, Stdio};
use std::time::{Duration, Instant};

const SPARKOUT: &str = env!("CARGO_BIN_EXE_sparkout");
/// A coned reel through all nine stages.
const VISIT: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../tests/real_window.rehearse");

/// Ends with the test, whatever happens.
pub struct Running(pub Child);

impl Drop for Running {
    fn drop(&mut self) {
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}

fn run(command: &mut Command) -> Output {
    let output = command.output().unwrap_or_else(|error| panic!("{command:?}: {error}; tests/run.sh installs it"));
    assert!(output.status.success(), "{command:?}: {}", String::from_utf8_lossy(&output.stderr));
    output
}

/// An X server on a display of its own choice.
pub fn x_server(size: &str) -> (Running, String) {
    let mut server = Command::new("Xvfb");
    server.args(["-displayfd", "1", "-screen", "0", &format!("{size}x24"), "-nolisten", "tcp"]);
    let mut child = server
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap_or_else(|error| panic!("Xvfb: {error}; tests/run.sh installs it"));
    let mut number = String::new();
    std::io::BufRead::read_line(&mut std::io::BufReader::new(child.stdout.take().unwrap()), &mut number).unwrap();
    (Running(child), format!(":{}", number.trim()))
}

/// The id of the program's window, once it is shown. Asked anew until then: a search walks every window there is, and
/// fails as a whole when one of them (a window manager's own, mostly) goes away under it.
pub fn window_on(display: &str) -> String {
    let begun = Instant::now();
    loop {
        let mut search = Command::new("xdotool");
        search.env("DISPLAY", display).args(["search", "--onlyvisible", "--name", "^sparkout$"]);
        let output = search.output().unwrap_or_else(|error| panic!("xdotool: {error}; tests/run.sh installs it"));
        let found = String::from_utf8_lossy(&output.stdout).trim().to_owned();
        if output.status.success() && !found.is_empty() {
            return found;
        }
        let error = String::from_utf8_lossy(&output.stderr).into_owned();
        assert!(begun.elapsed() < Duration::from_secs(30), "no window is shown: {error}");
        std::thread::sleep(Duration::from_millis(100));
    }
}

struct Desk {
    display: String,
    data: PathBuf,
}

impl Desk {
    fn xdotool(&self, arguments: &[&str]) -> String {
        let output = run(Command::new("xdotool").env("DISPLAY", &self.display).args(arguments));
        String::from_utf8(output.stdout).unwrap()
    }

    fn entries(&self) -> usize {
        let database = self.data.join("kiosk.db");
        let output = Command::new(SPARKOUT).args(["journal", "export", "--database"]).arg(database).output().unwrap();
        output.stdout.iter().filter(|byte| **byte == b'\n').count()
    }

    /// Waits until the journal has kept what the rehearsal's had kept at this point, and the window shows it.
    fn wait_for(&self, entries: usize, after: &str) {
        let begun = Instant::now();
        while self.entries() < entries {
            if begun.elapsed() > Duration::from_secs(15) {
                picture(self, "stuck", "here");
                panic!("after {after:?} the journal has {} entries, not {entries}", self.entries());
            }
            std::thread::sleep(Duration::from_millis(30));
        }
        // What is kept is shown a few frames later, and what changed is deaf for a moment.
        std::thread::sleep(Duration::from_millis(500));
    }

    fn scan(&self, text: &str) {
        self.xdotool(&["type", "--delay", "4", text]);
        self.xdotool(&["key", "Return"]);
    }

    fn press(&self, x: &str, y: &str, milliseconds: u64) {
        self.xdotool(&["mousemove", x, y, "mousedown", "1"]);
        // Real time on a real window: the ring fills by the clock on the wall.
        std::thread::sleep(Duration::from_millis(milliseconds + if milliseconds > 500 { 250 } else { 0 }));
        self.xdotool(&["mouseup", "1"]);
    }

    fn newest_label(&self) -> String {
        let folder = self.data.join("labels");
        let begun = Instant::now();
        let label = loop {
            let found = std::fs::read_dir(&folder).unwrap().map(|file| file.unwrap().path());
            match found.filter(|path| path.extension().is_some_and(|ending| ending == "png")).max() {
                Some(label) => break label,
                None if begun.elapsed() > Duration::from_secs(5) => panic!("no label in {}", folder.display()),
                None => std::thread::sleep(Duration::from_millis(50)),
            }
        };
        let output = run(Command::new("zbarimg").args(["-q", "--raw"]).arg(label));
        String::from_utf8(output.stdout).unwrap().trim().to_owned()
    }
}

fn picture(desk: &Desk, name: &str, size: &str) {
    picture_of(&desk.display, name, size);
}

/// What stands on a display, for whoever looks at it afterwards.
pub fn picture_of(display: &str, name: &str, size: &str) {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("real-window");
    std::fs::create_dir_all(&folder).unwrap();
    let file = folder.join(format!("{name}-{size}.png"));
    run(Command::new("import").env("DISPLAY", display).args(["-window", "root"]).arg(file));
}

fn whole_visit(size: &str, language: &str) {
    let scratch = tempfile::tempdir().unwrap();
    let inputs = scratch.path().join("inputs");
    let options = [format!("--size={size}"), format!("--language={language}")];
    run(Command::new(SPARKOUT)
        .arg("rehearse")
        .arg(VISIT)
        .args(["--shots".as_ref(), scratch.path().join("shots").as_os_str()])
        .args(["--inputs".as_ref(), inputs.as_os_str()])
        .args(&options));

    let (_server, display) = x_server(size);
    let data = scratch.path().join("kiosk");
    let _kiosk = Running(
        Command::new(SPARKOUT)
            .args(["demo", "--data"])
            .arg(&data)
            .args(&options)
            .env("DISPLAY", &display)
            .env_remove("WAYLAND_DISPLAY")
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .unwrap(),
    );
    let desk = Desk { display, data };
    desk.xdotool(&["windowfocus", "--sync", &window_on(&desk.display)]);

    // Set up and started: nothing is accepted before.
    desk.wait_for(143, "start");
    let inputs = std::fs::read_to_string(&inputs).unwrap();
    let mut last = "";
    for line in inputs.lines() {
        match line.split(' ').collect::<Vec<_>>()[..] {
            ["scan", "@label"] => desk.scan(&desk.newest_label()),
            ["scan", text] => desk.scan(text),
            ["press", x, y, milliseconds] => desk.press(x, y, milliseconds.parse().unwrap()),
            ["kept", entries] => desk.wait_for(entries.parse().unwrap(), last),
            _ => panic!("{line:?} is no input"),
        }
        last = line;
    }
    picture(&desk, &format!("end-{language}"), size);

    let database = desk.data.join("kiosk.db");
    let output = run(Command::new(SPARKOUT).args(["journal", "export", "--database"]).arg(&database));
    let journal = String::from_utf8(output.stdout).unwrap();
    let held = journal.matches("\"item_held\"").count();
    assert_eq!(held, 6, "each item of the gate was held once");
    assert_eq!(journal.matches("\"grind_started\"").count(), 1);
    assert_eq!(journal.matches("\"label_scanned\"").count(), 1);
    assert_eq!(journal.matches("\"place_confirmed\"").count(), 1, "the visit came to its end");
    run(Command::new(SPARKOUT).args(["journal", "verify", "--database"]).arg(&database));
}

#[test]
fn a_whole_visit_at_1280x800_in_english() {
    whole_visit("1280x800", "en");
}

#[test]
fn a_whole_visit_at_1024x600_in_spanish() {
    whole_visit("1024x600", "es");
}
