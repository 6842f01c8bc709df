//! Scans and typing at every sample screen, whatever the keyboard stands on.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::disallowed_names)]

use super::*;
use i_slint_backend_testing::{TestingBackend, TestingBackendOptions, mock_elapsed_time};
use proptest::prelude::*;
use slint::ComponentHandle as _;
use slint::platform::WindowEvent;
use sparkout_ui::screen::{Language, Screen};
use std::cell::Cell;

#[path = "../../../../ui/tests/samples/mod.rs"]
mod samples;

/// A person's keys follow each other no faster than this, ms.
const PERSON_MS: u64 = 90;
/// A scanner's keys, ms.
const SCANNER_MS: u64 = 4;
/// Between two acts of different hands, ms: longer than the silence that ends a scan.
const APART_MS: u64 = 200;

struct Desk<T> {
    window: KioskWindow,
    _keys: Rc<Keys>,
    now: Rc<Cell<u64>>,
    heard: T,
}

fn desk() -> Desk<impl Fn() -> Vec<Action>> {
    let _ = slint::platform::set_platform(Box::new(TestingBackend::new(TestingBackendOptions {
        mock_time: true,
        threading: false,
        renderer_name: Some("software".into()),
    })));
    let window = KioskWindow::new().unwrap();
    window.set_size(1280.0, 800.0);
    window.component().show().unwrap();
    let (acts, heard) = Acts::heard();
    let now = Rc::new(Cell::new(1000));
    let time = Rc::clone(&now);
    let scanner = crate::config::Config::load(None).unwrap().scanner;
    let keys = Keys::connect(&window, acts, scanner, move || Duration::from_millis(time.get()));
    // That somebody is there is told besides, and does nothing.
    let heard = move || heard().into_iter().filter(|action| *action != Action::Touched).collect();
    Desk { window, _keys: keys, now, heard }
}

impl<T: Fn() -> Vec<Action>> Desk<T> {
    fn wait(&self, milliseconds: u64) {
        let mut left = milliseconds;
        while left > 0 {
            let step = left.min(10);
            self.now.set(self.now.get() + step);
            mock_elapsed_time(Duration::from_millis(step));
            left -= step;
        }
    }

    fn key(&self, text: SharedString, gap_ms: u64) {
        let window = self.window.component().window();
        window.dispatch_event(WindowEvent::KeyPressed { text: text.clone() });
        window.dispatch_event(WindowEvent::KeyReleased { text });
        self.wait(gap_ms);
    }

    fn scan(&self, text: &str, end: Option<Key>) {
        for letter in text.chars() {
            self.key(letter.into(), SCANNER_MS);
        }
        if let Some(key) = end {
            self.key(key.into(), SCANNER_MS);
        }
        self.wait(APART_MS);
    }
}

/// What a hand does.
#[derive(Debug, Clone)]
enum Hand {
    Types(SharedString),
    Scans(&'static str, Option<Key>),
    Card(KeyCard, Option<Key>),
    Waits(u64),
}

fn hand() -> impl Strategy<Value = Hand> {
    let keys: Vec<SharedString> = ["0", "5", ".", "-", "a"]
        .into_iter()
        .map(Into::into)
        .chain(
            [
                Key::Return,
                Key::Space,
                Key::Tab,
                Key::Backtab,
                Key::Escape,
                Key::UpArrow,
                Key::DownArrow,
                Key::Backspace,
            ]
            .map(Into::into),
        )
        .collect();
    let texts = ["Q-114", "SPKC4NEXTU", "SPKC8PASSDONES", "SPKB41042A", "5.020", "   "];
    let ends = [Some(Key::Return), Some(Key::Tab), None];
    prop_oneof![
        8 => prop::sample::select(keys).prop_map(Hand::Types),
        2 => (prop::sample::select(texts.to_vec()), prop::sample::select(ends.to_vec()))
            .prop_map(|(text, end)| Hand::Scans(text, end)),
        2 => (prop::sample::select(KeyCard::all().collect::<Vec<_>>()), prop::sample::select(ends.to_vec()))
            .prop_map(|(key, end)| Hand::Card(key, end)),
        1 => (500_u64..3000).prop_map(Hand::Waits),
    ]
}

thread_local! {
    static SAMPLES: Vec<(&'static str, Screen)> = samples::all(Language::English);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    /// Nothing that is typed or scanned acknowledges or starts; a scan is a scan and nothing besides.
    #[test]
    fn no_key_and_no_scan_holds_anything(
        sample in any::<prop::sample::Index>(),
        hands in prop::collection::vec(hand(), 1..12),
        tabs in 0_usize..12,
    ) {
        let desk = desk();
        let (name, screen) = SAMPLES.with(|all| all[sample.index(all.len())].clone());
        desk.window.show_screen(&screen);
        for _ in 0..tabs {
            desk.key(Key::Tab.into(), PERSON_MS);
        }
        (desk.heard)();
        for hand in &hands {
            match hand {
                Hand::Types(text) => desk.key(text.clone(), PERSON_MS),
                Hand::Waits(milliseconds) => desk.wait(*milliseconds),
                Hand::Card(key, end) => {
                    desk.wait(APART_MS);
                    desk.scan(&key.code(), *end);
                }
                Hand::Scans(text, end) => {
                    desk.wait(APART_MS);
                    (desk.heard)();
                    desk.scan(text, *end);
                    let heard = (desk.heard)();
                    prop_assert_eq!(heard, vec![Action::Scan((*text).to_owned())], "{}", name);
                    prop_assert_eq!(desk.window.reached(), None, "{}", name);
                }
            }
            for action in (desk.heard)() {
                prop_assert!(!matches!(action, Action::Held { .. }), "{}: {:?}", name, action);
            }
        }
    }
}

#[test]
fn a_person_walks_and_presses_and_a_scan_between_takes_the_ring_away() {
    let desk = desk();
    let (_, screen) = samples::all(Language::English).into_iter().find(|(name, _)| *name == "50-grind").unwrap();
    desk.window.show_screen(&screen);
    for _ in 0..20 {
        desk.key(Key::Tab.into(), PERSON_MS);
        if desk.window.reached().as_deref() == Some("Pass done") {
            break;
        }
    }
    desk.key(Key::Return.into(), PERSON_MS);
    let done = Action::Press { control: sparkout_ui::action::Control::PassDone, index: 0 };
    assert_eq!((desk.heard)(), [done]);
    assert_eq!(desk.window.reached().as_deref(), Some("Pass done"));
    desk.scan("Q-114", None);
    // A terminator that comes long after its scan is a person's Enter to the filter.
    desk.key(Key::Return.into(), PERSON_MS);
    assert_eq!((desk.heard)(), [Action::Scan("Q-114".to_owned())]);
}

#[test]
fn key_cards_do_what_the_keys_do_and_a_late_terminator_presses_nothing() {
    let desk = desk();
    let (_, screen) = samples::all(Language::English).into_iter().find(|(name, _)| *name == "50-grind").unwrap();
    desk.window.show_screen(&screen);
    for _ in 0..20 {
        desk.scan(&KeyCard::On.code(), Some(Key::Return));
        if desk.window.reached().as_deref() == Some("Pass done") {
            break;
        }
    }
    // The ring stands on a control that presses, and the scanner's Enter comes after the filter gave up waiting for it.
    desk.key(Key::Return.into(), PERSON_MS);
    assert_eq!((desk.heard)(), []);
    desk.scan(&KeyCard::Enter.code(), None);
    let done = Action::Press { control: sparkout_ui::action::Control::PassDone, index: 0 };
    assert_eq!((desk.heard)(), [done]);
}
