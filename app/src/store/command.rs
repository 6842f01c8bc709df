//! `sparkout journal`: what an inspector runs, on a running kiosk's file or on a copy of it.

use super::days::{DayEnd, day_ends};
use super::export::{self, Wanted};
use super::prove::{self, NoProof, Proved};
use super::read_only::{ReadOnlyJournal, Unreadable, steady};
use super::restore::{NotRestored, Restored, restore};
use super::verify::span;
use super::verify::{self, Report};
use super::{OpenFailure, Record as _, StoreError, open};
use crate::clock::{Clock as _, SystemClock};
use crate::config::Config;
use crate::report::Days;
use clap::{Args, Subcommand};
use jiff::civil::Date;
use sparkout_core::journal::SignedCheckpoint;
use std::io::{self, BufWriter, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use thiserror::Error;

const FAILS: u8 = 1;
const UNREADABLE: u8 = 2;

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
    /// Write the journal: every entry with its hash, a table for a spreadsheet, or a safety record on paper.
    ///
    /// As jsonl and json an entry that is JSON on one line stands there byte for byte, so that its hash can be computed
    /// from the export; any other stands in base64. As csv and pdf there are lines for people: who, what, when, and what
    /// was out of the ordinary. A record is no safety device: local codes decide. Exit status: 0 written, 2 cannot be
    /// read or written.
    Export {
        /// The kiosk's database file; a running kiosk's too.
        #[arg(long, value_name = "FILE")]
        database: PathBuf,
        /// What is written.
        #[command(flatten)]
        wanted: Wanted,
    },
    /// Prove one entry to somebody who has only the log's key: writes a tlog-proof file and the entry's exact bytes.
    ///
    /// Prints the key's line, which whoever checks must have by another way. Exit status: 0 written, 2 not.
    Proof {
        /// The kiosk's database file; a running kiosk's too.
        #[arg(long, value_name = "FILE")]
        database: PathBuf,
        /// The entry's number, from 1.
        #[arg(long, value_name = "NUMBER")]
        entry: u64,
        /// Where entry-NUMBER.json and entry-NUMBER.tlog-proof are written.
        #[arg(long, value_name = "DIR")]
        out: PathBuf,
    },
    /// Check a proof file. Exit status: 0 proved, 1 not proved, 2 cannot be read.
    CheckProof {
        /// The tlog-proof file.
        #[arg(long, value_name = "FILE")]
        proof: PathBuf,
        /// The file with the entry's exact bytes.
        #[arg(long, value_name = "FILE")]
        entry: PathBuf,
        /// The log's key, as `journal proof` and `journal verify` print it.
        #[arg(long, value_name = "NAME+KEYID+BASE64")]
        key: String,
    },
    /// Print the short root of every day: how many entries there were at its end, to be held against the daily sheets.
    ///
    /// A day's line stays the same for ever. Days are the shop's, by the station's clock. Exit status: 0 printed, 2 not.
    Days {
        /// The kiosk's database file; a running kiosk's too.
        #[arg(long, value_name = "FILE")]
        database: PathBuf,
        /// The first day, as 2026-05-14.
        #[arg(long, value_name = "DATE")]
        from: Option<Date>,
        /// The last day.
        #[arg(long, value_name = "DATE")]
        to: Option<Date>,
        /// The kiosk's configuration, for the shop's time zone.
        #[arg(long, value_name = "FILE")]
        config: Option<PathBuf>,
    },
    /// Put a backup back, or let a cloned card go on: the journal becomes another log, which names the one it goes on from.
    ///
    /// What stands in the folder is set aside untouched. Refused while a kiosk runs on it, and for a file that fails
    /// verification. Exit status: 0 done, 2 not.
    Restore {
        /// The backup: a database file.
        #[arg(long, value_name = "FILE")]
        from: PathBuf,
        /// The folder of the kiosk's journal, with its key.
        #[arg(long, value_name = "DIR")]
        data: PathBuf,
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

#[derive(Debug, Error)]
pub(super) enum CommandError {
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
    #[error(transparent)]
    Proof(#[from] NoProof),
    #[error("{}: {error}", file.display())]
    File { file: PathBuf, error: io::Error },
    #[error("{}", format!("{:#}", .0).replace('\n', " "))]
    Report(anyhow::Error),
    #[error(transparent)]
    Restore(#[from] NotRestored),
    #[error("standard output: {0}")]
    Output(#[from] io::Error),
}

impl JournalCommand {
    /// Runs it, with the exit status that its help tells.
    pub fn run(self) -> ExitCode {
        let mut out = BufWriter::new(io::stdout().lock());
        let done = match self.action {
            Action::Verify { database, checkpoint } => run_verify(&database, checkpoint.as_deref(), &mut out),
            Action::Export { database, wanted } => {
                export::run(&database, &wanted, &mut out).map(|()| ExitCode::SUCCESS)
            }
            Action::Proof { database, entry, out: folder } => {
                run_proof(&database, entry, &folder, &mut out).map(|()| ExitCode::SUCCESS)
            }
            Action::CheckProof { proof, entry, key } => run_check_proof(&proof, &entry, &key, &mut out),
            Action::Days { database, from, to, config } => {
                run_days(&database, (from, to), config.as_deref(), &mut out).map(|()| ExitCode::SUCCESS)
            }
            Action::Restore { from, data } => run_restore(&from, &data, &mut out).map(|()| ExitCode::SUCCESS),
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

pub(super) fn read_checkpoint(file: &Path) -> Result<SignedCheckpoint, CommandError> {
    let read = std::fs::read_to_string(file);
    let text = read.map_err(|error| CommandError::Checkpoint { file: file.to_owned(), error })?;
    SignedCheckpoint::parse(&text).map_err(|error| CommandError::Note { file: file.to_owned(), error })
}

fn tell(report: &Report, database: &Path, has_checkpoint: bool, out: &mut impl Write) -> io::Result<()> {
    let Report { origin, key, size, root, heads, parent, vouched, altered, turned, findings } = report;
    writeln!(out, "journal   {}", database.display())?;
    writeln!(out, "log       {origin}")?;
    writeln!(out, "key       {key}")?;
    if let Some(parent) = parent {
        writeln!(out, "goes on   from {}, entries 1 to {}, root {}", parent.origin, parent.size, parent.root.short())?;
    }
    writeln!(out, "entries   {size}")?;
    writeln!(out, "root      {} (short), {root}", root.short())?;
    writeln!(out, "heads     {heads} signed, root and signature hold")?;
    if !altered.is_empty() {
        writeln!(out, "guards    NOTICE: not as this program makes them: {}", altered.join(", "))?;
    }
    let (first, count) = turned;
    for one in first {
        writeln!(out, "clock     NOTICE: {one}")?;
    }
    if *count > first.len() {
        writeln!(out, "clock     NOTICE: and {} times more", count - first.len())?;
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
            writeln!(out, "unproved  {}, which came after it: {alone}", span(vouched + 1, size))
        }
        Some(vouched) => {
            writeln!(out, "vouched   entries 1 to {vouched}, by the checkpoint kept elsewhere")?;
            writeln!(out, "unproved  entries that were cut off after entry {vouched}, if there were any")
        }
    }
}

fn run_proof(database: &Path, seq: u64, folder: &Path, out: &mut impl Write) -> Result<(), CommandError> {
    let journal = ReadOnlyJournal::open(database)?;
    let Proved { entry, proof, key } = prove::prove(&journal, seq)?;
    let write = |name: String, bytes: &[u8]| {
        let file = folder.join(name);
        std::fs::write(&file, bytes).map_err(|error| CommandError::File { file: file.clone(), error })?;
        Ok::<_, CommandError>(file)
    };
    let entry_file = write(format!("entry-{seq}.json"), &entry)?;
    let proof_file = write(format!("entry-{seq}.tlog-proof"), proof.text().as_bytes())?;
    writeln!(out, "entry     {}\nproof     {}\nkey       {key}", entry_file.display(), proof_file.display())?;
    Ok(())
}

fn run_check_proof(proof: &Path, entry: &Path, key: &str, out: &mut impl Write) -> Result<ExitCode, CommandError> {
    let unread = |file: &Path| {
        let file = file.to_owned();
        move |error| CommandError::File { file, error }
    };
    let text = std::fs::read_to_string(proof).map_err(unread(proof))?;
    let bytes = std::fs::read(entry).map_err(unread(entry))?;
    match prove::check_proof(&text, &bytes, key) {
        Ok((seq, size)) => {
            writeln!(out, "proved    these are the exact bytes of entry {seq} of {size} that this key has signed")?;
            Ok(ExitCode::SUCCESS)
        }
        Err(NoProof::Proof(reason)) => {
            writeln!(out, "FAILS     {reason}")?;
            Ok(ExitCode::from(FAILS))
        }
        Err(other) => Err(other.into()),
    }
}

fn run_days(
    database: &Path,
    (from, to): (Option<Date>, Option<Date>),
    config: Option<&Path>,
    out: &mut impl Write,
) -> Result<(), CommandError> {
    let zone = Config::load(config).and_then(|config| config.time_zone()).map_err(CommandError::Report)?;
    let days = Days { from, to, zone };
    for DayEnd { day, first, size, root } in steady(database, |journal| day_ends(journal, &days))? {
        writeln!(out, "{day}  {:<22}{:<18}root {}", span(first, size), format!("{size} in all"), root.short())?;
    }
    Ok(())
}

fn run_restore(from: &Path, folder: &Path, out: &mut impl Write) -> Result<(), CommandError> {
    let Restored { parent, origin, set_aside } = restore(from, folder, &SystemClock::new().now())?;
    writeln!(out, "log       {origin}")?;
    writeln!(out, "goes on   from {}, entries 1 to {}, root {}", parent.origin, parent.size, parent.root.short())?;
    if let Some(file) = set_aside {
        writeln!(out, "set aside {}", file.display())?;
    }
    writeln!(out, "unproved  that nothing came after entry {}: a head kept elsewhere tells", parent.size)?;
    Ok(())
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

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
    use super::*;
    use crate::store::Record;
    use crate::store::tests::{entry, filled};

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
}
