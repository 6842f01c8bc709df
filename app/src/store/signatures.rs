//! The signatures of all heads, many at a time: a head is signed with every transaction, so a long journal has as
//! many signatures as entries, and they cost far more than the hashes.

use super::journal::Station;
use super::keys;
use ed25519_dalek::{Signature, VerifyingKey, verify_batch};
use rusqlite::{Connection, params};
use sparkout_core::journal::Hash;
use std::num::NonZero;

/// Signatures that are checked by one equation. Beyond this many it gets no cheaper.
const BATCH: usize = 256;
/// Heads read at a time: 7 MiB, some hundred milliseconds of work for every core.
const PAGE: usize = 65_536;

struct Signed {
    size: u64,
    text: String,
    signature: [u8; 64],
}

/// The sizes of the heads that the station's key has not signed, in order.
///
/// # Errors
/// When the file cannot be read.
pub fn forged(connection: &Connection, station: &Station) -> rusqlite::Result<Vec<u64>> {
    let sql = "SELECT size, root, signature FROM checkpoint WHERE size > ?1 ORDER BY size LIMIT ?2";
    let mut statement = connection.prepare(sql)?;
    let mut found = Vec::new();
    let mut after = -1i64;
    loop {
        let page: Vec<Signed> = statement
            .query_map(params![after, i64::try_from(PAGE).unwrap_or(i64::MAX)], |row| {
                let size = row.get::<_, i64>(0)?.unsigned_abs();
                let text = station.checkpoint(size, Hash::from_bytes(row.get(1)?)).text();
                Ok(Signed { size, text, signature: row.get(2)? })
            })?
            .collect::<Result<_, _>>()?;
        let Some(last) = page.last() else { return Ok(found) };
        after = i64::try_from(last.size).unwrap_or(i64::MAX);
        found.extend(forged_among(&page, station.key.public_key()));
    }
}

fn forged_among(page: &[Signed], key: &[u8; 32]) -> Vec<u64> {
    let cores = std::thread::available_parallelism().map_or(1, NonZero::get);
    let share = page.len().div_ceil(cores).next_multiple_of(BATCH);
    std::thread::scope(|scope| {
        let parts: Vec<_> = page.chunks(share).map(|part| (part, scope.spawn(|| checked(part, key)))).collect();
        // A thread that ended badly has checked nothing: then none of its heads counts as signed.
        parts
            .into_iter()
            .flat_map(|(part, thread)| thread.join().unwrap_or_else(|_| part.iter().map(|head| head.size).collect()))
            .collect()
    })
}

fn checked(part: &[Signed], key: &[u8; 32]) -> Vec<u64> {
    part.chunks(BATCH)
        .flat_map(|batch| if all_signed(batch, key) { Vec::new() } else { one_by_one(batch, key) })
        .collect()
}

fn all_signed(batch: &[Signed], key: &[u8; 32]) -> bool {
    let Ok(key) = VerifyingKey::from_bytes(key) else { return false };
    // A weak key is one under which anything passes; one by one refuses it.
    if key.is_weak() {
        return false;
    }
    let texts: Vec<&[u8]> = batch.iter().map(|head| head.text.as_bytes()).collect();
    let signatures: Vec<Signature> = batch.iter().map(|head| Signature::from_bytes(&head.signature)).collect();
    verify_batch(&texts, &signatures, &vec![key; batch.len()]).is_ok()
}

fn one_by_one(batch: &[Signed], key: &[u8; 32]) -> Vec<u64> {
    let unsigned = |head: &&Signed| !keys::is_signed_by(key, head.text.as_bytes(), &head.signature);
    batch.iter().filter(unsigned).map(|head| head.size).collect()
}
