//! People as a table. What they know by heart (a PIN) is in no list.

use super::Plan;
use super::table::{BadRow, Column, Row, Table, needed, yes_or_no};
use crate::kiosk::Shop;
use sparkout_core::entry::Record;
use sparkout_core::record::Operator;
use sparkout_core::scan::BadgeId;
use std::collections::BTreeMap;

pub(super) const COLUMNS: &[Column] =
    &[needed("badge"), needed("name"), needed("initials"), needed("trained"), needed("lead")];

/// What a label and the strip have room for.
const INITIALS_MOST: usize = 4;

pub(super) fn rows(shop: &Shop) -> Vec<Vec<String>> {
    let said = |yes: bool| if yes { "yes" } else { "no" }.to_owned();
    let row = |person: &Operator| {
        vec![person.id.clone(), person.name.clone(), person.initials.clone(), said(person.trained), said(person.lead)]
    };
    shop.operators.values().map(row).collect()
}

pub(super) fn plan(shop: &Shop, table: &Table) -> Plan {
    let mut plan = Plan::default();
    let mut after: BTreeMap<String, (Operator, Option<u64>)> =
        shop.operators.iter().map(|(badge, person)| (badge.clone(), (person.clone(), None))).collect();
    for row in &table.rows {
        match operator(row) {
            Err(what) => plan.bad.push(BadRow { line: row.line, what }),
            Ok(person) => {
                let before = after.insert(person.id.clone(), (person.clone(), Some(row.line)));
                match before.and_then(|(_, line)| line) {
                    Some(first) => {
                        let what = format!("badge {} stands in line {first} already", person.id);
                        plan.bad.push(BadRow { line: row.line, what });
                    }
                    None => {
                        plan.row(shop.operators.get(&person.id), person, |operator| Record::Operator { operator });
                    }
                }
            }
        }
    }
    plan.bad.extend(same_initials(&after));
    if !after.is_empty() && !after.values().any(|(person, _)| person.lead) {
        let line = table.rows.last().map_or(1, |row| row.line);
        let what = "nobody would be a lead any more; what only a lead decides could not be decided".to_owned();
        plan.bad.push(BadRow { line, what });
    }
    plan
}

fn operator(row: &Row) -> Result<Operator, String> {
    let (badge, name, initials) = (row.text("badge"), row.text("name"), row.text("initials"));
    let id = BadgeId::new(badge).map_err(|error| format!("the badge {badge:?}: {error}"))?.as_str().to_owned();
    if name.is_empty() {
        return Err(format!("badge {id}: the name is missing"));
    }
    let fits = (1..=INITIALS_MOST).contains(&initials.chars().count());
    if !fits || !initials.chars().all(char::is_alphanumeric) {
        return Err(format!("{name}: initials are 1 to {INITIALS_MOST} letters or digits, not {initials:?}"));
    }
    Ok(Operator {
        id,
        name: name.to_owned(),
        initials: initials.to_uppercase(),
        trained: yes_or_no("trained", row.text("trained"))?,
        lead: yes_or_no("lead", row.text("lead"))?,
    })
}

/// A label says who by initials alone: nobody new gets those of somebody else.
fn same_initials(after: &BTreeMap<String, (Operator, Option<u64>)>) -> Vec<BadRow> {
    let mut bad = Vec::new();
    for (person, line) in after.values() {
        let other = after.values().find(|(other, _)| other.id != person.id && other.initials == person.initials);
        if let (Some(line), Some((other, _))) = (line, other) {
            let what = format!("{} has the initials {} as well as {}", other.name, other.initials, person.name);
            bad.push(BadRow { line: *line, what });
        }
    }
    bad
}
