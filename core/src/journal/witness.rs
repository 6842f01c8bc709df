//! What a witness does: it keeps one head of a log, and takes another only when that log has done nothing but grow.
//!
//! The rules are those of `tlog-witness` (a C2SP specification). Each way of not growing is an alarm of its own,
//! because each has another cause: a disk put back, a cloned card that went on by itself, a record written anew.

use super::checkpoint::{Checkpoint, NamedKey, NoteError, SignedCheckpoint};
use super::merkle::Hash;
use super::proof::verify_consistency;
use serde::{Deserialize, Serialize};
use thiserror::Error;

/// The log is not the one that was vouched for, or did not only grow.
#[derive(Debug, Clone, PartialEq, Eq, Error, Serialize, Deserialize)]
#[serde(tag = "alarm", rename_all = "snake_case", deny_unknown_fields)]
pub enum Alarm {
    /// Fewer entries than were vouched for.
    #[error("cut: {vouched} entries were vouched for, and there are {size}")]
    Cut {
        /// How many entries the witness has seen.
        vouched: u64,
        /// How many there are now.
        size: u64,
    },
    /// As many entries, and others.
    #[error("forked: other entries among the {size} that were vouched for")]
    Forked {
        /// How many entries both have.
        size: u64,
    },
    /// More entries, and those vouched for are not their beginning.
    #[error("rewritten: the {vouched} entries that were vouched for are not the beginning of these {size}")]
    Rewritten {
        /// How many entries the witness has seen.
        vouched: u64,
        /// How many there are now.
        size: u64,
    },
    /// The head is not signed by the log's key.
    #[error("not signed by the log's own key")]
    NotSigned,
    /// The witness keeps the head of another log: another station, or another incarnation of this one.
    #[error("another log: the head kept is of {kept}, this log is {offered}")]
    OtherLog {
        /// The log whose head is kept.
        kept: String,
        /// The log that was offered.
        offered: String,
    },
}

/// Judges a head against the one that is kept; `proof` is the consistency proof from the kept size to the new one.
///
/// # Errors
/// [`Alarm`]: the kept head stays the one vouched for.
pub fn judge(kept: Option<&Checkpoint>, offered: &Checkpoint, proof: &[Hash]) -> Result<(), Alarm> {
    let Some(kept) = kept else { return Ok(()) };
    if kept.origin != offered.origin {
        return Err(Alarm::OtherLog { kept: kept.origin.clone(), offered: offered.origin.clone() });
    }
    let (vouched, size) = (kept.size, offered.size);
    if size < vouched {
        return Err(Alarm::Cut { vouched, size });
    }
    if size == vouched && kept.root != offered.root {
        return Err(Alarm::Forked { size });
    }
    verify_consistency((vouched, kept.root), (size, offered.root), proof)
        .map_err(|_| Alarm::Rewritten { vouched, size })
}

/// Reads a signed head and checks that this key has signed it; `check` is given the text and the signature.
///
/// # Errors
/// [`Alarm::OtherLog`] and [`Alarm::NotSigned`]; a text that is no note is not signed either.
pub fn signed(note: &str, key: &NamedKey, check: impl FnOnce(&[u8], &[u8; 64]) -> bool) -> Result<Checkpoint, Alarm> {
    let note = SignedCheckpoint::parse(note).map_err(|_: NoteError| Alarm::NotSigned)?;
    let head = note.checkpoint().clone();
    if head.origin != key.name() {
        return Err(Alarm::OtherLog { kept: key.name().to_owned(), offered: head.origin });
    }
    note.verify(key, check).map_err(|_| Alarm::NotSigned)?;
    Ok(head)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
    use super::super::merkle::{leaf_hash, root};
    use super::super::proof::consistency_proof;
    use super::*;
    use proptest::prelude::*;

    fn leaves(seed: u8, size: u64) -> Vec<Hash> {
        (0..size).map(|place| leaf_hash(&[&[seed], place.to_be_bytes().as_slice()].concat())).collect()
    }

    fn head(leaves: &[Hash]) -> Checkpoint {
        Checkpoint { origin: "log".to_owned(), size: leaves.len() as u64, root: root(leaves) }
    }

    proptest! {
        #[test]
        fn growth_is_taken_and_nothing_else(older in 0u64..80, more in 0u64..80, at in any::<prop::sample::Index>()) {
            let kept = leaves(1, older);
            let grown = leaves(1, older + more);
            let proof = consistency_proof(&grown, older).unwrap();
            prop_assert_eq!(judge(Some(&head(&kept)), &head(&grown), &proof), Ok(()));
            prop_assert_eq!(judge(None, &head(&grown), &[]), Ok(()));
            if older > 0 {
                // The log goes its own way from any entry on that was vouched for.
                let from = at.index(kept.len());
                let other = [&grown[..from], &leaves(2, older + more)[from..]].concat();
                let proof = consistency_proof(&other, older).unwrap();
                let wanted = if more == 0 {
                    Alarm::Forked { size: older }
                } else {
                    Alarm::Rewritten { vouched: older, size: older + more }
                };
                prop_assert_eq!(judge(Some(&head(&kept)), &head(&other), &proof), Err(wanted));
                let cut = head(&kept[..from]);
                let size = from as u64;
                prop_assert_eq!(judge(Some(&head(&kept)), &cut, &[]), Err(Alarm::Cut { vouched: older, size }));
            }
        }
    }

    #[test]
    fn another_log_is_not_a_longer_one() {
        let kept = head(&leaves(1, 4));
        let offered = Checkpoint { origin: "other".to_owned(), ..head(&leaves(1, 5)) };
        assert!(matches!(judge(Some(&kept), &offered, &[]), Err(Alarm::OtherLog { .. })));
    }

    #[test]
    fn only_the_logs_own_key_counts() {
        let key = NamedKey::new("log", [3; 32]).unwrap();
        let head = head(&leaves(1, 4));
        let note = head.note(&key, &[9; 64]);
        assert_eq!(signed(&note, &key, |_, _| true), Ok(head));
        assert_eq!(signed(&note, &key, |_, _| false), Err(Alarm::NotSigned));
        assert_eq!(signed("nothing", &key, |_, _| true), Err(Alarm::NotSigned));
        let other = NamedKey::new("other", [3; 32]).unwrap();
        assert!(matches!(signed(&note, &other, |_, _| true), Err(Alarm::OtherLog { .. })));
    }
}
