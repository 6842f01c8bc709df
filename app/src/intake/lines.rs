//! Characters put together to scans: what ends one is a terminator, or silence where a scanner sends none.

use std::time::Duration;

/// The most characters of one scan that are kept; what is longer is no code of anybody's, and is refused as too long further on.
const CHARACTERS_MOST: usize = 4096;

/// Puts scans together.
#[derive(Debug)]
pub struct Lines {
    silence: Duration,
    text: String,
    last: Duration,
}

impl Lines {
    /// A scan without terminator ends after this silence.
    pub const fn new(silence: Duration) -> Self {
        Self { silence, text: String::new(), last: Duration::ZERO }
    }

    /// Takes a character, and gives the scan that it ends. Any terminator ends one; a second one behind it ends nothing.
    pub fn take(&mut self, character: char, now: Duration) -> Option<String> {
        let before = self.silent(now);
        self.last = now;
        if matches!(character, '\r' | '\n' | '\t' | '\0') {
            return before.or_else(|| self.whole());
        }
        if self.text.chars().count() < CHARACTERS_MOST {
            self.text.push(character);
        }
        before
    }

    /// Time has passed: gives the scan that silence ends.
    pub fn silent(&mut self, now: Duration) -> Option<String> {
        let over = now.saturating_sub(self.last) >= self.silence;
        if over { self.whole() } else { None }
    }

    fn whole(&mut self) -> Option<String> {
        (!self.text.is_empty()).then(|| std::mem::take(&mut self.text))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const fn at(milliseconds: u64) -> Duration {
        Duration::from_millis(milliseconds)
    }

    /// Characters, each with its time, and at the end silence.
    fn scans(typed: &[(&str, u64)]) -> Vec<String> {
        let mut lines = Lines::new(at(100));
        let mut scans = Vec::new();
        for (text, time) in typed {
            scans.extend(text.chars().filter_map(|character| lines.take(character, at(*time))));
        }
        scans.extend(lines.silent(at(1_000_000)));
        scans
    }

    #[test]
    fn terminators_and_silence() {
        assert_eq!(scans(&[("Q-114\r\n", 0)]), ["Q-114"]);
        assert_eq!(scans(&[("Q-114\r\nQ-115\t", 0)]), ["Q-114", "Q-115"]);
        assert_eq!(scans(&[("Q-1", 0), ("14\r", 30)]), ["Q-114"], "a read in two parts");
        assert_eq!(scans(&[("Q-114", 0), ("Q-115", 500)]), ["Q-114", "Q-115"], "no terminator");
        assert_eq!(scans(&[("Q-114", 0)]), ["Q-114"]);
        assert_eq!(scans(&[("\r\n\r\n\0", 0)]), Vec::<String>::new());
        assert_eq!(scans(&[("Q-114", 0), ("\r", 500)]), ["Q-114"], "a terminator that comes late ends nothing more");
    }

    #[test]
    fn an_endless_line_is_cut_and_stays_too_long() {
        let noise = "x".repeat(100_000) + "\r";
        let read = scans(&[(&noise, 0)]);
        assert_eq!(read.iter().map(String::len).collect::<Vec<_>>(), [CHARACTERS_MOST]);
    }
}
