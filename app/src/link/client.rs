//! Calls to the hub over HTTP. Over TLS everywhere but on this machine, to the hub that was pinned and no other.

use super::store::Paired;
use crate::hub::tls::{Fingerprint, SERVER_NAME};
use crate::hub::wire::{JournalState, PairReply, PairRequest, Problem, PullReply, PushReply, PushRequest};
use reqwest::{Client, RequestBuilder, StatusCode, Url, redirect};
use rustls::client::WebPkiServerVerifier;
use rustls::client::danger::{HandshakeSignatureValid, ServerCertVerified, ServerCertVerifier};
use rustls::crypto::{CryptoProvider, ring, verify_tls13_signature};
use rustls::pki_types::{CertificateDer, ServerName, UnixTime};
use rustls::{CertificateError, ClientConfig, DigitallySignedStruct, Error, RootCertStore, SignatureScheme};
use serde::de::DeserializeOwned;
use std::sync::Arc;
use std::time::Duration;
use thiserror::Error as Fault;

const CONNECT_MOST: Duration = Duration::from_secs(5);
/// A batch over a bad radio link takes a while; whoever is silent this long is away.
const CALL_MOST: Duration = Duration::from_secs(60);
/// A moment within every certificate of the hub's (2026-01-01): its dates bound nothing, and the kiosk's own clock may
/// stand anywhere.
const FIXED_SECONDS: u64 = 1_767_225_600;

/// Why a call came to nothing.
#[derive(Debug, Fault)]
pub enum CallFault {
    /// Nobody answered, or not the pinned hub.
    #[error("the hub is not reached: {0}")]
    Away(String),
    /// The hub answered with a refusal.
    #[error("the hub refuses ({status}, {name}): {message}", name = problem.refused, message = problem.message)]
    Refused {
        /// The answer's status.
        status: u16,
        /// What it says.
        problem: Problem,
    },
    /// What answered does not speak as a hub does.
    #[error("what answered is no hub of this version: {0}")]
    Foreign(String),
    /// The address cannot be one.
    #[error("{0}")]
    Address(String),
}

/// A hub that can be called.
pub struct HubClient {
    http: Client,
    base: Url,
    token: Option<String>,
}

impl HubClient {
    /// Calls a hub that was paired.
    ///
    /// # Errors
    /// [`CallFault::Address`].
    pub fn of(paired: &Paired) -> Result<Self, CallFault> {
        let client = Self::new(&paired.address, paired.fingerprint)?;
        Ok(Self { token: Some(paired.token.clone()), ..client })
    }

    /// Calls a hub at an address: `HOST:PORT` is https and needs the fingerprint; `http://` is for this machine alone.
    ///
    /// # Errors
    /// [`CallFault::Address`].
    pub fn new(address: &str, pin: Option<Fingerprint>) -> Result<Self, CallFault> {
        let refused = |what: &str| CallFault::Address(format!("{address}: {what}"));
        let full = if address.contains("://") { address.to_owned() } else { format!("https://{address}") };
        let base = Url::parse(&full).map_err(|error| refused(&error.to_string()))?;
        let is_here = match base.host() {
            Some(url::Host::Ipv4(ip)) => ip.is_loopback(),
            Some(url::Host::Ipv6(ip)) => ip.is_loopback(),
            Some(url::Host::Domain(name)) => name == "localhost",
            None => return Err(refused("it names no host")),
        };
        match base.scheme() {
            "https" if pin.is_none() => return Err(refused("a hub on another machine is pinned by its fingerprint")),
            "http" if !is_here => return Err(refused("plain HTTP is for a hub on this machine alone")),
            "https" | "http" => {}
            _ => return Err(refused("a hub is reached by https")),
        }
        let http = Client::builder()
            .tls_backend_preconfigured(tls(pin).map_err(|error| refused(&error.to_string()))?)
            .no_proxy()
            .redirect(redirect::Policy::none())
            .connect_timeout(CONNECT_MOST)
            .timeout(CALL_MOST)
            .build()
            .map_err(|error| refused(&error.to_string()))?;
        Ok(Self { http, base, token: None })
    }

    /// The address with its scheme.
    pub fn address(&self) -> String {
        self.base.to_string()
    }

    /// Asks to be paired.
    ///
    /// # Errors
    /// [`CallFault`].
    pub async fn pair(&self, asked: &PairRequest) -> Result<PairReply, CallFault> {
        let url = self.url("v1/pair")?;
        self.call(self.http.post(url).json(asked)).await
    }

    /// What the hub has of a journal.
    ///
    /// # Errors
    /// [`CallFault`].
    pub async fn state(&self, incarnation: &str) -> Result<JournalState, CallFault> {
        let url = self.url(&format!("v1/journal/{incarnation}"))?;
        self.call(self.http.get(url)).await
    }

    /// Sends entries of a journal.
    ///
    /// # Errors
    /// [`CallFault`].
    pub async fn push(&self, incarnation: &str, pushed: &PushRequest) -> Result<PushReply, CallFault> {
        let url = self.url(&format!("v1/journal/{incarnation}"))?;
        self.call(self.http.post(url).json(pushed)).await
    }

    /// Fetches entries of others.
    ///
    /// # Errors
    /// [`CallFault`].
    pub async fn pull(&self, after: u64) -> Result<PullReply, CallFault> {
        let mut url = self.url("v1/journal")?;
        url.set_query(Some(&format!("after={after}")));
        self.call(self.http.get(url)).await
    }

    fn url(&self, path: &str) -> Result<Url, CallFault> {
        self.base.join(path).map_err(|error| CallFault::Address(format!("{path}: {error}")))
    }

    async fn call<T: DeserializeOwned>(&self, request: RequestBuilder) -> Result<T, CallFault> {
        let request = match &self.token {
            Some(token) => request.bearer_auth(token),
            None => request,
        };
        let away = |error: reqwest::Error| CallFault::Away(with_causes(&error.without_url()));
        let response = request.send().await.map_err(away)?;
        let status = response.status();
        let bytes = response.bytes().await.map_err(away)?;
        let foreign = |error: serde_json::Error| CallFault::Foreign(format!("{status}: {error}"));
        if status == StatusCode::OK {
            return serde_json::from_slice(&bytes).map_err(foreign);
        }
        let problem = serde_json::from_slice(&bytes).map_err(foreign)?;
        Err(CallFault::Refused { status: status.as_u16(), problem })
    }
}

/// What went wrong at the bottom stands at the end, and is what helps.
fn with_causes(error: &dyn std::error::Error) -> String {
    let causes = std::iter::successors(Some(error), |error| error.source());
    causes.map(ToString::to_string).collect::<Vec<_>>().join(": ")
}

fn tls(pin: Option<Fingerprint>) -> Result<ClientConfig, Error> {
    let provider = Arc::new(ring::default_provider());
    let verifier = Arc::new(Pinned { pin, provider: Arc::clone(&provider) });
    let builder = ClientConfig::builder_with_provider(provider).with_protocol_versions(&[&rustls::version::TLS13])?;
    Ok(builder.dangerous().with_custom_certificate_verifier(verifier).with_no_client_auth())
}

/// Takes a server whose certificate is signed by the pinned authority, and no other; without a pin, none.
#[derive(Debug)]
struct Pinned {
    pin: Option<Fingerprint>,
    provider: Arc<CryptoProvider>,
}

impl ServerCertVerifier for Pinned {
    fn verify_server_cert(
        &self,
        server: &CertificateDer<'_>,
        others: &[CertificateDer<'_>],
        _address: &ServerName<'_>,
        _ocsp: &[u8],
        _now: UnixTime,
    ) -> Result<ServerCertVerified, Error> {
        let authority = others.iter().find(|other| self.pin == Some(Fingerprint::of(other)));
        let authority = authority.ok_or(Error::InvalidCertificate(CertificateError::UnknownIssuer))?;
        let mut roots = RootCertStore::empty();
        roots.add(authority.clone().into_owned())?;
        let verifier = WebPkiServerVerifier::builder_with_provider(Arc::new(roots), Arc::clone(&self.provider))
            .build()
            .map_err(|error| Error::General(error.to_string()))?;
        let name = ServerName::try_from(SERVER_NAME).map_err(|error| Error::General(error.to_string()))?;
        let then = UnixTime::since_unix_epoch(Duration::from_secs(FIXED_SECONDS));
        verifier.verify_server_cert(server, &[], &name, &[], then)
    }

    fn verify_tls12_signature(
        &self,
        _message: &[u8],
        _certificate: &CertificateDer<'_>,
        _signature: &DigitallySignedStruct,
    ) -> Result<HandshakeSignatureValid, Error> {
        Err(Error::General("only TLS 1.3 is spoken".to_owned()))
    }

    fn verify_tls13_signature(
        &self,
        message: &[u8],
        certificate: &CertificateDer<'_>,
        signature: &DigitallySignedStruct,
    ) -> Result<HandshakeSignatureValid, Error> {
        verify_tls13_signature(message, certificate, signature, &self.provider.signature_verification_algorithms)
    }

    fn supported_verify_schemes(&self) -> Vec<SignatureScheme> {
        self.provider.signature_verification_algorithms.supported_schemes()
    }
}
