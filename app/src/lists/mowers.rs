//! Mowers as a table.

use super::Plan;
use super::table::{BadRow, Column, Row, Table, needed};
use crate::kiosk::Shop;
use sparkout_core::entry::Record;
use sparkout_core::record::{Mower, UnitStatus};
use sparkout_core::scan::{MowerCode, POSITIONS_MOST};
use std::collections::BTreeMap;

pub(super) const COLUMNS: &[Column] = &[needed("code"), needed("name"), needed("positions")];

pub(super) fn rows(shop: &Shop) -> Vec<Vec<String>> {
    let row = |mower: &Mower| vec![mower.code.clone(), mower.name.clone(), mower.positions.to_string()];
    shop.mowers.values().map(row).collect()
}

pub(super) fn plan(shop: &Shop, table: &Table) -> Plan {
    let mut plan = Plan::default();
    let mut names: BTreeMap<String, u64> = BTreeMap::new();
    let mut codes: BTreeMap<String, u64> = BTreeMap::new();
    for row in &table.rows {
        let mower = match mower(shop, row) {
            Ok(mower) => mower,
            Err(what) => {
                plan.bad.push(BadRow { line: row.line, what });
                continue;
            }
        };
        let twice = names.insert(mower.name.clone(), row.line).or(codes.insert(mower.code.clone(), row.line));
        match twice {
            Some(first) => {
                let what = format!("{} ({}) stands in line {first} already", mower.name, mower.code);
                plan.bad.push(BadRow { line: row.line, what });
            }
            None => plan.row(shop.mowers.get(&mower.name), mower, |mower| Record::Mower { mower }),
        }
    }
    plan
}

fn mower(shop: &Shop, row: &Row) -> Result<Mower, String> {
    let (code, name, positions) = (row.text("code"), row.text("name"), row.text("positions"));
    let code = MowerCode::new(code).map_err(|error| format!("the code {code:?}: {error}"))?.as_str().to_owned();
    if name.is_empty() {
        return Err("the name is missing".to_owned());
    }
    let most = u32::from(POSITIONS_MOST);
    let positions = positions.parse::<u32>().ok().filter(|count| (1..=most).contains(count));
    let positions = positions.ok_or_else(|| format!("{name}: positions must be 1 to {most}"))?;
    if let Some(other) = shop.mowers.values().find(|known| known.code == code && known.name != name) {
        return Err(format!("the code {code} is that of {}; each mower has its own", other.name));
    }
    let beyond = |unit: &&sparkout_core::record::Unit| {
        unit.mower == name && unit.position > positions && unit.status != UnitStatus::Retired
    };
    if let Some(unit) = shop.units.values().find(beyond) {
        return Err(format!("{name} has {} on position {}; move it before the positions go", unit.tag, unit.position));
    }
    Ok(Mower { code, name: name.to_owned(), positions })
}
