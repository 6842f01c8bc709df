//! A journal in memory that a bench and its test hold together.

use crate::store::{
    DerivedWrite, Head, MemoryRecord, NewEntry, NumberedEntry, PinHash, Project, Record, StoreError, Stored,
};
use sparkout_core::journal::Hash;
use std::sync::{Arc, Mutex};

/// A disk that the test keeps a hand on.
#[derive(Clone, Default)]
pub struct Shared(Arc<Mutex<MemoryRecord>>);

impl Shared {
    /// Does something with it behind the bench's back.
    pub fn with<T>(&self, act: impl FnOnce(&mut MemoryRecord) -> T) -> T {
        act(&mut self.0.lock().unwrap())
    }
}

impl Record for Shared {
    fn append(&mut self, entries: &[NewEntry], derived: &[DerivedWrite]) -> Result<Stored, StoreError> {
        self.with(|disk| disk.append(entries, derived))
    }
    fn entries(&self, from_seq: u64, most: usize) -> Result<Vec<NumberedEntry>, StoreError> {
        self.with(|disk| disk.entries(from_seq, most))
    }
    fn entries_of_visit(&self, visit: &str) -> Result<Vec<NumberedEntry>, StoreError> {
        self.with(|disk| disk.entries_of_visit(visit))
    }
    fn derived(&self, kind: &str, key: &str) -> Result<Option<String>, StoreError> {
        self.with(|disk| disk.derived(kind, key))
    }
    fn derived_all(&self, kind: &str) -> Result<Vec<(String, String)>, StoreError> {
        self.with(|disk| disk.derived_all(kind))
    }
    fn pin_hash(&self, badge: &str) -> Result<Option<PinHash>, StoreError> {
        self.with(|disk| disk.pin_hash(badge))
    }
    fn pinned(&self) -> Result<Vec<String>, StoreError> {
        self.with(|disk| disk.pinned())
    }
    fn head(&self) -> Result<Head, StoreError> {
        self.with(|disk| disk.head())
    }
    fn consistency(&self, older: u64) -> Result<Vec<Hash>, StoreError> {
        self.with(|disk| disk.consistency(older))
    }
    fn check(&self) -> Result<(), StoreError> {
        self.with(|disk| disk.check())
    }
    fn rebuild_derived(&mut self, project: &mut Project<'_>) -> Result<(), StoreError> {
        self.with(|disk| disk.rebuild_derived(project))
    }
}
