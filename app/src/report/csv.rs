//! Lines as a table for a spreadsheet: RFC 4180 (2005), UTF-8, one row an entry. The columns are described in
//! `DEVELOPERS.md`; names of columns, events and stages are the same in every language.

use super::lines::Line;
use csv::{Terminator, Writer, WriterBuilder};
use jiff::tz::TimeZone;
use sparkout_core::reading::Reading;
use std::io::Write;

/// What stands over the columns. Columns are only ever added, at the end.
pub const HEAD: [&str; 16] = [
    "seq",
    "local_time",
    "utc",
    "station",
    "operator",
    "badge",
    "unit",
    "visit",
    "event",
    "stage",
    "what",
    "reading_in",
    "reading_mm",
    "exception",
    "group",
    "leaf_hash",
];

/// A table that is being written.
pub struct Table<W: Write> {
    writer: Writer<W>,
    zone: TimeZone,
    station: String,
}

impl<W: Write> Table<W> {
    /// Begins a table with its heading.
    ///
    /// # Errors
    /// When it cannot be written.
    pub fn begin(out: W, zone: TimeZone, station: &str) -> csv::Result<Self> {
        let mut writer = WriterBuilder::new().terminator(Terminator::CRLF).from_writer(out);
        writer.write_record(HEAD)?;
        Ok(Self { writer, zone, station: station.to_owned() })
    }

    /// The next row.
    ///
    /// # Errors
    /// When it cannot be written.
    pub fn row(&mut self, line: &Line) -> csv::Result<()> {
        let local =
            line.at.map(|at| at.to_zoned_datetime(self.zone.clone()).strftime("%Y-%m-%dT%H:%M:%S%:z").to_string());
        let utc = line.at.map(|at| at.strftime("%Y-%m-%dT%H:%M:%S%.3fZ").to_string());
        self.writer.write_record([
            line.seq.to_string(),
            local.unwrap_or_default(),
            utc.unwrap_or_default(),
            harmless(&self.station),
            harmless(&line.who),
            harmless(&line.badge),
            harmless(&line.unit),
            harmless(&line.visit),
            line.event.clone(),
            line.stage.clone(),
            harmless(&line.what),
            line.reading.map(inches).unwrap_or_default(),
            line.reading.map(millimetres).unwrap_or_default(),
            if line.exception { "yes" } else { "no" }.to_owned(),
            line.group.name().to_owned(),
            line.leaf_hash.to_string(),
        ])
    }

    /// Writes out what is still held back.
    ///
    /// # Errors
    /// When it cannot be written.
    pub fn finish(mut self) -> csv::Result<()> {
        Ok(self.writer.flush()?)
    }
}

/// A spreadsheet takes a cell that begins like a formula for one, and runs it (OWASP, CSV Injection). Such text gets an
/// apostrophe before it. Numbers of ours do not: they are digits, a point and a sign.
pub(crate) fn harmless(text: &str) -> String {
    let formula =
        text.trim_start_matches([' ', '\u{a0}', '\u{feff}']).starts_with(['=', '+', '-', '@', '＝', '＋', '－', '＠']);
    if formula || text.starts_with(['\t', '\r', '\n']) { format!("'{text}") } else { text.to_owned() }
}

/// The text of a cell that [`harmless`] may have written: its apostrophe stands before a formula and nowhere else.
pub(crate) fn text_of(cell: &str) -> &str {
    cell.strip_prefix('\'').filter(|text| harmless(text) != *text).unwrap_or(cell)
}

/// A reading in millimetres, exactly: a nanometre is its sixth decimal.
pub(super) fn millimetres(reading: Reading) -> String {
    millionths(i128::from(reading.nanometres()))
}

/// A reading in inches, rounded to a millionth, which keeps every reading that was typed in inches.
pub(super) fn inches(reading: Reading) -> String {
    // A millionth of an inch is 25.4 nm.
    let tenths = i128::from(reading.nanometres()) * 10;
    let half = if tenths < 0 { -127 } else { 127 };
    millionths((tenths + half) / 254)
}

fn millionths(value: i128) -> String {
    let (whole, rest) = (value.unsigned_abs() / 1_000_000, value.unsigned_abs() % 1_000_000);
    let text = format!("{}{whole}.{rest:06}", if value < 0 { "-" } else { "" });
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
    use super::super::lines::{Group, Line};
    use super::*;
    use sparkout_core::journal::merkle::leaf_hash;

    fn line() -> Line {
        Line {
            seq: 7,
            leaf_hash: leaf_hash(b"{}"),
            at: Some("2026-05-14T15:04:05.678Z".parse().unwrap()),
            who: "=HYPERLINK(\"x\")".to_owned(),
            badge: "+1".to_owned(),
            what: "He said \"no\",\nand left".to_owned(),
            unit: "-1".to_owned(),
            visit: "  @SUM(A1)".to_owned(),
            event: "lapsed".to_owned(),
            stage: "clearance".to_owned(),
            reading: Some(Reading::from_nanometres(-152_400)),
            exception: true,
            group: Group::Other,
            turning: None,
            ground: None,
        }
    }

    #[test]
    fn what_looks_like_a_formula_stays_text() {
        let mut out = Vec::new();
        let zone = TimeZone::fixed(jiff::tz::offset(-5));
        let mut table = Table::begin(&mut out, zone, "abc").unwrap();
        table.row(&line()).unwrap();
        table.finish().unwrap();
        let text = String::from_utf8(out).unwrap();
        assert!(text.starts_with("seq,local_time,") && text.ends_with("\r\n"));
        let mut reader = csv::Reader::from_reader(text.as_bytes());
        let row = reader.records().next().unwrap().unwrap();
        let wanted =
            ["7", "2026-05-14T10:04:05-05:00", "2026-05-14T15:04:05.678Z", "abc", "'=HYPERLINK(\"x\")", "'+1", "'-1"];
        assert_eq!(row.iter().take(7).collect::<Vec<_>>(), wanted);
        assert_eq!(&row[7], "'  @SUM(A1)");
        assert_eq!(&row[10], "He said \"no\",\nand left");
        assert_eq!((&row[11], &row[12], &row[13]), ("-0.006", "-0.1524", "yes"));
    }

    #[test]
    fn lengths_keep_what_was_typed() {
        for (nanometres, in_inches, in_millimetres) in [
            (127_508_000, "5.02", "127.508"),
            (254, "0.00001", "0.000254"),
            (1_000, "0.000039", "0.001"),
            (-1_000, "-0.000039", "-0.001"),
            (0, "0", "0"),
        ] {
            let reading = Reading::from_nanometres(nanometres);
            assert_eq!((inches(reading).as_str(), millimetres(reading).as_str()), (in_inches, in_millimetres));
        }
    }
}
