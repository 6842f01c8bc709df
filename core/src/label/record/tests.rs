#![allow(clippy::unwrap_used)]
use super::super::test_content;
use super::*;
use data_encoding::BASE32;
use proptest::prelude::*;

fn hub() -> HubAddress {
    HubAddress::parse("hub.example:8443").unwrap()
}

fn record_of(url: &str) -> Vec<u8> {
    BASE32_NOPAD.decode(url.rsplit('/').next().unwrap().as_bytes()).unwrap()
}

fn url_from(record: &[u8]) -> String {
    format!("HTTPS://HUB.EXAMPLE:8443/L/{}", BASE32_NOPAD.encode(record))
}

/// RFC 4648, section 10 (2006).
#[test]
fn base32_vectors() {
    let table = [
        ("", ""),
        ("f", "MY======"),
        ("fo", "MZXQ===="),
        ("foo", "MZXW6==="),
        ("foob", "MZXW6YQ="),
        ("fooba", "MZXW6YTB"),
        ("foobar", "MZXW6YTBOI======"),
    ];
    for (plain, padded) in table {
        assert_eq!(BASE32.encode(plain.as_bytes()), padded);
        assert_eq!(BASE32_NOPAD.encode(plain.as_bytes()), padded.trim_end_matches('='));
        assert_eq!(BASE32_NOPAD.decode(padded.trim_end_matches('=').as_bytes()).unwrap(), plain.as_bytes());
    }
}

fn check_cbor<T: Encode<()>>(value: T, hex: &str) {
    assert_eq!(data_encoding::HEXLOWER.encode(&written(&value)), hex);
}

/// RFC 8949, appendix A (2020): the values of the kinds that a record is made of.
#[test]
fn cbor_vectors() {
    check_cbor(0_u64, "00");
    check_cbor(23_u64, "17");
    check_cbor(24_u64, "1818");
    check_cbor(100_u64, "1864");
    check_cbor(1000_u64, "1903e8");
    check_cbor(1_000_000_u64, "1a000f4240");
    check_cbor(1_000_000_000_000_u64, "1b000000e8d4a51000");
    check_cbor(u64::MAX, "1bffffffffffffffff");
    check_cbor(-1_i64, "20");
    check_cbor(-10_i64, "29");
    check_cbor(-100_i64, "3863");
    check_cbor(-1000_i64, "3903e7");
    check_cbor(None::<i64>, "f6");
    check_cbor("", "60");
    check_cbor("a", "6161");
    check_cbor("IETF", "6449455446");
    check_cbor("ü", "62c3bc");
    check_cbor(minicbor::bytes::ByteVec::from(vec![1, 2, 3, 4]), "4401020304");
    check_cbor([1_u8, 2, 3], "83010203");
    let long: Vec<u8> = (1..=25).collect();
    check_cbor(long, "98190102030405060708090a0b0c0d0e0f101112131415161718181819");
}

/// FIPS 180-4, the digest of "abc" (2015): what the seal is cut from.
#[test]
fn sha_256_vector() {
    let hex = data_encoding::HEXLOWER.encode(&Sha256::digest(b"abc"));
    assert_eq!(hex, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
}

#[test]
fn reads_back_and_is_alphanumeric() {
    let url = encode_url(&test_content(), &hub()).unwrap();
    let envelope = decode_url(&url).unwrap();
    assert_eq!(envelope, LabelEnvelope { hub: hub(), content: test_content(), seal: Seal::Digest });
    // ISO/IEC 18004, table 5: the alphanumeric set.
    assert!(url.chars().all(|character| "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:".contains(character)), "{url}");
    // 62 x 29 mm at four dots a module hold a version 8 code: 221 characters at level M.
    assert!(url.len() <= 221, "{} characters", url.len());
}

#[test]
fn the_format_stays_what_it_is() {
    let url = encode_url(&test_content(), &hub()).unwrap();
    assert_eq!(&record_of(&url)[..4], [0x84, 0x01, 0x00, 0x58], "array of four, format 1, seal 0, a byte string");
    assert_eq!(data_encoding::HEXLOWER.encode(&record_of(&url)), include_str!("format_1.hex").trim());
}

#[test]
fn told_apart() {
    let url = encode_url(&test_content(), &hub()).unwrap();
    let record = record_of(&url);
    let changed = |at: usize, byte: u8| {
        let mut record = record.clone();
        record[at] = byte;
        decode_url(&url_from(&record))
    };
    assert_eq!(changed(1, 0), Err(LabelRefusal::OtherFormat { found: 0, known: 1 }));
    assert_eq!(changed(1, 2), Err(LabelRefusal::OtherFormat { found: 2, known: 1 }));
    assert_eq!(changed(2, 1), Err(LabelRefusal::Damaged), "eight bytes are no signature");
    assert_eq!(changed(2, 2), Err(LabelRefusal::OtherSeal { kind: 2 }));
    // The unit's tag, and the seal itself.
    let tag = record.windows(5).position(|bytes| bytes == b"Q-114").unwrap();
    assert_eq!(changed(tag, b'R'), Err(LabelRefusal::Altered));
    assert_eq!(changed(record.len() - 1, record.last().unwrap() ^ 1), Err(LabelRefusal::Altered));
    for cut in 0..record.len() {
        assert!(decode_url(&url_from(&record[..cut])).is_err(), "{cut}");
    }
    let mut longer = record.clone();
    longer.push(0);
    assert_eq!(decode_url(&url_from(&longer)), Err(LabelRefusal::Damaged));
    let not_labels = [
        "",
        "Q-114",
        "https://hub.example/menu",
        "HTTPS://HUB/L/",
        "HTTP://HUB/L/MY",
        "HTTPS://H B/L/MY",
        "HTTPS:///L/MY",
    ];
    for not_a_label in not_labels {
        assert_eq!(decode_url(not_a_label), Err(LabelRefusal::NotALabel), "{not_a_label}");
    }
    assert_eq!(decode_url("HTTPS://HUB/L/M1"), Err(LabelRefusal::Damaged), "1 is not in base32");
}

#[test]
fn a_second_spelling_is_refused() {
    // The format's number written in two bytes (0x18 0x01) says the same and is not ours: RFC 8949, section 4.2.1.
    let mut record = record_of(&encode_url(&test_content(), &hub()).unwrap());
    record.splice(1..2, [0x18, 0x01]);
    assert_eq!(decode_url(&url_from(&record)), Err(LabelRefusal::Damaged));
}

#[test]
fn dates_out_of_range() {
    let early = LabelContent { date: date(2019, 12, 31), ..test_content() };
    assert_eq!(encode_url(&early, &hub()), Err(ContentError::Date { first: EPOCH }));
    let backwards = LabelContent { next_due: Some(date(2026, 11, 24)), ..test_content() };
    assert_eq!(encode_url(&backwards, &hub()), Err(ContentError::Date { first: EPOCH }));
}

/// A seal that is no signature, for what does not depend on the arithmetic: `app` checks that with RFC 8032's vectors.
fn marked(bytes: &[u8]) -> [u8; 64] {
    let mut signature = [0; 64];
    signature[..32].copy_from_slice(&Sha256::digest(bytes));
    signature
}

fn signed() -> String {
    encode_signed_url(&test_content(), &hub(), &[7; 32], marked).unwrap()
}

#[test]
fn a_signed_record_keeps_the_body_and_names_the_key() {
    let url = signed();
    let envelope = decode_url(&url.to_lowercase()).unwrap();
    assert_eq!(envelope.content, test_content());
    let Seal::Signature(signature) = envelope.seal else { unreachable!("a digest") };
    assert_eq!(signature.key(), LabelKeyId::of(&[7; 32]));
    assert!(signature.is_by(&[7; 32], |_, signed, seal| marked(signed) == *seal));
    // The same body as with a digest, after `sparkout label`, a zero byte, the format and the kind of seal.
    let plain: Envelope = exactly(&record_of(&encode_url(&test_content(), &hub()).unwrap())).unwrap();
    let before = b"sparkout label\0\0\0\0\x01\x01";
    assert_eq!(signature.signed(), [before.as_slice(), plain.body.as_slice()].concat());
    // 62 x 29 mm at three dots a module hold a version 11 code: 366 characters at level M (ISO/IEC 18004, table 7).
    assert!(url.len() <= 366, "{} characters", url.len());
}

#[test]
fn a_signature_of_the_wrong_length_is_damage() {
    let mut envelope: Envelope = exactly(&record_of(&signed())).unwrap();
    envelope.seal.pop();
    assert_eq!(decode_url(&url_from(&written(&envelope))), Err(LabelRefusal::Damaged));
    envelope.seal.extend([0, 0]);
    assert_eq!(decode_url(&url_from(&written(&envelope))), Err(LabelRefusal::Damaged));
}

proptest! {
    /// Whatever letter is changed, either the record is refused or what was signed is no longer what is said to be signed.
    #[test]
    fn no_damage_keeps_a_signature(at in 27_usize..400, letter in "[A-Z2-7]") {
        let url = signed();
        let at = 27 + (at - 27) % (url.len() - 27);
        prop_assume!(url[at..=at] != letter);
        let changed = format!("{}{letter}{}", &url[..at], &url[at + 1..]);
        if let Ok(LabelEnvelope { seal: Seal::Signature(signature), .. }) = decode_url(&changed) {
            let still = signature.is_by(&[7; 32], |_, signed, seal| marked(signed) == *seal);
            // The key's name is not signed: it only finds the key, and another one finds none or a wrong one.
            prop_assert!(!still || signature.key() != LabelKeyId::of(&[7; 32]));
        }
    }

    #[test]
    fn any_content_reads_back(
        unit in "[A-Za-zÁÉÍÑñ0-9 .-]{0,33}[A-Z]",
        lead in 0_i64..300_000_000,
        trail in 0_i64..300_000_000,
        u95 in 0_i64..100_000,
        land in proptest::option::of(0_i64..20_000_000),
        day in 0_i64..36_000,
        due in proptest::option::of(0_i64..2000),
        proven: bool,
    ) {
        let date = EPOCH.checked_add(Span::new().days(day)).unwrap();
        let content = LabelContent {
            unit,
            date,
            lead: Some(Reading::from_nanometres(lead)),
            trail: Some(Reading::from_nanometres(trail)),
            cone: Some(Length::from_mm((lead - trail) as f64 / 1e6)),
            cone_u95: Some(Length::from_mm(u95 as f64 / 1e6)),
            land: land.map(Reading::from_nanometres),
            verdict: if proven { LabelVerdict::Proven } else { LabelVerdict::WithinNotProven },
            next_due: due.map(|days| date.checked_add(Span::new().days(days)).unwrap()),
            ..test_content()
        };
        let url = encode_url(&content, &hub()).unwrap();
        prop_assert_eq!(decode_url(&url.to_lowercase()).unwrap().content, content);
    }

    #[test]
    fn no_damage_passes(at in 27_usize..200, letter in "[A-Z2-7]") {
        let url = encode_url(&test_content(), &hub()).unwrap();
        let at = 27 + (at - 27) % (url.len() - 27);
        prop_assume!(url[at..=at] != letter);
        let changed = format!("{}{letter}{}", &url[..at], &url[at + 1..]);
        prop_assert!(decode_url(&changed).is_err());
    }
}
