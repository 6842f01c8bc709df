//! PINs on a disk that fails, over a rebuild, in practice, and without their pepper.

use super::{Stand, full, told};
use crate::clock::{Clock, SimulatedClock};
use crate::config::Config;
use crate::kiosk::pins_forgotten::forget;
use crate::kiosk::{Bench, Parts, Shop, rebuild};
use crate::label::FolderPrinter;
use crate::store::{Pepper, Record as Disk};
use sparkout_core::pin::Pin;
use sparkout_core::setting::{Setting, SettingValue};
use sparkout_ui::action::{Action, Control};
use sparkout_ui::screen::{Body, PinAsks, Screen};
use std::collections::BTreeMap;
use std::sync::Arc;

const INES: &str = "SPKB41042A";
const OTTO: &str = "SPKB41077N";

/// A bench whose badges ask for a PIN, and its pepper.
struct Asking {
    stand: Stand,
    pepper: Pepper,
}

impl Asking {
    fn new() -> Self {
        let pepper = Pepper::in_memory().unwrap();
        let mut asking = Self { stand: Stand::new(), pepper };
        asking.restart();
        asking
    }

    /// Another run of the process: its clock counts from nought under another name.
    fn restart(&mut self) {
        let clock = SimulatedClock::starting_at(self.stand.clock.now().wall + jiff::SignedDuration::from_secs(20));
        self.stand.clock = clock.clone();
        let shared: Arc<dyn Clock> = Arc::new(clock);
        let ask = BTreeMap::from([(Setting::AskPin, SettingValue::On(true))]);
        let mut config = Config::load(None).unwrap().with_settings(&ask);
        "UTC".clone_into(&mut config.shop.time_zone);
        let parts = Parts {
            disk: Box::new(self.stand.disk.clone()),
            clock: shared,
            printer: Box::new(FolderPrinter::new(self.stand.labels.path().to_owned())),
            config,
            folder: "the folder".to_owned(),
            pepper: self.pepper.clone(),
        };
        let mut bench = Bench::new(parts).unwrap();
        bench.begin();
        self.stand.bench = bench;
    }

    fn pin(&mut self, digits: &str) -> Screen {
        self.stand.act(Action::Pin(Pin::new(digits)))
    }

    /// Signs on for the first time.
    fn set(&mut self, badge: &str, digits: &str) {
        self.stand.scan(badge);
        self.pin(digits);
        let screen = self.pin(digits);
        assert!(!matches!(screen.body, Body::Pin(_)), "{}", told(&screen));
    }

    fn sign_out(&mut self) {
        self.stand.press(Control::SignOut, 0);
    }
}

#[track_caller]
fn asks(screen: &Screen) -> PinAsks {
    match &screen.body {
        Body::Pin(pin) => pin.asks,
        other => panic!("no PIN is asked: {other:?}; {}", told(screen)),
    }
}

#[test]
fn a_try_that_cannot_be_kept_signs_nobody_on_and_says_so() {
    let mut asking = Asking::new();
    asking.set(INES, "4071");
    asking.sign_out();
    asking.stand.scan(INES);
    for digits in ["4072", "4071"] {
        // The right one and a wrong one are told alike.
        asking.stand.fail(full());
        let screen = asking.pin(digits);
        assert!(told(&screen).contains("was not recorded") || told(&screen).contains("full"), "{}", told(&screen));
        assert!(screen.strip.operator.is_empty());
        asking.stand.scan(INES);
    }
    assert_eq!(asking.pin("4071").strip.operator, "IB");
}

#[test]
fn a_first_pin_that_cannot_be_kept_is_none() {
    let mut asking = Asking::new();
    asking.stand.scan(INES);
    asking.pin("4071");
    asking.stand.fail(full());
    let screen = asking.pin("4071");
    assert_eq!(asks(&screen), PinAsks::Again);
    assert!(asking.stand.disk.pinned().unwrap().is_empty());
}

#[test]
fn tries_and_locks_are_worked_out_again_from_the_journal_and_hashes_stay() {
    let mut asking = Asking::new();
    asking.set(INES, "4071");
    asking.set(OTTO, "6158");
    asking.stand.scan(INES);
    for _ in 0..5 {
        asking.pin("4079");
    }
    asking.stand.scan(OTTO);
    asking.pin("6150");
    let before = Shop::load(&asking.stand.disk).unwrap().pin_guards;
    assert_eq!(before.len(), 2);
    let hashes = |disk: &dyn Disk| [disk.pin_hash("1042").unwrap(), disk.pin_hash("1077").unwrap()];
    let kept = hashes(&asking.stand.disk);
    rebuild(&mut asking.stand.disk).unwrap();
    assert_eq!(Shop::load(&asking.stand.disk).unwrap().pin_guards, before);
    assert_eq!(hashes(&asking.stand.disk), kept);
    // The lock outlives the process, and so do the tries of the other badge.
    asking.restart();
    assert_eq!(asks(&asking.stand.scan(INES)), PinAsks::Locked);
    asking.stand.scan(OTTO);
    assert!(told(&asking.pin("6151")).contains("3 tries are left"));
    assert_eq!(asking.pin("6158").strip.operator, "OH");
    rebuild(&mut asking.stand.disk).unwrap();
    assert_eq!(Shop::load(&asking.stand.disk).unwrap().pin_guards.len(), 1, "a right PIN clears the tries");
}

#[test]
fn a_locked_badge_takes_not_even_the_right_one() {
    let mut asking = Asking::new();
    asking.set(INES, "4071");
    asking.sign_out();
    asking.stand.scan(INES);
    for _ in 0..5 {
        asking.pin("4079");
    }
    let size = asking.stand.size();
    let screen = asking.pin("4071");
    assert!(screen.strip.operator.is_empty() && told(&screen).contains("is locked for 15 min"), "{}", told(&screen));
    assert!(screen.entry.is_none());
    assert_eq!(asking.stand.size(), size, "what is not looked at is not counted");
    asking.stand.clock.move_wall(86_400 * 30);
    assert!(asking.pin("4071").strip.operator.is_empty(), "turning the clock opens nothing");
    asking.stand.clock.advance(15 * 60_000);
    assert_eq!(asking.pin("4071").strip.operator, "IB");
}

#[test]
fn while_a_pin_is_asked_nobody_stands_at_the_bench() {
    let mut asking = Asking::new();
    asking.set(INES, "4071");
    asking.set(OTTO, "6158");
    asking.stand.scan(INES);
    asking.pin("4071");
    let screen = asking.stand.scan(OTTO);
    assert!(screen.strip.operator.is_empty());
    assert_eq!(asks(&screen), PinAsks::Own);
    assert!(screen.entry.is_some_and(|entry| entry.secret));
    // Numbers, letters and answers go nowhere meanwhile.
    let size = asking.stand.size();
    asking.stand.enter("4071");
    asking.stand.act(Action::Letters("A".to_owned()));
    asking.stand.press(Control::Answer, 0);
    assert_eq!(asking.stand.size(), size);
    assert!(asking.stand.press(Control::Back, 0).strip.operator.is_empty());
}

#[test]
fn practice_asks_for_none() {
    let asking = Asking::new();
    let practice = crate::kiosk::practice::Practice::beside(&asking.stand.bench, false).unwrap();
    assert!(!practice.bench().config.asks_pin());
}

#[test]
fn what_is_forgotten_is_gone_and_on_record() {
    let mut asking = Asking::new();
    asking.set(INES, "4071");
    asking.set(OTTO, "6158");
    let now = asking.stand.clock.now();
    assert_eq!(forget(&mut asking.stand.disk, &now, Some("1099")).unwrap(), Vec::<String>::new());
    assert_eq!(forget(&mut asking.stand.disk, &now, None).unwrap(), ["1042", "1077"]);
    assert!(asking.stand.disk.pinned().unwrap().is_empty());
    asking.restart();
    assert_eq!(asks(&asking.stand.scan(INES)), PinAsks::Choose);
}
