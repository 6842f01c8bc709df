//! The shop's records as the kiosk holds them: derived from the journal, written beside it, read back at the start.

use crate::store::{DerivedWrite, PinHash, Record as Disk, StoreError};
use serde::Serialize;
use serde::de::DeserializeOwned;
use sparkout_core::entry::Record;
use sparkout_core::exposure::{DayGround, Stretch};
use sparkout_core::facts::PriorAcknowledgement;
use sparkout_core::health::spot::SpotCheck;
use sparkout_core::lockout::Lockouts;
use sparkout_core::pin::PinGuard;
use sparkout_core::record::{Grinder, Mower, Operator, Service, Unit, UnitStatus, UnitType, Wheel, Work};
use sparkout_core::setting::{Setting, SettingValue};
use sparkout_core::wheel::PastWheel;
use std::collections::BTreeMap;

/// The shop's records.
#[derive(Debug, Clone, Default)]
pub struct Shop {
    /// Unit types by name.
    pub types: BTreeMap<String, UnitType>,
    /// Cutting units by tag.
    pub units: BTreeMap<String, Unit>,
    /// Mowers by name.
    pub mowers: BTreeMap<String, Mower>,
    /// Operators by badge.
    pub operators: BTreeMap<String, Operator>,
    /// The grinder at this bench.
    pub grinder: Option<Grinder>,
    /// The wheel mounted on it.
    pub wheel: Option<Wheel>,
    /// Items of the gate acknowledged before that may still count.
    pub acknowledged: Vec<PriorAcknowledgement>,
    /// Visits that are not over, by name, in the order they were opened.
    pub open_visits: Vec<OpenVisitCard>,
    /// The check with the master bar that is not over, by its name in the journal.
    pub open_check: Option<String>,
    /// The last spot checks from the surface plate, oldest first.
    pub spot_checks: Vec<SpotCheck>,
    /// Counts the changes taken, so that what is worked out from the records need not be worked out twice.
    pub revision: u64,
    /// What a lead has put over the configuration.
    pub settings: BTreeMap<Setting, SettingValue>,
    /// How long each badge has ground on its last day of grinding.
    pub ground: BTreeMap<String, DayGround>,
    /// Badges with wrong PINs or a lock.
    pub pin_guards: BTreeMap<String, PinGuard>,
    /// The open lockout, and who is still to be told of one.
    pub lockouts: Lockouts,
    /// Wheels that came off, oldest first.
    pub past_wheels: Vec<PastWheel>,
}

/// A visit that is not over, as the kiosk finds it again at the start.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
pub struct OpenVisitCard {
    /// Its name in the journal.
    pub visit: String,
    /// Its unit.
    pub tag: String,
}

/// One change of the shop's records, as it follows from an entry.
#[derive(Debug, Clone)]
#[allow(clippy::large_enum_variant, reason = "made one at a time and taken at once")]
pub enum Change {
    /// A type was made or changed.
    Type(UnitType),
    /// A unit was made or changed.
    Unit(Unit),
    /// A mower was made or changed.
    Mower(Mower),
    /// An operator was made or changed.
    Operator(Operator),
    /// The grinder's record changed.
    Grinder(Grinder),
    /// A wheel was mounted, or its record changed.
    Wheel(Wheel),
    /// An item of the gate was acknowledged.
    Acknowledged(PriorAcknowledgement),
    /// A visit opened.
    Opened(OpenVisitCard),
    /// A visit is over.
    Closed(String),
    /// A check with the master bar began.
    CheckOpened(String),
    /// It is over.
    CheckOver,
    /// A spot check was made.
    SpotChecked(SpotCheck),
    /// A lead changed a setting.
    Setting(Setting, SettingValue),
    /// A stretch of grinding under power is over.
    Ground(Stretch),
    /// A badge's tries and lock changed.
    PinGuard(String, PinGuard),
    /// What its PIN is compared with changed, or was taken away.
    PinHash(String, Option<PinHash>),
    /// The lockouts changed.
    Lockouts(Lockouts),
    /// What is on the spindle changed.
    WheelNow(Option<Wheel>),
    /// A wheel came off.
    WheelOff(PastWheel),
}

/// At most so many earlier acknowledgements are looked at: more than a shift can make.
const ACKNOWLEDGED_MOST: usize = 64;

/// Spot checks that are kept at hand: more than a chart looks back over.
const SPOTS_MOST: usize = 200;

/// Wheels that came off and are kept at hand: some years of them.
const PAST_WHEELS_MOST: usize = 50;

const TYPE: &str = "type";
/// What kind of derived record a unit's card is.
pub const UNIT: &str = "unit";
const MOWER: &str = "mower";
const OPERATOR: &str = "operator";
const BENCH: &str = "bench";
const GROUND: &str = "ground";
const PIN_GUARD: &str = "pin_guard";
/// What kind of derived record a visit that is not over is.
pub const OPEN_VISIT: &str = "open_visit";

impl Shop {
    /// Reads the records back.
    ///
    /// # Errors
    /// When the disk cannot be read, or a record is not as this version writes it.
    pub fn load(disk: &dyn Disk) -> Result<Self, StoreError> {
        let mut shop = Self {
            types: all(disk, TYPE)?,
            units: all(disk, UNIT)?,
            mowers: all(disk, MOWER)?,
            operators: all(disk, OPERATOR)?,
            grinder: one(disk, "grinder")?,
            wheel: one(disk, "wheel")?,
            acknowledged: one(disk, "acknowledged")?.unwrap_or_default(),
            open_visits: all::<OpenVisitCard>(disk, OPEN_VISIT)?.into_values().collect(),
            open_check: one(disk, "open_check")?,
            spot_checks: one(disk, "spot_checks")?.unwrap_or_default(),
            revision: 0,
            settings: one(disk, "settings")?.unwrap_or_default(),
            ground: all(disk, GROUND)?,
            pin_guards: all(disk, PIN_GUARD)?,
            lockouts: one(disk, "lockouts")?.unwrap_or_default(),
            past_wheels: one(disk, "past_wheels")?.unwrap_or_default(),
        };
        shop.open_visits.sort_by(|one, other| one.visit.cmp(&other.visit));
        Ok(shop)
    }

    /// What a record in the journal changes.
    pub fn changes_of(&self, record: &Record) -> Vec<Change> {
        match record {
            Record::Type { unit_type } => vec![Change::Type(unit_type.clone())],
            Record::Unit { unit } => vec![Change::Unit(unit.clone())],
            Record::Mower { mower } => vec![Change::Mower(mower.clone())],
            Record::Operator { operator } => vec![Change::Operator(operator.clone())],
            Record::Grinder { grinder } => vec![Change::Grinder(grinder.clone())],
            Record::Wheel { wheel } => vec![Change::Wheel(wheel.clone())],
            Record::OlderWork { tag, work } => self.with_work(tag, work, None),
        }
    }

    /// A unit's card with one more piece of work, or with the same visit's work corrected.
    pub fn with_work(&self, tag: &str, work: &Work, status: Option<UnitStatus>) -> Vec<Change> {
        let Some(unit) = self.units.get(tag) else { return Vec::new() };
        let mut unit = unit.clone();
        unit.history.retain(|known| known.visit.is_none() || known.visit != work.visit);
        unit.history.push(work.clone());
        unit.history.sort_by_key(|work| work.date);
        if let Some(status) = status {
            unit.status = status;
        }
        vec![Change::Unit(unit)]
    }

    /// A unit's card with one more service, or with the same visit's service corrected.
    pub fn with_service(&self, tag: &str, service: &Service, status: Option<UnitStatus>) -> Vec<Change> {
        let Some(unit) = self.units.get(tag) else { return Vec::new() };
        let mut unit = unit.clone();
        unit.services.retain(|known| known.visit != service.visit);
        unit.services.push(service.clone());
        if let Some(status) = status {
            unit.status = status;
        }
        vec![Change::Unit(unit)]
    }

    /// A unit's card with another status.
    pub fn with_status(&self, tag: &str, status: UnitStatus) -> Vec<Change> {
        self.units.get(tag).map_or_else(Vec::new, |unit| vec![Change::Unit(Unit { status, ..unit.clone() })])
    }

    /// Takes a change.
    pub fn take(&mut self, change: Change) {
        self.revision += 1;
        match change {
            Change::Type(unit_type) => {
                self.types.insert(unit_type.name.clone(), unit_type);
            }
            Change::Unit(unit) => {
                self.units.insert(unit.tag.clone(), unit);
            }
            Change::Mower(mower) => {
                self.mowers.insert(mower.name.clone(), mower);
            }
            Change::Operator(operator) => {
                self.operators.insert(operator.id.clone(), operator);
            }
            Change::Grinder(grinder) => self.grinder = Some(grinder),
            Change::Wheel(wheel) => self.wheel = Some(wheel),
            Change::Acknowledged(prior) => self.acknowledged = self.acknowledged_with(&prior),
            Change::Opened(card) => self.open_visits.push(card),
            Change::Closed(visit) => self.open_visits.retain(|card| card.visit != visit),
            Change::CheckOpened(check) => self.open_check = Some(check),
            Change::CheckOver => self.open_check = None,
            Change::SpotChecked(spot) => self.spot_checks = self.spots_with(&spot),
            Change::Setting(setting, value) => {
                self.settings.insert(setting, value);
            }
            Change::Ground(stretch) => {
                let day = self.ground_with(&stretch);
                self.ground.insert(stretch.operator, day);
            }
            Change::PinGuard(badge, guard) if guard.is_clear() => drop(self.pin_guards.remove(&badge)),
            Change::PinGuard(badge, guard) => drop(self.pin_guards.insert(badge, guard)),
            // It is read where a PIN is checked, and nowhere else.
            Change::PinHash(..) => {}
            Change::Lockouts(lockouts) => self.lockouts = lockouts,
            Change::WheelNow(wheel) => self.wheel = wheel,
            Change::WheelOff(past) => self.past_wheels = self.past_wheels_with(&past),
        }
    }

    fn ground_with(&self, stretch: &Stretch) -> DayGround {
        DayGround::with(self.ground.get(&stretch.operator).copied(), stretch)
    }

    fn past_wheels_with(&self, past: &PastWheel) -> Vec<PastWheel> {
        let mut all = self.past_wheels.clone();
        all.push(past.clone());
        let extra = all.len().saturating_sub(PAST_WHEELS_MOST);
        all.split_off(extra)
    }

    fn acknowledged_with(&self, prior: &PriorAcknowledgement) -> Vec<PriorAcknowledgement> {
        let mut all: Vec<_> = self.acknowledged.iter().filter(|known| *known != prior).cloned().collect();
        all.push(prior.clone());
        let extra = all.len().saturating_sub(ACKNOWLEDGED_MOST);
        all.split_off(extra)
    }

    fn spots_with(&self, spot: &SpotCheck) -> Vec<SpotCheck> {
        let mut all = self.spot_checks.clone();
        all.push(spot.clone());
        let extra = all.len().saturating_sub(SPOTS_MOST);
        all.split_off(extra)
    }

    /// The change as it is written beside the journal.
    ///
    /// # Errors
    /// When a record cannot be put into words, which would be a fault of ours.
    pub fn derived(&self, change: &Change) -> Result<DerivedWrite, serde_json::Error> {
        Ok(match change {
            Change::Type(unit_type) => put(TYPE, &unit_type.name, unit_type)?,
            Change::Unit(unit) => put(UNIT, &unit.tag, unit)?,
            Change::Mower(mower) => put(MOWER, &mower.name, mower)?,
            Change::Operator(operator) => put(OPERATOR, &operator.id, operator)?,
            Change::Grinder(grinder) => put(BENCH, "grinder", grinder)?,
            Change::Wheel(wheel) => put(BENCH, "wheel", wheel)?,
            Change::Acknowledged(prior) => put(BENCH, "acknowledged", &self.acknowledged_with(prior))?,
            Change::Opened(card) => put(OPEN_VISIT, &card.visit, card)?,
            Change::Closed(visit) => DerivedWrite::Remove { kind: OPEN_VISIT.to_owned(), key: visit.clone() },
            Change::CheckOpened(check) => put(BENCH, "open_check", check)?,
            Change::CheckOver => DerivedWrite::Remove { kind: BENCH.to_owned(), key: "open_check".to_owned() },
            Change::SpotChecked(spot) => put(BENCH, "spot_checks", &self.spots_with(spot))?,
            Change::Setting(setting, value) => {
                let mut settings = self.settings.clone();
                settings.insert(*setting, *value);
                put(BENCH, "settings", &settings)?
            }
            Change::Ground(stretch) => put(GROUND, &stretch.operator, &self.ground_with(stretch))?,
            Change::PinGuard(badge, guard) if guard.is_clear() => {
                DerivedWrite::Remove { kind: PIN_GUARD.to_owned(), key: badge.clone() }
            }
            Change::PinGuard(badge, guard) => put(PIN_GUARD, badge, guard)?,
            Change::PinHash(badge, hash) => DerivedWrite::Pin { badge: badge.clone(), hash: hash.clone() },
            Change::Lockouts(lockouts) => put(BENCH, "lockouts", lockouts)?,
            Change::WheelNow(Some(wheel)) => put(BENCH, "wheel", wheel)?,
            Change::WheelNow(None) => DerivedWrite::Remove { kind: BENCH.to_owned(), key: "wheel".to_owned() },
            Change::WheelOff(past) => put(BENCH, "past_wheels", &self.past_wheels_with(past))?,
        })
    }
}

fn put(kind: &str, key: &str, value: &impl Serialize) -> Result<DerivedWrite, serde_json::Error> {
    Ok(DerivedWrite::Put { kind: kind.to_owned(), key: key.to_owned(), body: serde_json::to_string(value)? })
}

fn all<T: DeserializeOwned>(disk: &dyn Disk, kind: &str) -> Result<BTreeMap<String, T>, StoreError> {
    let mut found = BTreeMap::new();
    for (key, body) in disk.derived_all(kind)? {
        let value = serde_json::from_str(&body).map_err(|error| not_understood(kind, &key, &error))?;
        found.insert(key, value);
    }
    Ok(found)
}

fn one<T: DeserializeOwned>(disk: &dyn Disk, key: &str) -> Result<Option<T>, StoreError> {
    disk.derived(BENCH, key)?
        .map(|body| serde_json::from_str(&body).map_err(|error| not_understood(BENCH, key, &error)))
        .transpose()
}

fn not_understood(kind: &str, key: &str, error: &serde_json::Error) -> StoreError {
    StoreError::Corrupt { detail: format!("the {kind} record {key:?} is not understood: {error}") }
}
