//! A journal in memory: the plain model that the real one is compared with, and a disk that fails when it is told to.
//! A clone of it is what a power cut leaves.

use super::{DerivedWrite, Head, NewEntry, NumberedEntry, PinHash, Project, Record, StoreError, Stored};
use sparkout_core::journal::{Checkpoint, Hash, Tree, merkle, proof};
use std::collections::{BTreeMap, VecDeque};

/// The model. Its heads are unsigned.
#[derive(Debug, Clone, Default)]
pub struct MemoryRecord {
    entries: Vec<NewEntry>,
    derived: BTreeMap<(String, String), String>,
    pins: BTreeMap<String, PinHash>,
    tree: Tree,
    failures: VecDeque<StoreError>,
}

impl MemoryRecord {
    /// Has the next append fail so; several are used up in order.
    pub fn fail_next(&mut self, failure: StoreError) {
        self.failures.push_back(failure);
    }

    fn write(&mut self, write: DerivedWrite) {
        match write {
            DerivedWrite::Put { kind, key, body } => drop(self.derived.insert((kind, key), body)),
            DerivedWrite::Remove { kind, key } => drop(self.derived.remove(&(kind, key))),
            DerivedWrite::Pin { badge, hash: Some(hash) } => drop(self.pins.insert(badge, hash)),
            DerivedWrite::Pin { badge, hash: None } => drop(self.pins.remove(&badge)),
        }
    }

    fn numbered(&self) -> impl Iterator<Item = (u64, &NewEntry)> {
        (1u64..).zip(&self.entries)
    }
}

impl Record for MemoryRecord {
    fn append(&mut self, entries: &[NewEntry], derived: &[DerivedWrite]) -> Result<Stored, StoreError> {
        if let Some(failure) = self.failures.pop_front() {
            return Err(failure);
        }
        if entries.is_empty() && !derived.is_empty() {
            return Err(StoreError::Other { detail: "derived records without an entry".to_owned() });
        }
        for entry in entries {
            self.tree.append(merkle::leaf_hash(&entry.bytes));
            self.entries.push(entry.clone());
        }
        derived.iter().cloned().for_each(|write| self.write(write));
        Ok(Stored { seq: self.tree.size(), root: self.tree.root() })
    }

    fn entries(&self, from_seq: u64, most: usize) -> Result<Vec<NumberedEntry>, StoreError> {
        let from = self.numbered().filter(|(seq, _)| *seq >= from_seq);
        Ok(from.take(most).map(|(seq, entry)| (seq, entry.bytes.clone())).collect())
    }

    fn entries_of_visit(&self, visit: &str) -> Result<Vec<NumberedEntry>, StoreError> {
        let of_visit = self.numbered().filter(|(_, entry)| entry.visit.as_deref() == Some(visit));
        Ok(of_visit.map(|(seq, entry)| (seq, entry.bytes.clone())).collect())
    }

    fn derived(&self, kind: &str, key: &str) -> Result<Option<String>, StoreError> {
        Ok(self.derived.get(&(kind.to_owned(), key.to_owned())).cloned())
    }

    fn derived_all(&self, kind: &str) -> Result<Vec<(String, String)>, StoreError> {
        let of_kind = self.derived.iter().filter(|((of, _), _)| of == kind);
        Ok(of_kind.map(|((_, key), body)| (key.clone(), body.clone())).collect())
    }

    fn pin_hash(&self, badge: &str) -> Result<Option<PinHash>, StoreError> {
        Ok(self.pins.get(badge).cloned())
    }

    fn pinned(&self) -> Result<Vec<String>, StoreError> {
        Ok(self.pins.keys().cloned().collect())
    }

    fn head(&self) -> Result<Head, StoreError> {
        let (size, root) = (self.tree.size(), self.tree.root());
        let note = Checkpoint { origin: "in memory".to_owned(), size, root }.text();
        Ok(Head { size, root, note })
    }

    fn consistency(&self, older: u64) -> Result<Vec<Hash>, StoreError> {
        let leaves: Vec<Hash> = self.entries.iter().map(|entry| merkle::leaf_hash(&entry.bytes)).collect();
        proof::consistency_proof(&leaves, older).map_err(|error| StoreError::Other { detail: error.to_string() })
    }

    fn check(&self) -> Result<(), StoreError> {
        Ok(())
    }

    fn rebuild_derived(&mut self, project: &mut Project<'_>) -> Result<(), StoreError> {
        self.derived.clear();
        let writes: Vec<DerivedWrite> = self.numbered().flat_map(|(seq, entry)| project(seq, &entry.bytes)).collect();
        writes.into_iter().for_each(|write| self.write(write));
        Ok(())
    }
}
