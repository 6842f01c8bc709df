//! Numbers on the screen follow the shop's region; either decimal sign may be typed.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use crate::bench::{Bench, wait};
use crate::samples;
use i_slint_backend_testing::ElementHandle;
use sparkout_ui::action::Action;
use sparkout_ui::screen::{Body, Language, Screen};

fn in_region(mut screen: Screen, region: &str) -> Screen {
    screen.settings.region = region.parse().unwrap();
    screen
}

fn sample(name: &str, language: Language) -> Screen {
    samples::all(language).into_iter().find(|(sample, _)| *sample == name).expect("a sample").1
}

#[test]
fn the_decimal_key_shows_the_sign_of_the_region_and_either_sign_is_typed() {
    let bench = Bench::new(1280.0, 800.0);
    bench.show(&in_region(sample("12-tape-first", Language::Spanish), "AR"));
    assert_eq!(bench.control(".").accessible_label().unwrap(), ",");
    for key in ["5", ".", "0"] {
        bench.press(key);
    }
    assert_eq!(bench.reading(), "5,0");
    bench.key("2");
    bench.press("Erase");
    bench.press("Erase");
    bench.press("Erase");
    bench.key(",");
    bench.key("1");
    assert_eq!(bench.reading(), "5,1");
    // The same number in a region with a point, without losing it.
    bench.show(&in_region(sample("12-tape-first", Language::Spanish), "MX"));
    assert_eq!(bench.reading(), "5.1");
    assert_eq!(bench.control(".").accessible_label().unwrap(), ".");
    bench.press("Take reading");
    assert_eq!(bench.taken(), [Action::Enter("5.1".into())]);
}

#[test]
fn a_half_typed_number_is_there_again_after_an_explanation() {
    let bench = Bench::new(1280.0, 800.0);
    let asked = sample("13-tape-centre", Language::English);
    bench.show(&asked);
    bench.press("5");
    bench.press(".");
    bench.press("Why cone");
    assert!(matches!(bench.taken().as_slice(), [Action::Press { .. }]));
    let why = sample("95-why-tilt", Language::English);
    assert!(matches!(why.body, Body::Why(_)));
    bench.show(&why);
    bench.key("9");
    wait(400);
    bench.show(&asked);
    wait(400);
    assert_eq!(bench.reading(), "5.");
}

#[test]
fn a_long_notice_is_not_set_below_eighteen_pixels_on_a_small_window() {
    let bench = Bench::new(1024.0, 600.0);
    bench.window.set_panel_width_mm(223.0);
    let (_, screen) = samples::long(Language::Spanish).into_iter().find(|(name, _)| *name == "91-notice").unwrap();
    bench.show(&screen);
    let words = screen.notice.unwrap().text;
    assert!(words.chars().count() > 150);
    let text = bench
        .texts()
        .into_iter()
        .find(|text: &ElementHandle| text.accessible_label().is_some_and(|label| label == words.as_str()))
        .expect("the notice");
    // A line of 18 px letters is over 20 px high, and the sentence takes two or three of them.
    assert!(text.size().height >= 2.0 * 20.0, "{:?}", text.size());
}
