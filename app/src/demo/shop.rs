//! The invented shop: a dozen units on three mowers, two operators, one grinder, two seasons of history.
//!
//! Everything in it is made up. Wear follows a simple rule per unit, so that plots and forecasts have something to show.

use super::frames;
use crate::kiosk::{Shop, write_records};
use crate::store;
use anyhow::Context;
use jiff::ToSpan;
use jiff::civil::Date;
use sparkout_core::bench::{DialKind, FrameKind, LimitBasis};
use sparkout_core::calc::adjuster::AdjusterKind;
use sparkout_core::entry::Record;
use sparkout_core::moment::Moment;
use sparkout_core::quantity::{Angle, Length, Mass, SpindleSpeed};
use sparkout_core::reading::{EntryUnit, Reading};
use sparkout_core::record::{
    Adjuster, AdjusterPair, Grinder, Hand, Lesson, Mounted, Mower, Operator, RingTest, SeenFrom, Side, TypeSetup, Unit,
    UnitStatus, UnitType, Wheel, Work,
};
use sparkout_core::scan::BadgeId;
use std::path::Path;

/// The unit that the walk and the help talk about.
pub const FIRST_TAG: &str = "Q-114";

/// Sets the shop up in a folder; a folder that has a journal already is left as it is.
///
/// # Errors
/// When the folder cannot be written, in words.
pub fn set_up(folder: &Path, at: jiff::Timestamp) -> anyhow::Result<()> {
    set_up_with(folder, at, |_| Ok(()))
}

/// The same, with its records changed before they are written.
///
/// # Errors
/// When the folder cannot be written or the records cannot be changed, in words.
pub fn set_up_with(
    folder: &Path,
    at: jiff::Timestamp,
    change: impl FnOnce(&mut Vec<Record>) -> anyhow::Result<()>,
) -> anyhow::Result<()> {
    std::fs::create_dir_all(folder).with_context(|| format!("{} cannot be made", folder.display()))?;
    let mut disk =
        store::open(folder).with_context(|| format!("the journal in {} cannot be opened", folder.display()))?;
    if store::Record::head(&disk)?.size > 0 {
        return Ok(());
    }
    let moment = Moment { wall: at, monotonic_ms: 0, boot: "set-up".to_owned() };
    let mut records = records_of(at)?;
    change(&mut records)?;
    write_records(&mut disk, &mut Shop::default(), &moment, records)?;
    Ok(())
}

/// The invented shop's records at a time.
///
/// # Errors
/// When a date falls out of the calendar, in words.
pub fn records_of(at: jiff::Timestamp) -> anyhow::Result<Vec<Record>> {
    records(at.to_zoned_datetime(jiff::tz::TimeZone::UTC).date())
}

/// What a person can scan or type in the invented shop.
pub fn what_to_scan() -> String {
    let badge = |id: &str| BadgeId::new(id).map(|badge| badge.code()).unwrap_or_default();
    format!(
        "Scan, or type quickly and press Enter:\n  a badge   {} (Ines Barro, lead) or {} (Otto Hale)\n  a unit    \
         {FIRST_TAG}, Q-111 to Q-115, G-301 to G-303, F-201 to F-204, O-401 to O-404\n  unknown   Z-900, to enrol it",
        badge("1042"),
        badge("1077"),
    )
}

pub(super) fn inch(text: &str) -> anyhow::Result<Reading> {
    Reading::parse(text, EntryUnit::Inch).with_context(|| format!("{text} in the invented shop"))
}

fn records(today: Date) -> anyhow::Result<Vec<Record>> {
    let mut records = vec![
        Record::Type { unit_type: fairway_type()? },
        Record::Type { unit_type: greens_type()? },
        Record::Type { unit_type: approach_type()? },
    ];
    records.extend(frames::types()?.into_iter().map(|unit_type| Record::Type { unit_type }));
    for (name, code, positions) in
        [("Fairway 3", "FW3", 5), ("Greens 1", "GR1", 3), ("Approach 2", "AP2", 4), (frames::MOWER, "OD4", 4)]
    {
        records.push(Record::Mower { mower: Mower { code: code.to_owned(), name: name.to_owned(), positions } });
    }
    for (id, name, initials, lead) in [("1042", "Ines Barro", "IB", true), ("1077", "Otto Hale", "OH", false)] {
        records.push(Record::Operator {
            operator: Operator {
                id: id.to_owned(),
                name: name.to_owned(),
                initials: initials.to_owned(),
                trained: true,
                lead,
            },
        });
    }
    records.push(Record::Grinder { grinder: grinder(today)? });
    records.push(Record::Wheel { wheel: wheel(today)? });
    let fleets = [
        ("Q-11", 1, 5, "Fairway 3", "Fairway type B", "5.150"),
        ("G-30", 1, 3, "Greens 1", "Greens type A", "4.960"),
        ("F-20", 1, 4, "Approach 2", "Approach type C", "6.940"),
    ];
    for ((prefix, first, count, mower, type_name, new), fleet) in fleets.into_iter().zip([0, 5, 8]) {
        for position in first..first + count {
            let unit = unit(&format!("{prefix}{position}"), type_name, mower, position);
            let works = history(inch(new)?, position, fleet, today);
            let tag = unit.tag.clone();
            records.push(Record::Unit { unit });
            records.extend(works.into_iter().map(|work| Record::OlderWork { tag: tag.clone(), work }));
        }
    }
    for (tag, type_name, position, new) in frames::UNITS {
        records.push(Record::Unit { unit: unit(tag, type_name, frames::MOWER, position) });
        let works = history(inch(new)?, position, 13, today);
        records.extend(works.into_iter().map(|work| Record::OlderWork { tag: tag.to_owned(), work }));
    }
    Ok(records)
}

fn unit(tag: &str, type_name: &str, mower: &str, position: u32) -> Unit {
    // The walk's unit sits on position 2, where the drawings have it.
    let position = match (mower, position) {
        ("Fairway 3", 4) => 2,
        ("Fairway 3", 2) => 4,
        (_, position) => position,
    };
    Unit {
        tag: tag.to_owned(),
        type_name: type_name.to_owned(),
        serial: None,
        mower: mower.to_owned(),
        position,
        status: UnitStatus::InService,
        history: Vec::new(),
        services: Vec::new(),
    }
}

/// Every six weeks of two seasons, each grind taking off about a hundredth of an inch.
fn history(new: Reading, position: u32, fleet: i64, today: Date) -> Vec<Work> {
    const THOU_NANOMETRES: i64 = 25_400;
    let seat = i64::from(position);
    let mut works = Vec::new();
    let mut diameter = new.nanometres() - (5 + 4 * seat) * THOU_NANOMETRES;
    for grind in 0..10_i64 {
        let weeks_ago = 6 * (10 - grind) + if grind < 5 { 22 } else { 0 };
        let Ok(date) = today.checked_sub(weeks_ago.weeks()) else { continue };
        let cone = (4 + (grind * 3 + seat) % 5) * THOU_NANOMETRES;
        let worn = diameter - (1 + (grind + seat) % 3) * THOU_NANOMETRES;
        diameter -= (9 + (grind * 7 + seat * 3) % 4) * THOU_NANOMETRES;
        let land = if grind % 4 == 0 { 22 } else { 22 + (grind % 4) * 6 };
        works.push(Work {
            date,
            operator: if (grind + seat) % 3 == 0 { "OH".to_owned() } else { "IB".to_owned() },
            before_lead: Reading::from_nanometres(worn),
            before_trail: Reading::from_nanometres(worn - cone),
            lead: Reading::from_nanometres(diameter),
            trail: Reading::from_nanometres(diameter - (grind % 2) * THOU_NANOMETRES),
            land: Some(Reading::from_nanometres(land * THOU_NANOMETRES)),
            height_of_cut: Some(Reading::from_nanometres(400 * THOU_NANOMETRES)),
            proven: grind % 5 != 3,
            visit: None,
            lesson: if grind == 9 { lesson(seat + fleet) } else { None },
        });
    }
    works
}

/// The last grind of every unit was made on this bench: a first dozen closures, a thousandth either way.
fn lesson(turn: i64) -> Option<Box<Lesson>> {
    const MISCLOSED_THOU: [f64; 12] = [0.4, -0.8, 1.1, -0.3, 0.6, -1.2, 0.2, 0.9, -0.5, -0.9, 0.7, -0.2];
    let index = usize::try_from(turn).ok()? % MISCLOSED_THOU.len();
    Some(Box::new(Lesson {
        grinder: "Bench 1".to_owned(),
        dial: DialKind::Diameter,
        dial_graduation: Reading::from_nanometres(25_400),
        tape: "Tape 1".to_owned(),
        tape_graduation: Reading::from_nanometres(25_400),
        wheel: Some("W-6".to_owned()),
        infeed: None,
        removed: None,
        touches: vec![Reading::from_nanometres(25_400 * (4 + turn))],
        tilt: Some(Length::from_inches(0.000_4)),
        misclosure: Some(Length::from_inches(MISCLOSED_THOU[index] / 1000.0)),
        misclosure_u95: Some(Length::from_inches(0.0015)),
    }))
}

pub(super) fn screw(y: &str, clockwise_raises: Option<bool>) -> anyhow::Result<Adjuster> {
    // 24 threads an inch.
    let kind = AdjusterKind::Screw { pitch: Length::from_inches(1.0 / 24.0) };
    Ok(Adjuster { y: inch(y)?, kind, clockwise_raises, seen_from: SeenFrom::Above })
}

pub(super) fn eccentric(y: &str) -> anyhow::Result<Adjuster> {
    let kind = AdjusterKind::Eccentric { throw: Length::from_inches(0.060), angle: Angle::from_degrees(60.0) };
    Ok(Adjuster { y: inch(y)?, kind, clockwise_raises: Some(true), seen_from: SeenFrom::End })
}

pub(super) fn fairway_type() -> anyhow::Result<UnitType> {
    Ok(UnitType {
        name: "Fairway type B".to_owned(),
        frame: FrameKind::Adjustable,
        blades: 11,
        hand: Some(Hand::Left),
        leading_end_at: Some(Side::Left),
        new_diameter: inch("5.150")?,
        wear_limit: inch("4.500")?,
        limit_basis: LimitBasis::Tape,
        reel_length: inch("22")?,
        blade_thickness: inch("0.220")?,
        relief_angle: Angle::from_degrees(25.0),
        land_limit: inch("0.075")?,
        touch_left: inch("1")?,
        touch_right: inch("21")?,
        front: AdjusterPair { left: screw("-1.5", Some(false))?, right: screw("23.5", Some(false))? },
        rear: AdjusterPair { left: screw("-1", Some(true))?, right: screw("23", Some(true))? },
        rear_reading_span: inch("20")?,
        reel_x: inch("4.5")?,
        wheelbase: inch("11")?,
        jack_y: inch("11")?,
        weight: Some(Mass::from_pounds(88.0)),
        setup: TypeSetup::default(),
    })
}

fn greens_type() -> anyhow::Result<UnitType> {
    Ok(UnitType {
        name: "Greens type A".to_owned(),
        blades: 14,
        hand: Some(Hand::Right),
        leading_end_at: Some(Side::Right),
        new_diameter: inch("4.960")?,
        wear_limit: inch("4.500")?,
        limit_basis: LimitBasis::Caliper,
        front: AdjusterPair { left: eccentric("-1.5")?, right: eccentric("23.5")? },
        weight: Some(Mass::from_pounds(62.0)),
        ..fairway_type()?
    })
}

fn approach_type() -> anyhow::Result<UnitType> {
    Ok(UnitType {
        name: "Approach type C".to_owned(),
        blades: 8,
        hand: None,
        leading_end_at: None,
        new_diameter: inch("6.940")?,
        wear_limit: inch("6.200")?,
        reel_length: inch("26")?,
        touch_right: inch("25")?,
        front: AdjusterPair { left: screw("-1.5", None)?, right: screw("27.5", None)? },
        rear: AdjusterPair { left: screw("-1", None)?, right: screw("27", None)? },
        rear_reading_span: inch("24")?,
        jack_y: inch("13")?,
        weight: None,
        ..fairway_type()?
    })
}

fn grinder(today: Date) -> anyhow::Result<Grinder> {
    Ok(Grinder {
        name: "Bench 1".to_owned(),
        dial: DialKind::Diameter,
        dial_per_turn: inch("0.100")?,
        dial_graduation: inch("0.001")?,
        spindle_speed: SpindleSpeed::from_rpm(3450.0),
        check_due: today.checked_add(95.days())?,
        check_override: None,
        override_until: None,
        last_check: None,
    })
}

fn wheel(today: Date) -> anyhow::Result<Wheel> {
    Ok(Wheel {
        mounting: "W-7".to_owned(),
        diameter: inch("5.5")?,
        rated_speed: Some(SpindleSpeed::from_rpm(4200.0)),
        inspected: true,
        ring_test: RingTest::Clear,
        mounted: Some(Box::new(Mounted {
            description: "60 grit, soft, straight".to_owned(),
            diameter: inch("5.5")?,
            by: "IB".to_owned(),
            on: today.checked_sub(9.days())?,
            lock: "3".to_owned(),
        })),
        looked_over: None,
        measured: None,
    })
}
