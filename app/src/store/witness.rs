//! A witness where there is no hub: a folder on another disk, a second card, a stick that the lead takes home.
//!
//! It keeps one signed head for each log. A head is taken over the older one only when the journal has done nothing
//! but grow; otherwise the older one stays, and what is wrong is told. The kept file is what `journal verify
//! --checkpoint` takes.

use super::read_only::{ReadOnlyJournal, Unreadable, steady};
use super::{StoreError, journal, keys, prove, restore};
use sparkout_core::journal::checkpoint::NamedKey;
use sparkout_core::journal::witness::{self, Alarm};
use sparkout_core::journal::{Checkpoint, Hash};
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
    /// Its file could not be read.
    #[error(transparent)]
    Unreadable(#[from] Unreadable),
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

    /// Offers the newest head of a journal's file, which a kiosk may have open. Gives the size that is vouched for now.
    /// Nothing of the journal is held while the folder, which may be slow or hang, is read and written.
    ///
    /// # Errors
    /// [`NotVouched`]; the older head stays.
    pub fn vouch_for(&self, database: &Path) -> Result<u64, NotVouched> {
        let read = |journal: &ReadOnlyJournal| {
            let station = journal::station(journal.connection());
            let parent = restore::parent(journal.connection()).map_err(|error| journal.unreadable(error))?;
            Ok(station.map(|station| (station, parent.map(|(_, parent)| parent))))
        };
        let (station, parent) = steady(database, read)??;
        let station = station.ok_or_else(|| StoreError::corrupt("the journal does not say whose it is"))?;
        let prove = |older: u64| {
            steady(database, |journal| {
                let head = journal::newest_head(journal.connection());
                Ok(head.and_then(|(note, head)| Ok((note, prove::consistency(journal, older, head.size)?))))
            })?
            .map_err(NotVouched::from)
        };
        self.offer(&station.key, parent.as_ref(), prove)
    }

    /// The head that is kept of this log, checked; `None` when there is none.
    fn kept_of(&self, origin: &str, key: &NamedKey) -> Result<Option<Checkpoint>, NotVouched> {
        let file = self.file(origin);
        match fs::read_to_string(&file) {
            Ok(note) => {
                let key = NamedKey::new(origin, *key.public_key()).map_err(|_| Alarm::NotSigned)?;
                let check = |text: &[u8], signature: &[u8; 64]| keys::is_signed_by(key.public_key(), text, signature);
                Ok(Some(witness::signed(&note, &key, check)?))
            }
            Err(error) if error.kind() == io::ErrorKind::NotFound && self.folder.is_dir() => Ok(None),
            Err(error) if error.kind() == io::ErrorKind::InvalidData => Err(Alarm::NotSigned.into()),
            Err(error) => Err(NotVouched::Away { file, error }),
        }
    }

    /// Offers a head: `prove` is given the size that is kept, and gives the newest note with the proof from there.
    fn offer(
        &self,
        key: &NamedKey,
        parent: Option<&Checkpoint>,
        prove: impl Fn(u64) -> Result<(String, Vec<Hash>), NotVouched>,
    ) -> Result<u64, NotVouched> {
        let check = |text: &[u8], signature: &[u8; 64]| keys::is_signed_by(key.public_key(), text, signature);
        let kept = self.kept_of(key.name(), key)?;
        let older = match (&kept, parent) {
            (Some(kept), _) => Some(kept.clone()),
            // A log that was put back is held once against what is kept of the log that it goes on from.
            (None, Some(parent)) => self.kept_of(&parent.origin, key)?,
            (None, None) => None,
        };
        if kept.is_none() && parent.is_none() {
            self.other_log_of(key.name())?;
        }
        let (note, proof) = prove(older.as_ref().map_or(0, |older| older.size))?;
        let offered = witness::signed(&note, key, check)?;
        let older = older.map(|older| Checkpoint { origin: offered.origin.clone(), ..older });
        let judged = witness::judge(older.as_ref(), &offered, &proof);
        let is_kept = judged.is_ok() || kept.is_none();
        if is_kept && kept.map(|kept| kept.size) != Some(offered.size) {
            let file = self.file(key.name());
            keep(&file, &note).map_err(|error| NotVouched::Away { file, error })?;
        }
        judged?;
        Ok(offered.size)
    }

    /// Whether another log of this station is kept here, which this one does not name as the one it goes on from: then
    /// the journal was begun anew in the place of one that was vouched for.
    fn other_log_of(&self, origin: &str) -> Result<(), NotVouched> {
        let Some((station, _)) = origin.rsplit_once('/') else { return Ok(()) };
        let of_station = self.file(&format!("{station}/")).with_extension("");
        let of_station = of_station.file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned());
        let away = |error| NotVouched::Away { file: self.folder.clone(), error };
        for entry in fs::read_dir(&self.folder).map_err(away)? {
            let name = entry.map_err(away)?.file_name().to_string_lossy().into_owned();
            if name.starts_with(&of_station) && name.ends_with(".checkpoint") {
                return Err(Alarm::OtherLog { kept: name, offered: origin.to_owned() }.into());
            }
        }
        Ok(())
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
    use crate::store::restore::restore;
    use crate::store::tests::{entry, filled};
    use crate::store::{Record, SqliteRecord, open};
    use sparkout_core::moment::Moment;
    use tempfile::{TempDir, tempdir};

    fn copied(from: &Path) -> TempDir {
        let copy = tempdir().unwrap();
        for name in ["kiosk.db", "station.key"] {
            fs::copy(from.join(name), copy.path().join(name)).unwrap();
        }
        copy
    }

    fn witness() -> (TempDir, FolderWitness) {
        let stick = tempdir().unwrap();
        let witness = FolderWitness::new(stick.path().to_owned());
        (stick, witness)
    }

    fn grow(record: &mut SqliteRecord, to: u64, text: &str) {
        while record.head().unwrap().size < to {
            record.append(&[entry(text)], &[]).unwrap();
        }
    }

    fn database(folder: &TempDir) -> PathBuf {
        folder.path().join("kiosk.db")
    }

    fn alarm(vouched: Result<u64, NotVouched>) -> Alarm {
        match vouched {
            Err(NotVouched::Alarm(alarm)) => alarm,
            other => panic!("{other:?}"),
        }
    }

    fn now() -> Moment {
        Moment { wall: "2026-05-14T09:30:00Z".parse().unwrap(), monotonic_ms: 0, boot: "b".to_owned() }
    }

    #[test]
    fn growth_is_vouched_for_and_nothing_else() {
        let (_stick, witness) = witness();
        let (folder, mut record) = filled(5);
        let origin = record.station().origin.clone();
        // Beside the kiosk that has it open, as it will be.
        assert_eq!(witness.vouch_for(&database(&folder)).unwrap(), 5);
        assert_eq!(witness.vouch_for(&database(&folder)).unwrap(), 5);
        drop(record);
        let clone = copied(folder.path());
        record = open(folder.path()).unwrap();
        grow(&mut record, 9, "{\"here\":1}");
        assert_eq!(witness.vouch_for(&database(&folder)).unwrap(), 9);
        // A clone of the card, which goes on by itself.
        let mut other = open(clone.path()).unwrap();
        let mut grown = |to: u64| {
            grow(&mut other, to, "{\"there\":1}");
            alarm(witness.vouch_for(&database(&clone)))
        };
        assert_eq!(grown(5), Alarm::Cut { vouched: 9, size: 5 });
        assert_eq!(grown(9), Alarm::Forked { size: 9 });
        assert_eq!(grown(12), Alarm::Rewritten { vouched: 9, size: 12 });
        // The one that was vouched for goes on.
        assert_eq!(witness.vouch_for(&database(&folder)).unwrap(), 9);
        assert_eq!(witness.kept(&origin).unwrap().size, 9);
    }

    #[test]
    fn a_witness_that_is_not_there_vouches_for_nothing() {
        let (stick, witness) = witness();
        let (folder, record) = filled(3);
        let away = FolderWitness::new(stick.path().join("unplugged"));
        assert!(matches!(away.vouch_for(&database(&folder)), Err(NotVouched::Away { .. })));
        for scribble in [&b"scribble"[..], b"\xff\xfe"] {
            fs::write(witness.file(&record.station().origin), scribble).unwrap();
            assert_eq!(alarm(witness.vouch_for(&database(&folder))), Alarm::NotSigned);
        }
    }

    #[test]
    fn a_journal_begun_anew_is_not_the_one_that_was_vouched_for() {
        let (_stick, witness) = witness();
        let (folder, record) = filled(3);
        witness.vouch_for(&database(&folder)).unwrap();
        drop(record);
        fs::remove_file(database(&folder)).unwrap();
        let record = open(folder.path()).unwrap();
        assert!(matches!(alarm(witness.vouch_for(&database(&folder))), Alarm::OtherLog { .. }));
        assert!(witness.kept(&record.station().origin).is_none(), "nothing is vouched for");
    }

    #[test]
    fn one_that_was_put_back_is_held_once_against_the_log_it_goes_on_from() {
        let (_stick, witness) = witness();
        let (folder, mut record) = filled(5);
        drop(record);
        let backup = copied(folder.path());
        record = open(folder.path()).unwrap();
        grow(&mut record, 9, "later");
        witness.vouch_for(&database(&folder)).unwrap();
        drop(record);
        // Yesterday's backup: what came after it is gone, and that is told, once; from then on the new log is vouched for.
        restore(&database(&backup), folder.path(), &now()).unwrap();
        let record = open(folder.path()).unwrap();
        assert_eq!(alarm(witness.vouch_for(&database(&folder))), Alarm::Cut { vouched: 9, size: 6 });
        assert_eq!(witness.vouch_for(&database(&folder)).unwrap(), 6);
        drop(record);
        // The newest state put back loses nothing, and nothing is told.
        restore(&database(&folder), folder.path(), &now()).unwrap();
        let record = open(folder.path()).unwrap();
        assert_eq!(witness.vouch_for(&database(&folder)).unwrap(), 7);
        assert_eq!(record.parent().unwrap().unwrap().size, 6);
    }
}
