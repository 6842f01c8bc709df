//! Random events, garbage included, against what must hold whatever happens. Common practice, and the gate's rules.
//!
//! Half of the events are what the stage in hand waits for, or no walk would ever come near a grind.

use super::{Answer, Condition, Event, HELD, Part, Place, StageName, Which, bench, held, inch, thou};
use crate::facts::{BenchFacts, GuardInput, Lockout, TypeFact};
use crate::label::{HubAddress, encode_url};
use crate::moment::Moment;
use crate::reading::Reading;
use crate::record::Side;
use crate::visit::event::{BedknifeWork, StopReason};
use crate::visit::gate::{Gate, LapseReason, blocks};
use crate::visit::kind::VisitKind;
use crate::visit::{FrontPhase, Stage, Visit, open, step};
use proptest::prelude::*;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};
use std::cell::Cell;
use std::rc::Rc;

/// One move of the world: what kind of move, and which of its many.
type Move = (u8, u32);

const MOVES: usize = 1_000;
const WALKS: u32 = 256;

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
    taken: Vec<(Event, Rc<BenchFacts>, Moment)>,
    grinds: u32,
    closed: bool,
}

fn pick<T: Clone>(from: &[T], by: u32) -> T {
    from[by as usize % from.len()].clone()
}

impl World {
    fn new() -> Self {
        let now = bench::moment(60_000);
        Self {
            visit: open("V0000042", bench::unit(), &now),
            facts: Rc::new(bench::facts()),
            now,
            acknowledged: Vec::new(),
            isolated: Vec::new(),
            taken: Vec::new(),
            grinds: 0,
            closed: false,
        }
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
            5 => facts.lockout = Some(Lockout { lock: "7".to_owned(), by: "BN".to_owned() }),
            6 => facts.guard = pick(&[GuardInput::Open, GuardInput::Stale, GuardInput::NotFitted], by / 12),
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

    /// What the stage in hand waits for.
    fn awaited(&self, by: u32) -> Event {
        if self.visit.paused() {
            return Event::TakenUp;
        }
        if self.visit.question().is_some() {
            return Event::Answered { answer: pick(&[Answer::Again, Answer::Offered, Answer::Keep], by) };
        }
        if self.visit.asks_isolation(&self.facts) {
            return Event::IsolationHeld { held_ms: 1_500 };
        }
        if let Some(reason) = self.visit.lapse(&self.facts, &self.now) {
            return Event::Lapsed { reason };
        }
        match self.visit.stage() {
            Stage::Receive if self.visit.receive().looked() && !self.visit.receive().held() => Event::Next,
            Stage::Receive => Event::Looked { part: pick(&Part::ALL, by), condition: Condition::Good },
            Stage::Tape => match self.visit.tape().asked() {
                Some(Place::Lead) => Event::Read { reading: inch("5.020") },
                Some(_) => Event::Read { reading: inch("5.000") },
                None => Event::Next,
            },
            Stage::Front => match self.visit.front_phase(&self.facts) {
                Ok(FrontPhase::ZeroTouch) => Event::ZeroSet,
                Ok(FrontPhase::OtherTouch) => self.level_reading(by),
                Ok(FrontPhase::Judged(_)) if self.visit.front_done(&self.facts) => Event::Next,
                Ok(FrontPhase::Judged(_)) => Event::Turned { which: pick(&[Which::Other, Which::Zero], by) },
                Err(_) => Event::MeasuredAgain,
            },
            Stage::Rear if self.visit.rear().asked().is_some() => Event::Read { reading: Reading::ZERO },
            Stage::Rear if !self.visit.rear_done(&self.facts) => Event::Turned { which: Which::Other },
            Stage::Rear if !self.visit.front_done(&self.facts) => Event::Back,
            Stage::Rear => Event::Next,
            Stage::Clearance(_) if !(self.visit.front_done(&self.facts) && self.visit.rear_done(&self.facts)) => {
                Event::Back
            }
            Stage::Clearance(gate) => self.item(gate),
            Stage::Cleared(_) => Event::GrindStarted { held_ms: 1_500 },
            Stage::Grind(_) if self.visit.passes().done() < self.visit.passes_in_all(&self.facts) => Event::PassDone,
            Stage::Grind(_) => Event::StandStill { held_ms: 1_500 },
            Stage::Prove => self.proving(by),
            Stage::Label => self.labelling(),
            Stage::Return | Stage::Closed => Event::PlaceConfirmed { scanned: true },
        }
    }

    /// What the dial reads at the other end of a level reel, give or take a graduation.
    fn level_reading(&self, by: u32) -> Event {
        let target = self.visit.taped().unwrap().map_or(0.0, |taped| taped.target.mm());
        let off = i64::from(by % 7 % 3) * 25_400;
        Event::Read { reading: Reading::from_nanometres((target * 1e6) as i64 + off) }
    }

    fn item(&self, gate: &Gate) -> Event {
        match gate.current(&self.facts) {
            Some(item) => Event::ItemHeld { item: item.to_owned(), wording: String::new(), held_ms: 1_500 },
            None => Event::GrindStarted { held_ms: 1_500 },
        }
    }

    fn proving(&self, by: u32) -> Event {
        let before = self.visit.tape().ends().unwrap_or_default();
        let reading = Reading::from_nanometres(before.0.min(before.1).nanometres() - 50_800);
        match self.visit.prove().asked() {
            Some(Place::Lead | Place::Trail | Place::Centre) => Event::Read { reading },
            Some(_) if by.is_multiple_of(2) => Event::Read { reading: inch("0.050") },
            _ if !self.visit.prove().paper_cut() => Event::PaperCut { whole_length: true },
            _ if self.visit.judgement(&self.facts).is_none() => Event::MeasuredAgain,
            _ if by.is_multiple_of(3) => Event::Regrind,
            _ => Event::Next,
        }
    }

    fn labelling(&self) -> Event {
        let label = self.visit.label();
        match (label.code(), label.scanned()) {
            (None, _) => self.printed(),
            (Some(code), false) => Event::LabelScanned { code: code.to_owned() },
            (Some(_), true) => Event::Next,
        }
    }

    fn printed(&self) -> Event {
        let hub = HubAddress::parse("HUB.SHOP.EXAMPLE").unwrap();
        let code = self.visit.label_content(&self.facts).and_then(|content| encode_url(&content, &hub).ok());
        Event::Printed { code: code.unwrap_or_default(), to: "label.png".to_owned() }
    }

    fn any_event(&self, by: u32) -> Event {
        let (which, by) = (by % 40, by / 40);
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
            10 => Event::KindChosen { kind: pick(&[VisitKind::Spin, VisitKind::BackLap], by) },
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
        if event == Event::Next && before.stage_name().hands_in() && after.stage_name() != before.stage_name() {
            let acknowledged = self.isolated.contains(&before.stage_name());
            assert!(acknowledged || self.facts.lockout.is_some(), "left {:?}", before.stage_name());
        }
        self.remember(&before, &event);
        self.taken.push((event, Rc::clone(&self.facts), self.now.clone()));
        self.closed |= after.closed();
        self.visit = after;
    }

    fn grind_only_by_a_clearance(&mut self, before: &Visit, after: &Visit, event: &Event) {
        let (was, is) = (matches!(before.stage(), Stage::Grind(_)), matches!(after.stage(), Stage::Grind(_)));
        assert!(!is || !after.paused(), "ground off the rails");
        if was || !is {
            return;
        }
        self.grinds += 1;
        let Event::GrindStarted { held_ms } = event else { panic!("{event:?} started a grind") };
        assert!(*held_ms >= self.facts.gate.hold_ms && before.stage_name() == StageName::Clearance);
        assert_eq!(blocks(&self.facts), []);
        assert!(before.front_done(&self.facts) && before.rear_done(&self.facts), "not trued");
        let operator = &self.facts.operator.as_ref().unwrap().id;
        let mounting = self.facts.wheel.as_ref().map(|wheel| wheel.mounting.clone());
        let asked = Gate::new();
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
        let mut visit = open("V0000042", bench::unit(), &bench::moment(60_000));
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

const PLACES: [Place; 7] =
    [Place::Lead, Place::Trail, Place::Centre, Place::Land, Place::HeightOfCut, Place::RearLeft, Place::RearRight];

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
    let (grinds, closed) = (Cell::new(0), Cell::new(0));
    let outcome = runner.run(&moves, |moves| {
        let mut world = World::new();
        for each in moves {
            world.move_on(each);
            if world.closed {
                world.replays();
                let grinds = world.grinds;
                world = World { grinds, ..World::new() };
                closed.set(closed.get() + 1);
            }
        }
        world.replays();
        grinds.set(grinds.get() + world.grinds);
        Ok(())
    });
    assert!(outcome.is_ok(), "{}", outcome.unwrap_err());
    // Otherwise nothing of the above was put to the test.
    assert!(grinds.get() > 200 && closed.get() > 50, "{} grinds, {} visits to their end", grinds.get(), closed.get());
}
