//! A PIN under a hand and a keyboard: dots, and nothing but dots, wherever somebody could read along.

use crate::bench::Bench;
use i_slint_backend_testing::ElementQuery;
use sparkout_core::pin::{NotAPin, Pin};
use sparkout_ui::action::Action;

/// Everything that is read aloud, and under what.
fn told(bench: &Bench) -> String {
    let elements = ElementQuery::from_root(bench.window.component()).match_descendants().find_all();
    let texts = elements
        .iter()
        .flat_map(|element| [element.accessible_label(), element.accessible_value(), element.accessible_description()]);
    texts.flatten().map(|text| format!("{text}\n")).collect()
}

#[test]
fn it_is_dots_on_the_screen_and_in_what_is_read_aloud() {
    let bench = Bench::new(1280.0, 800.0);
    bench.show_sample("99g-pin");
    for key in ["4", "0"] {
        bench.press(key);
    }
    for key in ["7", "1", "8", "2"] {
        bench.key(key);
    }
    assert_eq!(bench.reading(), "••••••");
    let told = told(&bench);
    for part in ["4071", "407", "0718", "182"] {
        assert!(!told.contains(part), "{told}");
    }
    bench.press("Erase");
    bench.key("\u{8}");
    bench.press("Take reading");
    assert_eq!(bench.taken(), [Action::Pin(Pin::new("4071"))]);
    assert_eq!(bench.reading(), "", "nothing of it stays");
}

#[test]
fn a_point_a_sign_and_letters_are_none_of_it() {
    let bench = Bench::new(1280.0, 800.0);
    bench.show_sample("99g-pin");
    for key in ["4", ".", ",", "-", "0", "x", "7"] {
        bench.key(key);
    }
    assert_eq!(bench.reading(), "•••");
    bench.key("\n");
    assert_eq!(bench.taken(), [Action::Pin(Err(NotAPin))], "too short is told as such, and not as a number");
}

#[test]
fn what_is_half_typed_goes_with_the_screen() {
    let bench = Bench::new(1280.0, 800.0);
    bench.show_sample("99g-pin");
    for key in ["4", "0", "7"] {
        bench.key(key);
    }
    bench.show_sample("90-about");
    assert!(!told(&bench).contains("407"));
    bench.show_sample("12-tape-first");
    assert_eq!(bench.reading(), "", "no digit of it gets into a reading");
    bench.show_sample("99g-pin");
    assert_eq!(bench.reading(), "");
}
