//! A witness where there is no hub: a folder on another disk, a second card, a stick that the lead takes home.
//!
//! It keeps one signed head for each log. A head is taken over the older one only when the journal has done nothing
//! but grow; otherwise the older one stays, and what is wrong is told. The kept file is what `journal verify
//! --checkpoint` takes.

use super::keys;
use super::{Record, StoreError};
use sparkout_core::journal::Checkpoint;
use sparkout_core::journal::checkpoint::NamedKey;
use sparkout_core::journal::witness::{self, Alarm};
use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use thiserror::Error;

/// A folder that keeps heads.
#[derive(Debug, Clone)]
pub struct FolderWitness {
    folder: PathBuf,
}

/// Why a head was not vouched for.
#[derive(Debug, Error)]
pub enum NotVouched {
    /// The journal is not the one that was vouched for.
    #[error(transparent)]
    Alarm(#[from] Alarm),
    /// The witness is not there: nothing is known either way.
    #[error("{}: {error}", file.display())]
    Away {
        /// Where it keeps the head.
        file: PathBuf,
        /// What the system said.
        error: io::Error,
    },
    /// The journal itself did not answer.
    #[error(transparent)]
    Store(#[from] StoreError),
}

impl FolderWitness {
    /// A witness in this folder, which must be there: a folder made in the place of a stick that is not plugged in
    /// would vouch for anything.
    pub const fn new(folder: PathBuf) -> Self {
        Self { folder }
    }

    /// Where the head of this log is kept.
    pub fn file(&self, origin: &str) -> PathBuf {
        let name: String =
            origin.chars().map(|letter| if letter.is_ascii_alphanumeric() { letter } else { '-' }).collect();
        self.folder.join(format!("{name}.checkpoint"))
    }

    /// Offers the journal's newest head. Gives the size that is vouched for now.
    ///
    /// # Errors
    /// [`NotVouched`]; the older head stays.
    pub fn vouch(&self, disk: &dyn Record, key: &NamedKey) -> Result<u64, NotVouched> {
        let file = self.file(key.name());
        let away = |error| NotVouched::Away { file: file.clone(), error };
        let check = |text: &[u8], signature: &[u8; 64]| keys::is_signed_by(key.public_key(), text, signature);
        let kept = match fs::read_to_string(&file) {
            Ok(note) => Some(witness::signed(&note, key, check)?),
            Err(error) if error.kind() == io::ErrorKind::NotFound && self.folder.is_dir() => None,
            Err(error) => return Err(away(error)),
        };
        let head = disk.head()?;
        let offered = witness::signed(&head.note, key, check)?;
        let older = kept.as_ref().map_or(0, |kept| kept.size);
        let proof = if older <= offered.size { disk.consistency(older)? } else { Vec::new() };
        witness::judge(kept.as_ref(), &offered, &proof)?;
        if kept.as_ref().map(|kept| kept.size) != Some(offered.size) {
            keep(&file, &head.note).map_err(away)?;
        }
        Ok(offered.size)
    }

    /// What is vouched for now, by its own word; `None` when nothing is.
    pub fn kept(&self, origin: &str) -> Option<Checkpoint> {
        let note = fs::read_to_string(self.file(origin)).ok()?;
        Some(sparkout_core::journal::SignedCheckpoint::parse(&note).ok()?.checkpoint().clone())
    }
}

/// The new head is whole on the disk before the old one goes.
fn keep(file: &Path, note: &str) -> io::Result<()> {
    let part = file.with_extension("part");
    let mut writing = File::create(&part)?;
    writing.write_all(note.as_bytes())?;
    writing.sync_all()?;
    fs::rename(&part, file)?;
    keys::sync_folder_of(file)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
    use super::*;
    use crate::store::open;
    use crate::store::tests::{entry, filled};

    fn copied(from: &Path) -> tempfile::TempDir {
        let copy = tempfile::tempdir().unwrap();
        for name in ["kiosk.db", "station.key"] {
            fs::copy(from.join(name), copy.path().join(name)).unwrap();
        }
        copy
    }

    #[test]
    fn growth_is_vouched_for_and_nothing_else() {
        let stick = tempfile::tempdir().unwrap();
        let witness = FolderWitness::new(stick.path().to_owned());
        let (folder, mut record) = filled(5);
        let key = record.station().key.clone();
        assert_eq!(witness.vouch(&record, &key).unwrap(), 5);
        assert_eq!(witness.vouch(&record, &key).unwrap(), 5);
        drop(record);
        let clone = copied(folder.path());
        record = open(folder.path()).unwrap();
        (6..=9).for_each(|_| drop(record.append(&[entry("{\"here\":1}")], &[])));
        assert_eq!(witness.vouch(&record, &key).unwrap(), 9);
        // A clone of the card, which goes on by itself.
        let mut other = open(clone.path()).unwrap();
        let mut grown = |to: u64| {
            while other.head().unwrap().size < to {
                other.append(&[entry("{\"there\":1}")], &[]).unwrap();
            }
            match witness.vouch(&other, &key) {
                Err(NotVouched::Alarm(alarm)) => alarm,
                other => panic!("{other:?}"),
            }
        };
        assert_eq!(grown(5), Alarm::Cut { vouched: 9, size: 5 });
        assert_eq!(grown(9), Alarm::Forked { size: 9 });
        assert_eq!(grown(12), Alarm::Rewritten { vouched: 9, size: 12 });
        // The one that was vouched for goes on.
        assert_eq!(witness.vouch(&record, &key).unwrap(), 9);
        assert_eq!(witness.kept(key.name()).unwrap().size, 9);
    }

    #[test]
    fn a_witness_that_is_not_there_vouches_for_nothing() {
        let stick = tempfile::tempdir().unwrap();
        let (_folder, record) = filled(3);
        let key = record.station().key.clone();
        let away = FolderWitness::new(stick.path().join("unplugged"));
        assert!(matches!(away.vouch(&record, &key), Err(NotVouched::Away { .. })));
        let witness = FolderWitness::new(stick.path().to_owned());
        fs::write(witness.file(key.name()), "scribble").unwrap();
        assert!(matches!(witness.vouch(&record, &key), Err(NotVouched::Alarm(Alarm::NotSigned))));
    }
}
