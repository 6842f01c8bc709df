//! Entries as the journal keeps them: read back equal, and nothing unknown passes in silence.

use super::{Answer, Condition, Entry, EntryBody, Event, HELD, Part, Place, Which, bench, held, thou};
use crate::angle::AngleReading;
use crate::entry::Record;
use crate::facts::{CheckRules, GuardInput, StopInput, TypeFact, Upkeep};
use crate::health::check::GrinderEvent;
use crate::health::closure::Sign;
use crate::health::drift::{Drift, Series};
use crate::health::earned::Source;
use crate::inputs::Switches;
use crate::journal::witness::Alarm;
use crate::lockout::{ForcedRelease, LockoutEvent};
use crate::outlook::wheel_yield::WheelYield;
use crate::pin::PinEvent;
use crate::record::{Mower, RingTest, Side, Unit, UnitStatus};
use crate::visit::event::{BedknifeWork, Hold, KnifeCheck, StopReason};
use crate::visit::gate::{Block, LapseReason};
use crate::visit::kind::{Turning, VisitKind};
use crate::wheel::{NewWheel, Rang, WheelEvent, WheelKind};
use serde_json::{Value, json};

/// One of every event. A new one is missing here until the list below names it.
fn events() -> Vec<Event> {
    vec![
        Event::Opened { unit: Box::new(bench::unit()) },
        Event::Paused,
        Event::TakenUp,
        Event::Restarted,
        Event::Next,
        Event::Back,
        Event::Looked { part: Part::Rollers, condition: Condition::Note },
        Event::KindChosen { kind: VisitKind::ReliefAndSpin },
        Event::TypeTold { fact: TypeFact::FrontClockwiseRaises(Side::Left, true) },
        Event::IsolationHeld { held_ms: HELD },
        Event::Read { reading: thou("-6") },
        Event::PlacePicked { place: Place::HeightOfCut },
        Event::ZeroSet,
        Event::CurePicked { which: Which::Zero },
        Event::Turned { which: Which::Other },
        Event::TouchAgain,
        Event::NotProvenAccepted,
        held("bedknife"),
        Event::Lapsed { reason: LapseReason::Blocked(Block::CheckOverdue { due: jiff::civil::date(2031, 9, 1) }) },
        Event::GrindStarted { held_ms: HELD },
        Event::PassDone,
        Event::PassRepeated,
        Event::StandStill { held_ms: u64::MAX },
        Event::BedknifeSaid { work: BedknifeWork::Reground },
        Event::PaperCut { whole_length: true },
        Event::MeasuredAgain,
        Event::Regrind,
        Event::Answered { answer: Answer::Offered },
        Event::PrintAsked,
        Event::Printed { code: "HTTPS://HUB.SHOP.EXAMPLE/G/A".to_owned(), to: "Q-114.png".to_owned() },
        Event::LabelScanned { code: "\u{1d}\u{0}\"".to_owned() },
        Event::PlaceConfirmed { scanned: false },
        Event::Stopped { reason: StopReason::BelowLimit },
        Event::Mended { part: Part::Blades },
        Event::Overridden { hold: Hold::Frame, reason: "spare parts come on Friday".to_owned() },
        Event::AngleRead { angle: AngleReading::from_hundredths(1_475) },
        Event::CountRead { count: 120 },
        Event::Squared,
        Event::Shimmed,
        Event::ErrorRecorded,
        Event::FingerSet,
        Event::KnifeChecked { check: KnifeCheck::BurrRemoved, done: true },
    ]
}

/// Where an event stands in the list above; a new event does not compile until it has a place.
const fn place(event: &Event) -> usize {
    match event {
        Event::Opened { .. } => 0,
        Event::Paused => 1,
        Event::TakenUp => 2,
        Event::Restarted => 3,
        Event::Next => 4,
        Event::Back => 5,
        Event::Looked { .. } => 6,
        Event::KindChosen { .. } => 7,
        Event::TypeTold { .. } => 8,
        Event::IsolationHeld { .. } => 9,
        Event::Read { .. } => 10,
        Event::PlacePicked { .. } => 11,
        Event::ZeroSet => 12,
        Event::CurePicked { .. } => 13,
        Event::Turned { .. } => 14,
        Event::TouchAgain => 15,
        Event::NotProvenAccepted => 16,
        Event::ItemHeld { .. } => 17,
        Event::Lapsed { .. } => 18,
        Event::GrindStarted { .. } => 19,
        Event::PassDone => 20,
        Event::PassRepeated => 21,
        Event::StandStill { .. } => 22,
        Event::BedknifeSaid { .. } => 23,
        Event::PaperCut { .. } => 24,
        Event::MeasuredAgain => 25,
        Event::Regrind => 26,
        Event::Answered { .. } => 27,
        Event::PrintAsked => 28,
        Event::Printed { .. } => 29,
        Event::LabelScanned { .. } => 30,
        Event::PlaceConfirmed { .. } => 31,
        Event::Stopped { .. } => 32,
        Event::Mended { .. } => 33,
        Event::Overridden { .. } => 34,
        Event::AngleRead { .. } => 35,
        Event::CountRead { .. } => 36,
        Event::Squared => 37,
        Event::Shimmed => 38,
        Event::ErrorRecorded => 39,
        Event::FingerSet => 40,
        Event::KnifeChecked { .. } => 41,
    }
}

fn bodies() -> Vec<EntryBody> {
    let mut grinder = bench::facts().grinder;
    grinder.check_override = Some(("lead".to_owned(), "fitter comes tomorrow".to_owned()));
    let unit = Unit {
        tag: "Q-114".to_owned(),
        type_name: "Greens 22".to_owned(),
        serial: None,
        mower: "TRIPLEX-2".to_owned(),
        position: 1,
        status: UnitStatus::Ready,
        history: vec![bench::last_work()],
        services: Vec::new(),
    };
    let records = vec![
        Record::Type { unit_type: bench::unit_type() },
        Record::Unit { unit },
        Record::Mower { mower: Mower { code: "T2".to_owned(), name: "Triplex 2".to_owned(), positions: 3 } },
        Record::Operator { operator: bench::operator("B-1", "AM") },
        Record::Grinder { grinder },
        Record::Wheel {
            wheel: crate::record::Wheel { ring_test: RingTest::NotApplicable("resin".to_owned()), ..bench::wheel() },
        },
        Record::OlderWork { tag: "Q-114".to_owned(), work: bench::last_work() },
    ];
    let mut bodies = vec![
        EntryBody::Started { version: "0.1.0".to_owned() },
        EntryBody::OperatorChanged { operator: None },
        EntryBody::OperatorChanged { operator: Some("B-1".to_owned()) },
        EntryBody::ClockMoved { seconds: -7200 },
        EntryBody::Continues { parent: "log\n0\n47DEQpj8HBSa+/TImW+5JCeuQeRkm5NMpJWZG3hSuFU=\n".to_owned() },
        EntryBody::Witness { alarm: Alarm::Rewritten { vouched: 3, size: 9 } },
        EntryBody::Witness { alarm: Alarm::NotSigned },
        EntryBody::Pin { badge: "B-1".to_owned(), by: None, what: PinEvent::Set },
        EntryBody::Pin { badge: "B-1".to_owned(), by: Some("B-2".to_owned()), what: PinEvent::Reset },
        EntryBody::Pin { badge: "B-1".to_owned(), by: None, what: PinEvent::Wrong { in_a_row: 2 } },
        EntryBody::Pin { badge: "B-1".to_owned(), by: None, what: PinEvent::Locked { minutes: 15 } },
        EntryBody::Inputs { seen: Switches::default(), turning: None },
        EntryBody::Inputs {
            seen: Switches { guard: GuardInput::Lost, stop: StopInput::Pressed },
            turning: Some(Turning::Grind),
        },
        EntryBody::Settings {
            by: "B-1".to_owned(),
            setting: crate::setting::Setting::ConeLimit,
            old: crate::setting::SettingValue::Length(thou("2")),
            new: crate::setting::SettingValue::Length(thou("1.5")),
        },
    ];
    bodies.extend(records.into_iter().map(|record| EntryBody::Record { record: Box::new(record) }));
    bodies.extend(events().into_iter().map(|event| EntryBody::Visit { visit: "V0000042".to_owned(), event }));
    bodies.extend(grinder_events().map(|event| EntryBody::Grinder { check: "C0000043".to_owned(), event }));
    bodies.extend(wheel_events().map(|event| EntryBody::Wheel { event }));
    bodies.extend(lockout_events().map(|event| EntryBody::Lockout { event }));
    bodies
}

/// One of every event of the wheel's record, and of every kind of wheel.
fn wheel_events() -> [WheelEvent; 6] {
    let mounted = |kind| WheelEvent::WheelMounted {
        mounting: "W0000044".to_owned(),
        wheel: Box::new(NewWheel {
            description: "60 grit".to_owned(),
            kind,
            diameter: thou("5500"),
            rated_speed: crate::quantity::SpindleSpeed::from_rpm(4_200.0),
            inspected: false,
        }),
        held_ms: HELD,
    };
    [
        mounted(WheelKind::Vitrified { rang: Rang::Clear }),
        mounted(WheelKind::Organic { rang: Rang::NotTested }),
        mounted(WheelKind::DoesNotRing { shape: "cup".to_owned() }),
        WheelEvent::WheelLookedOver { held_ms: HELD },
        WheelEvent::WheelMeasured { diameter: thou("5400"), held_ms: HELD },
        WheelEvent::WheelScrapped { reason: "worn".to_owned() },
    ]
}

/// One of every event of a lockout.
fn lockout_events() -> [LockoutEvent; 6] {
    [
        LockoutEvent::LockApplied { to: "Main isolator".to_owned(), lock: "7".to_owned(), held_ms: HELD },
        LockoutEvent::LockTried { held_ms: HELD },
        LockoutEvent::ProvedDead { held_ms: HELD },
        LockoutEvent::LockReleased { held_ms: HELD },
        LockoutEvent::ForceReleased { reason: "gone".to_owned(), attempts: vec!["called".to_owned()], held_ms: HELD },
        LockoutEvent::OwnerTold { held_ms: HELD },
    ]
}

/// One of every event of the grinder's health.
fn grinder_events() -> [GrinderEvent; 9] {
    [
        GrinderEvent::Started,
        GrinderEvent::IsolationHeld { held_ms: HELD },
        GrinderEvent::Read { reading: thou("-6") },
        GrinderEvent::StationPicked { station: 2 },
        GrinderEvent::BarTurned,
        GrinderEvent::Finished,
        GrinderEvent::Abandoned,
        GrinderEvent::Overridden { reason: "fitter comes tomorrow".to_owned() },
        GrinderEvent::SpotChecked { unit: "Q-114".to_owned(), reading: thou("-0.5") },
    ]
}

/// A bench that has learnt all there is.
fn upkeep() -> Upkeep {
    Upkeep {
        check: CheckRules { stations: vec![thou("100"), thou("2100")], ..CheckRules::default() },
        tape: "Tape 1".to_owned(),
        tape_sd: Some(crate::quantity::Length::from_inches(1.0 / 3000.0)),
        tape_source: Source::Closures { closures: 31, degrees_of_freedom: 17, own: false },
        touch_source: Source::Touches { visits: 12, degrees_of_freedom: 24, own: true },
        wheel_yield: Some(WheelYield { removed_per_infeed: crate::quantity::Ratio::from_value(0.9), grinds: 6 }),
        drift: vec![Drift { series: Series::Closure, sign: Sign::Run, date: jiff::civil::date(2031, 4, 1) }],
    }
}

/// Entries from before the bench learnt are read as of a bench that has learnt nothing.
#[test]
fn older_entries_are_still_read() {
    let mut older = serde_json::to_value(entry(EntryBody::Started { version: "0.1.0".to_owned() }, true)).unwrap();
    let facts = older.pointer_mut("/facts").and_then(Value::as_object_mut).unwrap();
    facts.remove("upkeep").unwrap();
    let grinder = facts.get_mut("grinder").and_then(Value::as_object_mut).unwrap();
    assert!(grinder.remove("override_until").is_some() && grinder.remove("last_check").is_some());
    let facts = serde_json::from_value::<Entry>(older).unwrap().facts.unwrap();
    assert_eq!((facts.upkeep, facts.grinder), (Upkeep::default(), bench::facts().grinder));
    let work = serde_json::to_string(&bench::last_work()).unwrap();
    assert!(!work.contains("lesson"), "{work}");
}

fn entry(body: EntryBody, with_facts: bool) -> Entry {
    let mut facts = bench::facts();
    facts.lockout = Some(bench::locked("B-1", "AM"));
    facts.untold = Some(ForcedRelease {
        padlock: bench::locked("B-1", "AM").padlock().clone(),
        by: "Operator BN".to_owned(),
        reason: "gone".to_owned(),
        attempts: vec!["called".to_owned()],
        at: bench::moment(3).wall,
    });
    facts.guard = GuardInput::Stale;
    facts.acknowledged.push(bench::prior("look"));
    facts.upkeep = upkeep();
    facts.grinder.last_check = Some(Box::new(bench::out_of_true()));
    facts.grinder.override_until = Some(jiff::civil::date(2031, 4, 20));
    // A length that no short decimal is.
    facts.limits.rear = crate::quantity::Length::from_inches(1.0 / 3.0);
    Entry { at: bench::moment(u64::MAX), facts: with_facts.then(|| Box::new(facts)), body }
}

#[test]
fn every_event_stands_in_the_list() {
    for (index, event) in events().iter().enumerate() {
        assert_eq!(place(event), index, "{event:?}");
    }
    assert_eq!(events().len(), 42);
}

#[test]
fn what_is_written_is_read_back_equal() {
    for body in bodies() {
        for with_facts in [false, true] {
            let written = entry(body.clone(), with_facts);
            let bytes = serde_json::to_vec(&written).unwrap();
            let read: Entry = serde_json::from_slice(&bytes).unwrap();
            assert_eq!(read, written);
            assert_eq!(serde_json::to_vec(&read).unwrap(), bytes, "the same bytes again");
        }
    }
}

/// Every object in an entry, by the path to it.
fn objects(value: &Value, path: &str, found: &mut Vec<String>) {
    match value {
        Value::Object(fields) => {
            found.push(path.to_owned());
            for (name, inner) in fields {
                objects(inner, &format!("{path}/{name}"), found);
            }
        }
        Value::Array(rows) => {
            for (row, inner) in rows.iter().enumerate() {
                objects(inner, &format!("{path}/{row}"), found);
            }
        }
        Value::Null | Value::Bool(_) | Value::Number(_) | Value::String(_) => {}
    }
}

#[test]
fn an_unknown_field_does_not_pass_in_silence() {
    let mut tried = 0;
    for body in bodies() {
        let whole = serde_json::to_value(entry(body, true)).unwrap();
        let mut paths = Vec::new();
        objects(&whole, "", &mut paths);
        for path in paths {
            let mut more = whole.clone();
            let Some(Value::Object(fields)) = more.pointer_mut(&path) else { panic!("{path}") };
            // Of a tagged value without fields of its own, serde reads the tag alone.
            let bare = fields.len() == 1 && ["event", "lapse", "alarm"].iter().any(|tag| fields.contains_key(*tag));
            fields.insert("surprise".to_owned(), json!(1));
            let read = serde_json::from_value::<Entry>(more);
            assert_eq!(read.is_ok(), bare, "{path} of {whole}");
            tried += 1;
        }
    }
    assert!(tried > 300, "{tried}");
}

#[test]
fn unknown_names_and_missing_fields_are_refused() {
    let at = serde_json::to_value(bench::moment(7)).unwrap();
    let refused = [
        json!({"at": at, "body": {"kind": "visit", "visit": "V1", "event": {"event": "grind_at_once"}}}),
        json!({"at": at, "body": {"kind": "visit", "visit": "V1", "event": {"event": "Next"}}}),
        json!({"at": at, "body": {"kind": "visit", "visit": "V1", "event": {"event": "read"}}}),
        json!({"at": at, "body": {"kind": "visit", "visit": "V1", "event": {"event": "read", "reading": 0.5}}}),
        json!({"at": at, "body": {"kind": "visit", "visit": "V1", "event": {"event": "grind_started", "held_ms": -1}}}),
        json!({"at": at, "body": {"kind": "visit", "event": {"event": "next"}}}),
        json!({"at": at, "body": {"kind": "erased"}}),
        json!({"at": at, "body": {"kind": "record", "record": {"record": "clearance"}}}),
        json!({"at": {"wall": "yesterday", "monotonic_ms": 7, "boot": "b"}, "body": {"kind": "started", "version": "1"}}),
        json!({"body": {"kind": "started", "version": "1"}}),
    ];
    for value in refused {
        assert!(serde_json::from_value::<Entry>(value.clone()).is_err(), "{value}");
    }
    let taken = json!({"at": at, "body": {"kind": "visit", "visit": "V1", "event": {"event": "next"}}});
    assert!(serde_json::from_value::<Entry>(taken).is_ok(), "facts may be left out");
}
