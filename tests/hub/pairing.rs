//! Who is let in.

use super::shop::{Bench, Hub, at_desk, call, pair};
use std::net::TcpStream;

/// Every route that needs a token.
const CLOSED: [(&str, &str); 9] = [
    ("GET", "/v1/journal/aaaaaaaaaaaaaaaa"),
    ("POST", "/v1/journal/aaaaaaaaaaaaaaaa"),
    ("GET", "/v1/journal"),
    ("GET", "/v1/shop"),
    ("GET", "/v1/units"),
    ("GET", "/v1/units/Q-114"),
    ("GET", "/v1/quarantine"),
    ("GET", "/v1/alarms"),
    ("GET", "/v1/events"),
];

#[test]
fn nothing_is_told_without_a_token_nor_with_a_wrong_or_revoked_one() {
    let folder = tempfile::tempdir().unwrap();
    let hub = Hub::start(folder.path(), "127.0.0.1:0");
    let bench = Bench::new();
    bench.pair(&hub);
    let token = bench.token();
    let statuses = |token: Option<&str>| -> Vec<u16> {
        CLOSED.iter().map(|(method, path)| call(&hub.address, method, path, token, "{}").0).collect()
    };
    assert_eq!(statuses(None), [401; 9]);
    assert_eq!(statuses(Some("wrong")), [401; 9]);
    assert_eq!(statuses(Some(&token.to_uppercase())), [401; 9]);
    let (status, body) = call(&hub.address, "GET", "/v1/shop", Some(&token), "");
    assert_eq!(status, 200, "{body}");
    assert!(body.contains("Bench 1") && !body.contains(&token));
    assert!(at_desk(&hub.folder, &["stations"]).out.contains("Bench 1  paired"));
    at_desk(&hub.folder, &["revoke", &bench.station()]);
    assert_eq!(statuses(Some(&token)), [403; 9]);
    let kept = std::fs::read(hub.folder.join("hub.db")).unwrap();
    let has = |needle: &str| kept.windows(needle.len()).any(|window| window == needle.as_bytes());
    assert!(!has(&token), "the token itself is in the database");
}

#[test]
fn wrong_codes_close_the_right_one_and_a_code_is_used_once() {
    let folder = tempfile::tempdir().unwrap();
    let hub = Hub::start(folder.path(), "127.0.0.1:0");
    let bench = Bench::new();
    let code = hub.code();
    for _ in 0..5 {
        let ended = pair(bench.path(), &hub.url(), "AAAA-AAAA", None);
        assert_eq!(ended.code, Some(2));
        assert!(ended.err.contains("no such code is open"), "{}", ended.err);
    }
    assert_eq!(pair(bench.path(), &hub.url(), &code, None).code, Some(2), "closed by five wrong tries");
    let code = hub.code();
    let typed = code.to_lowercase().replace('-', " ");
    assert_eq!(pair(bench.path(), &hub.url(), &typed, None).code, Some(0));
    assert_eq!(pair(bench.path(), &hub.url(), &code, None).code, Some(2), "used");
    // Paired again: the old token is gone.
    let old = bench.token();
    bench.pair(&hub);
    assert_eq!(call(&hub.address, "GET", "/v1/shop", Some(&old), "").0, 401);
    assert_eq!(call(&hub.address, "GET", "/v1/shop", Some(&bench.token()), "").0, 200);
}

#[cfg(unix)]
#[test]
fn what_holds_a_secret_is_for_its_owner_alone() {
    use std::os::unix::fs::PermissionsExt;
    let folder = tempfile::tempdir().unwrap();
    let hub = Hub::start(folder.path(), "127.0.0.1:0");
    let bench = Bench::new();
    bench.pair(&hub);
    for file in [bench.path().join("link.db"), hub.folder.join("hub-ca.key")] {
        let mode = std::fs::metadata(&file).unwrap().permissions().mode();
        assert_eq!(mode & 0o077, 0, "{}: {mode:o}", file.display());
    }
}

#[test]
fn beyond_this_machine_only_the_pinned_hub_is_talked_to() {
    let (folder, others) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    let hub = Hub::start(folder.path(), "0.0.0.0:0");
    let port = hub.address.rsplit_once(':').unwrap().1;
    let here = format!("127.0.0.1:{port}");
    assert_eq!(call(&here, "GET", "/healthz", None, "").0, 0, "it speaks plainly beyond loopback");
    let bench = Bench::new();
    let code = hub.code();
    let other = Hub::start(others.path(), "0.0.0.0:0").fingerprint.clone();
    assert_ne!(other, hub.fingerprint);
    for (address, pin, wanted) in [
        (here.as_str(), None, "pinned by its fingerprint"),
        (&here, Some(other.as_str()), "UnknownIssuer"),
        ("http://192.0.2.1:80", None, "plain HTTP is for a hub on this machine"),
        ("ftp://127.0.0.1", None, "reached by https"),
    ] {
        let ended = pair(bench.path(), address, &code, pin);
        assert_eq!(ended.code, Some(2));
        assert!(ended.err.contains(wanted), "{address} {pin:?}: {}", ended.err);
    }
    // None of them has cost the code.
    let ended = pair(bench.path(), &here, &code, Some(&hub.fingerprint));
    assert_eq!(ended.code, Some(0), "{}", ended.err);
    // The authority outlives the hub's process: the pin holds.
    let (place, pin) = (hub.folder.clone(), hub.fingerprint.clone());
    drop(hub);
    assert_eq!(Hub::start(&place, "0.0.0.0:0").fingerprint, pin);
    assert!(TcpStream::connect(&here).is_err());
}
