//! The journal for people: as a table for a spreadsheet, and as a safety record on paper.

pub mod csv;
mod follow;
pub mod grinds;
pub mod lines;
pub mod pdf;
pub mod safety;
pub mod typeset;
mod words;

use crate::store::read_only::ReadOnlyJournal;
use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::TimeZone;
use lines::{Line, Lines};
use sparkout_ui::screen::Language;

/// Days of the shop, in its own time zone.
#[derive(Debug, Clone)]
pub struct Days {
    /// The first day; everything made before it is left out.
    pub from: Option<Date>,
    /// The last day; everything made after it is left out.
    pub to: Option<Date>,
    /// Where the shop's days begin and end.
    pub zone: TimeZone,
}

impl Days {
    /// Whether something that was made then belongs to these days. What does not say when it was made is given the
    /// time of the entry before it; where there is none, it is never left out.
    pub fn hold(&self, at: Option<Timestamp>) -> bool {
        let Some(at) = at else { return true };
        let day = at.to_zoned_datetime(self.zone.clone()).date();
        self.from.is_none_or(|from| from <= day) && self.to.is_none_or(|to| day <= to)
    }
}

/// A reading that could not be gone through to the end.
#[derive(Debug)]
pub enum Stopped<E> {
    /// The file cannot be read.
    File(rusqlite::Error),
    /// Whoever takes the lines wants no more.
    Taker(E),
}

/// Gives every entry as a line, in the journal's order, with whether it belongs to these days.
///
/// # Errors
/// When the file cannot be read, or the lines cannot be taken.
pub fn read<E>(
    journal: &ReadOnlyJournal,
    days: &Days,
    language: Language,
    mut take: impl FnMut(Line, bool) -> Result<(), E>,
) -> Result<(), Stopped<E>> {
    let mut statement =
        journal.connection().prepare("SELECT seq, leaf FROM journal ORDER BY seq").map_err(Stopped::File)?;
    let mut rows = statement.query([]).map_err(Stopped::File)?;
    let mut lines = Lines::new(language);
    while let Some(row) = rows.next().map_err(Stopped::File)? {
        let seq = row.get::<_, i64>(0).map_err(Stopped::File)?.unsigned_abs();
        let leaf: Vec<u8> = row.get(1).map_err(Stopped::File)?;
        let line = lines.line(seq, &leaf);
        let is_within = days.hold(line.at.or(lines.last_made()));
        take(line, is_within).map_err(Stopped::Taker)?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
    use super::*;

    #[test]
    fn days_are_the_shops_own() {
        let day = |text: &str| Some(text.parse::<Date>().unwrap());
        let zone = TimeZone::fixed(jiff::tz::offset(-5));
        let days = Days { from: day("2026-05-14"), to: day("2026-05-14"), zone };
        let holds = |text: &str| days.hold(Some(text.parse().unwrap()));
        // The day begins and ends five hours after that of Greenwich.
        assert!(!holds("2026-05-14T04:59:59.999Z"));
        assert!(holds("2026-05-14T05:00:00Z"));
        assert!(holds("2026-05-15T04:59:59.999Z"));
        assert!(!holds("2026-05-15T05:00:00Z"));
        assert!(days.hold(None));
    }
}
