//! The journal as lines for people: when, who, what, on which unit, and whether it was out of the ordinary.

use super::follow::{Follower, Taken};
use super::words::{self, Told};
use crate::store::wall_clock::WallClock;
use jiff::Timestamp;
use sparkout_core::calc::master::MasterVerdict;
use sparkout_core::entry::{Entry, EntryBody, Record};
use sparkout_core::exposure::{Stretch, under_power};
use sparkout_core::facts::BenchFacts;
use sparkout_core::health::check::{CheckEffect, GrinderEvent};
use sparkout_core::journal::Hash;
use sparkout_core::journal::merkle::leaf_hash;
use sparkout_core::lockout::{LockoutEvent, Lockouts};
use sparkout_core::moment::Moment;
use sparkout_core::pin::PinEvent;
use sparkout_core::reading::Reading;
use sparkout_core::record::RingTest;
use sparkout_core::visit::Visit;
use sparkout_core::visit::event::{Answer, Condition, Event};
use sparkout_core::visit::gate::{Block, blocks};
use sparkout_core::visit::kind::StageName;
use sparkout_core::wheel::{self, WheelEvent};
use sparkout_ui::screen::Language;
use std::collections::HashMap;

/// Where a line belongs in the safety record, besides its being an exception or not.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Group {
    /// A checklist and the turning work under it.
    Turning,
    /// Power off and tried.
    Isolation,
    /// All else.
    Other,
}

impl Group {
    /// Its name for machines.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Turning => "turning",
            Self::Isolation => "isolation",
            Self::Other => "other",
        }
    }
}

/// One entry as a line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    /// The entry's number in the journal.
    pub seq: u64,
    /// The hash of its exact bytes.
    pub leaf_hash: Hash,
    /// When, by the station's clock; nothing where the entry does not say it.
    pub at: Option<Timestamp>,
    /// Who stood at the bench: name, or the badge's id, or nothing.
    pub who: String,
    /// The badge's id.
    pub badge: String,
    /// What happened, in sentences.
    pub what: String,
    /// The unit's tag, where it is about one.
    pub unit: String,
    /// The visit or the check, where it is about one.
    pub visit: String,
    /// The entry's own name of what happened, for machines.
    pub event: String,
    /// The stage's own name, for machines, where it is known.
    pub stage: String,
    /// The length that was read, where one was.
    pub reading: Option<Reading>,
    /// Whether it is what an inspector asks about first.
    pub exception: bool,
    /// Where it belongs.
    pub group: Group,
    /// The turning work that it begins or goes on with, where it does.
    pub turning: Option<TurningMark>,
    /// The stretch of grinding under power that it ended.
    pub ground: Option<Stretch>,
}

/// What a line says about the turning work that it belongs to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TurningMark {
    /// What the work is, and of which unit.
    pub title: String,
    /// Whether the work, or the checklist towards it, is over with this line.
    pub ends: bool,
    /// Whether it is the start itself.
    pub starts: bool,
}

/// Reads entries from the first on: who stood at the bench, and which unit a visit is about, stands in older ones.
#[derive(Debug)]
pub struct Lines {
    language: Language,
    names: HashMap<String, String>,
    units: HashMap<String, String>,
    who: Option<String>,
    clock: WallClock,
    follower: Follower,
    held: words::Held,
    lockouts: Lockouts,
}

impl Lines {
    /// From the beginning of a journal.
    pub fn new(language: Language) -> Self {
        Self {
            language,
            names: HashMap::new(),
            units: HashMap::new(),
            who: None,
            clock: WallClock::default(),
            follower: Follower::default(),
            held: words::Held::default(),
            lockouts: Lockouts::default(),
        }
    }

    /// When the newest entry was made that says so.
    pub fn last_made(&self) -> Option<Timestamp> {
        self.clock.last()
    }

    /// The next entry. Bytes that are no entry of this program's are a line too: leaving them out would hide them.
    pub fn line(&mut self, seq: u64, leaf: &[u8]) -> Line {
        let turned = self.clock.meet(seq, leaf);
        let mut line = Line {
            seq,
            leaf_hash: leaf_hash(leaf),
            at: None,
            who: String::new(),
            badge: String::new(),
            what: words::not_understood(self.language).to_owned(),
            unit: String::new(),
            visit: String::new(),
            event: String::new(),
            stage: String::new(),
            reading: None,
            exception: true,
            group: Group::Other,
            turning: None,
            ground: None,
        };
        if let Ok(entry) = serde_json::from_slice::<Entry>(leaf) {
            line.exception = false;
            self.fill(&mut line, entry);
        }
        if let Some(turned) = turned {
            line.exception = true;
            line.what = format!("{} {}", words::clock_turned(turned.by_ms / 1000, self.language), line.what);
        }
        line
    }

    fn fill(&mut self, line: &mut Line, entry: Entry) {
        let Entry { at, facts, body } = entry;
        line.event = event_name(&body);
        line.at = Some(at.wall);
        if let Some(operator) = facts.as_ref().and_then(|facts| facts.operator.as_ref()) {
            self.names.insert(operator.id.clone(), operator.name.clone());
        }
        let language = self.language;
        match body {
            EntryBody::Started { version } => {
                self.who = None;
                line.what = words::started(&version, language);
            }
            EntryBody::OperatorChanged { operator } => {
                self.who = operator;
                self.sign(line);
                line.what = words::operator(&line.who, language);
            }
            EntryBody::Record { record } => {
                if let Record::Operator { operator } = record.as_ref() {
                    self.names.insert(operator.id.clone(), operator.name.clone());
                }
                line.what = words::record(&record, language);
            }
            EntryBody::Settings { by, setting, old, new } => {
                self.who = Some(by);
                line.what = words::setting(setting, old, new, language);
            }
            EntryBody::Pin { badge, by, what } => self.pin(line, badge, by, what),
            EntryBody::ClockMoved { seconds } => {
                line.exception = true;
                line.what = words::clock_turned(seconds, language);
            }
            EntryBody::Continues { parent } => {
                line.exception = true;
                line.what = words::continues(&parent, language);
            }
            EntryBody::Witness { alarm } => {
                line.exception = true;
                line.what = words::witness(&alarm, language);
            }
            EntryBody::Inputs { seen, turning } => {
                // The way is clear again: no exception, but the end of one.
                line.exception = seen.fault().is_some();
                line.what = words::inputs(seen, turning.is_some(), language);
            }
            EntryBody::Wheel { event } => self.wheel(line, facts.as_deref(), &event),
            EntryBody::Lockout { event } => self.lockout(line, &at, facts.as_deref(), &event),
            EntryBody::Grinder { check, event } => {
                line.visit = check;
                self.grinder(line, &at, facts, &event);
            }
            EntryBody::Visit { visit, event } => {
                line.visit = visit;
                self.visit(line, &at, facts, &event);
            }
        }
        self.sign(line);
    }

    /// While a PIN is asked nobody is signed on: who chose one is whose it is, who took one away is the lead.
    fn pin(&self, line: &mut Line, badge: String, by: Option<String>, what: PinEvent) {
        let name = |badge: &String| self.names.get(badge).unwrap_or(badge).clone();
        line.exception = !matches!(what, PinEvent::Set | PinEvent::Changed);
        line.what = words::pin(what, &name(&badge), self.language);
        let who = match what {
            PinEvent::Set | PinEvent::Changed => Some(badge),
            PinEvent::Reset | PinEvent::Forgotten | PinEvent::Wrong { .. } | PinEvent::Locked { .. } => by,
        };
        if let Some(who) = who {
            line.who = name(&who);
            line.badge = who;
        }
    }

    fn sign(&self, line: &mut Line) {
        if let Some(badge) = &self.who {
            line.badge.clone_from(badge);
            line.who = self.names.get(badge).unwrap_or(badge).clone();
        }
    }

    fn grinder(&mut self, line: &mut Line, at: &Moment, facts: Option<Box<BenchFacts>>, event: &GrinderEvent) {
        if let Some(operator) = facts.as_ref().and_then(|facts| facts.operator.as_ref()) {
            self.who = Some(operator.id.clone());
        }
        line.what = words::grinder(event, self.language);
        line.exception = matches!(event, GrinderEvent::Overridden { .. } | GrinderEvent::Abandoned);
        if let GrinderEvent::IsolationHeld { .. } = event {
            line.group = Group::Isolation;
        }
        if let GrinderEvent::SpotChecked { unit, reading } = event {
            line.unit.clone_from(unit);
            line.reading = Some(*reading);
        }
        if let GrinderEvent::Read { reading } = event {
            line.reading = Some(*reading);
        }
        let Some((effects, facts)) = self.follower.grinder(at, facts, event) else {
            return not_taken(line, self.language);
        };
        for effect in effects {
            match effect {
                CheckEffect::GrinderChanged(grinder) if *event == GrinderEvent::Finished => {
                    let check = grinder.last_check.as_deref();
                    let is_out = check.is_some_and(|check| check.verdict == MasterVerdict::OutOfTrue);
                    line.exception |= is_out;
                    line.what = format!("{} {}", line.what, words::verdict(is_out, self.language));
                }
                CheckEffect::SpotKept(spot) if !spot.within(facts.upkeep.check.spot_limit) => {
                    line.exception = true;
                    line.what = format!("{} {}", line.what, words::spot_beyond(self.language));
                }
                CheckEffect::GrinderChanged(_) | CheckEffect::SpotKept(_) | CheckEffect::Over => {}
            }
        }
    }

    fn wheel(&mut self, line: &mut Line, facts: Option<&BenchFacts>, event: &WheelEvent) {
        line.what = words::wheel(event, self.language);
        line.reading = match event {
            WheelEvent::WheelMounted { wheel, .. } => Some(wheel.diameter),
            WheelEvent::WheelMeasured { diameter, .. } => Some(*diameter),
            WheelEvent::WheelLookedOver { .. } | WheelEvent::WheelScrapped { .. } => None,
        };
        let Some(stepped) = self.stood(facts).and_then(|facts| wheel::step(facts, event).ok()) else {
            return not_taken(line, self.language);
        };
        // What a mounting lacks is asked about first.
        let lacks = stepped.wheel.is_some_and(|wheel| !wheel.inspected || wheel.ring_test == RingTest::Missing);
        line.exception = lacks && matches!(event, WheelEvent::WheelMounted { .. });
    }

    fn lockout(&mut self, line: &mut Line, at: &Moment, facts: Option<&BenchFacts>, event: &LockoutEvent) {
        line.group = Group::Isolation;
        line.exception = matches!(event, LockoutEvent::ForceReleased { .. });
        line.what = words::lockout(event, &self.lockouts, self.language);
        match self.stood(facts).and_then(|facts| self.lockouts.step(facts, event, at).ok()) {
            Some(next) => self.lockouts = next,
            None => not_taken(line, self.language),
        }
    }

    /// The facts of an entry, and who stood at the bench by them.
    fn stood<'facts>(&mut self, facts: Option<&'facts BenchFacts>) -> Option<&'facts BenchFacts> {
        let facts = facts?;
        self.who = facts.operator.as_ref().map(|operator| operator.id.clone());
        Some(facts)
    }

    fn visit(&mut self, line: &mut Line, at: &Moment, facts: Option<Box<BenchFacts>>, event: &Event) {
        if let Event::Opened { unit } = event {
            self.units.insert(line.visit.clone(), unit.tag.clone());
        }
        line.unit = self.units.get(&line.visit).cloned().unwrap_or_default();
        let id = line.visit.clone();
        let taken = self.follower.visit(&id, at, facts, event);
        line.stage = taken.stage().map(stage_key).unwrap_or_default();
        line.exception = is_exception(event, taken.before());
        if let Event::IsolationHeld { .. } = event {
            line.group = Group::Isolation;
        }
        if let Event::Read { reading } = event {
            line.reading = Some(*reading);
        }
        let now = self.follower.now(&id);
        let facts = now.as_ref().and_then(|now| now.facts.as_ref());
        if let Some(facts) = facts {
            self.who = facts.operator.as_ref().map(|operator| operator.id.clone());
        }
        let before = taken.before();
        let told = Told { language: self.language, before, now: now.as_ref().map(|now| &now.visit), facts };
        line.what = words::event(event, &told);
        if let Event::ItemHeld { item, wording, .. } = event {
            self.held.keep(item, wording, line.seq, facts);
        }
        if let (Event::GrindStarted { .. }, Some(facts), Some(before)) = (event, facts, before) {
            line.what = format!("{} {}", line.what, words::start(facts, before, &self.held, self.language));
            line.exception |= under_override(facts);
        }
        if matches!(taken, Taken::Refused) {
            return not_taken(line, self.language);
        }
        if let Some(now) = now {
            line.ground = taken
                .before()
                .and_then(under_power)
                .zip(now.facts.as_ref())
                .and_then(|(power, facts)| power.ended(&now.visit, facts, at));
            line.turning = turning(event, &taken, &now.visit, self.language);
            if line.turning.is_some() && line.group == Group::Other {
                line.group = Group::Turning;
            }
            let found = standing_blocks(&now.visit, now.facts.as_ref());
            // A lapse has said already what stands in the way.
            if found.len() > now.blocks_told && !matches!(event, Event::Lapsed { .. }) {
                line.exception = true;
                line.what = format!("{} {}", line.what, words::blocked(&found, self.language));
            }
            now.blocks_told = found.len();
        }
        self.follower.forget_closed(&id);
    }
}

fn not_taken(line: &mut Line, language: Language) {
    line.exception = true;
    line.what = format!("{} {}", line.what, words::not_taken(language));
}

/// Whether the grinder stands under a lead's word on the day of a start.
fn under_override(facts: &BenchFacts) -> bool {
    let grinder = &facts.grinder;
    grinder.overridden(facts.today) && (facts.today > grinder.check_due || grinder.out_of_true().is_some())
}

/// What stands in the way of a clearance that is being gone towards. That nobody signed on yet is the usual beginning.
fn standing_blocks(visit: &Visit, facts: Option<&BenchFacts>) -> Vec<Block> {
    if visit.stage_name() != StageName::Clearance || visit.paused() {
        return Vec::new();
    }
    facts.map(blocks).unwrap_or_default().into_iter().filter(|block| *block != Block::NoOperator).collect()
}

/// Whether a stage is turning work or the checklist towards it.
fn is_turning(stage: StageName) -> bool {
    stage == StageName::Clearance || stage.turning().is_some()
}

fn turning(event: &Event, taken: &Taken, now: &Visit, language: Language) -> Option<TurningMark> {
    let before = taken.before()?;
    let (was, is) = (is_turning(before.stage_name()), is_turning(now.stage_name()));
    // Entering the checklist is no part of it yet: most of the time the next thing is the first item.
    if !was || matches!(event, Event::Paused | Event::TakenUp) {
        return None;
    }
    let title = words::turning_title(before, language);
    Some(TurningMark { title, ends: !is, starts: matches!(event, Event::GrindStarted { .. }) })
}

fn is_exception(event: &Event, before: Option<&Visit>) -> bool {
    match event {
        Event::Lapsed { .. }
        | Event::Overridden { .. }
        | Event::Mended { .. }
        | Event::NotProvenAccepted
        | Event::ErrorRecorded
        | Event::Stopped { .. }
        | Event::Looked { condition: Condition::Bad, .. }
        | Event::Answered { answer: Answer::Keep | Answer::Stop } => true,
        // A restart among readings is only a restart; under turning work, or a checklist, a clearance ended by it.
        Event::Restarted => before.is_none_or(|visit| is_turning(visit.stage_name())),
        Event::Looked { .. }
        | Event::Answered { .. }
        | Event::Opened { .. }
        | Event::Paused
        | Event::TakenUp
        | Event::Next
        | Event::Back
        | Event::KindChosen { .. }
        | Event::TypeTold { .. }
        | Event::IsolationHeld { .. }
        | Event::Read { .. }
        | Event::AngleRead { .. }
        | Event::CountRead { .. }
        | Event::PlacePicked { .. }
        | Event::ZeroSet
        | Event::CurePicked { .. }
        | Event::Turned { .. }
        | Event::Squared
        | Event::Shimmed
        | Event::FingerSet
        | Event::KnifeChecked { .. }
        | Event::TouchAgain
        | Event::ItemHeld { .. }
        | Event::GrindStarted { .. }
        | Event::PassDone
        | Event::PassRepeated
        | Event::StandStill { .. }
        | Event::BedknifeSaid { .. }
        | Event::PaperCut { .. }
        | Event::MeasuredAgain
        | Event::Regrind
        | Event::PrintAsked
        | Event::Printed { .. }
        | Event::LabelScanned { .. }
        | Event::PlaceConfirmed { .. } => false,
    }
}

/// The name under which the journal itself would hold a stage.
fn stage_key(stage: StageName) -> String {
    serde_json::to_value(stage).ok().and_then(|name| name.as_str().map(str::to_owned)).unwrap_or_default()
}

/// The name under which the entry itself holds it.
fn event_name(body: &EntryBody) -> String {
    let value = serde_json::to_value(body).unwrap_or_default();
    let name = |key: &str| value.get(key).and_then(|name| name.as_str()).map(str::to_owned);
    let inner = value.get("event").and_then(|event| event.get("event")).and_then(|name| name.as_str());
    inner.map(str::to_owned).or_else(|| name("kind")).unwrap_or_default()
}
