//! The station round a bench whose disk the test keeps a hand on.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use super::Station;
use crate::clock::{Clock, SimulatedClock};
use crate::config::Config;
use crate::kiosk::{Bench, Parts, Shop, rebuild, write_records};
use crate::label::FolderPrinter;
use crate::store::tests::shared::Shared;
use crate::store::{Pepper, Record, StoreError};
use sparkout_core::entry::{Entry, EntryBody};
use sparkout_core::moment::Moment;
use sparkout_core::reading::Reading;
use sparkout_core::setting::{Setting, SettingValue};
use sparkout_ui::action::{Action, Control, HeldControl, Manner};
use sparkout_ui::screen::{Body, LinkState, Screen};
use std::sync::Arc;

struct Stand {
    disk: Shared,
    clock: SimulatedClock,
    station: Station,
    labels: tempfile::TempDir,
}

const LEAD: &str = "SPKB41042A";
const TECHNICIAN: &str = "SPKB41077N";

impl Stand {
    /// The invented shop, as if it were real.
    fn new() -> Self {
        let begun = crate::demo::WALK_BEGINS.parse().unwrap();
        let at = Moment { wall: begun, monotonic_ms: 0, boot: "set-up".to_owned() };
        let mut disk = Shared::default();
        write_records(&mut disk, &mut Shop::default(), &at, crate::demo::records_of(begun).unwrap()).unwrap();
        Self::over(disk, SimulatedClock::starting_at(begun))
    }

    fn over(disk: Shared, clock: SimulatedClock) -> Self {
        let labels = tempfile::tempdir().unwrap();
        let shared: Arc<dyn Clock> = Arc::new(clock.clone());
        let mut config = Config::load(None).unwrap();
        "UTC".clone_into(&mut config.shop.time_zone);
        let parts = Parts {
            disk: Box::new(disk.clone()),
            clock: shared,
            printer: Box::new(FolderPrinter::new(labels.path().join("labels"))),
            config,
            folder: "the folder".to_owned(),
            pepper: Pepper::missing(),
        };
        std::fs::create_dir(labels.path().join("labels")).unwrap();
        let mut station = Station::over(Bench::new(parts).unwrap());
        station.begin();
        Self { disk, clock, station, labels }
    }

    fn act(&mut self, action: Action) -> Screen {
        self.station.act(action);
        self.station.screen()
    }

    fn scan(&mut self, text: &str) -> Screen {
        self.act(Action::Scan(text.to_owned()))
    }

    fn press(&mut self, control: Control, index: usize) -> Screen {
        self.act(Action::Press { control, index })
    }

    fn manner(&mut self, manner: Manner, index: usize) -> Screen {
        self.act(Action::Manner { manner, index })
    }

    fn hold(&mut self, control: HeldControl) -> Screen {
        self.act(Action::Held { control, milliseconds: 1000 })
    }

    fn later(&mut self, milliseconds: u64) -> Screen {
        self.clock.advance(milliseconds);
        self.station.tick();
        self.station.screen()
    }

    /// Taps a thing on practice's sheet, by its name.
    fn tap(&mut self, name: &str) -> Screen {
        let screen = self.manner(Manner::OpenSheet, 0);
        let sheet = screen.manners.practice.unwrap().sheet.unwrap();
        let index = sheet.iter().position(|code| code.name == name).unwrap_or_else(|| panic!("{name} in {sheet:?}"));
        self.manner(Manner::TakeCode, index)
    }

    /// A straight reel, trued, to the gate.
    fn go_to_the_gate(&mut self) {
        for part in 0..3 {
            self.press(Control::CycleCondition, part);
        }
        let enter = |stand: &mut Self, text: &str| stand.act(Action::Enter(text.to_owned()));
        self.press(Control::Next, 0);
        self.hold(HeldControl::Isolation);
        enter(self, "5.000");
        enter(self, "5.000");
        self.press(Control::Next, 0);
        self.hold(HeldControl::Isolation);
        self.press(Control::ZeroSet, 0);
        enter(self, "0");
        self.press(Control::Next, 0);
        self.hold(HeldControl::Isolation);
        enter(self, "0");
        enter(self, "0");
        let screen = self.press(Control::Next, 0);
        assert!(matches!(screen.body, Body::Clearance(_)), "{:?}", screen.body);
    }

    fn all_rows(&self) -> Vec<Vec<(String, String)>> {
        let kinds = ["type", "unit", "mower", "operator", "bench", "open_visit"];
        kinds.iter().map(|kind| self.disk.derived_all(kind).unwrap()).collect()
    }
}

fn told(screen: &Screen) -> String {
    screen.notice.as_ref().map(|notice| notice.text.clone()).unwrap_or_default()
}

#[test]
fn a_whole_practised_visit_leaves_the_real_journal_as_it_was() {
    let mut stand = Stand::new();
    stand.scan(LEAD);
    let (head, rows) = (stand.disk.head().unwrap(), stand.all_rows());
    let untouched = |stand: &Stand| {
        assert_eq!(stand.disk.head().unwrap(), head);
        assert_eq!(stand.all_rows(), rows);
    };
    let screen = stand.manner(Manner::Practice, 0);
    assert!(screen.manners.practice.is_some() && screen.strip.practice);
    assert!(screen.strip.operator.is_empty() && screen.strip.journal_entries.is_empty());
    stand.tap("Badge Ines Barro");
    stand.tap("Tag Q-114");
    stand.go_to_the_gate();
    for _ in 0..6 {
        stand.hold(HeldControl::ClearanceItem);
    }
    let screen = stand.hold(HeldControl::StartGrind);
    assert!(matches!(screen.body, Body::Grind(_)), "{:?}", screen.body);
    untouched(&stand);
    let mut screen = screen;
    for _ in 0..40 {
        if matches!(&screen.body, Body::Grind(grind) if grind.run_down) {
            break;
        }
        screen = stand.press(Control::PassDone, 0);
    }
    stand.hold(HeldControl::StandStill);
    stand.hold(HeldControl::Isolation);
    for number in ["4.986", "4.986", "0.064", "0.400"] {
        stand.act(Action::Enter(number.to_owned()));
    }
    stand.press(Control::PickBedknife, 0);
    stand.press(Control::PaperCuts, 0);
    stand.press(Control::Next, 0);
    let screen = stand.press(Control::Print, 0);
    let Body::Label(label) = &screen.body else { panic!("not at Label: {:?}", screen.body) };
    assert_eq!(label.printed_to, "PRACTICE");
    assert_eq!(std::fs::read_dir(stand.labels.path().join("labels")).unwrap().count(), 0, "nothing was printed");
    stand.tap("Label");
    stand.press(Control::Next, 0);
    let screen = stand.tap("Place");
    assert!(matches!(screen.body, Body::Home(_)), "{:?}", screen.body);
    assert!(screen.manners.offers.end_practice);
    untouched(&stand);
    let screen = stand.manner(Manner::EndPractice, 0);
    assert!(screen.manners.practice.is_none() && told(&screen).contains("real bench"), "{}", told(&screen));
    assert_eq!(screen.strip.operator, "IB", "the real operator is still at the real bench");
    untouched(&stand);
    // What follows is recorded again.
    stand.scan(TECHNICIAN);
    assert_eq!(stand.disk.head().unwrap().size, head.size + 1);
}

#[test]
fn practice_begins_at_home_with_the_rails_free_and_is_another_shop_each_time() {
    let mut stand = Stand::new();
    stand.scan("Q-113");
    let screen = stand.manner(Manner::Practice, 0);
    assert!(screen.manners.practice.is_none() && told(&screen).contains("nothing on the rails"), "{}", told(&screen));
    stand.press(Control::PauseVisit, 0);
    stand.press(Control::About, 0);
    assert!(stand.manner(Manner::Practice, 0).manners.practice.is_none(), "not from settings");
    stand.press(Control::Back, 0);
    stand.manner(Manner::Practice, 0);
    let screen = stand.tap("Tag Q-114");
    assert!(matches!(screen.body, Body::Receive(_)));
    stand.manner(Manner::EndPractice, 0);
    let screen = stand.manner(Manner::Practice, 0);
    let Body::Home(home) = &screen.body else { panic!("{:?}", screen.body) };
    assert!(home.waiting.is_empty() && home.operator.is_empty());
}

#[test]
fn the_real_bench_goes_on_ticking_while_somebody_practises() {
    let mut stand = Stand::new();
    stand.manner(Manner::Practice, 0);
    assert!(stand.later(1500).strip.printer_ready);
    std::fs::remove_dir(stand.labels.path().join("labels")).unwrap();
    assert!(!stand.later(2000).strip.printer_ready, "the strip tells of the real printer");
    let size = stand.disk.head().unwrap().size;
    stand.clock.move_wall(3 * 3600);
    let screen = stand.later(500);
    assert!(screen.strip.clock_changed && told(&screen).contains("3 h ahead"), "{}", told(&screen));
    // The clock of the kiosk was moved, and that is real.
    assert_eq!(stand.disk.head().unwrap().size, size + 1);
}

#[test]
fn codes_of_the_real_shop_are_not_practised_with() {
    let mut stand = Stand::new();
    stand.manner(Manner::Practice, 0);
    for (code, named) in [(LEAD, "Ines Barro"), ("Q-114", "Q-114")] {
        let screen = stand.scan(code);
        assert!(told(&screen).contains("This is practice") && told(&screen).contains(named), "{}", told(&screen));
        assert!(matches!(screen.body, Body::Home(_)) && screen.strip.operator.is_empty());
    }
    // What the real shop does not know is practice's own business.
    assert!(matches!(stand.scan("Z-900").body, Body::Enrol(_)));
}

#[test]
fn printer_and_clock_are_told_within_two_seconds_and_the_move_is_on_record() {
    let mut stand = Stand::new();
    let screen = stand.later(1000);
    assert!(screen.strip.printer_ready && !screen.strip.clock_changed && screen.strip.link == LinkState::NoHub);
    let labels = stand.labels.path().join("labels");
    std::fs::remove_dir(&labels).unwrap();
    stand.later(500);
    assert!(!stand.later(1000).strip.printer_ready);
    std::fs::create_dir(&labels).unwrap();
    stand.later(500);
    assert!(stand.later(1000).strip.printer_ready);
    stand.clock.move_wall(90);
    assert!(!stand.later(500).strip.clock_changed, "a clock that is set right");
    stand.clock.move_wall(-7200);
    assert!(stand.later(500).strip.clock_changed);
    let size = stand.disk.head().unwrap().size;
    let (_, bytes) = stand.disk.entries(size, 1).unwrap().remove(0);
    let entry: Entry = serde_json::from_slice(&bytes).unwrap();
    assert_eq!(entry.body, EntryBody::ClockMoved { seconds: 90 - 7200 });
    assert!(!stand.later(3_600_000).strip.clock_changed);
}

#[test]
fn the_screen_dims_wakes_and_presses_nothing() {
    let mut stand = Stand::new();
    assert!(stand.later(599_000).manners.veil.is_none());
    let veil = stand.later(1_000).manners.veil.expect("dimmed after ten minutes");
    assert_eq!((veil.clock.as_str(), veil.station.as_str()), ("09:40", "Bench 1"));
    // A finger that rests, and a press that was on its way when the screen dimmed.
    assert!(stand.act(Action::Touched).manners.veil.is_some());
    let screen = stand.press(Control::FindByMower, 0);
    assert!(screen.manners.veil.is_none() && matches!(screen.body, Body::Home(_)));
    stand.later(600_000);
    let screen = stand.scan(LEAD);
    assert!(screen.manners.veil.is_none() && screen.strip.operator == "IB", "a waking scan counts");
    // Whoever is there keeps it lit.
    for _ in 0..4 {
        stand.later(400_000);
        assert!(stand.act(Action::Touched).manners.veil.is_none());
    }
}

#[test]
fn the_screen_stays_lit_at_the_gate_at_grind_and_at_the_run_down() {
    const LONG: u64 = 3_600_000;
    let mut stand = Stand::new();
    stand.scan(LEAD);
    stand.scan("Q-114");
    stand.go_to_the_gate();
    assert!(stand.later(LONG).manners.veil.is_none(), "Clearance");
    for _ in 0..6 {
        stand.hold(HeldControl::ClearanceItem);
    }
    stand.hold(HeldControl::StartGrind);
    let mut screen = stand.later(LONG);
    assert!(screen.manners.veil.is_none() && matches!(screen.body, Body::Grind(_)));
    for _ in 0..40 {
        screen = stand.press(Control::PassDone, 0);
        if matches!(&screen.body, Body::Grind(grind) if grind.run_down) {
            break;
        }
    }
    assert!(matches!(&screen.body, Body::Grind(grind) if grind.run_down), "{:?}", screen.body);
    assert!(stand.later(LONG).manners.veil.is_none(), "run-down");
    assert!(!stand.act(Action::CloseAsked).manners.left, "and nobody leaves before both stand still");
    stand.hold(HeldControl::StandStill);
    assert!(stand.later(LONG).manners.veil.is_some(), "Prove");
}

#[test]
fn a_lead_changes_a_setting_and_the_record_names_who_and_from_what_to_what() {
    let mut stand = Stand::new();
    let pick = Setting::ALL.iter().position(|setting| *setting == Setting::ConeLimit).unwrap();
    let settings = |screen: &Screen| match &screen.body {
        Body::ShopSettings(settings) => settings.clone(),
        other => panic!("not at the settings: {other:?}"),
    };
    stand.scan(TECHNICIAN);
    let size = stand.disk.head().unwrap().size;
    stand.manner(Manner::ShopSettings, 0);
    let screen = stand.manner(Manner::PickSetting, pick);
    assert!(!settings(&screen).may_change);
    assert!(told(&stand.manner(Manner::More, 0)).contains("Only a lead"));
    assert!(told(&stand.manner(Manner::KeepSetting, 0)).contains("Only a lead"));
    assert_eq!(stand.disk.head().unwrap().size, size);
    stand.scan(LEAD);
    let screen = stand.manner(Manner::More, 0);
    assert!(settings(&screen).may_change && settings(&screen).picked.changed);
    assert_eq!(settings(&screen).rows[pick].value, "2.0 thou", "in force is what was, until it is kept");
    let screen = stand.manner(Manner::KeepSetting, 0);
    assert_eq!(settings(&screen).rows[pick].value, "2.5 thou");
    let size = stand.disk.head().unwrap().size;
    let (_, bytes) = stand.disk.entries(size, 1).unwrap().remove(0);
    let entry: Entry = serde_json::from_slice(&bytes).unwrap();
    let length = |nanometres| SettingValue::Length(Reading::from_nanometres(nanometres));
    let (old, new) = (length(50_800), length(63_500));
    assert_eq!(entry.body, EntryBody::Settings { by: "1042".to_owned(), setting: Setting::ConeLimit, old, new });
    // Derived, and worked out again from the journal alone.
    let rows = stand.all_rows();
    rebuild(&mut stand.disk).unwrap();
    assert_eq!(stand.all_rows(), rows);
    // In force at once, and after a restart.
    assert!((stand.station.bench.facts().unwrap().limits.cone.thou() - 2.5).abs() < 1e-9);
    let again = Stand::over(stand.disk.clone(), stand.clock.clone());
    assert!((again.station.bench.facts().unwrap().limits.cone.thou() - 2.5).abs() < 1e-9);
}

#[test]
fn a_setting_that_is_not_kept_is_not_in_force() {
    let mut stand = Stand::new();
    stand.scan(LEAD);
    stand.manner(Manner::ShopSettings, 0);
    stand.manner(Manner::More, 0);
    stand.disk.with(|disk| disk.fail_next(StoreError::Full { detail: String::new() }));
    let screen = stand.manner(Manner::KeepSetting, 0);
    assert!(told(&screen).starts_with("Not kept"), "{}", told(&screen));
    assert!((stand.station.bench.facts().unwrap().limits.tilt.thou() - 2.0).abs() < 1e-9);
}

#[test]
fn nothing_of_the_shop_is_changed_from_practice() {
    let mut stand = Stand::new();
    stand.manner(Manner::Practice, 0);
    stand.tap("Badge Ines Barro");
    stand.manner(Manner::ShopSettings, 0);
    assert!(told(&stand.manner(Manner::More, 0)).contains("not changed from practice"));
}

#[test]
fn a_new_bench_is_on_record_whole_or_not_at_all() {
    let clock = SimulatedClock::starting_at(crate::demo::WALK_BEGINS.parse().unwrap());
    let mut stand = Stand::over(Shared::default(), clock);
    let screen = stand.station.screen();
    assert!(screen.manners.offers.set_up && screen.manners.offers.tour && screen.manners.offers.practice);
    assert!(stand.station.screen().manners.may_leave, "where nobody is on record nobody can be a lead");
    stand.manner(Manner::SetUp, 0);
    let letters = |stand: &mut Stand, text: &str| {
        for letter in text.chars() {
            stand.act(Action::Letters(letter.to_string()));
        }
        stand.act(Action::Letters("Take".to_owned()));
    };
    let enter = |stand: &mut Stand, text: &str| stand.act(Action::Enter(text.to_owned()));
    letters(&mut stand, "West bench");
    stand.manner(Manner::PickChoice, 0);
    for number in ["0.100", "0.001", "3450"] {
        enter(&mut stand, number);
    }
    stand.manner(Manner::PickChoice, 1);
    for number in ["5.5", "4200"] {
        enter(&mut stand, number);
    }
    stand.manner(Manner::PickChoice, 0);
    stand.manner(Manner::PickChoice, 0);
    stand.scan(LEAD);
    letters(&mut stand, "Mara");
    letters(&mut stand, "MA");
    letters(&mut stand, "Greens 2");
    let screen = enter(&mut stand, "3");
    assert!(matches!(&screen.body, Body::FirstStart(start) if start.complete), "{:?}", screen.body);
    let size = stand.disk.head().unwrap().size;
    stand.disk.with(|disk| disk.fail_next(StoreError::Full { detail: String::new() }));
    let screen = stand.manner(Manner::KeepBench, 0);
    assert!(told(&screen).starts_with("Not kept"), "{}", told(&screen));
    assert_eq!(stand.disk.head().unwrap().size, size);
    let screen = stand.manner(Manner::KeepBench, 0);
    assert!(matches!(&screen.body, Body::Home(home) if home.grinder == "West bench"), "{:?}", screen.body);
    assert_eq!(screen.strip.operator, "MA");
    assert_eq!(stand.disk.head().unwrap().size, size + 5, "grinder, wheel, lead, mower, and who is at the bench");
    let facts = stand.station.bench.facts().unwrap();
    assert!(facts.grinder.check_due < facts.today, "not checked: the gate stays shut until it is");
    let rows = stand.all_rows();
    rebuild(&mut stand.disk).unwrap();
    assert_eq!(stand.all_rows(), rows);
}
