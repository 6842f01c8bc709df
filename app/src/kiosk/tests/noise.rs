//! Minutes of grinding, kept with the entries they follow from and worked out again from the journal alone.

use super::{Stand, full, told};
use crate::kiosk::{Shop, rebuild};
use sparkout_ui::action::{Control, HeldControl};
use sparkout_ui::screen::Body;

/// Grinds for so many minutes and leaves it at a press of Back, which the clearance does not outlive.
fn grinds(stand: &mut Stand, minutes: u64) {
    stand.check_all();
    let screen = stand.hold(HeldControl::StartGrind);
    assert!(matches!(screen.body, Body::Grind(_)), "{}", told(&screen));
    stand.clock.advance(minutes * 60_000);
    stand.press(Control::Back, 0);
}

fn minutes(stand: &Stand, badge: &str) -> u64 {
    Shop::load(&stand.disk).unwrap().ground.get(badge).map_or(0, |ground| ground.ms / 60_000)
}

#[test]
fn minutes_add_up_by_person_and_a_rebuild_gives_the_same() {
    let mut stand = Stand::at_gate();
    grinds(&mut stand, 12);
    grinds(&mut stand, 5);
    assert_eq!((minutes(&stand, "1042"), minutes(&stand, "1077")), (17, 0));
    stand.scan("SPKB41077N");
    grinds(&mut stand, 3);
    assert_eq!((minutes(&stand, "1042"), minutes(&stand, "1077")), (17, 3));
    let kept = Shop::load(&stand.disk).unwrap().ground;
    rebuild(&mut stand.disk).unwrap();
    assert_eq!(Shop::load(&stand.disk).unwrap().ground, kept);
    stand.restart();
    assert_eq!(stand.bench.shop.ground, kept);
}

#[test]
fn what_goes_on_counts_while_it_goes_on_and_what_was_not_kept_does_not() {
    let mut stand = Stand::at_gate();
    stand.check_all();
    stand.hold(HeldControl::StartGrind);
    stand.clock.advance(20 * 60_000);
    assert_eq!(minutes(&stand, "1042"), 0, "a stretch is kept when it ends");
    stand.fail(full());
    stand.press(Control::Back, 0);
    assert_eq!(minutes(&stand, "1042"), 0);
    stand.press(Control::Back, 0);
    assert_eq!(minutes(&stand, "1042"), 20);
}

#[test]
fn without_a_level_it_says_that_nothing_is_estimated() {
    let mut stand = Stand::at_gate();
    let gate = stand.check_all();
    let Body::Clearance(gate) = gate.body else { panic!("not at the gate") };
    assert_eq!(gate.noise, "noise not estimated");
}
