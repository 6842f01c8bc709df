//! `sparkout journal`: what an inspector runs, on a running kiosk's file or on a copy of it.

use super::read_only::{ReadOnlyJournal, Unreadable};
use super::verify::{self, Report};
use super::{OpenFailure, Record as _, StoreError, open};
use clap::{Args, Subcommand, ValueEnum};
use data_encoding::BASE64;
use serde::de::IgnoredAny;
use sparkout_core::journal::{SignedCheckpoint, merkle};
use std::io::{self, BufWriter, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use thiserror::Error;

const FAILS: u8 = 1;
const UNREADABLE: u8 = 2;
/// How often a file that is opened or closed under our hands is read again.
const TRIES: usize = 3;

/// Prove and export the journal, which only reads; and work out again what is derived from it.
#[derive(Debug, Args)]
pub struct JournalCommand {
    #[command(subcommand)]
    action: Action,
}

#[derive(Debug, Subcommand)]
enum Action {
    /// Prove that no entry was changed, dropped, reordered or cut from the end; names the first that fails.
    ///
    /// Exit status: 0 verified, 1 fails verification, 2 cannot be read.
    Verify {
        /// The kiosk's database file; a running kiosk's too.
        #[arg(long, value_name = "FILE")]
        database: PathBuf,
        /// A signed head that was kept elsewhere; without it a cut at an older head cannot be seen.
        #[arg(long, value_name = "FILE")]
        checkpoint: Option<PathBuf>,
    },
    /// Write every entry with its number and its hash to standard output.
    ///
    /// An entry that is JSON on one line stands there byte for byte, so that its hash can be computed from the
    /// export; any other stands in base64. Exit status: 0 written, 2 cannot be read or written.
    Export {
        /// The kiosk's database file; a running kiosk's too.
        #[arg(long, value_name = "FILE")]
        database: PathBuf,
        /// One object a line, or one array.
        #[arg(long, value_enum, default_value_t = Format::Jsonl)]
        format: Format,
    },
    /// Work out unit cards, history and open visits again from the journal, in the place of those kept beside it.
    ///
    /// The journal itself is not touched. Refused while a kiosk runs on the folder. Exit status: 0 done, 2 not.
    Rebuild {
        /// The folder of the kiosk's journal.
        #[arg(long, value_name = "DIR")]
        data: PathBuf,
    },
}

/// The form of an export.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Format {
    /// JSON Lines.
    Jsonl,
    /// One JSON array.
    Json,
}

#[derive(Debug, Error)]
enum CommandError {
    #[error(transparent)]
    Unreadable(#[from] Unreadable),
    #[error("{}: {error}", file.display())]
    Checkpoint { file: PathBuf, error: io::Error },
    #[error("{}: {error}", file.display())]
    Note { file: PathBuf, error: sparkout_core::journal::checkpoint::NoteError },
    #[error("{} holds no journal", folder.display())]
    NoJournal { folder: PathBuf },
    #[error("{0}")]
    Open(#[from] OpenFailure),
    #[error("{0} ({detail})", detail = .0.detail())]
    Store(#[from] StoreError),
    #[error("standard output: {0}")]
    Output(#[from] io::Error),
}

impl JournalCommand {
    /// Runs it, with the exit status that its help tells.
    pub fn run(self) -> ExitCode {
        let mut out = BufWriter::new(io::stdout().lock());
        let done = match self.action {
            Action::Verify { database, checkpoint } => run_verify(&database, checkpoint.as_deref(), &mut out),
            Action::Export { database, format } => run_export(&database, format, &mut out).map(|()| ExitCode::SUCCESS),
            Action::Rebuild { data } => run_rebuild(&data, &mut out).map(|()| ExitCode::SUCCESS),
        };
        match done.and_then(|code| out.flush().map(|()| code).map_err(CommandError::from)) {
            Ok(code) => code,
            // Whoever reads has read enough.
            Err(CommandError::Output(error)) if error.kind() == io::ErrorKind::BrokenPipe => ExitCode::SUCCESS,
            Err(error) => {
                eprintln!("sparkout journal: {error}");
                ExitCode::from(UNREADABLE)
            }
        }
    }
}

fn run_verify(database: &Path, checkpoint: Option<&Path>, out: &mut impl Write) -> Result<ExitCode, CommandError> {
    let elsewhere = checkpoint.map(read_checkpoint).transpose()?;
    let report = steady(database, |journal| verify::verify(journal, elsewhere.as_ref()))?;
    tell(&report, database, elsewhere.is_some(), out)?;
    Ok(if report.findings.is_empty() { ExitCode::SUCCESS } else { ExitCode::from(FAILS) })
}

/// Reads until nothing was opened or closed in between.
fn steady<T>(
    database: &Path,
    mut read: impl FnMut(&ReadOnlyJournal) -> Result<T, Unreadable>,
) -> Result<T, Unreadable> {
    for _ in 0..TRIES {
        let journal = ReadOnlyJournal::open(database)?;
        let found = read(&journal);
        if journal.is_undisturbed() {
            return found;
        }
    }
    Err(Unreadable::Disturbed { file: database.to_owned() })
}

fn read_checkpoint(file: &Path) -> Result<SignedCheckpoint, CommandError> {
    let read = std::fs::read_to_string(file);
    let text = read.map_err(|error| CommandError::Checkpoint { file: file.to_owned(), error })?;
    SignedCheckpoint::parse(&text).map_err(|error| CommandError::Note { file: file.to_owned(), error })
}

fn tell(report: &Report, database: &Path, has_checkpoint: bool, out: &mut impl Write) -> io::Result<()> {
    let Report { origin, key_id, size, root, heads, vouched, altered, findings } = report;
    writeln!(out, "journal   {}", database.display())?;
    writeln!(out, "log       {origin}, key {key_id}")?;
    writeln!(out, "entries   {size}")?;
    writeln!(out, "root      {} (short), {root}", root.short())?;
    writeln!(out, "heads     {heads} signed, root and signature hold")?;
    if !altered.is_empty() {
        writeln!(out, "guards    NOTICE: not as this program makes them: {}", altered.join(", "))?;
    }
    if findings.is_empty() {
        writeln!(out, "verified  every entry is as it was signed, none is missing in between")?;
        return tell_limits(*size, *vouched, out);
    }
    for finding in findings {
        writeln!(out, "FAILS     {finding}")?;
    }
    if has_checkpoint && let Some(vouched) = vouched {
        writeln!(out, "vouched   entries 1 to {vouched} are those of the checkpoint kept elsewhere")?;
    }
    Ok(())
}

/// What the proof does not cover: an inspector who is not told takes it for more than it is.
fn tell_limits(size: u64, vouched: Option<u64>, out: &mut impl Write) -> io::Result<()> {
    let alone = "whoever holds the station's key could have written them anew, and a cut back to an older signed head \
                 does not show";
    match vouched {
        None => writeln!(out, "unproved  no checkpoint kept elsewhere was given: {alone}"),
        Some(vouched) if vouched < size => {
            writeln!(out, "vouched   entries 1 to {vouched}, by the checkpoint kept elsewhere")?;
            writeln!(out, "unproved  {}, which came after it: {alone}", verify::span(vouched + 1, size))
        }
        Some(vouched) => {
            writeln!(out, "vouched   entries 1 to {vouched}, by the checkpoint kept elsewhere")?;
            writeln!(out, "unproved  entries that were cut off after entry {vouched}, if there were any")
        }
    }
}

fn run_export(database: &Path, format: Format, out: &mut impl Write) -> Result<(), CommandError> {
    let journal = ReadOnlyJournal::open(database)?;
    let fault = |error| CommandError::from(journal.unreadable(error));
    let mut statement = journal.connection().prepare("SELECT seq, leaf FROM journal ORDER BY seq").map_err(fault)?;
    let mut rows = statement.query([]).map_err(fault)?;
    let (open, between, close) = match format {
        Format::Jsonl => ("", "\n", "\n"),
        Format::Json => ("[\n", ",\n", "\n]\n"),
    };
    write!(out, "{open}")?;
    let mut is_first = true;
    while let Some(row) = rows.next().map_err(fault)? {
        let seq: i64 = row.get(0).map_err(fault)?;
        let leaf: Vec<u8> = row.get(1).map_err(fault)?;
        if !is_first {
            write!(out, "{between}")?;
        }
        is_first = false;
        write!(out, "{{\"seq\":{seq},\"leaf_hash\":\"{}\",", merkle::leaf_hash(&leaf))?;
        write_entry(&leaf, out)?;
    }
    if format == Format::Json || !is_first {
        write!(out, "{close}")?;
    }
    if journal.is_undisturbed() { Ok(()) } else { Err(Unreadable::Disturbed { file: database.to_owned() }.into()) }
}

fn run_rebuild(folder: &Path, out: &mut impl Write) -> Result<(), CommandError> {
    if !folder.join(open::DATABASE).exists() {
        return Err(CommandError::NoJournal { folder: folder.to_owned() });
    }
    let mut disk = open::open(folder)?;
    // What is derived from a damaged journal would be believed.
    disk.check()?;
    let entries = crate::kiosk::rebuild(&mut disk)?;
    writeln!(out, "rebuilt   from {entries} entries")?;
    Ok(())
}

fn write_entry(leaf: &[u8], out: &mut impl Write) -> io::Result<()> {
    let is_one_line = !leaf.iter().any(|byte| matches!(byte, b'\n' | b'\r'));
    // As text first: what serde_json skips over it does not look at.
    let is_json = std::str::from_utf8(leaf).is_ok_and(|text| serde_json::from_str::<IgnoredAny>(text).is_ok());
    if is_one_line && is_json {
        out.write_all(b"\"entry\":")?;
        out.write_all(leaf)?;
        out.write_all(b"}")
    } else {
        write!(out, "\"entry_base64\":\"{}\"}}", BASE64.encode(leaf))
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
    use super::*;
    use crate::store::tests::{entry, filled};
    use crate::store::{NewEntry, Record};

    fn told(database: &Path, checkpoint: Option<&Path>) -> (bool, String) {
        let mut out = Vec::new();
        let code = run_verify(database, checkpoint, &mut out).unwrap();
        // ExitCode tells no number; its text does.
        (format!("{code:?}") == format!("{:?}", ExitCode::SUCCESS), String::from_utf8(out).unwrap())
    }

    #[test]
    fn verified_with_its_limits() {
        let (folder, mut record) = filled(4);
        let (file, kept) = (folder.path().join("kiosk.db"), folder.path().join("kept.txt"));
        let head = record.head().unwrap();
        std::fs::write(&kept, &head.note).unwrap();
        let (is_verified, text) = told(&file, None);
        assert!(is_verified && text.contains("entries   4\n") && text.contains(&head.root.short()), "{text}");
        assert!(text.contains("unproved  no checkpoint kept elsewhere was given"), "{text}");
        record.append(&[entry("5")], &[]).unwrap();
        let (is_verified, text) = told(&file, Some(&kept));
        assert!(is_verified && text.contains("vouched   entries 1 to 4"), "{text}");
        assert!(text.contains("unproved  entry 5, which came after it"), "{text}");
    }

    #[test]
    fn fails_with_the_entry() {
        let (folder, record) = filled(4);
        drop(record);
        let file = folder.path().join("kiosk.db");
        let change = "DROP TRIGGER journal_never_changes; UPDATE journal SET leaf = x'00' WHERE seq = 2";
        rusqlite::Connection::open(&file).unwrap().execute_batch(change).unwrap();
        let (is_verified, text) = told(&file, None);
        assert!(!is_verified && text.contains("FAILS     entry 2 was changed"), "{text}");
        assert!(text.contains("NOTICE") && !text.contains("verified"), "{text}");
    }

    #[test]
    fn what_cannot_be_read_is_told_apart() {
        let (folder, record) = filled(1);
        drop(record);
        let file = folder.path().join("kiosk.db");
        let mut out = Vec::new();
        let missing = run_verify(&folder.path().join("none.db"), None, &mut out);
        assert!(matches!(missing, Err(CommandError::Unreadable(Unreadable::File { .. }))));
        let note = run_verify(&file, Some(&file), &mut out);
        assert!(matches!(note, Err(CommandError::Checkpoint { .. } | CommandError::Note { .. })));
        std::fs::write(folder.path().join("note"), "nothing\n\n").unwrap();
        let note = run_verify(&file, Some(&folder.path().join("note")), &mut out);
        assert!(matches!(note, Err(CommandError::Note { .. })));
    }

    #[test]
    fn exported_bytes_hash_to_the_leaf() {
        let (folder, mut record) = filled(0);
        let leaves: [&[u8]; 5] =
            [br#"{ "b":1, "a" : 2.50 }"#, b"not json", b"{\"a\":\n1}", b"\"\xff\"", "\"é\u{2028}\"".as_bytes()];
        let entries: Vec<NewEntry> = leaves.iter().map(|leaf| NewEntry { visit: None, bytes: leaf.to_vec() }).collect();
        record.append(&entries, &[]).unwrap();
        let mut out = Vec::new();
        run_export(&folder.path().join("kiosk.db"), Format::Jsonl, &mut out).unwrap();
        let text = String::from_utf8(out).unwrap();
        assert_eq!(text.matches('\n').count(), leaves.len());
        for ((line, leaf), is_json) in text.lines().zip(leaves).zip([true, false, false, false, true]) {
            let value: serde_json::Value = serde_json::from_str(line).unwrap();
            assert_eq!(value["leaf_hash"], merkle::leaf_hash(leaf).to_string());
            let bytes = if is_json {
                line.split_once("\"entry\":").unwrap().1.strip_suffix('}').unwrap().as_bytes().to_vec()
            } else {
                BASE64.decode(value["entry_base64"].as_str().unwrap().as_bytes()).unwrap()
            };
            assert_eq!(bytes, leaf);
        }
        let mut out = Vec::new();
        run_export(&folder.path().join("kiosk.db"), Format::Json, &mut out).unwrap();
        let all: Vec<serde_json::Value> = serde_json::from_slice(&out).unwrap();
        assert_eq!(all.len(), leaves.len());
    }

    #[test]
    fn an_empty_journal_exports_nothing() {
        let (folder, _record) = filled(0);
        for (format, wanted) in [(Format::Jsonl, ""), (Format::Json, "[\n\n]\n")] {
            let mut out = Vec::new();
            run_export(&folder.path().join("kiosk.db"), format, &mut out).unwrap();
            assert_eq!(String::from_utf8(out).unwrap(), wanted);
        }
    }
}
