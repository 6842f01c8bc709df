//! Real visits of an invented shop, stepped as the kiosk steps them: for what is computed from a visit.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, reason = "of tests and the gallery alone")]

use jiff::civil::date;
use sparkout_core::bench::{DialKind, End, FrameKind, LimitBasis};
use sparkout_core::calc::adjuster::AdjusterKind;
use sparkout_core::calc::lift::Coupling;
use sparkout_core::facts::{
    BenchFacts, GateItem, GateRules, Grinding, GuardInput, Instruments, Limits, Per, StopInput,
};
use sparkout_core::label::{HubAddress, encode_url};
use sparkout_core::lifting::BenchLift;
use sparkout_core::lockout::{Applied, Lockout, Padlock};
use sparkout_core::moment::Moment;
use sparkout_core::quantity::{Angle, Length, Mass, Ratio, Speed, SpindleSpeed};
use sparkout_core::reading::{EntryUnit, Reading};
use sparkout_core::record::{
    Adjuster, AdjusterPair, Grinder, Operator, RingTest, SeenFrom, Side, UnitType, Wheel, Work,
};
use sparkout_core::visit::event::{Condition, Event, Part, UnitFacts, Which};
use sparkout_core::visit::kind::StageName;
use sparkout_core::visit::{Visit, open, step};
use sparkout_ui::present::{Beside, body, entry, rail, why};
use sparkout_ui::screen::{Body, MowerPicture, Screen, Settings, Why, WhyOf};

/// As typed in inches.
pub fn inch(text: &str) -> Reading {
    Reading::parse(text, EntryUnit::Inch).unwrap()
}

/// As typed in thousandths of an inch.
pub fn thou(text: &str) -> Reading {
    Reading::parse(text, EntryUnit::Thou).unwrap()
}

/// What differs from bench to bench and from reel to reel.
#[derive(Debug, Clone, Copy)]
pub struct Case {
    pub dial: DialKind,
    pub adjuster: AdjusterKind,
    pub basis: LimitBasis,
    pub leading_at: Side,
    /// Diameters before the grind: leading, trailing, middle.
    pub taped: (&'static str, &'static str, Option<&'static str>),
    /// Thousandths on the dial, one for each touch of the first round.
    pub touches: &'static [&'static str],
    pub which: Which,
    /// Thousandths on the indicator: left, right.
    pub indicator: (&'static str, &'static str),
    pub proved: (&'static str, &'static str),
    pub land: Option<&'static str>,
    pub pounds: f64,
}

/// The handbook's worked example.
pub const USUAL: Case = Case {
    dial: DialKind::Diameter,
    adjuster: AdjusterKind::Screw { pitch: Length::from_inches(1.0 / 24.0) },
    basis: LimitBasis::Tape,
    leading_at: Side::Left,
    taped: ("5.020", "5.000", Some("5.012")),
    touches: &["26"],
    which: Which::Other,
    indicator: ("0", "6"),
    proved: ("4.9980", "4.9975"),
    land: Some("0.040"),
    pounds: 88.0,
};

pub fn cases() -> Vec<Case> {
    let eccentric = AdjusterKind::Eccentric { throw: Length::from_inches(0.060), angle: Angle::from_degrees(60.0) };
    vec![
        USUAL,
        Case { adjuster: eccentric, which: Which::Zero, basis: LimitBasis::Caliper, ..USUAL },
        Case {
            dial: DialKind::Radius,
            leading_at: Side::Right,
            taped: ("5.0012", "5.0187", None),
            touches: &["7.8", "7.7", "7.8"],
            proved: ("4.999", "5.0025"),
            indicator: ("1.5", "-4"),
            land: None,
            pounds: 40.0,
            ..USUAL
        },
        // Within the limit, and more touches can prove it.
        Case { touches: &["22.4"], indicator: ("0", "0.5"), proved: ("4.998", "4.9965"), ..USUAL },
        Case { adjuster: eccentric, basis: LimitBasis::Caliper, touches: &["13"], leading_at: Side::Right, ..USUAL },
        // Near the wear limit: nothing is left.
        Case { taped: ("4.511", "4.509", None), touches: &["-3"], proved: ("4.507", "4.507"), ..USUAL },
    ]
}

fn unit(case: Case) -> UnitFacts {
    let adjuster =
        |y| Adjuster { y: inch(y), kind: case.adjuster, clockwise_raises: Some(true), seen_from: SeenFrom::Above };
    let pair = AdjusterPair { left: adjuster("-1.5"), right: adjuster("23.5") };
    let unit_type = UnitType {
        setup: Default::default(),
        name: "Fairway type B".to_owned(),
        frame: FrameKind::Adjustable,
        blades: 11,
        hand: None,
        leading_end_at: Some(case.leading_at),
        new_diameter: inch("5.060"),
        wear_limit: inch("4.500"),
        limit_basis: case.basis,
        reel_length: inch("22"),
        blade_thickness: inch("0.250"),
        relief_angle: Angle::from_degrees(25.0),
        land_limit: inch("0.080"),
        touch_left: inch("1"),
        touch_right: inch("21"),
        front: pair,
        rear: pair,
        rear_reading_span: inch("20"),
        reel_x: inch("4.5"),
        wheelbase: inch("11"),
        jack_y: inch("11"),
        weight: Some(Mass::from_kilograms(case.pounds * 0.453_592_37)),
    };
    let (lead, trail, _) = case.taped;
    let last = Work {
        lesson: None,
        date: date(2026, 5, 14),
        operator: "IB".to_owned(),
        before_lead: inch(lead),
        before_trail: inch(trail),
        lead: inch(lead),
        trail: inch(lead),
        land: case.land.map(inch),
        height_of_cut: Some(inch("0.400")),
        proven: true,
        visit: Some("V0000007".to_owned()),
    };
    UnitFacts { tag: "Q-114".to_owned(), unit_type, mower: "Fairway 3".to_owned(), position: 2, last: Some(last) }
}

fn facts(case: Case) -> BenchFacts {
    let operator =
        Operator { id: "B-1".into(), name: "Ines Barro".into(), initials: "IB".into(), trained: true, lead: false };
    BenchFacts {
        shims: Default::default(),
        knife: Default::default(),
        upkeep: Default::default(),
        operator: Some(operator.clone()),
        grinder: Grinder {
            last_check: None,
            override_until: None,
            name: "Bench A".to_owned(),
            dial: case.dial,
            dial_per_turn: thou("100"),
            dial_graduation: thou("1"),
            spindle_speed: SpindleSpeed::from_rpm(3_450.0),
            check_due: date(2027, 3, 14),
            check_override: None,
        },
        wheel: Some(Wheel {
            mounting: "M-3".to_owned(),
            diameter: inch("5.5"),
            rated_speed: Some(SpindleSpeed::from_rpm(4_200.0)),
            inspected: true,
            ring_test: RingTest::Clear,
            mounted: None,
            looked_over: None,
            measured: None,
        }),
        lockout: Some(dead(&operator)),
        guard: GuardInput::Closed,
        stop: StopInput::Released,
        today: date(2026, 11, 25),
        shift: "2026-11-25".to_owned(),
        instruments: Instruments {
            gauges: Default::default(),
            tape_graduation: thou("1"),
            indicator_graduation: thou("0.5"),
            touch_sd: Length::from_inches(0.000_3),
        },
        limits: Limits {
            setup: Default::default(),
            tilt: Length::from_inches(0.002),
            rear: Length::from_inches(0.002),
            cone: Length::from_inches(0.002),
            plausible_change: Length::from_inches(0.060),
            swap_cone: Length::from_inches(0.060),
        },
        grinding: Grinding {
            relief: Default::default(),
            cleanup: Length::from_inches(0.002),
            infeed: Length::from_inches(0.002),
            sparkout_passes: 3,
            traverse: Speed::from_metres_per_second(0.085),
            usual_removal: Length::from_inches(0.010),
        },
        gate: GateRules {
            items: vec![GateItem {
                id: "guard".to_owned(),
                per: Per::Grind,
                work: Default::default(),
                look_over: false,
            }],
            lapse_after_ms: 600_000,
            hold_ms: 1_000,
            look_over: false,
        },
        untold: None,
        acknowledged: Vec::new(),
    }
}

/// Lock 7 of this person, tried and proved dead.
fn dead(operator: &Operator) -> Lockout {
    let at: jiff::Timestamp = "2026-11-25T07:50:00Z".parse().unwrap();
    let padlock = Padlock {
        number: "7".to_owned(),
        to: "Main isolator".to_owned(),
        badge: operator.id.clone(),
        by: operator.name.clone(),
        initials: operator.initials.clone(),
        on: at,
    };
    Lockout::Dead(Applied::hung(padlock).tried(at).proved_dead(at))
}

/// A visit on the way, with everything its screens hang on.
pub struct Walk {
    pub visit: Visit,
    pub facts: BenchFacts,
    case: Case,
    now: Moment,
}

impl Walk {
    pub fn new(case: Case) -> Self {
        let now = Moment { wall: "2026-11-25T08:00:00Z".parse().unwrap(), monotonic_ms: 60_000, boot: "boot-1".into() };
        Self { visit: open("V0000042", unit(case), &now), facts: facts(case), case, now }
    }

    pub fn take(&mut self, event: Event) -> &mut Self {
        self.now.monotonic_ms += 500;
        let stepped = step(&self.visit, &self.facts, &event, &self.now);
        self.visit = stepped.unwrap_or_else(|refusal| panic!("{event:?}: {refusal:?}")).visit;
        self
    }

    pub fn read(&mut self, reading: Reading) -> &mut Self {
        self.take(Event::Read { reading });
        if let Some(question) = self.visit.question() {
            let keep = *question
                .answers()
                .iter()
                .find(|answer| matches!(answer, sparkout_core::visit::event::Answer::Keep))
                .expect("a reading that can be kept");
            self.take(Event::Answered { answer: keep });
        }
        self
    }

    /// Front as this case has it, as far as it is judged.
    pub fn touched(&mut self) -> &mut Self {
        for (index, touch) in self.case.touches.iter().enumerate() {
            if index > 0 {
                self.take(Event::TouchAgain);
            }
            self.take(Event::ZeroSet).read(thou(touch));
        }
        if self.visit.front().which() != self.case.which {
            self.take(Event::CurePicked { which: self.case.which });
        }
        self
    }

    /// Everything of a stage, and on to the next.
    pub fn through(&mut self) -> &mut Self {
        match self.visit.stage_name() {
            StageName::Receive => {
                for part in Part::ALL {
                    self.take(Event::Looked { part, condition: Condition::Good });
                }
                self.take(Event::Next)
            }
            StageName::Tape => {
                let (lead, trail, centre) = self.case.taped;
                self.read(inch(lead)).read(inch(trail));
                if let Some(centre) = centre {
                    self.take(Event::PlacePicked { place: sparkout_core::visit::event::Place::Centre });
                    self.read(inch(centre));
                }
                self.take(Event::Next)
            }
            StageName::Front => {
                // On the target to the dial's own step, however the first round came out.
                let target = self.visit.taped().unwrap().unwrap().target * (self.facts.grinder.dial.factor() / 2.0);
                let target = Reading::from_nanometres((target.mm() * 1e6).round() as i64);
                if self.visit.front().readings().is_empty() {
                    self.take(Event::ZeroSet).read(target);
                }
                self.take(Event::Next)
            }
            StageName::Rear => self.read(thou("0")).read(thou("0.5")).take(Event::Next),
            StageName::Clearance => {
                self.facts.lockout = None;
                let held = Event::ItemHeld { item: "guard".into(), wording: "words".into(), held_ms: 1_000 };
                self.take(held).take(Event::GrindStarted { held_ms: 1_000 })
            }
            StageName::Grind => {
                let open = self.visit.passes_in_all(&self.facts) - self.visit.passes().done();
                for _ in 0..open {
                    self.take(Event::PassDone);
                }
                self.take(Event::StandStill { held_ms: 1_000 }).take(Event::IsolationHeld { held_ms: 1_000 })
            }
            StageName::Prove => {
                self.read(inch("4.998")).read(inch("4.998"));
                self.take(Event::PaperCut { whole_length: true }).take(Event::Next)
            }
            StageName::Label => {
                self.take(Event::PrintAsked);
                let content = self.visit.label_content(&self.facts).unwrap();
                let code = encode_url(&content, &HubAddress::parse("HUB.SHOP.EXAMPLE").unwrap()).unwrap();
                self.take(Event::Printed { code: code.clone(), to: "label.png".to_owned() });
                self.take(Event::LabelScanned { code }).take(Event::Next)
            }
            StageName::Return => panic!("the visit ends there"),
            StageName::Finger
            | StageName::Relief
            | StageName::Knife
            | StageName::BackLap
            | StageName::Height
            | StageName::Plate
            | StageName::Check => panic!("no stage of a spin"),
        }
    }

    pub fn on_to(&mut self, stage: StageName) -> &mut Self {
        while self.visit.stage_name() != stage {
            self.through();
        }
        self
    }

    fn with_beside<T>(&self, settings: Settings, make: impl FnOnce(&Beside<'_>) -> T) -> T {
        make(&Beside {
            settings,
            facts: &self.facts,
            now: &self.now,
            unit: None,
            mower: MowerPicture::default(),
            wording: &[],
            label: None,
            time_of_day: &|_| "09:51".to_owned(),
            noise: String::new(),
            lifting: BenchLift {
                reach: Length::from_inches(16.0),
                from: Length::from_inches(30.0),
                to: Length::from_inches(38.0),
                turn: Angle::from_degrees(30.0),
                grip: Coupling::Fair,
                frequency_multiplier: Ratio::from_value(0.94),
            },
        })
    }

    pub fn body(&self, settings: Settings) -> Body {
        self.with_beside(settings, |beside| body(&self.visit, beside))
    }

    /// The step as it stands, with what is asked for.
    pub fn step_screen(&self, settings: Settings) -> Screen {
        let entry = self.with_beside(settings, |beside| entry(&self.visit, beside));
        let strip = super::bare(settings.language, Body::Starting).strip;
        Screen { settings, strip, rail: rail(&self.visit), entry, body: self.body(settings), ..Screen::default() }
    }

    pub fn why(&self, of: WhyOf, settings: Settings) -> Option<Why> {
        self.with_beside(settings, |beside| why(of, &self.visit, beside))
    }

    /// Every explanation that can be asked for as the visit stands.
    pub fn whys(&self, settings: Settings) -> Vec<Why> {
        WhyOf::ALL.into_iter().filter_map(|of| self.why(of, settings)).collect()
    }

    /// An explanation as its screen.
    pub fn screen(&self, why: Why, mut screen: Screen) -> Screen {
        screen.rail = rail(&self.visit);
        screen.body = Body::Why(Box::new(why));
        screen
    }
}

/// A case as it stands wherever something can be asked about.
pub fn stands(case: Case) -> Vec<Walk> {
    let stages = [
        StageName::Receive,
        StageName::Tape,
        StageName::Front,
        StageName::Rear,
        StageName::Clearance,
        StageName::Grind,
        StageName::Prove,
        StageName::Return,
    ];
    let mut stands = Vec::new();
    for stage in stages {
        let mut walk = Walk::new(case);
        walk.on_to(stage);
        match stage {
            StageName::Tape => {
                let (lead, trail, centre) = case.taped;
                walk.read(inch(lead)).read(inch(trail));
                if let Some(centre) = centre {
                    walk.take(Event::PlacePicked { place: sparkout_core::visit::event::Place::Centre });
                    walk.read(inch(centre));
                }
            }
            StageName::Front => {
                walk.touched();
            }
            StageName::Rear => {
                walk.read(thou(case.indicator.0)).read(thou(case.indicator.1));
            }
            StageName::Grind => {
                // In the midst of the passes, and at the last one with infeed.
                for done in [2, walk.visit.plan(&walk.facts).unwrap().passes - 1] {
                    let mut grinding = Walk::new(case);
                    grinding.on_to(stage);
                    for _ in 0..done {
                        grinding.take(Event::PassDone);
                    }
                    stands.push(grinding);
                }
            }
            StageName::Prove => {
                walk.read(inch(case.proved.0)).read(inch(case.proved.1));
            }
            StageName::Receive
            | StageName::Clearance
            | StageName::Finger
            | StageName::Relief
            | StageName::Knife
            | StageName::BackLap
            | StageName::Height
            | StageName::Plate
            | StageName::Check
            | StageName::Label
            | StageName::Return => {}
        }
        if stage == StageName::Front && walk.visit.front_cure(&walk.facts, case.which).is_some() {
            let mut again = Walk::new(case);
            again.on_to(stage).touched();
            if !again.visit.front_done(&again.facts) {
                again.take(Event::Turned { which: case.which });
                stands.push(again);
            }
        }
        stands.push(walk);
    }
    stands
}

/// The end that is zeroed.
pub fn zero_end(walk: &Walk) -> End {
    walk.visit.zero_end()
}
