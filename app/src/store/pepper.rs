//! What a typed PIN is compared with: argon2id over badge and PIN, with a pepper that lies outside the database.
//!
//! Four digits fall in minutes to whoever has their hashes, whatever the hash: ten thousand tries are few. So the pepper, 32
//! random bytes in a file of its own, goes into every hash, and a copy of the database alone is worth nothing. Whoever has
//! both files has the PINs; that is why a PIN only says whose hand it probably was.

use super::keys::{self, Secret};
use argon2::password_hash::phc::PasswordHash;
use argon2::password_hash::{self, PasswordHasher, PasswordVerifier};
use argon2::{Algorithm, Argon2, Params, Version};
use sparkout_core::pin::Pin;
use std::fmt;
use std::io;
use std::path::Path;
use thiserror::Error;
use zeroize::Zeroizing;

/// The pepper's file, beside the station's key.
pub const PEPPER: &str = "pin.pepper";
/// 19 MiB, two passes, one lane: the least that OWASP's Password Storage Cheat Sheet names for argon2id (from memory). More
/// would cost a small kiosk seconds and an attacker with both files nothing worth telling.
const MEMORY_KIB: u32 = 19 * 1024;
const PASSES: u32 = 2;
const LANES: u32 = 1;
/// A hash that asks for more than this was not written by this program, and is not computed: it could stop the kiosk.
const MEMORY_KIB_MOST: u32 = 256 * 1024;
const PASSES_MOST: u32 = 16;
/// Bytes of salt, as RFC 9106, section 3.1, recommends.
const SALT_BYTES: usize = 16;

/// A PHC string of argon2id. `{:?}` does not show it.
#[derive(Clone, PartialEq, Eq)]
pub struct PinHash(String);

impl PinHash {
    /// As it stands in the database.
    pub const fn from_text(text: String) -> Self {
        Self(text)
    }

    /// For the database.
    pub fn text(&self) -> &str {
        &self.0
    }
}

impl fmt::Debug for PinHash {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str("PinHash(not shown)")
    }
}

/// Why a PIN could not be hashed or compared. None of them says anything of the PIN.
#[derive(Debug, Error)]
pub enum PinError {
    /// The pepper's file is gone, or holds no pepper.
    #[error("{PEPPER} is missing or unusable")]
    NoPepper,
    /// The hash in the database is none that this program wrote.
    #[error("the stored hash is not usable: {0}")]
    Hash(String),
    /// The system has no random numbers, or no memory.
    #[error("the system refused: {0}")]
    System(String),
}

/// The pepper, or that there is none.
#[derive(Clone)]
pub struct Pepper(Option<Secret>);

impl Pepper {
    /// Reads the pepper in this folder, and makes it where there is none and no hash needs the old one.
    ///
    /// A pepper that is gone while there are hashes is not made anew: every PIN would then be wrong without a word.
    pub fn beside(folder: &Path, has_hashes: bool) -> Self {
        let file = folder.join(PEPPER);
        let found = match keys::load_secret(&file) {
            Ok(None) if !has_hashes => keys::create_secret(&file).map(Some),
            other => other,
        };
        match found {
            Ok(Some(secret)) => Self(Some(secret)),
            Ok(None) => {
                tracing::error!(file = %file.display(), "the pepper is gone: no PIN can be checked");
                Self(None)
            }
            Err(error) => {
                tracing::error!(file = %file.display(), %error, "the pepper cannot be used: no PIN can be checked");
                Self(None)
            }
        }
    }

    /// A pepper that is gone.
    pub const fn missing() -> Self {
        Self(None)
    }

    /// A new one that lies nowhere.
    ///
    /// # Errors
    /// When the system has no random numbers.
    pub fn in_memory() -> io::Result<Self> {
        let mut secret = Secret::default();
        getrandom::fill(secret.as_mut_slice()).map_err(io::Error::other)?;
        Ok(Self(Some(secret)))
    }

    /// Whether it is there.
    pub const fn is_there(&self) -> bool {
        self.0.is_some()
    }

    /// What this badge's PIN will be compared with. It takes tens of milliseconds, on purpose.
    ///
    /// # Errors
    /// [`PinError`].
    pub fn hash(&self, badge: &str, pin: &Pin) -> Result<PinHash, PinError> {
        let mut salt = [0u8; SALT_BYTES];
        getrandom::fill(&mut salt).map_err(|error| PinError::System(error.to_string()))?;
        let hashed = self.argon2()?.hash_password_with_salt(&secret_of(badge, pin), &salt);
        hashed.map(|hash| PinHash(hash.to_string())).map_err(|error| PinError::System(error.to_string()))
    }

    /// Whether it is this badge's PIN, by the parameters that stand in the hash.
    ///
    /// # Errors
    /// [`PinError`].
    pub fn is_right(&self, badge: &str, pin: &Pin, hash: &PinHash) -> Result<bool, PinError> {
        let unusable = |error: &dyn fmt::Display| PinError::Hash(error.to_string());
        let parsed = PasswordHash::new(hash.text()).map_err(|error| unusable(&error))?;
        let params = Params::try_from(&parsed).map_err(|error| unusable(&error))?;
        if params.m_cost() > MEMORY_KIB_MOST || params.t_cost() > PASSES_MOST {
            return Err(unusable(&"it asks for more than this program ever does"));
        }
        match self.argon2()?.verify_password(&secret_of(badge, pin), &parsed) {
            Ok(()) => Ok(true),
            Err(password_hash::Error::PasswordInvalid) => Ok(false),
            Err(error) => Err(unusable(&error)),
        }
    }

    fn argon2(&self) -> Result<Argon2<'_>, PinError> {
        let system = |error: argon2::Error| PinError::System(error.to_string());
        let pepper = self.0.as_ref().ok_or(PinError::NoPepper)?;
        let params = Params::new(MEMORY_KIB, PASSES, LANES, None).map_err(system)?;
        Argon2::new_with_secret(pepper.as_slice(), Algorithm::Argon2id, Version::V0x13, params).map_err(system)
    }
}

impl fmt::Debug for Pepper {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(if self.is_there() { "Pepper(not shown)" } else { "Pepper(missing)" })
    }
}

/// The badge goes in too: a row copied under another badge opens nothing.
fn secret_of(badge: &str, pin: &Pin) -> Zeroizing<Vec<u8>> {
    // A badge holds no NUL, so that no two pairs make the same bytes.
    let mut bytes = Zeroizing::new(Vec::with_capacity(badge.len() + 1 + pin.digits().len()));
    bytes.extend_from_slice(badge.as_bytes());
    bytes.push(0);
    bytes.extend_from_slice(pin.digits().as_bytes());
    bytes
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used)]
    use super::*;
    use std::fs;

    fn pin(digits: &str) -> Pin {
        Pin::new(digits).unwrap()
    }

    #[test]
    fn only_the_badges_own_pin_with_the_same_pepper_is_right() {
        let (pepper, other) = (Pepper::in_memory().unwrap(), Pepper::in_memory().unwrap());
        let hash = pepper.hash("1042", &pin("4071")).unwrap();
        assert!(pepper.is_right("1042", &pin("4071"), &hash).unwrap());
        assert!(!pepper.is_right("1042", &pin("4072"), &hash).unwrap());
        assert!(!pepper.is_right("1077", &pin("4071"), &hash).unwrap(), "a row under another badge opens nothing");
        assert!(!other.is_right("1042", &pin("4071"), &hash).unwrap(), "nor does the database without its pepper");
        assert!(matches!(Pepper::missing().is_right("1042", &pin("4071"), &hash), Err(PinError::NoPepper)));
    }

    #[test]
    fn the_hash_says_how_it_was_made_and_never_twice_the_same() {
        let pepper = Pepper::in_memory().unwrap();
        let (hash, again) = (pepper.hash("1042", &pin("4071")).unwrap(), pepper.hash("1042", &pin("4071")).unwrap());
        assert!(hash.text().starts_with("$argon2id$v=19$m=19456,t=2,p=1$"), "{}", hash.text());
        assert_ne!(hash, again, "each has a salt of its own");
        assert!(!format!("{hash:?} {pepper:?}").contains("argon2"));
    }

    #[test]
    fn a_hash_that_would_stop_the_kiosk_is_not_computed() {
        let pepper = Pepper::in_memory().unwrap();
        let hash = pepper.hash("1042", &pin("4071")).unwrap();
        for (from, to) in [("m=19456", "m=4194304"), ("t=2", "t=400000"), ("$argon2id$", "$scrypt$")] {
            let forged = PinHash::from_text(hash.text().replace(from, to));
            assert!(matches!(pepper.is_right("1042", &pin("4071"), &forged), Err(PinError::Hash(_))), "{to}");
        }
    }

    #[test]
    fn it_is_made_once_for_its_user_alone_and_never_in_the_place_of_a_lost_one() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join(PEPPER);
        let hash = Pepper::beside(folder.path(), false).hash("1042", &pin("4071")).unwrap();
        #[cfg(unix)]
        {
            use std::os::unix::fs::PermissionsExt;
            assert_eq!(fs::metadata(&file).unwrap().permissions().mode() & 0o777, 0o600);
        }
        assert!(Pepper::beside(folder.path(), true).is_right("1042", &pin("4071"), &hash).unwrap());
        fs::remove_file(&file).unwrap();
        assert!(!Pepper::beside(folder.path(), true).is_there());
        assert!(!file.exists(), "a new pepper would make every PIN wrong without a word");
        fs::write(&file, "not a pepper").unwrap();
        assert!(!Pepper::beside(folder.path(), false).is_there());
        assert_eq!(fs::read_to_string(&file).unwrap(), "not a pepper");
    }

    /// What a person waits after the last digit; the number is read off the test's own output (`--nocapture`).
    #[test]
    fn a_check_takes_less_than_a_person_notices_as_a_wait() {
        let pepper = Pepper::in_memory().unwrap();
        let hash = pepper.hash("1042", &pin("4071")).unwrap();
        let began = std::time::Instant::now();
        assert!(pepper.is_right("1042", &pin("4071"), &hash).unwrap());
        let took = began.elapsed();
        println!("one check of a PIN: {took:?}");
        // Far above what it takes, so that a loaded machine fails no test; a slip of the parameters does.
        assert!(took < std::time::Duration::from_secs(10), "{took:?}");
    }
}
