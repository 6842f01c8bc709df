//! The hub's certificate: an authority of its own, made at the first start, and a certificate for the server signed by
//! it at every start.
//!
//! A kiosk pins the authority's fingerprint at pairing and asks for the server under one fixed name, so neither the
//! hub's address nor its server key matters to it. Neither do dates: a kiosk whose clock stands in the last century
//! must still be able to send its journal, so the certificates bound nothing by them; a pin is taken back by pairing
//! anew.

use crate::store::keys::sync_folder_of;
use data_encoding::HEXLOWER;
use rcgen::{BasicConstraints, CertificateParams, DnType, IsCa, Issuer, KeyPair, KeyUsagePurpose};
use rustls::ServerConfig;
use rustls::pki_types::pem::PemObject;
use rustls::pki_types::{CertificateDer, PrivateKeyDer, PrivatePkcs8KeyDer};
use sha2::{Digest, Sha256};
use std::fs::{self, OpenOptions};
use std::io::{self, Write};
use std::net::IpAddr;
use std::path::Path;
use std::sync::Arc;
use thiserror::Error;

/// The name under which a kiosk asks for the hub, whatever its address: `.internal` is set aside for private use.
pub const SERVER_NAME: &str = "hub.sparkout.internal";
const AUTHORITY: &str = "hub-ca.pem";
const AUTHORITY_KEY: &str = "hub-ca.key";

/// Why the certificate cannot be used.
#[derive(Debug, Error)]
pub enum TlsFault {
    /// A file cannot be read or written.
    #[error("{file}: {error}")]
    File {
        /// Which.
        file: String,
        /// What the system said.
        error: io::Error,
    },
    /// One of the two files is there, and the other is not.
    #[error(
        "{present} is there and {missing} is not; put it back from the backup, or take both away and pair every kiosk anew"
    )]
    Half {
        /// The file that is there.
        present: &'static str,
        /// The file that is not.
        missing: &'static str,
    },
    /// What is in the files is no certificate, or it cannot be made.
    #[error("the hub's certificate: {0}")]
    Certificate(String),
}

impl TlsFault {
    fn certificate(error: impl std::fmt::Display) -> Self {
        Self::Certificate(error.to_string())
    }
}

/// The hub's own authority.
pub struct Authority {
    certificate: CertificateDer<'static>,
    key: KeyPair,
}

impl Authority {
    /// Reads the authority of a folder, and makes it at the first start.
    ///
    /// # Errors
    /// [`TlsFault`].
    pub fn of_folder(folder: &Path) -> Result<Self, TlsFault> {
        let (file, key_file) = (folder.join(AUTHORITY), folder.join(AUTHORITY_KEY));
        match (file.exists(), key_file.exists()) {
            (true, true) => Self::load(&file, &key_file),
            (false, false) => Self::make(&file, &key_file),
            (true, false) => Err(TlsFault::Half { present: AUTHORITY, missing: AUTHORITY_KEY }),
            (false, true) => Err(TlsFault::Half { present: AUTHORITY_KEY, missing: AUTHORITY }),
        }
    }

    fn load(file: &Path, key_file: &Path) -> Result<Self, TlsFault> {
        let read = |file: &Path| fs::read_to_string(file).map_err(|error| fault(file, error));
        let certificate =
            CertificateDer::from_pem_slice(read(file)?.as_bytes()).map_err(TlsFault::certificate)?.into_owned();
        let key = KeyPair::from_pem(&read(key_file)?).map_err(TlsFault::certificate)?;
        Ok(Self { certificate, key })
    }

    fn make(file: &Path, key_file: &Path) -> Result<Self, TlsFault> {
        let key = KeyPair::generate().map_err(TlsFault::certificate)?;
        let certificate = params()?.self_signed(&key).map_err(TlsFault::certificate)?;
        // The key first: a certificate without its key would be pinned and could never answer again.
        write_new(key_file, &key.serialize_pem(), 0o600)?;
        write_new(file, &certificate.pem(), 0o644)?;
        Ok(Self { certificate: certificate.der().clone(), key })
    }

    /// What a kiosk pins.
    pub fn fingerprint(&self) -> Fingerprint {
        Fingerprint::of(&self.certificate)
    }

    /// How the server answers: TLS 1.3 with a certificate made now, for this address too, so that a browser that
    /// trusts the authority takes it.
    ///
    /// # Errors
    /// [`TlsFault`].
    pub fn server_config(&self, address: IpAddr) -> Result<ServerConfig, TlsFault> {
        let mut names = vec![SERVER_NAME.to_owned(), "localhost".to_owned(), "127.0.0.1".to_owned()];
        if !address.is_unspecified() && !address.is_loopback() {
            names.push(address.to_string());
        }
        let mut wanted = CertificateParams::new(names).map_err(TlsFault::certificate)?;
        wanted.distinguished_name.push(DnType::CommonName, SERVER_NAME);
        wanted.use_authority_key_identifier_extension = true;
        let key = KeyPair::generate().map_err(TlsFault::certificate)?;
        let authority = params()?;
        let issuer = Issuer::from_params(&authority, &self.key);
        let certificate = wanted.signed_by(&key, &issuer).map_err(TlsFault::certificate)?;
        let chain = vec![certificate.der().clone(), self.certificate.clone()];
        let key = PrivateKeyDer::Pkcs8(PrivatePkcs8KeyDer::from(key.serialize_der()));
        ServerConfig::builder_with_provider(Arc::new(rustls::crypto::ring::default_provider()))
            .with_protocol_versions(&[&rustls::version::TLS13])
            .and_then(|builder| builder.with_no_client_auth().with_single_cert(chain, key))
            .map_err(TlsFault::certificate)
    }
}

/// SHA-256 of the authority's certificate (DER): what two people can compare.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Fingerprint([u8; 32]);

impl Fingerprint {
    /// Of a certificate.
    pub fn of(certificate: &CertificateDer<'_>) -> Self {
        Self(Sha256::digest(certificate.as_ref()).into())
    }

    /// From 64 hexadecimal digits; colons and spaces between them do not matter.
    pub fn parse(text: &str) -> Option<Self> {
        let digits: String = text.chars().filter(|letter| !matches!(letter, ':' | ' ')).collect();
        HEXLOWER.decode(digits.to_lowercase().as_bytes()).ok()?.try_into().ok().map(Self)
    }
}

impl std::fmt::Display for Fingerprint {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        formatter.write_str(&HEXLOWER.encode(&self.0))
    }
}

/// The same at every start: what is signed names its signer by them.
fn params() -> Result<CertificateParams, TlsFault> {
    let mut params = CertificateParams::new(Vec::new()).map_err(TlsFault::certificate)?;
    params.distinguished_name = rcgen::DistinguishedName::new();
    params.distinguished_name.push(DnType::CommonName, "sparkout hub");
    params.is_ca = IsCa::Ca(BasicConstraints::Constrained(0));
    params.key_usages = vec![KeyUsagePurpose::KeyCertSign, KeyUsagePurpose::DigitalSignature];
    Ok(params)
}

fn fault(file: &Path, error: io::Error) -> TlsFault {
    TlsFault::File { file: file.display().to_string(), error }
}

fn write_new(file: &Path, text: &str, mode: u32) -> Result<(), TlsFault> {
    let write = || -> io::Result<()> {
        let mut options = OpenOptions::new();
        options.write(true).create_new(true);
        #[cfg(unix)]
        std::os::unix::fs::OpenOptionsExt::mode(&mut options, mode);
        let mut writing = options.open(file)?;
        writing.write_all(text.as_bytes())?;
        writing.sync_all()?;
        sync_folder_of(file)
    };
    write().map_err(|error| fault(file, error))
}
