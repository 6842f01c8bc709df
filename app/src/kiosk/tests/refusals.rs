//! Every refusal of the gate, in the words that stand on the screen, for acts that no screen offers: whatever sends
//! them, the bench refuses. What a screen does offer is played in `tests/rehearsals/gate-*.rehearse`.

use super::{Stand, told};
use sparkout_ui::action::{Action, Control, HeldControl};
use sparkout_ui::screen::{Body, Language, Screen};

fn held(stand: &mut Stand, control: HeldControl, milliseconds: u64) -> Screen {
    stand.act(Action::Held { control, milliseconds })
}

/// Refused with these words, and nothing was written down.
fn check(stand: &mut Stand, act: impl FnOnce(&mut Stand) -> Screen, words: &str) {
    let before = stand.size();
    let screen = act(stand);
    assert!(screen.notice.as_ref().is_some_and(|notice| notice.refused), "{screen:?}");
    assert!(told(&screen).contains(words), "{} for {words}", told(&screen));
    assert_eq!(stand.size(), before, "{words}");
}

#[test]
fn at_the_gate() {
    let mut stand = Stand::at_gate();
    let too_short = "Held too short. Keep it held until the ring is full.";
    let open = "The checklist is not complete. Nothing can be ground without it.";
    check(&mut stand, |stand| held(stand, HeldControl::ClearanceItem, 999), too_short);
    check(&mut stand, |stand| held(stand, HeldControl::StartGrind, 999), too_short);
    check(&mut stand, |stand| held(stand, HeldControl::StartGrind, 1_000), open);
    check(&mut stand, |stand| stand.press(Control::Next, 0), open);
    check(&mut stand, |stand| stand.press(Control::PassDone, 0), "That does not belong to Clearance.");
    check(&mut stand, |stand| held(stand, HeldControl::StandStill, 1_000), "That does not belong to Clearance.");
    check(&mut stand, |stand| stand.enter("5.000"), "That does not belong to Clearance.");
    assert!(matches!(stand.bench.screen().body, Body::Clearance(_)));
    stand.act(Action::SetLanguage(Language::Spanish));
    let open = "La lista no está completa. Sin ella no se puede rectificar.";
    check(&mut stand, |stand| held(stand, HeldControl::StartGrind, 1_000), open);
}

#[test]
fn with_a_clearance_and_under_power() {
    let mut stand = Stand::at_gate();
    assert!(matches!(stand.check_all().body, Body::Clearance(_)));
    let too_short = "Held too short. Keep it held until the ring is full.";
    check(&mut stand, |stand| held(stand, HeldControl::StartGrind, 0), too_short);
    // There is no item left to hold, so that is nothing at all.
    let before = stand.size();
    held(&mut stand, HeldControl::ClearanceItem, 1_000);
    assert_eq!(stand.size(), before);
    check(&mut stand, |stand| stand.press(Control::PassDone, 0), "That does not belong to Clearance.");
    let screen = held(&mut stand, HeldControl::StartGrind, 1_000);
    assert!(matches!(screen.body, Body::Grind(_)), "{}", told(&screen));
    check(&mut stand, |stand| stand.press(Control::Next, 0), "Passes still to make");
    check(&mut stand, |stand| held(stand, HeldControl::StandStill, 1_000), "Passes still to make");
    check(&mut stand, |stand| held(stand, HeldControl::StartGrind, 1_000), "That does not belong to Grind.");
}
