//! The record inside a label's QR code, and the address it is the last part of.
//!
//! `HTTPS://HUB/L/RECORD`, all in upper case. RECORD is base32 without padding (RFC 4648, section 6: `=` is not in the alphanumeric set of QR) of a
//! CBOR array (RFC 8949) of four:
//!
//! 1. the format's number, [`LABEL_FORMAT`]; a reader that knows only others says so and stops,
//! 2. the kind of seal: 0 = digest, 1 = a station's signature,
//! 3. the body: a byte string that holds the CBOR array of [`LabelContent`], so that its exact bytes are what is sealed,
//! 4. the seal: for kind 0 the first eight bytes of the SHA-256 over items 1 to 3. It finds damage, not deceit. For kind 1 four
//!    bytes that name the key ([`LabelKeyId`]) and the 64 of its Ed25519 signature (RFC 8032) over `sparkout label`, a zero byte and
//!    items 1 to 3, each as its bytes in the digest of kind 0: format in four bytes, kind in one, body as it stands.
//!
//! The hub in the address is sealed by neither: a shop may give its hub another name, and no kiosk goes by it.
//!
//! A label of work that taped no reel has null for diameters and cone, which a reader from before such labels takes for
//! damaged; the bytes of all others are as they were. Lengths are whole nanometres (a label shows micrometres at most), dates are days since 2020-01-01. There is one way to write a record: it is
//! written again after reading, and must come out the same.

use super::content::{ContentError, LabelContent, LabelVerdict};
use super::hub::HubAddress;
use super::seal::{LabelKeyId, LabelSignature, signed_bytes};
use crate::quantity::Length;
use crate::reading::Reading;
use data_encoding::BASE32_NOPAD;
use jiff::civil::{Date, date};
use jiff::{Span, Unit};
use minicbor::{Decode, Encode};
use sha2::{Digest, Sha256};
use thiserror::Error;

/// The number of the record's format.
pub const LABEL_FORMAT: u32 = 1;

const SEAL_DIGEST: u8 = 0;
const SEAL_SIGNATURE: u8 = 1;
const DIGEST_BYTES: usize = 8;
const EPOCH: Date = date(2020, 1, 1);
/// What a person who builds the same URL for another purpose would hardly put before a record.
const PATH: &str = "/L/";

/// What vouches for a record.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Seal {
    /// A digest: the record is undamaged, but anybody could have written it.
    Digest,
    /// A station's signature, still to be checked against the keys that the shop knows.
    Signature(Box<LabelSignature>),
}

/// A record read from a label.
#[derive(Debug, Clone, PartialEq)]
pub struct LabelEnvelope {
    /// The hub that the address names.
    pub hub: HubAddress,
    /// What the label says.
    pub content: LabelContent,
    /// What vouches for it.
    pub seal: Seal,
}

/// Why a label was not taken.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum LabelRefusal {
    /// Not the address of a label.
    #[error("not the address of a label")]
    NotALabel,
    /// Not base32, or not the record that base32 holds: cut, or characters misread.
    #[error("the label's code is damaged or was read incompletely; scan again, or print the label again")]
    Damaged,
    /// Well formed, but the digest or the signature does not fit the content.
    #[error("the label's record was altered: its check does not fit its content")]
    Altered,
    /// Written by another version.
    #[error("the label's record has format {found}; this version reads format {known}")]
    OtherFormat {
        /// The label's.
        found: u32,
        /// The one that is read.
        known: u32,
    },
    /// Sealed in a way that this version cannot check.
    #[error("the label's record is sealed in a way (kind {kind}) that this version cannot check")]
    OtherSeal {
        /// The seal's kind.
        kind: u8,
    },
    /// Undamaged, but with values that no label of ours has.
    #[error("the label's record holds what no label says: {0}")]
    Content(#[from] ContentError),
}

#[derive(Encode, Decode)]
#[cbor(array)]
struct Envelope {
    #[n(0)]
    format: u32,
    #[n(1)]
    seal_kind: u8,
    #[cbor(n(2), with = "minicbor::bytes")]
    body: Vec<u8>,
    #[cbor(n(3), with = "minicbor::bytes")]
    seal: Vec<u8>,
}

#[derive(Encode, Decode)]
#[cbor(array)]
struct Body {
    #[n(0)]
    unit: String,
    #[n(1)]
    mower: String,
    #[n(2)]
    position: String,
    #[n(3)]
    day: u16,
    #[n(4)]
    lead_nanometres: Option<i64>,
    #[n(5)]
    trail_nanometres: Option<i64>,
    #[n(6)]
    cone_nanometres: Option<i64>,
    #[n(7)]
    cone_u95_nanometres: Option<i64>,
    #[n(8)]
    land_nanometres: Option<i64>,
    #[n(9)]
    height_of_cut_nanometres: Option<i64>,
    #[n(10)]
    operator: String,
    #[n(11)]
    station: String,
    #[n(12)]
    verdict: u8,
    #[n(13)]
    due_in_days: Option<u16>,
    #[n(14)]
    grind: String,
}

/// The address that a label's QR code holds. Every character is in the alphanumeric set of QR.
///
/// # Errors
/// [`ContentError`] when the content cannot be put on a label.
pub fn encode_url(content: &LabelContent, hub: &HubAddress) -> Result<String, ContentError> {
    let body = body_of(content)?;
    let seal = digest(LABEL_FORMAT, SEAL_DIGEST, &body);
    Ok(url_of(hub, Envelope { format: LABEL_FORMAT, seal_kind: SEAL_DIGEST, body, seal }))
}

/// The same, signed by a station: `sign` is given the exact bytes and signs them with the key of this public half. Ed25519
/// gives one signature for one text, so a label drawn again is the same label.
///
/// # Errors
/// [`ContentError`] when the content cannot be put on a label.
pub fn encode_signed_url(
    content: &LabelContent,
    hub: &HubAddress,
    public_key: &[u8; 32],
    sign: impl FnOnce(&[u8]) -> [u8; 64],
) -> Result<String, ContentError> {
    let body = body_of(content)?;
    let signature = sign(&signed_bytes(LABEL_FORMAT, SEAL_SIGNATURE, &body));
    let seal = [LabelKeyId::of(public_key).as_bytes().as_slice(), signature.as_slice()].concat();
    Ok(url_of(hub, Envelope { format: LABEL_FORMAT, seal_kind: SEAL_SIGNATURE, body, seal }))
}

fn body_of(content: &LabelContent) -> Result<Vec<u8>, ContentError> {
    content.check()?;
    Ok(written(&Body::of(content)?))
}

fn url_of(hub: &HubAddress, envelope: Envelope) -> String {
    format!("HTTPS://{}{PATH}{}", hub.as_str(), BASE32_NOPAD.encode(&written(&envelope)))
}

/// Whether an address, in either case, has the shape of a label's.
pub fn is_label_url(text: &str) -> bool {
    parts(text).is_some()
}

/// Reads a label's address, in either case. A signature is read along and not checked: this crate knows no keys.
///
/// # Errors
/// [`LabelRefusal`], telling damage, alteration and other formats apart.
pub fn decode_url(text: &str) -> Result<LabelEnvelope, LabelRefusal> {
    let (hub, record) = parts(text).ok_or(LabelRefusal::NotALabel)?;
    let bytes = BASE32_NOPAD.decode(record.as_bytes()).map_err(|_| LabelRefusal::Damaged)?;
    let format = format_of(&bytes).ok_or(LabelRefusal::Damaged)?;
    if format != LABEL_FORMAT {
        return Err(LabelRefusal::OtherFormat { found: format, known: LABEL_FORMAT });
    }
    let envelope: Envelope = exactly(&bytes)?;
    let seal = seal_of(&envelope)?;
    let content = exactly::<Body>(&envelope.body)?.content()?;
    content.check()?;
    Ok(LabelEnvelope { hub, content, seal })
}

fn seal_of(envelope: &Envelope) -> Result<Seal, LabelRefusal> {
    let Envelope { format, seal_kind, body, seal } = envelope;
    match *seal_kind {
        SEAL_DIGEST if *seal == digest(*format, *seal_kind, body) => Ok(Seal::Digest),
        SEAL_DIGEST => Err(LabelRefusal::Altered),
        SEAL_SIGNATURE => {
            let signature = LabelSignature::read(seal, signed_bytes(*format, *seal_kind, body));
            signature.map(|signature| Seal::Signature(Box::new(signature))).ok_or(LabelRefusal::Damaged)
        }
        kind => Err(LabelRefusal::OtherSeal { kind }),
    }
}

fn parts(text: &str) -> Option<(HubAddress, String)> {
    let upper = text.to_ascii_uppercase();
    let (hub, record) = upper.strip_prefix("HTTPS://")?.split_once(PATH)?;
    let of_base32 = |byte: u8| byte.is_ascii_uppercase() || byte.is_ascii_digit();
    (!record.is_empty() && record.bytes().all(of_base32)).then_some(())?;
    Some((HubAddress::parse(hub).ok()?, record.to_owned()))
}

fn format_of(bytes: &[u8]) -> Option<u32> {
    let mut decoder = minicbor::Decoder::new(bytes);
    decoder.array().ok()?.filter(|items| *items > 0)?;
    decoder.u32().ok()
}

/// Reads a value whose writing is exactly these bytes: no second spelling of a record passes.
fn exactly<T: Encode<()> + for<'b> Decode<'b, ()>>(bytes: &[u8]) -> Result<T, LabelRefusal> {
    let value: T = minicbor::decode(bytes).map_err(|_| LabelRefusal::Damaged)?;
    if written(&value) == bytes { Ok(value) } else { Err(LabelRefusal::Damaged) }
}

/// Writing into memory cannot fail; should it, the shortened result fails every check above.
fn written<T: Encode<()>>(value: &T) -> Vec<u8> {
    minicbor::to_vec(value).unwrap_or_default()
}

fn digest(format: u32, seal_kind: u8, body: &[u8]) -> Vec<u8> {
    let hash = Sha256::new().chain_update(format.to_be_bytes()).chain_update([seal_kind]).chain_update(body).finalize();
    hash.iter().take(DIGEST_BYTES).copied().collect()
}

impl Body {
    fn of(content: &LabelContent) -> Result<Self, ContentError> {
        let day = days_between(EPOCH, content.date)?;
        let due_in_days = content.next_due.map(|due| days_between(content.date, due)).transpose()?;
        Ok(Self {
            unit: content.unit.clone(),
            mower: content.mower.clone(),
            position: content.position.clone(),
            day,
            lead_nanometres: content.lead.map(Reading::nanometres),
            trail_nanometres: content.trail.map(Reading::nanometres),
            cone_nanometres: content.cone.map(nanometres),
            cone_u95_nanometres: content.cone_u95.map(nanometres),
            land_nanometres: content.land.map(Reading::nanometres),
            height_of_cut_nanometres: content.height_of_cut.map(Reading::nanometres),
            operator: content.operator.clone(),
            station: content.station.clone(),
            verdict: match content.verdict {
                LabelVerdict::Proven => 0,
                LabelVerdict::WithinNotProven => 1,
                LabelVerdict::Done => 2,
                LabelVerdict::Fit => 3,
                LabelVerdict::Due => 4,
            },
            due_in_days,
            grind: content.grind.clone(),
        })
    }

    fn content(self) -> Result<LabelContent, LabelRefusal> {
        let date = later(EPOCH, self.day)?;
        Ok(LabelContent {
            date,
            lead: self.lead_nanometres.map(Reading::from_nanometres),
            trail: self.trail_nanometres.map(Reading::from_nanometres),
            cone: self.cone_nanometres.map(from_nanometres),
            cone_u95: self.cone_u95_nanometres.map(from_nanometres),
            land: self.land_nanometres.map(Reading::from_nanometres),
            height_of_cut: self.height_of_cut_nanometres.map(Reading::from_nanometres),
            verdict: match self.verdict {
                0 => LabelVerdict::Proven,
                1 => LabelVerdict::WithinNotProven,
                2 => LabelVerdict::Done,
                3 => LabelVerdict::Fit,
                4 => LabelVerdict::Due,
                _ => return Err(LabelRefusal::Damaged),
            },
            next_due: self.due_in_days.map(|days| later(date, days)).transpose()?,
            unit: self.unit,
            mower: self.mower,
            position: self.position,
            operator: self.operator,
            station: self.station,
            grind: self.grind,
        })
    }
}

/// Below a metre by [`LabelContent::check`], so the number fits.
fn nanometres(length: Length) -> i64 {
    (length.mm() * 1e6).round() as i64
}

fn from_nanometres(nanometres: i64) -> Length {
    Length::from_mm(nanometres as f64 / 1e6)
}

fn days_between(from: Date, to: Date) -> Result<u16, ContentError> {
    let days = from.until((Unit::Day, to)).map_or(-1, |span| span.get_days());
    u16::try_from(days).map_err(|_| ContentError::Date { first: EPOCH })
}

fn later(from: Date, days: u16) -> Result<Date, ContentError> {
    from.checked_add(Span::new().days(i64::from(days))).map_err(|_| ContentError::Date { first: EPOCH })
}

#[cfg(test)]
mod tests;
