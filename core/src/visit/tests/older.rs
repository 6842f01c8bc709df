//! Records and facts as they were written before frames and kinds of visit needed more: they still parse.

use super::bench;
use crate::entry::{Entry, EntryBody, Record};
use crate::facts::BenchFacts;
use crate::record::{TypeSetup, Unit, UnitStatus};
use serde_json::Value;

fn without(value: &mut Value, keys: &[&str]) {
    match value {
        Value::Object(fields) => {
            fields.retain(|key, _| !keys.contains(&key.as_str()));
            fields.values_mut().for_each(|inner| without(inner, keys));
        }
        Value::Array(items) => items.iter_mut().for_each(|inner| without(inner, keys)),
        _ => {}
    }
}

#[test]
fn a_type_without_a_setup_has_the_usual_one() {
    let mut older = serde_json::to_value(bench::unit_type()).unwrap();
    without(&mut older, &["setup"]);
    let read: crate::record::UnitType = serde_json::from_value(older).unwrap();
    assert_eq!((read.setup, &read), (TypeSetup::default(), &bench::unit_type()));
}

#[test]
fn facts_without_what_came_later_have_its_defaults() {
    let mut older = serde_json::to_value(bench::facts()).unwrap();
    without(&mut older, &["shims", "knife", "gauges", "setup", "relief", "work"]);
    let read: BenchFacts = serde_json::from_value(older).unwrap();
    assert_eq!(read, bench::facts());
}

#[test]
fn a_units_card_without_services_has_none() {
    let unit = Unit {
        tag: "Q-114".to_owned(),
        type_name: "Greens 22".to_owned(),
        serial: None,
        mower: "TRIPLEX-2".to_owned(),
        position: 1,
        status: UnitStatus::InService,
        history: vec![bench::last_work()],
        services: Vec::new(),
    };
    let entry = Entry {
        at: bench::moment(1),
        facts: None,
        body: EntryBody::Record { record: Box::new(Record::Unit { unit }) },
    };
    let mut older = serde_json::to_value(&entry).unwrap();
    without(&mut older, &["services"]);
    assert_eq!(serde_json::from_value::<Entry>(older).unwrap(), entry);
}
