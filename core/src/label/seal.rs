//! A station's signature over a label's record.
//!
//! The key stays with whoever holds it, and the arithmetic of Ed25519 (RFC 8032) with whoever checks; here are the bytes that are
//! signed and the bytes that name the key.

use sha2::{Digest, Sha256};
use std::fmt;

/// Bytes that name the key in a seal.
pub(super) const KEY_ID_BYTES: usize = 4;
/// Bytes of an Ed25519 signature.
pub(super) const SIGNATURE_BYTES: usize = 64;
/// Before what is signed, so that no signature of a station over a journal's head, which begins with its origin, is ever one
/// over a label, nor the other way round.
const PURPOSE: &[u8] = b"sparkout label\0";

/// Which key is meant: the first four bytes of SHA-256 over the public key. The station's id begins with the same bytes, so it
/// stays the same when the station's journal is begun anew. It finds the key and proves nothing.
#[derive(Clone, Copy, PartialEq, Eq, Hash)]
pub struct LabelKeyId([u8; KEY_ID_BYTES]);

impl LabelKeyId {
    /// Of an Ed25519 public key.
    pub fn of(public_key: &[u8; 32]) -> Self {
        let hash: [u8; 32] = Sha256::digest(public_key).into();
        Self([hash[0], hash[1], hash[2], hash[3]])
    }

    /// From the bytes in a seal.
    pub(super) const fn from_bytes(bytes: [u8; KEY_ID_BYTES]) -> Self {
        Self(bytes)
    }

    /// The bytes in a seal.
    pub(super) const fn as_bytes(&self) -> &[u8; KEY_ID_BYTES] {
        &self.0
    }
}

impl fmt::Display for LabelKeyId {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().try_for_each(|byte| write!(formatter, "{byte:02x}"))
    }
}

impl fmt::Debug for LabelKeyId {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(formatter, "LabelKeyId({self})")
    }
}

/// A signature as it was read, with the exact bytes that it is said to be of. Nobody has checked it yet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LabelSignature {
    key: LabelKeyId,
    signature: [u8; SIGNATURE_BYTES],
    signed: Vec<u8>,
}

impl LabelSignature {
    pub(super) fn read(seal: &[u8], signed: Vec<u8>) -> Option<Self> {
        let (key, signature) = seal.split_first_chunk::<KEY_ID_BYTES>()?;
        Some(Self { key: LabelKeyId::from_bytes(*key), signature: signature.try_into().ok()?, signed })
    }

    /// Which key is said to have signed.
    pub const fn key(&self) -> LabelKeyId {
        self.key
    }

    /// The exact bytes that were signed.
    pub fn signed(&self) -> &[u8] {
        &self.signed
    }

    /// The signature.
    pub const fn signature(&self) -> &[u8; SIGNATURE_BYTES] {
        &self.signature
    }

    /// Whether `check` says that this is the public key's signature of the record. The key id is not asked: it only finds the key.
    pub fn is_by(&self, public_key: &[u8; 32], check: impl FnOnce(&[u8; 32], &[u8], &[u8; 64]) -> bool) -> bool {
        check(public_key, &self.signed, &self.signature)
    }
}

/// What a signature over a record is of: purpose, format, kind of seal, body.
pub(super) fn signed_bytes(format: u32, seal_kind: u8, body: &[u8]) -> Vec<u8> {
    [PURPOSE, format.to_be_bytes().as_slice(), &[seal_kind], body].concat()
}
