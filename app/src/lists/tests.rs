//! Lists beside the record of the invented shop.

use super::*;
use crate::demo;
use sparkout_core::record::UnitStatus;

fn shop() -> Shop {
    let mut shop = Shop::default();
    let now = "2026-11-25T08:00:00Z".parse().unwrap();
    for record in demo::records_of(now).unwrap() {
        for change in shop.changes_of(&record) {
            shop.take(change);
        }
    }
    shop
}

fn plan(list: List, text: &str) -> Plan {
    let table = Table::read(text.as_bytes(), list.columns()).unwrap();
    list.plan(&shop(), &table)
}

fn bad(list: List, rows: &str) -> Vec<String> {
    let heads: Vec<&str> = list.columns().iter().map(|column| column.name).collect();
    let plan = plan(list, &format!("{}\n{rows}", heads.join(",")));
    plan.bad.into_iter().map(|row| format!("{}: {}", row.line, row.what)).collect()
}

#[test]
fn what_goes_out_comes_in_as_it_was() {
    let shop = shop();
    for list in [List::Units, List::Mowers, List::Operators] {
        let rows = list.rows(&shop);
        let text = table::written(list.columns(), &rows).unwrap();
        let plan = list.plan(&shop, &Table::read(text.as_bytes(), list.columns()).unwrap());
        assert!(plan.bad.is_empty() && plan.records.is_empty(), "{list:?}: {:?}", plan.bad);
        assert!(rows.len() > 1 && plan.same == rows.len(), "{list:?}");
    }
}

#[test]
fn a_unit_is_new_moved_or_made_spare_and_keeps_its_history() {
    let (shop, type_name) = (shop(), "Fairway type B");
    let before = shop.units["Q-114"].history.clone();
    let text = format!("tag,type,mower,position,status\nq-901,{type_name},Fairway 3,2,\nQ-114,{type_name},,,spare\n");
    let plan = plan(List::Units, &text);
    assert!(plan.bad.is_empty(), "{:?}", plan.bad);
    assert_eq!((plan.new, plan.changed, plan.same), (1, 1, 0));
    let Record::Unit { unit } = &plan.records[0] else { panic!("a unit") };
    assert_eq!((unit.tag.as_str(), unit.position, unit.status), ("Q-901", 2, UnitStatus::InService));
    let Record::Unit { unit } = &plan.records[1] else { panic!("a unit") };
    assert_eq!((unit.mower.as_str(), unit.status, &unit.history), ("", UnitStatus::Spare, &before));
}

#[test]
fn every_bad_row_of_units_says_what_would_be_right() {
    let type_name = "Fairway type B";
    let rows = [
        format!("Q-901,{type_name},Fairway 3,9,,"),
        format!("Q-902,{type_name},Nowhere,1,,"),
        "Q-903,No such type,Fairway 3,1,,".to_owned(),
        format!("Q-904,{type_name},Fairway 3,1,,"),
        format!("SPKB41042A,{type_name},,,,"),
        format!("Q-905,{type_name},,,,ready"),
        format!("Q-906,{type_name},,,,in_service"),
        format!("Q-907,{type_name},,,,spare"),
        format!("q-907,{type_name},,,,spare"),
        format!("Q 9\u{e9},{type_name},,,,"),
    ];
    let told = bad(List::Units, &rows.join("\n"));
    let wanted = [
        "2: position \"9\" is not on Fairway 3, which has 1 to 5",
        "3: the mower \"Nowhere\" is not on record",
        "4: the type \"No such type\" is not on record",
        "6: \"SPKB41042A\" is no tag",
        "7: Q-905 cannot be made ready by a list",
        "8: Q-906 is in service, so mower and position",
        "10: Q-907 stands in line 9 already",
        "11: the tag",
        "5: Q-904 on Fairway 3, position 1",
    ];
    assert_eq!(told.len(), wanted.len(), "{told:#?}");
    for (told, wanted) in told.iter().zip(wanted) {
        assert!(told.starts_with(wanted), "{told} / {wanted}");
    }
}

#[test]
fn mowers_and_people_are_held_to_what_labels_and_codes_can_say() {
    let told = bad(List::Mowers, "F-3,New,3\nNEW,,3\nNEW,Newest,36\nZZ9,Fairway 3,1\n");
    assert_eq!(told.len(), 4, "{told:#?}");
    assert!(told[3].contains("move it before"), "{told:#?}");
    let told = bad(List::Operators, "1042,Ines Barro,IB,yes,no\n77,New Person,OH,maybe,no\n78,Newer,OH,no,no\n");
    assert!(told.iter().any(|bad| bad.starts_with("3: trained is \"maybe\"")), "{told:#?}");
    assert!(told.iter().any(|bad| bad.starts_with("4: ") && bad.contains("initials OH")), "{told:#?}");
    assert!(told.iter().any(|bad| bad.contains("nobody would be a lead")), "{told:#?}");
}
