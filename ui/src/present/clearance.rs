//! Clearance: one item at a time, and what stands in the way.

use super::{Beside, figures};
use crate::screen::{Clearance, GateRemedy, Item, ItemLine, Language, Signal, StopState, TurningName};
use crate::words;
use sparkout_core::calc::wheel::{WheelInput, WheelSpeed, WheelVerdict, wheel};
use sparkout_core::reading::Units;
use sparkout_core::visit::gate::{Block, Gate, blocks};
use sparkout_core::visit::kind::Turning;
use sparkout_core::visit::{Stage, Visit};

/// The words of one item of the gate, in both languages, from the configuration.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Wording {
    /// The item's name in the configuration.
    pub id: String,
    /// Its signal word.
    pub signal: Signal,
    /// The rule behind it.
    pub reference: String,
    /// In English.
    pub english: ItemWords,
    /// In Spanish.
    pub spanish: ItemWords,
}

/// The words of one item in one language.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ItemWords {
    /// In a few words, for the list.
    pub short: String,
    /// What must be so.
    pub title: String,
    /// Why, and how to check.
    pub text: String,
}

impl Wording {
    /// The words in a language.
    pub const fn in_language(&self, language: Language) -> &ItemWords {
        match language {
            Language::English => &self.english,
            Language::Spanish => &self.spanish,
        }
    }
}

pub(super) fn clearance(visit: &Visit, beside: &Beside<'_>) -> Clearance {
    let facts = beside.facts;
    let fresh = Gate::towards(visit.turning());
    let (gate, cleared) = match visit.stage() {
        Stage::Clearance(gate) => (gate, None),
        Stage::Cleared(clearance) => (&fresh, Some(clearance)),
        _ => (&fresh, None),
    };
    let in_the_way = blocks(facts);
    let current = if cleared.is_some() { None } else { gate.current(facts) };
    let asked = cleared.map_or_else(|| gate.asked(facts), |clearance| clearance.items().collect());
    let mut shown = Clearance {
        items: asked.iter().map(|item| line(item, gate, current, cleared.is_some(), beside)).collect(),
        current: current.and_then(|id| item(id, &asked, beside)),
        blocks: in_the_way.iter().map(|found| words::block(found, beside.settings)).collect(),
        complete: cleared.is_some() || (in_the_way.is_empty() && gate.complete(facts)),
        lapses_in: figures::minutes_seconds(facts.gate.lapse_after_ms / 1000),
        passes_kept: if visit.turning() == Turning::Relief {
            visit.relief().rounds_done()
        } else {
            visit.passes().done()
        },
        remedy: remedy(&in_the_way),
        work: match visit.turning() {
            Turning::Grind => TurningName::Grind,
            Turning::Relief => TurningName::Relief,
            Turning::BackLap => TurningName::BackLap,
        },
        noise: beside.noise.clone(),
        ..Clearance::default()
    };
    if let Some(clearance) = cleared {
        let age = beside.now.since(clearance.counts_from()).map_or(0, |age| age.as_millis() as u64);
        shown.lapses_in = figures::minutes_seconds(clearance.lapse_after_ms().saturating_sub(age) / 1000);
    }
    speeds(&mut shown, beside);
    shown
}

/// Where the first of these is put right that has a screen for it.
fn remedy(blocks: &[Block]) -> GateRemedy {
    let of = |block: &Block| match block {
        Block::NoWheel
        | Block::NotLookedOver
        | Block::NotInspected
        | Block::NoRingTest
        | Block::NoRatedSpeed
        | Block::Overspeed { .. } => Some(GateRemedy::Wheel),
        Block::LockedOut { .. } | Block::OwnerNotTold { .. } => Some(GateRemedy::Lockout),
        Block::NoOperator
        | Block::NotTrained { .. }
        | Block::CheckOverdue { .. }
        | Block::OutOfTrue { .. }
        | Block::GuardOpen
        | Block::StopPressed
        | Block::InputsStale
        | Block::InputsLost => None,
    };
    // A lock comes off before anything else is put right at the wheel, or stays on while it is.
    let found: Vec<GateRemedy> = blocks.iter().filter_map(of).collect();
    if found.contains(&GateRemedy::Lockout) {
        return GateRemedy::Lockout;
    }
    found.into_iter().next().unwrap_or_default()
}

fn line(id: &str, gate: &Gate, current: Option<&str>, cleared: bool, beside: &Beside<'_>) -> ItemLine {
    let short = beside
        .wording
        .iter()
        .find(|wording| wording.id == id)
        .map_or_else(|| id.to_owned(), |wording| wording.in_language(beside.settings.language).short.clone());
    let state = if cleared || gate.is_done(id) {
        StopState::Done
    } else if current == Some(id) {
        StopState::Now
    } else {
        StopState::ToCome
    };
    ItemLine { short, state }
}

fn item(id: &str, asked: &[&str], beside: &Beside<'_>) -> Option<Item> {
    let wording = beside.wording.iter().find(|wording| wording.id == id)?;
    let words = wording.in_language(beside.settings.language);
    let number = asked.iter().position(|asked| *asked == id)? as u32 + 1;
    Some(Item {
        number,
        signal: wording.signal,
        title: words.title.clone(),
        text: words.text.clone(),
        reference: words::reference(&wording.reference, beside.settings),
    })
}

/// How fast the mounted wheel turns against its rating, once that was read off it.
pub(super) fn wheel_speed(beside: &Beside<'_>) -> Option<WheelSpeed> {
    let mounted = beside.facts.wheel.as_ref()?;
    let input = WheelInput {
        diameter: mounted.diameter.length(),
        spindle_speed: beside.facts.grinder.spindle_speed,
        rated_speed: mounted.rated_speed?,
        reel: None,
    };
    wheel(&input).ok()
}

fn speeds(shown: &mut Clearance, beside: &Beside<'_>) {
    let spindle = beside.facts.grinder.spindle_speed;
    let Some(rated) = beside.facts.wheel.as_ref().and_then(|wheel| wheel.rated_speed) else { return };
    let Some(WheelSpeed { surface_speed, margin, verdict, .. }) = wheel_speed(beside) else { return };
    let (speed, unit) = match beside.settings.units {
        Units::Inch | Units::Thou => (figures::grouped(surface_speed.feet_per_minute()), "ft/min"),
        Units::Metric => (figures::number(surface_speed.metres_per_second(), 1, beside.settings), "m/s"),
    };
    shown.speed = speed;
    shown.speed_unit = unit.to_owned();
    shown.rpm = format!("{} / {}", figures::grouped(spindle.rpm()), figures::grouped(rated.rpm()));
    shown.margin_percent = figures::grouped(margin.value() * 100.0);
    shown.within_rating = verdict == WheelVerdict::WithinRating;
}
