//! A million random events at the gate and behind it, held against an account of our own of what a clearance stands
//! on: the handbook's section 5 and the product's "Clearance", not the gate's code. No turning work starts without a
//! live clearance, and no clearance outlives its conditions: time, operator, unit, wheel, guard and stop, lockout,
//! the grinder's check, a restart, a step back.

use super::{HELD, StageName, VisitKind, Walk, bench};
use crate::facts::{BenchFacts, GateItem, GuardInput, Per, StopInput};
use crate::moment::Moment;
use crate::quantity::SpindleSpeed;
use crate::record::RingTest;
use crate::visit::event::Event;
use crate::visit::gate::LapseReason;
use crate::visit::kind::Turning;
use crate::visit::{Stage, Visit, step};

/// Events in all, over both threads: the machine that this must pass on has two cores.
const EVENTS: u64 = 1_000_000;
const THREADS: u64 = 2;

/// SplitMix64 (Steele, Lea and Flood, OOPSLA 2014; constants from memory): the same events on every machine.
struct Chance(u64);

impl Chance {
    fn below(&mut self, most: u64) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut bits = self.0;
        bits = (bits ^ (bits >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        bits = (bits ^ (bits >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        (bits ^ (bits >> 31)) % most
    }
}

/// One acknowledgement that was taken, with what it was taken under.
struct Seen {
    item: String,
    operator: String,
    wheel: (String, Option<String>),
    at: Moment,
}

/// The bench as these events leave it, and what was acknowledged since something last ended the list.
struct World {
    chance: Chance,
    visit: Visit,
    facts: BenchFacts,
    now: Moment,
    seen: Vec<Seen>,
    started: Option<Moment>,
    /// What was met, so that a run that met nothing fails: starts by kind of work, lapses, refused starts and passes.
    starts: [u64; 3],
    lapses: u64,
    refused: u64,
}

/// What the grinder and its wheel are called at this moment.
fn wheel_of(facts: &BenchFacts) -> (String, Option<String>) {
    (facts.grinder.name.clone(), facts.wheel.as_ref().map(|wheel| wheel.mounting.clone()))
}

/// Whether anything stands in the way of turning work, whoever acknowledged what.
fn may_turn(facts: &BenchFacts) -> bool {
    let grinder = &facts.grinder;
    let wheel = facts.wheel.as_ref().is_some_and(|wheel| {
        let rated = wheel.rated_speed.is_some_and(|rated| grinder.spindle_speed.rpm() <= rated.rpm());
        wheel.inspected && wheel.ring_test != RingTest::Missing && rated
    });
    let word = grinder.check_override.is_some() && grinder.override_until.is_none_or(|until| facts.today <= until);
    let checked = facts.today <= grinder.check_due && grinder.out_of_true().is_none();
    facts.operator.as_ref().is_some_and(|operator| operator.trained)
        && wheel
        && (word || checked)
        && facts.lockout.is_none()
        && matches!(facts.guard, GuardInput::NotFitted | GuardInput::Closed)
        && matches!(facts.stop, StopInput::NotFitted | StopInput::Released)
}

/// Whether an item counts although it was not acknowledged in this list.
fn carried_over(item: &GateItem, facts: &BenchFacts) -> bool {
    let (Some(operator), Some(wheel)) = (&facts.operator, &facts.wheel) else { return false };
    facts.acknowledged.iter().any(|prior| {
        let here = prior.item == item.id && prior.mounting == wheel.mounting && prior.grinder == facts.grinder.name;
        match item.per {
            Per::Grind => false,
            Per::Shift => here && prior.shift == facts.shift && prior.operator == operator.id,
            Per::Mounting => here,
        }
    })
}

impl World {
    fn new(seed: u64) -> Self {
        let walk = Walk::at(StageName::Clearance);
        Self {
            chance: Chance(seed),
            visit: walk.visit,
            facts: walk.facts,
            now: walk.now,
            seen: Vec::new(),
            started: None,
            starts: [0; 3],
            lapses: 0,
            refused: 0,
        }
    }

    /// Another visit at its gate, with everything in order.
    fn begin_again(&mut self, templates: &[Visit]) {
        let which = self.chance.below(templates.len() as u64) as usize;
        self.visit = templates[which].handed_on();
        self.mend();
        self.forget();
    }

    fn mend(&mut self) {
        self.facts = bench::facts();
        self.now.boot.truncate("boot-1".len());
    }

    fn forget(&mut self) {
        self.seen.clear();
        self.started = None;
    }

    /// Whether what was acknowledged still stands on the operator and the wheel that it was acknowledged by and over.
    fn same_hands(&self) -> bool {
        let operator = self.facts.operator.as_ref().map(|operator| operator.id.as_str());
        let wheel = wheel_of(&self.facts);
        self.seen.iter().all(|seen| Some(seen.operator.as_str()) == operator && seen.wheel == wheel)
    }

    /// Whether turning work may start on what was acknowledged.
    fn stands(&self) -> bool {
        let fresh = |seen: &Seen| {
            let age = self.now.monotonic_ms.checked_sub(seen.at.monotonic_ms);
            seen.at.boot == self.now.boot && age.is_some_and(|age| age <= self.facts.gate.lapse_after_ms)
        };
        let work = self.visit.turning();
        let open = |item: &GateItem| {
            let concerns = item.work.is_empty() || item.work.contains(&work);
            concerns && !self.seen.iter().any(|seen| seen.item == item.id) && !carried_over(item, &self.facts)
        };
        may_turn(&self.facts)
            && self.same_hands()
            && self.seen.iter().all(fresh)
            && !self.facts.gate.items.iter().any(open)
    }

    /// Whether turning work that was started may go on.
    fn goes_on(&self) -> bool {
        let watched = self
            .started
            .as_ref()
            .is_some_and(|started| started.boot == self.now.boot && started.monotonic_ms <= self.now.monotonic_ms);
        may_turn(&self.facts) && self.same_hands() && watched
    }

    /// What a visit that has a clearance must say of it now.
    fn check(&self) {
        let lapse = || self.visit.lapse(&self.facts, &self.now);
        match self.visit.stage() {
            Stage::Cleared(_) if !self.stands() => assert!(lapse().is_some(), "a clearance outlives {:?}", self.facts),
            stage if stage.running().is_some() && !self.goes_on() => {
                assert!(lapse().is_some(), "{:?} outlives {:?}", stage.name(), self.facts);
            }
            _ => {}
        }
    }

    /// Something changes at the bench, and nobody has pressed anything.
    fn upset(&mut self) {
        let facts = &mut self.facts;
        let which = self.chance.below(23);
        let wheel = facts.wheel.as_mut();
        match which {
            0 => facts.operator = None,
            1 => facts.operator = Some(bench::operator("B-2", "BN")),
            2 => facts.operator.iter_mut().for_each(|operator| operator.trained = false),
            3 => facts.wheel = None,
            4 => wheel.into_iter().for_each(|wheel| wheel.mounting.push('x')),
            5 => wheel.into_iter().for_each(|wheel| wheel.inspected = false),
            6 => wheel.into_iter().for_each(|wheel| wheel.ring_test = RingTest::Missing),
            7 => wheel.into_iter().for_each(|wheel| wheel.rated_speed = None),
            8 => wheel.into_iter().for_each(|wheel| wheel.rated_speed = Some(SpindleSpeed::from_rpm(3_449.0))),
            9 => facts.grinder.spindle_speed = SpindleSpeed::from_rpm(4_141.0),
            10 => facts.grinder.name.push('x'),
            11 => facts.guard = [GuardInput::Open, GuardInput::Stale, GuardInput::Lost][self.chance.below(3) as usize],
            12 => facts.stop = [StopInput::Pressed, StopInput::Stale, StopInput::Lost][self.chance.below(3) as usize],
            13 => facts.lockout = Some(bench::locked("B-2", "BN")),
            14 => facts.today = jiff::civil::date(2031, 9, 2),
            15 => facts.grinder.last_check = Some(Box::new(bench::out_of_true())),
            16 => {
                facts.grinder.check_override = Some(("B-9".to_owned(), "booked".to_owned()));
                facts.grinder.override_until = Some(jiff::civil::date(2031, 9, 1));
            }
            17 => facts.shift.push('x'),
            18 => facts.acknowledged.push(bench::prior(["look", "rating", "guard"][self.chance.below(3) as usize])),
            19 => facts.gate.items.push(GateItem {
                id: "new".to_owned(),
                per: Per::Grind,
                work: Vec::new(),
                look_over: false,
            }),
            20 => self.now.monotonic_ms += 599_000 + self.chance.below(3_000),
            21 => self.now.monotonic_ms = self.now.monotonic_ms.saturating_sub(self.chance.below(5_000)),
            _ => self.now.boot.push('x'),
        }
    }

    /// What somebody does at the gate: mostly what it waits for, else whatever comes.
    fn event(&mut self) -> Event {
        let held_ms = [HELD, HELD, HELD, HELD - 1, 0, u64::MAX][self.chance.below(6) as usize];
        if self.chance.below(4) > 0 {
            return match self.visit.stage() {
                Stage::Clearance(gate) => match gate.current(&self.facts) {
                    Some(item) => Event::ItemHeld { item: item.to_owned(), wording: String::new(), held_ms },
                    None => Event::GrindStarted { held_ms },
                },
                Stage::Cleared(_) => Event::GrindStarted { held_ms },
                stage if stage.running().is_some() => Event::PassDone,
                _ => Event::Next,
            };
        }
        match self.chance.below(12) {
            0 => Event::Back,
            1 => Event::Next,
            2 => Event::Restarted,
            3 => Event::Paused,
            4 => Event::StandStill { held_ms },
            5 => Event::PassRepeated,
            6 => Event::Lapsed { reason: LapseReason::Time },
            7 => Event::Regrind,
            8 => Event::IsolationHeld { held_ms },
            9 | 10 => Event::GrindStarted { held_ms },
            _ => {
                let item = ["bedknife", "guard", "look", "rating", "new", ""][self.chance.below(6) as usize];
                Event::ItemHeld { item: item.to_owned(), wording: String::new(), held_ms }
            }
        }
    }

    fn take(&mut self, event: &Event) {
        match step(&self.visit, &self.facts, event, &self.now) {
            Err(_) => self.refused += u64::from(matches!(event, Event::GrindStarted { .. } | Event::PassDone)),
            Ok(stepped) => {
                let was_running = self.visit.stage().running();
                self.taken(event, was_running, &stepped.visit);
                self.visit = stepped.visit;
            }
        }
    }

    fn taken(&mut self, event: &Event, was_running: Option<Turning>, after: &Visit) {
        match (was_running, after.stage().running()) {
            (None, Some(work)) => {
                let Event::GrindStarted { held_ms } = event else { panic!("{event:?} started {work:?}") };
                assert!(*held_ms >= HELD && self.stands(), "{work:?} started on {:?}", self.facts);
                assert_eq!(work, self.visit.turning());
                self.starts[work as usize] += 1;
                self.started = Some(self.now.clone());
                return;
            }
            (Some(_), Some(_)) => {
                let passes = matches!(event, Event::PassDone | Event::PassRepeated);
                assert!(!passes || self.goes_on(), "{event:?} on {:?}", self.facts);
                return;
            }
            (_, None) => {}
        }
        if let Event::ItemHeld { item, held_ms, .. } = event {
            assert!(*held_ms >= HELD && self.same_hands(), "{item} by another hand");
            self.seen.push(Seen {
                item: item.clone(),
                operator: self.facts.operator.as_ref().unwrap().id.clone(),
                wheel: wheel_of(&self.facts),
                at: self.now.clone(),
            });
        } else {
            // Whatever else is taken ends the list: a step back, a pause, a restart, a lapse.
            let empty = match after.stage() {
                Stage::Clearance(gate) => self.seen.iter().all(|seen| !gate.is_done(&seen.item)),
                stage => stage.running().is_none() && !matches!(stage, Stage::Cleared(_)),
            };
            assert!(empty, "{event:?} left acknowledgements or a clearance");
            self.forget();
        }
    }

    /// One event, and before it now and then a change of the world that the kiosk sees, or does not see yet.
    fn move_on(&mut self, templates: &[Visit]) {
        self.now.monotonic_ms += self.chance.below(900);
        match self.chance.below(10) {
            0 => self.upset(),
            1 => self.mend(),
            _ => {}
        }
        self.check();
        let lapse = self.visit.lapse(&self.facts, &self.now).filter(|_| self.chance.below(2) == 0);
        let event = match lapse {
            Some(reason) => {
                self.lapses += 1;
                Event::Lapsed { reason }
            }
            None => self.event(),
        };
        self.take(&event);
        let at_gate = matches!(self.visit.stage_name(), StageName::Clearance | StageName::Rear | StageName::Finger);
        if self.visit.paused() || !(at_gate || self.visit.stage().running().is_some()) {
            self.begin_again(templates);
        }
    }
}

/// A visit of each kind that comes to turning work, at its gate.
fn templates() -> Vec<Visit> {
    [VisitKind::Spin, VisitKind::ReliefAndSpin, VisitKind::BackLap]
        .into_iter()
        .map(|kind| {
            let mut walk = Walk::coming_for(kind, bench::unit());
            walk.on_to(StageName::Clearance);
            walk.visit
        })
        .collect()
}

#[test]
fn a_million_events_at_the_gate() {
    let runs: Vec<_> = (0..THREADS)
        .map(|thread| {
            std::thread::spawn(move || {
                let (templates, mut world) = (templates(), World::new(20_261_201 + thread));
                for _ in 0..EVENTS / THREADS {
                    world.move_on(&templates);
                }
                (world.starts, world.lapses, world.refused)
            })
        })
        .collect();
    for run in runs {
        let (starts, lapses, refused) = run.join().unwrap();
        // Otherwise nothing of the above was put to the test.
        assert!(starts.iter().all(|count| *count > 1_000), "{starts:?}");
        assert!(lapses > 10_000 && refused > 10_000, "{lapses} lapses, {refused} refused starts and passes");
    }
}
