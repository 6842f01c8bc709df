//! Proofs out of the complete subtrees that a store keeps: a few dozen look-ups where the leaves would be millions.

use super::merkle::{Hash, empty_root, node_hash};
use super::proof::ProofError;
use thiserror::Error;

/// Why a proof could not be made out of stored subtrees. `E` is the store's own error.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum StoredError<E> {
    /// There is no such proof.
    #[error(transparent)]
    Proof(#[from] ProofError),
    /// A subtree that must be there is not.
    #[error("the hash of subtree {index} at level {level} is missing")]
    Missing {
        /// 0 for a leaf.
        level: u8,
        /// Its place among its level, from 0.
        index: u64,
    },
    /// The store did not answer.
    #[error("{0}")]
    Store(E),
}

/// The complete subtrees of a log, looked up one at a time.
pub struct Subtrees<F> {
    size: u64,
    look_up: F,
}

impl<E, F: FnMut(u8, u64) -> Result<Option<Hash>, E>> Subtrees<F> {
    /// A log of `size` entries; `look_up` is given (level, index) of a complete subtree.
    pub const fn new(size: u64, look_up: F) -> Self {
        Self { size, look_up }
    }

    /// The root over the first `size` entries, at most all of them.
    ///
    /// # Errors
    /// [`StoredError`].
    pub fn root_at(&mut self, size: u64) -> Result<Hash, StoredError<E>> {
        self.within(size)?;
        if size == 0 { Ok(empty_root()) } else { self.range(0, size) }
    }

    /// The audit path of one entry (RFC 6962, 2.1.1) in the tree of the first `size` entries.
    ///
    /// # Errors
    /// [`StoredError`].
    pub fn inclusion(&mut self, index: u64, size: u64) -> Result<Vec<Hash>, StoredError<E>> {
        self.within(size)?;
        if index >= size {
            return Err(ProofError::LeafOutOfRange { index, size }.into());
        }
        let (mut from, mut to) = (0, size);
        let mut path = Vec::new();
        while to - from > 1 {
            let middle = from + split(to - from);
            if index < middle {
                path.push(self.range(middle, to)?);
                to = middle;
            } else {
                path.push(self.range(from, middle)?);
                from = middle;
            }
        }
        path.reverse();
        Ok(path)
    }

    /// What proves that the first `older` entries are the beginning of the first `newer` (RFC 6962, 2.1.2).
    ///
    /// # Errors
    /// [`StoredError`].
    pub fn consistency(&mut self, older: u64, newer: u64) -> Result<Vec<Hash>, StoredError<E>> {
        self.within(newer)?;
        if older > newer {
            return Err(ProofError::OlderIsLarger { older, newer }.into());
        }
        let mut path = Vec::new();
        if older == 0 || older == newer {
            return Ok(path);
        }
        let (mut from, mut to) = (0, newer);
        let mut is_older_root = true;
        while to != older {
            let middle = from + split(to - from);
            if older <= middle {
                path.push(self.range(middle, to)?);
                to = middle;
            } else {
                path.push(self.range(from, middle)?);
                from = middle;
                is_older_root = false;
            }
        }
        if !is_older_root {
            path.push(self.range(from, to)?);
        }
        path.reverse();
        Ok(path)
    }

    fn within(&self, size: u64) -> Result<(), ProofError> {
        if size > self.size { Err(ProofError::OlderIsLarger { older: size, newer: self.size }) } else { Ok(()) }
    }

    /// The hash over the entries `from..to`, which is one subtree of the tree: `from` is a multiple of the power of
    /// two that `to - from` is rounded up to.
    fn range(&mut self, from: u64, to: u64) -> Result<Hash, StoredError<E>> {
        let length = to - from;
        if length.is_power_of_two() {
            let level = length.trailing_zeros().to_le_bytes()[0];
            let index = from >> level;
            let found = (self.look_up)(level, index).map_err(StoredError::Store)?;
            return found.ok_or(StoredError::Missing { level, index });
        }
        let middle = from + split(length);
        Ok(node_hash(self.range(from, middle)?, self.range(middle, to)?))
    }
}

/// The largest power of two below `length`, which must be 2 or more: where RFC 6962 splits a tree.
const fn split(length: u64) -> u64 {
    1 << (u64::BITS - 1 - (length - 1).leading_zeros())
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
    use super::super::merkle::{Tree, leaf_hash, root};
    use super::super::proof::{consistency_proof, inclusion_proof};
    use super::*;
    use proptest::prelude::*;
    use std::collections::HashMap;
    use std::convert::Infallible;

    fn stored(size: u64) -> (Vec<Hash>, HashMap<(u8, u64), Hash>) {
        let leaves: Vec<Hash> = (0..size).map(|place| leaf_hash(&place.to_be_bytes())).collect();
        let (mut nodes, mut tree) = (HashMap::new(), Tree::new());
        for leaf in &leaves {
            tree.append_noting(*leaf, |node| {
                nodes.insert((node.level, node.index), node.hash);
            });
        }
        (leaves, nodes)
    }

    proptest! {
        #[test]
        fn the_same_as_out_of_all_leaves(size in 1u64..400, a in any::<prop::sample::Index>(), b in any::<prop::sample::Index>()) {
            let (leaves, nodes) = stored(size);
            let mut looked_up = 0usize;
            let mut subtrees = Subtrees::new(size, |level, index| {
                looked_up += 1;
                Ok::<_, Infallible>(nodes.get(&(level, index)).copied())
            });
            let newer = b.index(leaves.len()) as u64 + 1;
            let older = a.index(newer as usize + 1) as u64;
            let index = a.index(newer as usize) as u64;
            let first = &leaves[..newer as usize];
            prop_assert_eq!(subtrees.root_at(newer).unwrap(), root(first));
            prop_assert_eq!(subtrees.consistency(older, newer).unwrap(), consistency_proof(first, older).unwrap());
            prop_assert_eq!(subtrees.inclusion(index, newer).unwrap(), inclusion_proof(first, index).unwrap());
            // Three answers, each a path of at most 9 with at most 9 look-ups a step; the leaves alone would be more.
            prop_assert!(looked_up < 3 * 81);
        }
    }

    #[test]
    fn what_is_not_there_is_told() {
        let (_, nodes) = stored(7);
        let mut subtrees = Subtrees::new(7, |level, index| {
            Ok::<_, &str>(nodes.get(&(level, index)).copied().filter(|_| (level, index) != (1, 2)))
        });
        assert_eq!(subtrees.inclusion(0, 7), Err(StoredError::Missing { level: 1, index: 2 }));
        assert_eq!(subtrees.inclusion(7, 7), Err(StoredError::Proof(ProofError::LeafOutOfRange { index: 7, size: 7 })));
        assert!(matches!(subtrees.root_at(8), Err(StoredError::Proof(ProofError::OlderIsLarger { .. }))));
        let mut silent = Subtrees::new(7, |_, _| Err::<Option<Hash>, _>("the disk is gone"));
        assert_eq!(silent.root_at(4), Err(StoredError::Store("the disk is gone")));
    }
}
