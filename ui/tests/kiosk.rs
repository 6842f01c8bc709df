//! The window under a hand, a keyboard and a scanner that types.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use crate::bench::{Bench, middle, wait};
use slint::LogicalPosition;
use slint::platform::{Key, WindowEvent};
use sparkout_core::reading::Units;
use sparkout_ui::action::{Action, Control, HeldControl, Manner};
use sparkout_ui::screen::{Language, Theme};
use sparkout_ui::window::KeyPress;
use std::cell::RefCell;
use std::rc::Rc;

fn held(control: HeldControl, milliseconds: u64) -> Vec<Action> {
    vec![Action::Held { control, milliseconds }]
}

fn pressed(control: Control, index: usize) -> Vec<Action> {
    vec![Action::Press { control, index }]
}

#[test]
fn a_pointer_held_for_a_second_acknowledges_once() {
    let bench = Bench::new(1280.0, 800.0);
    bench.show_sample("40-clearance");
    let at = middle(&bench.control("I have checked it"));
    bench.down(at);
    wait(990);
    assert_eq!(bench.taken(), []);
    wait(10);
    assert_eq!(bench.taken(), held(HeldControl::ClearanceItem, 1000));
    wait(5000);
    assert_eq!(bench.taken(), [], "one press, one acknowledgement");
    bench.up(at);
    wait(2000);
    assert_eq!(bench.taken(), []);
}

#[test]
fn a_pointer_released_early_acknowledges_nothing_and_starts_from_the_beginning() {
    let bench = Bench::new(1280.0, 800.0);
    bench.show_sample("43-clearance-complete");
    let at = middle(&bench.control("Start the grind"));
    bench.down(at);
    wait(900);
    bench.up(at);
    wait(2000);
    bench.down(at);
    wait(900);
    assert_eq!(bench.taken(), [], "two short presses are not one long one");
    wait(100);
    assert_eq!(bench.taken(), held(HeldControl::StartGrind, 1000));
}

#[test]
fn a_pointer_that_leaves_the_disc_empties_the_ring_even_if_it_comes_back() {
    let bench = Bench::new(1280.0, 800.0);
    bench.show_sample("09-isolation");
    let control = bench.control("Power is off and was tried");
    let (at, corner) = (middle(&control), control.absolute_position());
    bench.down(at);
    wait(500);
    // Inside the square, outside the disc.
    bench.event(WindowEvent::PointerMoved { position: LogicalPosition::new(corner.x + 12.0, corner.y + 12.0) });
    wait(100);
    bench.event(WindowEvent::PointerMoved { position: at });
    wait(2000);
    assert_eq!(bench.taken(), []);
}

#[test]
fn what_changes_under_the_finger_is_not_acknowledged() {
    let bench = Bench::new(1280.0, 800.0);
    bench.show_sample("40-clearance");
    let at = middle(&bench.control("I have checked it"));
    bench.down(at);
    wait(900);
    bench.show_sample("41-clearance-first");
    wait(2000);
    assert_eq!(bench.taken(), []);
}

#[test]
fn a_held_control_is_deaf_to_accessibility_and_when_it_is_disabled() {
    let bench = Bench::new(1280.0, 800.0);
    bench.show_sample("40-clearance");
    bench.control("I have checked it").invoke_accessible_default_action();
    wait(2000);
    bench.show_sample("42-clearance-blocked");
    bench.down(middle(&bench.control("Start the grind")));
    wait(2000);
    assert_eq!(bench.taken(), []);
}

#[test]
fn a_number_is_typed_on_the_keypad_or_the_keyboard_and_confirmed_as_text() {
    let bench = Bench::new(1280.0, 800.0);
    bench.show_sample("22-front-second");
    for name in ["2", "6", ".", "5", "Erase", "0", "±"] {
        bench.press(name);
    }
    assert_eq!(bench.reading(), "−26.0");
    bench.press("±");
    bench.press("Take reading");
    assert_eq!(bench.taken(), [Action::Enter("26.0".into())]);
    bench.show_sample("12-tape-first");
    assert_eq!(bench.reading(), "", "another number is asked for");
    for text in ["5", ",", "0", "2", "9"] {
        bench.key(text);
    }
    bench.key(Key::Backspace);
    assert_eq!(bench.reading(), "5.02");
    bench.key(Key::Return);
    assert_eq!(bench.taken(), [Action::Enter("5.02".into())]);
}

#[test]
fn an_empty_field_is_not_confirmed() {
    let bench = Bench::new(1280.0, 800.0);
    bench.show_sample("12-tape-first");
    bench.press("Take reading");
    bench.key(Key::Return);
    bench.press("±");
    assert_eq!(bench.taken(), []);
}

#[test]
fn the_number_being_typed_stays_while_the_clock_moves_and_goes_with_its_question() {
    let bench = Bench::new(1280.0, 800.0);
    let mut screen =
        crate::samples::all(Language::English).into_iter().find(|(name, _)| *name == "12-tape-first").unwrap().1;
    bench.show(&screen);
    bench.press("5");
    screen.strip.clock = "09:43".into();
    screen.settings.language = Language::Spanish;
    bench.show(&screen);
    assert_eq!(bench.reading(), "5");
    if let Some(entry) = &mut screen.entry {
        entry.serial += 1;
    }
    bench.show(&screen);
    assert_eq!(bench.reading(), "");
}

#[test]
fn words_change_live_and_names_do_not() {
    let bench = Bench::new(1280.0, 800.0);
    for (language, label) in
        [(Language::English, "Take reading"), (Language::Spanish, "Tomar lectura"), (Language::English, "Take reading")]
    {
        let mut screen =
            crate::samples::all(language).into_iter().find(|(name, _)| *name == "12-tape-first").unwrap().1;
        screen.settings.language = language;
        bench.show(&screen);
        assert_eq!(bench.control("Take reading").accessible_label().unwrap(), label);
    }
}

#[test]
fn settings_are_reported_with_what_was_chosen() {
    let bench = Bench::new(1280.0, 800.0);
    bench.show_sample("90-about");
    for name in ["Spanish", "Metric", "Thousandths", "High contrast"] {
        bench.press(name);
    }
    let expected = [
        Action::SetLanguage(Language::Spanish),
        Action::SetUnits(Units::Metric),
        Action::SetUnits(Units::Thou),
        Action::SetTheme(Theme::Contrast),
    ];
    assert_eq!(bench.taken(), expected);
}

#[test]
fn an_optional_number_left_empty_lets_the_main_action_go_on() {
    let bench = Bench::new(1280.0, 800.0);
    bench.show_sample("13-tape-centre");
    bench.press("5");
    bench.press("Erase");
    wait(400);
    bench.press("To Front");
    assert_eq!(bench.taken(), pressed(Control::Next, 0));
}

#[test]
fn a_key_sink_gets_every_key_and_gives_back_what_was_typing() {
    let bench = Bench::new(1280.0, 800.0);
    bench.show_sample("12-tape-first");
    let seen = Rc::new(RefCell::new(Vec::<KeyPress>::new()));
    let (log, weak) = (seen.clone(), bench.window.downgrade());
    bench.window.on_key(Box::new(move |key| {
        if key.text == "7" {
            weak.upgrade().unwrap().typed(&key);
        }
        log.borrow_mut().push(key);
    }));
    for text in ["Q", "7", "\n", "\t"] {
        bench.key(text);
    }
    assert_eq!(bench.reading(), "7");
    assert_eq!(bench.taken(), [], "the sink kept the terminator");
    let texts: Vec<_> = seen.borrow().iter().map(|key| key.text.clone()).collect();
    assert_eq!(texts, ["Q", "7", "\n", "\t"]);
}

#[test]
fn a_question_stops_everything_below_it() {
    let bench = Bench::new(1280.0, 800.0);
    bench.show_sample("92-question");
    bench.press("Back");
    bench.press("7");
    assert_eq!(bench.taken(), []);
    assert_eq!(bench.reading(), "");
    bench.press("As taped");
    assert_eq!(bench.taken(), pressed(Control::Answer, 1));
}

#[test]
fn each_name_presses_its_control() {
    use Control as C;
    let bench = Bench::new(1280.0, 800.0);
    let cases: &[(&str, &str, Control, usize)] = &[
        ("02-home", "Find by mower", C::FindByMower, 0),
        ("02-home", "Settings", C::About, 0),
        ("02-home", "Sign out", C::SignOut, 0),
        ("02-home", "Take up Q-113", C::TakeUp, 1),
        ("03-home-nobody", "Card of Q-301", C::UnitCard, 2),
        ("10-receive", "Unit card", C::UnitCard, 0),
        ("15-card", "Back", C::Back, 0),
        ("05-find-mower", "Greens 1", C::PickMower, 1),
        ("05-find-mower", "Position 4", C::PickPosition, 3),
        ("06-enrol", "Greens type A", C::PickType, 1),
        ("06-enrol", "New type", C::NewType, 0),
        ("07-enrol-place", "Position 5", C::PickPosition, 4),
        ("08-new-type", "Field 2", C::PickField, 1),
        ("10-receive", "Rollers", C::CycleCondition, 1),
        ("10-receive", "To Tape", C::Next, 0),
        ("12-tape-first", "Trailing end", C::PickPlace, 1),
        ("12-tape-first", "Back", C::Back, 0),
        ("12-tape-first", "Pause visit", C::PauseVisit, 0),
        ("14-tape-done", "To Front", C::Next, 0),
        ("20-front-zero", "Zero set", C::ZeroSet, 0),
        ("23-front-adjust", "Turned", C::Turned, 0),
        ("23-front-adjust", "Other adjuster", C::OtherAdjuster, 0),
        ("25-front-touch-again", "Touch again", C::TouchAgain, 0),
        ("26-front-not-proven", "Accept not proven", C::AcceptNotProven, 0),
        ("27-front-parallel", "To Rear", C::Next, 0),
        ("32-rear-adjust", "Turned", C::Turned, 0),
        ("33-rear-parallel", "To Clearance", C::Next, 0),
        ("50-grind", "Pass done", C::PassDone, 0),
        ("50-grind", "Pass repeated", C::PassRepeated, 0),
        ("61-prove-pass", "Reground", C::PickBedknife, 1),
        ("61-prove-pass", "Paper cuts", C::PaperCuts, 0),
        ("61-prove-pass", "To Label", C::Next, 0),
        ("62-prove-regrind", "Regrind", C::Regrind, 0),
        ("63-prove-repeat", "Measure again", C::MeasureAgain, 0),
        ("63-prove-repeat", "Accept not proven", C::AcceptNotProven, 0),
        ("70-label-print", "Print label", C::Print, 0),
        ("80-return", "Confirm place", C::ConfirmPlace, 0),
        ("91-notice", "Dismiss", C::DismissNotice, 0),
        ("90-about", "Change my PIN", C::ChangePin, 0),
        ("99g-pin", "PIN forgotten", C::PinForgotten, 0),
    ];
    for (sample, name, control, index) in cases {
        bench.show_sample(sample);
        wait(400);
        bench.press(name);
        assert_eq!(bench.taken(), pressed(*control, *index), "{sample}: {name}");
    }
}

#[test]
fn each_name_presses_what_is_about_the_kiosk_itself() {
    use Manner as M;
    let bench = Bench::new(1280.0, 800.0);
    let cases: &[(&str, &str, Manner, usize)] = &[
        ("90-about", "Cautions and licences", M::Cautions, 0),
        ("90-about", "Settings of the shop", M::ShopSettings, 0),
        ("90-about", "Leave the kiosk", M::Leave, 0),
        ("93-home-empty", "Set up this bench", M::SetUp, 0),
        ("93-home-empty", "Take the tour", M::Tour, 0),
        ("93-home-empty", "Practice", M::Practice, 0),
        ("94-practice-home", "End practice", M::EndPractice, 0),
        ("94-practice-home", "Practice sheet", M::OpenSheet, 0),
        ("94-practice-home", "Tour card", M::TourCard, 0),
        ("94a-practice-sheet", "Label", M::TakeCode, 2),
        ("94a-practice-sheet", "Card Pause visit", M::TakeCode, 8),
        ("94a-practice-sheet", "Put the sheet away", M::ShutSheet, 0),
        ("94a-practice-sheet", "End practice", M::EndPractice, 0),
        ("95-tour", "Show me", M::TourShow, 0),
        ("95-tour", "Do it for me", M::TourDo, 0),
        ("95-tour", "Leave the tour", M::TourLeave, 0),
        ("96-dimmed", "Wake", M::Wake, 0),
        ("98-shop-settings", "Cone limit", M::PickSetting, 2),
        ("98-shop-settings", "Less", M::Less, 0),
        ("98-shop-settings", "More", M::More, 0),
        ("98-shop-settings", "As configured", M::Default, 0),
        ("98-shop-settings", "Keep it", M::KeepSetting, 0),
        ("99a-pages-licences", "Page up", M::PageUp, 0),
        ("99a-pages-licences", "Page down", M::PageDown, 0),
        ("99c-first-start", "Value 4", M::PickValue, 3),
        ("99e-first-start-choice", "Choice 2", M::PickChoice, 1),
        ("99f-first-start-done", "Keep this bench", M::KeepBench, 0),
    ];
    for (sample, name, manner, index) in cases {
        bench.show_sample(sample);
        bench.press(name);
        assert_eq!(bench.taken(), [Action::Manner { manner: *manner, index: *index }], "{sample}: {name}");
    }
}

#[test]
fn another_kind_of_visit_is_picked_in_two_presses() {
    let bench = Bench::new(1280.0, 800.0);
    bench.show_sample("10-receive");
    bench.press("Kind of visit");
    assert_eq!(bench.taken(), []);
    bench.press("Check only");
    assert_eq!(bench.taken(), pressed(Control::PickKind, 5));
}

#[test]
fn a_position_on_find_opens_the_card_only_when_that_is_chosen() {
    let bench = Bench::new(1280.0, 800.0);
    bench.show_sample("05-find-mower");
    bench.press("Card only");
    assert_eq!(bench.taken(), [], "a choice of the screen's own");
    bench.press("Position 4");
    assert_eq!(bench.taken(), pressed(Control::UnitCard, 3));
    bench.press("Open the visit");
    bench.press("Position 4");
    assert_eq!(bench.taken(), pressed(Control::PickPosition, 3));
}
