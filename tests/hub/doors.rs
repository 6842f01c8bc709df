//! Bad input, slow clients, and how the hub ends.

use super::shop::{Bench, Hub, answer, call, wait_until};
use std::io::{Read, Write};
use std::net::TcpStream;
use std::time::{Duration, Instant};

#[test]
fn bad_requests_are_told_and_change_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let hub = Hub::start(folder.path(), "127.0.0.1:0");
    let mut bench = Bench::new();
    bench.work(3);
    bench.pair(&hub);
    let (token, path) = (bench.token(), format!("/v1/journal/{}", bench.incarnation()));
    let post = |path: &str, body: &str| call(&hub.address, "POST", path, Some(&token), body);
    let push = |from: u64, entries: &str| {
        let head = serde_json::to_string(&sparkout::store::Record::head(&bench.record).unwrap().note).unwrap();
        format!(r#"{{"head":{head},"growth":[],"from":{from},"entries":[{entries}],"covered":[]}}"#)
    };
    for (asked, wanted) in [
        (post(&path, ""), 400),
        (post(&path, "{\"head\":"), 400),
        (post(&path, "{}"), 422),
        (post(&path, "[1,2,3]"), 422),
        (post(&path, &push(1, "\"%%%\"")), 400),
        (post(&path, &push(0, "\"e30=\"")), 400),
        (post(&path, &push(1, "\"\"")), 400),
        (post(&path, &push(9, "\"e30=\"")), 409),
        (post(&path, &push(1, "\"e30=\"")), 409),
        (post("/v1/journal/other", &push(1, "")), 400),
        (post("/v1/journal/aaaaaaaaaaaaaaaa", &push(1, "")), 409),
        (post("/v1/shop", "{}"), 405),
        (post("/v2/anything", "{}"), 404),
        (post(&path, &"x".repeat((8 << 20) + 1)), 413),
        (post("/v1/pair", &"x".repeat(70_000)), 413),
        (call(&hub.address, "GET", "/v1/units/nobody%27s%20%3Cb%3E", Some(&token), ""), 404),
        (call(&hub.address, "GET", "/v1/units/%FF", Some(&token), ""), 400),
        (call(&hub.address, "GET", "/v1/journal?after=-1", Some(&token), ""), 400),
        (call(&hub.address, "GET", "/v1/journal?most=999999999", Some(&token), ""), 400),
        (call(&hub.address, "GET", "/v1/journal?after=7&most=1000", Some(&token), ""), 200),
    ] {
        assert_eq!(asked.0, wanted, "{}", asked.1);
        let body: serde_json::Value = serde_json::from_str(&asked.1).unwrap_or_else(|_| panic!("{:?}", asked.1));
        assert!(wanted == 200 || body["message"].as_str().is_some_and(|message| message.len() > 5), "{body}");
    }
    assert!(hub.stored(&bench.station()).is_empty());
    assert_eq!(hub.get("/healthz"), (200, "well\n".to_owned()));
}

#[test]
fn a_body_that_ends_early_and_a_client_that_drips_hold_nobody_up() {
    let folder = tempfile::tempdir().unwrap();
    let hub = Hub::start(folder.path(), "127.0.0.1:0");
    let mut early = TcpStream::connect(&hub.address).unwrap();
    early
        .write_all(
            b"POST /v1/pair HTTP/1.1\r\nHost: h\r\nContent-Type: application/json\r\nContent-Length: 99\r\n\r\n{",
        )
        .unwrap();
    early.shutdown(std::net::Shutdown::Write).unwrap();
    assert_ne!(answer(&mut early).0, 200);
    let begun = Instant::now();
    let mut slow = TcpStream::connect(&hub.address).unwrap();
    slow.set_read_timeout(Some(Duration::from_millis(900))).unwrap();
    wait_until("a head that never ends is given up", Duration::from_secs(20), || {
        let dripped = slow.write_all(b"G");
        let mut byte = [0; 1];
        let read = slow.read(&mut byte);
        dripped.is_err()
            || matches!(read, Ok(0))
            || matches!(read, Err(error) if error.kind() == std::io::ErrorKind::ConnectionReset)
            || byte[0] == b'H'
    });
    assert!(begun.elapsed() > Duration::from_secs(2));
    assert_eq!(hub.get("/healthz").0, 200);
}

#[test]
fn it_stops_when_it_is_told_even_with_an_open_event_stream() {
    let folder = tempfile::tempdir().unwrap();
    let mut hub = Hub::start(folder.path(), "127.0.0.1:0");
    let bench = Bench::new();
    bench.pair(&hub);
    let mut stream = TcpStream::connect(&hub.address).unwrap();
    stream.set_read_timeout(Some(Duration::from_secs(20))).unwrap();
    let head = format!("GET /v1/events HTTP/1.1\r\nHost: h\r\nAuthorization: Bearer {}\r\n\r\n", bench.token());
    stream.write_all(head.as_bytes()).unwrap();
    let mut seen = String::new();
    while !seen.contains("event: feed") {
        let mut some = [0; 512];
        let read = stream.read(&mut some).unwrap();
        assert!(read > 0, "{seen}");
        seen.push_str(&String::from_utf8_lossy(&some[..read]));
    }
    let begun = Instant::now();
    assert_eq!(hub.stop(), Some(0));
    assert!(begun.elapsed() < Duration::from_secs(5), "{:?}", begun.elapsed());
    let mut rest = Vec::new();
    stream.read_to_end(&mut rest).unwrap();
    assert!(rest.ends_with(b"0\r\n\r\n"), "the stream was broken off and not ended");
}

#[test]
fn the_description_and_the_counters_are_served_and_one_hub_has_a_folder() {
    let folder = tempfile::tempdir().unwrap();
    let hub = Hub::start(folder.path(), "127.0.0.1:0");
    let (status, served) = hub.get("/openapi.json");
    assert_eq!(status, 200);
    let kept = include_str!("../../app/src/hub/openapi.json");
    assert_eq!(served.trim_end(), kept.trim_end());
    let (status, metrics) = hub.get("/metrics");
    assert_eq!(status, 200);
    assert!(metrics.contains("# TYPE sparkout_hub_pushes counter") && metrics.ends_with("# EOF\n"), "{metrics}");
    let second =
        crate::rehearsing::sparkout(["hub", "--listen", "127.0.0.1:0", "--data", hub.folder.to_str().unwrap()]);
    assert_eq!(second.code, Some(2));
    assert!(second.err.contains("another hub is running"), "{}", second.err);
}
