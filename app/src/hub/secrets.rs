//! Codes and tokens: what is told once, and what is kept of it.

use data_encoding::BASE32_NOPAD;
use sha2::{Digest, Sha256};
use std::io;

/// 40 bits in 8 letters: with five tries in ten minutes nobody finds it, and a person can type it.
const CODE_BYTES: usize = 5;
const CODE_HALF: usize = 4;
/// 256 bits: a token is never guessed, so one plain hash of it is enough to keep.
const TOKEN_BYTES: usize = 32;

/// How long a pairing code is open, milliseconds.
pub const CODE_OPEN_MS: i64 = 10 * 60 * 1000;
/// Wrong codes that close every open one.
pub const CODE_TRIES: u32 = 5;

/// A new pairing code, as `ABCD-EFGH`.
///
/// # Errors
/// When the system has no random numbers.
pub fn new_code() -> io::Result<String> {
    let code = BASE32_NOPAD.encode(&random::<CODE_BYTES>()?);
    let (first, second) = code.split_at(CODE_HALF);
    Ok(format!("{first}-{second}"))
}

/// A new token.
///
/// # Errors
/// When the system has no random numbers.
pub fn new_token() -> io::Result<String> {
    Ok(BASE32_NOPAD.encode(&random::<TOKEN_BYTES>()?).to_lowercase())
}

/// What is kept of a code. Case, spaces and hyphens do not matter: a person types it.
pub fn code_hash(code: &str) -> [u8; 32] {
    let plain: String =
        code.chars().filter(char::is_ascii_alphanumeric).map(|letter| letter.to_ascii_uppercase()).collect();
    hash("sparkout pairing code", &plain)
}

/// What is kept of a token.
pub fn token_hash(token: &str) -> [u8; 32] {
    hash("sparkout station token", token)
}

fn hash(what: &str, secret: &str) -> [u8; 32] {
    Sha256::new().chain_update(what).chain_update([0]).chain_update(secret).finalize().into()
}

fn random<const BYTES: usize>() -> io::Result<[u8; BYTES]> {
    let mut bytes = [0; BYTES];
    getrandom::fill(&mut bytes).map_err(io::Error::other)?;
    Ok(bytes)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_code_is_read_as_people_type_it_and_kept_as_a_hash() {
        let code = new_code().unwrap();
        assert_eq!(code.len(), 9);
        let typed = format!(" {} {} ", code[..4].to_lowercase(), &code[5..]);
        assert_eq!(code_hash(&typed), code_hash(&code));
        assert_ne!(code_hash(&code), token_hash(&code));
        assert_ne!(new_token().unwrap(), new_token().unwrap());
    }
}
