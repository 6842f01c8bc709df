#![allow(clippy::unwrap_used)]
use super::*;
use crate::label::test_content;
use crate::label::{HubAddress, encode_url};
use proptest::prelude::*;

fn read(text: &str) -> Result<Scan, ScanRefusal> {
    parse(text, &ShopCodes::default())
}

fn check_tag(text: &str, tag: &str) {
    match read(text) {
        Ok(Scan::Asset(code)) => assert_eq!(code.tag(), tag, "{text:?}"),
        other => assert!(matches!(other, Ok(Scan::Asset(_))), "{text:?} gave {other:?}"),
    }
}

#[test]
fn assets_with_and_without_symbology_prefix() {
    let table = [
        ("Q-114", "Q-114"),
        ("q-114", "Q-114"),
        ("]C0Q-114", "Q-114"),
        ("]A1Q-114", "Q-114"),
        ("]q1q-114\r\n", "Q-114"),
        ("  Q-114\t", "Q-114"),
        ("8004", "8004"),
        ("80041", "80041"),
        ("1212", "1212"),
        ("112233", "112233"),
        // EPC Tag Data Standard samples (from memory; check digit computed).
        ("]C18004061414112345400", "(8004)061414112345400"),
        ("]d2800300614141123452400", "(8003)00614141123452400"),
        ("]Q3800300614141123452400", "(8003)00614141123452400"),
        ("8004061414112345400", "(8004)061414112345400"),
        ("(8004)061414112345400", "(8004)061414112345400"),
        ("]C1800300614141123452400\u{1d}8004061414112345400", "(8004)061414112345400"),
        // GS1 Digital Link travels as plain data in a QR code, hence ]Q1 (ISO/IEC 15424).
        ("]Q1https://id.gs1.org/8004/061414112345400", "(8004)061414112345400"),
        ("https://id.gs1.org/8003/00614141123452400", "(8003)00614141123452400"),
        ("HTTPS://ID.GS1.ORG/8003/00614141123452400", "(8003)00614141123452400"),
        ("https://example.com/8004/9520614141234567?01=09520123456788", "(8004)9520614141234567"),
    ];
    for (text, tag) in table {
        check_tag(text, tag);
    }
}

#[test]
fn own_codes_and_labels() {
    let badge = BadgeId::new("0107").unwrap();
    assert_eq!(read(&format!("]Q1{}\r", badge.code())), Ok(Scan::Badge(badge)));
    assert_eq!(read(&CommandCard::PassDone.code()), Ok(Scan::Command(CommandCard::PassDone)));
    let url = encode_url(&test_content(), &HubAddress::parse("hub.example:8443").unwrap()).unwrap();
    for text in [url.clone(), url.to_lowercase(), format!("]Q1{url}\r\n")] {
        match read(&text) {
            Ok(Scan::OwnLabel(label)) => assert_eq!(label.content, test_content()),
            other => assert!(matches!(other, Ok(Scan::OwnLabel(_))), "{text} gave {other:?}"),
        }
    }
    let cut = &url[..url.len() - 8];
    assert!(matches!(read(cut), Err(ScanRefusal::Label(_))), "{cut}");
}

#[test]
fn refused_with_what_it_looks_like() {
    use LooksLike::{Gs1Other, Message, Product, Text, WebAddress};
    let looks = |looks_like| ScanRefusal::NotReadable { looks_like };
    let table = [
        ("", ScanRefusal::Empty),
        (" \r\n", ScanRefusal::Empty),
        ("Q-1\u{0}14", ScanRefusal::ControlCharacter { code: 0 }),
        ("Q-1\u{1d}14", ScanRefusal::ControlCharacter { code: 0x1d }),
        ("Q\u{202e}-114", ScanRefusal::ForeignCharacter { code: 0x202e }),
        ("\u{200f}Q-114", ScanRefusal::ForeignCharacter { code: 0x200f }),
        // Cyrillic IE and Greek capital alpha look like E and A.
        ("R\u{0415}-114", ScanRefusal::ForeignCharacter { code: 0x0415 }),
        ("\u{0391}-114", ScanRefusal::ForeignCharacter { code: 0x0391 }),
        ("QQ--111144", ScanRefusal::Doubled { half: "Q-114".to_owned() }),
        ("Q-114Q-114", ScanRefusal::Doubled { half: "Q-114".to_owned() }),
        ("https://example.com/menu", looks(WebAddress)),
        ("WIFI:S:shop;T:WPA;;", looks(Message)),
        ("mailto:a@example.com", looks(Message)),
        ("turn the reel by hand", looks(Text)),
        ("---", looks(Text)),
        ("]E04006381333931", looks(Product)),
        ("]C10112312312312326", looks(Gs1Other { ai: "01".to_owned() })),
        ("https://id.gs1.org/01/12312312312326", looks(Gs1Other { ai: "01".to_owned() })),
        ("]C18999123", looks(Gs1Other { ai: "8999".to_owned() })),
        ("]C1", looks(Gs1Other { ai: String::new() })),
        ("800300614141123453400", ScanRefusal::CheckFailed { kind: CodeKind::Gs1 { ai: "8003" } }),
        ("SPKB40107", ScanRefusal::CheckFailed { kind: CodeKind::Own }),
        ("SPK", ScanRefusal::CheckFailed { kind: CodeKind::Own }),
        ("]Q3800302112345678900", ScanRefusal::NoSerial { grai: "02112345678900".to_owned() }),
        ("ABCDEFGHIJKLMNOPQRSTUVWXYZ", ScanRefusal::TooLong { characters: 26, most: 24 }),
    ];
    for (text, refusal) in table {
        assert_eq!(read(text), Err(refusal), "{text:?}");
    }
    let junk = "x".repeat(10_000);
    assert_eq!(read(&junk), Err(ScanRefusal::TooLong { characters: 10_000, most: SCAN_CHARACTERS_MOST }));
}

#[test]
fn assets_of_another_company() {
    let shop = ShopCodes { company_prefixes: vec!["0614141".to_owned()], ..ShopCodes::default() };
    assert!(parse("8004061414112345400", &shop).is_ok());
    assert!(parse("800300614141123452400", &shop).is_ok());
    let refused = parse("80049520614141234567", &shop);
    assert_eq!(refused, Err(ScanRefusal::OtherCompany { tag: "(8004)9520614141234567".to_owned() }));
}

#[test]
fn refusals_speak_in_one_line() {
    for text in ["", "Q\u{202e}", "https://example.com", "SPKX", "QQ--11", "]C1800302112345678901A"] {
        let words = read(text).unwrap_err().to_string();
        assert!(words.is_ascii() && !words.contains('\n') && words.len() > 10, "{words}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]

    #[test]
    fn no_text_breaks_it(text in "\\PC{0,60}") {
        let _ = read(&text);
    }

    #[test]
    fn no_near_code_breaks_it(text in "(\\]C1|https://a/|SPK[BPC]|HTTPS://H/L/|\\()?[0-9A-Z()%/?=&\u{1d}]{0,40}") {
        if let Ok(Scan::Asset(code)) = read(&text) {
            prop_assert!(code.tag().chars().all(|character| character.is_ascii_graphic()));
        }
    }
}
