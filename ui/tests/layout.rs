//! What is pressed can be reached, hit and named, on every sample screen at every size.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::float_cmp)]

use crate::bench::{Bench, pose, wait};
use crate::fit::{self, Rules, Sheet};
use crate::samples::bench::{cases, stands};
use i_slint_backend_testing::ElementHandle;
use slint::platform::WindowEvent;
use slint::{ComponentHandle as _, LogicalSize};
use sparkout_core::reading::Units;
use sparkout_ui::screen::{Body, Language, Screen, Settings, Theme as ThemeChoice};
use sparkout_ui::window::{Theme, ThemeName};

/// Panels that are sold: pixels across and down, and the width of the picture in millimetres.
pub const SIZES: [(f32, f32, f32); 3] = [(1280.0, 800.0, 217.0), (1024.0, 600.0, 223.0), (1920.0, 1080.0, 345.0)];

/// The rules of the panel that a window stands for.
pub fn rules(bench: &Bench, panel_mm: f32) -> Rules {
    let theme = bench.window.component().global::<Theme>();
    let (width, height) = (theme.get_window_width(), theme.get_window_height());
    let sheet = Sheet { top: theme.get_strip(), bottom: height - theme.get_rail(), margin: theme.get_wide() };
    Rules::of_panel(width, height, panel_mm, theme.get_action()).with_sheet(sheet)
}

/// The usual samples, and those with the longest words.
fn every_sample(language: Language) -> Vec<(String, Screen)> {
    let named = |kind: &'static str| move |(name, screen)| (format!("{kind}{name}"), screen);
    let usual = crate::samples::all(language).into_iter().map(named(""));
    usual.chain(crate::samples::long(language).into_iter().map(named("long "))).collect()
}

#[test]
fn every_screen_can_be_read_and_pressed_in_every_language_theme_and_size() {
    let mut wrong = Vec::new();
    for (width, height, panel_mm) in SIZES {
        let bench = Bench::new(width, height);
        bench.window.set_panel_width_mm(panel_mm);
        for theme in [ThemeChoice::Light, ThemeChoice::Dark, ThemeChoice::Contrast] {
            for language in [Language::English, Language::Spanish] {
                for (name, mut screen) in every_sample(language) {
                    screen.settings.theme = theme;
                    bench.show(&screen);
                    for fault in fit::faults(bench.window.component().window(), &rules(&bench, panel_mm)) {
                        wrong.push(format!("{width}x{height} {theme:?} {language:?} {name}: {fault}"));
                    }
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{} faults:\n{}", wrong.len(), wrong.join("\n"));
}

/// The longest figures are metric ones; the samples' are inches. Argentina writes a comma and Spanish, the United
/// States a point and English.
#[test]
fn what_a_visit_computes_fits_in_every_unit() {
    let mut wrong = Vec::new();
    let mut seen = 0;
    for (width, height, panel_mm) in SIZES {
        let bench = Bench::new(width, height);
        bench.window.set_panel_width_mm(panel_mm);
        for (language, region) in [(Language::English, "US"), (Language::Spanish, "AR")] {
            for units in [Units::Inch, Units::Thou, Units::Metric] {
                let settings = Settings { language, units, region: region.parse().unwrap(), ..Settings::default() };
                for walk in cases().into_iter().flat_map(stands) {
                    bench.show(&walk.step_screen(settings));
                    seen += 1;
                    let stage = walk.visit.stage_name();
                    for fault in fit::faults(bench.window.component().window(), &rules(&bench, panel_mm)) {
                        wrong.push(format!("{width}x{height} {units:?} {region} {stage:?}: {fault}"));
                    }
                }
            }
        }
    }
    assert!(seen > 900, "only {seen} screens");
    assert!(wrong.is_empty(), "{} faults:\n{}", wrong.len(), wrong.join("\n"));
}

#[test]
fn every_widget_in_every_state_can_be_read() {
    let bench = Bench::new(1280.0, 800.0);
    for theme in [ThemeName::Light, ThemeName::Dark, ThemeName::Contrast] {
        let gallery = pose::widgets(theme);
        // It is drawn at the size of 1280 pixels on 217 mm.
        let action_fill = gallery.global::<Theme>().get_action();
        let rules = Rules { action_fill, sheet: Sheet::NONE, ..rules(&bench, 217.0) };
        let wrong = fit::faults(gallery.window(), &rules);
        assert!(wrong.is_empty(), "{theme:?}: {wrong:#?}");
    }
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
