//! What the hub's tests share: a hub's process, a bench with its journal, and a plain HTTP client that can misbehave.

use crate::rehearsing::{Ended, program, sparkout};
use rusqlite::Connection;
use sparkout::store::{self, NewEntry, Record, SqliteRecord};
use std::io::{BufRead, BufReader, Read, Write};
use std::net::{TcpListener, TcpStream};
use std::path::{Path, PathBuf};
use std::process::{Child, Stdio};
use std::time::{Duration, Instant};
use tempfile::TempDir;

/// A hub's process. Dropping it kills it, as a power cut would.
pub struct Hub {
    pub child: Child,
    pub folder: PathBuf,
    /// Host and port.
    pub address: String,
    pub fingerprint: String,
}

impl Hub {
    pub fn start(folder: &Path, listen: &str) -> Self {
        let arguments = ["hub", "--listen", listen, "--data"];
        let mut child = program().args(arguments).arg(folder).stdout(Stdio::piped()).spawn().unwrap();
        let mut lines = BufReader::new(child.stdout.take().unwrap()).lines();
        let mut value = |name: &str| {
            let line = lines.next().unwrap_or_else(|| panic!("the hub ended")).unwrap();
            line.strip_prefix(name).unwrap_or_else(|| panic!("{line:?}")).to_owned()
        };
        let url = value("listening: ");
        let address = url.split_once("://").unwrap().1.to_owned();
        Self { child, folder: folder.to_owned(), address, fingerprint: value("fingerprint: ") }
    }

    pub fn code(&self) -> String {
        let told = at_desk(&self.folder, &["code"]);
        told.out.lines().find_map(|line| line.strip_prefix("code: ")).unwrap().to_owned()
    }

    pub fn url(&self) -> String {
        format!("http://{}", self.address)
    }

    /// Without a token.
    pub fn get(&self, path: &str) -> (u16, String) {
        call(&self.address, "GET", path, None, "")
    }

    /// Every stored entry of a station, in order, as the file has it.
    pub fn stored(&self, station: &str) -> Vec<Vec<u8>> {
        let connection = Connection::open(self.folder.join("hub.db")).unwrap();
        let mut statement = connection.prepare("SELECT bytes FROM event WHERE station = ?1 ORDER BY seq").unwrap();
        statement.query_map([station], |row| row.get(0)).unwrap().map(Result::unwrap).collect()
    }

    /// Told to stop, and how it ended.
    pub fn stop(&mut self) -> Option<i32> {
        let pid = self.child.id().to_string();
        assert!(std::process::Command::new("kill").arg(&pid).status().unwrap().success());
        let begun = Instant::now();
        loop {
            if let Some(ended) = self.child.try_wait().unwrap() {
                return ended.code();
            }
            assert!(begun.elapsed() < Duration::from_secs(9), "the hub does not stop");
            std::thread::sleep(Duration::from_millis(20));
        }
    }
}

impl Drop for Hub {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// What is done at a hub's folder.
pub fn at_desk(folder: &Path, words: &[&str]) -> Ended {
    let ended: Ended = program().arg("hub").arg("--data").arg(folder).args(words).output().unwrap().into();
    assert_eq!(ended.code, Some(0), "{}", ended.err);
    ended
}

/// A port of this machine's own that nobody listens on.
pub fn free_port() -> u16 {
    TcpListener::bind("127.0.0.1:0").unwrap().local_addr().unwrap().port()
}

/// A kiosk's folder with its journal open, as the bench has it.
pub struct Bench {
    pub folder: TempDir,
    pub record: SqliteRecord,
}

impl Bench {
    pub fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let record = store::open(folder.path()).unwrap();
        Self { folder, record }
    }

    pub fn path(&self) -> &Path {
        self.folder.path()
    }

    pub fn station(&self) -> String {
        self.record.station().station.clone()
    }

    pub fn incarnation(&self) -> String {
        self.record.station().incarnation.clone()
    }

    /// So many entries more, each as a kiosk writes it, ten to a transaction.
    pub fn work(&mut self, entries: usize) {
        let begins = self.record.head().unwrap().size as usize;
        let all: Vec<NewEntry> = (begins..begins + entries).map(entry).collect();
        for some in all.chunks(10) {
            self.record.append(some, &[]).unwrap();
        }
    }

    pub fn journal(&self) -> Vec<Vec<u8>> {
        self.record.entries(1, usize::MAX).unwrap().into_iter().map(|(_, bytes)| bytes).collect()
    }

    pub fn pair(&self, hub: &Hub) {
        let ended = pair(self.path(), &hub.url(), &hub.code(), None);
        assert_eq!(ended.code, Some(0), "{}", ended.err);
    }

    pub fn token(&self) -> String {
        let connection = Connection::open(self.path().join("link.db")).unwrap();
        connection.query_row("SELECT token FROM hub", [], |row| row.get(0)).unwrap()
    }

    /// What it has heard of the others.
    pub fn heard(&self) -> Vec<Vec<u8>> {
        let connection = Connection::open(self.path().join("link.db")).unwrap();
        connection.busy_timeout(Duration::from_secs(5)).unwrap();
        let mut statement = connection.prepare("SELECT bytes FROM heard ORDER BY place").unwrap();
        statement.query_map([], |row| row.get(0)).unwrap().map(Result::unwrap).collect()
    }
}

fn entry(number: usize) -> NewEntry {
    let at = format!(r#"{{"wall":"2026-05-14T09:30:00Z","monotonic_ms":{number},"boot":"b"}}"#);
    let bytes = format!(r#"{{"at":{at},"body":{{"kind":"started","version":"test"}}}}"#).into_bytes();
    NewEntry { visit: None, bytes }
}

pub fn pair(folder: &Path, hub: &str, code: &str, fingerprint: Option<&str>) -> Ended {
    let folder = folder.to_str().unwrap();
    let mut arguments = vec!["pair", "--data", folder, "--hub", hub, "--code", code, "--name", "Bench 1"];
    arguments.extend(fingerprint.iter().flat_map(|fingerprint| ["--fingerprint", fingerprint]));
    sparkout(arguments)
}

pub fn wait_until(what: &str, most: Duration, mut so: impl FnMut() -> bool) {
    let begun = Instant::now();
    while !so() {
        assert!(begun.elapsed() < most, "{what}");
        std::thread::sleep(Duration::from_millis(20));
    }
}

/// One request and its answer: the status and the body.
pub fn call(address: &str, method: &str, path: &str, token: Option<&str>, body: &str) -> (u16, String) {
    let token = token.map_or_else(String::new, |token| format!("Authorization: Bearer {token}\r\n"));
    let length = body.len();
    let head = format!(
        "{method} {path} HTTP/1.1\r\nHost: hub\r\nConnection: close\r\n{token}Content-Type: application/json\r\n\
         Content-Length: {length}\r\n\r\n"
    );
    let mut stream = TcpStream::connect(address).unwrap();
    stream.set_read_timeout(Some(Duration::from_secs(40))).unwrap();
    stream.write_all(head.as_bytes()).unwrap();
    // A hub that refuses a long body by its head does not read it.
    let _ = stream.write_all(body.as_bytes());
    answer(&mut stream)
}

/// Reads to the end; an answer that never came is status 0.
pub fn answer(stream: &mut TcpStream) -> (u16, String) {
    let mut bytes = Vec::new();
    let _ = stream.read_to_end(&mut bytes);
    let text = String::from_utf8_lossy(&bytes).into_owned();
    let status = text.split(' ').nth(1).and_then(|status| status.parse().ok()).unwrap_or(0);
    let body = text.split_once("\r\n\r\n").map_or(String::new(), |(_, body)| body.to_owned());
    (status, body)
}
