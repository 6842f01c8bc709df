//! Key cards: printed codes that stand for one key of the keyboard each.
//!
//! The five command cards drive a visit; what is left over (a reading without a keypad under the hand, a name, a control
//! that no card names) is a key's. A key card does what that key does when a person types it, and so nothing that is
//! held: an acknowledgement knows no key.

use super::own::{self, claims_to_be_ours, sealed};
use super::{Scan, aim};
use serde::{Deserialize, Serialize};

/// A printed key.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum KeyCard {
    /// A digit or a capital letter: `0` to `9`, `A` to `Z`.
    Character(CardCharacter),
    /// The sign between whole and part, whatever the region writes for it.
    Point,
    /// The minus sign.
    Minus,
    /// The gap between words.
    Space,
    /// The last character away.
    Erase,
    /// Take what was typed, or press what the ring is on.
    Enter,
    /// The ring on to the next control.
    On,
    /// The ring back to the control before.
    Before,
}

/// A character that a card may carry; nothing but a digit or a capital letter.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(try_from = "char", into = "char")]
pub struct CardCharacter(char);

impl From<CardCharacter> for char {
    fn from(character: CardCharacter) -> Self {
        character.0
    }
}

impl TryFrom<char> for CardCharacter {
    type Error = &'static str;

    fn try_from(character: char) -> Result<Self, Self::Error> {
        let fits = character.is_ascii_digit() || character.is_ascii_uppercase();
        fits.then_some(Self(character)).ok_or("a key card carries a digit or a capital letter")
    }
}

/// The keys that are no character, with the word that their code carries: two characters at least.
const WORDS: [(KeyCard, &str); 7] = [
    (KeyCard::Point, "POINT"),
    (KeyCard::Minus, "MINUS"),
    (KeyCard::Space, "SPACE"),
    (KeyCard::Erase, "ERASE"),
    (KeyCard::Enter, "ENTER"),
    (KeyCard::On, "ON"),
    (KeyCard::Before, "BEFORE"),
];

impl KeyCard {
    /// All of them, in the order of a sheet: digits, the keys beside them, letters.
    pub fn all() -> impl Iterator<Item = Self> {
        let characters = |range: std::ops::RangeInclusive<char>| range.map(|one| Self::Character(CardCharacter(one)));
        characters('0'..='9').chain(WORDS.map(|(key, _)| key)).chain(characters('A'..='Z'))
    }

    /// The text to print as this key's code.
    pub fn code(self) -> String {
        let word = WORDS.iter().find(|(key, _)| *key == self).map_or("", |(_, word)| word);
        match self {
            Self::Character(character) => sealed('K', &char::from(character).to_string()),
            _ => sealed('K', word),
        }
    }

    pub(super) fn of_payload(payload: &str) -> Option<Self> {
        let mut characters = payload.chars();
        match (characters.next(), characters.next()) {
            (Some(one), None) => CardCharacter::try_from(one).ok().map(Self::Character),
            _ => WORDS.iter().find(|(_, word)| *word == payload).map(|(key, _)| *key),
        }
    }
}

/// The key that a scan stands for, when it is a key card's. It needs to know no shop: whoever holds the window asks
/// this before anything else is made of the scan.
pub fn key_card(text: &str) -> Option<KeyCard> {
    let (_, text) = aim::strip(text.trim_matches(['\r', '\n', '\t', ' ']));
    if !text.is_ascii() || !claims_to_be_ours(text) {
        return None;
    }
    match own::parse(text) {
        Ok(Scan::Key(key)) => Some(key),
        Ok(_) | Err(_) => None,
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn each_key_reads_back_in_either_case_and_behind_a_symbology_prefix() {
        let mut codes = BTreeSet::new();
        for key in KeyCard::all() {
            let code = key.code();
            for text in [code.clone(), code.to_lowercase(), format!("]Q1{code}\r")] {
                assert_eq!(key_card(&text), Some(key), "{text}");
            }
            assert!(codes.insert(code), "two keys with one code");
        }
        assert_eq!(codes.len(), 10 + 7 + 26);
    }

    #[test]
    fn a_damaged_key_card_and_every_other_code_is_no_key() {
        let code = KeyCard::Enter.code();
        for cut in 0..code.len() {
            assert_eq!(key_card(&code[..cut]), None);
        }
        let command = own::CommandCard::Next.code();
        for text in ["5", "ENTER", "Q-114", "", "ſPKK1", command.as_str()] {
            assert_eq!(key_card(text), None, "{text}");
        }
        assert!(CardCharacter::try_from('a').is_err() && CardCharacter::try_from('\r').is_err());
    }
}
