//! What is pressed can be reached, hit and named, on every sample screen at every size.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::float_cmp)]

use crate::bench::{Bench, wait};
use i_slint_backend_testing::ElementHandle;
use slint::platform::WindowEvent;
use slint::{ComponentHandle as _, LogicalSize, SharedString};
use sparkout_ui::screen::{Body, Language, Screen};
use sparkout_ui::window::Theme;

/// The usual samples, and those with the longest words.
fn every_sample(language: Language) -> Vec<(String, Screen)> {
    let named = |kind: &'static str| move |(name, screen)| (format!("{kind}{name}"), screen);
    let usual = crate::samples::all(language).into_iter().map(named(""));
    usual.chain(crate::samples::long(language).into_iter().map(named("long "))).collect()
}

#[test]
fn every_control_has_a_name_its_own_a_label_and_its_size_and_is_on_the_window() {
    for (width, height, panel_mm) in [(1280.0, 800.0, 217.0), (1024.0, 600.0, 223.0), (1920.0, 1080.0, 345.0)] {
        let bench = Bench::new(width, height);
        bench.window.set_panel_width_mm(panel_mm);
        // The physical rule: 15 mm, less a pixel's rounding.
        let least = 15.0 * width / panel_mm - 1.0;
        for language in [Language::English, Language::Spanish] {
            for (name, screen) in every_sample(language) {
                bench.show(&screen);
                let mut names = Vec::new();
                for control in bench.controls() {
                    // The query walks a list inside a condition more than once.
                    let id = control.accessible_id().unwrap_or_default();
                    let (at, size) = (control.absolute_position(), control.size());
                    let place = format!("{width}x{height} {language:?} {name}: {id:?} {at:?} {size:?}");
                    assert!(!id.is_empty() && !control.accessible_label().unwrap_or_default().is_empty(), "{place}");
                    assert!(size.width >= least && size.height >= least, "too small: {place}");
                    assert!(at.x >= -0.5 && at.y >= -0.5, "off the window: {place}");
                    assert!(at.x + size.width <= width + 0.5 && at.y + size.height <= height + 0.5, "off: {place}");
                    let elsewhere = |(name, x, y): &(SharedString, f32, f32)| {
                        *name == id && ((*x - at.x).abs() > 0.1 || (*y - at.y).abs() > 0.1)
                    };
                    assert!(!names.iter().any(elsewhere), "twice: {place}");
                    names.push((id, at.x, at.y));
                }
                // Nothing pressable hides under the furniture of the foot, except what stands in it.
                let rail = height - bench.window.component().global::<Theme>().get_rail();
                for control in bench.controls() {
                    let (at, size) = (control.absolute_position(), control.size());
                    let across = size.height >= 1.0 && at.y < rail - 0.5 && at.y + size.height > rail + 0.5;
                    assert!(
                        !across,
                        "{width}x{height} {language:?} {name}: {:?} runs under the rail",
                        control.accessible_id()
                    );
                }
            }
        }
    }
}

#[test]
fn no_text_runs_off_the_sheet() {
    let mut off = Vec::new();
    for (width, height, panel_mm) in [(1280.0, 800.0, 217.0), (1024.0, 600.0, 223.0), (1920.0, 1080.0, 345.0)] {
        let bench = Bench::new(width, height);
        bench.window.set_panel_width_mm(panel_mm);
        for language in [Language::English, Language::Spanish] {
            for (name, screen) in every_sample(language) {
                bench.show(&screen);
                let rail = height - bench.window.component().global::<Theme>().get_rail();
                for text in bench.texts() {
                    let (at, size) = (text.absolute_position(), text.size());
                    let across = at.y < rail && at.y + size.height > rail + 1.0 && screen.question.is_none();
                    let outside = at.x < -1.0 || at.x + size.width > width + 1.0 || at.y + size.height > height + 1.0;
                    if across || outside {
                        let words = text.accessible_label().unwrap_or_default();
                        off.push(format!("{width}x{height} {language:?} {name}: {words:?} {at:?} {size:?}"));
                    }
                }
            }
        }
    }
    assert!(off.is_empty(), "{off:#?}");
}

#[test]
fn sizes_follow_a_window_that_is_resized() {
    let bench = Bench::new(1280.0, 800.0);
    bench.show_sample("22-front-second");
    let before = bench.control("7").size();
    bench.event(WindowEvent::Resized { size: LogicalSize::new(1920.0, 1080.0) });
    wait(1);
    let theme = bench.window.component().global::<Theme>();
    assert_eq!((theme.get_window_width(), theme.get_window_height()), (1920.0, 1080.0));
    assert!(bench.control("7").size().width > before.width * 1.2);
}

#[test]
fn keys_and_actions_are_twenty_millimetres() {
    let bench = Bench::new(1280.0, 800.0);
    bench.window.set_panel_width_mm(217.0);
    bench.show_sample("22-front-second");
    let least = 20.0 * 1280.0 / 217.0 - 1.0;
    for name in ["7", "±", ".", "0", "Erase", "Take reading"] {
        let size = bench.control(name).size();
        assert!(size.width >= least && size.height >= least, "{name}: {size:?}");
    }
}

#[test]
fn a_way_back_and_a_pause_stand_on_every_stage() {
    let bench = Bench::new(1280.0, 800.0);
    for (name, screen) in crate::samples::all(Language::English) {
        bench.show(&screen);
        let names: Vec<_> = bench.controls().iter().filter_map(ElementHandle::accessible_id).collect();
        let has = |wanted: &str| names.iter().any(|name| name == wanted);
        let first = matches!(screen.body, Body::Starting | Body::Fault(_) | Body::Home(_));
        assert_eq!(has("Back"), !first, "{name}");
        assert_eq!(has("Pause visit"), !screen.rail.is_empty(), "{name}");
    }
}
