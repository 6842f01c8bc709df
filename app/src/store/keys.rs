//! The station's Ed25519 key. It lies in a file of its own beside the journal, so that a copy of the journal is
//! not a copy of the right to sign it.

use data_encoding::{BASE32_NOPAD, BASE64};
use ed25519_dalek::{Signature, Signer, SigningKey, VerifyingKey};
use sha2::{Digest, Sha256};
use std::fs::{self, File, OpenOptions};
use std::io::{self, Write};
use std::path::Path;
use zeroize::Zeroizing;

/// Bytes of a station's or an incarnation's id: 80 bits, 16 letters in base32, never met twice by chance.
const ID_BYTES: usize = 10;

/// The key that signs the journal's heads.
pub struct StationKey(SigningKey);

impl StationKey {
    /// Reads the key; `None` when there is no such file.
    ///
    /// # Errors
    /// When it cannot be read, or holds no key.
    pub fn load(file: &Path) -> io::Result<Option<Self>> {
        Ok(load_secret(file)?.map(|secret| Self(SigningKey::from_bytes(&secret))))
    }

    /// Makes a key and has it on the disk before it is used: a head signed by a key that a power cut then takes away
    /// would lock the journal for ever.
    ///
    /// # Errors
    /// When it cannot be written, or the system has no random numbers.
    pub fn create(file: &Path) -> io::Result<Self> {
        create_secret(file).map(|secret| Self(SigningKey::from_bytes(&secret)))
    }

    /// The public half.
    pub fn public_key(&self) -> [u8; 32] {
        self.0.verifying_key().to_bytes()
    }

    /// Signs.
    pub fn sign(&self, text: &[u8]) -> [u8; 64] {
        self.0.sign(text).to_bytes()
    }

    /// The station's id: follows from its key, so that a journal begun anew is still the same station's.
    pub fn station(&self) -> String {
        station_of(&self.public_key())
    }
}

/// 32 secret bytes in a file of their own; they are wiped from memory when they go.
pub(super) type Secret = Zeroizing<[u8; 32]>;

/// Reads a secret; `None` when there is no such file.
///
/// # Errors
/// When it cannot be read, or holds none.
pub(super) fn load_secret(file: &Path) -> io::Result<Option<Secret>> {
    let text = match fs::read_to_string(file) {
        Ok(text) => Zeroizing::new(text),
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(None),
        Err(error) => return Err(error),
    };
    let bytes = BASE64.decode(text.trim().as_bytes()).ok().map(Zeroizing::new);
    let secret = bytes.and_then(|bytes| <[u8; 32]>::try_from(bytes.as_slice()).ok());
    let secret = secret.ok_or_else(|| io::Error::new(io::ErrorKind::InvalidData, "it does not hold a key"))?;
    tell_if_others_can_read(file)?;
    Ok(Some(Zeroizing::new(secret)))
}

/// Makes a secret that nobody but this user can read, and has it on the disk before it is used.
///
/// # Errors
/// When it cannot be written, or the system has no random numbers.
pub(super) fn create_secret(file: &Path) -> io::Result<Secret> {
    let mut secret = Secret::default();
    getrandom::fill(secret.as_mut_slice()).map_err(io::Error::other)?;
    let mut part = file.as_os_str().to_owned();
    part.push(".part");
    let part = Path::new(&part);
    match fs::remove_file(part) {
        Err(error) if error.kind() != io::ErrorKind::NotFound => return Err(error),
        Ok(()) | Err(_) => {}
    }
    let mut options = OpenOptions::new();
    options.write(true).create_new(true);
    #[cfg(unix)]
    std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
    let mut writing = options.open(part)?;
    writeln!(writing, "{}", BASE64.encode(secret.as_slice()))?;
    writing.sync_all()?;
    fs::rename(part, file)?;
    sync_folder_of(file)?;
    Ok(secret)
}

/// The id of the station with this public key.
pub fn station_of(public_key: &[u8; 32]) -> String {
    let hash: [u8; 32] = Sha256::digest(public_key).into();
    BASE32_NOPAD.encode(&hash[..ID_BYTES]).to_lowercase()
}

/// Whether this is the key's signature of this text. Strict: no signature has a second form that passes.
pub fn is_signed_by(public_key: &[u8; 32], text: &[u8], signature: &[u8; 64]) -> bool {
    VerifyingKey::from_bytes(public_key)
        .is_ok_and(|key| key.verify_strict(text, &Signature::from_bytes(signature)).is_ok())
}

/// A new random id for an incarnation of the journal.
///
/// # Errors
/// When the system has no random numbers.
pub fn new_incarnation() -> io::Result<String> {
    let mut bytes = [0u8; ID_BYTES];
    getrandom::fill(&mut bytes).map_err(io::Error::other)?;
    Ok(BASE32_NOPAD.encode(&bytes).to_lowercase())
}

/// Makes a rename or a new name in the file's folder durable.
///
/// # Errors
/// When the folder cannot be synced.
pub fn sync_folder_of(file: &Path) -> io::Result<()> {
    file.parent().map_or(Ok(()), |folder| File::open(folder)?.sync_all())
}

#[cfg(unix)]
fn tell_if_others_can_read(file: &Path) -> io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    let mode = fs::metadata(file)?.permissions().mode();
    if mode & 0o077 != 0 {
        tracing::warn!(file = %file.display(), mode = format!("{mode:o}"), "others can read a secret of this station");
    }
    Ok(())
}

#[cfg(not(unix))]
fn tell_if_others_can_read(_file: &Path) -> io::Result<()> {
    Ok(())
}
