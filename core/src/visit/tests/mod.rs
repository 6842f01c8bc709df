//! The visit, stepped as the kiosk steps it. What these tests expect of a bench is common practice and the worked
//! example of the handbook, unless a test names another source.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::float_cmp)]

pub mod bench;
mod clearances;
mod exposure;
mod frames;
mod front;
mod gate;
mod holds;
mod journal;
mod kinds;
mod lapses;
mod older;
mod play;
mod pooled;
mod prove;
mod questions;
mod random;
mod refusals;
mod repeats;
mod stages;
mod straight;

use super::event::{Answer, BedknifeWork, Condition, Effect, Event, KnifeCheck, Part, Place, UnitFacts, Which};
use super::kind::{StageName, VisitKind};
use super::refusal::Refusal;
use super::{Stage, Stepped, Visit, open, step};
use crate::angle::AngleReading;
use crate::entry::{Entry, EntryBody};
use crate::facts::BenchFacts;
use crate::label::{HubAddress, encode_url};
use crate::moment::Moment;
use crate::reading::{EntryUnit, Reading};

/// A walk over the bench: the visit, the bench's facts and the time as they are now, and what was taken so far.
struct Walk {
    visit: Visit,
    unit: UnitFacts,
    facts: BenchFacts,
    now: Moment,
    taken: Vec<(Event, BenchFacts, Moment)>,
    effects: Vec<Effect>,
}

/// As typed in inches.
#[track_caller]
fn inch(text: &str) -> Reading {
    Reading::parse(text, EntryUnit::Inch).unwrap()
}

/// As typed in thousandths of an inch.
#[track_caller]
fn thou(text: &str) -> Reading {
    Reading::parse(text, EntryUnit::Thou).unwrap()
}

const HELD: u64 = 1_000;

/// Something that changes at the bench.
type Change = fn(&mut BenchFacts);

impl Walk {
    fn new() -> Self {
        Self::of(bench::unit())
    }

    fn of(unit: UnitFacts) -> Self {
        let now = bench::moment(60_000);
        let visit = open("V0000042", unit.clone(), &now);
        Self { visit, unit, facts: bench::facts(), now, taken: Vec::new(), effects: Vec::new() }
    }

    /// A visit that has come as far as a stage.
    #[track_caller]
    fn at(stage: StageName) -> Self {
        let mut walk = Self::new();
        walk.on_to(stage);
        walk
    }

    /// The same entries replayed, as after the process was killed.
    fn replayed(&self) -> Visit {
        let mut visit = open("V0000042", self.unit.clone(), &bench::moment(60_000));
        for (event, facts, at) in &self.taken {
            visit = step(&visit, facts, event, at).unwrap().visit;
        }
        visit
    }

    #[track_caller]
    fn take(&mut self, event: Event) -> &mut Self {
        self.now.monotonic_ms += 500;
        match step(&self.visit, &self.facts, &event, &self.now) {
            Ok(Stepped { visit, effects }) => (self.visit, self.effects) = (visit, effects),
            Err(refusal) => panic!("{event:?} in {:?}: {refusal:?}", self.visit.stage_name()),
        }
        self.taken.push((event, self.facts.clone(), self.now.clone()));
        self
    }

    /// The refusal of an event; the visit stays as it was.
    #[track_caller]
    fn refused(&mut self, event: &Event) -> Refusal {
        let before = self.visit.handed_on();
        let refusal = step(&self.visit, &self.facts, event, &self.now).expect_err(&format!("{event:?}"));
        assert_eq!(self.visit, before, "{event:?}");
        refusal
    }

    #[track_caller]
    fn check(&mut self, event: &Event, refusal: &Refusal) -> &mut Self {
        assert_eq!(&self.refused(event), refusal, "{event:?}");
        self
    }

    #[track_caller]
    fn stands(&mut self, stage: StageName) -> &mut Self {
        assert_eq!(self.visit.stage_name(), stage);
        self
    }

    fn later(&mut self, milliseconds: u64) -> &mut Self {
        self.now.monotonic_ms += milliseconds;
        self
    }

    /// The process starts again: another count from another zero.
    fn restart(&mut self) -> &mut Self {
        self.now = Moment { monotonic_ms: 5, boot: "boot-2".to_owned(), ..self.now.clone() };
        self.take(Event::Restarted)
    }

    #[track_caller]
    fn read(&mut self, reading: Reading) -> &mut Self {
        self.take(Event::Read { reading })
    }

    #[track_caller]
    fn answer(&mut self, answer: Answer) -> &mut Self {
        self.take(Event::Answered { answer })
    }

    #[track_caller]
    fn isolate(&mut self) -> &mut Self {
        if self.visit.asks_isolation(&self.facts) {
            self.take(Event::IsolationHeld { held_ms: HELD });
        }
        self
    }

    #[track_caller]
    fn look(&mut self) -> &mut Self {
        for part in Part::ALL {
            self.take(Event::Looked { part, condition: Condition::Good });
        }
        self
    }

    /// Both ends taped, with nothing to ask about.
    #[track_caller]
    fn tape(&mut self, lead: &str, trail: &str) -> &mut Self {
        self.isolate().read(inch(lead)).read(inch(trail))
    }

    /// One touch at each end.
    #[track_caller]
    fn touch(&mut self, dial: &str) -> &mut Self {
        self.isolate().take(Event::ZeroSet).read(thou(dial))
    }

    #[track_caller]
    fn indicate(&mut self, left: &str, right: &str) -> &mut Self {
        self.isolate().read(thou(left)).read(thou(right))
    }

    #[track_caller]
    fn hold(&mut self, item: &str) -> &mut Self {
        self.take(held(item))
    }

    #[track_caller]
    fn hold_all(&mut self) -> &mut Self {
        while let Stage::Clearance(gate) = self.visit.stage() {
            let Some(item) = gate.current(&self.facts).map(str::to_owned) else { break };
            self.hold(&item);
        }
        self
    }

    #[track_caller]
    fn passes(&mut self, count: u32) -> &mut Self {
        for _ in 0..count {
            self.take(Event::PassDone);
        }
        self
    }

    #[track_caller]
    fn prove(&mut self, lead: &str, trail: &str) -> &mut Self {
        self.isolate().read(inch(lead)).read(inch(trail))
    }

    /// The address in the code of this visit's label.
    #[track_caller]
    fn code(&self) -> String {
        let content = self.visit.label_content(&self.facts).unwrap();
        encode_url(&content, &HubAddress::parse("HUB.SHOP.EXAMPLE").unwrap()).unwrap()
    }

    /// Prints the label, as whoever has hands reports it.
    #[track_caller]
    fn print(&mut self) -> &mut Self {
        self.take(Event::PrintAsked);
        let printed = Event::Printed { code: self.code(), to: "label.png".to_owned() };
        self.take(printed)
    }

    #[track_caller]
    fn scan_label(&mut self) -> &mut Self {
        let code = self.code().to_lowercase();
        self.take(Event::LabelScanned { code })
    }

    /// Does what the stage in hand asks for, in the straightest way, and goes on.
    #[track_caller]
    fn through(&mut self) -> &mut Self {
        match self.visit.stage_name() {
            StageName::Receive => self.look().take(Event::Next),
            StageName::Tape => self.tape("5.020", "5.000").take(Event::Next),
            StageName::Front => self.touch("20").take(Event::Next),
            StageName::Rear => self.indicate("0", "0").take(Event::Next),
            StageName::Clearance => self.hold_all().take(start()),
            StageName::Grind => {
                let open = self.visit.passes_in_all(&self.facts) - self.visit.passes().done();
                self.passes(open).take(Event::StandStill { held_ms: HELD })
            }
            StageName::Prove => {
                self.prove("4.998", "4.998").take(Event::PaperCut { whole_length: true }).take(Event::Next)
            }
            StageName::Label => self.print().scan_label().take(Event::Next),
            StageName::Return => self.take(Event::PlaceConfirmed { scanned: true }),
            StageName::Finger => {
                self.isolate();
                while self.visit.relief().asked_before().is_some() {
                    self.read(inch("0.080"));
                }
                self.take(Event::FingerSet).take(Event::Next)
            }
            StageName::Relief => self.relieve(),
            StageName::Knife => self.knife(),
            StageName::BackLap => self.lap(),
            StageName::Height => self.isolate().read(inch("0.125")).read(inch("0.125")).take(Event::Next),
            StageName::Plate => self.plate(),
            StageName::Check => self.check_all().take(Event::Next),
        }
    }

    /// Every round of the relief, the run-down, and the lands that it left.
    #[track_caller]
    fn relieve(&mut self) -> &mut Self {
        if matches!(self.visit.stage(), Stage::Relief(_)) {
            let rounds = self.visit.relief_plan(&self.facts).unwrap().rounds - self.visit.relief().rounds_done();
            self.passes(rounds).take(Event::StandStill { held_ms: HELD });
        }
        self.isolate();
        while self.visit.relief().asked_after().is_some() {
            self.read(inch("0.020"));
        }
        self.take(Event::Next)
    }

    #[track_caller]
    fn knife(&mut self) -> &mut Self {
        self.isolate().take(Event::BedknifeSaid { work: BedknifeWork::Reground });
        self.take(Event::AngleRead { angle: AngleReading::from_hundredths(500) });
        self.take(Event::AngleRead { angle: AngleReading::from_hundredths(1_450) }).read(inch("0.120"));
        for check in KnifeCheck::ALL {
            self.take(Event::KnifeChecked { check, done: true });
        }
        self.take(Event::PaperCut { whole_length: true }).take(Event::Next)
    }

    #[track_caller]
    fn lap(&mut self) -> &mut Self {
        if matches!(self.visit.stage(), Stage::BackLap(_)) {
            self.take(Event::StandStill { held_ms: HELD });
        }
        self.isolate().take(Event::CountRead { count: 8 }).take(Event::CountRead { count: 120 });
        self.take(Event::PaperCut { whole_length: true }).take(Event::Next)
    }

    #[track_caller]
    fn plate(&mut self) -> &mut Self {
        self.isolate().read(inch("0.125")).read(inch("0.125")).read(thou("1.5")).read(thou("1.5")).take(Event::Next)
    }

    #[track_caller]
    fn check_all(&mut self) -> &mut Self {
        self.isolate().read(inch("0.040")).read(inch("0.045")).read(inch("0.125")).read(inch("0.1255"));
        self.take(Event::PaperCut { whole_length: true })
    }

    /// A visit of a kind, taken as far as its list goes.
    #[track_caller]
    fn coming_for(kind: VisitKind, unit: UnitFacts) -> Self {
        let mut walk = Self::of(unit);
        walk.take(Event::KindChosen { kind });
        walk
    }

    #[track_caller]
    fn on_to(&mut self, stage: StageName) -> &mut Self {
        while self.visit.stage_name() != stage {
            self.through();
        }
        self
    }
}

fn held(item: &str) -> Event {
    Event::ItemHeld { item: item.to_owned(), wording: "words".to_owned(), held_ms: HELD }
}

const fn start() -> Event {
    Event::GrindStarted { held_ms: HELD }
}

const ALL_STAGES: [StageName; 9] = [
    StageName::Receive,
    StageName::Tape,
    StageName::Front,
    StageName::Rear,
    StageName::Clearance,
    StageName::Grind,
    StageName::Prove,
    StageName::Label,
    StageName::Return,
];
