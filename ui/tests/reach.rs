//! Everything but acknowledgements by keyboard, on every sample; and no key, scan or accessibility action acknowledges.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use crate::bench::{Bench, middle, pose, wait};
use crate::fit::{Control as Seen, look};
use slint::ComponentHandle as _;
use slint::platform::Key;
use sparkout_ui::action::{Action, Control};
use sparkout_ui::screen::{Language, Screen, Settings, Theme as ThemeChoice};
use std::cell::RefCell;
use std::collections::BTreeSet;
use std::rc::Rc;

/// Digits, sign and Erase are typed; they are no stops on the way.
const TYPED: [&str; 14] = ["0", "1", "2", "3", "4", "5", "6", "7", "8", "9", ".", "±", "Erase", "Wake"];

/// What a key does by being typed: digits, and the letters of the letter pad. Any key wakes a dimmed screen.
fn is_typed(id: &str) -> bool {
    TYPED.contains(&id) || id.chars().count() == 1 || id == "Space"
}

/// Controls that are held by a pointer.
const HELD: [&str; 14] = [
    "Power is off and was tried",
    "I have checked it",
    "Start the grind",
    "Both stand still",
    "Nothing moved",
    "It is dead",
    "My lock is off",
    "I have been told",
    "Looked over this shift",
    "I mounted it so",
    "My lock and tag are on",
    "I took it off by exception",
    "It is scrapped",
    "It is that large",
];

fn samples() -> Vec<(String, Screen)> {
    let long =
        crate::samples::long(Language::English).into_iter().map(|(name, screen)| (format!("long {name}"), screen));
    crate::samples::all(Language::English)
        .into_iter()
        .map(|(name, screen)| (name.to_owned(), screen))
        .chain(long)
        .collect()
}

/// The controls that can be pressed now: those of the uppermost layer that are not off.
fn controls(bench: &Bench) -> Vec<Seen> {
    let seen = look(bench.window.component().window());
    let top = seen.controls.iter().map(|control| control.layer).max().unwrap_or_default();
    seen.controls.into_iter().filter(|control| control.layer == top && control.enabled).collect()
}

/// Walks until the ring is back where it was first, or nowhere.
fn way(bench: &Bench, key: Key) -> Vec<String> {
    let mut way: Vec<String> = Vec::new();
    for _ in 0..100 {
        bench.key(key);
        let Some(at) = bench.window.reached() else { break };
        if way.first() == Some(&at) {
            break;
        }
        way.push(at);
    }
    way
}

#[test]
fn the_keyboard_reaches_every_control_that_is_on_and_none_below_a_question() {
    let bench = Bench::new(1280.0, 800.0);
    for (name, screen) in samples() {
        bench.show(&Screen::default());
        bench.show(&screen);
        let expected: BTreeSet<String> =
            controls(&bench).into_iter().map(|control| control.id).filter(|id| !is_typed(id)).collect();
        for key in [Key::Tab, Key::Backtab, Key::DownArrow, Key::LeftArrow] {
            let way = way(&bench, key);
            assert_eq!(way.len(), way.iter().collect::<BTreeSet<_>>().len(), "{name}: twice on the way: {way:?}");
            assert_eq!(way.into_iter().collect::<BTreeSet<_>>(), expected, "{name}");
        }
    }
}

fn to(bench: &Bench, name: &str) {
    for _ in 0..100 {
        bench.key(Key::Tab);
        if bench.window.reached().as_deref() == Some(name) {
            return;
        }
    }
    panic!("{name} is not on the way");
}

fn pressed_by_finger(bench: &Bench, name: &str) -> Vec<Action> {
    let at = middle(&bench.control(name));
    bench.down(at);
    bench.up(at);
    wait(1);
    bench.taken()
}

#[test]
fn enter_and_space_do_what_a_finger_does_except_to_a_held_control() {
    let bench = Bench::new(1280.0, 800.0);
    let mut pressed = 0;
    for (name, screen) in samples() {
        bench.show(&Screen::default());
        bench.show(&screen);
        for control in controls(&bench).into_iter().filter(|control| !is_typed(&control.id)) {
            // The screen as it was, whatever the last press changed in it.
            bench.show(&Screen::default());
            bench.show(&screen);
            let by_finger = pressed_by_finger(&bench, &control.id);
            for key in [Key::Return, Key::Space] {
                bench.show(&Screen::default());
                bench.show(&screen);
                to(&bench, &control.id);
                bench.key(key);
                let by_key = bench.taken();
                assert_eq!(by_key, by_finger, "{name}: {:?} by {key:?}", control.id);
                pressed += by_key.len();
                if HELD.contains(&control.id.as_str()) {
                    wait(3000);
                    assert_eq!(bench.taken(), [], "{name}: a key held {:?}", control.id);
                }
            }
        }
    }
    assert!(pressed > 200, "only {pressed} presses");
}

/// A small generator of its own, so that a failure comes again: Marsaglia, "Xorshift RNGs" (2003), 13, 7, 17.
struct Chance(u64);

impl Chance {
    fn below(&mut self, most: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        usize::try_from(self.0 % most as u64).unwrap()
    }
}

#[test]
fn no_stream_of_keys_holds_anything_whatever_the_ring_stands_on() {
    let keys: Vec<slint::SharedString> = ["1", "9", ".", "-", "\n", " ", "\r", "Q", "\u{8}", "h"]
        .into_iter()
        .map(Into::into)
        .chain(
            [
                Key::Tab,
                Key::Backtab,
                Key::Return,
                Key::Space,
                Key::Escape,
                Key::UpArrow,
                Key::RightArrow,
                Key::Menu,
                Key::F1,
            ]
            .map(Into::into),
        )
        .collect();
    let bench = Bench::new(1280.0, 800.0);
    let mut chance = Chance(0x5eed_cafe_f00d);
    let mut acts = 0;
    for (name, screen) in samples() {
        bench.show(&Screen::default());
        bench.show(&screen);
        for control in way(&bench, Key::Tab) {
            bench.show(&Screen::default());
            bench.show(&screen);
            to(&bench, &control);
            for _ in 0..40 {
                bench.key(keys[chance.below(keys.len())].clone());
                if chance.below(8) == 0 {
                    wait(1500);
                }
            }
            wait(3000);
            for action in bench.taken() {
                acts += 1;
                assert!(!matches!(action, Action::Held { .. }), "{name}: from {control:?} keys made {action:?}");
            }
        }
    }
    assert!(acts > 500, "only {acts} acts: the keys reached nothing");
}

#[test]
fn the_default_action_of_accessibility_presses_buttons_and_holds_nothing() {
    let bench = Bench::new(1280.0, 800.0);
    for (name, screen) in samples() {
        bench.show(&Screen::default());
        bench.show(&screen);
        for control in controls(&bench) {
            bench.show(&Screen::default());
            bench.show(&screen);
            let by_finger = pressed_by_finger(&bench, &control.id);
            bench.show(&Screen::default());
            bench.show(&screen);
            bench.control(&control.id).invoke_accessible_default_action();
            wait(2000);
            assert_eq!(bench.taken(), by_finger, "{name}: {:?}", control.id);
        }
    }
}

#[test]
fn before_the_filter_has_judged_a_key_it_moves_nothing_and_presses_nothing() {
    let bench = Bench::new(1280.0, 800.0);
    let sunk = Rc::new(RefCell::new(0));
    let count = sunk.clone();
    // What the wedge filter does with a scan: nothing of it is typing.
    bench.window.on_key(Box::new(move |_| *count.borrow_mut() += 1));
    for (name, screen) in samples() {
        bench.show(&screen);
        let before = *sunk.borrow();
        for text in ["S", "P", "K", "C", "4", "\n", "\t", " ", "\r"] {
            bench.key(text);
        }
        for key in [Key::Tab, Key::Return, Key::Space, Key::Escape, Key::DownArrow] {
            bench.key(key);
        }
        assert_eq!(*sunk.borrow() - before, 14, "{name}: every key goes to the filter");
        assert_eq!((bench.taken(), bench.window.reached()), (vec![], None), "{name}");
    }
}

#[test]
fn keys_arrive_although_the_control_in_hand_is_gone() {
    let bench = Bench::new(1280.0, 800.0);
    for first in ["23-front-adjust", "08-new-type", "04-find", "92-question", "10-receive", "40-clearance"] {
        bench.show_sample(first);
        for _ in 0..4 {
            bench.key(Key::Tab);
        }
        assert!(bench.window.reached().is_some(), "{first}");
        bench.show_sample("12-tape-first");
        bench.key("5");
        assert_eq!(bench.reading(), "5", "after {first}");
        bench.key(Key::Tab);
        assert!(bench.window.reached().is_some(), "after {first}");
        bench.key(Key::Escape);
        assert_eq!(bench.reading(), "", "Escape takes the number away first");
        bench.taken();
    }
    // A list that is drawn anew under the same names keeps the ring.
    bench.show_sample("08-new-type");
    to(&bench, "Field 2");
    let (_, mut screen) = samples().into_iter().find(|(name, _)| name == "08-new-type").unwrap();
    screen.strip.clock = "09:59".into();
    if let sparkout_ui::screen::Body::NewType(body) = &mut screen.body {
        body.fields[0].value = "12".into();
    }
    bench.show(&screen);
    wait(20);
    assert_eq!(bench.window.reached().as_deref(), Some("Field 2"));
    // The choice of kinds takes the place of the rows: nothing is in hand, and keys go on.
    bench.show_sample("10-receive");
    to(&bench, "Kind of visit");
    bench.key(Key::Return);
    to(&bench, "Check only");
    // What can be pressed is deaf for a moment after it changed.
    wait(400);
    bench.key(Key::Return);
    assert_eq!(bench.taken(), [Action::Press { control: Control::PickKind, index: 5 }]);
    to(&bench, "To Tape");
}

#[test]
fn a_number_comes_before_the_control_in_hand() {
    let bench = Bench::new(1280.0, 800.0);
    bench.show_sample("12-tape-first");
    to(&bench, "Back");
    bench.key("5");
    bench.key(Key::Space);
    assert_eq!(bench.taken(), []);
    bench.key(Key::Return);
    assert_eq!(bench.taken(), [Action::Enter("5".into())]);
}

#[test]
fn escape_goes_back_and_first_takes_away_the_notice() {
    let bench = Bench::new(1280.0, 800.0);
    let leaves = |sample: &str| {
        bench.show_sample(sample);
        bench.key(Key::Escape);
        bench.taken()
    };
    let press = |control| vec![Action::Press { control, index: 0 }];
    assert_eq!(leaves("91-notice"), press(Control::DismissNotice));
    assert_eq!(leaves("23-front-adjust"), press(Control::Back));
    assert_eq!(leaves("90-about"), press(Control::Back));
    assert_eq!(leaves("02-home"), []);
    assert_eq!(leaves("92-question"), [], "a question goes by being answered");
}

#[test]
fn a_finger_takes_the_ring_away() {
    let bench = Bench::new(1280.0, 800.0);
    bench.show_sample("50-grind");
    to(&bench, "Pass done");
    bench.press("Pass repeated");
    bench.taken();
    assert_eq!(bench.window.reached(), None);
    bench.key(Key::Return);
    assert_eq!(bench.taken(), [], "an Enter that comes later presses nothing");
}

#[test]
fn the_ring_is_seen_in_every_theme() {
    let bench = Bench::new(1280.0, 800.0);
    for theme in [ThemeChoice::Light, ThemeChoice::Dark, ThemeChoice::Contrast] {
        let (_, mut screen) = samples().into_iter().find(|(name, _)| name == "23-front-adjust").unwrap();
        screen.settings = Settings { theme, ..Settings::default() };
        for name in ["Turned", "Other adjuster", "Back"] {
            pose::show(&bench.window, "", &screen);
            let before = pose::picture(&bench.window);
            to(&bench, name);
            wait(600);
            let after = pose::picture(&bench.window);
            let colour = |pixel: &image::Rgba<u8>| slint::Color::from_rgb_u8(pixel[0], pixel[1], pixel[2]);
            // W3C, Web Content Accessibility Guidelines 2.2 (2023), 2.4.13: three to one between the same pixels with
            // the focus and without it.
            let told = |(one, other)| crate::contrast::contrast(colour(one), colour(other)) >= 3.0;
            let changed = before.pixels().zip(after.pixels()).filter(|pair| told(*pair)).count();
            assert!(changed > 500, "{theme:?} {name}: {changed} pixels");
            bench.window.let_go();
        }
    }
}
