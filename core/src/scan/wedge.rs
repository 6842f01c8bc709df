//! The keyboard wedge: a scanner that types as a keyboard does, told from a person by its pace.
//!
//! Every key is held back until the pace tells who typed it. Keys that follow each other within [`WedgeTiming::fast_gap`] are
//! one run; three characters in a run, or two and a terminator, are a scanner's. Then the whole run is
//! swallowed and comes out as one scan, ended by Enter, Tab or silence. A key that stays alone for one gap
//! was typed and comes out as it is, in order. The Enter that ends a scan never comes out: it could press a button.
//!
//! What the window has to do: send key presses in order with a monotonic time, leave auto-repeat out (a held key repeats about every 33 ms,
//! at a scanner's pace), and call [`Wedge::tick`] at the time that was asked for.

use std::time::Duration;

/// A key as the window sees it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum WedgeKey {
    /// A character, the group separator (Ctrl and `]`) included.
    Char(char),
    /// Enter of either block.
    Enter,
    /// Tab.
    Tab,
    /// Backspace.
    Backspace,
    /// Escape.
    Escape,
    /// Shift and Tab, or an arrow: no scanner sends them.
    Walk(WedgeWalk),
    /// Anything else, modifiers included.
    Other,
}

/// A key that only walks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[allow(missing_docs, reason = "the names stand on the keys")]
pub enum WedgeWalk {
    BackTab,
    Up,
    Down,
    Left,
    Right,
}

/// What comes out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum WedgeEvent {
    /// A person typed this.
    Typed(WedgeKey),
    /// A scanner sent this; its terminator is not in it.
    Scan(String),
    /// A scanner sent more than [`WedgeTiming::characters_most`]; the rest was dropped.
    ScanTooLong {
        /// How many characters came.
        characters: usize,
        /// The most that are kept.
        most: usize,
    },
}

/// What came out, and when to ask again.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct WedgeOutcome {
    /// In the order in which it happened.
    pub events: Vec<WedgeEvent>,
    /// When [`Wedge::tick`] is to be called if no key comes before, on the same clock as the keys.
    pub next_tick: Option<Duration>,
}

/// The pace by which a scanner is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct WedgeTiming {
    /// The longest time between two keys of a scanner at its start; a person's fingers take longer. Typed keys come out this much later.
    pub fast_gap: Duration,
    /// The silence that ends a scan without terminator; a hiccup inside a scan may last as long.
    pub silence: Duration,
    /// The most characters of one scan.
    pub characters_most: usize,
}

impl Default for WedgeTiming {
    fn default() -> Self {
        Self { fast_gap: Duration::from_millis(35), silence: Duration::from_millis(120), characters_most: 4096 }
    }
}

/// Characters of a run that make it a scanner's.
const CHARACTERS_OF_A_SCANNER: usize = 3;
/// Characters before a terminator that make it a scanner's: three keys at that pace, too.
const CHARACTERS_BEFORE_TERMINATOR: usize = 2;

/// Whose keys are coming.
#[derive(Debug, Clone, PartialEq, Eq)]
enum State {
    /// Nobody's.
    Idle,
    /// Not known yet: held keys.
    Held(Vec<WedgeKey>),
    /// A scanner's: its text so far, and how many characters came.
    Burst { text: String, characters: usize },
    /// A scan has ended; what follows at its pace is still the scanner's.
    Tail,
}

/// The filter.
#[derive(Debug, Clone)]
pub struct Wedge {
    timing: WedgeTiming,
    state: State,
    last: Duration,
}

impl Wedge {
    /// A filter at rest.
    pub const fn new(timing: WedgeTiming) -> Self {
        Self { timing, state: State::Idle, last: Duration::ZERO }
    }

    /// A key was pressed at this time. Times never run backwards; one that does counts as no time at all.
    pub fn key(&mut self, key: WedgeKey, at: Duration) -> WedgeOutcome {
        let mut events = Vec::new();
        self.lapse(at, true, &mut events);
        let gap = at.saturating_sub(self.last);
        self.last = at.max(self.last);
        self.state = match std::mem::replace(&mut self.state, State::Idle) {
            State::Idle => State::Held(vec![key]),
            State::Held(mut held) => {
                held.push(key);
                self.judge(held, &mut events)
            }
            State::Burst { text, characters } => self.burst(text, characters, key, &mut events),
            State::Tail => match key {
                WedgeKey::Enter | WedgeKey::Tab => State::Tail,
                _ if gap <= self.timing.fast_gap => self.burst(String::new(), 0, key, &mut events),
                WedgeKey::Char(_) | WedgeKey::Backspace | WedgeKey::Escape | WedgeKey::Walk(_) | WedgeKey::Other => {
                    State::Held(vec![key])
                }
            },
        };
        self.outcome(events)
    }

    /// Time has passed and no key came.
    pub fn tick(&mut self, at: Duration) -> WedgeOutcome {
        let mut events = Vec::new();
        self.lapse(at, false, &mut events);
        self.outcome(events)
    }

    fn deadline(&self) -> Option<Duration> {
        match self.state {
            State::Idle => None,
            State::Held(_) => Some(self.last + self.timing.fast_gap),
            State::Burst { .. } | State::Tail => Some(self.last + self.timing.silence),
        }
    }

    /// Ends what has waited long enough. A key exactly on the deadline is still in time; a tick then is not early.
    fn lapse(&mut self, at: Duration, by_key: bool, events: &mut Vec<WedgeEvent>) {
        let Some(deadline) = self.deadline() else { return };
        if at < deadline || (by_key && at == deadline) {
            return;
        }
        match std::mem::replace(&mut self.state, State::Idle) {
            State::Idle | State::Tail => {}
            State::Held(held) => events.extend(held.into_iter().map(WedgeEvent::Typed)),
            State::Burst { text, characters } => self.finish(text, characters, events),
        }
    }

    fn judge(&self, held: Vec<WedgeKey>, events: &mut Vec<WedgeEvent>) -> State {
        let characters = held.iter().filter(|key| matches!(key, WedgeKey::Char(_))).count();
        let terminated = matches!(held.last(), Some(WedgeKey::Enter | WedgeKey::Tab));
        let scanner =
            characters >= CHARACTERS_OF_A_SCANNER || (terminated && characters >= CHARACTERS_BEFORE_TERMINATOR);
        if !scanner {
            return State::Held(held);
        }
        // A terminator before the characters is the preamble that some scanners are set to send.
        let (mut text, mut characters) = (String::new(), 0);
        for key in &held {
            characters += self.keep(&mut text, characters, *key);
        }
        if terminated {
            self.finish(text, characters, events);
            return State::Tail;
        }
        State::Burst { text, characters }
    }

    fn burst(&self, mut text: String, mut characters: usize, key: WedgeKey, events: &mut Vec<WedgeEvent>) -> State {
        if matches!(key, WedgeKey::Enter | WedgeKey::Tab) {
            self.finish(text, characters, events);
            return State::Tail;
        }
        characters += self.keep(&mut text, characters, key);
        State::Burst { text, characters }
    }

    /// Adds a key to a scan's text and says whether it counts. Backspace and Escape stay in it as control characters, so
    /// that the scan is refused later instead of passing as what it is not.
    fn keep(&self, text: &mut String, characters: usize, key: WedgeKey) -> usize {
        let character = match key {
            WedgeKey::Char(character) => character,
            WedgeKey::Backspace => '\u{8}',
            WedgeKey::Escape => '\u{1b}',
            WedgeKey::Enter | WedgeKey::Tab | WedgeKey::Walk(_) | WedgeKey::Other => return 0,
        };
        if characters < self.timing.characters_most {
            text.push(character);
        }
        1
    }

    fn finish(&self, text: String, characters: usize, events: &mut Vec<WedgeEvent>) {
        let most = self.timing.characters_most;
        if characters > most {
            events.push(WedgeEvent::ScanTooLong { characters, most });
        } else if !text.is_empty() {
            events.push(WedgeEvent::Scan(text));
        }
    }

    fn outcome(&self, events: Vec<WedgeEvent>) -> WedgeOutcome {
        WedgeOutcome { events, next_tick: self.deadline() }
    }
}

impl Default for Wedge {
    fn default() -> Self {
        Self::new(WedgeTiming::default())
    }
}

#[cfg(test)]
mod tests;
