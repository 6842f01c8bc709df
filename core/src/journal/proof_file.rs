//! One entry's proof as a file that an inspector keeps: `tlog-proof` (a C2SP specification of transparency logs).
//!
//! It holds the entry's place, the audit path and the signed head, and not the entry: whoever has the entry's exact
//! bytes and the log's public key needs nothing else to check it.

use super::checkpoint::{NamedKey, NoteError, SignedCheckpoint};
use super::merkle::{Hash, leaf_hash};
use super::proof::{ProofError, verify_inclusion};
use data_encoding::BASE64;
use std::fmt::Write as _;
use thiserror::Error;

const FIRST_LINE: &str = "c2sp.org/tlog-proof@v1";
/// More hashes than any audit path has: a tree of 2^63 entries.
const PATH_MOST: usize = 64;

/// A proof as it stands in a file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ProofFile {
    /// The entry's place, from 0: its sequence number less one.
    pub index: u64,
    /// The audit path, from the leaf upwards.
    pub path: Vec<Hash>,
    /// The signed head, exactly as the log gave it.
    pub note: String,
}

/// Why a file proves nothing.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum ProofFileError {
    /// It does not have the form of a proof.
    #[error("not a proof: {what}")]
    Form {
        /// What is wrong with it.
        what: &'static str,
    },
    /// The head in it is none, or not signed by this key.
    #[error(transparent)]
    Note(#[from] NoteError),
    /// The head is another log's.
    #[error("it is of the log {theirs}, and the key is that of {ours}")]
    OtherLog {
        /// The log named in the head.
        theirs: String,
        /// The log whose key was given.
        ours: String,
    },
    /// The entry is not the one at that place.
    #[error("these bytes are not entry {seq} of that log: {reason}")]
    Entry {
        /// The entry, from 1.
        seq: u64,
        /// Why.
        reason: ProofError,
    },
}

impl ProofFile {
    /// As text.
    pub fn text(&self) -> String {
        let mut text = format!("{FIRST_LINE}\nindex {}\n", self.index);
        for hash in &self.path {
            // Writing into a string does not fail.
            let _ = writeln!(text, "{}", BASE64.encode(hash.as_bytes()));
        }
        text.push('\n');
        text.push_str(&self.note);
        text
    }

    /// Reads one. Extra data is skipped: it is not covered by any signature.
    ///
    /// # Errors
    /// [`ProofFileError::Form`].
    pub fn parse(text: &str) -> Result<Self, ProofFileError> {
        let form = |what| ProofFileError::Form { what };
        let (head, note) = text.split_once("\n\n").ok_or(form("no empty line before the signed head"))?;
        let mut lines = head.split('\n').peekable();
        if lines.next() != Some(FIRST_LINE) {
            return Err(form("its first line is another"));
        }
        lines.next_if(|line| line.starts_with("extra "));
        let index = lines.next().and_then(|line| line.strip_prefix("index ")).ok_or(form("no index"))?;
        let plain = index.bytes().all(|byte| byte.is_ascii_digit()) && (index == "0" || !index.starts_with('0'));
        let index = index.parse().ok().filter(|_| plain).ok_or(form("its index is not a number"))?;
        let path: Option<Vec<Hash>> = lines
            .take(PATH_MOST + 1)
            .map(|line| BASE64.decode(line.as_bytes()).ok().and_then(|bytes| Hash::from_slice(&bytes)))
            .collect();
        let path = path.ok_or(form("a line of its path is not a hash"))?;
        if path.len() > PATH_MOST {
            return Err(form("its path is longer than any"));
        }
        Ok(Self { index, path, note: note.to_owned() })
    }

    /// Checks that these are the exact bytes of the entry at this place of the log that this key signs. Gives the
    /// head's size: the proof speaks of the log up to there. `check` is given the signed text and the signature.
    ///
    /// # Errors
    /// [`ProofFileError`].
    pub fn verify(
        &self,
        entry: &[u8],
        key: &NamedKey,
        check: impl FnOnce(&[u8], &[u8; 64]) -> bool,
    ) -> Result<u64, ProofFileError> {
        let note = SignedCheckpoint::parse(&self.note)?;
        let head = note.checkpoint();
        if head.origin != key.name() {
            return Err(ProofFileError::OtherLog { theirs: head.origin.clone(), ours: key.name().to_owned() });
        }
        note.verify(key, check)?;
        let proved = verify_inclusion(leaf_hash(entry), self.index, head.size, &self.path, head.root);
        proved.map_err(|reason| ProofFileError::Entry { seq: self.index.saturating_add(1), reason })?;
        Ok(head.size)
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
    use super::super::checkpoint::Checkpoint;
    use super::super::merkle::root;
    use super::super::proof::inclusion_proof;
    use super::*;

    /// A signature that any text has whose length it repeats: enough to see that text and key reach the check.
    fn made_up(text: &[u8]) -> [u8; 64] {
        [text.len().to_le_bytes()[0]; 64]
    }

    fn proof() -> (ProofFile, NamedKey, Vec<Vec<u8>>) {
        let entries: Vec<Vec<u8>> = (0..11u8).map(|byte| vec![byte; 3]).collect();
        let leaves: Vec<Hash> = entries.iter().map(|entry| leaf_hash(entry)).collect();
        let key = NamedKey::new("log.example", [7; 32]).unwrap();
        let head = Checkpoint { origin: "log.example".to_owned(), size: 11, root: root(&leaves) };
        let note = head.note(&key, &head.sign(made_up));
        (ProofFile { index: 6, path: inclusion_proof(&leaves, 6).unwrap(), note }, key, entries)
    }

    fn check(text: &[u8], signature: &[u8; 64]) -> bool {
        *signature == made_up(text)
    }

    #[test]
    fn a_proof_survives_its_text() {
        let (proof, key, entries) = proof();
        let text = proof.text();
        assert!(text.starts_with("c2sp.org/tlog-proof@v1\nindex 6\n"), "{text}");
        assert_eq!(ProofFile::parse(&text), Ok(proof.clone()));
        let extra = text.replacen('\n', "\nextra bm90aGluZw==\n", 1);
        assert_eq!(ProofFile::parse(&extra), Ok(proof.clone()));
        assert_eq!(proof.verify(&entries[6], &key, check), Ok(11));
    }

    #[test]
    fn another_entry_another_log_and_a_forged_head_are_told_apart() {
        let (proof, key, entries) = proof();
        let wrong = proof.verify(&entries[5], &key, check);
        assert!(matches!(wrong, Err(ProofFileError::Entry { seq: 7, .. })), "{wrong:?}");
        let other = NamedKey::new("other.example", [7; 32]).unwrap();
        assert!(matches!(proof.verify(&entries[6], &other, check), Err(ProofFileError::OtherLog { .. })));
        let forged = proof.verify(&entries[6], &key, |_, _| false);
        assert!(matches!(forged, Err(ProofFileError::Note(NoteError::Forged { .. }))));
        let moved = ProofFile { index: 7, ..proof };
        assert!(matches!(moved.verify(&entries[6], &key, check), Err(ProofFileError::Entry { .. })));
    }

    #[test]
    fn what_is_no_proof_is_refused() {
        let (proof, _, _) = proof();
        let text = proof.text();
        for bad in [
            "",
            "c2sp.org/tlog-proof@v1\nindex 6\n",
            &text.replacen("@v1", "@v2", 1),
            &text.replacen("index 6", "index 06", 1),
            &text.replacen("index 6", "index -1", 1),
            &text.replacen("index 6\n", "", 1),
            &text.replacen("index 6\n", "index 6\nAAAA\n", 1),
            &text.replacen(
                "index 6\n",
                &format!("index 6\n{}", format!("{}\n", BASE64.encode(&[0; 32])).repeat(65)),
                1,
            ),
        ] {
            assert!(matches!(ProofFile::parse(bad), Err(ProofFileError::Form { .. })), "{bad}");
        }
    }
}
