//! GS1 element strings and GS1 Digital Link, as far as they name one asset: GIAI (8004) and GRAI (8003).
//!
//! A GIAI carries no check digit by the standard; the GRAI's is verified, and so are those of the other keys that
//! stand beside them.

use super::ai::{self, Characters, GRAI, GRAI_DIGITS, Identifier};
use super::check::gs1_check_holds;
use super::{LooksLike, ScanRefusal};

/// The group separator that a scanner sends for FNC1 between element strings.
pub(crate) const SEPARATOR: char = '\u{1d}';

/// One application identifier with its value.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Element {
    /// The identifier.
    pub ai: &'static str,
    /// Its value, unescaped.
    pub value: String,
}

/// Takes element strings apart: bare (`8004…`), or with their identifiers in brackets as they are printed for people.
pub(crate) fn element_strings(text: &str) -> Result<Vec<Element>, ScanRefusal> {
    let mut rest = text.strip_prefix(SEPARATOR).unwrap_or(text);
    let mut elements = Vec::new();
    while !rest.is_empty() {
        let (element, after) = if rest.starts_with('(') { bracketed(rest)? } else { bare(rest)? };
        add(&mut elements, element)?;
        rest = after.strip_prefix(SEPARATOR).unwrap_or(after);
    }
    Ok(elements)
}

fn bare(text: &str) -> Result<(Element, &str), ScanRefusal> {
    let identifier = ai::leading(text).ok_or_else(|| unknown_identifier(text))?;
    let after = &text[identifier.ai.len()..];
    let end = if identifier.predefined {
        after.char_indices().nth(identifier.length.1).map_or(after.len(), |(at, _)| at)
    } else {
        after.find(SEPARATOR).unwrap_or(after.len())
    };
    let (value, rest) = after.split_at(end);
    Ok((verified(identifier, value)?, rest))
}

fn bracketed(text: &str) -> Result<(Element, &str), ScanRefusal> {
    let (digits, after) = text[1..].split_once(')').ok_or_else(|| unknown_identifier(text))?;
    let identifier = ai::named(digits).ok_or_else(|| unknown_identifier(digits))?;
    // A bracket inside a value is allowed by character set 82; only one that opens a known identifier ends the value.
    let opens = |at: &usize| after[at + 1..].split_once(')').is_some_and(|(digits, _)| ai::named(digits).is_some());
    let end = after.match_indices('(').map(|(at, _)| at).find(opens).unwrap_or(after.len());
    let (value, rest) = after.split_at(end);
    Ok((verified(identifier, value)?, rest))
}

/// Takes a GS1 Digital Link apart (GS1 Digital Link standard: URI syntax). None when the address is not one.
pub(crate) fn digital_link(address: &str) -> Option<Result<Vec<Element>, ScanRefusal>> {
    let (_, after_scheme) = address.split_once("://")?;
    let without_fragment = after_scheme.split('#').next().unwrap_or_default();
    let (path, query) = without_fragment.split_once('?').unwrap_or((without_fragment, ""));
    let segments: Vec<&str> = path.trim_end_matches('/').split('/').skip(1).collect();
    let is_key = |at: usize| ai::named(segments[at]).is_some_and(|identifier| identifier.primary_key);
    let first = (0..segments.len()).rev().find(|at| (segments.len() - at).is_multiple_of(2) && is_key(*at))?;
    Some(link_elements(&segments[first..], query))
}

fn link_elements(segments: &[&str], query: &str) -> Result<Vec<Element>, ScanRefusal> {
    let path_pairs = segments.chunks_exact(2).map(|pair| (pair[0], pair[1]));
    let query_pairs = query.split(['&', ';']).filter_map(|pair| pair.split_once('='));
    let is_identifier = |(key, _): &(&str, &str)| !key.is_empty() && key.bytes().all(|byte| byte.is_ascii_digit());
    let mut elements = Vec::new();
    for (key, value) in path_pairs.chain(query_pairs.filter(is_identifier)) {
        let identifier = ai::named(key).ok_or_else(|| unknown_identifier(key))?;
        add(&mut elements, verified(identifier, &unescaped(value)?)?)?;
    }
    Ok(elements)
}

/// Undoes percent-escaping (RFC 3986, section 2.1).
fn unescaped(value: &str) -> Result<String, ScanRefusal> {
    let refused = || ScanRefusal::NotReadable { looks_like: LooksLike::BrokenLink };
    let mut pieces = value.split('%');
    let mut plain = pieces.next().unwrap_or_default().to_owned();
    for piece in pieces {
        let code = piece.get(..2).ok_or_else(refused)?;
        let byte = u8::from_str_radix(code, 16).map_err(|_| refused())?;
        if !byte.is_ascii_graphic() {
            return Err(refused());
        }
        plain.push(char::from(byte));
        plain.push_str(&piece[2..]);
    }
    Ok(plain)
}

fn add(elements: &mut Vec<Element>, element: Element) -> Result<(), ScanRefusal> {
    match elements.iter().find(|known| known.ai == element.ai) {
        Some(known) if known.value != element.value => Err(ScanRefusal::Contradiction { ai: element.ai }),
        Some(_) => Ok(()),
        None => {
            elements.push(element);
            Ok(())
        }
    }
}

fn verified(identifier: &Identifier, value: &str) -> Result<Element, ScanRefusal> {
    let ai = identifier.ai;
    let length = value.chars().count();
    let (least, most) = identifier.length;
    if length < least || length > most {
        return Err(ScanRefusal::Gs1Length { ai, length, least, most });
    }
    let fits = |character: char| match identifier.characters {
        Characters::Digits => character.is_ascii_digit(),
        Characters::Set82 => ai::is_set82(character),
    };
    if let Some(character) = value.chars().find(|character| !fits(*character)) {
        return Err(ScanRefusal::Gs1Character { ai, character });
    }
    if identifier.checked > 0 && !gs1_check_holds(&value[..identifier.checked]) {
        return Err(ScanRefusal::CheckFailed { kind: super::CodeKind::Gs1 { ai } });
    }
    if ai == GRAI && !value.starts_with('0') {
        return Err(ScanRefusal::Gs1Character { ai, character: value.chars().next().unwrap_or('?') });
    }
    Ok(Element { ai, value: value.to_owned() })
}

fn unknown_identifier(text: &str) -> ScanRefusal {
    let ai = text.chars().filter(char::is_ascii_digit).take(4).collect();
    ScanRefusal::NotReadable { looks_like: LooksLike::Gs1Other { ai } }
}

/// Whether a GRAI carries the serial that tells one asset from others of its kind.
pub(crate) fn has_serial(grai: &str) -> bool {
    grai.len() > GRAI_DIGITS
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::super::CodeKind;
    use super::*;

    fn pairs(elements: Vec<Element>) -> Vec<(&'static str, String)> {
        elements.into_iter().map(|element| (element.ai, element.value)).collect()
    }

    fn check(text: &str, expected: &[(&str, &str)]) {
        let found = pairs(element_strings(text).unwrap());
        let expected: Vec<_> = expected.iter().map(|(ai, value)| (*ai, (*value).to_owned())).collect();
        assert_eq!(found, expected, "{text}");
    }

    fn check_link(address: &str, expected: &[(&str, &str)]) {
        let found = pairs(digital_link(address).unwrap().unwrap());
        let expected: Vec<_> = expected.iter().map(|(ai, value)| (*ai, (*value).to_owned())).collect();
        assert_eq!(found, expected, "{address}");
    }

    /// EPC Tag Data Standard samples (from memory; check digit computed), and both joined by the separator as a
    /// reference encoder writes them (GS1 General Specifications, section 7.8).
    #[test]
    fn samples() {
        check("800300614141123452400", &[("8003", "00614141123452400")]);
        check("8004061414112345400", &[("8004", "061414112345400")]);
        check("(8004)061414112345400", &[("8004", "061414112345400")]);
        check(
            "800300614141123452400\u{1d}8004061414112345400",
            &[("8003", "00614141123452400"), ("8004", "061414112345400")],
        );
        check("\u{1d}0112312312312326\u{1d}21abc123", &[("01", "12312312312326"), ("21", "abc123")]);
        check("011231231231232621abc123", &[("01", "12312312312326"), ("21", "abc123")]);
        check(
            "(8003)00614141123452400(8004)061414112345400",
            &[("8003", "00614141123452400"), ("8004", "061414112345400")],
        );
        check("(8004)0614141(A)12", &[("8004", "0614141(A)12")]);
    }

    /// GRAI cases of GS1's syntax engine (ai.c, 2026).
    #[test]
    fn grai_table() {
        check("800302112345678900ABC", &[("8003", "02112345678900ABC")]);
        check("800302112345678900", &[("8003", "02112345678900")]);
        check("8003021123456789001234567890ABCDEF", &[("8003", "021123456789001234567890ABCDEF")]);
        let failed = CodeKind::Gs1 { ai: "8003" };
        assert_eq!(element_strings("800302112345678901ABC"), Err(ScanRefusal::CheckFailed { kind: failed }));
        let long = element_strings("8003021123456789001234567890ABCDEFG");
        assert_eq!(long, Err(ScanRefusal::Gs1Length { ai: "8003", length: 31, least: 14, most: 30 }));
        // 12112345678907 has a right check digit and a leading digit that is not 0.
        let leading = element_strings("800312112345678907");
        assert_eq!(leading, Err(ScanRefusal::Gs1Character { ai: "8003", character: '1' }));
    }

    /// GS1 Digital Link, cases of GS1's syntax engine (dl.c, 2026).
    #[test]
    fn links() {
        check_link("https://id.gs1.org/8003/00614141123452400", &[("8003", "00614141123452400")]);
        check_link("https://id.gs1.org/8004/061414112345400", &[("8004", "061414112345400")]);
        check_link(
            "https://example.com/8004/9520614141234567?01=09520123456788",
            &[("8004", "9520614141234567"), ("01", "09520123456788")],
        );
        check_link("https://id.gs1.org/01/12312312312326/21/abc123", &[("01", "12312312312326"), ("21", "abc123")]);
        check_link("https://example.com/414/9520123456788/254/32a%2Fb", &[("414", "9520123456788"), ("254", "32a/b")]);
        check_link("HTTPS://EXAMPLE.COM/SHOP/8004/0614141%2B9?x=1#there", &[("8004", "0614141+9")]);
        assert_eq!(digital_link("https://example.com/21/abc123"), None);
        assert_eq!(digital_link("https://example.com/8004"), None);
        let twice = digital_link("https://example.com/8004/06141411?8004=06141412").unwrap();
        assert_eq!(twice, Err(ScanRefusal::Contradiction { ai: "8004" }));
        for broken in ["https://a/8004/06%", "https://a/8004/06%1", "https://a/8004/06%zz", "https://a/8004/06%00"] {
            assert!(digital_link(broken).unwrap().is_err(), "{broken}");
        }
    }
}
