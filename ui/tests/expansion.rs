//! Texts longer by two fifths break no screen. Built only with the long language: `SPARKOUT_LONG_WORDS=1 cargo test -p
//! sparkout-ui expansion`. Languages that grow by so much: common practice in translation.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use crate::bench::{Bench, pose, wait};
use crate::fit;
use crate::layout::{SIZES, rules};
use slint::ComponentHandle as _;
use sparkout_ui::screen::Language;

#[test]
fn every_screen_can_be_read_and_pressed_in_a_language_longer_by_two_fifths() {
    let mut wrong = Vec::new();
    for (width, height, panel_mm) in SIZES {
        let bench = Bench::new(width, height);
        bench.window.set_panel_width_mm(panel_mm);
        for (name, screen) in crate::samples::all(Language::English) {
            bench.show(&screen);
            slint::select_bundled_translation("qps").expect("built with the long language");
            wait(1);
            for fault in fit::faults(bench.window.component().window(), &rules(&bench, panel_mm)) {
                wrong.push(format!("{width}x{height} {name}: {fault}"));
            }
        }
    }
    assert!(wrong.is_empty(), "{} faults:\n{}", wrong.len(), wrong.join("\n"));
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
