//! What goes over the wire, in both directions: the hub and the kiosk's link share these types.
//!
//! Bytes are base64 (RFC 4648, padded), times milliseconds since 1970 in UTC, hashes as in the journal's formats.

use data_encoding::BASE64;
use serde::{Deserialize, Serialize};
use sparkout_core::journal::Hash;
use utoipa::ToSchema;

/// The largest body of a push, bytes; a batch of the link stays below it with base64 around it.
pub const BODY_BYTES_MOST: usize = 8 << 20;
/// The most entries of one push and of one pull.
pub const ENTRIES_MOST: usize = 1000;
/// The most bytes of entries that a batch holds before it is sent; one entry may be larger.
pub const BATCH_BYTES_MOST: usize = 3 << 20;

/// A kiosk asks to be paired.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct PairRequest {
    /// The one-time code that the hub showed; case, spaces and hyphens do not matter.
    #[schema(example = "ABCD-EFGH", max_length = 64)]
    pub code: String,
    /// What people call the bench, 1 to 60 characters.
    #[schema(example = "Bench 2", min_length = 1, max_length = 60)]
    pub name: String,
    /// The journal's key line, NAME+KEYID+BASE64.
    pub key: String,
    /// The journal's newest signed head: shows that whoever asks has the key.
    pub head: String,
}

/// The kiosk is paired.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct PairReply {
    /// The station's id, which follows from its key.
    pub station: String,
    /// The token for everything else; it is told this once.
    pub token: String,
}

/// What the hub has of a journal.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct JournalState {
    /// Entries 1 to this one are stored.
    pub stored: u64,
    /// The size of the signed head that is vouched for.
    pub vouched: u64,
}

/// Entries of a journal, in order, with what proves them.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct PushRequest {
    /// The newest signed head.
    pub head: String,
    /// The consistency proof from the head that is vouched for to this one, base64 hashes.
    #[schema(max_items = 128)]
    pub growth: Vec<String>,
    /// The number of the first entry, from 1.
    #[schema(minimum = 1)]
    pub from: u64,
    /// The entries' exact bytes, base64.
    #[schema(max_items = 1000)]
    pub entries: Vec<String>,
    /// The consistency proof from the tree of the last entry here to the head, base64 hashes.
    #[schema(max_items = 128)]
    pub covered: Vec<String>,
    /// The station's clock on the wall as this is sent: it is measured, and nothing is ordered by it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub clock_ms: Option<i64>,
}

/// What is stored now. A sender drops what is named here, and nothing else.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct PushReply {
    /// Entries 1 to this one are stored.
    pub stored: u64,
    /// How many of those offered are new; the others were stored already.
    pub new: u64,
    /// The size of the signed head that is vouched for.
    pub vouched: u64,
    /// Entries that are stored and not passed on, because this hub does not understand them.
    pub quarantined: Vec<u64>,
}

/// Entries of other stations.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct PullReply {
    /// The entries, in the order of the feed.
    pub entries: Vec<PulledEntry>,
    /// Where to go on; below what was asked for when the hub's feed was begun anew.
    pub next: u64,
}

/// One of them.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct PulledEntry {
    /// Whose.
    pub station: String,
    /// Of which file.
    pub incarnation: String,
    /// Its number there.
    pub seq: u64,
    /// The exact bytes, base64.
    pub bytes: String,
}

/// Why something was not done.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct Problem {
    /// A short name for machines, such as `forked` or `gap`.
    pub refused: String,
    /// One sentence for people.
    pub message: String,
    /// The last entry that is stored, where that helps to go on.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stored: Option<u64>,
}

/// The shop as the hub knows it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct ShopReply {
    /// The benches.
    pub stations: Vec<StationReply>,
    /// Visits that are not over.
    pub open_visits: Vec<OpenVisitReply>,
    /// How many units are on record.
    pub units: u64,
    /// Where the feed ends.
    pub feed: u64,
}

/// A bench.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct StationReply {
    /// Its id.
    pub station: String,
    /// What people call it.
    pub name: String,
    /// When it was paired.
    pub paired_ms: i64,
    /// When its token was taken back.
    pub revoked_ms: Option<i64>,
    /// Its journals; more than one where a file was begun anew.
    pub journals: Vec<StationJournal>,
}

/// One of its journals.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct StationJournal {
    /// Of which file.
    pub incarnation: String,
    /// Entries stored.
    pub stored: u64,
    /// Entries vouched for.
    pub vouched: u64,
    /// The first 16 digits of the root that is vouched for, to compare with the bench's own.
    pub root: String,
    /// When it was heard last.
    pub heard_ms: i64,
    /// The bench's clock less the hub's.
    pub clock_off_ms: Option<i64>,
}

/// A visit that is not over.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct OpenVisitReply {
    /// At which bench.
    pub station: String,
    /// Its name in that bench's journal.
    pub visit: String,
    /// The unit's tag.
    pub tag: String,
}

/// A unit's card, by the entry that changed it last.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct UnitReply {
    /// The bench whose entry that was.
    pub station: String,
    /// Its place in the feed.
    pub feed: u64,
    /// The card, as the journal has it.
    #[schema(value_type = Object)]
    pub unit: serde_json::Value,
}

/// Something that was put aside.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct QuarantinedReply {
    /// Whose.
    pub station: String,
    /// Of which file.
    pub incarnation: String,
    /// The number it was offered under.
    pub seq: u64,
    /// The exact bytes, base64.
    pub bytes: String,
    /// Why.
    pub reason: String,
    /// Since when.
    pub at_ms: i64,
}

/// An alarm about a journal.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct AlarmReply {
    /// Whose.
    pub station: String,
    /// Of which file.
    pub incarnation: String,
    /// What is wrong.
    pub alarm: String,
    /// The head that was offered, as evidence.
    pub head: String,
    /// When first.
    pub first_ms: i64,
    /// When last.
    pub last_ms: i64,
    /// How often.
    pub times: u64,
}

/// Hashes as the wire has them.
pub fn hashes_out(hashes: &[Hash]) -> Vec<String> {
    hashes.iter().map(|hash| BASE64.encode(hash.as_bytes())).collect()
}

/// Hashes from the wire; none where one is not 32 bytes of base64.
pub fn hashes_in(texts: &[String]) -> Option<Vec<Hash>> {
    texts.iter().map(|text| bytes_in(text).and_then(|bytes| Hash::from_slice(&bytes))).collect()
}

/// Bytes as the wire has them.
pub fn bytes_out(bytes: &[u8]) -> String {
    BASE64.encode(bytes)
}

/// Bytes from the wire.
pub fn bytes_in(text: &str) -> Option<Vec<u8>> {
    BASE64.decode(text.as_bytes()).ok()
}
