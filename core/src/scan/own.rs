//! Our own codes: badges, places on mowers, command cards, key cards.
//!
//! # Format
//!
//! `SPK` · kind · length · payload · check, with nothing but digits and capital letters:
//!
//! - `SPK` marks the code as ours; no asset code of a shop may begin so.
//! - Kind: `B` badge, `P` place, `C` command card, `K` key card.
//! - Length: how many characters the payload has, 1 to 9 and then `A` = 10 to `Z` = 35. A cut, doubled or run-together read is
//!   of another length, and so is refused for certain and not with a chance of 35 in 36.
//! - Payload: the badge's id · the mower's length, the mower's code, one character for the position · the command's
//!   English word · the key's character or English word.
//! - Check: ISO/IEC 7064 MOD 37,36 over all characters before it.
//!
//! Digits and capital letters stay in the alphanumeric mode of QR and in Code 39, and need no key that keyboard layouts
//! put elsewhere by meaning (`-`, `/`, `:`, `"`). The six letters that the common Latin layouts move (A, M, Q, W, Y, Z) are
//! not in the mark and the kinds, so that a code read under a wrong layout is still known as ours and fails
//! by its check character instead of passing as an asset code. Either case is read, for scanners with caps lock on.

use super::check::{character_of, mod_37_36, mod_37_36_holds, value_of};
use super::{CodeKind, KeyCard, LooksLike, Scan, ScanRefusal};
use serde::{Deserialize, Serialize};
use thiserror::Error;

/// What every code of ours begins with.
pub const MARK: &str = "SPK";

/// The most characters of a badge's id or a mower's code: a code of ours stays below version 2 of QR.
pub const ID_CHARACTERS_MOST: usize = 12;
/// The most positions that a mower can have: what one character counts to.
pub const POSITIONS_MOST: u8 = 35;

/// Why an id cannot stand in a code of ours.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum OwnCodeError {
    /// Empty or too long.
    #[error("an id has {length} characters; 1 to {most} fit in a code")]
    Length {
        /// How many it has.
        length: usize,
        /// The most that fit.
        most: usize,
    },
    /// A character that MOD 37,36 does not cover.
    #[error("{character:?} cannot stand in a code; only digits and letters A to Z can")]
    Character {
        /// The first such.
        character: char,
    },
    /// A position that one character cannot count.
    #[error("position {position} cannot stand in a code; 1 to {most} can")]
    Position {
        /// What was given.
        position: u8,
        /// The most.
        most: u8,
    },
}

fn id(text: &str) -> Result<String, OwnCodeError> {
    let length = text.chars().count();
    if length == 0 || length > ID_CHARACTERS_MOST {
        return Err(OwnCodeError::Length { length, most: ID_CHARACTERS_MOST });
    }
    match text.chars().find(|character| !character.is_ascii_alphanumeric()) {
        Some(character) => Err(OwnCodeError::Character { character }),
        None => Ok(text.to_ascii_uppercase()),
    }
}

/// A person's badge: digits and capital letters, 1 to 12.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct BadgeId(String);

/// A mower's code: digits and capital letters, 1 to 12.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct MowerCode(String);

macro_rules! id_type {
    ($name:ident) => {
        impl $name {
            /// From a text in either case.
            ///
            /// # Errors
            /// [`OwnCodeError`] when it is empty, longer than 12 characters, or holds anything but digits and letters A to Z.
            pub fn new(text: &str) -> Result<Self, OwnCodeError> {
                id(text).map(Self)
            }

            /// The id as it is compared and stored.
            pub fn as_str(&self) -> &str {
                &self.0
            }
        }

        impl TryFrom<String> for $name {
            type Error = OwnCodeError;
            fn try_from(text: String) -> Result<Self, OwnCodeError> {
                Self::new(&text)
            }
        }

        impl From<$name> for String {
            fn from(id: $name) -> Self {
                id.0
            }
        }

        impl std::fmt::Display for $name {
            fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                formatter.write_str(&self.0)
            }
        }
    };
}

id_type!(BadgeId);
id_type!(MowerCode);

impl BadgeId {
    /// The text to print as this badge's code.
    pub fn code(&self) -> String {
        sealed('B', &self.0)
    }
}

/// A place on a mower where a unit belongs.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Place {
    mower: MowerCode,
    position: u8,
}

impl Place {
    /// A place from the mower's code and the position's number, counted from 1 to 35 as on the mower's picture.
    ///
    /// # Errors
    /// [`OwnCodeError::Position`] when the number is out of range.
    pub fn new(mower: MowerCode, position: u8) -> Result<Self, OwnCodeError> {
        if position == 0 || position > POSITIONS_MOST {
            return Err(OwnCodeError::Position { position, most: POSITIONS_MOST });
        }
        Ok(Self { mower, position })
    }

    /// The mower.
    pub const fn mower(&self) -> &MowerCode {
        &self.mower
    }

    /// The position's number, from 1.
    pub const fn position(&self) -> u8 {
        self.position
    }

    /// The text to print as this place's code.
    pub fn code(&self) -> String {
        let character = |value: usize| character_of(value).map(String::from).unwrap_or_default();
        let mower = self.mower.as_str();
        sealed('P', &format!("{}{mower}{}", character(mower.len()), character(usize::from(self.position))))
    }
}

/// A card on the printed sheet that drives a step without a hand on the screen. None of them stops the grinder.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum CommandCard {
    /// On to the next step.
    Next,
    /// One step back.
    Back,
    /// Say it, or do it, once more.
    Repeat,
    /// A pass of the wheel is done.
    PassDone,
    /// Leave the visit as it stands.
    PauseVisit,
}

impl CommandCard {
    /// All of them, in the order of the sheet.
    pub const ALL: [Self; 5] = [Self::Next, Self::Back, Self::Repeat, Self::PassDone, Self::PauseVisit];

    const fn word(self) -> &'static str {
        match self {
            Self::Next => "NEXT",
            Self::Back => "BACK",
            Self::Repeat => "REPEAT",
            Self::PassDone => "PASSDONE",
            Self::PauseVisit => "PAUSE",
        }
    }

    /// The text to print as this card's code.
    pub fn code(self) -> String {
        sealed('C', self.word())
    }
}

/// Payload lengths are below 36 by construction of the ids, so a length character always exists.
pub(super) fn sealed(kind: char, payload: &str) -> String {
    let length = character_of(payload.len()).unwrap_or('0');
    let mut code = format!("{MARK}{kind}{length}{payload}");
    code.extend(mod_37_36(&code));
    code
}

/// Whether a text, in either case, claims to be a code of ours.
pub(crate) fn claims_to_be_ours(text: &str) -> bool {
    text.get(..MARK.len()).is_some_and(|mark| mark.eq_ignore_ascii_case(MARK))
}

/// Reads a text that [`claims_to_be_ours`].
pub(crate) fn parse(text: &str) -> Result<Scan, ScanRefusal> {
    let code = text.to_ascii_uppercase();
    let failed = || ScanRefusal::CheckFailed { kind: CodeKind::Own };
    let body = code.strip_prefix(MARK).ok_or_else(failed)?;
    let mut characters = body.chars();
    let (kind, length) = (characters.next().ok_or_else(failed)?, characters.next().ok_or_else(failed)?);
    let sealed = characters.as_str();
    let length = value_of(length).ok_or_else(failed)?;
    if length == 0 || sealed.len() != length + 1 || !mod_37_36_holds(&code) {
        return Err(failed());
    }
    let payload = &sealed[..length];
    match kind {
        'B' => BadgeId::new(payload).map(Scan::Badge).map_err(|_| failed()),
        'P' => place(payload).map(Scan::Place).ok_or_else(failed),
        'C' => CommandCard::ALL
            .into_iter()
            .find(|card| card.word() == payload)
            .map(Scan::Command)
            .ok_or(ScanRefusal::NotReadable { looks_like: LooksLike::NewerCode }),
        'K' => KeyCard::of_payload(payload)
            .map(Scan::Key)
            .ok_or(ScanRefusal::NotReadable { looks_like: LooksLike::NewerCode }),
        _ => Err(ScanRefusal::NotReadable { looks_like: LooksLike::NewerCode }),
    }
}

fn place(payload: &str) -> Option<Place> {
    let mut characters = payload.chars();
    let length = value_of(characters.next()?)?;
    let position = u8::try_from(value_of(characters.next_back()?)?).ok()?;
    let mower = characters.as_str();
    if mower.len() != length {
        return None;
    }
    Place::new(MowerCode::new(mower).ok()?, position).ok()
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use proptest::prelude::*;

    fn codes() -> Vec<String> {
        let mut codes: Vec<String> = CommandCard::ALL.into_iter().map(CommandCard::code).collect();
        codes.extend(KeyCard::all().map(KeyCard::code));
        codes.push(BadgeId::new("0107").unwrap().code());
        codes.push(Place::new(MowerCode::new("GT3").unwrap(), 2).unwrap().code());
        codes
    }

    #[test]
    fn each_reads_back_in_either_case() {
        for card in CommandCard::ALL {
            assert_eq!(parse(&card.code()), Ok(Scan::Command(card)));
            assert_eq!(parse(&card.code().to_lowercase()), Ok(Scan::Command(card)));
        }
        let badge = BadgeId::new("b0107").unwrap();
        assert_eq!(parse(&badge.code()), Ok(Scan::Badge(badge)));
        let place = Place::new(MowerCode::new("GT3").unwrap(), 35).unwrap();
        assert_eq!(parse(&place.code()), Ok(Scan::Place(place)));
    }

    #[test]
    fn cut_doubled_or_run_together_is_refused() {
        for code in codes() {
            for cut in 0..code.len() {
                assert!(parse(&code[..cut]).is_err(), "{}", &code[..cut]);
                assert!(parse(&code[cut + 1..]).is_err(), "{}", &code[cut + 1..]);
            }
            let doubled: String = code.chars().flat_map(|character| [character, character]).collect();
            assert!(parse(&doubled).is_err(), "{doubled}");
            for other in codes() {
                assert!(parse(&format!("{code}{other}")).is_err());
            }
        }
    }

    #[test]
    fn qr_alphanumeric_and_layout_proof_mark() {
        for code in codes() {
            assert!(code.bytes().all(|byte| byte.is_ascii_digit() || byte.is_ascii_uppercase()), "{code}");
            assert!(!code[..4].contains(['A', 'M', 'Q', 'W', 'Y', 'Z']), "{code}");
        }
    }

    #[test]
    fn ids_out_of_range() {
        assert_eq!(BadgeId::new(""), Err(OwnCodeError::Length { length: 0, most: 12 }));
        assert_eq!(BadgeId::new("1234567890123"), Err(OwnCodeError::Length { length: 13, most: 12 }));
        assert_eq!(MowerCode::new("GT-3"), Err(OwnCodeError::Character { character: '-' }));
        let mower = || MowerCode::new("GT3").unwrap();
        assert_eq!(Place::new(mower(), 0), Err(OwnCodeError::Position { position: 0, most: 35 }));
        assert_eq!(Place::new(mower(), 36), Err(OwnCodeError::Position { position: 36, most: 35 }));
    }

    proptest! {
        #[test]
        fn any_badge_and_place_reads_back(id in "[0-9A-Z]{1,12}", mower in "[0-9A-Z]{1,12}", position in 1_u8..=35) {
            let badge = BadgeId::new(&id).unwrap();
            prop_assert_eq!(parse(&badge.code()), Ok(Scan::Badge(badge)));
            let place = Place::new(MowerCode::new(&mower).unwrap(), position).unwrap();
            prop_assert_eq!(parse(&place.code()), Ok(Scan::Place(place)));
        }

        #[test]
        fn one_wrong_character_is_never_another_code(id in "[0-9A-Z]{1,12}", place in 0_usize..18, letter in "[0-9A-Z]") {
            let code = BadgeId::new(&id).unwrap().code();
            let place = place % code.len();
            prop_assume!(code[place..=place] != letter);
            let changed = format!("{}{letter}{}", &code[..place], &code[place + 1..]);
            prop_assert!(parse(&changed).is_err());
        }
    }
}
