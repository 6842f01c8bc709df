//! `sparkout journal proof` and `check-proof`: one entry, proved to somebody who has nothing but a key.

use super::StoreError;
use super::journal;
use super::keys;
use super::read_only::{ReadOnlyJournal, Unreadable};
use data_encoding::BASE64;
use rusqlite::{OptionalExtension, params};
use sparkout_core::journal::checkpoint::NamedKey;
use sparkout_core::journal::proof_file::{ProofFile, ProofFileError};
use sparkout_core::journal::stored::{StoredError, Subtrees};
use sparkout_core::journal::{Checkpoint, Hash};
use thiserror::Error;

/// Signature type byte of Ed25519 in a verifier's key line (C2SP signed-note).
const ED25519: u8 = 0x01;

/// Why there is no proof of this entry.
#[derive(Debug, Error)]
pub enum NoProof {
    /// The file cannot be read.
    #[error(transparent)]
    Unreadable(#[from] Unreadable),
    /// There is no such entry.
    #[error("there is no entry {seq}: the newest signed head covers entries 1 to {size}")]
    NoEntry {
        /// What was asked for.
        seq: u64,
        /// What there is.
        size: u64,
    },
    /// The hashes kept beside the entries do not lead to a proof.
    #[error("the journal's own hashes do not prove it: {0}; run `sparkout journal verify`")]
    Hashes(String),
    /// A line that is no key.
    #[error("{0:?} is no verifier key: it must be NAME+KEYID+BASE64")]
    Key(String),
    /// What was given proves nothing.
    #[error(transparent)]
    Proof(#[from] ProofFileError),
}

/// One entry and its proof.
#[derive(Debug)]
pub struct Proved {
    /// The entry's exact bytes.
    pub entry: Vec<u8>,
    /// The proof that it stands at its place in the signed journal.
    pub proof: ProofFile,
    /// The log's key, as the line that a verifier is given by another way.
    pub key: String,
}

/// Proves one entry (from 1) out of a journal; the proof is checked before it is given away.
///
/// # Errors
/// [`NoProof`].
pub fn prove(file: &ReadOnlyJournal, seq: u64) -> Result<Proved, NoProof> {
    let fault = |error| NoProof::from(file.unreadable(error));
    let hashes = |error: &dyn std::fmt::Display| NoProof::Hashes(error.to_string());
    let station = journal::station(file.connection()).map_err(|error| hashes(&error))?;
    let station = station.ok_or_else(|| hashes(&"it does not say which station's it is"))?;
    let newest = "SELECT size, root, signature FROM checkpoint ORDER BY size DESC LIMIT 1";
    let head = file.connection().query_row(newest, [], |row| {
        Ok((row.get::<_, i64>(0)?.unsigned_abs(), Hash::from_bytes(row.get(1)?), row.get::<_, [u8; 64]>(2)?))
    });
    let (size, root, signature) = head.optional().map_err(fault)?.ok_or_else(|| hashes(&"there is no signed head"))?;
    let sql = "SELECT leaf FROM journal WHERE seq = ?1";
    let number = i64::try_from(seq).unwrap_or(i64::MAX);
    let entry: Option<Vec<u8>> =
        file.connection().query_row(sql, [number], |row| row.get(0)).optional().map_err(fault)?;
    let entry = entry.filter(|_| (1..=size).contains(&seq)).ok_or(NoProof::NoEntry { seq, size })?;
    let mut subtrees = Subtrees::new(size, |level, index| look_up(file, level, index));
    let path = subtrees.inclusion(seq - 1, size).map_err(|error| match error {
        StoredError::Store(error) => fault(error),
        StoredError::Proof(_) | StoredError::Missing { .. } => hashes(&error),
    })?;
    let note = Checkpoint { origin: station.origin.clone(), size, root }.note(&station.key, &signature);
    let proof = ProofFile { index: seq - 1, path, note };
    proof.verify(&entry, &station.key, |text, sig| keys::is_signed_by(station.key.public_key(), text, sig))?;
    Ok(Proved { entry, proof, key: station.key.verifier_line() })
}

/// What proves that the journal's first `size` entries begin with its first `older`; nothing where there are fewer.
///
/// # Errors
/// [`StoreError`], also when a stored hash is missing.
pub(super) fn consistency(file: &ReadOnlyJournal, older: u64, size: u64) -> Result<Vec<Hash>, StoreError> {
    if older > size {
        return Ok(Vec::new());
    }
    let proof = Subtrees::new(size, |level, index| look_up(file, level, index)).consistency(older, size);
    proof.map_err(|error| StoreError::corrupt(error.to_string()))
}

/// The root over the first `size` entries, out of the stored hashes.
///
/// # Errors
/// [`StoreError`], also when there are fewer.
pub(super) fn root_at(file: &ReadOnlyJournal, size: u64) -> Result<Hash, StoreError> {
    let root = Subtrees::new(size, |level, index| look_up(file, level, index)).root_at(size);
    root.map_err(|error| StoreError::corrupt(error.to_string()))
}

/// Checks a proof with nothing but the entry's bytes and the log's key line. Gives the entry's number and how many
/// entries the head covers.
///
/// # Errors
/// [`NoProof`].
pub fn check_proof(proof: &str, entry: &[u8], key: &str) -> Result<(u64, u64), NoProof> {
    let key = parse_key(key)?;
    let proof = ProofFile::parse(proof)?;
    let size = proof.verify(entry, &key, |text, sig| keys::is_signed_by(key.public_key(), text, sig))?;
    Ok((proof.index + 1, size))
}

fn look_up(file: &ReadOnlyJournal, level: u8, index: u64) -> rusqlite::Result<Option<Hash>> {
    let sql = "SELECT hash FROM node WHERE level = ?1 AND idx = ?2";
    let mut statement = file.connection().prepare_cached(sql)?;
    let index = i64::try_from(index).unwrap_or(i64::MAX);
    statement.query_row(params![level, index], |row| row.get(0).map(Hash::from_bytes)).optional()
}

/// Reads a key line, `NAME+KEYID+BASE64`.
///
/// # Errors
/// [`NoProof::Key`] when it is none, or its key id is not that of its name and key.
pub fn parse_key(line: &str) -> Result<NamedKey, NoProof> {
    let no_key = || NoProof::Key(line.to_owned());
    // The key's base64 may hold a plus itself; the name and the id cannot.
    let (name, rest) = line.trim().split_once('+').ok_or_else(no_key)?;
    let (key_id, base64) = rest.split_once('+').ok_or_else(no_key)?;
    let bytes = BASE64.decode(base64.as_bytes()).map_err(|_| no_key())?;
    let (kind, key) = bytes.split_first().ok_or_else(no_key)?;
    let key: [u8; 32] = key.try_into().ok().filter(|_| *kind == ED25519).ok_or_else(no_key)?;
    let key = NamedKey::new(name, key).map_err(|_| no_key())?;
    if key.key_id().to_string() == key_id { Ok(key) } else { Err(no_key()) }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
    use super::*;
    use crate::store::tests::filled;

    #[test]
    fn every_entry_is_proved_and_nothing_else() {
        let (folder, record) = filled(21);
        let file = ReadOnlyJournal::open(&folder.path().join("kiosk.db")).unwrap();
        for seq in 1..=21 {
            let Proved { entry, proof, key } = prove(&file, seq).unwrap();
            let text = proof.text();
            assert_eq!(check_proof(&text, &entry, &key).unwrap(), (seq, 21));
            let other = [entry.as_slice(), b" "].concat();
            assert!(matches!(check_proof(&text, &other, &key), Err(NoProof::Proof(ProofFileError::Entry { .. }))));
        }
        for seq in [0, 22, u64::MAX] {
            assert!(matches!(prove(&file, seq), Err(NoProof::NoEntry { size: 21, .. })));
        }
        drop(record);
    }

    #[test]
    fn a_key_line_is_read_as_it_is_written_and_no_other() {
        for byte in 0..=255 {
            let key = NamedKey::new("sparkout/station/incarnation", [byte; 32]).unwrap();
            assert_eq!(parse_key(&key.verifier_line()).unwrap(), key);
        }
        let line = NamedKey::new("log", [251; 32]).unwrap().verifier_line();
        for bad in ["", "log", "log+00000000", &line.replacen("log", "lag", 1), &line[..line.len() - 2]] {
            assert!(matches!(parse_key(bad), Err(NoProof::Key(_))), "{bad}");
        }
    }
}
