//! Check digits and check characters: what tells a code that was cut, doubled or misread from another one.

/// The characters that ISO/IEC 7064 MOD 37,36 works over, in the order of their values.
const ALPHABET: &[u8; 36] = b"0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ";

/// The GS1 check digit of a string of digits that does not carry one yet: weights 3 and 1 from the right, modulo 10
/// (GS1 General Specifications, section 7.9). None when a character is not a digit, or there is none.
pub fn gs1_check_digit(data: &str) -> Option<char> {
    if data.is_empty() || !data.bytes().all(|byte| byte.is_ascii_digit()) {
        return None;
    }
    let weighted = |(place, byte): (usize, u8)| u32::from(byte - b'0') * if place % 2 == 0 { 3 } else { 1 };
    let sum: u32 = data.bytes().rev().enumerate().map(weighted).sum();
    char::from_digit((10 - sum % 10) % 10, 10)
}

/// Whether the last digit is the GS1 check digit of those before it.
pub fn gs1_check_holds(digits: &str) -> bool {
    let mut data = digits.chars();
    let last = data.next_back();
    last.is_some() && gs1_check_digit(data.as_str()) == last
}

/// The check character of a text of digits and capital letters by ISO/IEC 7064 MOD 37,36. It finds every single wrong
/// character and nearly every swap of neighbours. None when a character is no digit or capital letter.
pub fn mod_37_36(text: &str) -> Option<char> {
    let mut product: usize = 36;
    for byte in text.bytes() {
        let value = ALPHABET.iter().position(|letter| *letter == byte)?;
        let sum = match (product + value) % 36 {
            0 => 36,
            rest => rest,
        };
        product = sum * 2 % 37;
    }
    ALPHABET.get((37 - product) % 36).map(|byte| char::from(*byte))
}

/// Whether the last character is the MOD 37,36 check character of those before it.
pub fn mod_37_36_holds(text: &str) -> bool {
    let mut data = text.chars();
    let last = data.next_back();
    last.is_some() && !data.as_str().is_empty() && mod_37_36(data.as_str()) == last
}

/// The value of a digit or capital letter as a length or a count, 0 to 35.
pub(crate) fn value_of(character: char) -> Option<usize> {
    ALPHABET.iter().position(|letter| char::from(*letter) == character)
}

/// The digit or capital letter that stands for a value of 0 to 35.
pub(crate) fn character_of(value: usize) -> Option<char> {
    ALPHABET.get(value).map(|byte| char::from(*byte))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// GS1 General Specifications, section 7.9; values computed, the first and fourth are the standard's own (from memory).
    #[test]
    fn gs1_check_digits() {
        let table = [
            ("629104150021", '3'),
            ("61414100003", '6'),
            ("1061414100041", '5'),
            ("37610425002123456", '9'),
            ("061414112345", '2'),
            ("400638133393", '1'),
            ("12345678901234567", '5'),
            ("123456789012", '8'),
        ];
        for (data, digit) in table {
            assert_eq!(gs1_check_digit(data), Some(digit), "{data}");
        }
    }

    /// Pass and fail pairs of GS1's own syntax engine (lint_csum.c, 2026).
    #[test]
    fn gs1_pairs() {
        for holds in ["02345673", "416000336108", "1234567890128", "12345678901231", "123456789012345675"] {
            assert!(gs1_check_holds(holds), "{holds}");
        }
        for fails in ["12345673", "416000336109", "1234567890129", "12345678901232", "123456789012345670"] {
            assert!(!gs1_check_holds(fails), "{fails}");
        }
        for not_digits in ["", "1", "12E4", "١٢٣٤"] {
            assert!(!gs1_check_holds(not_digits) || not_digits.is_empty(), "{not_digits}");
        }
    }

    /// ISO/IEC 7064 MOD 37,36 as the Global Release Identifier uses it: its documented example A1-2425G-ABC1234002-M
    /// (from memory).
    #[test]
    fn mod_37_36_sample() {
        assert_eq!(mod_37_36("A12425GABC1234002"), Some('M'));
        assert!(mod_37_36_holds("A12425GABC1234002M"));
        assert!(!mod_37_36_holds("A12425GABC1234003M"));
        assert_eq!(mod_37_36("a1"), None);
    }

    /// ISO/IEC 7064 promises that every single substitution is found (hybrid systems; from memory): tried on all.
    #[test]
    fn every_single_substitution_is_found() {
        let whole = "SPKB40107H";
        let code: String = format!("{whole}{}", mod_37_36(whole).unwrap_or('?'));
        for place in 0..code.len() {
            for letter in ALPHABET {
                let mut bytes = code.clone().into_bytes();
                if bytes[place] == *letter {
                    continue;
                }
                bytes[place] = *letter;
                let changed = String::from_utf8_lossy(&bytes).into_owned();
                assert!(!mod_37_36_holds(&changed), "{changed}");
            }
        }
    }
}
