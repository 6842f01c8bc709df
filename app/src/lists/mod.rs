//! The shop's lists as tables for a spreadsheet: `sparkout units`, `mowers` and `operators`, in and out.
//!
//! A file is taken whole or not at all. Everything that is wrong with it is told at once, row by row, and the rows that
//! are taken are journal entries like any other change of a record.

mod mowers;
mod operators;
mod table;
mod units;

use crate::cli::say;
use crate::clock::{Clock as _, SystemClock};
use crate::kiosk::{Shop, write_records};
use crate::store::{self, Record as _};
use anyhow::{Context, bail};
use clap::{Args, Subcommand};
use sparkout_core::entry::Record;
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use table::{BadRow, Table};

/// What the help of each list says of its exit codes.
const ROWS_ARE_BAD: u8 = 1;
const NOT_DONE: u8 = 2;

/// Which list.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum List {
    /// Cutting units: tag, type, mower, position, serial, status.
    Units,
    /// Mowers: code, name, positions.
    Mowers,
    /// People: badge, name, initials, trained, lead.
    Operators,
}

/// A list of the shop as a table (CSV), in or out.
#[derive(Debug, Args)]
pub struct ListCommand {
    #[command(subcommand)]
    action: Action,
}

#[derive(Debug, Subcommand)]
enum Action {
    /// Take a table into the record: all of it, or nothing and every bad row with what is wrong with it.
    ///
    /// Rows that are on record already are changed to what the table says; what the table does not name stays as it is.
    /// Refused while a kiosk runs on the folder. Exit status: 0 taken, 1 rows are bad, 2 cannot be read or written.
    Import {
        /// The table: UTF-8 with a heading, columns parted by commas or semicolons.
        #[arg(value_name = "FILE")]
        file: PathBuf,
        /// The folder of the kiosk's journal.
        #[arg(long, value_name = "DIR")]
        data: PathBuf,
        /// Say what would be done, and do nothing.
        #[arg(long)]
        dry_run: bool,
    },
    /// Write the list as a table, in the columns that `import` takes. Exit status: 0 written, 2 not.
    Export {
        /// The folder of the kiosk's journal.
        #[arg(long, value_name = "DIR")]
        data: PathBuf,
        /// Where to; standard output where it is not said.
        #[arg(long, value_name = "FILE")]
        out: Option<PathBuf>,
    },
}

/// What a table comes to, looked at beside the record.
#[derive(Debug, Default)]
struct Plan {
    /// What is written into the journal, in the order of the rows.
    records: Vec<Record>,
    /// Rows that are not on record yet.
    new: usize,
    /// Rows that change what is on record.
    changed: usize,
    /// Rows that say what is on record already.
    same: usize,
    bad: Vec<BadRow>,
}

impl Plan {
    /// A row that is good, beside what is on record under its name.
    fn row<T: PartialEq>(&mut self, before: Option<&T>, after: T, record: impl FnOnce(T) -> Record) {
        match before {
            Some(before) if *before == after => return self.same += 1,
            Some(_) => self.changed += 1,
            None => self.new += 1,
        }
        self.records.push(record(after));
    }
}

impl List {
    fn columns(self) -> &'static [table::Column] {
        match self {
            Self::Units => units::COLUMNS,
            Self::Mowers => mowers::COLUMNS,
            Self::Operators => operators::COLUMNS,
        }
    }

    fn plan(self, shop: &Shop, table: &Table) -> Plan {
        match self {
            Self::Units => units::plan(shop, table),
            Self::Mowers => mowers::plan(shop, table),
            Self::Operators => operators::plan(shop, table),
        }
    }

    fn rows(self, shop: &Shop) -> Vec<Vec<String>> {
        match self {
            Self::Units => units::rows(shop),
            Self::Mowers => mowers::rows(shop),
            Self::Operators => operators::rows(shop),
        }
    }
}

impl ListCommand {
    /// Runs it, with the exit status that its help tells.
    pub fn run(self, list: List) -> ExitCode {
        let done = match self.action {
            Action::Import { file, data, dry_run } => import(list, &file, &data, dry_run),
            Action::Export { data, out } => export(list, &data, out.as_deref()).map(|()| ExitCode::SUCCESS),
        };
        done.unwrap_or_else(|error| {
            eprintln!("sparkout: {}", format!("{error:#}").replace('\n', " "));
            ExitCode::from(NOT_DONE)
        })
    }
}

fn import(list: List, file: &Path, data: &Path, dry_run: bool) -> anyhow::Result<ExitCode> {
    let bytes = std::fs::read(file).with_context(|| file.display().to_string())?;
    let table = Table::read(&bytes, list.columns()).map_err(|why| anyhow::anyhow!("{}: {why}", file.display()))?;
    let (mut disk, mut shop) = open(data)?;
    let mut plan = list.plan(&shop, &table);
    plan.bad.extend(table.bad.iter().cloned());
    if !plan.bad.is_empty() {
        plan.bad.sort();
        for row in &plan.bad {
            eprintln!("{}, line {}: {}", file.display(), row.line, row.what);
        }
        eprintln!("sparkout: nothing was taken; rows that are bad: {}", plan.bad.len());
        return Ok(ExitCode::from(ROWS_ARE_BAD));
    }
    let Plan { records, new, changed, same, .. } = plan;
    let count = format!("new: {new}, changed: {changed}, as they were: {same}");
    if dry_run {
        say(&format!("would be taken; {count}"));
        return Ok(ExitCode::SUCCESS);
    }
    if !records.is_empty() {
        write_records(&mut disk, &mut shop, &SystemClock::new().now(), records)?;
    }
    say(&format!("taken; {count}"));
    Ok(ExitCode::SUCCESS)
}

fn export(list: List, data: &Path, out: Option<&Path>) -> anyhow::Result<()> {
    let (_disk, shop) = open(data)?;
    let text = table::written(list.columns(), &list.rows(&shop))?;
    match out {
        Some(file) => std::fs::write(file, text).with_context(|| file.display().to_string()),
        None => {
            say(text.trim_end());
            Ok(())
        }
    }
}

/// A folder that holds a journal, or the first journal of one that holds none: a shop may be recorded before its kiosk
/// is started for the first time, but a mistyped folder makes no shop.
fn open(data: &Path) -> anyhow::Result<(store::SqliteRecord, Shop)> {
    if !data.is_dir() {
        bail!("{} is no folder", data.display());
    }
    let disk = store::open(data)?;
    disk.check().with_context(|| "the journal is not looked at further".to_owned())?;
    let shop = Shop::load(&disk)?;
    Ok((disk, shop))
}

#[cfg(test)]
mod tests;
