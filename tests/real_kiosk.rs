//! The kiosk's door on a real screen with a window manager: over the whole of it, and closed by nobody but a lead.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use crate::real_window::{Running, picture_of, window_on, x_server};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

const SPARKOUT: &str = env!("CARGO_BIN_EXE_sparkout");

struct Screen {
    display: String,
}

impl Screen {
    fn xdotool(&self, arguments: &[&str]) -> String {
        let output = Command::new("xdotool").env("DISPLAY", &self.display).args(arguments).output().unwrap();
        assert!(output.status.success(), "{arguments:?}: {}", String::from_utf8_lossy(&output.stderr));
        String::from_utf8(output.stdout).unwrap()
    }

    /// Position and size as the X server has them.
    fn geometry(&self, window: &str) -> String {
        let shell = self.xdotool(&["getwindowgeometry", "--shell", window]);
        let value = |name: &str| {
            shell.lines().find_map(|line| line.strip_prefix(&format!("{name}="))).unwrap_or_default().to_owned()
        };
        format!("{}x{}+{}+{}", value("WIDTH"), value("HEIGHT"), value("X"), value("Y"))
    }

    /// What the window manager does when somebody presses its close button or Alt+F4.
    fn ask_to_close(&self) {
        self.xdotool(&["key", "alt+F4"]);
    }

    fn scan(&self, text: &str) {
        self.xdotool(&["type", "--delay", "4", text]);
        self.xdotool(&["key", "Return"]);
        std::thread::sleep(Duration::from_millis(700));
    }
}

fn wait_until(what: &str, so: impl Fn() -> bool) {
    let begun = Instant::now();
    while !so() {
        assert!(begun.elapsed() < Duration::from_secs(15), "{what}");
        std::thread::sleep(Duration::from_millis(100));
    }
}

/// One that knows full-screen windows, and is there when this returns.
fn window_manager(display: &str) -> Running {
    let started = Command::new("openbox").env("DISPLAY", display).stderr(Stdio::null()).spawn();
    let manager = Running(started.unwrap_or_else(|error| panic!("openbox: {error}; tests/run.sh installs it")));
    wait_until("the window manager is there", || {
        let asked = Command::new("xdotool").env("DISPLAY", display).arg("get_num_desktops").output().unwrap();
        asked.status.success()
    });
    manager
}

fn set_up(data: &Path) {
    let script = data.with_extension("rehearse");
    std::fs::write(&script, "expect Scan a unit’s tag\n").unwrap();
    let output = Command::new(SPARKOUT).arg("rehearse").arg(&script).arg("--data").arg(data).output().unwrap();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
}

fn kiosk(display: &str, data: &Path, more: &[&str]) -> Child {
    Command::new(SPARKOUT)
        .args(["kiosk", "--data"])
        .arg(data)
        .args(more)
        .env("DISPLAY", display)
        .env_remove("WAYLAND_DISPLAY")
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .unwrap()
}

#[test]
fn a_kiosk_covers_the_screen_and_only_a_lead_closes_it() {
    let scratch = tempfile::tempdir().unwrap();
    let data = scratch.path().join("kiosk");
    set_up(&data);
    let (_server, display) = x_server("1024x600");
    let _manager = window_manager(&display);
    let screen = Screen { display };
    let mut running = Running(kiosk(&screen.display, &data, &[]));
    let window = window_on(&screen.display);
    wait_until("the window covers the screen", || screen.geometry(&window) == "1024x600+0+0");
    screen.xdotool(&["windowfocus", "--sync", &window]);
    std::thread::sleep(Duration::from_millis(800));

    // Refused, twice, with nobody and with a technician at the bench.
    for badge in [None, Some("SPKB41077N")] {
        if let Some(badge) = badge {
            screen.scan(badge);
        }
        screen.ask_to_close();
        std::thread::sleep(Duration::from_millis(900));
        assert!(running.0.try_wait().unwrap().is_none(), "closed with {badge:?} at the bench");
        assert_eq!(screen.geometry(&window), "1024x600+0+0");
    }
    picture_of(&screen.display, "refused-close", "1024x600");

    screen.scan("SPKB41042A");
    screen.ask_to_close();
    let begun = Instant::now();
    let ended = loop {
        if let Some(ended) = running.0.try_wait().unwrap() {
            break ended;
        }
        assert!(begun.elapsed() < Duration::from_secs(15), "a lead could not leave");
        std::thread::sleep(Duration::from_millis(50));
    };
    assert_eq!(ended.code(), Some(0));
}

#[test]
fn a_size_or_windowed_keeps_a_window() {
    let scratch = tempfile::tempdir().unwrap();
    let data = scratch.path().join("kiosk");
    set_up(&data);
    for (options, size) in [(["--size=1024x600"], "1024x600"), (["--windowed"], "1280x800")] {
        // A display each: on one, the window that was killed may still stand there when the next is looked for.
        let (_server, display) = x_server("1600x1000");
        let _manager = window_manager(&display);
        let screen = Screen { display };
        let _running = Running(kiosk(&screen.display, &data, &options));
        let window = window_on(&screen.display);
        wait_until("the window has its size", || screen.geometry(&window).starts_with(&format!("{size}+")));
    }
}
