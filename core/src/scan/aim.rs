//! The AIM symbology identifier that many scanners can put before the data: `]`, a letter for the symbology, a modifier
//! (ISO/IEC 15424).

/// What the identifier says about the data after it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Carrier {
    /// GS1 element strings: `]C1` (Code 128 with FNC1 first), `]d2` (Data Matrix), `]Q3` (QR), `]e0` (DataBar, composite), `]J1` (DotCode).
    Gs1,
    /// A retail code of fixed digits: `]E0` to `]E4`.
    Retail,
    /// Anything else: plain data.
    Plain,
}

/// Takes the identifier off, where there is one. A scanner that works against caps lock sends the letter in the other
/// case, and then `]e0` cannot be told from `]E0`: the data decides, since retail codes are digits alone.
pub fn strip(text: &str) -> (Option<Carrier>, &str) {
    let mut characters = text.chars();
    let (Some(']'), Some(letter), Some(modifier)) = (characters.next(), characters.next(), characters.next()) else {
        return (None, text);
    };
    if !letter.is_ascii_alphabetic() || !modifier.is_ascii_alphanumeric() {
        return (None, text);
    }
    let rest = characters.as_str();
    let carrier = match (letter.to_ascii_uppercase(), modifier) {
        ('C', '1') | ('D', '2') | ('Q', '3') | ('J', '1') => Carrier::Gs1,
        ('E', _) if matches!(rest.len(), 8 | 12 | 13) && rest.bytes().all(|byte| byte.is_ascii_digit()) => {
            Carrier::Retail
        }
        ('E', '0') => Carrier::Gs1,
        _ => Carrier::Plain,
    };
    (Some(carrier), rest)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// ISO/IEC 15424 identifiers: C0, C1, Q1, Q3, d1, d2, E0, E4, A1 as a reference decoder and GS1's syntax engine give
    /// them (2026); J1 from memory.
    #[test]
    fn identifiers() {
        let table = [
            ("]C1800406141411234", Some(Carrier::Gs1), "800406141411234"),
            ("]d2800406141411234", Some(Carrier::Gs1), "800406141411234"),
            ("]D2800406141411234", Some(Carrier::Gs1), "800406141411234"),
            ("]Q3800406141411234", Some(Carrier::Gs1), "800406141411234"),
            ("]e0800406141411234", Some(Carrier::Gs1), "800406141411234"),
            ("]J1800406141411234", Some(Carrier::Gs1), "800406141411234"),
            ("]E04006381333931", Some(Carrier::Retail), "4006381333931"),
            ("]E402345673", Some(Carrier::Retail), "02345673"),
            ("]C0Q-114", Some(Carrier::Plain), "Q-114"),
            ("]Q1Q-114", Some(Carrier::Plain), "Q-114"),
            ("]d1Q-114", Some(Carrier::Plain), "Q-114"),
            ("]A1Q-114", Some(Carrier::Plain), "Q-114"),
            ("]A", None, "]A"),
            ("Q-114", None, "Q-114"),
            ("", None, ""),
        ];
        for (text, carrier, rest) in table {
            assert_eq!(strip(text), (carrier, rest), "{text}");
        }
    }
}
