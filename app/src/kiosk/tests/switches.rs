//! The guard's and the stop's switches on a bench: what ends at once, what the journal tells, and what is dropped.

use super::{Stand, full, told};
use crate::store::Record as Disk;
use sparkout_core::entry::{Entry, EntryBody};
use sparkout_core::facts::{GuardInput, StopInput};
use sparkout_core::inputs::Switches;
use sparkout_core::visit::event::Event;
use sparkout_core::visit::gate::{Block, LapseReason};
use sparkout_core::visit::kind::Turning;
use sparkout_ui::action::{Action, Control, HeldControl};
use sparkout_ui::screen::{Body, Screen, SwitchState};

const CLEAR: Switches = Switches { guard: GuardInput::Closed, stop: StopInput::Released };
const OPEN: Switches = Switches { guard: GuardInput::Open, stop: StopInput::Released };
const PRESSED: Switches = Switches { guard: GuardInput::Closed, stop: StopInput::Pressed };
const STALE: Switches = Switches { guard: GuardInput::Stale, stop: StopInput::Stale };
const LOST: Switches = Switches { guard: GuardInput::Lost, stop: StopInput::Lost };

impl Stand {
    fn heard(&mut self, seen: Switches) -> Screen {
        self.bench.heard(seen);
        self.bench.screen()
    }

    /// At the gate, both switches as they should be for some seconds.
    pub(super) fn at_gate() -> Self {
        let mut stand = Self::new();
        stand.heard(CLEAR);
        stand.go_to_tape();
        stand.enter("5.000");
        stand.enter("5.000");
        stand.press(Control::Next, 0);
        stand.hold(HeldControl::Isolation);
        stand.press(Control::ZeroSet, 0);
        stand.enter("0.0");
        stand.press(Control::Next, 0);
        stand.hold(HeldControl::Isolation);
        stand.enter("0");
        stand.enter("0");
        let screen = stand.press(Control::Next, 0);
        assert!(matches!(screen.body, Body::Clearance(_)), "{:?}", screen.body);
        stand.clock.advance(5_000);
        stand
    }

    pub(super) fn check_all(&mut self) -> Screen {
        let mut screen = self.bench.screen();
        while matches!(&screen.body, Body::Clearance(gate) if gate.current.is_some()) {
            let before = self.size();
            screen = self.hold(HeldControl::ClearanceItem);
            assert!(self.size() > before, "{}", told(&screen));
        }
        screen
    }

    fn entries_since(&self, size: u64) -> Vec<EntryBody> {
        let rows = self.disk.entries(size + 1, 100).unwrap();
        rows.iter().map(|(_, bytes)| serde_json::from_slice::<Entry>(bytes).unwrap().body).collect()
    }
}

fn item(screen: &Screen) -> Option<u32> {
    let Body::Clearance(gate) = &screen.body else { panic!("not at the gate: {:?}", screen.body) };
    gate.current.as_ref().map(|item| item.number)
}

/// What is seen | what it is to the gate | words | the strip.
fn faults() -> [(Switches, Block, &'static str, SwitchState); 4] {
    [
        (OPEN, Block::GuardOpen, "the guard was opened", SwitchState::GuardOpen),
        (PRESSED, Block::StopPressed, "the stop was pressed", SwitchState::StopPressed),
        (STALE, Block::InputsStale, "guard and stop did not answer", SwitchState::Stale),
        (LOST, Block::InputsLost, "no link to guard and stop", SwitchState::Lost),
    ]
}

#[test]
fn a_fault_ends_a_clearance_at_once_and_nothing_begins_when_it_clears() {
    for (fault, block, words, strip) in faults() {
        let mut stand = Stand::at_gate();
        let screen = stand.check_all();
        assert_eq!((item(&screen), screen.strip.switches), (None, SwitchState::GuardClosed));
        let size = stand.size();
        let screen = stand.heard(fault);
        assert!(told(&screen).contains(words), "{}", told(&screen));
        assert_eq!((item(&screen), screen.strip.switches), (Some(1), strip));
        let lapsed = Event::Lapsed { reason: LapseReason::Blocked(block) };
        let entries = stand.entries_since(size);
        assert_eq!(entries[0], EntryBody::Inputs { seen: fault, turning: None });
        assert!(matches!(&entries[1], EntryBody::Visit { event, .. } if *event == lapsed), "{entries:?}");
        assert_eq!(entries.len(), 2);
        // Asked for during the fault, and again as it clears.
        for control in [HeldControl::ClearanceItem, HeldControl::StartGrind] {
            assert!(stand.hold(control).notice.is_some_and(|notice| notice.refused));
        }
        stand.clock.advance(400);
        let screen = stand.heard(CLEAR);
        assert_eq!((item(&screen), screen.strip.switches), (Some(1), SwitchState::GuardClosed));
        stand.clock.advance(20_000);
        stand.bench.tick();
        assert_eq!(item(&stand.bench.screen()), Some(1));
        let entries = stand.entries_since(size);
        assert_eq!(entries[2..], [EntryBody::Inputs { seen: CLEAR, turning: None }]);
        // The whole list again, then it goes on.
        stand.check_all();
        let screen = stand.hold(HeldControl::StartGrind);
        assert!(matches!(screen.body, Body::Grind(_)), "{}", told(&screen));
    }
}

#[test]
fn a_fault_under_power_is_an_exception_and_no_pass_counts() {
    for (fault, block, words, _) in faults() {
        let mut stand = Stand::at_gate();
        stand.check_all();
        stand.hold(HeldControl::StartGrind);
        stand.press(Control::PassDone, 0);
        let size = stand.size();
        let screen = stand.heard(fault);
        assert!(told(&screen).contains(words), "{}", told(&screen));
        assert!(matches!(&screen.body, Body::Clearance(gate) if gate.passes_kept == 1));
        let entries = stand.entries_since(size);
        assert_eq!(entries[0], EntryBody::Inputs { seen: fault, turning: Some(Turning::Grind) });
        let lapsed = Event::Lapsed { reason: LapseReason::Blocked(block) };
        assert!(matches!(&entries[1], EntryBody::Visit { event, .. } if *event == lapsed), "{entries:?}");
        stand.press(Control::PassDone, 0);
        stand.heard(CLEAR);
        let screen = stand.press(Control::PassDone, 0);
        assert!(matches!(&screen.body, Body::Clearance(gate) if gate.passes_kept == 1));
        assert_eq!(stand.entries_since(size).len(), 2);
    }
}

#[test]
fn a_hold_through_a_fault_is_dropped_also_when_it_comes_late() {
    let mut stand = Stand::at_gate();
    // Nothing was acknowledged yet, so that nothing lapses: only the hold itself is in question.
    stand.clock.advance(300);
    stand.heard(OPEN);
    stand.clock.advance(400);
    stand.heard(CLEAR);
    stand.clock.advance(300);
    let size = stand.size();
    let screen = stand.hold(HeldControl::ClearanceItem);
    assert!(told(&screen).contains("changed while you held"), "{}", told(&screen));
    assert_eq!((item(&screen), stand.size()), (Some(1), size));
    // The same hold, that waited three seconds for a slow disk.
    stand.clock.advance(3_000);
    stand.bench.waited(std::time::Duration::from_secs(3));
    let screen = stand.hold(HeldControl::ClearanceItem);
    assert_eq!((item(&screen), stand.size()), (Some(1), size));
    stand.bench.waited(std::time::Duration::ZERO);
    assert_eq!(item(&stand.hold(HeldControl::ClearanceItem)), Some(2));
}

#[test]
fn a_fault_whose_end_could_not_be_kept_is_not_forgotten_when_it_clears() {
    let mut stand = Stand::at_gate();
    stand.check_all();
    let size = stand.size();
    // The entry of the switches, the lapse, the entry again; and the lapse once more when the fault clears.
    for _ in 0..4 {
        stand.fail(full());
    }
    stand.bench.heard(OPEN);
    stand.heard(CLEAR);
    let screen = stand.act(Action::Held { control: HeldControl::StartGrind, milliseconds: 1000 });
    assert!(!matches!(screen.body, Body::Grind(_)));
    assert!(
        stand
            .entries_since(size)
            .iter()
            .any(|body| { matches!(body, EntryBody::Visit { event: Event::Lapsed { .. }, .. }) })
    );
}

#[test]
fn the_days_work_fills_no_journal_and_neither_does_a_line_that_flaps() {
    let mut stand = Stand::new();
    stand.heard(CLEAR);
    stand.go_to_tape();
    let size = stand.size();
    for _ in 0..20 {
        stand.heard(OPEN);
        stand.clock.advance(1_000);
        stand.heard(CLEAR);
    }
    assert_eq!(stand.size(), size, "a guard that is opened to lay a reel on the rails");
    for _ in 0..40 {
        stand.heard(LOST);
        stand.clock.advance(250);
        stand.heard(CLEAR);
        stand.clock.advance(250);
    }
    let entries = stand.entries_since(size);
    assert_eq!(entries[0], EntryBody::Inputs { seen: LOST, turning: None });
    assert!((2..=4).contains(&entries.len()), "{entries:?}");
}
