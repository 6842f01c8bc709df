//! The link as the person at the bench sees it.

use super::shop::{Hub, call, pair, wait_until};
use rusqlite::Connection;
use std::time::Duration;

/// A badge and a unit of the invented shop.
const SCRIPT: &str = "\
expect Hub
offline
scan SPKB41042A
scan Q-114
expect Offline,
online
expect Hub
";

#[test]
fn a_cable_that_is_pulled_in_a_visit_and_put_back_loses_nothing() {
    let scratch = tempfile::tempdir().unwrap();
    let (data, script) = (scratch.path().join("kiosk"), scratch.path().join("cable.rehearse"));
    let play = |lines: &str| {
        std::fs::write(&script, lines).unwrap();
        let arguments = [script.as_os_str(), "--data".as_ref(), data.as_os_str()];
        crate::rehearsing::sparkout(["rehearse".as_ref()].into_iter().chain(arguments))
    };
    let alone = play("expect No hub\noffline\n");
    assert_eq!(alone.code, Some(1));
    assert!(alone.err.contains("not paired with a hub"), "{}", alone.err);

    let folder = tempfile::tempdir().unwrap();
    let hub = Hub::start(folder.path(), "127.0.0.1:0");
    let paired = pair(&data, &hub.url(), &hub.code(), None);
    assert_eq!(paired.code, Some(0), "{}", paired.err);
    // Heard before the first line is played.
    let played = play(&format!("online\n{SCRIPT}"));
    assert_eq!(played.code, Some(0), "{}", played.err);

    let link = Connection::open(data.join("link.db")).unwrap();
    let token: String = link.query_row("SELECT token FROM hub", [], |row| row.get(0)).unwrap();
    let journal = Connection::open(data.join("kiosk.db")).unwrap();
    let mut leaves = journal.prepare("SELECT leaf FROM journal ORDER BY seq").unwrap();
    let journal: Vec<Vec<u8>> = leaves.query_map([], |row| row.get(0)).unwrap().map(Result::unwrap).collect();
    let station: String = Connection::open(hub.folder.join("hub.db"))
        .and_then(|hub| hub.query_row("SELECT station FROM station", [], |row| row.get(0)))
        .unwrap();
    assert_eq!(hub.stored(&station), journal);
    // The same visit, worked out at the hub by the same code.
    let asked = |path: &str| call(&hub.address, "GET", path, Some(&token), "");
    wait_until("the hub knows the visit", Duration::from_secs(20), || {
        asked("/v1/shop").1.contains("\"tag\":\"Q-114\"")
    });
    let (status, unit) = asked("/v1/units/Q-114");
    assert_eq!(status, 200, "{unit}");
    let unit: serde_json::Value = serde_json::from_str(&unit).unwrap();
    assert_eq!(unit["unit"]["tag"], "Q-114");
    assert_eq!(asked("/v1/quarantine").1, "[]");
}
