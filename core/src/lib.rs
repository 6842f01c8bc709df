//! The bench: geometry, plans, metrology, safety rules, the visit and its scans and labels.
//!
//! Pure functions and plain types. Nothing here knows a file, a clock, a socket, SQL, Slint or a thread:
//! time comes in as a value, and what is to be done goes out as a value.

pub mod quantity;
pub mod reading;

/// The bench's calculations, each a pure function with its formula and source.
pub mod calc;
/// The journal's Merkle tree and its signed head.
pub mod journal;
/// What a label says and how its code is written.
pub mod label;
/// What a scanner sends, and what it means.
pub mod scan;
