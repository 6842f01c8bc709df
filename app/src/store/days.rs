//! `sparkout journal days`: how far the journal had come at the end of each day, to be held against the sheets that
//! were printed then. Paper survives both machines.

use super::prove;
use super::read_only::{ReadOnlyJournal, Unreadable};
use super::wall_clock::WallClock;
use crate::report::Days;
use jiff::civil::Date;
use sparkout_core::journal::Hash;

/// How far the journal had come at the end of a day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct DayEnd {
    /// The day, in the shop's time zone and by the station's clock.
    pub day: Date,
    /// The first entry of the day.
    pub first: u64,
    /// The last one, which is also how many entries there were.
    pub size: u64,
    /// The root over all of them.
    pub root: Hash,
}

/// The ends of these days, in the journal's order. A clock that was set back makes a day come twice, and both are told.
///
/// # Errors
/// [`Unreadable`].
pub fn day_ends(journal: &ReadOnlyJournal, days: &Days) -> Result<Vec<DayEnd>, Unreadable> {
    let fault = |error| journal.unreadable(error);
    let mut statement = journal.connection().prepare("SELECT seq, leaf FROM journal ORDER BY seq").map_err(fault)?;
    let mut rows = statement.query([]).map_err(fault)?;
    let mut clock = WallClock::default();
    let mut found: Vec<(Date, u64, u64)> = Vec::new();
    while let Some(row) = rows.next().map_err(fault)? {
        let seq = row.get::<_, i64>(0).map_err(fault)?.unsigned_abs();
        let leaf = row.get_ref(1).and_then(|leaf| Ok(leaf.as_bytes()?)).map_err(fault)?;
        clock.meet(seq, leaf);
        let Some(at) = clock.last().filter(|at| days.hold(Some(*at))) else { continue };
        let day = at.to_zoned_datetime(days.zone.clone()).date();
        match found.last_mut() {
            Some((known, _, last)) if *known == day && *last + 1 == seq => *last = seq,
            Some(_) | None => found.push((day, seq, seq)),
        }
    }
    let foreign = |error: super::StoreError| Unreadable::Foreign {
        file: journal.file().to_owned(),
        what: error.detail().to_owned(),
    };
    let end =
        |(day, first, size)| Ok(DayEnd { day, first, size, root: prove::root_at(journal, size).map_err(foreign)? });
    found.into_iter().map(end).collect()
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
    use super::*;
    use crate::store::Record as _;
    use crate::store::tests::{entry, filled};
    use jiff::tz::TimeZone;

    #[test]
    fn every_day_has_the_root_that_stood_at_its_end() {
        let (folder, mut record) = filled(0);
        let mut ends = Vec::new();
        for (day, count) in [(14, 3), (15, 1), (18, 4)] {
            for minute in 0..count {
                let stamp =
                    format!(r#"{{"at":{{"wall":"2026-05-{day}T10:{minute:02}:00Z","monotonic_ms":0,"boot":"b"}}}}"#);
                record.append(&[entry(&stamp)], &[]).unwrap();
            }
            // One that does not say when it was made belongs to the one before it.
            record.append(&[entry("{}")], &[]).unwrap();
            let head = record.head().unwrap();
            ends.push((format!("2026-05-{day}"), head.size - count, head.size, head.root));
        }
        let journal = ReadOnlyJournal::open(&folder.path().join("kiosk.db")).unwrap();
        let told = |from: Option<&str>, to: Option<&str>| {
            let day = |day: Option<&str>| day.map(|day| day.parse().unwrap());
            let days = Days { from: day(from), to: day(to), zone: TimeZone::UTC };
            let ends = day_ends(&journal, &days).unwrap().into_iter();
            ends.map(|end| (end.day.to_string(), end.first, end.size, end.root)).collect::<Vec<_>>()
        };
        assert_eq!(told(None, None), ends);
        assert_eq!(told(Some("2026-05-15"), Some("2026-05-17")), ends[1..2]);
        assert_eq!(told(Some("2026-05-19"), None), []);
    }
}
