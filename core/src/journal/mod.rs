//! The journal's evidence: what turns a list of entries into something that cannot be changed unseen.
//!
//! A plain hash chain would show a change too, but only to somebody who holds the whole chain. A tree of
//! the same hashes lets a machine that has kept one line of text (the signed head) prove one entry, or that
//! a longer journal still begins with the shorter one, from a few dozen hashes.

/// The signed head of the journal as text, in the open formats of transparency logs.
pub mod checkpoint;
/// The RFC 6962 tree over the entries.
pub mod merkle;
/// Proofs that one entry is in the tree, and that one tree begins with another.
pub mod proof;
/// One entry's proof as a file.
pub mod proof_file;
/// Proofs out of stored subtrees.
pub mod stored;
/// Keeping a head for another machine, and what is wrong when it does not fit.
pub mod witness;

pub use checkpoint::{Checkpoint, SignedCheckpoint};
pub use merkle::{Hash, Tree};
