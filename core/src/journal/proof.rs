//! Proofs over the tree: that one entry is in it, and that a longer journal begins with a shorter one.

use super::merkle::{Hash, empty_root, node_hash, root};
use thiserror::Error;

/// Why a proof, or a stored frontier, does not hold.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum ProofError {
    /// A leaf was asked for that the tree does not have.
    #[error("leaf {index} is not in a tree of {size}")]
    LeafOutOfRange {
        /// The leaf's index, from 0.
        index: u64,
        /// The leaves of the tree.
        size: u64,
    },
    /// The older tree is larger than the newer one.
    #[error("a tree of {older} cannot be the beginning of a tree of {newer}")]
    OlderIsLarger {
        /// Leaves of the tree that is said to be older.
        older: u64,
        /// Leaves of the tree that is said to be newer.
        newer: u64,
    },
    /// Too few or too many hashes.
    #[error("{found} hashes, where {wanted} belong")]
    Length {
        /// How many there are.
        found: usize,
        /// How many there must be.
        wanted: usize,
    },
    /// The hashes lead to another root than the one given.
    #[error("the hashes lead to the root {found}, not to {wanted}")]
    Root {
        /// Where they lead.
        found: Hash,
        /// What was given.
        wanted: Hash,
    },
}

/// The largest power of two below `size`, which must be 2 or more: where RFC 6962 splits a tree.
const fn split(size: usize) -> usize {
    1 << (usize::BITS - 1 - (size - 1).leading_zeros())
}

/// The audit path of one leaf (RFC 6962, 2.1.1), from the leaf upwards.
///
/// # Errors
/// [`ProofError::LeafOutOfRange`].
pub fn inclusion_proof(leaves: &[Hash], index: u64) -> Result<Vec<Hash>, ProofError> {
    let size = leaves.len() as u64;
    let out_of_range = ProofError::LeafOutOfRange { index, size };
    let mut place = usize::try_from(index).ok().filter(|place| *place < leaves.len()).ok_or(out_of_range)?;
    let mut rest = leaves;
    let mut path = Vec::new();
    while rest.len() > 1 {
        let (left, right) = rest.split_at(split(rest.len()));
        let (next, sibling) = if place < left.len() { (left, right) } else { (right, left) };
        place -= if place < left.len() { 0 } else { left.len() };
        path.push(root(sibling));
        rest = next;
    }
    path.reverse();
    Ok(path)
}

/// Checks that a leaf is the one at `index` in the tree of `size` leaves with this root (RFC 9162, 2.1.3.2, which
/// spells out for the same tree what RFC 6962 leaves to the reader).
///
/// # Errors
/// [`ProofError`]: why it is not proved.
pub fn verify_inclusion(leaf: Hash, index: u64, size: u64, proof: &[Hash], wanted: Hash) -> Result<(), ProofError> {
    if index >= size {
        return Err(ProofError::LeafOutOfRange { index, size });
    }
    let length = inclusion_length(index, size);
    if proof.len() != length {
        return Err(ProofError::Length { found: proof.len(), wanted: length });
    }
    let (mut place, mut last) = (index, size - 1);
    let found = proof.iter().fold(leaf, |hash, sibling| {
        let sibling_is_left = place & 1 == 1 || place == last;
        if sibling_is_left && place & 1 == 0 {
            // The last subtree without a sibling moves up until it has one.
            let up = place.trailing_zeros().min(63);
            place >>= up;
            last >>= up;
        }
        place >>= 1;
        last >>= 1;
        if sibling_is_left { node_hash(*sibling, hash) } else { node_hash(hash, *sibling) }
    });
    if found == wanted { Ok(()) } else { Err(ProofError::Root { found, wanted }) }
}

/// How many hashes an audit path has: below where the paths of this leaf and of the last one part, a sibling each
/// level; above, one for each 1 of the place, since a lone subtree moves up without a partner.
const fn inclusion_length(index: u64, size: u64) -> usize {
    let inner = u64::BITS - (index ^ (size - 1)).leading_zeros();
    let border = if inner == u64::BITS { 0 } else { (index >> inner).count_ones() };
    (inner + border) as usize
}

/// What proves that the tree of the first `older` leaves is the beginning of this one (RFC 6962, 2.1.2).
///
/// # Errors
/// [`ProofError::OlderIsLarger`].
pub fn consistency_proof(leaves: &[Hash], older: u64) -> Result<Vec<Hash>, ProofError> {
    let larger = ProofError::OlderIsLarger { older, newer: leaves.len() as u64 };
    let mut kept = usize::try_from(older).ok().filter(|kept| *kept <= leaves.len()).ok_or(larger)?;
    let mut path = Vec::new();
    if kept == 0 || kept == leaves.len() {
        return Ok(path);
    }
    let mut rest = leaves;
    let mut is_older_root = true;
    while kept != rest.len() {
        let (left, right) = rest.split_at(split(rest.len()));
        if kept <= left.len() {
            path.push(root(right));
            rest = left;
        } else {
            path.push(root(left));
            kept -= left.len();
            rest = right;
            is_older_root = false;
        }
    }
    if !is_older_root {
        path.push(root(rest));
    }
    path.reverse();
    Ok(path)
}

/// Checks that a tree of `older` leaves is the beginning of a tree of `newer` leaves (RFC 9162, 2.1.4.2).
///
/// # Errors
/// [`ProofError`]: why it is not proved.
pub fn verify_consistency(
    (older, older_root): (u64, Hash),
    (newer, newer_root): (u64, Hash),
    proof: &[Hash],
) -> Result<(), ProofError> {
    if older > newer {
        return Err(ProofError::OlderIsLarger { older, newer });
    }
    let same =
        |found: Hash, wanted: Hash| if found == wanted { Ok(()) } else { Err(ProofError::Root { found, wanted }) };
    if older == 0 || older == newer {
        if !proof.is_empty() {
            return Err(ProofError::Length { found: proof.len(), wanted: 0 });
        }
        return if older == 0 { same(older_root, empty_root()) } else { same(older_root, newer_root) };
    }
    let (mut place, mut last) = (older - 1, newer - 1);
    let skipped = place.trailing_ones();
    place >>= skipped;
    last >>= skipped;
    // When the older tree is one complete subtree, its own root begins the proof and is left out.
    let wanted = inclusion_length(place, last + 1) + usize::from(!older.is_power_of_two());
    if proof.len() != wanted {
        return Err(ProofError::Length { found: proof.len(), wanted });
    }
    let (first, rest) = match (older.is_power_of_two(), proof.split_first()) {
        (false, Some((first, rest))) => (*first, rest),
        (true, _) | (false, None) => (older_root, proof),
    };
    let (mut old, mut new) = (first, first);
    for sibling in rest {
        if place & 1 == 1 || place == last {
            old = node_hash(*sibling, old);
            new = node_hash(*sibling, new);
            let up = if place & 1 == 0 { place.trailing_zeros().min(63) } else { 0 };
            place >>= up;
            last >>= up;
        } else {
            new = node_hash(new, *sibling);
        }
        place >>= 1;
        last >>= 1;
    }
    same(old, older_root)?;
    same(new, newer_root)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
    use super::*;
    use crate::journal::merkle::leaf_hash;
    use ct_merkle::mem_backed_tree::MemoryBackedTree;
    use proptest::prelude::*;

    fn hashes(leaves: &[Vec<u8>]) -> Vec<Hash> {
        leaves.iter().map(|leaf| leaf_hash(leaf)).collect()
    }

    fn other(leaves: &[Vec<u8>]) -> MemoryBackedTree<sha2::Sha256, Vec<u8>> {
        let mut tree = MemoryBackedTree::new();
        leaves.iter().for_each(|leaf| tree.push(leaf.clone()));
        tree
    }

    fn flat(proof: &[Hash]) -> Vec<u8> {
        proof.iter().flat_map(|hash| *hash.as_bytes()).collect()
    }

    #[test]
    fn every_pair_of_sizes_up_to_forty() {
        let leaves: Vec<Vec<u8>> = (0..40u8).map(|byte| vec![byte; usize::from(byte)]).collect();
        let hashes = hashes(&leaves);
        for newer in 0..=hashes.len() {
            let new = (newer as u64, root(&hashes[..newer]));
            for older in 0..=newer {
                let old = (older as u64, root(&hashes[..older]));
                let proof = consistency_proof(&hashes[..newer], old.0).unwrap();
                assert_eq!(verify_consistency(old, new, &proof), Ok(()), "{older} of {newer}");
                let longer = [proof.as_slice(), &[new.1]].concat();
                assert!(verify_consistency(old, new, &longer).is_err());
                let wrong = (old.0, leaf_hash(b"rewritten"));
                assert!(matches!(verify_consistency(wrong, new, &proof), Err(ProofError::Root { .. })));
            }
            for index in 0..newer {
                let proof = inclusion_proof(&hashes[..newer], index as u64).unwrap();
                assert_eq!(verify_inclusion(hashes[index], index as u64, new.0, &proof, new.1), Ok(()));
                let beside = (index as u64 + 1) % new.0;
                assert!(newer == 1 || verify_inclusion(hashes[index], beside, new.0, &proof, new.1).is_err());
            }
            assert!(inclusion_proof(&hashes[..newer], newer as u64).is_err());
        }
        assert!(matches!(consistency_proof(&hashes, 41), Err(ProofError::OlderIsLarger { older: 41, newer: 40 })));
    }

    #[test]
    fn proofs_of_absurd_sizes_do_not_overflow() {
        let hash = leaf_hash(b"x");
        for (index, size) in [(0, u64::MAX), (u64::MAX - 1, u64::MAX), (u64::MAX, u64::MAX), (1 << 63, u64::MAX)] {
            for length in [0, 1, 63, 64, 65] {
                assert!(verify_inclusion(hash, index, size, &vec![hash; length], hash).is_err());
                assert!(verify_consistency((index, hash), (size, empty_root()), &vec![hash; length]).is_err());
            }
        }
    }

    proptest! {
        #[test]
        fn agrees_with_another_implementation(
            leaves in prop::collection::vec(prop::collection::vec(any::<u8>(), 0..40), 1..200),
            index in any::<prop::sample::Index>(),
            older in any::<prop::sample::Index>(),
        ) {
            // RFC 6962, 2.1, 2.1.1 and 2.1.2, against the crate ct-merkle 0.3.
            let (hashes, other) = (hashes(&leaves), other(&leaves));
            prop_assert_eq!(root(&hashes).as_bytes().to_vec(), other.root().as_bytes().to_vec());
            let index = index.index(leaves.len());
            let proof = inclusion_proof(&hashes, index as u64).unwrap();
            prop_assert_eq!(flat(&proof), other.prove_inclusion(index).as_bytes().to_vec());
            let older = older.index(leaves.len()) + 1;
            let proof = consistency_proof(&hashes, older as u64).unwrap();
            if older < leaves.len() {
                prop_assert_eq!(flat(&proof), other.prove_consistency(leaves.len() - older).as_bytes().to_vec());
            }
        }

        #[test]
        fn a_flipped_bit_is_found(
            size in 2u64..100, place in any::<prop::sample::Index>(), flip in any::<prop::sample::Index>(), bit in 0u8..8,
        ) {
            let leaves: Vec<Hash> = (0..size).map(|place| leaf_hash(&place.to_be_bytes())).collect();
            let index = place.index(leaves.len());
            let mut proof = inclusion_proof(&leaves, index as u64).unwrap();
            let flip = flip.index(proof.len() * 32);
            let mut bytes = *proof[flip / 32].as_bytes();
            bytes[flip % 32] ^= 1 << bit;
            proof[flip / 32] = Hash::from_bytes(bytes);
            prop_assert!(verify_inclusion(leaves[index], index as u64, size, &proof, root(&leaves)).is_err());
        }
    }
}
