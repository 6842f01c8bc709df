//! From a visit to what its screen shows. Pure: everything it needs comes in.

mod clearance;
pub mod figures;
mod front;
mod grind;
mod label;
mod prove;
mod rear;
mod receive;
mod shop;
mod tape;
mod turning;

pub use clearance::{ItemWords, Wording};
pub use shop::{enrol, find, home, mower_picture, place};
pub use turning::{TypeQuestion, type_question};

use crate::screen::{
    Asked, Body, EndName, Entry, Isolation, RailStop, Raster, Settings, SideName, StopName, StopState,
};
use sparkout_core::bench::{DialKind, End};
use sparkout_core::facts::BenchFacts;
use sparkout_core::moment::Moment;
use sparkout_core::quantity::Length;
use sparkout_core::reading::LengthKind;
use sparkout_core::record::{Side, Unit, Work};
use sparkout_core::visit::event::Place;
use sparkout_core::visit::kind::StageName;
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
}

/// The body of the stage in hand.
pub fn body(visit: &Visit, beside: &Beside<'_>) -> Body {
    if visit.asks_isolation(beside.facts) {
        return Body::IsolationAsked(stop_name(visit.stage_name()));
    }
    match visit.stage() {
        Stage::Receive => Body::Receive(receive::receive(visit, beside)),
        Stage::Tape => Body::Tape(tape::tape(visit, beside)),
        Stage::Front => Body::Front(front::front(visit, beside)),
        Stage::Rear => Body::Rear(rear::rear(visit, beside)),
        Stage::Clearance(_) | Stage::Cleared(_) if visit.all_passes_done(beside.facts) => {
            Body::Grind(grind::run_down(visit, beside))
        }
        Stage::Clearance(_) | Stage::Cleared(_) => Body::Clearance(clearance::clearance(visit, beside)),
        Stage::Grind(grind) => Body::Grind(grind::grind(visit, grind, beside)),
        Stage::Prove => Body::Prove(prove::prove(visit, beside)),
        Stage::Label => Body::Label(label::label(visit, beside)),
        Stage::Return | Stage::Closed => Body::Return(label::back(visit, beside)),
    }
}

/// The stops of the visit.
pub fn rail(visit: &Visit) -> Vec<RailStop> {
    let stages = visit.stages();
    let here = stages.iter().position(|stage| *stage == visit.stage_name()).unwrap_or(0);
    let state = |index: usize| match index.cmp(&here) {
        std::cmp::Ordering::Less => StopState::Done,
        std::cmp::Ordering::Equal => StopState::Now,
        std::cmp::Ordering::Greater => StopState::ToCome,
    };
    stages.iter().enumerate().map(|(index, stage)| RailStop { name: stop_name(*stage), state: state(index) }).collect()
}

/// How the power stands, as far as the record knows, with the lock's number.
pub fn isolation(visit: Option<&Visit>, facts: &BenchFacts) -> (Isolation, String) {
    if let Some(lockout) = &facts.lockout {
        return (Isolation::Locked, lockout.lock.clone());
    }
    let state = match visit {
        Some(visit) if matches!(visit.stage(), Stage::Grind(_)) => Isolation::Running,
        // The last pass is made, and nobody has seen both come to rest.
        Some(visit) if matches!(visit.stage(), Stage::Clearance(_)) && visit.all_passes_done(facts) => {
            Isolation::Running
        }
        Some(visit) if visit.stage_name().hands_in() && !visit.asks_isolation(facts) => Isolation::Acknowledged,
        Some(_) | None => Isolation::Unknown,
    };
    (state, String::new())
}

/// The number that is asked for now, if any.
pub fn entry(visit: &Visit, beside: &Beside<'_>) -> Option<Entry> {
    if visit.asks_isolation(beside.facts) || visit.question().is_some() {
        return None;
    }
    match visit.stage() {
        Stage::Tape => visit.tape().asked().map(|place| place_entry(visit, place, beside)),
        Stage::Front => match visit.front_phase(beside.facts) {
            Ok(FrontPhase::OtherTouch) => Some(dial_entry(visit, beside)),
            Ok(FrontPhase::ZeroTouch | FrontPhase::Judged(_)) | Err(_) => None,
        },
        Stage::Rear => visit.rear().asked().map(|place| place_entry(visit, place, beside)),
        Stage::Prove => visit.prove().asked().map(|place| place_entry(visit, place, beside)),
        Stage::Receive
        | Stage::Clearance(_)
        | Stage::Cleared(_)
        | Stage::Grind(_)
        | Stage::Label
        | Stage::Return
        | Stage::Closed => None,
    }
}

fn dial_entry(visit: &Visit, beside: &Beside<'_>) -> Entry {
    let units = beside.settings.units;
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
    let units = beside.settings.units;
    let (asked, kind) = match place {
        Place::Lead | Place::Trail | Place::Centre => (Asked::Diameter, LengthKind::Size),
        Place::Land => (Asked::Land, LengthKind::Size),
        Place::HeightOfCut => (Asked::HeightOfCut, LengthKind::Size),
        Place::RearLeft | Place::RearRight => (Asked::Indicator, LengthKind::Fine),
    };
    let rounds = visit.rear().rounds().len() as u64;
    Entry {
        serial: visit.stage_name() as u64 * 100 + place as u64 + rounds * 10_000,
        asked,
        end: place_end(place),
        side: place_side(visit, place),
        unit: figures::sign_of(kind, units).to_owned(),
        hint: last_value(visit, place, beside).unwrap_or_default(),
        field: String::new(),
        signed: kind == LengthKind::Fine,
    }
}

/// What it was the last time, to compare with while typing.
fn last_value(visit: &Visit, place: Place, beside: &Beside<'_>) -> Option<String> {
    let units = beside.settings.units;
    let work: Option<&Work> = visit.unit().last.as_ref();
    let reading = match (visit.stage_name(), place) {
        (StageName::Prove, Place::Lead | Place::Trail | Place::Centre) => visit.tape().reading(place),
        (_, Place::Lead) => work.map(|work| work.lead),
        (_, Place::Trail) => work.map(|work| work.trail),
        (_, Place::Land) => work.and_then(|work| work.land),
        (_, Place::HeightOfCut) => work.and_then(|work| work.height_of_cut),
        (_, Place::Centre | Place::RearLeft | Place::RearRight) => None,
    }?;
    Some(figures::reading(reading, LengthKind::Size, units))
}

fn place_end(place: Place) -> EndName {
    match place {
        Place::Lead => EndName::Leading,
        Place::Trail => EndName::Trailing,
        Place::Centre | Place::Land | Place::HeightOfCut | Place::RearLeft | Place::RearRight => EndName::Centre,
    }
}

fn place_side(visit: &Visit, place: Place) -> SideName {
    match place {
        Place::Lead => side_name(visit.side_of(End::Lead)),
        Place::Trail => side_name(visit.side_of(End::Trail)),
        Place::RearLeft => SideName::Left,
        Place::RearRight => SideName::Right,
        Place::Centre | Place::Land | Place::HeightOfCut => SideName::Middle,
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

/// A stage's stop on the rail.
pub const fn stop_name(stage: StageName) -> StopName {
    match stage {
        StageName::Receive => StopName::Receive,
        StageName::Tape => StopName::Tape,
        StageName::Front => StopName::Front,
        StageName::Rear => StopName::Rear,
        StageName::Clearance => StopName::Clearance,
        StageName::Grind => StopName::Grind,
        StageName::Prove => StopName::Prove,
        StageName::Label => StopName::Label,
        StageName::Return => StopName::Return,
    }
}
