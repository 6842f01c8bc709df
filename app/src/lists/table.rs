//! A table that people fill in: found by heading, each row with its line, everything wrong with it gathered.

use crate::report::csv::{harmless, text_of};
use csv::{ReaderBuilder, StringRecord, Terminator, Trim, WriterBuilder};
use std::collections::BTreeMap;

/// A table that is longer is no shop's list: a mistaken file is refused before it is read through.
const BYTES_MOST: usize = 8 * 1024 * 1024;
/// More than any name, tag or code has.
const CHARACTERS_MOST: usize = 64;

/// A column of a list.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Column {
    /// What stands over it.
    pub name: &'static str,
    /// Whether a table without it is refused.
    pub needed: bool,
}

pub(super) const fn needed(name: &'static str) -> Column {
    Column { name, needed: true }
}

pub(super) const fn may_be_missing(name: &'static str) -> Column {
    Column { name, needed: false }
}

/// What is wrong with a row.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct BadRow {
    /// Its line in the file, from 1.
    pub line: u64,
    /// What is wrong, and what would be right.
    pub what: String,
}

/// A row whose cells are text of one line.
#[derive(Debug, Clone)]
pub(super) struct Row {
    /// Its line in the file, from 1.
    pub line: u64,
    cells: BTreeMap<&'static str, String>,
}

impl Row {
    /// The cell under a heading; `None` where the table has no such column, which is not the same as an empty cell.
    pub fn cell(&self, column: &str) -> Option<&str> {
        self.cells.get(column).map(String::as_str)
    }

    /// The cell under a needed heading.
    pub fn text(&self, column: &str) -> &str {
        self.cell(column).unwrap_or_default()
    }
}

/// A table as it was read.
#[derive(Debug, Default)]
pub(super) struct Table {
    pub rows: Vec<Row>,
    /// Rows that are none: too many cells, too few, no text.
    pub bad: Vec<BadRow>,
}

impl Table {
    /// Reads a file. Spreadsheets of half of the world part cells by semicolons: the heading tells which it is.
    ///
    /// # Errors
    /// In words, when it is no table with these columns at all.
    pub fn read(bytes: &[u8], columns: &'static [Column]) -> Result<Self, String> {
        if bytes.len() > BYTES_MOST {
            return Err(format!("the file has {} bytes; a list has at most {BYTES_MOST}", bytes.len()));
        }
        let text = std::str::from_utf8(bytes)
            .map_err(|error| format!("not UTF-8 from byte {} on; save the table as UTF-8", error.valid_up_to() + 1))?;
        // One kind of line end: with two letters the reader counts a row to the line before.
        let text = text.trim_start_matches('\u{feff}').replace("\r\n", "\n");
        let heading = text.lines().next().unwrap_or_default();
        let delimiter = if heading.contains(';') && !heading.contains(',') { b';' } else { b',' };
        let mut reader =
            ReaderBuilder::new().delimiter(delimiter).flexible(true).trim(Trim::All).from_reader(text.as_bytes());
        let heads = reader.headers().map_err(|error| error.to_string())?.clone();
        let heads = headings(&heads, columns)?;
        let mut table = Self::default();
        for record in reader.records() {
            let record = record.map_err(|error| error.to_string())?;
            let line = record.position().map_or(0, csv::Position::line);
            match cells(&record, &heads) {
                Ok(cells) => table.rows.push(Row { line, cells }),
                Err(what) => table.bad.push(BadRow { line, what }),
            }
        }
        Ok(table)
    }
}

fn headings(heads: &StringRecord, columns: &'static [Column]) -> Result<Vec<&'static str>, String> {
    let known = || columns.iter().map(|column| column.name).collect::<Vec<_>>().join(", ");
    let mut found = Vec::new();
    for head in heads {
        let column = columns.iter().find(|column| column.name.eq_ignore_ascii_case(head));
        let name = column.map(|column| column.name);
        let name = name.ok_or_else(|| format!("the column {head:?} is not known; known are {}", known()))?;
        if found.contains(&name) {
            return Err(format!("the column {name} stands there twice"));
        }
        found.push(name);
    }
    match columns.iter().find(|column| column.needed && !found.contains(&column.name)) {
        Some(missing) => Err(format!("the column {} is missing; the columns are {}", missing.name, known())),
        None => Ok(found),
    }
}

fn cells(record: &StringRecord, heads: &[&'static str]) -> Result<BTreeMap<&'static str, String>, String> {
    if record.len() != heads.len() {
        return Err(format!("{} cells under {} headings", record.len(), heads.len()));
    }
    heads.iter().zip(record).map(|(head, cell)| Ok((*head, clean(head, cell)?))).collect()
}

fn clean(head: &str, cell: &str) -> Result<String, String> {
    let cell = text_of(cell);
    let characters = cell.chars().count();
    if characters > CHARACTERS_MOST {
        return Err(format!("{head} has {characters} characters; at most {CHARACTERS_MOST} are taken"));
    }
    match cell.chars().find(|character| character.is_control() || is_hidden(*character)) {
        Some(hidden) => Err(format!("{head} holds the character U+{:04X}, which cannot be seen", u32::from(hidden))),
        None => Ok(cell.to_owned()),
    }
}

/// Characters that turn, hide or join others: a name that holds them is not what it looks like.
const fn is_hidden(character: char) -> bool {
    matches!(character, '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{feff}')
}

/// The yes and no of a cell, in both languages.
pub(super) fn yes_or_no(head: &str, cell: &str) -> Result<bool, String> {
    match cell.to_lowercase().as_str() {
        "yes" | "y" | "true" | "1" | "sí" | "si" => Ok(true),
        "no" | "n" | "false" | "0" => Ok(false),
        _ => Err(format!("{head} is {cell:?}; it must be yes or no")),
    }
}

/// A list as a table.
///
/// # Errors
/// When it cannot be written out.
pub(super) fn written(columns: &[Column], rows: &[Vec<String>]) -> anyhow::Result<String> {
    let mut writer = WriterBuilder::new().terminator(Terminator::CRLF).from_writer(Vec::new());
    writer.write_record(columns.iter().map(|column| column.name))?;
    for row in rows {
        writer.write_record(row.iter().map(|cell| harmless(cell)))?;
    }
    Ok(String::from_utf8(writer.into_inner().map_err(|error| error.into_error())?)?)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    const COLUMNS: &[Column] = &[needed("tag"), may_be_missing("serial")];

    #[test]
    fn headings_in_any_order_case_and_parting_and_behind_a_mark() {
        for text in ["tag,serial\nQ-1,7\n", "\u{feff}Serial;TAG\r\n 7 ;Q-1\r\n"] {
            let table = Table::read(text.as_bytes(), COLUMNS).unwrap();
            assert_eq!((table.rows[0].text("tag"), table.rows[0].cell("serial")), ("Q-1", Some("7")), "{text:?}");
            assert_eq!(table.rows[0].line, 2);
        }
        let without = Table::read(b"tag\n\"Q-1\"\n", COLUMNS).unwrap();
        assert_eq!(without.rows[0].cell("serial"), None);
    }

    #[test]
    fn what_is_no_such_table_is_refused_with_what_is_wanted() {
        let refused = |text: &[u8]| Table::read(text, COLUMNS).unwrap_err();
        assert!(refused(b"serial\n1\n").contains("column tag is missing"));
        assert!(refused(b"tag,weight\n").contains("\"weight\" is not known; known are tag, serial"));
        assert!(refused(b"tag,Tag\n").contains("twice"));
        assert!(refused(b"tag\nQ\xff\n").contains("not UTF-8 from byte 6"));
        assert!(refused(&vec![b'x'; BYTES_MOST + 1]).contains("at most"));
        assert!(refused(b"").contains("missing"));
    }

    #[test]
    fn every_bad_row_is_told_with_its_line() {
        let text = "tag,serial\nQ-1\nQ-2,7\nQ-3,\"a\u{202e}b\"\nQ-4,\"x\ny\"\n";
        let table = Table::read(text.as_bytes(), COLUMNS).unwrap();
        let lines: Vec<u64> = table.bad.iter().map(|row| row.line).collect();
        assert_eq!((lines, table.rows.len()), (vec![2, 4, 5], 1));
        assert!(table.bad[1].what.contains("U+202E"));
    }

    #[test]
    fn what_a_spreadsheet_would_run_goes_out_and_comes_in_the_same() {
        let row = vec!["=1+2".to_owned(), "-7, \"x\"".to_owned()];
        let text = written(COLUMNS, std::slice::from_ref(&row)).unwrap();
        assert!(text.contains("'=1+2"), "{text}");
        let table = Table::read(text.as_bytes(), COLUMNS).unwrap();
        assert_eq!([table.rows[0].text("tag"), table.rows[0].text("serial")], ["=1+2", "-7, \"x\""]);
    }
}
