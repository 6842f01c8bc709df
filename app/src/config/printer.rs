//! Which printer labels go to, and whose labels are known.

use super::Config;
use crate::label::vouched::KnownKeys;
use crate::print::raw::PageLanguage;
use anyhow::{Context, bail};
use ipp::prelude::Uri;
use serde::Deserialize;

/// The port of raw printing where none is named.
const RAW_PORT: u16 = 9100;

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct PrinterTexts {
    kind: String,
    address: String,
    language: String,
}

/// A printer that is a device of its own.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PrinterWiring {
    /// One that speaks IPP, or a queue of CUPS.
    Ipp {
        /// `ipp://HOST:PORT/PATH`.
        uri: Uri,
    },
    /// One that takes a page language over TCP.
    Raw {
        /// `HOST:PORT`.
        address: String,
        /// Its language.
        language: PageLanguage,
    },
}

impl Config {
    /// The public keys of the shop's other benches.
    ///
    /// # Errors
    /// Naming the first line that is no key line.
    pub fn known_keys(&self) -> anyhow::Result<KnownKeys> {
        KnownKeys::parse(&self.label.known_keys).context("label.known_keys")
    }

    /// The printer; nothing when labels are written into the folder.
    ///
    /// # Errors
    /// In words, naming the key, its value and what is allowed.
    pub fn printer(&self) -> anyhow::Result<Option<PrinterWiring>> {
        let PrinterTexts { kind, address, language } = &self.printer;
        let language = match language.as_str() {
            "graphic_field" => PageLanguage::GraphicField,
            "raster_rows" => PageLanguage::RasterRows,
            other => bail!("printer.language: {other:?} is not known; graphic_field or raster_rows"),
        };
        if kind != "folder" && address.is_empty() {
            bail!("printer.address is empty; a printer of kind {kind:?} has one");
        }
        Ok(match kind.as_str() {
            "folder" => None,
            "ipp" => Some(PrinterWiring::Ipp { uri: ipp_uri(address)? }),
            "cups" if address.chars().all(|letter| letter.is_ascii_graphic() && !matches!(letter, '/' | '?' | '#')) => {
                Some(PrinterWiring::Ipp { uri: ipp_uri(&format!("ipp://localhost:631/printers/{address}"))? })
            }
            "cups" => bail!("printer.address: {address:?} is not the name of a queue"),
            "raw" => {
                let has_port = address.rsplit_once(':').is_some_and(|(_, port)| port.parse::<u16>().is_ok());
                let address = if has_port { address.clone() } else { format!("{address}:{RAW_PORT}") };
                Some(PrinterWiring::Raw { address, language })
            }
            other => bail!("printer.kind: {other:?} is not known; folder, ipp, cups or raw"),
        })
    }
}

fn ipp_uri(text: &str) -> anyhow::Result<Uri> {
    let uri: Uri = text.parse().with_context(|| format!("printer.address: {text:?} is not a URI"))?;
    match (uri.scheme_str(), uri.host()) {
        (Some("ipp"), Some(host)) if !host.is_empty() => Ok(uri),
        _ => bail!("printer.address: {text:?} is not like ipp://HOST:631/ipp/print"),
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
    use super::*;

    fn load(lines: &str) -> anyhow::Result<Config> {
        super::super::own(&format!("[printer]\n{lines}\n"))
    }

    #[test]
    fn kinds() {
        assert_eq!(Config::load(None).unwrap().printer().unwrap(), None);
        let ipp = load("kind = \"ipp\"\naddress = \"ipp://192.0.2.7:631/ipp/print\"").unwrap();
        assert!(matches!(ipp.printer().unwrap(), Some(PrinterWiring::Ipp { uri }) if uri.port_u16() == Some(631)));
        let cups = load("kind = \"cups\"\naddress = \"labels\"").unwrap();
        let Some(PrinterWiring::Ipp { uri }) = cups.printer().unwrap() else { panic!("no queue") };
        assert_eq!(uri.to_string(), "ipp://localhost:631/printers/labels");
        let raw = load("kind = \"raw\"\naddress = \"192.0.2.7\"\nlanguage = \"raster_rows\"").unwrap();
        let wiring = PrinterWiring::Raw { address: "192.0.2.7:9100".to_owned(), language: PageLanguage::RasterRows };
        assert_eq!(raw.printer().unwrap(), Some(wiring));
    }

    /// Line | what the refusal names.
    #[test]
    fn bad_values_are_named() {
        let table = [
            ("kind = \"usb\"\naddress = \"x\"", "folder, ipp, cups or raw"),
            ("kind = \"ipp\"", "printer.address is empty"),
            ("kind = \"ipp\"\naddress = \"192.0.2.7\"", "ipp://HOST:631/ipp/print"),
            ("kind = \"cups\"\naddress = \"a/b\"", "not the name of a queue"),
            ("language = \"pcl\"", "graphic_field or raster_rows"),
        ];
        for (lines, part) in table {
            let error = format!("{:#}", load(lines).expect_err(lines));
            assert!(error.contains(part), "{lines}: {error}");
        }
    }
}
