//! Keys of the window: what a scanner types is a scan, what a person types is a key.

use crate::config::Scanner;
use crate::kiosk::thread::Acts;
use slint::platform::Key;
use slint::{SharedString, Timer, TimerMode};
use sparkout_core::scan::wedge::{Wedge, WedgeEvent, WedgeKey, WedgeOutcome, WedgeTiming, WedgeWalk};
use sparkout_core::scan::{KeyCard, key_card};
use sparkout_ui::action::Action;
use sparkout_ui::window::{KeyPress, KioskWindow, WeakKioskWindow};
use std::cell::{Cell, RefCell};
use std::rc::Rc;
use std::time::Duration;

/// That somebody is there is told no more often.
const TOUCHES_TOLD_EVERY: Duration = Duration::from_secs(1);

/// A scanner that sends its terminator late sends it within this time.
const LATE_TERMINATOR: Duration = Duration::from_secs(1);

/// GS1's group separator, which a keyboard types as Control and `]`.
const GROUP_SEPARATOR: char = '\u{1d}';

/// The filter between the window's keys and the kiosk. Lives as long as the window.
pub struct Keys {
    window: WeakKioskWindow,
    acts: Acts,
    wedge: RefCell<Wedge>,
    timer: Timer,
    /// After a key card, until then, what ends a scan is not taken for a person's key.
    terminators_until: Cell<Duration>,
    now: Box<dyn Fn() -> Duration>,
}

impl Keys {
    /// Puts the filter before the window, and sends what people do to the kiosk.
    pub fn connect(
        window: &KioskWindow,
        acts: Acts,
        scanner: Scanner,
        now: impl Fn() -> Duration + 'static,
    ) -> Rc<Self> {
        let timing = WedgeTiming {
            fast_gap: Duration::from_millis(scanner.key_gap_ms),
            silence: Duration::from_millis(scanner.silence_ms),
            ..WedgeTiming::default()
        };
        let keys = Rc::new(Self {
            window: window.downgrade(),
            acts: acts.clone(),
            wedge: RefCell::new(Wedge::new(timing)),
            timer: Timer::default(),
            terminators_until: Cell::default(),
            now: Box::new(now),
        });
        window.on_action(move |action| acts.send(action));
        keys.note_touches(window);
        let filter = Rc::clone(&keys);
        window.on_key(Box::new(move |press| filter.pressed(&press)));
        keys
    }

    /// Somebody is there. A hand on the glass says so many times a second; once is enough.
    fn note_touches(self: &Rc<Self>, window: &KioskWindow) {
        let keys = Rc::downgrade(self);
        let told: Cell<Option<Duration>> = Cell::new(None);
        window.on_touched(move || {
            let Some(keys) = keys.upgrade() else { return };
            let now = (keys.now)();
            if told.get().is_none_or(|told| now.saturating_sub(told) >= TOUCHES_TOLD_EVERY) {
                told.set(Some(now));
                keys.acts.send(Action::Touched);
            }
        });
    }

    fn pressed(self: &Rc<Self>, press: &KeyPress) {
        // A key that is held down repeats at a scanner's pace.
        if press.repeat {
            return;
        }
        let outcome = self.wedge.borrow_mut().key(wedge_key(press), (self.now)());
        self.take(outcome);
    }

    fn take(self: &Rc<Self>, outcome: WedgeOutcome) {
        for event in outcome.events {
            match event {
                // A terminator that comes after its scan was known to be over presses nothing that a key card
                // has the ring on.
                WedgeEvent::Typed(WedgeKey::Enter | WedgeKey::Tab) if (self.now)() < self.terminators_until.get() => {}
                WedgeEvent::Typed(key) => self.typed(key),
                WedgeEvent::Scan(text) => self.scanned(text),
                WedgeEvent::ScanTooLong { characters, most } => {
                    tracing::warn!(characters, most, "a scan was cut");
                    self.let_go();
                    // Refused further on as too long, with its words.
                    self.acts.send(Action::Scan("X".repeat(characters.max(most))));
                }
            }
        }
        match outcome.next_tick {
            Some(at) => {
                let keys = Rc::downgrade(self);
                let wait = at.saturating_sub((self.now)()) + Duration::from_millis(1);
                self.timer.start(TimerMode::SingleShot, wait, move || {
                    if let Some(keys) = keys.upgrade() {
                        let outcome = keys.wedge.borrow_mut().tick((keys.now)());
                        keys.take(outcome);
                    }
                });
            }
            None => self.timer.stop(),
        }
    }

    /// A key card is the key it stands for, and leaves the ring where it is, so that the next one finds it; every other
    /// scan is the kiosk's to read.
    fn scanned(&self, text: String) {
        let Some(key) = key_card(&text) else {
            self.let_go();
            return self.acts.send(Action::Scan(text));
        };
        self.terminators_until.set((self.now)() + LATE_TERMINATOR);
        // Somebody is there, as with every key.
        self.acts.send(Action::Touched);
        self.typed(key_of(key));
    }

    /// A scanner that is a device of its own read this: it goes the way of a scan that came as keys.
    pub fn hear(&self, text: String) {
        self.scanned(text);
    }

    /// What the keyboard stood on is not pressed by a terminator that comes late.
    fn let_go(&self) {
        if let Some(window) = self.window.upgrade() {
            window.let_go();
        }
    }

    fn typed(&self, key: WedgeKey) {
        let text: SharedString = match key {
            WedgeKey::Char(character) => character.into(),
            WedgeKey::Enter => Key::Return.into(),
            WedgeKey::Backspace => Key::Backspace.into(),
            WedgeKey::Tab => Key::Tab.into(),
            WedgeKey::Escape => Key::Escape.into(),
            WedgeKey::Walk(walk) => walk_key(walk).into(),
            WedgeKey::Other => return,
        };
        if let Some(window) = self.window.upgrade() {
            window.typed(&KeyPress { text: text.into(), with_modifier: false, repeat: false });
        }
    }
}

fn wedge_key(press: &KeyPress) -> WedgeKey {
    let mut letters = press.text.chars();
    match (letters.next(), letters.next()) {
        (Some('\n' | '\r'), None) => WedgeKey::Enter,
        (Some('\t'), None) => WedgeKey::Tab,
        (Some('\u{8}' | '\u{7f}'), None) => WedgeKey::Backspace,
        (Some('\u{1b}'), None) => WedgeKey::Escape,
        (Some(letter), None) if walk_of(letter).is_some() => walk_of(letter).map_or(WedgeKey::Other, WedgeKey::Walk),
        (Some(']'), None) if press.with_modifier => WedgeKey::Char(GROUP_SEPARATOR),
        (Some(GROUP_SEPARATOR), None) => WedgeKey::Char(GROUP_SEPARATOR),
        (Some(character), None) if !press.with_modifier && is_text(character) => WedgeKey::Char(character),
        (Some(_), _) | (None, _) => WedgeKey::Other,
    }
}

fn key_of(card: KeyCard) -> WedgeKey {
    match card {
        KeyCard::Character(character) => WedgeKey::Char(character.into()),
        KeyCard::Point => WedgeKey::Char('.'),
        KeyCard::Minus => WedgeKey::Char('-'),
        KeyCard::Space => WedgeKey::Char(' '),
        KeyCard::Erase => WedgeKey::Backspace,
        KeyCard::Enter => WedgeKey::Enter,
        KeyCard::On => WedgeKey::Tab,
        KeyCard::Before => WedgeKey::Walk(WedgeWalk::BackTab),
    }
}

const WALKS: [(WedgeWalk, Key); 5] = [
    (WedgeWalk::BackTab, Key::Backtab),
    (WedgeWalk::Up, Key::UpArrow),
    (WedgeWalk::Down, Key::DownArrow),
    (WedgeWalk::Left, Key::LeftArrow),
    (WedgeWalk::Right, Key::RightArrow),
];

fn walk_of(letter: char) -> Option<WedgeWalk> {
    WALKS.iter().find(|(_, key)| char::from(*key) == letter).map(|(walk, _)| *walk)
}

const fn walk_key(walk: WedgeWalk) -> Key {
    match walk {
        WedgeWalk::BackTab => Key::Backtab,
        WedgeWalk::Up => Key::UpArrow,
        WedgeWalk::Down => Key::DownArrow,
        WedgeWalk::Left => Key::LeftArrow,
        WedgeWalk::Right => Key::RightArrow,
    }
}

/// Slint writes arrows and function keys as private characters, and modifiers as control characters.
fn is_text(character: char) -> bool {
    !character.is_control() && !('\u{f700}'..='\u{f8ff}').contains(&character)
}

#[cfg(test)]
mod tests;
