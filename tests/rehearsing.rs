//! What the outermost tests share: a folder, the real binary, and rehearsals on it.
#![allow(clippy::expect_used, clippy::panic)]

use std::ffi::OsStr;
use std::io::{BufRead, BufReader, Write};
use std::net::TcpListener;
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStdin, ChildStdout, Command, Output, Stdio};
use std::time::{Duration, Instant};
use tempfile::TempDir;

/// How the binary ended and what it wrote.
pub struct Ended {
    pub code: Option<i32>,
    pub out: String,
    pub err: String,
}

impl From<Output> for Ended {
    fn from(output: Output) -> Self {
        let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
        Self { code: output.status.code(), out: text(&output.stdout), err: text(&output.stderr) }
    }
}

/// The binary under test, quiet.
pub fn program() -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_sparkout"));
    command.env("SPARKOUT_LOG", "off");
    command
}

/// Runs the binary with these arguments.
pub fn sparkout<S: AsRef<OsStr>>(arguments: impl IntoIterator<Item = S>) -> Ended {
    program().args(arguments).output().expect("the program starts").into()
}

/// A kiosk's folder that outlives single rehearsals.
pub struct Stand {
    folder: TempDir,
}

impl Stand {
    /// A folder for a kiosk that has not started yet.
    pub fn new() -> Self {
        Self { folder: tempfile::tempdir().expect("a temporary folder") }
    }

    /// The kiosk's folder.
    pub fn data(&self) -> PathBuf {
        self.folder.path().join("data")
    }

    /// The journal's file.
    pub fn database(&self) -> PathBuf {
        self.data().join("kiosk.db")
    }

    /// A path beside the kiosk's folder.
    pub fn beside(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    /// A rehearsal of these lines on this folder, not yet started.
    pub fn command(&self, lines: &str) -> Vec<String> {
        let script = self.beside("script.rehearse");
        std::fs::write(&script, lines).expect("the folder takes files");
        self.arguments(&script)
    }

    fn arguments(&self, script: &Path) -> Vec<String> {
        let text = |path: &Path| path.display().to_string();
        let (data, shots) = (text(&self.data()), text(&self.beside("shots")));
        let mut arguments = ["rehearse", &text(script), "--data", &data, "--shots", &shots].map(String::from).to_vec();
        // A script of a kiosk with nothing on record says so in its name.
        let name = script.file_name().and_then(OsStr::to_str).unwrap_or_default();
        arguments.extend(name.starts_with("empty-").then(|| "--empty".to_owned()));
        // A configuration stands beside the script that needs one, under the same name.
        let config = Some(script.with_extension("toml")).filter(|config| config.exists());
        arguments.extend(config.map(|config| format!("--config={}", text(&config))));
        arguments
    }

    /// Plays these lines, which must all go as they say.
    pub fn play(&self, lines: &str) {
        let ended = sparkout(self.command(lines));
        assert_eq!(ended.code, Some(0), "{}", ended.err);
    }

    /// Plays a script of a file, which must go as it says.
    pub fn play_file(&self, script: &Path) {
        let ended = sparkout(self.arguments(script));
        assert_eq!(ended.code, Some(0), "{}", ended.err);
    }

    /// What `journal verify` says of the file.
    pub fn verify(&self) -> Ended {
        verify(&self.database())
    }

    /// The entries, oldest first.
    pub fn entries(&self) -> Vec<serde_json::Value> {
        let ended =
            sparkout([OsStr::new("journal"), "export".as_ref(), "--database".as_ref(), self.database().as_ref()]);
        assert_eq!(ended.code, Some(0), "{}", ended.err);
        let entry = |line: &str| {
            let numbered: serde_json::Value = serde_json::from_str(line).expect("JSON on every line");
            numbered["entry"].clone()
        };
        ended.out.lines().map(entry).collect()
    }

    /// The names of the events of visits, oldest first.
    pub fn events(&self) -> Vec<String> {
        let entries = self.entries();
        let name = |entry: &serde_json::Value| entry["body"]["event"]["event"].as_str().map(str::to_owned);
        entries.iter().filter_map(name).collect()
    }
}

/// What `journal verify` says of a file.
pub fn verify(database: &Path) -> Ended {
    sparkout([OsStr::new("journal"), "verify".as_ref(), "--database".as_ref(), database.as_ref()])
}

/// A kiosk's process that is driven line by line, for what a script cannot decide beforehand. Dropping it kills it.
pub struct Kiosk {
    child: Child,
    lines: ChildStdin,
    answers: BufReader<ChildStdout>,
}

impl Kiosk {
    /// Starts one on a folder, with a limit on how large a file may grow if one is given, in blocks of 512 bytes.
    pub fn start(stand: &Stand, blocks_most: Option<u64>) -> Self {
        Self::start_with(stand, blocks_most, &[])
    }

    /// The same with more options.
    pub fn start_with(stand: &Stand, blocks_most: Option<u64>, options: &[&OsStr]) -> Self {
        let limit = blocks_most.map_or_else(String::new, |blocks| format!("trap '' XFSZ; ulimit -f {blocks}; "));
        let mut child = Command::new("sh")
            // dash counts blocks of 512 bytes, other shells of 1024; POSIX says 512.
            .args(["-c", &format!("{limit}exec \"$@\""), "sh", env!("CARGO_BIN_EXE_sparkout"), "rehearse-stage"])
            .args(["--begins", "2026-05-14T09:30:00Z", "--data"])
            .arg(stand.data())
            .arg("--shots")
            .arg(stand.beside("shots"))
            .args(options)
            .env("SPARKOUT_LOG", "off")
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .expect("a shell starts the program");
        let lines = child.stdin.take().expect("its input is open");
        let answers = BufReader::new(child.stdout.take().expect("its output is open"));
        Self { child, lines, answers }
    }

    /// Does one line; the error says what was on the screen.
    pub fn try_line(&mut self, line: &str) -> Result<(), String> {
        writeln!(self.lines, "{line}").expect("the kiosk takes lines");
        let mut answer = String::new();
        self.answers.read_line(&mut answer).expect("the kiosk answers");
        if answer.starts_with("done") { Ok(()) } else { Err(answer) }
    }

    /// Waits in real time until a text stands on the screen; the script's clock moves by `moved` at every look.
    pub fn until(&mut self, text: &str, moved: &str, most: Duration) {
        let begun = Instant::now();
        loop {
            self.play(&format!("later {moved}"));
            match self.try_line(&format!("expect {text}")) {
                Ok(()) => return,
                Err(answer) => assert!(begun.elapsed() < most, "{text}: {answer}"),
            }
            std::thread::sleep(Duration::from_millis(50));
        }
    }

    /// Does these lines, which must all go as they say.
    pub fn play(&mut self, lines: &str) {
        for line in lines.lines().map(str::trim).filter(|line| !line.is_empty() && !line.starts_with('#')) {
            if let Err(answer) = self.try_line(line) {
                panic!("{line}: {answer}");
            }
        }
    }
}

impl Drop for Kiosk {
    fn drop(&mut self) {
        // It may have ended by itself.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// A port that nobody listens on now.
pub fn free_port() -> u16 {
    let listener = TcpListener::bind(("127.0.0.1", 0)).expect("a port");
    listener.local_addr().expect("its address").port()
}
