//! The journal's head as text: a `tlog-checkpoint` inside a `signed-note` (both C2SP specifications of
//! transparency logs), so that any witness of that community can keep it and any tool of theirs can check it.
//!
//! Building and reading the text is all that happens here. The key stays with whoever holds it, and comes in
//! as a closure.

use super::merkle::Hash;
use data_encoding::BASE64;
use sha2::{Digest, Sha256};
use std::fmt;
use thiserror::Error;

/// The signature type byte of Ed25519 in a signed note.
const ED25519: u8 = 0x01;
const SIGNATURE_MARK: &str = "\u{2014} ";
/// Bytes of a note beyond which it is not a checkpoint of anybody's: a head and a shop's worth of witnesses is 4 KiB.
const NOTE_BYTES_MOST: usize = 64 * 1024;

/// What a head says: this log, this many entries, this root.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Checkpoint {
    /// Which log: one line, unique to the station and its incarnation.
    pub origin: String,
    /// How many entries.
    pub size: u64,
    /// The root over them.
    pub root: Hash,
}

/// The first four bytes of SHA-256 over name, line feed, type and key: which key is meant, not a proof of it.
#[derive(Clone, Copy, PartialEq, Eq, Hash)]
pub struct KeyId([u8; 4]);

/// An Ed25519 key by the name under which it signs.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NamedKey {
    name: String,
    public_key: [u8; 32],
}

/// One signature line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NoteSignature {
    /// The signer's name.
    pub name: String,
    /// Which of its keys.
    pub key_id: KeyId,
    /// What follows the key id: 64 bytes where the key is Ed25519, other lengths for a witness's other kinds.
    pub bytes: Vec<u8>,
}

/// A checkpoint with the exact text that was signed and the signatures, none of them checked yet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SignedCheckpoint {
    checkpoint: Checkpoint,
    text: String,
    signatures: Vec<NoteSignature>,
}

/// Why a text is no checkpoint, or proves nothing.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum NoteError {
    /// A name that a signature line cannot carry.
    #[error("{name:?} cannot name a key: it must not be empty nor hold a space, a plus or a control character")]
    Name {
        /// The name.
        name: String,
    },
    /// The text does not have the form of a note.
    #[error("not a checkpoint: {what}")]
    Form {
        /// What is wrong with it.
        what: &'static str,
    },
    /// Nobody of that name and key has signed.
    #[error("{name} has not signed it with the key {key_id}")]
    NotSigned {
        /// Who should have.
        name: String,
        /// With which key.
        key_id: KeyId,
    },
    /// There is a signature, and it is not of this text.
    #[error("the signature of {name} does not fit the text")]
    Forged {
        /// Who is said to have signed.
        name: String,
    },
}

impl fmt::Display for KeyId {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().try_for_each(|byte| write!(formatter, "{byte:02x}"))
    }
}

impl fmt::Debug for KeyId {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(formatter, "KeyId({self})")
    }
}

impl NamedKey {
    /// A key under a name.
    ///
    /// # Errors
    /// [`NoteError::Name`] when a signature line cannot carry the name.
    pub fn new(name: &str, public_key: [u8; 32]) -> Result<Self, NoteError> {
        let unfit = |letter: char| letter.is_whitespace() || letter.is_control() || letter == '+';
        if name.is_empty() || name.contains(unfit) {
            return Err(NoteError::Name { name: name.to_owned() });
        }
        Ok(Self { name: name.to_owned(), public_key })
    }

    /// The name.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The key.
    pub const fn public_key(&self) -> &[u8; 32] {
        &self.public_key
    }

    /// Its short mark in a signature line.
    pub fn key_id(&self) -> KeyId {
        let hash: [u8; 32] = Sha256::new()
            .chain_update(self.name.as_bytes())
            .chain_update([b'\n', ED25519])
            .chain_update(self.public_key)
            .finalize()
            .into();
        KeyId([hash[0], hash[1], hash[2], hash[3]])
    }

    /// As the one line that signed-note tools take for a verifier's key: name, key id, type and key.
    pub fn verifier_line(&self) -> String {
        let key = [&[ED25519], self.public_key.as_slice()].concat();
        format!("{}+{}+{}", self.name, self.key_id(), BASE64.encode(&key))
    }

    fn line(&self, signature: &[u8; 64]) -> String {
        let bytes = [self.key_id().0.as_slice(), signature].concat();
        format!("{SIGNATURE_MARK}{} {}\n", self.name, BASE64.encode(&bytes))
    }
}

impl Checkpoint {
    /// The text that is signed: origin, size and root, a line each.
    pub fn text(&self) -> String {
        format!("{}\n{}\n{}\n", self.origin, self.size, BASE64.encode(self.root.as_bytes()))
    }

    /// The whole note around a signature that was made before; the text follows from the fields, so keeping the
    /// signature keeps the note.
    pub fn note(&self, key: &NamedKey, signature: &[u8; 64]) -> String {
        format!("{}\n{}", self.text(), key.line(signature))
    }

    /// Signs it: `sign` is given the exact text.
    pub fn sign(&self, sign: impl FnOnce(&[u8]) -> [u8; 64]) -> [u8; 64] {
        sign(self.text().as_bytes())
    }

    /// Checks a signature alone: `check` is given the exact text and says whether the signature is of it.
    ///
    /// # Errors
    /// [`NoteError::Forged`].
    pub fn verify(
        &self,
        key: &NamedKey,
        signature: &[u8; 64],
        check: impl FnOnce(&[u8], &[u8; 64]) -> bool,
    ) -> Result<(), NoteError> {
        if check(self.text().as_bytes(), signature) {
            Ok(())
        } else {
            Err(NoteError::Forged { name: key.name.clone() })
        }
    }

    fn parse(text: &str) -> Result<Self, NoteError> {
        let form = |what| NoteError::Form { what };
        let mut lines = text.lines();
        let origin = lines.next().filter(|line| !line.is_empty()).ok_or(form("no origin in its first line"))?;
        let size = lines.next().ok_or(form("no size in its second line"))?;
        let plain = size.bytes().all(|byte| byte.is_ascii_digit()) && (size == "0" || !size.starts_with('0'));
        let size = size.parse().ok().filter(|_| plain).ok_or(form("its second line is not a size"))?;
        let root = lines.next().ok_or(form("no root in its third line"))?;
        let root = BASE64.decode(root.as_bytes()).ok().and_then(|bytes| Hash::from_slice(&bytes));
        let root = root.ok_or(form("its third line is not a root"))?;
        if lines.any(str::is_empty) {
            return Err(form("an empty line among its extensions"));
        }
        Ok(Self { origin: origin.to_owned(), size, root })
    }
}

impl SignedCheckpoint {
    /// Reads a note. Signatures of other kinds and by other names are kept; none is checked.
    ///
    /// # Errors
    /// [`NoteError::Form`].
    pub fn parse(note: &str) -> Result<Self, NoteError> {
        let form = |what| NoteError::Form { what };
        if note.len() > NOTE_BYTES_MOST {
            return Err(form("longer than any checkpoint"));
        }
        if note.contains(|letter: char| letter.is_control() && letter != '\n') {
            return Err(form("control characters in it"));
        }
        let end = note.rfind("\n\n").ok_or(form("no empty line before the signatures"))?;
        let (text, signatures) = (&note[..=end], &note[end + 2..]);
        if !signatures.ends_with('\n') {
            return Err(form("its last line is cut"));
        }
        let signatures = signatures.lines().map(NoteSignature::parse).collect::<Result<_, _>>()?;
        Ok(Self { checkpoint: Checkpoint::parse(text)?, text: text.to_owned(), signatures })
    }

    /// What it says.
    pub const fn checkpoint(&self) -> &Checkpoint {
        &self.checkpoint
    }

    /// Who is said to have signed it.
    pub fn signatures(&self) -> &[NoteSignature] {
        &self.signatures
    }

    /// Checks that this key has signed this text: `check` is given the exact text and the signature.
    ///
    /// # Errors
    /// [`NoteError::NotSigned`] when there is no line of that name and key, [`NoteError::Forged`] when it does not fit.
    pub fn verify(&self, key: &NamedKey, check: impl FnOnce(&[u8], &[u8; 64]) -> bool) -> Result<(), NoteError> {
        let key_id = key.key_id();
        let line = self.signatures.iter().find(|line| line.name == key.name && line.key_id == key_id);
        let line = line.ok_or_else(|| NoteError::NotSigned { name: key.name.clone(), key_id })?;
        let forged = || NoteError::Forged { name: key.name.clone() };
        let signature: &[u8; 64] = line.bytes.as_slice().try_into().map_err(|_| forged())?;
        if check(self.text.as_bytes(), signature) { Ok(()) } else { Err(forged()) }
    }
}

impl NoteSignature {
    fn parse(line: &str) -> Result<Self, NoteError> {
        let form = |what| NoteError::Form { what };
        let rest = line.strip_prefix(SIGNATURE_MARK).ok_or(form("a signature line without its dash"))?;
        let (name, base64) = rest.split_once(' ').ok_or(form("a signature line without a name"))?;
        if name.is_empty() || name.contains('+') {
            return Err(form("a signature line without a name"));
        }
        let bytes = BASE64.decode(base64.as_bytes()).map_err(|_| form("a signature that is not base64"))?;
        match bytes.split_first_chunk::<4>() {
            Some((id, rest)) if !rest.is_empty() => {
                Ok(Self { name: name.to_owned(), key_id: KeyId(*id), bytes: rest.to_vec() })
            }
            Some(_) | None => Err(form("a signature that is cut")),
        }
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
    use super::*;
    use crate::journal::merkle::empty_root;
    use proptest::prelude::*;

    /// The example of C2SP tlog-cosignature: the checkpoint of tlog-checkpoint with a log's and a witness's signature.
    const PUBLISHED: &str = "example.com/behind-the-sofa\n20852163\nCsUYapGGPo4dkMgIAUqom/Xajj7h2fB2MPA3j2jxq2I=\n\n\
        \u{2014} example.com/behind-the-sofa Az3grlgtzPICa5OS8npVmf1Myq/5IZniMp+ZJurmRDeOoRDe4URYN7u5/Zhcyv2q1gGzGku9nTo+zyWE+xeMcTOAYQ8=\n\
        \u{2014} witness.example.com/w1 jWbPPwAAAABkGFDLEZMHwSRaJNiIDoe9DYn/zXcrtPHeolMI5OWXEhZCB9dlrDJsX3b2oyin1nPZqhf5nNo0xUe+mbIUBkBIfZ+qnA==\n";

    fn key() -> NamedKey {
        NamedKey::new("bench.example/7", [7; 32]).unwrap()
    }

    /// Stands in for Ed25519: two copies of the text's hash.
    fn seal(text: &[u8]) -> [u8; 64] {
        let hash: [u8; 32] = Sha256::digest(text).into();
        let mut seal = [0; 64];
        seal[..32].copy_from_slice(&hash);
        seal[32..].copy_from_slice(&hash);
        seal
    }

    #[test]
    fn reads_the_published_example() {
        let note = SignedCheckpoint::parse(PUBLISHED).unwrap();
        assert_eq!(note.checkpoint().origin, "example.com/behind-the-sofa");
        assert_eq!(note.checkpoint().size, 20_852_163);
        assert!(PUBLISHED.starts_with(&note.checkpoint().text()));
        let ids: Vec<String> = note.signatures().iter().map(|line| line.key_id.to_string()).collect();
        assert_eq!(ids, ["033de0ae", "8d66cf3f"]);
        assert_eq!(note.signatures()[0].bytes.len(), 64);
        assert_eq!(note.signatures()[1].bytes.len(), 72);
    }

    #[test]
    fn key_id_of_a_published_key() {
        // The verifier's key of the Go checksum database (Go source, cmd/go/internal/modfetch/key.go).
        let line = "sum.golang.org+033de0ae+Ac4zctda0e5eza+HJyk9SxEdh+s3Ux18htTTAD8OuAn8";
        let (_, base64) = line.split_at("sum.golang.org+033de0ae+".len());
        let bytes = BASE64.decode(base64.as_bytes()).unwrap();
        let key = NamedKey::new("sum.golang.org", bytes[1..].try_into().unwrap()).unwrap();
        assert_eq!(key.key_id().to_string(), "033de0ae");
        assert_eq!(key.verifier_line(), line);
    }

    #[test]
    fn built_read_and_checked() {
        let checkpoint = Checkpoint { origin: "bench.example/7".to_owned(), size: 0, root: empty_root() };
        let note = checkpoint.note(&key(), &checkpoint.sign(seal));
        let read = SignedCheckpoint::parse(&note).unwrap();
        assert_eq!(read.checkpoint(), &checkpoint);
        assert_eq!(read.verify(&key(), |text, signature| seal(text) == *signature), Ok(()));
        let stranger = NamedKey::new("bench.example/7", [8; 32]).unwrap();
        assert!(matches!(read.verify(&stranger, |_, _| true), Err(NoteError::NotSigned { .. })));
        let larger = SignedCheckpoint::parse(&note.replacen("\n0\n", "\n1\n", 1)).unwrap();
        let forged = larger.verify(&key(), |text, signature| seal(text) == *signature);
        assert_eq!(forged, Err(NoteError::Forged { name: "bench.example/7".to_owned() }));
    }

    #[test]
    fn refused_with_the_reason() {
        let refused = |note: &str| match SignedCheckpoint::parse(note) {
            Err(NoteError::Form { what }) => what,
            other => panic!("{note:?}: {other:?}"),
        };
        let root = "CsUYapGGPo4dkMgIAUqom/Xajj7h2fB2MPA3j2jxq2I=";
        assert_eq!(refused(""), "no empty line before the signatures");
        assert_eq!(refused(&format!("o\n007\n{root}\n\n\u{2014} n AAAAAAA=\n")), "its second line is not a size");
        assert_eq!(refused(&format!("o\n-1\n{root}\n\n\u{2014} n AAAAAAA=\n")), "its second line is not a size");
        assert_eq!(refused("o\n7\nAAAA\n\n\u{2014} n AAAAAAA=\n"), "its third line is not a root");
        assert_eq!(refused(&format!("o\n7\n{root}\n\n- n AAAAAAA=\n")), "a signature line without its dash");
        assert_eq!(refused(&format!("o\n7\n{root}\n\n\u{2014} n AAAA\n")), "a signature that is cut");
        assert_eq!(refused(&format!("o\n7\n{root}\n\n\u{2014} n AAAAAAA=")), "its last line is cut");
        assert_eq!(refused(&format!("o\r\n7\n{root}\n\n\u{2014} n AAAAAAA=\n")), "control characters in it");
        assert_eq!(refused(&"x".repeat(100_000)), "longer than any checkpoint");
        for name in ["", "a b", "a+b", "a\nb"] {
            assert!(matches!(NamedKey::new(name, [0; 32]), Err(NoteError::Name { .. })), "{name:?}");
        }
    }

    proptest! {
        #[test]
        fn any_text_is_read_or_refused(text in any::<String>(), cut in any::<prop::sample::Index>()) {
            let _ = SignedCheckpoint::parse(&text);
            let cut = (0..=cut.index(PUBLISHED.len())).rev().find(|at| PUBLISHED.is_char_boundary(*at)).unwrap_or(0);
            let _ = SignedCheckpoint::parse(&PUBLISHED[..cut]);
        }
    }
}
