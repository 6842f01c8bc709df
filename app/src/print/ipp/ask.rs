//! One question and its answer, within a time.

use ipp::model::{DelimiterTag, IppVersion, Operation, StatusCode};
use ipp::parser::IppParser;
use ipp::prelude::Uri;
use ipp::reader::IppReader;
use ipp::request::IppRequestResponse;
use ipp::value::IppValue;
use sparkout_ui::words::PrinterTrouble;
use std::io::Cursor;
use std::time::Duration;

const CONNECT_MOST: Duration = Duration::from_secs(5);
const ANSWER_MOST: Duration = Duration::from_secs(15);
/// An answer about a printer with every attribute it has is below this.
const ANSWER_BYTES_MOST: u64 = 1024 * 1024;

/// An answer that was taken apart.
pub(super) type Asked = IppRequestResponse;

/// Why there is no answer to use.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Failed {
    /// Nobody took the connection.
    NotConnected,
    /// The connection stood, and no whole answer came over it in time.
    Silent,
    /// What came was not IPP.
    NotIpp,
    /// The printer's own no.
    Status(StatusCode),
}

/// Asks one printer.
pub(super) struct Asker {
    uri: Uri,
    agent: ureq::Agent,
}

impl Asker {
    pub fn new(uri: Uri) -> Self {
        Self::within(uri, CONNECT_MOST, ANSWER_MOST)
    }

    pub fn within(uri: Uri, connect: Duration, answer: Duration) -> Self {
        let config = ureq::Agent::config_builder()
            // A printer stands in the same house: never by way of a proxy that the environment names for the web.
            .proxy(None)
            .timeout_connect(Some(connect))
            .timeout_global(Some(answer))
            .http_status_as_error(false)
            .max_redirects(0)
            .build();
        Self { uri, agent: config.into() }
    }

    /// Where the printer is, for people.
    pub fn at(&self) -> String {
        self.uri.to_string()
    }

    pub fn request(&self, operation: Operation) -> Result<IppRequestResponse, PrinterTrouble> {
        IppRequestResponse::new(IppVersion::v2_0(), operation, Some(self.uri.clone()))
            .map_err(|_| PrinterTrouble::NotAPrinter { at: self.at() })
    }

    /// Sends a question, with a document behind it, and reads the answer.
    pub fn send(&self, request: IppRequestResponse, document: Vec<u8>) -> Result<Asked, Failed> {
        let mut body = request.to_bytes().to_vec();
        body.extend(document);
        let host = self.uri.authority().map_or("", |authority| authority.as_str());
        let port = if self.uri.port_u16().is_none() { ":631" } else { "" };
        let path = self.uri.path();
        let answer = self
            .agent
            .post(format!("http://{host}{port}{path}"))
            .header("content-type", "application/ipp")
            // Some printers take a body only when they are told its length beforehand.
            .send(body.as_slice())
            .map_err(|error| failed(&error))?;
        if answer.status() != 200 {
            tracing::info!(status = answer.status().as_u16(), "the printer answered with a status of HTTP");
            return Err(Failed::NotIpp);
        }
        let bytes = answer.into_body().into_with_config().limit(ANSWER_BYTES_MOST).read_to_vec();
        let bytes = bytes.map_err(|error| failed(&error))?;
        let answer = IppParser::new(IppReader::new(Cursor::new(bytes))).parse().map_err(|error| {
            tracing::info!(%error, "the printer's answer is not IPP");
            Failed::NotIpp
        })?;
        let status = answer.header().status_code();
        if status.is_success() { Ok(answer) } else { Err(Failed::Status(status)) }
    }
}

#[allow(clippy::wildcard_enum_match_arm, reason = "the library's errors are open; what is not known is a broken line")]
fn failed(error: &ureq::Error) -> Failed {
    tracing::info!(%error, "no answer from the printer");
    match error {
        ureq::Error::ConnectionFailed | ureq::Error::HostNotFound | ureq::Error::Timeout(ureq::Timeout::Connect) => {
            Failed::NotConnected
        }
        ureq::Error::Io(error) if error.kind() == std::io::ErrorKind::ConnectionRefused => Failed::NotConnected,
        ureq::Error::Protocol(_) | ureq::Error::Http(_) => Failed::NotIpp,
        _ => Failed::Silent,
    }
}

/// Adds an operation attribute; the names are ours and fit.
pub(super) fn operation(request: &mut IppRequestResponse, name: &str, value: IppValue) {
    if let Ok(attribute) = ipp::attribute::IppAttribute::with_name(name, value) {
        request.attributes_mut().add(DelimiterTag::OperationAttributes, attribute);
    }
}

/// Adds a name of people's or jobs'.
pub(super) fn name(request: &mut IppRequestResponse, name: &str, value: &str) {
    if let Ok(value) = IppValue::new_name_without_language(value) {
        operation(request, name, value);
    }
}
