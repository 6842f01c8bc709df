//! The guard's and the stop's switches, read by the real kiosk from a Modbus server that is not ours: `modbus/module.py`.
//! The module is read in real time; the kiosk's own clock is the rehearsal's.
#![allow(clippy::expect_used, clippy::panic)]

use crate::rehearsing::{Kiosk, Stand, free_port};
use std::ffi::OsStr;
use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};
use std::time::{Duration, Instant};

/// The server's process. Dropping it kills it, as a power cut would.
struct Module {
    child: Child,
    lines: ChildStdin,
    answers: BufReader<ChildStdout>,
}

impl Module {
    fn start(port: u16) -> Self {
        let script = Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/../tests/modbus/module.py"));
        let python = Path::new(env!("CARGO_TARGET_TMPDIR")).with_file_name("crosscheck").join("bin/python");
        assert!(python.exists(), "{} is missing: tests/run.sh installs it, which this check needs", python.display());
        let mut child = Command::new(python)
            .arg("-B")
            .arg(script)
            .arg(port.to_string())
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .expect("Python starts");
        let lines = child.stdin.take().expect("its input is open");
        let answers = BufReader::new(child.stdout.take().expect("its output is open"));
        let mut module = Self { child, lines, answers };
        assert_eq!(module.answer(), "ready");
        module
    }

    fn answer(&mut self) -> String {
        let mut answer = String::new();
        self.answers.read_line(&mut answer).expect("the module answers");
        answer.trim_end().to_owned()
    }

    fn ask(&mut self, line: &str) -> String {
        writeln!(self.lines, "{line}").expect("the module takes lines");
        self.answer()
    }

    /// Guard closed or not, stop released or not.
    fn set(&mut self, guard: bool, stop: bool) {
        assert_eq!(self.ask(&format!("set {} {}", u8::from(guard), u8::from(stop))), "set");
    }

    /// What it was asked: reading discrete inputs (function 02), and nothing else.
    fn was_only_read(&mut self) {
        let asked = self.ask("asked");
        let times = asked.strip_prefix("2:").and_then(|times| times.parse::<u32>().ok());
        assert!(times.is_some_and(|times| times > 0), "{asked}");
    }

    /// Holds its connections and answers nothing, or goes on.
    fn signal(&self, name: &str) {
        let sent = Command::new("kill").arg(format!("-{name}")).arg(self.child.id().to_string()).status();
        assert!(sent.expect("kill starts").success());
    }
}

impl Drop for Module {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

fn kiosk(stand: &Stand, port: u16) -> Kiosk {
    let config = stand.beside("own.toml");
    std::fs::write(&config, format!("[inputs]\naddress = \"127.0.0.1\"\nport = {port}\n")).expect("a file");
    Kiosk::start_with(stand, None, &[OsStr::new("--config"), config.as_os_str()])
}

/// Waits in real time until a text stands on the screen.
fn until(kiosk: &mut Kiosk, text: &str) {
    kiosk.until(text, "1s", Duration::from_secs(15));
}

/// That a text stays on the screen for so long in real time.
fn stays(kiosk: &mut Kiosk, text: &str, time: Duration) {
    let begun = Instant::now();
    while begun.elapsed() < time {
        kiosk.play(&format!("later 1s\nexpect {text}"));
        std::thread::sleep(Duration::from_millis(50));
    }
}

const TO_THE_GATE: &str = "scan SPKB41042A
scan Q-114
press Reel bearings
press Rollers
press Blades and spiders
press To Tape
hold Power is off and was tried
enter 5.020
enter 5.000
press To Front
hold Power is off and was tried
press Zero set
enter 20.0
press To Rear
hold Power is off and was tried
enter 0
enter 0.5
press To Clearance";

fn check_all(kiosk: &mut Kiosk) {
    // More items than any list has here; the one after the last finds nothing to hold.
    for _ in 0..10 {
        if kiosk.try_line("hold I have checked it").is_err() {
            break;
        }
    }
    kiosk.play("expect Start the grind");
}

/// After a fault: nothing has begun, and the list begins at its first item.
fn recovers(kiosk: &mut Kiosk) {
    until(kiosk, "Guard closed");
    kiosk.play("later 30s\nexpect item 1 of 5");
    assert!(kiosk.try_line("press Pass done").is_err(), "a pass could be counted");
    check_all(kiosk);
}

#[test]
fn a_guard_is_watched_through_glitch_open_stale_disconnect_and_recovery() {
    let stand = Stand::new();
    stand.play("expect Scan a unit’s tag");
    let port = free_port();
    let mut kiosk = kiosk(&stand, port);
    // Nobody there yet: shown, and nothing is acknowledged.
    until(&mut kiosk, "Guard: no link");
    kiosk.play(TO_THE_GATE);
    kiosk.play("hold I have checked it\nrefused No link to the guard and stop switches\nexpect item 1 of 6");
    let mut module = Module::start(port);
    // Its bits are 0, as those of a broken wire.
    until(&mut kiosk, "Guard open");
    kiosk.play("hold I have checked it\nrefused The guard switch says open");
    module.set(true, true);
    until(&mut kiosk, "Guard closed");
    check_all(&mut kiosk);

    // Opened; a rattle that closes for a moment does not close it.
    module.set(false, true);
    until(&mut kiosk, "The checklist lapsed: the guard was opened");
    kiosk.play("expect Guard open\nhold I have checked it\nrefused The guard switch says open");
    for _ in 0..3 {
        module.set(true, true);
        std::thread::sleep(Duration::from_millis(150));
        module.set(false, true);
        stays(&mut kiosk, "Guard open", Duration::from_millis(300));
    }
    module.set(true, true);
    recovers(&mut kiosk);

    // A glitch that opens for a moment ends the clearance all the same.
    module.set(false, true);
    std::thread::sleep(Duration::from_millis(250));
    module.set(true, true);
    until(&mut kiosk, "The checklist lapsed: the guard was opened");
    recovers(&mut kiosk);

    module.set(true, false);
    until(&mut kiosk, "The checklist lapsed: the stop was pressed");
    kiosk.play("expect Stop pressed");
    module.set(true, true);
    recovers(&mut kiosk);

    // It answers that it cannot say.
    assert_eq!(module.ask("refuse"), "set");
    until(&mut kiosk, "The checklist lapsed: guard and stop did not answer");
    kiosk.play("expect Guard: no answer\nhold I have checked it\nrefused The guard and stop switches do not answer");
    module.set(true, true);
    recovers(&mut kiosk);

    // It holds the connection and answers nothing; what it answers late counts for nothing by itself.
    module.signal("STOP");
    until(&mut kiosk, "The checklist lapsed: guard and stop did not answer");
    stays(&mut kiosk, "Guard: no answer", Duration::from_secs(2));
    module.signal("CONT");
    recovers(&mut kiosk);
    module.was_only_read();

    drop(module);
    until(&mut kiosk, "The checklist lapsed: no link to guard and stop");
    kiosk.play("expect Guard: no link\nhold I have checked it\nrefused No link to the guard and stop switches");
    let mut module = Module::start(port);
    module.set(true, true);
    recovers(&mut kiosk);

    // Under power.
    kiosk.play("hold Start the grind\nexpect Power on\npress Pass done\npress Pass done");
    module.set(false, true);
    until(&mut kiosk, "The checklist lapsed: the guard was opened");
    assert!(kiosk.try_line("press Pass done").is_err(), "a pass was counted with the guard open");
    module.set(true, true);
    recovers(&mut kiosk);
    kiosk.play("expect 2 passes were done before the interruption; they are kept.");
    module.was_only_read();
    drop(kiosk);
    check_journal(&stand);
}

/// Every end of a clearance with its cause, and the one under power as such.
fn check_journal(stand: &Stand) {
    let entries = stand.entries();
    let lapsed: Vec<&str> = entries
        .iter()
        .filter(|entry| entry["body"]["event"]["event"] == "lapsed")
        .filter_map(|entry| entry["body"]["event"]["reason"]["block"].as_str())
        .collect();
    let causes =
        ["guard_open", "guard_open", "stop_pressed", "inputs_stale", "inputs_stale", "inputs_lost", "guard_open"];
    assert_eq!(lapsed, causes);
    let inputs: Vec<_> = entries.iter().filter(|entry| entry["body"]["kind"] == "inputs").collect();
    for (guard, stop) in [("open", "released"), ("closed", "pressed"), ("stale", "stale"), ("lost", "lost")] {
        let seen = |entry: &&serde_json::Value| {
            entry["body"]["seen"]["guard"] == guard && entry["body"]["seen"]["stop"] == stop
        };
        assert!(inputs.iter().any(seen), "{guard}, {stop}: {inputs:#?}");
    }
    let under_power: Vec<_> = inputs.iter().filter(|entry| entry["body"]["turning"] == "grind").collect();
    assert_eq!(under_power.len(), 1, "{inputs:#?}");
    assert_eq!(under_power[0]["body"]["seen"]["guard"], "open");
    let verified = stand.verify();
    assert_eq!(verified.code, Some(0), "{}{}", verified.out, verified.err);
}
