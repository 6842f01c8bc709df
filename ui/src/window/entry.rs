//! The number being typed: what a key does to it, and how it is shown.
//!
//! The window keeps the text; it is parsed in `core`, so that no screen's idea of a decimal comma can change a
//! measurement.

/// The longest number that is typed: sign, four digits, point, five decimals.
pub const LONGEST: usize = 11;

/// A key that edits the number, from the screen or from a keyboard.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum EntryKey {
    /// A digit, `'0'` to `'9'`.
    Digit(char),
    /// The decimal sign, point or comma alike.
    Point,
    /// The sign is turned over.
    Sign,
    /// The sign is taken away.
    Plus,
    /// The last character goes.
    Erase,
    /// The number is confirmed.
    Take,
}

impl EntryKey {
    /// The key that a keypad's name or a keyboard's text means; `None` for every other key.
    #[must_use]
    pub fn named(text: &str) -> Option<Self> {
        match text {
            "." | "," => Some(Self::Point),
            "±" | "-" | "−" => Some(Self::Sign),
            "+" => Some(Self::Plus),
            // Backspace and Delete as the windowing system sends them.
            "Erase" | "\u{8}" | "\u{7f}" => Some(Self::Erase),
            "Take reading" | "\n" | "\r" => Some(Self::Take),
            other => {
                let mut letters = other.chars();
                match (letters.next(), letters.next()) {
                    (Some(digit), None) if digit.is_ascii_digit() => Some(Self::Digit(digit)),
                    (Some(_), _) | (None, _) => None,
                }
            }
        }
    }
}

/// The text after a key. `signed`: whether the number may be negative.
///
/// The text holds `-`, digits and at most one `.`; a comma becomes a point. What would make it something else, or
/// longer than [`LONGEST`], changes nothing. [`EntryKey::Take`] edits nothing.
#[must_use]
pub fn edit(buffer: &str, key: EntryKey, signed: bool) -> String {
    // Room for the longest from the start: a text that grows leaves a copy behind, and it may be a PIN.
    let mut text = String::with_capacity(LONGEST + 1);
    text.push_str(buffer);
    match key {
        EntryKey::Digit(digit) if text.len() < LONGEST => text.push(digit),
        EntryKey::Point if !text.contains('.') && text.len() < LONGEST => {
            // ".5" is read at a glance as "5"; the nought goes before it.
            if text.is_empty() || text == "-" {
                text.push('0');
            }
            text.push('.');
        }
        EntryKey::Sign if signed => match text.strip_prefix('-') {
            Some(rest) => text = rest.to_owned(),
            None => text.insert(0, '-'),
        },
        EntryKey::Plus if signed => {
            if let Some(rest) = text.strip_prefix('-') {
                text = rest.to_owned();
            }
        }
        EntryKey::Erase => {
            text.pop();
        }
        EntryKey::Digit(_) | EntryKey::Point | EntryKey::Sign | EntryKey::Plus | EntryKey::Take => {}
    }
    text
}

/// Whether the text holds a digit, so that it can be confirmed.
#[must_use]
pub fn can_take(buffer: &str) -> bool {
    buffer.contains(|letter: char| letter.is_ascii_digit())
}

/// The text as it stands in the reading field: a difference always carries its sign, and the minus is a minus.
#[must_use]
pub fn shown(buffer: &str, signed: bool) -> String {
    match buffer.strip_prefix('-') {
        Some(rest) => format!("−{rest}"),
        None if signed && !buffer.is_empty() => format!("+{buffer}"),
        None => buffer.to_owned(),
    }
}

/// A dot for each digit of what nobody reads along.
#[must_use]
pub fn dots(buffer: &str) -> String {
    "•".repeat(buffer.chars().count())
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    #[track_caller]
    fn check(keys: &[&str], signed: bool, expected: &str) {
        let text = keys.iter().fold(String::new(), |text, key| edit(&text, EntryKey::named(key).unwrap(), signed));
        assert_eq!(text, expected);
    }

    #[test]
    fn digits_and_one_point_make_a_number() {
        check(&["5", ".", "0", "2", "0"], false, "5.020");
        check(&["5", ".", "0", ".", "2"], false, "5.02");
    }

    #[test]
    fn a_comma_is_the_same_key_as_a_point() {
        check(&["5", ",", "0", "2"], false, "5.02");
    }

    #[test]
    fn a_leading_point_gets_its_nought() {
        check(&[".", "5"], false, "0.5");
        check(&["±", ".", "5"], true, "-0.5");
    }

    #[test]
    fn the_sign_turns_over_at_any_moment_where_it_may() {
        check(&["2", "6", "±"], true, "-26");
        check(&["2", "±", "6", "±"], true, "26");
        check(&["-", "6", "+"], true, "6");
        check(&["2", "±"], false, "2");
    }

    #[test]
    fn erase_takes_the_last_character() {
        check(&["2", "6", "Erase", "\u{8}", "Erase"], false, "");
        check(&["±", "Erase"], true, "");
    }

    #[test]
    fn a_number_does_not_grow_without_end() {
        check(&["1"; 40], false, "11111111111");
    }

    #[test]
    fn keys_that_are_not_of_a_number_mean_nothing() {
        for key in ["a", " ", "\t", "\u{1b}", "F1", "12", "", "٣"] {
            assert_eq!(EntryKey::named(key), None, "{key:?}");
        }
    }

    #[test]
    fn a_difference_is_shown_with_its_sign() {
        assert_eq!(shown("26.0", true), "+26.0");
        assert_eq!(shown("-3", true), "−3");
        assert_eq!(shown("5.02", false), "5.02");
        assert_eq!(shown("", true), "");
        assert_eq!((dots("4071"), dots("")), ("••••".to_owned(), String::new()));
        assert!(!can_take("-") && !can_take("") && can_take("-0"));
    }
}
