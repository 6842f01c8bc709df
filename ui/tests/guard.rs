//! What appears or changes its meaning under a finger is deaf for a moment; digits are not.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use crate::bench::{Bench, middle, wait};
use crate::samples;
use sparkout_ui::action::{Action, Control};
use sparkout_ui::screen::{Body, Language, Screen};

fn sample(name: &str) -> Screen {
    samples::all(Language::English).into_iter().find(|(sample, _)| *sample == name).expect("a sample").1
}

/// The last end is still asked for, and then nothing is: as after "Take reading".
fn tape_done() -> Screen {
    sample("14-tape-done")
}

#[test]
fn the_second_tap_of_a_trembling_finger_does_not_press_what_came_under_it() {
    let bench = Bench::new(1280.0, 800.0);
    let mut asked = sample("13-tape-centre");
    if let Body::Tape(tape) = &mut asked.body {
        tape.can_go = false;
    }
    bench.show(&asked);
    wait(400);
    bench.press("5");
    bench.press("Take reading");
    assert_eq!(bench.taken(), [Action::Enter("5".into())]);
    bench.show(&tape_done());
    bench.press("To Front");
    assert_eq!(bench.taken(), [], "the second tap");
    wait(349);
    bench.press("To Front");
    assert_eq!(bench.taken(), [Action::Press { control: Control::Next, index: 0 }], "a finger that meant it");
}

#[test]
fn the_key_that_turns_when_the_field_is_emptied_is_deaf_too() {
    let bench = Bench::new(1280.0, 800.0);
    bench.show_sample("13-tape-centre");
    bench.press("5");
    let take = middle(&bench.control("Take reading"));
    bench.press("Erase");
    bench.down(take);
    bench.up(take);
    assert_eq!(bench.taken(), []);
    wait(351);
    bench.press("To Front");
    assert_eq!(bench.taken(), [Action::Press { control: Control::Next, index: 0 }]);
}

#[test]
fn what_keeps_its_meaning_can_be_pressed_as_fast_as_one_likes_and_digits_always() {
    let bench = Bench::new(1280.0, 800.0);
    let mut screen = sample("10-receive");
    bench.show(&screen);
    wait(400);
    for _ in 0..3 {
        bench.press("Rollers");
        // The look goes on: the same rows, the same main action.
        if let Body::Receive(receive) = &mut screen.body {
            receive.conditions.rotate_left(1);
        }
        bench.show(&screen);
    }
    assert_eq!(bench.taken().len(), 3);
    bench.show_sample("22-front-second");
    bench.press("2");
    bench.press("6");
    assert_eq!(bench.reading(), "+26");
}

#[test]
fn a_question_that_comes_up_is_not_answered_by_the_tap_before_it() {
    let bench = Bench::new(1280.0, 800.0);
    bench.show_sample("12-tape-first");
    bench.show_sample("92-question");
    bench.press("Swap them");
    assert_eq!(bench.taken(), []);
    wait(350);
    bench.press("Swap them");
    assert_eq!(bench.taken(), [Action::Press { control: Control::Answer, index: 0 }]);
}
