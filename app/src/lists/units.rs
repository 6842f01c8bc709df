//! Cutting units as a table.

use super::Plan;
use super::table::{BadRow, Column, Row, Table, may_be_missing, needed};
use crate::kiosk::Shop;
use sparkout_core::entry::Record;
use sparkout_core::record::{Mower, Unit, UnitStatus};
use sparkout_core::scan::{self, Scan, ShopCodes};
use std::collections::BTreeMap;

pub(super) const COLUMNS: &[Column] = &[
    needed("tag"),
    needed("type"),
    needed("mower"),
    needed("position"),
    may_be_missing("serial"),
    may_be_missing("status"),
];

const STATUSES: [(UnitStatus, &str); 4] = [
    (UnitStatus::InService, "in_service"),
    (UnitStatus::Ready, "ready"),
    (UnitStatus::Spare, "spare"),
    (UnitStatus::Retired, "retired"),
];

pub(super) fn rows(shop: &Shop) -> Vec<Vec<String>> {
    let status = |unit: &Unit| STATUSES.iter().find(|(status, _)| *status == unit.status).map_or("", |(_, name)| name);
    let position = |unit: &Unit| if unit.position == 0 { String::new() } else { unit.position.to_string() };
    let row = |unit: &Unit| {
        vec![
            unit.tag.clone(),
            unit.type_name.clone(),
            unit.mower.clone(),
            position(unit),
            unit.serial.clone().unwrap_or_default(),
            status(unit).to_owned(),
        ]
    };
    shop.units.values().map(row).collect()
}

pub(super) fn plan(shop: &Shop, table: &Table) -> Plan {
    let mut plan = Plan::default();
    let mut taken: BTreeMap<String, u64> = BTreeMap::new();
    let mut after: BTreeMap<String, (Unit, Option<u64>)> =
        shop.units.iter().map(|(tag, unit)| (tag.clone(), (unit.clone(), None))).collect();
    for row in &table.rows {
        match unit(shop, row) {
            Err(what) => plan.bad.push(BadRow { line: row.line, what }),
            Ok(unit) => match taken.insert(unit.tag.clone(), row.line) {
                Some(first) => {
                    let what = format!("{} stands in line {first} already", unit.tag);
                    plan.bad.push(BadRow { line: row.line, what });
                }
                None => {
                    after.insert(unit.tag.clone(), (unit.clone(), Some(row.line)));
                    plan.row(shop.units.get(&unit.tag), unit, |unit| Record::Unit { unit });
                }
            },
        }
    }
    plan.bad.extend(two_in_one_place(&after));
    plan
}

/// One unit as its row says, over what is on record of it.
fn unit(shop: &Shop, row: &Row) -> Result<Unit, String> {
    let tag = tag(shop, row.text("tag"))?;
    let before = shop.units.get(&tag);
    let type_name = row.text("type").to_owned();
    if !shop.types.contains_key(&type_name) {
        return Err(format!("the type {type_name:?} is not on record; {}", one_of("types", shop.types.keys())));
    }
    let place = place(shop, row.text("mower"), row.text("position"))?;
    let status = match row.cell("status").filter(|cell| !cell.is_empty()) {
        Some(cell) => status(cell)?,
        None => before.map(|unit| unit.status).unwrap_or(match place {
            Some(_) => UnitStatus::InService,
            None => UnitStatus::Spare,
        }),
    };
    check_status(&tag, before, status, place.is_some())?;
    let serial = match row.cell("serial") {
        Some(cell) => Some(cell.to_owned()).filter(|cell| !cell.is_empty()),
        None => before.and_then(|unit| unit.serial.clone()),
    };
    let (mower, position) = place.unwrap_or_default();
    let (history, services) = before.map(|unit| (unit.history.clone(), unit.services.clone())).unwrap_or_default();
    let unit = Unit { tag, type_name, serial, mower, position, status, history, services };
    let is_on_the_bench = shop.open_visits.iter().any(|open| open.tag == unit.tag);
    if is_on_the_bench && before.is_some_and(|before| *before != unit) {
        return Err(format!("{} has a visit open; end the visit, then change its record", unit.tag));
    }
    Ok(unit)
}

/// The text that a scan of the tag will be read as.
fn tag(shop: &Shop, text: &str) -> Result<String, String> {
    // GS1 keys stand in lists with their identifier in brackets, which no scanner sends.
    if shop.units.contains_key(text) {
        return Ok(text.to_owned());
    }
    match scan::parse(text, &ShopCodes::default()) {
        Ok(Scan::Asset(asset)) => Ok(asset.tag()),
        Ok(_) => Err(format!("{text:?} is no tag but another code of this program")),
        Err(refusal) => Err(format!("the tag {text:?} could not be scanned: {refusal}")),
    }
}

fn place(shop: &Shop, mower: &str, position: &str) -> Result<Option<(String, u32)>, String> {
    match (mower, position) {
        ("", "") => return Ok(None),
        ("", _) => return Err("a position without a mower".to_owned()),
        (mower, "") => return Err(format!("{mower}: the position is missing")),
        _ => {}
    }
    let is_meant = |known: &&Mower| known.name == mower || known.code == mower;
    let Some(known) = shop.mowers.values().find(is_meant) else {
        return Err(format!("the mower {mower:?} is not on record; {}", one_of("mowers", shop.mowers.keys())));
    };
    match position.parse::<u32>() {
        Ok(number) if (1..=known.positions).contains(&number) => Ok(Some((known.name.clone(), number))),
        _ => Err(format!("position {position:?} is not on {}, which has 1 to {}", known.name, known.positions)),
    }
}

fn status(cell: &str) -> Result<UnitStatus, String> {
    let found = STATUSES.iter().find(|(_, name)| name.eq_ignore_ascii_case(cell));
    let names = || STATUSES.map(|(_, name)| name).join(", ");
    found.map(|(status, _)| *status).ok_or_else(|| format!("the status is {cell:?}; it must be one of {}", names()))
}

fn check_status(tag: &str, before: Option<&Unit>, status: UnitStatus, has_place: bool) -> Result<(), String> {
    let was_ready = before.is_some_and(|unit| unit.status == UnitStatus::Ready);
    match (status, has_place) {
        (UnitStatus::Ready, _) if !was_ready => {
            Err(format!("{tag} cannot be made ready by a list: that is proved at the bench"))
        }
        (UnitStatus::InService, false) => Err(format!("{tag} is in service, so mower and position are needed")),
        (UnitStatus::Spare, true) => Err(format!("{tag} is spare, so it has no mower and no position")),
        _ => Ok(()),
    }
}

/// Two units cannot sit in one place; only rows of the table are told.
fn two_in_one_place(after: &BTreeMap<String, (Unit, Option<u64>)>) -> Vec<BadRow> {
    let mut seats: BTreeMap<_, Vec<_>> = BTreeMap::new();
    let seated = |unit: &Unit| unit.position > 0 && unit.status != UnitStatus::Retired;
    for (unit, line) in after.values().filter(|(unit, _)| seated(unit)) {
        seats.entry((&unit.mower, unit.position)).or_default().push((&unit.tag, *line));
    }
    let mut bad = Vec::new();
    for ((mower, position), units) in seats {
        for (tag, line) in &units {
            let (Some(line), Some((other, _))) = (*line, units.iter().find(|(other, _)| other != tag)) else {
                continue;
            };
            let what = format!("{tag} on {mower}, position {position}: {other} sits there; move it in the same table");
            bad.push(BadRow { line, what });
        }
    }
    bad
}

fn one_of<'a>(what: &str, names: impl Iterator<Item = &'a String>) -> String {
    let names: Vec<&str> = names.map(String::as_str).collect();
    if names.is_empty() { format!("no {what} are") } else { format!("{what} on record are {}", names.join(", ")) }
}
