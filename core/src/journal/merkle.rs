//! The Merkle tree of RFC 6962, section 2.1, over SHA-256.
//!
//! A leaf is hashed behind a byte 0x00 and a node behind a byte 0x01, so that no entry can be made up that
//! passes for a node. The tree is never held whole: appending needs only its *frontier*, the complete subtrees
//! that are still without a sibling, one for each 1 in the binary size.

use super::proof::ProofError;
use sha2::{Digest, Sha256};
use std::fmt;

const LEAF_PREFIX: u8 = 0x00;
const NODE_PREFIX: u8 = 0x01;
/// Hexadecimal digits of a root that a daily sheet prints: enough that no second root is found by trying.
const SHORT_DIGITS: usize = 16;

/// A SHA-256 value: of a leaf, of a node, or of the whole tree.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Hash([u8; 32]);

/// A complete subtree: it covers the leaves `index * 2^level` to `(index + 1) * 2^level - 1`, and never changes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Node {
    /// 0 for a leaf, one more for each doubling.
    pub level: u8,
    /// The place among the subtrees of its level, from 0.
    pub index: u64,
    /// Its hash.
    pub hash: Hash,
}

/// A tree that grows: appending a leaf costs as many hashes as the size has trailing ones, 64 at the most.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Tree {
    size: u64,
    /// The largest subtree first.
    frontier: Vec<Hash>,
}

impl Hash {
    /// From the 32 bytes of the value.
    pub const fn from_bytes(bytes: [u8; 32]) -> Self {
        Self(bytes)
    }

    /// From a slice, when it is 32 bytes long.
    pub fn from_slice(bytes: &[u8]) -> Option<Self> {
        bytes.try_into().ok().map(Self)
    }

    /// The 32 bytes of the value.
    pub const fn as_bytes(&self) -> &[u8; 32] {
        &self.0
    }

    /// The first 16 hexadecimal digits, for a sheet of paper.
    pub fn short(&self) -> String {
        self.to_string().chars().take(SHORT_DIGITS).collect()
    }
}

impl fmt::Display for Hash {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().try_for_each(|byte| write!(formatter, "{byte:02x}"))
    }
}

impl fmt::Debug for Hash {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(formatter, "Hash({self})")
    }
}

/// The root of a tree without leaves: SHA-256 of nothing (RFC 6962, 2.1).
pub fn empty_root() -> Hash {
    Hash(Sha256::digest([]).into())
}

/// The hash of an entry's exact bytes.
pub fn leaf_hash(bytes: &[u8]) -> Hash {
    Hash(Sha256::new().chain_update([LEAF_PREFIX]).chain_update(bytes).finalize().into())
}

/// The hash of a node over its two children.
pub fn node_hash(left: Hash, right: Hash) -> Hash {
    Hash(Sha256::new().chain_update([NODE_PREFIX]).chain_update(left.0).chain_update(right.0).finalize().into())
}

/// Where a tree of this size keeps its frontier, as (level, index), the largest subtree first.
pub fn frontier_places(size: u64) -> Vec<(u8, u64)> {
    (0..64u8).rev().filter(|level| size >> level & 1 == 1).map(|level| (level, (size >> level) - 1)).collect()
}

impl Tree {
    /// A tree without leaves.
    pub fn new() -> Self {
        Self::default()
    }

    /// A tree taken up again where it was left. Whether the hashes are the right ones shows in [`Tree::root`] only.
    ///
    /// # Errors
    /// [`ProofError::Length`] when there are not as many hashes as the size has binary ones.
    pub fn from_frontier(size: u64, frontier: Vec<Hash>) -> Result<Self, ProofError> {
        let wanted = size.count_ones() as usize;
        if frontier.len() != wanted {
            return Err(ProofError::Length { found: frontier.len(), wanted });
        }
        Ok(Self { size, frontier })
    }

    /// How many leaves.
    pub const fn size(&self) -> u64 {
        self.size
    }

    /// The complete subtrees without a sibling, the largest first: with the size, all that is needed to go on.
    pub fn frontier(&self) -> &[Hash] {
        &self.frontier
    }

    /// Appends a leaf's hash.
    pub fn append(&mut self, leaf: Hash) {
        self.append_noting(leaf, |_| {});
    }

    /// Appends a leaf's hash and tells every subtree that it completes, the leaf itself first.
    pub fn append_noting(&mut self, leaf: Hash, mut note: impl FnMut(Node)) {
        let mut node = Node { level: 0, index: self.size, hash: leaf };
        note(node);
        while node.index & 1 == 1 {
            // An odd index has its left sibling waiting in the frontier, by what the frontier is.
            let Some(left) = self.frontier.pop() else { break };
            node = Node { level: node.level + 1, index: node.index >> 1, hash: node_hash(left, node.hash) };
            note(node);
        }
        self.frontier.push(node.hash);
        self.size += 1;
    }

    /// The root: the frontier folded from its small end.
    pub fn root(&self) -> Hash {
        self.frontier.iter().rev().copied().reduce(|right, left| node_hash(left, right)).unwrap_or_else(empty_root)
    }
}

/// The root of a tree over these leaf hashes.
pub fn root(leaves: &[Hash]) -> Hash {
    let mut tree = Tree::new();
    leaves.iter().for_each(|leaf| tree.append(*leaf));
    tree.root()
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
    use super::*;
    use proptest::prelude::*;

    /// The leaves that the reference implementation of RFC 6962 tests itself with (certificate-transparency,
    /// `merkle_tree_test.cc`, 2013; values from memory, each confirmed by the hash itself).
    const REFERENCE_LEAVES: [&[u8]; 8] = [
        b"",
        b"\x00",
        b"\x10",
        b"\x20\x21",
        b"\x30\x31",
        b"\x40\x41\x42\x43",
        b"\x50\x51\x52\x53\x54\x55\x56\x57",
        b"\x60\x61\x62\x63\x64\x65\x66\x67\x68\x69\x6a\x6b\x6c\x6d\x6e\x6f",
    ];
    const REFERENCE_ROOTS: [&str; 8] = [
        "6e340b9cffb37a989ca544e6bb780a2c78901d3fb33738768511a30617afa01d",
        "fac54203e7cc696cf0dfcb42c92a1d9dbaf70ad9e621f4bd8d98662f00e3c125",
        "aeb6bcfe274b70a14fb067a5e5578264db0fa9b51af5e0ba159158f329e06e77",
        "d37ee418976dd95753c1c73862b9398fa2a2cf9b4ff0fdfe8b30cd95209614b7",
        "4e3bbb1f7b478dcfe71fb631631519a3bca12c9aefca1612bfce4c13a86264d4",
        "76e67dadbcdf1e10e1b74ddc608abd2f98dfb16fbce75277b5232a127f2087ef",
        "ddb89be403809e325750d3d263cd78929c2942b7942a34b77e122c9594a74c8c",
        "5dc9da79a70659a9ad559cb701ded9a2ab9d823aad2f4960cfe370eff4604328",
    ];

    #[test]
    fn empty_tree_is_sha_256_of_nothing() {
        // RFC 6962, 2.1: MTH({}) = SHA-256(); the value is that of FIPS 180-4's empty message.
        let nothing = "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855";
        assert_eq!(Tree::new().root().to_string(), nothing);
        assert_eq!(root(&[]).to_string(), nothing);
    }

    #[test]
    fn reference_roots() {
        let mut tree = Tree::new();
        for (leaf, wanted) in REFERENCE_LEAVES.iter().zip(REFERENCE_ROOTS) {
            tree.append(leaf_hash(leaf));
            assert_eq!(tree.root().to_string(), wanted);
        }
    }

    #[test]
    fn a_leaf_cannot_pass_for_a_node() {
        // RFC 6962, 2.1: the prefixes are there for second preimage resistance.
        let (left, right) = (leaf_hash(b"a"), leaf_hash(b"b"));
        let forged = [left.as_bytes().as_slice(), right.as_bytes()].concat();
        assert_ne!(leaf_hash(&forged), node_hash(left, right));
    }

    #[test]
    fn a_frontier_of_the_wrong_length_is_refused() {
        let short = Tree::from_frontier(3, vec![leaf_hash(b"a")]);
        assert_eq!(short, Err(ProofError::Length { found: 1, wanted: 2 }));
    }

    proptest! {
        #[test]
        fn taken_up_again_at_any_point(size in 0usize..300, cut in any::<prop::sample::Index>()) {
            let leaves: Vec<Hash> = (0..size).map(|place| leaf_hash(&place.to_be_bytes())).collect();
            let cut = cut.index(size + 1);
            let mut nodes = std::collections::HashMap::new();
            let mut tree = Tree::new();
            for leaf in &leaves[..cut] {
                tree.append_noting(*leaf, |node| { nodes.insert((node.level, node.index), node.hash); });
            }
            let kept: Vec<Hash> = frontier_places(cut as u64).iter().map(|place| nodes[place]).collect();
            prop_assert_eq!(tree.frontier(), kept.as_slice());
            let mut again = Tree::from_frontier(cut as u64, kept).unwrap();
            leaves[cut..].iter().for_each(|leaf| again.append(*leaf));
            prop_assert_eq!(again.root(), root(&leaves));
            prop_assert_eq!(again.size(), size as u64);
        }

    }
}
