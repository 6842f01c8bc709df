//! Where the shop's hub answers.

use serde::{Deserialize, Serialize};
use thiserror::Error;

/// The most characters of a hub's address: longer ones would push the label's code to smaller modules.
pub const HUB_CHARACTERS_MOST: usize = 64;

/// A host name or IPv4 address with an optional port, in upper case so that a QR code stays in alphanumeric mode. Host names are the same
/// in either case (RFC 4343).
#[derive(Debug, Clone, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct HubAddress(String);

/// Why an address was not taken.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum HubAddressError {
    /// Empty or too long.
    #[error("the hub's address has {length} characters; 1 to {most} fit on a label")]
    Length {
        /// How many it has.
        length: usize,
        /// The most.
        most: usize,
    },
    /// A character outside host names.
    #[error(
        "the hub's address cannot hold {character:?}; letters A to Z, digits, '.', '-' and one ':' before the port can"
    )]
    Character {
        /// The first such.
        character: char,
    },
    /// A port that is none.
    #[error("{port:?} is not a port; 1 to 65535 are")]
    Port {
        /// What stands for it.
        port: String,
    },
}

impl HubAddress {
    /// From `host` or `host:port`, in either case.
    ///
    /// # Errors
    /// [`HubAddressError`] when it is empty, longer than 64 characters, holds another character, or has an impossible port.
    pub fn parse(text: &str) -> Result<Self, HubAddressError> {
        let length = text.chars().count();
        if length == 0 || length > HUB_CHARACTERS_MOST {
            return Err(HubAddressError::Length { length, most: HUB_CHARACTERS_MOST });
        }
        let (host, port) = text.split_once(':').map_or((text, None), |(host, port)| (host, Some(port)));
        let fits = |character: &char| character.is_ascii_alphanumeric() || matches!(character, '.' | '-');
        if let Some(character) = host.chars().find(|character| !fits(character)) {
            return Err(HubAddressError::Character { character });
        }
        if host.is_empty() {
            return Err(HubAddressError::Length { length: 0, most: HUB_CHARACTERS_MOST });
        }
        if let Some(port) = port
            && !(port.bytes().all(|byte| byte.is_ascii_digit()) && port.parse::<u16>().is_ok_and(|number| number > 0))
        {
            return Err(HubAddressError::Port { port: port.to_owned() });
        }
        Ok(Self(text.to_ascii_uppercase()))
    }

    /// The address in upper case.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl TryFrom<String> for HubAddress {
    type Error = HubAddressError;
    fn try_from(text: String) -> Result<Self, HubAddressError> {
        Self::parse(&text)
    }
}

impl From<HubAddress> for String {
    fn from(hub: HubAddress) -> Self {
        hub.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn taken_and_refused() {
        assert_eq!(HubAddress::parse("hub.example:8443").map(String::from), Ok("HUB.EXAMPLE:8443".to_owned()));
        assert_eq!(HubAddress::parse("192.0.2.7").map(String::from), Ok("192.0.2.7".to_owned()));
        for refused in ["", ":80", "hub_1", "hub/x", "hub é", "hub:", "hub:0", "hub:70000", "hub:+80", "a:b:c"] {
            assert!(HubAddress::parse(refused).is_err(), "{refused}");
        }
        assert!(HubAddress::parse(&"h".repeat(65)).is_err());
    }
}
