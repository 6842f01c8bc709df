//! Contrast of every pair of colours in use, computed from the theme.
//!
//! Relative luminance and contrast ratio: W3C, Web Content Accessibility Guidelines 2.2 (2023), definitions
//! "relative luminance" and "contrast ratio"; limits: success criteria 1.4.3 (text 4.5, large text 3) and
//! 1.4.11 (parts of controls 3).

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use slint::{Color, ComponentHandle as _};
use sparkout_ui::screen::{Screen, Settings, Theme as ThemeChoice};
use sparkout_ui::window::{KioskWindow, Theme};

fn luminance(colour: Color) -> f64 {
    let part = |value: u8| {
        let value = f64::from(value) / 255.0;
        if value <= 0.04045 { value / 12.92 } else { ((value + 0.055) / 1.055).powf(2.4) }
    };
    0.2126 * part(colour.red()) + 0.7152 * part(colour.green()) + 0.0722 * part(colour.blue())
}

pub fn contrast(one: Color, other: Color) -> f64 {
    let (one, other) = (luminance(one), luminance(other));
    (one.max(other) + 0.05) / (one.min(other) + 0.05)
}

#[test]
fn the_formula_gives_the_extremes_of_the_guideline() {
    let (black, white) = (Color::from_rgb_u8(0, 0, 0), Color::from_rgb_u8(255, 255, 255));
    assert!((contrast(black, white) - 21.0).abs() < 1e-9);
    assert!((contrast(white, white) - 1.0).abs() < 1e-9);
}

/// Text at 4.5, large text and parts at 3; the high-contrast theme holds its text to 7.
fn pairs(t: &Theme<'_>) -> Vec<(&'static str, Color, Color, f64)> {
    let text = 4.5;
    let large = 3.0;
    vec![
        ("ink on ground", t.get_ink(), t.get_ground(), text),
        ("ink on panel", t.get_ink(), t.get_panel(), text),
        ("ink on second", t.get_ink(), t.get_second(), text),
        ("ink on second, pressed", t.get_ink(), t.get_second_down(), text),
        ("ink on key, pressed", t.get_ink(), t.get_key_down(), text),
        ("ink on action-soft", t.get_ink(), t.get_action_soft(), text),
        ("ink on spark-soft", t.get_ink(), t.get_spark_soft(), text),
        ("ink on brass-soft", t.get_ink(), t.get_brass_soft(), text),
        ("quiet on ground", t.get_quiet(), t.get_ground(), text),
        ("quiet on panel", t.get_quiet(), t.get_panel(), text),
        ("quiet on action-soft", t.get_quiet(), t.get_action_soft(), text),
        ("quiet on spark-soft", t.get_quiet(), t.get_spark_soft(), text),
        ("quiet on brass-soft", t.get_quiet(), t.get_brass_soft(), text),
        ("action on ground", t.get_action(), t.get_ground(), text),
        ("action on panel", t.get_action(), t.get_panel(), text),
        ("on-action on action", t.get_on_action(), t.get_action(), text),
        ("on-action on action, pressed", t.get_on_action(), t.get_action_down(), text),
        ("spark-text on ground", t.get_spark_text(), t.get_ground(), text),
        ("spark-text on panel", t.get_spark_text(), t.get_panel(), text),
        ("brass on panel", t.get_brass(), t.get_panel(), text),
        ("brass on brass-soft", t.get_brass(), t.get_brass_soft(), text),
        ("on-furniture on furniture", t.get_on_furniture(), t.get_furniture(), text),
        ("furniture-quiet on furniture", t.get_furniture_quiet(), t.get_furniture(), text),
        ("on-danger on danger", t.get_on_danger(), t.get_danger(), text),
        ("on-warning on warning", t.get_on_warning(), t.get_warning(), text),
        ("on-caution on caution", t.get_on_caution(), t.get_caution(), text),
        ("on-notice on notice", t.get_on_notice(), t.get_notice(), text),
        ("on-signal-sheet on signal-sheet", t.get_on_signal_sheet(), t.get_signal_sheet(), text),
        ("quiet-on-signal-sheet on signal-sheet", t.get_quiet_on_signal_sheet(), t.get_signal_sheet(), text),
        ("practice on ground", t.get_practice(), t.get_ground(), text),
        ("practice on on-practice", t.get_practice(), t.get_on_practice(), text),
        ("on-night on night", t.get_on_night(), t.get_night(), text),
        ("furniture-wrong on furniture", t.get_furniture_wrong(), t.get_furniture(), text),
        ("spark figure on ground", t.get_spark(), t.get_ground(), large),
        ("spark on panel", t.get_spark(), t.get_panel(), large),
        ("on-spark on spark", t.get_on_spark(), t.get_spark(), large),
        ("brass mark on ground", t.get_brass(), t.get_ground(), large),
        ("edge on ground", t.get_edge(), t.get_ground(), large),
        ("edge on panel", t.get_edge(), t.get_panel(), large),
        ("spark on furniture", t.get_spark(), t.get_furniture(), large),
        ("furniture-done on furniture", t.get_furniture_done(), t.get_furniture(), large),
        ("furniture-edge on furniture", t.get_furniture_edge(), t.get_furniture(), large),
        ("on-steel on steel", t.get_on_steel(), t.get_steel(), text),
        ("steel-dark on ground", t.get_steel_dark(), t.get_ground(), large),
        ("steel-dark on action-soft", t.get_steel_dark(), t.get_action_soft(), large),
    ]
}

#[test]
fn every_pair_in_use_can_be_read_in_every_theme() {
    i_slint_backend_testing::init_no_event_loop();
    let window = KioskWindow::new().unwrap();
    let mut poor = Vec::new();
    for choice in [ThemeChoice::Light, ThemeChoice::Dark, ThemeChoice::Contrast] {
        window
            .show_screen(&Screen { settings: Settings { theme: choice, ..Settings::default() }, ..Screen::default() });
        for (name, one, other, least) in pairs(&window.component().global::<Theme>()) {
            let safety =
                name.contains("signal") || ["danger", "warning", "caution", "notice"].iter().any(|w| name.ends_with(w));
            let least = if choice == ThemeChoice::Contrast && !safety && least > 4.0 { 7.0 } else { least };
            let ratio = contrast(one, other);
            if ratio < least {
                poor.push(format!("{choice:?}: {name} {ratio:.2} < {least}"));
            }
        }
    }
    assert!(poor.is_empty(), "{poor:#?}");
}
