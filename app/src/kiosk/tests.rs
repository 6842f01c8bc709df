//! The bench on a disk that fails when it is told to.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use super::{Bench, Parts, Shop, write_records};
use crate::clock::{Clock, SimulatedClock};
use crate::config::Config;
use crate::label::FolderPrinter;
use crate::store::tests::shared::Shared;
use crate::store::{Pepper, Record as Disk, StoreError};
use sparkout_core::entry::Record;
use sparkout_core::moment::Moment;
use sparkout_ui::action::{Action, Control, HeldControl};
use sparkout_ui::screen::{Body, Screen};
use std::sync::Arc;

mod health;
mod lockout;
mod noise;
mod pins;
mod refusals;
mod switches;

struct Stand {
    disk: Shared,
    clock: SimulatedClock,
    bench: Bench,
    labels: tempfile::TempDir,
}

fn full() -> StoreError {
    StoreError::Full { detail: "told to".to_owned() }
}

impl Stand {
    fn new() -> Self {
        Self::with(|_| true)
    }

    /// A shop in which only some of the records were made.
    fn with(made: impl Fn(&Record) -> bool) -> Self {
        let begun = crate::demo::WALK_BEGINS.parse().unwrap();
        let mut disk = Shared::default();
        let at = Moment { wall: begun, monotonic_ms: 0, boot: "set-up".to_owned() };
        let records = crate::demo::records_of(begun).unwrap().into_iter().filter(made).collect();
        write_records(&mut disk, &mut Shop::default(), &at, records).unwrap();
        let labels = tempfile::tempdir().unwrap();
        let clock = SimulatedClock::starting_at(begun);
        let bench = bench(&disk, &clock, &labels);
        Self { disk, clock, bench, labels }
    }

    /// The process ended and started again.
    fn restart(&mut self) {
        self.bench = bench(&self.disk, &self.clock, &self.labels);
    }

    fn fail(&self, failure: StoreError) {
        self.disk.with(|disk| disk.fail_next(failure));
    }

    fn scan(&mut self, text: &str) -> Screen {
        self.act(Action::Scan(text.to_owned()))
    }

    fn press(&mut self, control: Control, index: usize) -> Screen {
        self.act(Action::Press { control, index })
    }

    fn enter(&mut self, text: &str) -> Screen {
        self.act(Action::Enter(text.to_owned()))
    }

    fn hold(&mut self, control: HeldControl) -> Screen {
        self.act(Action::Held { control, milliseconds: 1000 })
    }

    fn act(&mut self, action: Action) -> Screen {
        self.bench.act(action);
        self.bench.screen()
    }

    fn go_to_tape(&mut self) {
        self.scan("SPKB41042A");
        self.scan("Q-114");
        for part in 0..3 {
            self.press(Control::CycleCondition, part);
        }
        self.press(Control::Next, 0);
        self.hold(HeldControl::Isolation);
    }

    fn size(&self) -> u64 {
        self.disk.head().unwrap().size
    }
}

fn bench(disk: &Shared, clock: &SimulatedClock, labels: &tempfile::TempDir) -> Bench {
    let shared: Arc<dyn Clock> = Arc::new(clock.clone());
    let mut config = Config::load(None).unwrap();
    "UTC".clone_into(&mut config.shop.time_zone);
    let parts = Parts {
        disk: Box::new(disk.clone()),
        clock: shared,
        printer: Box::new(FolderPrinter::new(labels.path().to_owned())),
        config,
        folder: "the folder".to_owned(),
        pepper: Pepper::missing(),
    };
    let mut bench = Bench::new(parts).unwrap();
    bench.begin();
    bench
}

fn tape_values(screen: &Screen) -> Vec<String> {
    let Body::Tape(tape) = &screen.body else { panic!("not at Tape: {:?}", screen.body) };
    tape.places.iter().map(|place| place.value.clone()).collect()
}

fn told(screen: &Screen) -> String {
    screen.notice.as_ref().map(|notice| notice.text.clone()).unwrap_or_default()
}

#[test]
fn a_bench_without_a_grinder_on_record_says_so() {
    let mut stand = Stand::with(|record| !matches!(record, Record::Grinder { .. }));
    let before = stand.size();
    let screen = stand.scan("Q-114");
    assert!(told(&screen).contains("No grinder is on record"), "{}", told(&screen));
    assert!(matches!(&screen.body, Body::Home(home) if home.grinder == "Bench 1" && home.units == "16"));
    assert_eq!(stand.size(), before);
}

#[test]
fn a_reading_that_is_not_kept_is_not_shown() {
    for (failure, words) in [
        (full(), "Not kept: the disk is full"),
        (StoreError::Unwritable { detail: String::new() }, "Not kept: the record's folder cannot be written"),
        (StoreError::Corrupt { detail: String::new() }, "Not kept: the record cannot be used"),
        (StoreError::Other { detail: String::new() }, "Not kept: the record cannot be used"),
    ] {
        let mut stand = Stand::new();
        stand.go_to_tape();
        let size = stand.size();
        stand.fail(failure);
        let screen = stand.enter("5.020");
        assert!(told(&screen).starts_with(words), "{}", told(&screen));
        assert_eq!(tape_values(&screen), ["", "", ""]);
        assert_eq!(stand.size(), size);
        // The same reading is taken when the disk is well again.
        assert_eq!(tape_values(&stand.enter("5.020"))[0], "5.020 in");
        stand.restart();
        assert_eq!(tape_values(&stand.bench.screen())[0], "5.020 in");
    }
}

#[test]
fn what_was_stored_after_all_is_read_again() {
    let mut stand = Stand::new();
    stand.go_to_tape();
    stand.enter("5.020");
    // A commit that was reported as failed and is found on the disk: another bench on the same disk wrote it here.
    let mut other = bench(&stand.disk, &stand.clock, &stand.labels);
    other.act(Action::Enter("5.000".to_owned()));
    let size = stand.size();
    stand.fail(StoreError::Reload { from_seq: size });
    let screen = stand.enter("4.990");
    assert!(told(&screen).starts_with("Not kept"), "{}", told(&screen));
    assert_eq!(tape_values(&screen)[..2], ["5.020 in", "5.000 in"]);
    assert_eq!(stand.size(), size);
}

#[test]
fn nothing_starts_that_is_not_kept() {
    let mut stand = Stand::new();
    stand.go_to_tape();
    for number in ["5.020", "5.000"] {
        stand.enter(number);
    }
    stand.press(Control::Next, 0);
    stand.hold(HeldControl::Isolation);
    stand.press(Control::ZeroSet, 0);
    stand.enter("20");
    stand.press(Control::Next, 0);
    stand.hold(HeldControl::Isolation);
    stand.enter("0");
    stand.enter("0.5");
    stand.press(Control::Next, 0);
    let item = |screen: &Screen| match &screen.body {
        Body::Clearance(clearance) => clearance.current.as_ref().map(|item| item.number),
        other => panic!("not at Clearance: {other:?}"),
    };
    stand.fail(full());
    assert_eq!(item(&stand.hold(HeldControl::ClearanceItem)), Some(1));
    for next in [Some(2), Some(3), Some(4), Some(5), Some(6), None] {
        assert_eq!(item(&stand.hold(HeldControl::ClearanceItem)), next);
    }
    stand.fail(full());
    let screen = stand.hold(HeldControl::StartGrind);
    assert!(matches!(screen.body, Body::Clearance(_)), "{:?}", screen.body);
    assert!(told(&screen).starts_with("Not kept"), "{}", told(&screen));
    stand.hold(HeldControl::StartGrind);
    stand.fail(full());
    let Body::Grind(grind) = stand.press(Control::PassDone, 0).body else { panic!("not at Grind") };
    assert_eq!(grind.pass, 1);
    // A lapse that cannot be kept still ends the grind as soon as it can be: it is asked for again.
    stand.scan("SPKB41077N");
    assert!(matches!(stand.bench.screen().body, Body::Clearance(_)));
}

#[test]
fn records_and_people_that_are_not_kept_are_not_there() {
    let mut stand = Stand::new();
    stand.fail(full());
    let screen = stand.scan("SPKB41042A");
    assert!(told(&screen).starts_with("Not kept") && screen.strip.operator.is_empty());
    stand.fail(full());
    let screen = stand.scan("Q-114");
    assert!(told(&screen).starts_with("Not kept") && matches!(screen.body, Body::Home(_)));
    stand.scan("Z-900");
    stand.press(Control::PickType, 1);
    stand.press(Control::PickMower, 1);
    stand.fail(full());
    let screen = stand.press(Control::PickPosition, 2);
    assert!(told(&screen).starts_with("Not kept") && matches!(screen.body, Body::Enrol(_)), "{:?}", screen.body);
    let screen = stand.press(Control::PickPosition, 2);
    assert!(matches!(screen.body, Body::Receive(_)), "{:?}", screen.body);
}

#[test]
fn a_start_that_is_not_kept_takes_nothing() {
    let mut stand = Stand::new();
    stand.go_to_tape();
    stand.enter("5.020");
    let size = stand.size();
    stand.fail(full());
    stand.restart();
    let screen = stand.bench.screen();
    let Body::Fault(fault) = &screen.body else { panic!("no fault: {:?}", screen.body) };
    assert_eq!(fault.title, "The disk is full");
    assert!(matches!(stand.scan("SPKB41042A").body, Body::Fault(_)));
    assert_eq!(stand.size(), size);
    stand.restart();
    assert_eq!(tape_values(&stand.bench.screen())[0], "5.020 in");
}

/// A kiosk whose start could not be kept must not go on with a clearance, or a grind, of the process before.
#[test]
fn a_clearance_never_outlives_the_process() {
    let mut stand = Stand::new();
    stand.go_to_tape();
    for number in ["5.020", "5.000"] {
        stand.enter(number);
    }
    stand.press(Control::Next, 0);
    stand.hold(HeldControl::Isolation);
    stand.press(Control::ZeroSet, 0);
    stand.enter("20");
    stand.press(Control::Next, 0);
    stand.hold(HeldControl::Isolation);
    stand.enter("0");
    stand.enter("0.5");
    stand.press(Control::Next, 0);
    for _ in 0..6 {
        stand.hold(HeldControl::ClearanceItem);
    }
    stand.hold(HeldControl::StartGrind);
    stand.press(Control::PassDone, 0);
    // The disk is full at the start, and has room when the same operator scans the same badge.
    stand.fail(full());
    stand.restart();
    for _ in 0..2 {
        stand.scan("SPKB41042A");
        assert!(matches!(stand.press(Control::PassDone, 0).body, Body::Fault(_)));
    }
    stand.restart();
    let screen = stand.scan("SPKB41042A");
    assert!(matches!(screen.body, Body::Clearance(_)), "{:?}", screen.body);
}
