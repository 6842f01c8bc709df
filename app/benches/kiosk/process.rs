//! Whole processes: the first frame over a long journal, and a window that waits.

use super::drawing::{Picture, without_display};
use super::empty::Empty;
use super::{median, report};
use slint::ComponentHandle as _;
use sparkout::clock::{Clock, SystemClock};
use sparkout::config::Config;
use sparkout::demo;
use sparkout::desk::opening::{Place, open_bench};
use sparkout::kiosk::thread::Kiosk;
use sparkout::store::{self, NewEntry, Record as _};
use sparkout_ui::screen::{Body, Screen, Settings};
use sparkout_ui::window::KioskWindow;
use std::io::{BufRead as _, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::{Arc, mpsc};
use std::time::{Duration, Instant};

const ENTRIES: u64 = 1_000_000;
const BATCH: u64 = 10_000;
const STARTS: usize = 5;
/// A process is left alone for so long before it is watched, and is watched for so long.
const SETTLED: Duration = Duration::from_secs(4);
const WATCHED: Duration = Duration::from_secs(10);

/// Ends with its owner, whatever happens.
struct Running(Child);

impl Drop for Running {
    fn drop(&mut self) {
        let _ = self.0.kill();
        let _ = self.0.wait();
    }
}

fn itself() -> Command {
    Command::new(std::env::current_exe().expect("this program"))
}

/// The invented shop and a long past; made once, and kept with what was built.
fn long_journal() -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("million");
    demo::set_up(&folder, jiff::Timestamp::now()).expect("the invented shop");
    let mut disk = store::open(&folder).expect("the journal");
    let begun = Instant::now();
    let mut size = disk.head().expect("a head").size;
    let before = size;
    while size < ENTRIES {
        let count = BATCH.min(ENTRIES - size);
        let entries: Vec<_> = (size..size + count).map(past).collect();
        size = disk.append(&entries, &[]).expect("kept").seq;
    }
    if before < size {
        println!("journal of {size} entries made in {:.0} s", begun.elapsed().as_secs_f64());
    }
    folder
}

/// About as long as a reading's entry; what is in it is not read at a start.
fn past(number: u64) -> NewEntry {
    let bytes = format!(r#"{{"number":{number},"filling":"{}"}}"#, "reading ".repeat(40)).into_bytes();
    NewEntry { visit: Some(format!("past-{}", number / 40)), bytes }
}

/// Milliseconds from before a process starts until it has said each of these words.
fn until(command: &mut Command, words: &[&str]) -> Vec<f64> {
    let begun = Instant::now();
    let mut child = Running(command.stdout(Stdio::piped()).spawn().expect("started"));
    let lines = BufReader::new(child.0.stdout.take().expect("its output")).lines();
    let mut times = vec![f64::NAN; words.len()];
    for line in lines.map_while(Result::ok) {
        if let Some(place) = words.iter().position(|word| line == *word) {
            times[place] = begun.elapsed().as_secs_f64() * 1000.0;
        }
    }
    times
}

pub fn measure_first_frame() {
    let folder = long_journal();
    let empty: Vec<_> = (0..STARTS).map(|_| until(itself().arg("empty-first-frame"), &["frame"])[0]).collect();
    let ours: Vec<_> =
        (0..STARTS).map(|_| until(itself().arg("first-frame").arg(&folder), &["frame", "home"])).collect();
    let column = |place: usize| median(ours.iter().map(|times| times[place]).collect());
    report("process start to first frame, a million entries", column(0), median(empty.clone()), "ms", Some(500.0));
    report("process start to a journal looked through, Home", column(1), median(empty), "ms", None);
}

/// A kiosk over a folder: says when its first frame is drawn, and when Home is.
pub fn first_frame(folder: &str) {
    without_display();
    let window = KioskWindow::new().expect("a window");
    window.component().show().expect("shown");
    let mut picture = Picture::of_newest();
    let config = Config::load(None).expect("the defaults");
    let place = Place::new(Path::new(folder), &config);
    let clock: Arc<dyn Clock> = Arc::new(SystemClock::new());
    let (send, screens) = mpsc::channel();
    let kiosk = Kiosk::start(
        move || open_bench(&place, &clock, config, Settings::default()),
        move |screen| {
            let _ = send.send(screen);
        },
    );
    window.show_screen(&Screen::default());
    picture.draw();
    println!("frame");
    for screen in screens {
        window.show_screen(&screen);
        picture.draw();
        if matches!(screen.body, Body::Home(_)) {
            println!("home");
            break;
        }
        assert!(!matches!(screen.body, Body::Fault(_)), "{:?}", screen.body);
    }
    drop(kiosk);
}

pub fn empty_first_frame() {
    without_display();
    let window = Empty::new().expect("a window");
    window.show().expect("shown");
    Picture::of_newest().draw();
    println!("frame");
}

/// On the display that the environment names, until it is killed.
pub fn run_empty_window() {
    Empty::new().expect("a window").run().expect("shown");
}

fn x_server() -> Option<(Running, String)> {
    let mut server = Command::new("Xvfb");
    server.args(["-displayfd", "1", "-screen", "0", "1280x800x24", "-nolisten", "tcp"]);
    let mut child = server.stdout(Stdio::piped()).stderr(Stdio::null()).spawn().ok()?;
    let mut number = String::new();
    BufReader::new(child.stdout.take()?).read_line(&mut number).ok()?;
    Some((Running(child), format!(":{}", number.trim())))
}

/// What a process takes while nothing happens: percent of a core, and megabytes that are resident.
fn idle(command: &mut Command) -> Option<(f64, f64)> {
    let child = Running(command.stdout(Stdio::null()).stderr(Stdio::null()).spawn().ok()?);
    std::thread::sleep(SETTLED);
    let before = processor_time(child.0.id())?;
    std::thread::sleep(WATCHED);
    let used = processor_time(child.0.id())? - before;
    let status = std::fs::read_to_string(format!("/proc/{}/status", child.0.id())).ok()?;
    let resident = status.lines().find_map(|line| line.strip_prefix("VmRSS:"))?;
    let kilobytes: f64 = resident.trim().trim_end_matches("kB").trim().parse().ok()?;
    Some((used / WATCHED.as_secs_f64() * 100.0, kilobytes / 1000.0))
}

/// Seconds of all its threads, from the scheduler's own account: its clock ticks are too coarse for a hundredth.
fn processor_time(id: u32) -> Option<f64> {
    let threads = std::fs::read_dir(format!("/proc/{id}/task")).ok()?;
    let nanoseconds = threads.flatten().filter_map(|thread| {
        let account = std::fs::read_to_string(thread.path().join("schedstat")).ok()?;
        account.split_whitespace().next()?.parse::<f64>().ok()
    });
    Some(nanoseconds.sum::<f64>() / 1e9)
}

pub fn measure_idle() {
    let Some((_server, display)) = x_server() else {
        println!("idle processor use and memory: not measured, there is no Xvfb here");
        return;
    };
    let folder = long_journal();
    let mut kiosk = Command::new(env!("CARGO_BIN_EXE_sparkout"));
    kiosk.arg("demo").arg("--data").arg(&folder).env("DISPLAY", &display);
    let ours = idle(&mut kiosk);
    let empty = idle(itself().arg("empty-window").env("DISPLAY", &display));
    let (Some(ours), Some(empty)) = (ours, empty) else {
        println!("idle processor use and memory: not measured, a process did not stay or /proc is not there");
        return;
    };
    report("idle processor use, on an X server", ours.0, empty.0, "%", Some(1.0));
    report("resident memory, on an X server", ours.1, empty.1, "MB", Some(150.0));
}
