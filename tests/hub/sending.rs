//! The journal on its way: interrupted, forked, cut, and back after a season.

use super::shop::{Bench, Hub, call, free_port, wait_until};
use sparkout::clock::{Clock, SystemClock};
use sparkout::link::{Link, Now, State};
use sparkout::store;
use sparkout::store::Record as _;
use std::fs;
use std::path::Path;
use std::sync::Arc;
use std::time::{Duration, Instant};

const LONG: Duration = Duration::from_secs(60);

fn link(folder: &Path) -> (Link, Now) {
    let (clock, now): (Arc<dyn Clock>, Now) = (Arc::new(SystemClock::new()), Now::default());
    (Link::start(folder.to_owned(), clock, now.clone()).unwrap(), now)
}

/// Numbers without a pattern (xorshift), the same in every run.
fn random(state: &mut u64) -> u64 {
    *state ^= *state << 13;
    *state ^= *state >> 7;
    *state ^= *state << 17;
    *state
}

#[test]
fn a_push_that_is_broken_off_anywhere_stores_every_entry_once() {
    let folder = tempfile::tempdir().unwrap();
    let listen = format!("127.0.0.1:{}", free_port());
    let mut hub = Hub::start(folder.path(), &listen);
    let mut bench = Bench::new();
    bench.pair(&hub);
    bench.work(9000);
    let mut chance = 0x5eed;
    let (mut links, mut part) = (Vec::new(), 0);
    for _ in 0..12 {
        links.push(link(bench.path()));
        std::thread::sleep(Duration::from_millis(random(&mut chance) % 120));
        if random(&mut chance).is_multiple_of(2) {
            hub.child.kill().unwrap();
            hub.child.wait().unwrap();
            hub = Hub::start(folder.path(), &listen);
        }
        links.clear();
        part += usize::from((1..9000).contains(&hub.stored(&bench.station()).len()));
        bench.work(7);
    }
    let (_link, now) = link(bench.path());
    let journal = bench.journal();
    wait_until("all is stored", LONG, || now.state() == State::Heard { stored: journal.len() as u64 });
    assert_eq!(hub.stored(&bench.station()), journal);
    assert!(part > 0, "no push was broken off in the middle");
}

#[test]
fn the_bench_is_not_kept_waiting_and_catches_up_by_itself() {
    let folder = tempfile::tempdir().unwrap();
    let listen = format!("127.0.0.1:{}", free_port());
    let hub = Hub::start(folder.path(), &listen);
    let mut bench = Bench::new();
    bench.pair(&hub);
    bench.work(3);
    let (_link, now) = link(bench.path());
    wait_until("heard", LONG, || now.state() == State::Heard { stored: 3 });
    drop(hub);
    wait_until("away", LONG, || now.state() == State::Away { stored: 3 });
    bench.work(40);
    let hub = Hub::start(folder.path(), &listen);
    wait_until("back", LONG, || now.state() == State::Heard { stored: 43 });
    assert_eq!(hub.stored(&bench.station()), bench.journal());
}

#[test]
fn what_is_done_at_one_bench_is_known_at_the_other_within_two_seconds() {
    let folder = tempfile::tempdir().unwrap();
    let hub = Hub::start(folder.path(), "127.0.0.1:0");
    let (mut a, mut b) = (Bench::new(), Bench::new());
    a.pair(&hub);
    b.pair(&hub);
    b.work(2);
    let ((_a, here), (_b, there)) = (link(a.path()), link(b.path()));
    wait_until("both are heard", LONG, || [&here, &there].iter().all(|now| matches!(now.state(), State::Heard { .. })));
    // The machine may be busy with other tests: once of three times it must be as quick as that.
    let mut took = Vec::new();
    for _ in 0..3 {
        a.work(5);
        let begun = Instant::now();
        wait_until("known at the other bench", LONG, || b.heard() == a.journal());
        took.push(begun.elapsed());
    }
    assert!(took.iter().any(|took| *took < Duration::from_secs(2)), "{took:?}");
    wait_until("the other way", LONG, || a.heard() == b.journal());
}

#[test]
fn a_cloned_card_that_goes_on_by_itself_is_refused_loudly() {
    let folder = tempfile::tempdir().unwrap();
    let hub = Hub::start(folder.path(), "127.0.0.1:0");
    let mut bench = Bench::new();
    bench.pair(&hub);
    bench.work(20);
    let (first, now) = link(bench.path());
    wait_until("stored", LONG, || now.state() == State::Heard { stored: 20 });
    drop(first);
    let clone = tempfile::tempdir().unwrap();
    let Bench { folder: original, record } = bench;
    drop(record);
    for name in ["kiosk.db", "station.key", "link.db"] {
        fs::copy(original.path().join(name), clone.path().join(name)).unwrap();
    }
    let mut bench = Bench { record: store::open(original.path()).unwrap(), folder: original };
    bench.work(5);
    let (_link, now) = link(bench.path());
    wait_until("stored", LONG, || now.state() == State::Heard { stored: 25 });

    // The clone: as many entries as the hub vouches for, and others; then more.
    let mut other = Bench { record: store::open(clone.path()).unwrap(), folder: clone };
    other.work(1);
    let (token, mut alarms) = (other.token(), Vec::new());
    for (more, wanted) in [(0, "cut: 25 entries"), (20, "rewritten: the 25 entries")] {
        let odd = format!(
            r#"{{"at":{{"wall":"2026-05-15T09:30:00Z","monotonic_ms":{more},"boot":"c"}},"body":{{"kind":"started","version":"clone"}}}}"#
        );
        for _ in 0..more {
            other.record.append(&[store::NewEntry { visit: None, bytes: odd.clone().into_bytes() }], &[]).unwrap();
        }
        let (_link, now) = link(other.path());
        wait_until(wanted, LONG, || {
            let (status, body) = call(&hub.address, "GET", "/v1/alarms", Some(&token), "");
            assert_eq!(status, 200, "{body}");
            let is_raised = body.contains(wanted);
            alarms.push(body);
            is_raised
        });
        wait_until("told at the kiosk", LONG, || matches!(now.state(), State::Away { .. }));
    }
    assert_eq!(hub.stored(&bench.station()), bench.journal(), "{alarms:?}");
    let (_, metrics) = hub.get("/metrics");
    assert!(metrics.contains(r#"push_refusals_total{refused="rewritten"}"#), "{metrics}");
}

#[test]
fn a_journal_that_was_cut_back_is_not_taken_either_and_a_new_one_is_another_log() {
    let folder = tempfile::tempdir().unwrap();
    let hub = Hub::start(folder.path(), "127.0.0.1:0");
    let mut bench = Bench::new();
    bench.work(4);
    bench.pair(&hub);
    let (first, now) = link(bench.path());
    wait_until("stored", LONG, || now.state() == State::Heard { stored: 4 });
    drop(first);
    // The file is gone and the key is not: a new incarnation, and the old one stays at the hub.
    let (station, old) = (bench.station(), bench.incarnation());
    let Bench { folder: place, record } = bench;
    drop(record);
    for name in ["kiosk.db", "kiosk.db-wal", "kiosk.db-shm"] {
        let _ = fs::remove_file(place.path().join(name));
    }
    let mut bench = Bench { record: store::open(place.path()).unwrap(), folder: place };
    assert_eq!(bench.station(), station);
    assert_ne!(bench.incarnation(), old);
    bench.work(2);
    let (_link, now) = link(bench.path());
    wait_until("stored", LONG, || now.state() == State::Heard { stored: 2 });
    let (_, shop) = call(&hub.address, "GET", "/v1/shop", Some(&bench.token()), "");
    let shop: serde_json::Value = serde_json::from_str(&shop).unwrap();
    let journals = shop["stations"][0]["journals"].as_array().unwrap();
    let mut stored: Vec<_> = journals.iter().map(|journal| journal["stored"].as_u64().unwrap()).collect();
    stored.sort_unstable();
    assert_eq!(stored, [2, 4]);
    assert!(journals.iter().all(|journal| journal["clock_off_ms"].as_i64().unwrap().abs() < 60_000));
}
