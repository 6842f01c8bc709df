//! What a scanner sends, and what it means.
//!
//! [`parse`] tells assets (plain codes, GS1 element strings and Digital Link with GIAI or GRAI), our own labels, badges, places and
//! command cards apart, and refuses everything else saying what it looks like. [`wedge`] tells a scanner that types
//! from a person who types.

mod ai;
mod aim;
mod check;
mod gs1;
mod key_card;
mod own;
pub mod wedge;

pub use aim::Carrier;
pub use check::{gs1_check_digit, gs1_check_holds, mod_37_36, mod_37_36_holds};
pub use key_card::{CardCharacter, KeyCard, key_card};
pub use own::{BadgeId, CommandCard, ID_CHARACTERS_MOST, MARK, MowerCode, OwnCodeError, POSITIONS_MOST, Place};

use crate::label::{LabelEnvelope, LabelRefusal, decode_url, is_label_url};
use serde::{Deserialize, Serialize};
use thiserror::Error;

/// The most characters of a scan that are looked at: a signed label stays well below, and a QR code could hold 4296.
pub const SCAN_CHARACTERS_MOST: usize = 1024;

/// What is particular about a shop's codes.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct ShopCodes {
    /// The most characters of a plain asset code; 24 unless configured.
    pub asset_characters_most: usize,
    /// GS1 company prefixes whose assets are the shop's own; none means any.
    pub company_prefixes: Vec<String>,
}

impl Default for ShopCodes {
    fn default() -> Self {
        Self { asset_characters_most: 24, company_prefixes: Vec::new() }
    }
}

/// What names one asset.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum AssetCode {
    /// A shop's own numbering, in upper case.
    Plain(String),
    /// A GS1 global individual asset identifier (8004).
    Giai(String),
    /// A GS1 global returnable asset identifier with serial (8003).
    Grai(String),
}

impl AssetCode {
    /// The text under which a unit is kept and found: the plain code, or the GS1 key with its identifier in brackets.
    pub fn tag(&self) -> String {
        match self {
            Self::Plain(code) => code.clone(),
            Self::Giai(value) => format!("({}){value}", ai::GIAI),
            Self::Grai(value) => format!("({}){value}", ai::GRAI),
        }
    }
}

/// What was scanned.
#[derive(Debug, Clone, PartialEq)]
pub enum Scan {
    /// A cutting unit's tag, or any asset's.
    Asset(AssetCode),
    /// A label of ours, with its record.
    OwnLabel(Box<LabelEnvelope>),
    /// A person's badge.
    Badge(BadgeId),
    /// A place on a mower.
    Place(Place),
    /// A command card.
    Command(CommandCard),
    /// A key card.
    Key(KeyCard),
}

/// What a code that was not understood looks like.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum LooksLike {
    /// A web address that is neither a label of ours nor a GS1 Digital Link.
    #[error("a web address")]
    WebAddress,
    /// A GS1 Digital Link with wrong escapes.
    #[error("a damaged GS1 Digital Link")]
    BrokenLink,
    /// GS1 data that names no asset.
    #[error("a GS1 code that names no asset (it begins with {ai:?})")]
    Gs1Other {
        /// Its first identifier, or the digits that should be one.
        ai: String,
    },
    /// The bar code of a product in a shop.
    #[error("the bar code of a product")]
    Product,
    /// A contact, a network, a message: `NAME:` and something.
    #[error("a contact, a network or a message")]
    Message,
    /// A code of ours of a kind that this version does not know.
    #[error("a code of a newer version of this program")]
    NewerCode,
    /// Words.
    #[error("text")]
    Text,
}

/// Which check did not hold.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum CodeKind {
    /// The check digit of a GS1 key.
    #[error("GS1 key ({ai})")]
    Gs1 {
        /// The application identifier.
        ai: &'static str,
    },
    /// The length or check character of a code of ours.
    #[error("badge, place or command code")]
    Own,
}

/// Why a scan was not taken.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum ScanRefusal {
    /// Nothing, or only blanks.
    #[error("the scan is empty")]
    Empty,
    /// More than any code here has.
    #[error("the scan has {characters} characters; at most {most} are read")]
    TooLong {
        /// How many it has.
        characters: usize,
        /// The most that are read.
        most: usize,
    },
    /// A control character inside the code.
    #[error("the scan holds the control character U+{code:04X}; check the scanner's settings")]
    ControlCharacter {
        /// Its code point.
        code: u32,
    },
    /// A letter that only looks like A to Z, a mark that turns the direction of writing, or any other character that no
    /// code here has.
    #[error(
        "the scan holds U+{code:04X}, which is not a plain letter, digit or sign; check the scanner's keyboard layout"
    )]
    ForeignCharacter {
        /// Its code point.
        code: u32,
    },
    /// Read twice, or every character doubled.
    #[error("{half:?} came doubled; scan again")]
    Doubled {
        /// What it would be once.
        half: String,
    },
    /// Not a code that is known here.
    #[error("not a code that is known here: it looks like {looks_like}")]
    NotReadable {
        /// What it looks like.
        looks_like: LooksLike,
    },
    /// A check digit or check character does not fit: misread, cut, or a wrong keyboard layout.
    #[error("the {kind} is damaged or was read incompletely; scan again")]
    CheckFailed {
        /// Which.
        kind: CodeKind,
    },
    /// A GS1 value too short or too long.
    #[error("the GS1 value of ({ai}) has {length} characters, allowed are {least} to {most}")]
    Gs1Length {
        /// The application identifier.
        ai: &'static str,
        /// How many it has.
        length: usize,
        /// The fewest.
        least: usize,
        /// The most.
        most: usize,
    },
    /// A character that a GS1 value cannot hold there.
    #[error("the GS1 value of ({ai}) cannot hold {character:?} there")]
    Gs1Character {
        /// The application identifier.
        ai: &'static str,
        /// The character.
        character: char,
    },
    /// One identifier twice with different values.
    #[error("the code gives ({ai}) twice with different values")]
    Contradiction {
        /// The application identifier.
        ai: &'static str,
    },
    /// A GRAI without serial is a kind of asset, and every unit of the kind would be the same unit.
    #[error("the code ({}){grai} names a kind of asset, not one of them: its serial is missing", ai::GRAI)]
    NoSerial {
        /// The digits.
        grai: String,
    },
    /// An asset of somebody else.
    #[error("{tag} belongs to another company")]
    OtherCompany {
        /// The asset.
        tag: String,
    },
    /// A label of ours that could not be read.
    #[error(transparent)]
    Label(#[from] LabelRefusal),
}

/// Reads a scan. Blanks and terminators around it are dropped; an AIM symbology identifier before it is understood.
///
/// # Errors
/// [`ScanRefusal`], saying what it looks like or what is wrong with it.
pub fn parse(text: &str, shop: &ShopCodes) -> Result<Scan, ScanRefusal> {
    let text = text.trim_matches(['\r', '\n', '\t', ' ']);
    check_characters(text)?;
    let (carrier, text) = aim::strip(text);
    match carrier {
        Some(Carrier::Gs1) => return gs1_asset(gs1::element_strings(text)?, shop),
        Some(Carrier::Retail) => return Err(ScanRefusal::NotReadable { looks_like: LooksLike::Product }),
        Some(Carrier::Plain) | None => {}
    }
    if looks_like_element_strings(text) {
        return gs1_asset(gs1::element_strings(text)?, shop);
    }
    if let Some(at) = text.find(gs1::SEPARATOR) {
        return Err(ScanRefusal::ControlCharacter { code: u32::from(text.as_bytes()[at]) });
    }
    if let Some(half) = doubled(text) {
        return Err(ScanRefusal::Doubled { half: half.to_owned() });
    }
    if own::claims_to_be_ours(text) {
        return own::parse(text);
    }
    if is_address(text) {
        return address(text, shop);
    }
    plain(text, shop)
}

fn check_characters(text: &str) -> Result<(), ScanRefusal> {
    if text.is_empty() {
        return Err(ScanRefusal::Empty);
    }
    let characters = text.chars().count();
    if characters > SCAN_CHARACTERS_MOST {
        return Err(ScanRefusal::TooLong { characters, most: SCAN_CHARACTERS_MOST });
    }
    for character in text.chars() {
        let code = u32::from(character);
        if character.is_control() && character != gs1::SEPARATOR {
            return Err(ScanRefusal::ControlCharacter { code });
        }
        if !character.is_ascii() {
            return Err(ScanRefusal::ForeignCharacter { code });
        }
    }
    Ok(())
}

/// Without an AIM identifier, element strings are known by the brackets, by a leading separator, or by an asset key that is
/// long enough: a company prefix has at least six digits, and a plain asset code may begin with 8004 too.
fn looks_like_element_strings(text: &str) -> bool {
    let bracketed =
        text.starts_with('(') && text.get(1..5).is_some_and(|digits| digits.starts_with(['0', '2', '4', '8']));
    let digits = text.bytes().take_while(u8::is_ascii_digit).count();
    text.starts_with(gs1::SEPARATOR)
        || bracketed
        || (text.starts_with(ai::GRAI) && digits >= ai::GRAI.len() + ai::GRAI_DIGITS)
        || (text.starts_with(ai::GIAI) && digits >= ai::GIAI.len() + 6)
}

/// The individual asset (GIAI) goes before the returnable one where a code carries both.
fn gs1_asset(elements: Vec<gs1::Element>, shop: &ShopCodes) -> Result<Scan, ScanRefusal> {
    let value_of = |ai: &str| elements.iter().find(|element| element.ai == ai).map(|element| element.value.clone());
    let (code, company_from) = match (value_of(ai::GIAI), value_of(ai::GRAI)) {
        (Some(giai), _) => (AssetCode::Giai(giai), 0),
        (None, Some(grai)) if gs1::has_serial(&grai) => (AssetCode::Grai(grai), 1),
        (None, Some(grai)) => return Err(ScanRefusal::NoSerial { grai }),
        (None, None) => {
            let ai = elements.first().map(|element| element.ai.to_owned()).unwrap_or_default();
            return Err(ScanRefusal::NotReadable { looks_like: LooksLike::Gs1Other { ai } });
        }
    };
    let (AssetCode::Giai(value) | AssetCode::Grai(value) | AssetCode::Plain(value)) = &code;
    let company = &value[company_from..];
    if !shop.company_prefixes.is_empty()
        && !shop.company_prefixes.iter().any(|prefix| company.starts_with(prefix.as_str()))
    {
        return Err(ScanRefusal::OtherCompany { tag: code.tag() });
    }
    Ok(Scan::Asset(code))
}

fn is_address(text: &str) -> bool {
    let lower: String = text.chars().take(8).collect::<String>().to_ascii_lowercase();
    lower.starts_with("http://") || lower.starts_with("https://")
}

fn address(text: &str, shop: &ShopCodes) -> Result<Scan, ScanRefusal> {
    if is_label_url(text) {
        return Ok(Scan::OwnLabel(Box::new(decode_url(text)?)));
    }
    match gs1::digital_link(text) {
        Some(elements) => gs1_asset(elements?, shop),
        None => Err(ScanRefusal::NotReadable { looks_like: LooksLike::WebAddress }),
    }
}

/// A code that came twice in one go, or with every character doubled. Digits alone are left: 1212 is a fair number.
fn doubled(text: &str) -> Option<String> {
    let count = text.len();
    if count < 6 || !count.is_multiple_of(2) || text.bytes().all(|byte| byte.is_ascii_digit()) {
        return None;
    }
    let (first, second) = text.split_at(count / 2);
    if first == second {
        return Some(first.to_owned());
    }
    let pairs = text.as_bytes().chunks_exact(2);
    pairs.clone().all(|pair| pair[0] == pair[1]).then(|| pairs.map(|pair| char::from(pair[0])).collect())
}

fn plain(text: &str, shop: &ShopCodes) -> Result<Scan, ScanRefusal> {
    let refused = |looks_like| Err(ScanRefusal::NotReadable { looks_like });
    if text.contains(' ') {
        return refused(if text.contains(':') { LooksLike::Message } else { LooksLike::Text });
    }
    if text.contains([':', ';', '@']) {
        return refused(LooksLike::Message);
    }
    let fits = |character: char| character.is_ascii_alphanumeric() || matches!(character, '-' | '.' | '/' | '_');
    if !text.chars().all(fits) || !text.chars().any(|character| character.is_ascii_alphanumeric()) {
        return refused(LooksLike::Text);
    }
    let (characters, most) = (text.len(), shop.asset_characters_most);
    if characters > most {
        return Err(ScanRefusal::TooLong { characters, most });
    }
    Ok(Scan::Asset(AssetCode::Plain(text.to_ascii_uppercase())))
}

#[cfg(test)]
mod tests;
