//! What it costs to prove a journal of a million entries, beside a bare loop that reads and hashes them.
//!
//! Three times: signed at every entry, as a kiosk writes it, at every tenth, and once at the end, which is what entries
//! and hashes cost without signatures. `ENTRIES=10000` makes it shorter.
#![allow(clippy::expect_used, clippy::unwrap_used, missing_docs)]

use rusqlite::{Connection, params};
use sha2::{Digest, Sha256};
use sparkout::store::keys::StationKey;
use sparkout::store::read_only::ReadOnlyJournal;
use sparkout::store::verify::verify;
use sparkout::store::{self, Record as _};
use sparkout_core::journal::{Checkpoint, Tree, merkle};
use std::path::{Path, PathBuf};
use std::time::Instant;

const ROUNDS: usize = 3;

fn main() {
    let entries = std::env::var("ENTRIES").ok().and_then(|count| count.parse().ok()).unwrap_or(1_000_000u64);
    println!("{:<44} {:>9} {:>9} {:>6}", format!("{entries} entries, best of {ROUNDS}"), "verify", "bare", "ratio");
    for each in [1, 10, entries] {
        let file = journal(entries, each);
        let (ours, bare) = (best(|| proved(&file, entries)), best(|| read_and_hash(&file, entries)));
        let name =
            if each == entries { "one signed head".to_owned() } else { format!("a signed head every {each} entries") };
        println!("{name:<44} {ours:>7.2} s {bare:>7.2} s {:>6.2}", bare / ours);
    }
    println!("ratio: speed of verify as a share of the bare loop's; aim 0.5");
}

fn best(mut run: impl FnMut()) -> f64 {
    let mut least = f64::INFINITY;
    for _ in 0..ROUNDS {
        let begun = Instant::now();
        run();
        least = least.min(begun.elapsed().as_secs_f64());
    }
    least
}

fn proved(file: &Path, entries: u64) {
    let report = verify(&ReadOnlyJournal::open(file).unwrap(), None).unwrap();
    assert_eq!((report.size, report.findings.len()), (entries, 0));
}

/// As little as reading every entry and hashing it can be.
fn read_and_hash(file: &Path, entries: u64) {
    let database = Connection::open(file).unwrap();
    let mut statement = database.prepare("SELECT leaf FROM journal ORDER BY seq").unwrap();
    let mut rows = statement.query([]).unwrap();
    let (mut count, mut last) = (0, [0; 32]);
    while let Some(row) = rows.next().unwrap() {
        let leaf = row.get_ref(0).unwrap().as_bytes().unwrap();
        last = Sha256::new().chain_update([0]).chain_update(leaf).finalize().into();
        count += 1;
    }
    std::hint::black_box(last);
    assert_eq!(count, entries);
}

/// A journal as a kiosk makes it, in one transaction: a million durable ones would take hours. Kept with the build.
fn journal(entries: u64, each: u64) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("verify-{entries}-{each}"));
    let file = folder.join("kiosk.db");
    if file.exists() {
        return file;
    }
    let part = folder.with_extension("part");
    let _ = std::fs::remove_dir_all(&part);
    let record = store::open(&part).expect("a journal");
    let (origin, head) = (record.station().origin.clone(), record.head().unwrap());
    assert_eq!(head.size, 0);
    drop(record);
    let key = StationKey::load(&part.join("station.key")).unwrap().unwrap();
    let mut database = Connection::open(part.join("kiosk.db")).unwrap();
    let transaction = database.transaction().unwrap();
    let mut tree = Tree::new();
    for seq in 1..=entries {
        let leaf = entry(seq);
        transaction
            .prepare_cached("INSERT INTO journal VALUES (?1, ?2)")
            .unwrap()
            .execute(params![seq as i64, leaf])
            .unwrap();
        tree.append_noting(merkle::leaf_hash(&leaf), |node| {
            let values = params![node.level, node.index as i64, node.hash.as_bytes()];
            transaction.prepare_cached("INSERT INTO node VALUES (?1, ?2, ?3)").unwrap().execute(values).unwrap();
        });
        if seq % each == 0 {
            let head = Checkpoint { origin: origin.clone(), size: seq, root: tree.root() };
            let signature = head.sign(|text| key.sign(text));
            let values = params![seq as i64, head.root.as_bytes(), signature];
            transaction.prepare_cached("INSERT INTO checkpoint VALUES (?1, ?2, ?3)").unwrap().execute(values).unwrap();
        }
    }
    transaction.commit().unwrap();
    drop(database);
    std::fs::rename(&part, &folder).expect("it can be named");
    file
}

/// As long as a reading's entry, and with its stamp.
fn entry(seq: u64) -> Vec<u8> {
    let wall = jiff::Timestamp::from_second(1_780_000_000 + seq as i64 * 20).unwrap();
    format!(
        r#"{{"at":{{"wall":"{wall}","monotonic_ms":{},"boot":"1778751000000-17306"}},"body":{{"kind":"visit","visit":"V{:07}","event":{{"event":"read","reading":{{"nanometres":{},"typed":"5.0{:02}"}}}}}}}}"#,
        seq * 20_000,
        seq / 60,
        127_000_000 + seq % 999,
        seq % 99
    )
    .into_bytes()
}
