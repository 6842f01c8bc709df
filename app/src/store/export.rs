//! `sparkout journal export`.

use super::command::{CommandError, read_checkpoint};
use super::prove;
use super::read_only::{ReadOnlyJournal, Unreadable, steady};
use super::verify::{self, Finding, Report};
use super::wall_clock::WallClock;
use crate::config::{self, Config};
use crate::report::csv::Table;
use crate::report::safety::{Content, Heading};
use crate::report::typeset::Paper;
use crate::report::{self, Days, Stopped};
use anyhow::anyhow;
use clap::{Args, ValueEnum};
use data_encoding::BASE64;
use jiff::civil::Date;
use serde::de::IgnoredAny;
use sparkout_core::journal::merkle;
use sparkout_ui::screen::{Language, Settings};
use std::fs::{self, File};
use std::io::{self, BufWriter, IsTerminal, Write};
use std::path::{Path, PathBuf};

/// The form of an export.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum Format {
    /// JSON Lines: one entry a line, with its hash.
    Jsonl,
    /// One JSON array of the same.
    Json,
    /// A table for a spreadsheet, one row an entry.
    Csv,
    /// A safety record on paper, exceptions first.
    Pdf,
}

/// What is exported, and how.
#[derive(Debug, Args)]
pub(super) struct Wanted {
    /// The form.
    #[arg(long, value_enum, default_value_t = Format::Jsonl)]
    format: Format,
    /// The first of the shop's days, as 2026-05-14.
    #[arg(long, value_name = "DATE")]
    from: Option<Date>,
    /// The last of the shop's days, which is part of it.
    #[arg(long, value_name = "DATE")]
    to: Option<Date>,
    /// Where it is written; standard output if not given. A file that is there already stays as it is.
    #[arg(long, value_name = "FILE")]
    out: Option<PathBuf>,
    /// The language of the sentences, en or es; the configuration's if not given.
    #[arg(long, value_name = "LANGUAGE", value_parser = language)]
    language: Option<Language>,
    /// The paper of the pdf.
    #[arg(long, value_enum, default_value_t = Paper::A4)]
    paper: Paper,
    /// A signed head that was kept elsewhere, which the pdf says the journal was verified against.
    #[arg(long, value_name = "FILE")]
    checkpoint: Option<PathBuf>,
    /// The kiosk's configuration: names of shop and bench, time zone, language.
    #[arg(long, value_name = "FILE")]
    config: Option<PathBuf>,
}

fn language(word: &str) -> Result<Language, String> {
    config::language(word).map_err(|error| error.to_string())
}

/// What the export rests on besides the journal.
struct Setting {
    config: Config,
    days: Days,
    settings: Settings,
}

impl Wanted {
    fn setting(&self) -> anyhow::Result<Setting> {
        if let (Some(from), Some(to)) = (self.from, self.to)
            && from > to
        {
            return Err(anyhow!("--from {from} is after --to {to}"));
        }
        let config = Config::load(self.config.as_deref())?;
        let days = Days { from: self.from, to: self.to, zone: config.time_zone()? };
        let base = config.settings()?;
        let settings = Settings { language: self.language.unwrap_or(base.language), ..base };
        Ok(Setting { config, days, settings })
    }
}

/// Writes it, to a file or to standard output.
pub(super) fn run(database: &Path, wanted: &Wanted, standard: &mut impl Write) -> Result<(), CommandError> {
    let setting = wanted.setting().map_err(CommandError::Report)?;
    let Some(file) = &wanted.out else {
        if wanted.format == Format::Pdf && io::stdout().is_terminal() {
            return Err(CommandError::Report(anyhow!("a pdf goes into a file: --out FILE")));
        }
        return write(database, wanted, &setting, standard);
    };
    let failed = |error| CommandError::File { file: file.clone(), error };
    // Never over a file that is there: the journal itself could be meant by a slip.
    let mut out = BufWriter::new(File::create_new(file).map_err(failed)?);
    let done = write(database, wanted, &setting, &mut out)
        .and_then(|()| out.flush().and_then(|()| out.get_ref().sync_all()).map_err(CommandError::from));
    if done.is_err() {
        // Half a record would be taken for a whole one.
        fs::remove_file(file).map_err(failed)?;
    }
    done.map_err(|error| match error {
        CommandError::Output(error) => failed(error),
        other => other,
    })
}

fn write(database: &Path, wanted: &Wanted, setting: &Setting, out: &mut impl Write) -> Result<(), CommandError> {
    if wanted.format == Format::Pdf {
        return out.write_all(&sheets(database, wanted, setting)?).map_err(CommandError::from);
    }
    let journal = ReadOnlyJournal::open(database)?;
    if wanted.format == Format::Csv {
        table(&journal, setting, out)?;
    } else {
        entries(&journal, wanted.format, &setting.days, out)?;
    }
    if journal.is_undisturbed() { Ok(()) } else { Err(Unreadable::Disturbed { file: database.to_owned() }.into()) }
}

fn table(journal: &ReadOnlyJournal, setting: &Setting, out: &mut impl Write) -> Result<(), CommandError> {
    let output = |error: csv::Error| CommandError::Output(error.into());
    let station = station(journal)?;
    let mut table = Table::begin(out, setting.days.zone.clone(), &station).map_err(output)?;
    let each = |line, is_within| if is_within { table.row(&line) } else { Ok(()) };
    report::read(journal, &setting.days, setting.settings.language, each).map_err(|stopped| match stopped {
        Stopped::File(error) => journal.unreadable(error).into(),
        Stopped::Taker(error) => output(error),
    })?;
    table.finish().map_err(output)
}

/// The station's id, which follows from its key.
fn station(journal: &ReadOnlyJournal) -> Result<String, CommandError> {
    let sql = "SELECT station FROM station";
    journal.connection().query_row(sql, [], |row| row.get(0)).map_err(|error| journal.unreadable(error).into())
}

fn sheets(database: &Path, wanted: &Wanted, setting: &Setting) -> Result<Vec<u8>, CommandError> {
    let elsewhere = wanted.checkpoint.as_deref().map(read_checkpoint).transpose()?;
    let language = setting.settings.language;
    let (content, found, days_end) = steady(database, |journal| {
        let mut content = Content::default();
        let each = |line, is_within| {
            content.take(line, is_within);
            Ok::<_, std::convert::Infallible>(())
        };
        report::read(journal, &setting.days, language, each).map_err(|stopped| match stopped {
            Stopped::File(error) => journal.unreadable(error),
            Stopped::Taker(never) => match never {},
        })?;
        let days_end = content.last().and_then(|seq| Some((seq, prove::root_at(journal, seq).ok()?)));
        Ok((content, verify::verify(journal, elsewhere.as_ref())?, days_end))
    })?;
    let heading = Heading { days_end, ..heading(setting, &found, elsewhere.is_some()) };
    content.pdf(&heading, wanted.paper).map_err(CommandError::Report)
}

fn heading(setting: &Setting, found: &Report, has_checkpoint: bool) -> Heading {
    let Setting { config, days, settings } = setting;
    Heading {
        shop: config.shop.name.clone(),
        bench: config.station.name.clone(),
        sound_level: config.sound_level(),
        log: found.origin.clone(),
        size: found.size,
        root: found.root,
        days_end: None,
        heads: found.heads,
        fails: found.findings.iter().map(Finding::to_string).collect(),
        elsewhere: has_checkpoint.then_some(found.vouched),
        days: (days.from, days.to),
        made: jiff::Timestamp::now().to_zoned_datetime(days.zone.clone()),
        settings: *settings,
    }
}

fn entries(journal: &ReadOnlyJournal, format: Format, days: &Days, out: &mut impl Write) -> Result<(), CommandError> {
    let fault = |error| CommandError::from(journal.unreadable(error));
    let mut statement = journal.connection().prepare("SELECT seq, leaf FROM journal ORDER BY seq").map_err(fault)?;
    let mut rows = statement.query([]).map_err(fault)?;
    let (open, between, close) = if format == Format::Json { ("[\n", ",\n", "\n]\n") } else { ("", "\n", "\n") };
    write!(out, "{open}")?;
    let (mut is_first, mut clock) = (true, WallClock::default());
    while let Some(row) = rows.next().map_err(fault)? {
        let seq: i64 = row.get(0).map_err(fault)?;
        let leaf: Vec<u8> = row.get(1).map_err(fault)?;
        clock.meet(seq.unsigned_abs(), &leaf);
        if !days.hold(clock.last()) {
            continue;
        }
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
    use crate::store::tests::filled;
    use crate::store::{NewEntry, Record as _};

    fn wanted(format: Format) -> Wanted {
        Wanted {
            format,
            from: None,
            to: None,
            out: None,
            language: None,
            paper: Paper::A4,
            checkpoint: None,
            config: None,
        }
    }

    fn exported(file: &Path, wanted: &Wanted) -> Vec<u8> {
        let mut out = Vec::new();
        run(file, wanted, &mut out).unwrap();
        out
    }

    #[test]
    fn exported_bytes_hash_to_the_leaf() {
        let (folder, mut record) = filled(0);
        let leaves: [&[u8]; 5] =
            [br#"{ "b":1, "a" : 2.50 }"#, b"not json", b"{\"a\":\n1}", b"\"\xff\"", "\"é\u{2028}\"".as_bytes()];
        let entries: Vec<NewEntry> = leaves.iter().map(|leaf| NewEntry { visit: None, bytes: leaf.to_vec() }).collect();
        record.append(&entries, &[]).unwrap();
        let text = String::from_utf8(exported(&folder.path().join("kiosk.db"), &wanted(Format::Jsonl))).unwrap();
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
        let out = exported(&folder.path().join("kiosk.db"), &wanted(Format::Json));
        let all: Vec<serde_json::Value> = serde_json::from_slice(&out).unwrap();
        assert_eq!(all.len(), leaves.len());
    }

    #[test]
    fn an_empty_journal_exports_nothing() {
        let (folder, _record) = filled(0);
        for (format, text) in [(Format::Jsonl, ""), (Format::Json, "[\n\n]\n")] {
            let out = exported(&folder.path().join("kiosk.db"), &wanted(format));
            assert_eq!(String::from_utf8(out).unwrap(), text);
        }
    }

    #[test]
    fn entries_that_are_not_ours_are_rows_and_lines_too() {
        let (folder, record) = filled(3);
        drop(record);
        let file = folder.path().join("kiosk.db");
        let text = String::from_utf8(exported(&file, &wanted(Format::Csv))).unwrap();
        assert_eq!(text.matches("\r\n").count(), 4, "{text}");
        assert_eq!(text.matches(",yes,other,").count(), 3, "{text}");
        assert!(exported(&file, &wanted(Format::Pdf)).starts_with(b"%PDF-1."));
    }

    #[test]
    fn a_file_that_is_there_stays_as_it_is() {
        let (folder, record) = filled(3);
        drop(record);
        let file = folder.path().join("kiosk.db");
        let before = fs::read(&file).unwrap();
        let over = Wanted { out: Some(file.clone()), ..wanted(Format::Csv) };
        assert!(matches!(run(&file, &over, &mut Vec::new()), Err(CommandError::File { .. })));
        assert_eq!(fs::read(&file).unwrap(), before);
        let missing = folder.path().join("none.db");
        let out = folder.path().join("out.csv");
        let unread = Wanted { out: Some(out.clone()), ..wanted(Format::Csv) };
        assert!(matches!(run(&missing, &unread, &mut Vec::new()), Err(CommandError::Unreadable(_))));
        assert!(!out.exists());
    }
}
