//! The wheel's record and the lockout as their screens show them.

use super::figures;
use crate::locale::Manner;
use crate::screen::{FieldRow, LockPhase, LockoutCard, Settings, WheelCard, WheelState};
use crate::words::{self, WheelLine};
use sparkout_core::calc::wheel::{WheelInput, WheelVerdict, wheel};
use sparkout_core::facts::BenchFacts;
use sparkout_core::lockout::{Lockout, Lockouts};
use sparkout_core::quantity::Length;
use sparkout_core::reading::{LengthKind, Units};
use sparkout_core::record::Wheel;
use sparkout_core::visit::gate::{Block, blocks};
use sparkout_core::wheel::{PastWheel, WheelRules, smallest_useful};

/// Wheels before this one that fit under its record.
const BEFORE_MOST: usize = 2;

/// The wheel's record.
pub fn wheel_card(facts: &BenchFacts, past: &[PastWheel], rules: &WheelRules, settings: Settings) -> WheelCard {
    let Some(mounted) = &facts.wheel else {
        let missing = vec![words::block(&Block::NoWheel, settings)];
        return WheelCard {
            missing,
            locked: facts.locked_dead(),
            before: before(past, settings),
            ..WheelCard::default()
        };
    };
    let about_wheel: Vec<Block> = blocks(facts).into_iter().filter(is_about_wheel).collect();
    let (smallest, by) = smallest_useful(facts.grinder.spindle_speed, rules);
    let size = |length: Length| figures::plain(length, LengthKind::Size, settings);
    let worn = mounted.diameter.length() < smallest;
    let mut card = WheelCard {
        state: match (about_wheel.is_empty(), worn) {
            (false, _) => WheelState::Incomplete,
            (true, true) => WheelState::Worn,
            (true, false) => WheelState::Complete,
        },
        description: mounted
            .mounted
            .as_ref()
            .map_or_else(|| words::wheel_undescribed(settings), |mounted| mounted.description.clone()),
        missing: about_wheel.iter().map(|found| words::block(found, settings)).collect(),
        diameter: size(mounted.diameter.length()),
        unit: figures::sign_of(LengthKind::Size, settings).to_owned(),
        diameter_foot: mounted.mounted.as_ref().map_or_else(String::new, |since| {
            words::wheel_mounted_at(&figures::with_unit(since.diameter.length(), LengthKind::Size, settings), settings)
        }),
        smallest: size(smallest),
        smallest_foot: words::smallest_by(by, settings),
        lines: lines(mounted, settings),
        before: before(past, settings),
        locked: facts.locked_dead(),
        ..WheelCard::default()
    };
    speeds(&mut card, mounted, facts, settings);
    card
}

const fn is_about_wheel(block: &Block) -> bool {
    matches!(
        block,
        Block::NoWheel
            | Block::NotLookedOver
            | Block::NotInspected
            | Block::NoRingTest
            | Block::NoRatedSpeed
            | Block::Overspeed { .. }
    )
}

fn lines(mounted: &Wheel, settings: Settings) -> Vec<FieldRow> {
    let line = |line: WheelLine, value: String| FieldRow {
        label: words::wheel_line(line, settings),
        value: if value.is_empty() { "–".to_owned() } else { value },
        now: false,
    };
    let by_on = |by: &str, on| format!("{by} · {}", figures::date(on, settings));
    vec![
        line(WheelLine::Mounted, mounted.mounted.as_ref().map_or_else(String::new, |since| by_on(&since.by, since.on))),
        line(WheelLine::Inspected, words::wheel_inspected(mounted.inspected, settings)),
        line(WheelLine::RingTest, words::ring_test(&mounted.ring_test, settings)),
        line(
            WheelLine::LookedOver,
            mounted.looked_over.as_ref().map_or_else(String::new, |look| by_on(&look.initials, look.on)),
        ),
        line(WheelLine::Measured, mounted.measured.as_ref().map_or_else(String::new, |last| by_on(&last.by, last.on))),
    ]
}

fn before(past: &[PastWheel], settings: Settings) -> Vec<String> {
    past.iter().rev().take(BEFORE_MOST).map(|past| words::past_wheel(past, settings)).collect()
}

fn speeds(card: &mut WheelCard, mounted: &Wheel, facts: &BenchFacts, settings: Settings) {
    let (spindle, Some(rated)) = (facts.grinder.spindle_speed, mounted.rated_speed) else { return };
    let input =
        WheelInput { diameter: mounted.diameter.length(), spindle_speed: spindle, rated_speed: rated, reel: None };
    let Ok(speed) = wheel(&input) else { return };
    let manner = Manner::from(settings);
    (card.speed, card.speed_unit) = match manner.units {
        Units::Inch | Units::Thou => (figures::grouped(speed.surface_speed.feet_per_minute()), "ft/min".to_owned()),
        Units::Metric => (figures::number(speed.surface_speed.metres_per_second(), 1, settings), "m/s".to_owned()),
    };
    card.rpm = format!("{} / {}", figures::grouped(spindle.rpm()), figures::grouped(rated.rpm()));
    card.margin_percent = figures::grouped(speed.margin.value() * 100.0);
    card.within_rating = speed.verdict == WheelVerdict::WithinRating;
}

/// The lockout, for whoever stands at the bench.
pub fn lockout_card(
    facts: &BenchFacts,
    lockouts: &Lockouts,
    comes_off: bool,
    time_of_day: &dyn Fn(jiff::Timestamp) -> String,
    settings: Settings,
) -> LockoutCard {
    let operator = facts.operator.as_ref();
    let signed_on = operator.is_some();
    if let Some(release) = operator.and_then(|operator| lockouts.to_tell(operator)) {
        return LockoutCard {
            phase: LockPhase::Told,
            number: release.padlock.number.clone(),
            owner: release.padlock.by.clone(),
            to: release.padlock.to.clone(),
            since: time_of_day(release.at),
            own: true,
            signed_on,
            told: words::lock_was_taken_off(release, settings),
            ..LockoutCard::default()
        };
    }
    let Some(open) = lockouts.open() else { return LockoutCard { signed_on, ..LockoutCard::default() } };
    let padlock = open.padlock();
    let own = operator.is_some_and(|operator| open.is_of(operator));
    LockoutCard {
        phase: match open {
            _ if own && comes_off => LockPhase::Off,
            Lockout::Applied(_) => LockPhase::Applied,
            Lockout::Tried(_) => LockPhase::Tried,
            Lockout::Dead(_) => LockPhase::Dead,
        },
        number: padlock.number.clone(),
        owner: padlock.by.clone(),
        to: padlock.to.clone(),
        since: time_of_day(padlock.on),
        own,
        may_force: !own && operator.is_some_and(|operator| operator.lead),
        signed_on,
        told: String::new(),
    }
}
