//! The grinder's own health on a bench: what is kept, learnt, rebuilt, and never shown before it was kept.

use super::{Stand, bench, full, told};
use crate::clock::SimulatedClock;
use crate::kiosk::{Shop, rebuild, write_records};
use crate::store::Record as Disk;
use crate::store::tests::shared::Shared;
use sparkout_core::bench::DialKind;
use sparkout_core::entry::Record;
use sparkout_core::health::earned::Source;
use sparkout_core::moment::Moment;
use sparkout_core::quantity::Length;
use sparkout_core::reading::{EntryUnit, Reading};
use sparkout_core::record::{Lesson, Work};
use sparkout_ui::action::{Action, Control, HeldControl};
use sparkout_ui::screen::{BarPhase, Body, GrinderState, Screen};

fn inch(text: &str) -> Reading {
    Reading::parse(text, EntryUnit::Inch).unwrap()
}

/// Work of another day on the demo's bench, with a closure of so many thousandths.
fn work(day: i8, misclosed_thou: f64, visit: Option<&str>) -> Work {
    Work {
        date: jiff::civil::date(2026, 4, day),
        operator: "IB".to_owned(),
        before_lead: inch("4.900"),
        before_trail: inch("4.900"),
        lead: inch("4.882"),
        trail: inch("4.882"),
        land: None,
        height_of_cut: None,
        proven: true,
        visit: visit.map(str::to_owned),
        lesson: Some(Box::new(Lesson {
            grinder: "Bench 1".to_owned(),
            dial: DialKind::Diameter,
            dial_graduation: inch("0.0001"),
            tape: "Tape 1".to_owned(),
            tape_graduation: inch("0.0001"),
            wheel: Some("W-7".to_owned()),
            infeed: Some(Length::from_inches(0.020)),
            removed: Some(Length::from_inches(0.018)),
            touches: vec![inch("0.010")],
            tilt: Some(Length::ZERO),
            misclosure: Some(Length::from_inches(misclosed_thou / 1000.0)),
            misclosure_u95: Some(Length::from_inches(0.0015)),
        })),
    }
}

/// The demo's shop with so many more pieces of work, ±1 thousandth in turn.
fn experienced(works: i8) -> Stand {
    let begun = crate::demo::WALK_BEGINS.parse().unwrap();
    let mut disk = Shared::default();
    let at = Moment { wall: begun, monotonic_ms: 0, boot: "set-up".to_owned() };
    // Without the demo's own closures.
    let mut records: Vec<Record> = crate::demo::records_of(begun).unwrap();
    for record in &mut records {
        if let Record::OlderWork { work, .. } = record {
            work.lesson = None;
        }
    }
    records.extend((1..=works).map(|day| Record::OlderWork {
        tag: "Q-114".to_owned(),
        work: work(day, if day % 2 == 0 { 1.0 } else { -1.0 }, None),
    }));
    write_records(&mut disk, &mut Shop::default(), &at, records).unwrap();
    let labels = tempfile::tempdir().unwrap();
    let clock = SimulatedClock::starting_at(begun);
    let bench = bench(&disk, &clock, &labels);
    Stand { disk, clock, bench, labels }
}

fn derived(stand: &Stand) -> Vec<(String, String, String)> {
    let kinds = ["type", "unit", "mower", "operator", "bench", "open_visit"];
    let of = |kind: &str| {
        let all = stand.disk.derived_all(kind).unwrap();
        all.into_iter().map(|(key, body)| (kind.to_owned(), key, body)).collect::<Vec<_>>()
    };
    kinds.into_iter().flat_map(of).collect()
}

fn check_body(screen: &Screen) -> &sparkout_ui::screen::GrinderCheck {
    match &screen.body {
        Body::GrinderCheck(check) => check,
        other => panic!("no check: {other:?}"),
    }
}

fn begin_check(stand: &mut Stand) {
    stand.act(Action::Scan("SPKB41042A".to_owned()));
    stand.press(Control::GrinderHealth, 0);
    stand.press(Control::StartCheck, 0);
    stand.hold(HeldControl::Isolation);
}

/// Twenty closures replace what the configuration assumed; nineteen do not (JCGM 100:2008, Table E.1, as in core).
#[test]
fn twenty_closures_replace_what_was_assumed() {
    let before = experienced(19);
    let facts = before.bench.facts().unwrap();
    assert_eq!(facts.upkeep.touch_source, Source::TooFew { closures: 19, needed: 20 });
    assert!((facts.instruments.touch_sd.inches() - 0.0003).abs() < 1e-12);
    let mut after = experienced(20);
    let facts = after.bench.facts().unwrap();
    assert_eq!(facts.upkeep.touch_source, Source::Closures { closures: 20, degrees_of_freedom: 18, own: false });
    let expected = ((20.0_f64 / 19.0 - 6.0 * 0.01 / 12.0) / 2.0).sqrt();
    assert!((facts.instruments.touch_sd.thou() - expected).abs() < 1e-9);
    // Their own, once it is known who stands there.
    after.scan("SPKB41042A");
    let facts = after.bench.facts().unwrap();
    assert!(matches!(facts.upkeep.touch_source, Source::Closures { own: true, .. }));
}

/// The mounted wheel's last grinds gave 0.018 for 0.020: the next plan feeds as much more.
#[test]
fn the_wheel_s_yield_reaches_the_plan() {
    let mut stand = experienced(20);
    let known = stand.bench.facts().unwrap().upkeep.wheel_yield.unwrap();
    assert!((known.removed_per_infeed.value() - 0.9).abs() < 1e-12);
    let passes = |stand: &mut Stand, lead: &str, trail: &str| {
        stand.go_to_tape();
        stand.enter(lead);
        stand.enter(trail);
        let facts = stand.bench.facts().unwrap();
        stand.bench.on_rails().unwrap().visit.plan(&facts).unwrap().passes
    };
    // Stock 0.022, infeed 0.002 (handbook, section 3): 11 passes, and ceil(0.022/0.0018) with the yield.
    let unlearnt = passes(&mut experienced(0), "5.020", "5.000");
    assert_eq!((unlearnt, passes(&mut stand, "4.880", "4.860")), (11, 13));
}

/// What a visit is judged by must not move while it is judged.
#[test]
fn an_open_visit_has_taught_nothing_yet() {
    let mut stand = experienced(19);
    stand.go_to_tape();
    let id = stand.bench.on_rails().unwrap().visit.id().to_owned();
    let changes = stand.bench.shop.with_work("Q-114", &work(20, 1.0, Some(&id)), None);
    for change in changes {
        stand.bench.shop.take(change);
    }
    let facts = stand.bench.facts().unwrap();
    assert_eq!(facts.upkeep.touch_source, Source::TooFew { closures: 19, needed: 20 });
}

#[test]
fn a_reading_of_the_bar_that_is_not_kept_is_not_shown() {
    let mut stand = Stand::new();
    begin_check(&mut stand);
    let size = stand.size();
    stand.fail(full());
    let screen = stand.enter("2.0");
    assert!(told(&screen).starts_with("Not kept"), "{}", told(&screen));
    assert_eq!((check_body(&screen).station, stand.size()), (1, size));
    assert_eq!(check_body(&stand.enter("2.0")).stations[0].first, "+2.0");
}

/// An unfinished check is taken up again as it stood, and the records that follow are rebuilt from the journal alone.
#[test]
fn a_check_outlives_the_process_and_is_rebuilt() {
    let mut stand = Stand::new();
    begin_check(&mut stand);
    for reading in ["0", "0.5", "1.0"] {
        stand.enter(reading);
    }
    stand.restart();
    let screen = stand.bench.screen();
    let check = check_body(&screen);
    assert_eq!((check.phase, check.station, check.stations[2].first.as_str()), (BarPhase::Reading, 4, "+1.0"));
    let before = derived(&stand);
    rebuild(&mut stand.disk.clone()).unwrap();
    assert_eq!(derived(&stand), before);
    // On to the verdict, a lead's word, and a spot check.
    stand.scan("SPKB41042A");
    stand.enter("1.5");
    stand.enter("2.0");
    stand.press(Control::BarTurned, 0);
    for reading in ["0", "0.5", "1.0", "1.5", "2.0"] {
        stand.enter(reading);
    }
    let screen = stand.press(Control::FinishCheck, 0);
    assert!(matches!(&screen.body, Body::Grinder(grinder) if grinder.state == GrinderState::OutOfTrue));
    stand.press(Control::OverrideCheck, 0);
    let screen = stand.press(Control::PickReason, 1);
    assert!(matches!(&screen.body, Body::Grinder(grinder) if grinder.state == GrinderState::Overridden));
    stand.press(Control::SpotCheck, 0);
    stand.scan("Q-114");
    stand.enter("0.4");
    assert_eq!(stand.bench.shop.spot_checks.len(), 1);
    let before = derived(&stand);
    assert!(
        before.iter().any(|(_, key, _)| key == "spot_checks") && !before.iter().any(|(_, key, _)| key == "open_check")
    );
    rebuild(&mut stand.disk.clone()).unwrap();
    assert_eq!(derived(&stand), before);
    stand.restart();
    assert_eq!(stand.bench.shop.spot_checks.len(), 1);
    assert!(stand.bench.check.is_none());
}

#[test]
fn the_bar_and_a_unit_are_never_on_the_rails_together() {
    let mut stand = Stand::new();
    stand.go_to_tape();
    stand.press(Control::GrinderHealth, 0);
    let screen = stand.press(Control::StartCheck, 0);
    assert!(told(&screen).contains("Q-114 is on the rails"), "{}", told(&screen));
    stand.press(Control::Back, 0);
    stand.press(Control::PauseVisit, 0);
    begin_check(&mut stand);
    for act in [
        Action::Scan("Q-114".to_owned()),
        Action::Scan("Q-111".to_owned()),
        Action::Press { control: Control::TakeUp, index: 0 },
    ] {
        let screen = stand.act(act);
        assert!(told(&screen).contains("The master bar is on the rails"), "{}", told(&screen));
        assert!(stand.bench.on_rails().is_none());
    }
}

/// A unit scanned where closures are charted shows its own.
#[test]
fn closures_are_charted_by_bench_operator_tape_and_unit() {
    let mut stand = experienced(12);
    stand.scan("SPKB41077N");
    let points = |screen: &Screen| match &screen.body {
        Body::Grinder(grinder) => (grinder.closures.title.clone(), grinder.closures.points.len()),
        other => panic!("{other:?}"),
    };
    assert_eq!(points(&stand.press(Control::GrinderHealth, 0)), ("Closure, this bench · 12".to_owned(), 12));
    assert_eq!(points(&stand.press(Control::ClosureBy, 0)), ("Closure, Otto Hale · 0".to_owned(), 0));
    assert_eq!(points(&stand.press(Control::ClosureBy, 0)), ("Closure, Tape 1 · 12".to_owned(), 12));
    assert_eq!(points(&stand.scan("Q-114")), ("Closure, Q-114 · 12".to_owned(), 12));
    assert_eq!(points(&stand.scan("Q-111")), ("Closure, Q-111 · 0".to_owned(), 0));
    assert_eq!(points(&stand.press(Control::ClosureBy, 0)).1, 12);
}
