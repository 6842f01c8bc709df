//! Whether the clock on the wall was turned while entries were made. Order never depends on it, and what is written
//! down about a day does: a clock set back an hour makes an overdue check look done in time.

use sparkout_core::moment::Moment;
use std::fmt;

/// The wall clock may drift against the count that cannot jump by this much before it counts as turned.
const TURNED_MS: i64 = 120_000;
/// So many are told one by one.
const TOLD_MOST: usize = 20;
/// How an entry begins that says when it was made.
const STAMP: &[u8] = br#"{"at":"#;

/// Between two entries the clock went another way than the time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Turned {
    /// The entry before which it happened.
    pub seq: u64,
    /// By how much, in milliseconds; negative when it was set back.
    pub by_ms: i64,
}

/// Looks along the entries.
#[derive(Debug, Default)]
pub struct WallClock {
    last: Option<Moment>,
    turned: Vec<Turned>,
    count: usize,
}

impl WallClock {
    /// The next entry's bytes: whether the clock was turned before it. What does not say when it was made is passed over.
    pub fn meet(&mut self, seq: u64, leaf: &[u8]) -> Option<Turned> {
        if let Some((last, stamp)) = self.last.as_mut().zip(plain_stamp(leaf))
            && last.boot == stamp.boot
            && let Some(passed_ms) = stamp.monotonic_ms.checked_sub(last.monotonic_ms)
        {
            // The usual entry, a million times: the same run of the process, and time went on.
            let by_ms = turned_by(last.wall, stamp.wall, Some(passed_ms));
            (last.wall, last.monotonic_ms) = (stamp.wall, stamp.monotonic_ms);
            return by_ms.map(|by_ms| self.note(Turned { seq, by_ms }));
        }
        let now = made(leaf)?;
        let found = self.last.as_ref().and_then(|last| turned(last, &now)).map(|by_ms| Turned { seq, by_ms });
        self.last = Some(now);
        found.map(|found| self.note(found))
    }

    fn note(&mut self, found: Turned) -> Turned {
        self.count += 1;
        if self.turned.len() < TOLD_MOST {
            self.turned.push(found);
        }
        found
    }

    /// When the newest entry was made that says so, by the station's clock.
    pub fn last(&self) -> Option<jiff::Timestamp> {
        self.last.as_ref().map(|last| last.wall)
    }

    /// What was noticed: the first of them, and how many there are.
    pub fn noticed(self) -> (Vec<Turned>, usize) {
        (self.turned, self.count)
    }
}

/// When an entry was made; only the stamp is read, not the entry behind it.
fn made(leaf: &[u8]) -> Option<Moment> {
    serde_json::Deserializer::from_slice(leaf.strip_prefix(STAMP)?).into_iter::<Moment>().next()?.ok()
}

/// A stamp in the very form in which this program writes it.
struct Stamp<'leaf> {
    wall: jiff::Timestamp,
    monotonic_ms: u64,
    boot: &'leaf str,
}

/// Reads such a stamp without a parser's cost; `None` for any other form, which is then read as JSON.
fn plain_stamp(leaf: &[u8]) -> Option<Stamp<'_>> {
    let rest = leaf.strip_prefix(br#"{"at":{"wall":""#)?;
    let (wall, rest) = until_quote(rest)?;
    let rest = rest.strip_prefix(br#","monotonic_ms":"#)?;
    let digits = rest.iter().take_while(|byte| byte.is_ascii_digit()).count();
    let (monotonic_ms, rest) = rest.split_at(digits);
    let (boot, rest) = until_quote(rest.strip_prefix(br#","boot":""#)?)?;
    rest.starts_with(b"}").then_some(())?;
    let text = |bytes| std::str::from_utf8(bytes).ok();
    Some(Stamp { wall: text(wall)?.parse().ok()?, monotonic_ms: text(monotonic_ms)?.parse().ok()?, boot: text(boot)? })
}

/// What stands before the next quote, where nothing of it is escaped, and what stands behind it.
fn until_quote(bytes: &[u8]) -> Option<(&[u8], &[u8])> {
    let end = bytes.iter().position(|byte| matches!(byte, b'"' | b'\\'))?;
    (bytes[end] == b'"').then(|| (&bytes[..end], &bytes[end + 1..]))
}

fn turned(last: &Moment, now: &Moment) -> Option<i64> {
    let passed_ms = now.since(last).map(|passed| u64::try_from(passed.as_millis()).unwrap_or(u64::MAX));
    turned_by(last.wall, now.wall, passed_ms)
}

fn turned_by(last: jiff::Timestamp, now: jiff::Timestamp, passed_ms: Option<u64>) -> Option<i64> {
    let wall_ms = now.as_millisecond() - last.as_millisecond();
    let by_ms = match passed_ms {
        Some(passed) => wall_ms.saturating_sub(i64::try_from(passed).unwrap_or(i64::MAX)),
        // Between two runs of the process only a step back shows.
        None => wall_ms.min(0),
    };
    (by_ms.abs() > TURNED_MS).then_some(by_ms)
}

impl fmt::Display for Turned {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        let minutes = self.by_ms.unsigned_abs() / 60_000;
        let way = if self.by_ms < 0 { "back" } else { "forward" };
        write!(formatter, "set {way} by {} h {:02} min before entry {}", minutes / 60, minutes % 60, self.seq)
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
    use super::*;

    fn entry(minute: i64, monotonic_minute: u64, boot: &str) -> Vec<u8> {
        let wall = jiff::Timestamp::from_second(1_780_000_000 + minute * 60).unwrap();
        let monotonic_ms = monotonic_minute * 60_000;
        format!(r#"{{"at":{{"wall":"{wall}","monotonic_ms":{monotonic_ms},"boot":"{boot}"}},"body":null}}"#)
            .into_bytes()
    }

    fn noticed(entries: &[Vec<u8>]) -> Vec<String> {
        let mut clock = WallClock::default();
        for (seq, leaf) in (1..).zip(entries) {
            clock.meet(seq, leaf);
        }
        let (turned, count) = clock.noticed();
        assert_eq!(turned.len(), count);
        turned.iter().map(ToString::to_string).collect()
    }

    #[test]
    fn an_hour_back_is_noticed_and_its_correction_too() {
        let entries = [entry(0, 0, "a"), entry(5, 5, "a"), entry(-54, 6, "a"), entry(10, 10, "a")];
        let told = ["set back by 1 h 00 min before entry 3", "set forward by 1 h 00 min before entry 4"];
        assert_eq!(noticed(&entries), told);
    }

    #[test]
    fn over_a_restart_only_a_step_back_shows() {
        assert_eq!(noticed(&[entry(0, 0, "a"), entry(600, 1, "b")]), Vec::<String>::new());
        assert_eq!(noticed(&[entry(0, 9, "a"), entry(-60, 1, "b")]), ["set back by 1 h 00 min before entry 2"]);
    }

    #[test]
    fn a_stamp_is_read_the_same_quickly_and_as_json() {
        for (boot, plain) in [("b-1", true), ("b\\u00e9", false), ("", true)] {
            let leaf = entry(3, 7, boot);
            let quick = plain_stamp(&leaf);
            assert_eq!(quick.is_some(), plain, "{boot}");
            let made = made(&leaf).unwrap();
            if let Some(quick) = quick {
                assert_eq!((quick.wall, quick.monotonic_ms, quick.boot), (made.wall, made.monotonic_ms, &*made.boot));
            }
        }
        for other in
            [r#"{"at":{"wall":"x","monotonic_ms":1,"boot":"b"}}"#, r#"{"at":{"boot":"b","monotonic_ms":1}}"#, "{"]
        {
            assert!(plain_stamp(other.as_bytes()).is_none() && made(other.as_bytes()).is_none(), "{other}");
        }
    }

    #[test]
    fn drift_and_entries_without_a_stamp_are_nothing() {
        let none = b"{\"number\":3}".to_vec();
        assert_eq!(
            noticed(&[entry(0, 0, "a"), none, entry(61, 60, "a"), b"{\"at\":7}".to_vec()]),
            Vec::<String>::new()
        );
    }
}
