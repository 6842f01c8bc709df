//! The station's Ed25519 key. It lies in a file of its own beside the journal, so that a copy of the journal is
//! not a copy of the right to sign it.

use data_encoding::{BASE32_NOPAD, BASE64};
use ed25519_dalek::{Signature, Signer, SigningKey, VerifyingKey};
use sha2::{Digest, Sha256};
use std::fs::{self, File, OpenOptions};
use std::io::{self, Write};
use std::path::Path;

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
        let text = match fs::read_to_string(file) {
            Ok(text) => text,
            Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(None),
            Err(error) => return Err(error),
        };
        let bytes = BASE64.decode(text.trim().as_bytes()).ok();
        let secret: Option<[u8; 32]> = bytes.and_then(|bytes| bytes.try_into().ok());
        let secret = secret.ok_or_else(|| io::Error::new(io::ErrorKind::InvalidData, "it does not hold a key"))?;
        tell_if_others_can_read(file)?;
        Ok(Some(Self(SigningKey::from_bytes(&secret))))
    }

    /// Makes a key and has it on the disk before it is used: a head signed by a key that a power cut then takes away
    /// would lock the journal for ever.
    ///
    /// # Errors
    /// When it cannot be written, or the system has no random numbers.
    pub fn create(file: &Path) -> io::Result<Self> {
        let mut secret = [0u8; 32];
        getrandom::fill(&mut secret).map_err(io::Error::other)?;
        let part = file.with_extension("key.part");
        match fs::remove_file(&part) {
            Err(error) if error.kind() != io::ErrorKind::NotFound => return Err(error),
            Ok(()) | Err(_) => {}
        }
        let mut options = OpenOptions::new();
        options.write(true).create_new(true);
        #[cfg(unix)]
        std::os::unix::fs::OpenOptionsExt::mode(&mut options, 0o600);
        let mut writing = options.open(&part)?;
        writeln!(writing, "{}", BASE64.encode(&secret))?;
        writing.sync_all()?;
        fs::rename(&part, file)?;
        sync_folder_of(file)?;
        Ok(Self(SigningKey::from_bytes(&secret)))
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
        let hash: [u8; 32] = Sha256::digest(self.public_key()).into();
        BASE32_NOPAD.encode(&hash[..ID_BYTES]).to_lowercase()
    }
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
        tracing::warn!(file = %file.display(), mode = format!("{mode:o}"), "others can read the station's key");
    }
    Ok(())
}

#[cfg(not(unix))]
fn tell_if_others_can_read(_file: &Path) -> io::Result<()> {
    Ok(())
}
