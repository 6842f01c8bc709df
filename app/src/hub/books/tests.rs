use super::*;
use crate::demo;
use crate::hub::rules::Offer;
use crate::hub::sqlite::SqliteHub;
use crate::hub::store::{KnownStation, LogState, Pairing};
use crate::kiosk::{OPEN_VISIT, UNIT};
use crate::store::sending::Outgoing;
use crate::store::{self, NewEntry, Record as _, SqliteRecord};
use std::path::Path;

/// A hub that has heard of one station.
fn hub(folder: &Path, record: &SqliteRecord) -> (Arc<dyn HubStore>, LogName) {
    let hub = SqliteHub::open(folder).unwrap();
    let known = record.station();
    let station = KnownStation {
        station: known.station.clone(),
        name: "Bench 1".to_owned(),
        public_key: *known.key.public_key(),
        paired_ms: 0,
        revoked_ms: None,
    };
    hub.open_code([1; 32], 1, 1).unwrap();
    assert!(hub.pair(&Pairing { code_hash: [1; 32], token_hash: [2; 32], station }).unwrap());
    let log = LogName { station: known.station.clone(), incarnation: known.incarnation.clone() };
    (Arc::new(hub), log)
}

/// Sends what is not stored yet, by the rules.
fn send(hub: &dyn HubStore, log: &LogName, kiosk: &Path) {
    let journal = Outgoing::open(&kiosk.join("kiosk.db")).unwrap();
    let LogState { tree, vouched } = hub.log(log).unwrap();
    let batch = journal.batch(tree.size() + 1, usize::MAX, usize::MAX).unwrap();
    let offer = Offer {
        key: journal.key().clone(),
        note: journal.note().to_owned(),
        growth: journal.consistency(vouched.map_or(0, |head| head.size)).unwrap(),
        from: tree.size() + 1,
        entries: batch.into_iter().map(|(_, bytes)| bytes).collect(),
        covered: journal.consistency(journal.size()).unwrap(),
        clock_off_ms: None,
    };
    let offered = (offer.from, offer.entries.len() as u64);
    hub.push(log, offered, 0, &mut |state, known| offer.judge(state, known)).unwrap().unwrap();
}

fn records(hub: &dyn HubStore, kind: &str) -> Vec<(String, String)> {
    hub.records(kind).unwrap().into_iter().map(|record| (record.key, record.body)).collect()
}

#[test]
fn the_hub_makes_of_a_journal_what_the_bench_made_of_it() {
    let (kiosk, folder) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    demo::set_up(kiosk.path(), "2026-05-14T09:30:00Z".parse().unwrap()).unwrap();
    let mut record = store::open(kiosk.path()).unwrap();
    let (hub, log) = hub(folder.path(), &record);
    let mut books = Books { store: Arc::clone(&hub), projectors: BTreeMap::new() };
    send(hub.as_ref(), &log, kiosk.path());
    books.catch_up(&|| 0).unwrap();
    let units = record.derived_all(UNIT).unwrap();
    assert!(units.len() > 10);
    assert_eq!(records(hub.as_ref(), UNIT), units);

    // An entry of a known form that nothing can follow from stands in nobody's way, also after a restart.
    let at = r#"{"wall":"2026-05-14T09:30:00Z","monotonic_ms":1,"boot":"b"}"#;
    let lost = format!(r#"{{"at":{at},"body":{{"kind":"visit","visit":"V9","event":{{"event":"paused"}}}}}}"#);
    let after = format!(r#"{{"at":{at},"body":{{"kind":"started","version":"test"}}}}"#);
    let entry = |text: String| NewEntry { visit: None, bytes: text.into_bytes() };
    record.append(&[entry(lost), entry(after)], &[]).unwrap();
    send(hub.as_ref(), &log, kiosk.path());
    let mut books = Books { store: Arc::clone(&hub), projectors: BTreeMap::new() };
    books.catch_up(&|| 0).unwrap();
    let known = hub.logs().unwrap();
    assert_eq!(known[0].worked_out, known[0].stored);
    assert_eq!(records(hub.as_ref(), UNIT), units);
    assert!(records(hub.as_ref(), OPEN_VISIT).is_empty());
    let aside = hub.quarantine(10).unwrap();
    assert_eq!(aside.len(), 1, "{aside:?}");
    assert_eq!(aside[0].seq, known[0].stored - 1);
}
