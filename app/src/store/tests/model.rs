//! The store and a plain model in memory, driven with the same random operations.

use super::{mid_flight, put};
use crate::store::{DerivedWrite, MemoryRecord, NewEntry, Record, SqliteRecord, open};
use proptest::prelude::*;
use sparkout_core::journal::merkle;
use tempfile::tempdir;

#[derive(Debug, Clone)]
enum Operation {
    Append(Vec<(Option<u8>, Vec<u8>)>, Vec<(bool, u8, u8, String)>),
    TooLarge(Vec<(Option<u8>, Vec<u8>)>),
    Restart,
    PowerCut,
    Rebuild,
}

fn operation() -> impl Strategy<Value = Operation> {
    let entries = || prop::collection::vec((prop::option::of(0u8..3), prop::collection::vec(any::<u8>(), 1..50)), 1..6);
    let derived = prop::collection::vec((any::<bool>(), 0u8..2, 0u8..3, "[a-z]{0,5}"), 0..4);
    prop_oneof![
        6 => (entries(), derived).prop_map(|(entries, derived)| Operation::Append(entries, derived)),
        1 => entries().prop_map(Operation::TooLarge),
        1 => Just(Operation::Restart),
        1 => Just(Operation::PowerCut),
        1 => Just(Operation::Rebuild),
    ]
}

fn new_entries(entries: &[(Option<u8>, Vec<u8>)]) -> Vec<NewEntry> {
    let new = |(visit, bytes): &(Option<u8>, Vec<u8>)| NewEntry {
        visit: visit.map(|visit| visit.to_string()),
        bytes: bytes.clone(),
    };
    entries.iter().map(new).collect()
}

fn new_derived(derived: &[(bool, u8, u8, String)]) -> Vec<DerivedWrite> {
    let new = |(is_put, kind, key, body): &(bool, u8, u8, String)| {
        let (kind, key) = (kind.to_string(), key.to_string());
        if *is_put { DerivedWrite::Put { kind, key, body: body.clone() } } else { DerivedWrite::Remove { kind, key } }
    };
    derived.iter().map(new).collect()
}

fn project(seq: u64, bytes: &[u8]) -> Vec<DerivedWrite> {
    vec![put("0", &(seq % 3).to_string(), &format!("{bytes:?}"))]
}

fn same(record: &SqliteRecord, model: &MemoryRecord) {
    assert_eq!(record.entries(1, usize::MAX).unwrap(), model.entries(1, usize::MAX).unwrap());
    assert_eq!(record.entries(3, 2).unwrap(), model.entries(3, 2).unwrap());
    assert_eq!(record.head().unwrap().root, model.head().unwrap().root);
    assert_eq!(record.head().unwrap().size, model.head().unwrap().size);
    for name in ["0", "1", "2"] {
        assert_eq!(record.entries_of_visit(name).unwrap(), model.entries_of_visit(name).unwrap());
        assert_eq!(record.derived_all(name).unwrap(), model.derived_all(name).unwrap());
        assert_eq!(record.derived("0", name).unwrap(), model.derived("0", name).unwrap());
    }
    let leaves: Vec<_> =
        record.entries(1, usize::MAX).unwrap().iter().map(|(_, leaf)| merkle::leaf_hash(leaf)).collect();
    assert_eq!(record.head().unwrap().root, merkle::root(&leaves));
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]
    #[test]
    fn like_the_plain_model(operations in prop::collection::vec(operation(), 1..25)) {
        let mut folder = tempdir().unwrap();
        let mut record = open(folder.path()).unwrap();
        let mut model = MemoryRecord::default();
        for operation in operations {
            match operation {
                Operation::Append(entries, derived) => {
                    let (entries, derived) = (new_entries(&entries), new_derived(&derived));
                    assert_eq!(record.append(&entries, &derived), model.append(&entries, &derived));
                }
                Operation::TooLarge(entries) => {
                    let mut entries = new_entries(&entries);
                    entries.push(NewEntry { visit: None, bytes: Vec::new() });
                    assert!(record.append(&entries, &[put("0", "0", "no")]).is_err());
                }
                Operation::Restart => {
                    drop(record);
                    record = open(folder.path()).unwrap();
                }
                Operation::PowerCut => {
                    let copy = mid_flight(folder.path());
                    record = open(copy.path()).unwrap();
                    folder = copy;
                }
                Operation::Rebuild => {
                    record.rebuild_derived(&mut project).unwrap();
                    model.rebuild_derived(&mut project).unwrap();
                }
            }
            same(&record, &model);
        }
        record.check().unwrap();
    }
}
