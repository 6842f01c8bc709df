//! Wheel record and lockout on a bench: nothing is shown that was not kept, and a rebuild gives what stands there.

use super::{Stand, full, told};
use crate::kiosk::rebuild;
use crate::store::Record as Disk;
use sparkout_core::lockout::Lockout;
use sparkout_ui::action::{Action, Control, HeldControl, Manner};
use sparkout_ui::screen::{Body, Isolation, LockPhase, Screen};

impl Stand {
    fn manner(&mut self, manner: Manner, index: usize) {
        self.bench.manner(manner, index);
    }

    fn letters(&mut self, text: &str) {
        for letter in text.chars() {
            self.act(Action::Letters(letter.to_string()));
        }
        self.act(Action::Letters("Take".to_owned()));
    }

    /// Up to the hold that says that the lock is on.
    fn fill_in_lock(&mut self) {
        self.scan("SPKB41077N");
        self.press(Control::Lockout, 0);
        self.press(Control::PutLockOn, 0);
        self.manner(Manner::PickChoice, 0);
        self.letters("12");
    }
}

fn phase(screen: &Screen) -> LockPhase {
    match &screen.body {
        Body::Lockout(card) => card.phase,
        other => panic!("no lockout: {other:?}"),
    }
}

fn bench_records(stand: &Stand) -> Vec<(String, String)> {
    stand.disk.derived_all("bench").unwrap()
}

#[test]
fn a_lock_that_was_not_kept_is_not_shown() {
    let mut stand = Stand::new();
    stand.fill_in_lock();
    let before = stand.size();
    stand.fail(full());
    let screen = stand.hold(HeldControl::Form);
    assert!(!told(&screen).is_empty() && matches!(screen.body, Body::Form(_)), "{:?}", screen.body);
    assert_eq!((stand.size(), screen.strip.isolation), (before, Isolation::Unknown));
    let screen = stand.hold(HeldControl::Form);
    assert_eq!((phase(&screen), screen.strip.isolation), (LockPhase::Applied, Isolation::LockUntried));
    assert_eq!(stand.size(), before + 1);
    stand.fail(full());
    let screen = stand.hold(HeldControl::LockTried);
    assert_eq!((phase(&screen), screen.strip.isolation), (LockPhase::Applied, Isolation::LockUntried));
}

#[test]
fn an_open_lockout_outlives_the_process_and_a_rebuild() {
    let mut stand = Stand::new();
    stand.fill_in_lock();
    stand.hold(HeldControl::Form);
    stand.hold(HeldControl::LockTried);
    stand.restart();
    assert_eq!(stand.bench.screen().strip.isolation, Isolation::LockTried);
    stand.scan("SPKB41077N");
    stand.press(Control::Lockout, 0);
    let screen = stand.hold(HeldControl::ProvedDead);
    assert_eq!((phase(&screen), screen.strip.lock.as_str()), (LockPhase::Dead, "12 · OH"));
    stand.hold(HeldControl::WheelLookedOver);
    let before = bench_records(&stand);
    rebuild(&mut stand.disk).unwrap();
    assert_eq!(bench_records(&stand), before);
    stand.restart();
    assert!(matches!(stand.bench.shop.lockouts.open(), Some(Lockout::Dead(_))));
    assert_eq!(stand.bench.shop.wheel.as_ref().unwrap().looked_over.as_ref().unwrap().initials, "OH");
}

/// What is held on these screens while another is shown, or by nobody, changes nothing.
#[test]
fn nothing_is_taken_out_of_turn() {
    let mut stand = Stand::new();
    let before = stand.size();
    for control in [
        HeldControl::Form,
        HeldControl::LockTried,
        HeldControl::ProvedDead,
        HeldControl::LockReleased,
        HeldControl::OwnerTold,
        HeldControl::WheelLookedOver,
    ] {
        stand.hold(control);
        assert_eq!(stand.size(), before, "{control:?}");
    }
}
