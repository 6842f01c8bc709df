//! What the hub takes: entries that its own tree and the station's signed head both lead to.
//!
//! The witness's rules (C2SP `tlog-witness`) come first, so that a journal that forked is called that, and not a clash
//! of one entry. Then the entries: the hub hashes them onto its own tree, and a proof must show that this tree is the
//! beginning of the signed one. A batch may therefore end anywhere, and nothing is taken on the sender's word.

use super::store::{Growth, LogState, NewEvent, Refusal, Refused};
use crate::store::keys::is_signed_by;
use sparkout_core::entry::Entry;
use sparkout_core::journal::checkpoint::NamedKey;
use sparkout_core::journal::merkle::leaf_hash;
use sparkout_core::journal::proof::verify_consistency;
use sparkout_core::journal::{Hash, witness};

/// The most bytes of one entry, as in the kiosk's own file.
const ENTRY_BYTES_MOST: usize = 1 << 20;

/// A push before it is judged.
#[derive(Debug, Clone)]
pub struct Offer {
    /// The journal's key under its origin.
    pub key: NamedKey,
    /// The newest signed head.
    pub note: String,
    /// The consistency proof from the head vouched for to this one.
    pub growth: Vec<Hash>,
    /// The number of the first entry, from 1.
    pub from: u64,
    /// The entries' exact bytes.
    pub entries: Vec<Vec<u8>>,
    /// The consistency proof from the tree of the last entry offered to the head.
    pub covered: Vec<Hash>,
    /// The station's clock less the hub's, milliseconds.
    pub clock_off_ms: Option<i64>,
}

impl Offer {
    /// Judges it against what is stored; `known` are the hashes of the offered entries that are stored already, in
    /// order from the first.
    ///
    /// # Errors
    /// [`Refused`]: nothing of it is to be stored.
    pub fn judge(&self, state: &LogState, known: &[Hash]) -> Result<Growth, Refused> {
        let refused = |refusal: Refusal| self.refused(refusal, Vec::new());
        let check = |text: &[u8], signature: &[u8; 64]| is_signed_by(self.key.public_key(), text, signature);
        let head = witness::signed(&self.note, &self.key, check).map_err(|alarm| refused(alarm.into()))?;
        witness::judge(state.vouched.as_ref(), &head, &self.growth).map_err(|alarm| refused(alarm.into()))?;
        let stored = state.tree.size();
        if self.from == 0 {
            return Err(refused(Refusal::Form { seq: 0, what: "numbers begin at 1" }));
        }
        if self.from > stored + 1 {
            return Err(refused(Refusal::Gap { stored, from: self.from }));
        }
        let mut tree = state.tree.clone();
        let mut entries = Vec::new();
        for (seq, bytes) in (self.from..).zip(&self.entries) {
            if bytes.is_empty() || bytes.len() > ENTRY_BYTES_MOST {
                return Err(refused(Refusal::Form { seq, what: "an entry has 1 byte to 1 MiB" }));
            }
            let hash = leaf_hash(bytes);
            if seq > stored {
                tree.append(hash);
                entries.push(NewEvent { seq, hash, bytes: bytes.clone(), held: not_understood(bytes) });
                continue;
            }
            let place = usize::try_from(seq - self.from).unwrap_or(usize::MAX);
            if known.get(place) != Some(&hash) {
                let reason = Some(format!("another entry is stored as number {seq}"));
                let aside = vec![NewEvent { seq, hash, bytes: bytes.clone(), held: reason }];
                return Err(self.refused(Refusal::Clash { seq }, aside));
            }
        }
        let up_to = tree.size();
        verify_consistency((up_to, tree.root()), (head.size, head.root), &self.covered)
            .map_err(|_| refused(Refusal::NotCovered { up_to, size: head.size }))?;
        Ok(Growth { tree, head, note: self.note.clone(), entries, clock_off_ms: self.clock_off_ms })
    }

    fn refused(&self, refusal: Refusal, aside: Vec<NewEvent>) -> Refused {
        Refused { refusal, note: self.note.clone(), aside }
    }
}

/// Why an entry cannot be passed on: this hub does not know its form. It stays in the tree, whose proofs need it.
fn not_understood(bytes: &[u8]) -> Option<String> {
    serde_json::from_slice::<Entry>(bytes).err().map(|error| format!("not understood by this hub: {error}"))
}

#[cfg(test)]
mod tests;
