//! GS1 application identifiers that can stand on a thing in a workshop, with what their values may be
//! (GS1 General Specifications, section 3; GS1 syntax dictionary, release 2026-01-27).

/// Which characters a value may hold.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Characters {
    /// Digits.
    Digits,
    /// GS1 character set 82.
    Set82,
}

/// One application identifier.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Identifier {
    /// Its digits.
    pub ai: &'static str,
    /// What its value is made of.
    pub characters: Characters,
    /// The fewest and the most characters of the value.
    pub length: (usize, usize),
    /// How many leading digits carry a check digit at their end; 0 for none.
    pub checked: usize,
    /// Whether the length is predefined, so that no separator is needed after it.
    pub predefined: bool,
    /// Whether a GS1 Digital Link can be built on it.
    pub primary_key: bool,
}

const fn digits(ai: &'static str, least: usize, most: usize) -> Identifier {
    let length = (least, most);
    Identifier { ai, characters: Characters::Digits, length, checked: 0, predefined: false, primary_key: false }
}

const fn set82(ai: &'static str, most: usize) -> Identifier {
    let length = (1, most);
    Identifier { ai, characters: Characters::Set82, length, checked: 0, predefined: false, primary_key: false }
}

impl Identifier {
    const fn predefined(self) -> Self {
        Self { predefined: true, ..self }
    }

    const fn key(self, checked: usize) -> Self {
        Self { checked, primary_key: true, ..self }
    }
}

/// Global returnable asset identifier: a 0, thirteen digits of which the last checks, and the serial of the one asset.
pub(crate) const GRAI: &str = "8003";
/// Global individual asset identifier.
pub(crate) const GIAI: &str = "8004";
/// The digits of a GRAI before its serial, the leading zero included.
pub(crate) const GRAI_DIGITS: usize = 14;

const TABLE: &[Identifier] = &[
    digits("00", 18, 18).predefined().key(18),
    digits("01", 14, 14).predefined().key(14),
    digits("02", 14, 14).predefined(),
    set82("10", 20),
    digits("11", 6, 6).predefined(),
    digits("12", 6, 6).predefined(),
    digits("13", 6, 6).predefined(),
    digits("15", 6, 6).predefined(),
    digits("16", 6, 6).predefined(),
    digits("17", 6, 6).predefined(),
    digits("20", 2, 2).predefined(),
    set82("21", 20),
    set82("22", 20),
    set82("240", 30),
    set82("241", 30),
    set82("250", 30),
    set82("251", 30),
    set82("254", 20),
    digits("30", 1, 8),
    digits("37", 1, 8),
    set82("400", 30),
    digits("410", 13, 13).predefined(),
    digits("414", 13, 13).predefined().key(13),
    digits("415", 13, 13).predefined(),
    digits("416", 13, 13).predefined(),
    digits("417", 13, 13).predefined().key(13),
    Identifier { length: (4, 4), ..set82("7040", 4) },
    set82("8002", 20),
    Identifier { length: (14, 30), checked: GRAI_DIGITS, primary_key: true, ..set82(GRAI, 30) },
    Identifier { primary_key: true, ..set82(GIAI, 30) },
    set82("8010", 30).key(0),
    digits("8017", 18, 18).key(18),
    digits("8018", 18, 18).key(18),
    set82("91", 90),
    set82("92", 90),
    set82("93", 90),
    set82("99", 90),
];

/// The identifier that a text of element strings begins with.
pub(crate) fn leading(text: &str) -> Option<&'static Identifier> {
    TABLE.iter().find(|identifier| text.starts_with(identifier.ai))
}

/// The identifier with exactly these digits.
pub(crate) fn named(ai: &str) -> Option<&'static Identifier> {
    TABLE.iter().find(|identifier| identifier.ai == ai)
}

/// Whether a character belongs to GS1 character set 82.
pub(crate) const fn is_set82(character: char) -> bool {
    character.is_ascii_alphanumeric()
        || matches!(
            character,
            '!' | '"'
                | '%'
                | '&'
                | '\''
                | '('
                | ')'
                | '*'
                | '+'
                | ','
                | '-'
                | '.'
                | '/'
                | ':'
                | ';'
                | '<'
                | '='
                | '>'
                | '?'
                | '_'
        )
}

#[cfg(test)]
mod tests {
    use super::*;

    /// GS1 character set 82 (GS1 General Specifications, figure 7.11-1; GS1 syntax engine lint_cset82.c).
    #[test]
    fn set_82_has_82_characters() {
        assert_eq!((0_u8..128).filter(|byte| is_set82(char::from(*byte))).count(), 82);
        for outside in [' ', '#', '$', '@', '[', '\\', ']', '^', '`', '{', '|', '}', '~', 'é'] {
            assert!(!is_set82(outside), "{outside}");
        }
    }

    #[test]
    fn no_identifier_begins_another() {
        for one in TABLE {
            for other in TABLE {
                assert!(one.ai == other.ai || !other.ai.starts_with(one.ai), "{} {}", one.ai, other.ai);
            }
        }
    }
}
