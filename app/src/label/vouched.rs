//! Whether a label's record is what a bench of the shop wrote: told from the code alone, with no network.

use crate::store::keys;
use crate::store::prove::{NoProof, parse_key};
use sparkout_core::journal::checkpoint::NamedKey;
use sparkout_core::label::{LabelKeyId, LabelRefusal, Seal};
use thiserror::Error;

/// The public keys of the shop's benches.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct KnownKeys(Vec<NamedKey>);

/// What vouches for a record.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Vouched {
    /// A bench whose key is known signed it.
    Signed {
        /// Its key.
        key: LabelKeyId,
    },
    /// Nobody: undamaged, but anybody could have written it. Labels from before signing are so, and those of practice.
    Digest,
}

/// Why a record cannot be relied on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum Distrust {
    /// Signed with a key that is on no list here.
    #[error(
        "the label is signed with the key {key}, which is not known here; it can be neither trusted nor called false"
    )]
    UnknownKey {
        /// Its key.
        key: LabelKeyId,
    },
    /// A known key is named, and the signature is not of this record.
    #[error("{}", LabelRefusal::Altered)]
    Altered,
}

impl KnownKeys {
    /// From key lines, `NAME+KEYID+BASE64` each, as `sparkout journal verify` prints them.
    ///
    /// # Errors
    /// [`NoProof::Key`] with the first line that is none.
    pub fn parse<Line: AsRef<str>>(lines: &[Line]) -> Result<Self, NoProof> {
        lines.iter().map(|line| parse_key(line.as_ref())).collect::<Result<_, _>>().map(Self)
    }

    /// With one more key, whose name does not matter here.
    pub fn add(&mut self, key: NamedKey) {
        self.0.push(key);
    }

    /// What vouches for a record, or why it is not to be relied on.
    ///
    /// # Errors
    /// [`Distrust`]: an unknown key and a false signature told apart.
    pub fn judge(&self, seal: &Seal) -> Result<Vouched, Distrust> {
        let Seal::Signature(signature) = seal else { return Ok(Vouched::Digest) };
        let key = signature.key();
        // Four bytes may be shared by chance; the signature itself says whose it is.
        let mut meant = self.0.iter().filter(|known| LabelKeyId::of(known.public_key()) == key).peekable();
        if meant.peek().is_none() {
            return Err(Distrust::UnknownKey { key });
        }
        let signed = meant.any(|known| signature.is_by(known.public_key(), keys::is_signed_by));
        if signed { Ok(Vouched::Signed { key }) } else { Err(Distrust::Altered) }
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
    use super::super::render::tests_content;
    use super::*;
    use data_encoding::HEXLOWER;
    use ed25519_dalek::{Signer, SigningKey};
    use sparkout_core::label::{HubAddress, decode_url, encode_signed_url, encode_url};

    /// RFC 8032, section 7.1 (2017): secret key, public key, message, signature of tests 1, 2 and 3.
    const VECTORS: [[&str; 4]; 3] = [
        [
            "9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60",
            "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a",
            "",
            "e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e39701cf9b46bd25bf5f0595bbe24655141438e7a100b",
        ],
        [
            "4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb",
            "3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c",
            "72",
            "92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00",
        ],
        [
            "c5aa8df43f9f837bedb7442f31dcb7b166d38535076f094b85ce3a2e0b4458f7",
            "fc51cd8e6218a1a38da47ed00230f0580816ed13ba3303ac5deb911548908025",
            "af82",
            "6291d657deec24024827e69c3abe01a30ce548a284743a445e3680d7db5ac3ac18ff9b538d16f290ae67f760984dc6594a7c15e9716ed28dc027beceea1ec40a",
        ],
    ];

    fn bytes<const N: usize>(hex: &str) -> [u8; N] {
        HEXLOWER.decode(hex.as_bytes()).unwrap().try_into().unwrap()
    }

    fn key(vector: usize) -> SigningKey {
        SigningKey::from_bytes(&bytes(VECTORS[vector][0]))
    }

    fn known(vectors: &[usize]) -> KnownKeys {
        let named = |vector: &usize| NamedKey::new("bench", bytes(VECTORS[*vector][1])).unwrap();
        let lines: Vec<String> = vectors.iter().map(|vector| named(vector).verifier_line()).collect();
        KnownKeys::parse(&lines).unwrap()
    }

    fn hub() -> HubAddress {
        HubAddress::parse("hub.example").unwrap()
    }

    fn signed(vector: usize) -> String {
        let key = key(vector);
        let sign = |text: &[u8]| key.sign(text).to_bytes();
        encode_signed_url(&tests_content(), &hub(), &key.verifying_key().to_bytes(), sign).unwrap()
    }

    fn judged(url: &str, keys: &KnownKeys) -> Result<Vouched, Distrust> {
        keys.judge(&decode_url(url).unwrap().seal)
    }

    #[test]
    fn ed25519_vectors() {
        for (place, [_, public, message, signature]) in VECTORS.iter().enumerate() {
            let message = HEXLOWER.decode(message.as_bytes()).unwrap();
            assert_eq!(key(place).verifying_key().to_bytes(), bytes(public));
            assert_eq!(key(place).sign(&message).to_bytes(), bytes::<64>(signature));
            assert!(keys::is_signed_by(&bytes(public), &message, &bytes(signature)));
            assert!(!keys::is_signed_by(&bytes(public), b"other", &bytes(signature)));
        }
    }

    #[test]
    fn signed_unknown_and_unsigned_are_told_apart() {
        let ours = LabelKeyId::of(&bytes(VECTORS[0][1]));
        assert_eq!(judged(&signed(0), &known(&[1, 0])), Ok(Vouched::Signed { key: ours }));
        assert_eq!(judged(&signed(0), &known(&[1, 2])), Err(Distrust::UnknownKey { key: ours }));
        assert_eq!(judged(&encode_url(&tests_content(), &hub()).unwrap(), &known(&[0])), Ok(Vouched::Digest));
        assert_eq!(signed(0), signed(0), "a label drawn again is the same label");
    }

    /// Every letter of the record changed once: refused as damaged, of an unknown key, or altered; never vouched for.
    #[test]
    fn what_was_altered_is_not_vouched_for() {
        let (url, keys) = (signed(0), known(&[0]));
        let first = url.rfind('/').unwrap() + 1;
        let mut altered = 0;
        for at in first..url.len() {
            let other = if &url[at..=at] == "A" { "B" } else { "A" };
            let changed = format!("{}{other}{}", &url[..at], &url[at + 1..]);
            if let Ok(envelope) = decode_url(&changed) {
                match keys.judge(&envelope.seal) {
                    Err(Distrust::Altered) => altered += 1,
                    Err(Distrust::UnknownKey { .. }) => {}
                    Ok(vouched) => panic!("{vouched:?} at {at}"),
                }
            }
        }
        // All letters of the signature alone are more than a hundred.
        assert!(altered > 100, "{altered}");
    }

    #[test]
    fn what_is_no_key_line_is_refused() {
        assert!(matches!(KnownKeys::parse(&["not a key"]), Err(NoProof::Key(_))));
    }
}
