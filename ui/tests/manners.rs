//! The window's own manners: who is there, who wakes it, who closes it, and that practice is marked everywhere.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::float_cmp)]

use crate::bench::{Bench, middle, wait};
use slint::platform::{Key, WindowEvent};
use slint::{ComponentHandle as _, LogicalPosition};
use sparkout_ui::action::{Action, Manner};
use sparkout_ui::screen::{Body, Language, LinkState, Look, Practice, Screen};
use sparkout_ui::window::Theme;
use std::cell::Cell;
use std::rc::Rc;

const WAKE: Action = Action::Manner { manner: Manner::Wake, index: 0 };

fn touches(bench: &Bench) -> Rc<Cell<u32>> {
    let count = Rc::new(Cell::new(0));
    let counted = Rc::clone(&count);
    bench.window.on_touched(move || counted.set(counted.get() + 1));
    count
}

fn sample(name: &str, language: Language) -> Screen {
    crate::samples::all(language).into_iter().find(|(sample, _)| *sample == name).unwrap().1
}

#[test]
fn a_finger_and_a_key_say_that_somebody_is_there_whatever_they_meet() {
    let bench = Bench::new(1280.0, 800.0);
    let touched = touches(&bench);
    bench.show_sample("02-home");
    // A bare place of the sheet, then a control, then a key.
    for at in [LogicalPosition::new(400.0, 140.0), middle(&bench.control("Find by mower"))] {
        let before = touched.get();
        bench.down(at);
        bench.up(at);
        assert!(touched.get() > before, "{at:?}");
    }
    let before = touched.get();
    bench.key(Key::F1);
    assert!(touched.get() > before);
    // A finger that comes down again where it was.
    let before = touched.get();
    let at = LogicalPosition::new(400.0, 140.0);
    for _ in 0..2 {
        bench.down(at);
        bench.up(at);
    }
    assert!(touched.get() >= before + 2);
}

#[test]
fn the_touch_that_wakes_the_screen_presses_nothing() {
    let bench = Bench::new(1280.0, 800.0);
    let lit = sample("02-home", Language::English);
    bench.show(&lit);
    let at = middle(&bench.control("Find by mower"));
    bench.show_sample("96-dimmed");
    bench.down(at);
    wait(50);
    assert_eq!(bench.taken(), [], "it wakes when the finger lifts");
    bench.up(at);
    assert_eq!(bench.taken(), [WAKE]);
    // The screen lights up under a finger that still lies there: what lies below it now hears nothing of it.
    bench.show_sample("96-dimmed");
    bench.down(at);
    bench.show(&lit);
    bench.up(at);
    let pressed: Vec<Action> = bench.taken().into_iter().filter(|action| *action != WAKE).collect();
    assert_eq!(pressed, []);
}

#[test]
fn the_key_that_wakes_the_screen_types_nothing() {
    let bench = Bench::new(1280.0, 800.0);
    let mut screen = sample("12-tape-first", Language::English);
    screen.manners.veil = sample("96-dimmed", Language::English).manners.veil;
    bench.show(&screen);
    bench.key("5");
    assert_eq!(bench.taken(), [WAKE]);
    screen.manners.veil = None;
    bench.show(&screen);
    assert_eq!(bench.reading(), "");
}

#[test]
fn a_guarded_window_stays_open_and_says_that_it_was_asked() {
    let bench = Bench::new(1280.0, 800.0);
    bench.show_sample("02-home");
    bench.window.guard_closing();
    bench.event(WindowEvent::CloseRequested);
    assert_eq!(bench.taken(), [Action::CloseAsked]);
    assert!(bench.window.component().window().is_visible());
}

/// By word, by shape and by colour: whatever fills the sheet.
#[test]
fn practice_is_marked_on_every_screen_in_every_language() {
    let bench = Bench::new(1280.0, 800.0);
    for (language, word) in [(Language::English, "PRACTICE"), (Language::Spanish, "PRÁCTICA")] {
        for (name, mut screen) in crate::samples::all(language) {
            if matches!(screen.body, Body::Starting | Body::Fault(_)) || screen.manners.veil.is_some() {
                continue;
            }
            let marks = |bench: &Bench| {
                let texts = bench.texts();
                let word = texts.iter().any(|text| text.accessible_label().is_some_and(|label| label == word));
                let picture = crate::bench::pose::picture(&bench.window);
                let colour = bench.window.component().global::<Theme>().get_practice();
                let plum = [colour.red(), colour.green(), colour.blue()];
                // Both edges of the sheet are striped from top to foot.
                let striped = |x: u32| (100..600).filter(|y| picture.get_pixel(x, *y).0[..3] == plum).count() > 100;
                (word, striped(3), striped(1276))
            };
            screen.manners.practice = None;
            screen.manners.coach = None;
            screen.question = None;
            let clearance = matches!(screen.body, Body::Clearance(_));
            bench.show(&screen);
            assert_eq!(marks(&bench), (false, false, false), "{name}: nothing real looks like practice");
            screen.manners.practice = Some(Practice::default());
            bench.show(&screen);
            assert_eq!(marks(&bench), (true, true, true), "{name}");
            if clearance {
                let texts = bench.texts();
                let said =
                    |part| texts.iter().any(|text| text.accessible_label().is_some_and(|label| label.contains(part)));
                assert!(said("clears nothing real") || said("no autoriza nada real"), "{name}");
            }
        }
    }
}

#[test]
fn the_strip_says_the_truth_about_link_printer_and_clock() {
    let bench = Bench::new(1024.0, 600.0);
    bench.window.set_panel_width_mm(223.0);
    for (language, words) in [
        (Language::English, ["No hub", "Hub", "Offline, 7 unsent", "Printer", "Printer not ready", "Clock changed"]),
        (
            Language::Spanish,
            ["Sin central", "Central", "Sin enlace, 7 sin enviar", "Impresora", "Impresora no lista", "Reloj cambiado"],
        ),
    ] {
        let mut screen = sample("12-tape-first", language);
        let mut shown = |link, printer_ready, clock_changed| {
            screen.strip.link = link;
            screen.strip.printer_ready = printer_ready;
            screen.strip.clock_changed = clock_changed;
            bench.show(&screen);
            let texts = bench.texts();
            words.map(|word| {
                texts
                    .iter()
                    .any(|text| text.accessible_label().is_some_and(|label| label == word) && text.size().width > 1.0)
            })
        };
        assert_eq!(shown(LinkState::NoHub, true, false), [true, false, false, true, false, false]);
        assert_eq!(shown(LinkState::Online, false, false), [false, true, false, false, true, false]);
        assert_eq!(shown(LinkState::Offline { unsent: 7 }, true, true), [false, false, true, true, false, true]);
    }
}

#[test]
fn panel_and_motion_follow_the_settings_at_once() {
    let bench = Bench::new(1280.0, 800.0);
    let mut screen = sample("02-home", Language::English);
    screen.manners.look = Some(Look { panel_width_mm: 180.0, reduced_motion: true });
    bench.show(&screen);
    let theme = bench.window.component().global::<Theme>();
    assert_eq!(theme.get_panel_width_mm(), 180.0);
    assert!(theme.get_reduced_motion());
    let wide = bench.control("Settings").size().width;
    screen.manners.look = Some(Look { panel_width_mm: 217.0, reduced_motion: false });
    bench.show(&screen);
    assert!(bench.control("Settings").size().width < wide, "the same 15 mm are fewer pixels");
    assert!(!theme.get_reduced_motion());
}

#[test]
fn a_pointer_that_only_moves_is_somebody_too() {
    let bench = Bench::new(1280.0, 800.0);
    let touched = touches(&bench);
    bench.show_sample("12-tape-first");
    for x in [200.0, 220.0] {
        bench.event(WindowEvent::PointerMoved { position: LogicalPosition::new(x, 300.0) });
    }
    assert!(touched.get() >= 1);
}
