//! From a visit to what its screen shows. Pure: everything it needs comes in.

mod card;
mod clearance;
mod drawn;
mod due;
pub mod figures;
mod front;
mod grind;
mod grinder;
mod label;
mod plot;
mod prove;
mod rear;
mod receive;
#[cfg(test)]
#[path = "../../tests/samples/record.rs"]
#[allow(dead_code, unreachable_pub, missing_docs, reason = "shared with the samples of the screens")]
mod sample;
mod setting;
mod shop;
mod tape;
mod turning;
mod wheel;
mod why;

pub use card::{CardBeside, unit_card};
pub use clearance::{ItemWords, Wording};
pub use due::{due, due_lines};
pub use grinder::{
    Gathered, SHOWN_CLOSURES, check, check_entry, grinder, grinder_warning, overriding, spot, spot_entry,
};
use prove::bedknife;
pub use setting::places as setting_places;
pub use shop::{enrol, find, home, mower_picture, place};
pub use turning::{TypeQuestion, type_question};
pub use wheel::{lockout_card, wheel_card};
pub use why::why;

use crate::screen::{Asked, Body, EndName, Entry, Isolation, RailStop, Raster, Settings, SideName, StopState};
use crate::words;
use sparkout_core::bench::{DialKind, End};
use sparkout_core::facts::BenchFacts;
use sparkout_core::lifting::BenchLift;
use sparkout_core::lockout::Lockout;
use sparkout_core::moment::Moment;
use sparkout_core::quantity::Length;
use sparkout_core::reading::LengthKind;
use sparkout_core::record::{Side, Unit, Work};
use sparkout_core::visit::event::Place;
use sparkout_core::visit::kind::{StageName, Turning};
use sparkout_core::visit::{FrontPhase, Stage, Visit};

/// What a stage's screen needs besides the visit.
pub struct Beside<'a> {
    /// Language, units, theme.
    pub settings: Settings,
    /// The bench's facts.
    pub facts: &'a BenchFacts,
    /// The time.
    pub now: &'a Moment,
    /// The unit's record, for its history.
    pub unit: Option<&'a Unit>,
    /// The mower's positions and who sits there.
    pub mower: crate::screen::MowerPicture,
    /// The words of the gate's items.
    pub wording: &'a [Wording],
    /// The label as it was last made; only one that was read back from its own raster gets here.
    pub label: Option<Raster>,
    /// The time of day of a moment, ready to show.
    pub time_of_day: &'a dyn Fn(&Moment) -> String,
    /// The noise of the day for who stands at the bench, in few words; empty when nobody does.
    pub noise: String,
    /// How a unit is lifted onto the rails.
    pub lifting: BenchLift,
}

/// The body of the stage in hand.
pub fn body(visit: &Visit, beside: &Beside<'_>) -> Body {
    if visit.asks_isolation(beside.facts) {
        return Body::IsolationAsked(visit.stage_name());
    }
    match visit.stage() {
        Stage::Receive => Body::Receive(receive::receive(visit, beside)),
        Stage::Tape => Body::Tape(tape::tape(visit, beside)),
        Stage::Front => Body::Front(front::front(visit, beside)),
        Stage::Rear => Body::Rear(rear::rear(visit, beside)),
        Stage::Clearance(_) | Stage::Cleared(_) if visit.only_runs_down(beside.facts) => match visit.turning() {
            Turning::Grind => Body::Grind(grind::run_down(visit, beside)),
            Turning::Relief => Body::Relief(setting::relief(visit, beside)),
            Turning::BackLap => Body::BackLap(setting::back_lap(visit, beside)),
        },
        Stage::Clearance(_) | Stage::Cleared(_) => Body::Clearance(clearance::clearance(visit, beside)),
        Stage::Grind(grind) => Body::Grind(grind::grind(visit, grind, beside)),
        Stage::Prove => Body::Prove(prove::prove(visit, beside)),
        Stage::Finger | Stage::Relief(_) | Stage::ReliefLands => Body::Relief(setting::relief(visit, beside)),
        Stage::Knife => Body::Knife(setting::knife(visit, beside)),
        Stage::BackLap(_) | Stage::BackLapped => Body::BackLap(setting::back_lap(visit, beside)),
        Stage::Height => Body::Height(setting::height(visit, beside)),
        Stage::Plate => Body::Plate(setting::plate(visit, beside)),
        Stage::Check => Body::Check(setting::check(visit, beside)),
        Stage::Label => Body::Label(label::label(visit, beside)),
        Stage::Return | Stage::Closed => Body::Return(label::back(visit, beside)),
    }
}

/// Stops that fit along the rail with their names; of a longer trip the part around the stage in hand is shown.
const RAIL_MOST: usize = 10;

/// The stops of the visit.
pub fn rail(visit: &Visit) -> Vec<RailStop> {
    let (stages, here) = (visit.stages(), visit.position());
    let state = |index: usize| match index.cmp(&here) {
        std::cmp::Ordering::Less => StopState::Done,
        std::cmp::Ordering::Equal => StopState::Now,
        std::cmp::Ordering::Greater => StopState::ToCome,
    };
    let first = here.saturating_sub(RAIL_MOST / 2).min(stages.len().saturating_sub(RAIL_MOST));
    let stops = stages.iter().enumerate().skip(first).take(RAIL_MOST);
    stops.map(|(index, stage)| RailStop { name: *stage, state: state(index) }).collect()
}

/// How the power stands, as far as the record knows, with the lock's number and its owner's initials.
pub fn isolation(visit: Option<&Visit>, facts: &BenchFacts) -> (Isolation, String) {
    if let Some(lockout) = &facts.lockout {
        let state = match lockout {
            Lockout::Applied(_) => Isolation::LockUntried,
            Lockout::Tried(_) => Isolation::LockTried,
            Lockout::Dead(_) => Isolation::Locked,
        };
        let padlock = lockout.padlock();
        return (state, format!("{} · {}", padlock.number, padlock.initials));
    }
    let state = match visit {
        Some(visit) if visit.stage().running().is_some() => Isolation::Running,
        // The last pass is made, and nobody has seen both come to rest.
        Some(visit) if matches!(visit.stage(), Stage::Clearance(_)) && visit.only_runs_down(facts) => {
            Isolation::Running
        }
        Some(visit) if visit.hands_in() && !visit.asks_isolation(facts) => Isolation::Acknowledged,
        Some(_) | None => Isolation::Unknown,
    };
    (state, String::new())
}

/// The number that is asked for now, if any.
pub fn entry(visit: &Visit, beside: &Beside<'_>) -> Option<Entry> {
    if visit.asks_isolation(beside.facts) || visit.question().is_some() {
        return None;
    }
    if matches!(visit.stage(), Stage::Front) {
        return match visit.front_phase(beside.facts) {
            Ok(FrontPhase::OtherTouch) => Some(dial_entry(visit, beside)),
            Ok(FrontPhase::ZeroTouch | FrontPhase::Judged(_)) | Err(_) => None,
        };
    }
    asked(visit).map(|place| place_entry(visit, place, beside))
}

/// The place that the stage in hand asks for; the dial of Front is none.
pub fn asked(visit: &Visit) -> Option<Place> {
    match visit.stage() {
        Stage::Receive => visit.receive().asked(),
        Stage::Tape => visit.tape().asked(),
        Stage::Rear => visit.rear().asked(),
        Stage::Prove => visit.prove().asked(),
        _ => setting::asked(visit),
    }
}

fn dial_entry(visit: &Visit, beside: &Beside<'_>) -> Entry {
    let units = beside.settings;
    let (_, other) = visit.zero_and_other_side().unwrap_or((Side::Left, Side::Right));
    let state = visit.front();
    let target =
        visit.taped().and_then(Result::ok).map(|taped| figures::signed(dial_target(taped.target, beside), units));
    Entry {
        serial: 1000 + (state.rounds().len() * 10 + state.readings().len()) as u64,
        asked: Asked::Dial,
        end: end_name(opposite(visit.zero_end())),
        side: side_name(Some(other)),
        unit: figures::sign_of(LengthKind::Fine, units).to_owned(),
        hint: target.unwrap_or_default(),
        field: String::new(),
        signed: true,
        secret: false,
    }
}

/// The target as this grinder's dial shows it: `tape` gives it in diameter.
fn dial_target(in_diameter: Length, beside: &Beside<'_>) -> Length {
    match beside.facts.grinder.dial {
        DialKind::Diameter => in_diameter,
        DialKind::Radius => in_diameter / 2.0,
    }
}

fn place_entry(visit: &Visit, place: Place, beside: &Beside<'_>) -> Entry {
    let units = beside.settings;
    let (asked, kind) = match place {
        Place::Lead | Place::Trail | Place::Centre => (Asked::Diameter, LengthKind::Size),
        Place::Land => (Asked::Land, LengthKind::Size),
        Place::HeightOfCut => (Asked::HeightOfCut, LengthKind::Size),
        Place::RearLeft | Place::RearRight => (Asked::Indicator, LengthKind::Fine),
        _ => (Asked::TypeField, words::kind_of(Some(place))),
    };
    let rounds = visit.rear().rounds().len() as u64
        + visit.height().rounds().len() as u64
        + u64::from(visit.plate().again())
        + u64::from(visit.height().again())
        + u64::from(visit.relief().stood_still());
    let unit = match place {
        Place::TopAngle | Place::FrontAngle => "°",
        Place::Minutes => "min",
        Place::Grit => "",
        _ => figures::sign_of(kind, units),
    };
    Entry {
        serial: visit.stage_name() as u64 * 100 + place as u64 + rounds * 10_000,
        asked,
        end: place_end(place),
        side: place_side(visit, place),
        unit: unit.to_owned(),
        hint: last_value(visit, place, beside).unwrap_or_default(),
        field: if asked == Asked::TypeField { words::place_label(place, beside.settings) } else { String::new() },
        signed: asked == Asked::Indicator,
        secret: false,
    }
}

/// What it was the last time, to compare with while typing.
fn last_value(visit: &Visit, place: Place, beside: &Beside<'_>) -> Option<String> {
    let units = beside.settings;
    let work: Option<&Work> = visit.unit().last.as_ref();
    let reading = match (visit.stage_name(), place) {
        (StageName::Prove, Place::Lead | Place::Trail | Place::Centre) => visit.tape().reading(place),
        (_, Place::Lead) => work.map(|work| work.lead),
        (_, Place::Trail) => work.map(|work| work.trail),
        (_, Place::Land) => work.and_then(|work| work.land),
        (_, Place::HeightOfCut) => work.and_then(|work| work.height_of_cut),
        (StageName::Height, Place::HeightLeft | Place::HeightRight) => visit.height_wanted(),
        (StageName::Check, Place::HeightLeft | Place::HeightRight) => visit.height_wanted(),
        (StageName::Finger | StageName::Check, Place::LandLead | Place::LandTrail) => work.and_then(|work| work.land),
        _ => None,
    }?;
    Some(figures::reading(reading, LengthKind::Size, units))
}

fn place_end(place: Place) -> EndName {
    match place {
        Place::Lead => EndName::Leading,
        Place::Trail => EndName::Trailing,
        _ => EndName::Centre,
    }
}

fn place_side(visit: &Visit, place: Place) -> SideName {
    match place {
        Place::Lead => side_name(visit.side_of(End::Lead)),
        Place::Trail => side_name(visit.side_of(End::Trail)),
        Place::RearLeft => SideName::Left,
        Place::RearRight => SideName::Right,
        _ => SideName::Middle,
    }
}

const fn opposite(end: End) -> End {
    match end {
        End::Lead => End::Trail,
        End::Trail => End::Lead,
    }
}

const fn end_name(end: End) -> EndName {
    match end {
        End::Lead => EndName::Leading,
        End::Trail => EndName::Trailing,
    }
}

const fn side_name(side: Option<Side>) -> SideName {
    match side {
        Some(Side::Left) => SideName::Left,
        Some(Side::Right) => SideName::Right,
        None => SideName::Middle,
    }
}
