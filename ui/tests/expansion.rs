//! Texts longer by two fifths break no screen. Built only with the long language: `SPARKOUT_LONG_WORDS=1 cargo test -p
//! sparkout-ui expansion`. Languages that grow by so much: common practice in translation.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use crate::bench::{Bench, pose, wait};
use slint::ComponentHandle as _;
use sparkout_ui::screen::Language;
use sparkout_ui::window::Theme;
use std::collections::BTreeSet;

const SIZES: [(f32, f32, f32); 3] = [(1280.0, 800.0, 217.0), (1024.0, 600.0, 223.0), (1920.0, 1080.0, 345.0)];

#[test]
fn nothing_runs_off_the_sheet_in_a_language_longer_by_two_fifths() {
    let mut off = BTreeSet::new();
    for (width, height, panel_mm) in SIZES {
        let bench = Bench::new(width, height);
        bench.window.set_panel_width_mm(panel_mm);
        for (name, screen) in crate::samples::all(Language::English) {
            bench.show(&screen);
            slint::select_bundled_translation("qps").expect("built with the long language");
            wait(1);
            let rail = height - bench.window.component().global::<Theme>().get_rail();
            for element in bench.texts().into_iter().chain(bench.controls()) {
                let (at, size) = (element.absolute_position(), element.size());
                let across = at.y < rail - 0.5 && at.y + size.height > rail + 1.0 && screen.question.is_none();
                let outside = at.x < -1.0 || at.x + size.width > width + 1.0 || at.y + size.height > height + 1.0;
                if across || outside {
                    let words = element.accessible_label().unwrap_or_default();
                    off.insert(format!("{width}x{height} {name}: {words:?} {at:?} {size:?}"));
                }
            }
        }
    }
    assert!(off.is_empty(), "{off:#?}");
}

/// Pictures of it for looking at, beside what is built.
#[test]
fn the_long_language_is_drawn() {
    let folder = std::path::PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join("long-words");
    std::fs::create_dir_all(&folder).unwrap();
    let bench = Bench::new(1280.0, 800.0);
    let mut english = 0;
    for (name, screen) in crate::samples::all(Language::English) {
        pose::show(&bench.window, name, &screen);
        let before = bench.texts().iter().filter_map(|text| text.accessible_label()).collect::<Vec<_>>();
        slint::select_bundled_translation("qps").expect("built with the long language");
        wait(1);
        let after = bench.texts().iter().filter_map(|text| text.accessible_label()).collect::<Vec<_>>();
        if before == after {
            english += 1;
        }
        pose::picture(&bench.window).save(folder.join(format!("{name}.png"))).unwrap();
        slint::select_bundled_translation("").expect("English");
        pose::release(&bench.window, name);
    }
    assert_eq!(english, 0, "screens that stayed in English");
}
