//! The signatures of all heads, many at a time and beside the walk along the entries: a head is signed with every
//! transaction, so a long journal has as many signatures as entries, and they cost far more than the hashes.

use super::journal::Station;
use super::keys;
use ed25519_dalek::{Signature, VerifyingKey, verify_batch};
use sparkout_core::journal::Hash;
use std::num::NonZero;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Mutex;
use std::sync::mpsc::{self, Receiver, SyncSender};

/// Signatures that are checked by one equation. Beyond this many it gets no cheaper.
const BATCH: usize = 1024;
/// Batches that wait at the most: 1 MiB. The walk waits when the checking falls behind.
const WAITING: usize = 8;

/// A head as it stands in the file.
#[derive(Debug, Clone)]
pub struct Signed {
    /// Of how many entries.
    pub size: u64,
    /// The root over them, as it was signed.
    pub root: Hash,
    /// The signature.
    pub signature: [u8; 64],
}

/// Where the walk leaves the heads that it reads.
pub struct Heads {
    batch: Vec<Signed>,
    to: Option<SyncSender<Vec<Signed>>>,
}

impl Heads {
    /// For a second walk, whose heads were checked by the first.
    pub const fn checked_before() -> Self {
        Self { batch: Vec::new(), to: None }
    }

    /// The next head.
    pub fn take(&mut self, head: Signed) {
        if self.to.is_none() {
            return;
        }
        self.batch.push(head);
        if self.batch.len() == BATCH {
            self.hand_on();
        }
    }

    fn hand_on(&mut self) {
        let batch = std::mem::replace(&mut self.batch, Vec::with_capacity(BATCH));
        if let Some(to) = &self.to
            && to.send(batch).is_err()
        {
            tracing::error!("nobody checks signatures any more");
        }
    }
}

/// Walks, and checks the signatures of what the walk leaves on every core meanwhile. Gives what the walk gave, and the
/// sizes of the heads that the station's key has not signed, ascending.
pub fn check_along<T>(station: &Station, walk: impl FnOnce(&mut Heads) -> T) -> (T, Vec<u64>) {
    let (send, batches) = mpsc::sync_channel(WAITING);
    let batches = Mutex::new(batches);
    let cores = std::thread::available_parallelism().map_or(1, NonZero::get);
    std::thread::scope(|scope| {
        let threads: Vec<_> = (0..cores).map(|_| scope.spawn(|| check_all(&batches, station))).collect();
        let mut heads = Heads { batch: Vec::with_capacity(BATCH), to: Some(send) };
        let walked = walk(&mut heads);
        heads.hand_on();
        drop(heads);
        let mut forged: Vec<u64> = threads.into_iter().flat_map(|thread| thread.join().unwrap_or_default()).collect();
        forged.sort_unstable();
        (walked, forged)
    })
}

fn check_all(batches: &Mutex<Receiver<Vec<Signed>>>, station: &Station) -> Vec<u64> {
    let mut forged = Vec::new();
    loop {
        let next = batches.lock().map(|batches| batches.recv());
        let Ok(Ok(batch)) = next else { return forged };
        // A batch whose check ended badly was not checked: then none of its heads counts as signed.
        let found = catch_unwind(AssertUnwindSafe(|| forged_among(&batch, station)));
        forged.extend(found.unwrap_or_else(|_| batch.iter().map(|head| head.size).collect()));
    }
}

fn forged_among(batch: &[Signed], station: &Station) -> Vec<u64> {
    let texts: Vec<String> = batch.iter().map(|head| station.checkpoint(head.size, head.root).text()).collect();
    let key = station.key.public_key();
    if all_signed(batch, &texts, key) {
        return Vec::new();
    }
    let pairs = batch.iter().zip(&texts);
    let unsigned = |(head, text): &(&Signed, &String)| !keys::is_signed_by(key, text.as_bytes(), &head.signature);
    pairs.filter(unsigned).map(|(head, _)| head.size).collect()
}

fn all_signed(batch: &[Signed], texts: &[String], key: &[u8; 32]) -> bool {
    let Ok(key) = VerifyingKey::from_bytes(key) else { return false };
    // A weak key is one under which anything passes; one by one refuses it.
    if key.is_weak() {
        return false;
    }
    let texts: Vec<&[u8]> = texts.iter().map(String::as_bytes).collect();
    let signatures: Vec<Signature> = batch.iter().map(|head| Signature::from_bytes(&head.signature)).collect();
    verify_batch(&texts, &signatures, &vec![key; batch.len()]).is_ok()
}
