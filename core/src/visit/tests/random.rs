//! Random events, garbage included, against what must hold whatever happens. Common practice, and the gate's rules.
//!
//! Half of the events are what the stage in hand waits for, or no walk would ever come near a grind.

use super::{Answer, Condition, Event, HELD, Part, Place, StageName, Which, bench, held, inch, thou};
use crate::angle::AngleReading;
use crate::bench::{FrameKind, TruingOrder};
use crate::facts::{BenchFacts, GuardInput, StopInput, TypeFact};
use crate::moment::Moment;
use crate::reading::Reading;
use crate::record::Side;
use crate::visit::event::{BedknifeWork, Hold, KnifeCheck, StopReason, UnitFacts};
use crate::visit::gate::{Gate, LapseReason, blocks};
use crate::visit::kind::{KINDS, Turning};
use crate::visit::{Visit, open, step};
use proptest::prelude::*;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};
mod awaited;

use std::cell::Cell;
use std::rc::Rc;

/// One move of the world: what kind of move, and which of its many.
type Move = (u8, u32);

const MOVES: usize = 1_000;
/// With [`MOVES`] a million events, and some changes of the world beside them.
const WALKS: u32 = 1_060;

/// An acknowledgement that was taken since the checklist was last begun.
struct Acknowledged {
    item: String,
    operator: String,
    mounting: Option<String>,
    at: Moment,
}

struct World {
    visit: Visit,
    facts: Rc<BenchFacts>,
    now: Moment,
    acknowledged: Vec<Acknowledged>,
    isolated: Vec<StageName>,
    unit: UnitFacts,
    taken: Vec<(Event, Rc<BenchFacts>, Moment)>,
    started: [u32; 3],
    closed: bool,
}

fn pick<T: Clone>(from: &[T], by: u32) -> T {
    from[by as usize % from.len()].clone()
}

impl World {
    /// A world for the next visit: one kind and one frame after the other.
    fn new(visits: u32, started: [u32; 3]) -> Self {
        let now = bench::moment(60_000);
        let mut unit = bench::unit_in(pick(&FRAMES, visits));
        if visits.is_multiple_of(7) {
            unit.unit_type.setup.order = TruingOrder::RearThenFront;
        }
        let mut world = Self {
            unit: unit.clone(),
            visit: open("V0000042", unit, &now),
            facts: Rc::new(bench::facts()),
            now,
            acknowledged: Vec::new(),
            isolated: Vec::new(),
            taken: Vec::new(),
            started,
            closed: false,
        };
        world.take(Event::KindChosen { kind: pick(&KINDS, visits / 5) });
        world
    }

    fn move_on(&mut self, (kind, by): Move) {
        self.now.monotonic_ms += u64::from(by % 900);
        match kind {
            0..=2 => self.change_facts(by),
            3 => self.facts = Rc::new(bench::facts()),
            4 => self.jump(by),
            5..=74 => {
                self.facts = Rc::new(mended(&self.facts));
                let event = self.awaited(by);
                self.take(event);
            }
            _ => {
                let event = self.any_event(by);
                self.take(event);
            }
        }
    }

    fn change_facts(&mut self, by: u32) {
        let facts = Rc::make_mut(&mut self.facts);
        match by % 12 {
            0 => facts.operator = None,
            1 => facts.operator = Some(bench::operator("B-2", "BN")),
            2 => {
                if let Some(operator) = &mut facts.operator {
                    operator.trained = false;
                }
            }
            3 => facts.wheel = None,
            4 => {
                if let Some(wheel) = &mut facts.wheel {
                    wheel.mounting.push('x');
                }
            }
            5 => facts.lockout = Some(bench::locked(pick(&["B-1", "B-2"], by / 12), "BN")),
            6 if by % 24 < 12 => facts.stop = pick(&[StopInput::Pressed, StopInput::Stale, StopInput::Lost], by / 24),
            6 => {
                let faults = [GuardInput::Open, GuardInput::Stale, GuardInput::Lost, GuardInput::NotFitted];
                facts.guard = pick(&faults, by / 24);
            }
            7 => facts.today = jiff::civil::date(2031, 9, 2),
            8 => facts.acknowledged.push(bench::prior(pick(&["look", "rating", "bedknife"], by / 12))),
            9 => facts.gate.items.truncate((by / 12) as usize % 5),
            10 => facts.limits.tilt = crate::quantity::Length::from_inches(0.000_5),
            _ => facts.gate.hold_ms = 1_500,
        }
    }

    fn jump(&mut self, by: u32) {
        match by % 4 {
            0 => self.now.monotonic_ms += 700_000,
            1 => self.now.monotonic_ms = self.now.monotonic_ms.saturating_sub(u64::from(by)),
            2 => self.now.boot.push('x'),
            _ => {
                self.now.boot.push('x');
                self.take(Event::Restarted);
            }
        }
    }

    fn any_event(&self, by: u32) -> Event {
        let (which, by) = (by % 49, by / 49);
        let held_ms = pick(&[0, 999, HELD, 1_500, u64::MAX], by);
        match which {
            0 => Event::Opened { unit: Box::new(bench::unit()) },
            1 => Event::Paused,
            2 => Event::TakenUp,
            3 => Event::Restarted,
            4..=6 => Event::Next,
            7 | 8 => Event::Back,
            9 => {
                let condition = pick(&[Condition::Good, Condition::Note, Condition::Bad], by / 3);
                Event::Looked { part: pick(&Part::ALL, by), condition }
            }
            10 => Event::KindChosen { kind: pick(&KINDS, by) },
            11 => Event::TypeTold { fact: any_fact(by) },
            12 => Event::IsolationHeld { held_ms },
            13..=16 => Event::Read { reading: any_reading(by) },
            17..=18 => Event::PlacePicked { place: pick(&PLACES, by) },
            19 => Event::ZeroSet,
            20 => Event::CurePicked { which: pick(&[Which::Other, Which::Zero], by) },
            21 => Event::Turned { which: pick(&[Which::Other, Which::Zero], by) },
            22 => Event::TouchAgain,
            23 => Event::NotProvenAccepted,
            24 | 25 => held(pick(&["bedknife", "guard", "look", "rating", ""], by)),
            26 => Event::ItemHeld { item: "bedknife".to_owned(), wording: String::new(), held_ms },
            27 => Event::Lapsed { reason: pick(&[LapseReason::Time, LapseReason::Operator, LapseReason::Wheel], by) },
            28 | 29 => Event::GrindStarted { held_ms },
            30 => Event::PassDone,
            31 => Event::PassRepeated,
            32 => Event::StandStill { held_ms },
            33 => Event::BedknifeSaid { work: BedknifeWork::Faced },
            34 => Event::PaperCut { whole_length: by.is_multiple_of(2) },
            35 => pick(&[Event::MeasuredAgain, Event::Regrind], by),
            36 => Event::Answered { answer: pick(&[Answer::Keep, Answer::Again, Answer::Offered, Answer::Stop], by) },
            37 => pick(&[Event::PrintAsked, self.printed()], by),
            38 => Event::LabelScanned { code: String::new() },
            39 => Event::Mended { part: pick(&Part::ALL, by) },
            40 => {
                let reason = pick(&["", "seen"], by / 5).to_owned();
                Event::Overridden { hold: pick(&[Hold::Frame, Hold::Part(Part::Blades)], by), reason }
            }
            41 => Event::AngleRead { angle: AngleReading::from_hundredths(i64::from(by % 9_000) - 1_000) },
            42 => Event::CountRead { count: by % 700 },
            43 => pick(&[Event::Squared, Event::Shimmed], by),
            44 => Event::ErrorRecorded,
            45 => Event::FingerSet,
            46 => Event::KnifeChecked { check: pick(&KnifeCheck::ALL, by), done: by.is_multiple_of(5) },
            47 => Event::Stopped { reason: StopReason::FrameToReplace },
            // A visit that ends early tells little.
            _ if by.is_multiple_of(50) => Event::Stopped { reason: StopReason::HeldForRepair },
            _ => Event::PassDone,
        }
    }

    /// Steps, and holds the outcome against what must be so.
    fn take(&mut self, event: Event) {
        let before = self.visit.handed_on();
        let Ok(stepped) = step(&self.visit, &self.facts, &event, &self.now) else {
            assert_eq!(self.visit, before, "a refused {event:?} changed the visit");
            return;
        };
        let after = stepped.visit;
        self.grind_only_by_a_clearance(&before, &after, &event);
        passes_are_kept(&before, &after, &event);
        if event == Event::Next && before.hands_in() && after.stage() != before.stage() {
            let acknowledged = self.isolated.contains(&before.stage_name());
            assert!(acknowledged || self.facts.locked_dead(), "left {:?}", before.stage_name());
        }
        self.remember(&before, &event);
        self.taken.push((event, Rc::clone(&self.facts), self.now.clone()));
        self.closed |= after.closed();
        self.visit = after;
    }

    fn grind_only_by_a_clearance(&mut self, before: &Visit, after: &Visit, event: &Event) {
        let (was, is) = (before.stage().running(), after.stage().running());
        assert!(is.is_none() || !after.paused(), "turning off the rails");
        let Some(work) = is.filter(|_| was.is_none()) else {
            assert!(is.is_none() || was == is, "{was:?} became {is:?}");
            return;
        };
        assert_eq!(work, before.turning());
        self.started[work as usize] += 1;
        let Event::GrindStarted { held_ms } = event else { panic!("{event:?} started a grind") };
        assert!(*held_ms >= self.facts.gate.hold_ms && before.stage_name() == StageName::Clearance);
        assert_eq!(blocks(&self.facts), []);
        if work != Turning::BackLap {
            assert!(before.front_done(&self.facts) && before.rear_done(&self.facts), "not trued");
        }
        if work == Turning::Relief {
            assert!(before.relief().finger_set() && !before.relief().finished(), "no finger");
        }
        let operator = &self.facts.operator.as_ref().unwrap().id;
        let mounting = self.facts.wheel.as_ref().map(|wheel| wheel.mounting.clone());
        let asked = Gate::towards(work);
        for item in asked.asked(&self.facts) {
            assert!(self.acknowledged.iter().any(|done| done.item == item), "{item} was not acknowledged");
        }
        for done in &self.acknowledged {
            assert_eq!((&done.operator, &done.mounting), (operator, &mounting), "{}", done.item);
            let age = self.now.since(&done.at).unwrap();
            assert!(age.as_millis() <= u128::from(self.facts.gate.lapse_after_ms), "{} is old", done.item);
        }
    }

    fn remember(&mut self, before: &Visit, event: &Event) {
        match event {
            Event::ItemHeld { item, held_ms, .. } => {
                assert!(*held_ms >= self.facts.gate.hold_ms && !before.paused());
                self.acknowledged.push(Acknowledged {
                    item: item.clone(),
                    operator: self.facts.operator.as_ref().unwrap().id.clone(),
                    mounting: self.facts.wheel.as_ref().map(|wheel| wheel.mounting.clone()),
                    at: self.now.clone(),
                });
            }
            Event::IsolationHeld { held_ms } => {
                assert!(*held_ms >= self.facts.gate.hold_ms);
                self.isolated.push(before.stage_name());
            }
            Event::TypeTold { .. } => {}
            _ => self.acknowledged.clear(),
        }
        if matches!(event, Event::Paused | Event::GrindStarted { .. }) {
            self.isolated.clear();
        }
    }

    fn replays(&self) {
        let mut visit = open("V0000042", self.unit.clone(), &bench::moment(60_000));
        for (event, facts, at) in &self.taken {
            visit = step(&visit, facts, event, at).unwrap().visit;
        }
        assert_eq!(visit, self.visit);
    }
}

/// The bench put in order, as people do before they go on, but with whatever operator and wheel there is.
fn mended(facts: &BenchFacts) -> BenchFacts {
    let mut mended = bench::facts();
    if let Some(operator) = facts.operator.as_ref().filter(|operator| operator.trained) {
        mended.operator = Some(operator.clone());
    }
    mended.wheel = facts.wheel.clone().or(mended.wheel);
    mended.acknowledged = facts.acknowledged.clone();
    mended.gate.hold_ms = facts.gate.hold_ms;
    mended
}

/// Passes are only ever forgotten for another grind, or because the reel is not as large as it was thought to be.
fn passes_are_kept(before: &Visit, after: &Visit, event: &Event) {
    let another_grind = before.stage_name() == StageName::Prove && after.stage_name() != StageName::Prove;
    let taped_anew = before.tape() != after.tape();
    let regrind = another_grind && matches!(event, Event::Regrind | Event::Answered { .. });
    if !regrind && !taped_anew {
        assert!(after.passes().done() >= before.passes().done(), "{event:?} forgot passes");
    }
    assert!(after.passes().done() <= before.passes().done() + 1);
}

const FRAMES: [FrameKind; 5] =
    [FrameKind::Adjustable, FrameKind::SidePlates, FrameKind::Welded, FrameKind::FloatingReel, FrameKind::FixedHead];

const PLACES: [Place; 14] = [
    Place::Lead,
    Place::Trail,
    Place::Centre,
    Place::Land,
    Place::HeightOfCut,
    Place::RearLeft,
    Place::RearRight,
    Place::LandLead,
    Place::HeightLeft,
    Place::GapRight,
    Place::Thickness,
    Place::Grit,
    Place::BearingPlay,
    Place::RollerPlay,
];

fn any_fact(by: u32) -> TypeFact {
    let side = pick(&[Side::Left, Side::Right], by / 3);
    match by % 3 {
        0 => TypeFact::LeadingEndAt(side),
        1 => TypeFact::FrontClockwiseRaises(side, by.is_multiple_of(2)),
        _ => TypeFact::RearClockwiseRaises(side, by.is_multiple_of(2)),
    }
}

fn any_reading(by: u32) -> Reading {
    let around = |text: &str| Reading::from_nanometres(inch(text).nanometres() + i64::from(by / 8 % 100) * 25_400);
    match by % 8 {
        0 | 1 => around("4.950"),
        2 => around("0.000"),
        3 => thou("94"),
        4 => Reading::from_nanometres(660),
        5 => around("5.100"),
        6 => Reading::from_nanometres(i64::from(by) - i64::from(u32::MAX / 2)),
        _ => pick(&[i64::MIN, i64::MAX, -1, 0].map(Reading::from_nanometres), by / 8),
    }
}

#[test]
fn whatever_happens() {
    let config = Config { cases: WALKS, failure_persistence: None, max_shrink_iters: 2_000, ..Config::default() };
    let mut runner = TestRunner::new_with_rng(config, TestRng::deterministic_rng(RngAlgorithm::ChaCha));
    let moves = proptest::collection::vec((0_u8..100, any::<u32>()), MOVES);
    let (started, closed) = (Cell::new([0; 3]), Cell::new(0));
    let outcome = runner.run(&moves, |moves| {
        let mut world = World::new(closed.get(), started.get());
        for each in moves {
            world.move_on(each);
            if world.closed {
                world.replays();
                closed.set(closed.get() + 1);
                world = World::new(closed.get(), world.started);
            }
        }
        world.replays();
        started.set(world.started);
        closed.set(closed.get() + 1);
        Ok(())
    });
    assert!(outcome.is_ok(), "{}", outcome.unwrap_err());
    // Otherwise nothing of the above was put to the test.
    let (started, closed) = (started.get(), closed.get());
    assert!(started.iter().all(|count| *count > 50) && closed > 100, "started {started:?}, {closed} visits");
}
