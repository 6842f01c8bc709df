//! The seam: what the hub needs of its database. SQLite is behind it now; nothing here would keep another one out.
//!
//! Rules are not the store's business. It reads what stands there, has a closure decide, and writes what was decided,
//! all in one transaction, so that two pushes of one journal never judge the same state.

use crate::store::DerivedWrite;
use crate::store::StoreError;
use sparkout_core::journal::witness::Alarm;
use sparkout_core::journal::{Checkpoint, Hash, Tree};
use thiserror::Error;

/// Which journal: a station and the incarnation of its file.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct LogName {
    /// The station's id, 16 letters.
    pub station: String,
    /// Its file's id, 16 letters.
    pub incarnation: String,
}

/// What the hub has of a journal.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct LogState {
    /// The tree over the stored entries; its size is their number.
    pub tree: Tree,
    /// The newest signed head that was taken, which may be ahead of the entries.
    pub vouched: Option<Checkpoint>,
}

/// An entry that may be stored.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewEvent {
    /// Its number in its journal, from 1.
    pub seq: u64,
    /// The hash of its bytes as a leaf.
    pub hash: Hash,
    /// The exact bytes.
    pub bytes: Vec<u8>,
    /// Why it is kept and not passed on; none where it is.
    pub held: Option<String>,
}

/// How a journal grows by a push.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Growth {
    /// The tree with the new entries.
    pub tree: Tree,
    /// The head to vouch for from now on.
    pub head: Checkpoint,
    /// The signed note that says it.
    pub note: String,
    /// The new entries alone.
    pub entries: Vec<NewEvent>,
    /// The station's clock less the hub's, milliseconds.
    pub clock_off_ms: Option<i64>,
}

/// Why a push is not taken.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum Refusal {
    /// The journal did not only grow, or is not signed by its own key.
    #[error(transparent)]
    Alarm(#[from] Alarm),
    /// Another entry is stored under this number.
    #[error("entry {seq} is stored already, and is another one")]
    Clash {
        /// Its number.
        seq: u64,
    },
    /// The entries lead to another tree than the signed head says.
    #[error("the entries up to {up_to} are not those that the signed head of {size} covers")]
    NotCovered {
        /// The last entry of the push.
        up_to: u64,
        /// What the head covers.
        size: u64,
    },
    /// Entries between are missing.
    #[error("entries are stored up to {stored}, and these begin at {from}")]
    Gap {
        /// The last one stored.
        stored: u64,
        /// The first one offered.
        from: u64,
    },
    /// A number or an entry that no journal has.
    #[error("entry {seq} cannot be: {what}")]
    Form {
        /// Its number.
        seq: u64,
        /// What is wrong with it.
        what: &'static str,
    },
}

impl Refusal {
    /// A short name of it for machines, and for what is counted.
    pub const fn name(&self) -> &'static str {
        match self {
            Self::Alarm(Alarm::Cut { .. }) => "cut",
            Self::Alarm(Alarm::Forked { .. }) => "forked",
            Self::Alarm(Alarm::Rewritten { .. }) => "rewritten",
            Self::Alarm(Alarm::NotSigned) => "not_signed",
            Self::Alarm(Alarm::OtherLog { .. }) => "other_log",
            Self::Clash { .. } => "clash",
            Self::NotCovered { .. } => "not_covered",
            Self::Gap { .. } => "gap",
            Self::Form { .. } => "form",
        }
    }

    /// Whether somebody has to look: a gap or a wrong form is a slip of the sender's, everything else an alarm.
    pub const fn is_alarm(&self) -> bool {
        !matches!(self, Self::Gap { .. } | Self::Form { .. })
    }
}

/// A refused push, with what of it is put aside.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Refused {
    /// Why.
    pub refusal: Refusal,
    /// The head that came with it.
    pub note: String,
    /// Entries that cannot be stored and must not disappear.
    pub aside: Vec<NewEvent>,
}

/// What stands after a push.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pushed {
    /// Entries 1 to this one are stored.
    pub stored: u64,
    /// How many of them are new.
    pub new: u64,
    /// The size of the head that is vouched for.
    pub vouched: u64,
    /// The feed's newest position.
    pub feed: u64,
}

/// A kiosk as the hub knows it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct KnownStation {
    /// Its id, which follows from its key.
    pub station: String,
    /// What people call it.
    pub name: String,
    /// The key that signs its heads.
    pub public_key: [u8; 32],
    /// When it was paired, milliseconds since 1970 by the hub's clock.
    pub paired_ms: i64,
    /// When its token was taken back.
    pub revoked_ms: Option<i64>,
}

/// A journal as it stands in lists.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct KnownLog {
    /// Which.
    pub log: LogName,
    /// Entries stored.
    pub stored: u64,
    /// Entries vouched for.
    pub vouched: u64,
    /// The root of the head vouched for.
    pub root: Hash,
    /// When it was heard last, milliseconds since 1970.
    pub heard_ms: i64,
    /// The station's clock less the hub's, milliseconds.
    pub clock_off_ms: Option<i64>,
    /// Entries that the records were worked out from.
    pub worked_out: u64,
}

/// A kiosk that asks to be paired.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pairing {
    /// The code's hash.
    pub code_hash: [u8; 32],
    /// The kiosk; `paired_ms` is now, `revoked_ms` nothing.
    pub station: KnownStation,
    /// The new token's hash.
    pub token_hash: [u8; 32],
}

/// A stored entry as readers are given it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FeedEntry {
    /// Its place in the feed.
    pub feed: u64,
    /// Whose it is.
    pub log: LogName,
    /// Its number there.
    pub seq: u64,
    /// The exact bytes.
    pub bytes: Vec<u8>,
}

/// A stored entry for working out records.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LogEntry {
    /// Its number.
    pub seq: u64,
    /// Its place in the feed.
    pub feed: u64,
    /// The exact bytes.
    pub bytes: Vec<u8>,
    /// Whether it is held back.
    pub held: bool,
}

/// What one stored entry makes of the records.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WorkedOut {
    /// The entry's number.
    pub seq: u64,
    /// Its place in the feed.
    pub feed: u64,
    /// What it writes.
    pub writes: Vec<DerivedWrite>,
    /// Why nothing could be worked out from it.
    pub reason: Option<String>,
}

/// A record of one station.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StationRecord {
    /// Whose.
    pub station: String,
    /// Which of its kind.
    pub key: String,
    /// The record as JSON.
    pub body: String,
    /// The place in the feed of the entry that changed it last.
    pub feed: u64,
}

/// Something in quarantine.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Quarantined {
    /// Whose journal.
    pub log: LogName,
    /// The entry's number.
    pub seq: u64,
    /// The exact bytes that were offered.
    pub bytes: Vec<u8>,
    /// Why.
    pub reason: String,
    /// Since when, milliseconds since 1970.
    pub at_ms: i64,
}

/// An alarm that was raised.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Raised {
    /// Whose journal.
    pub log: LogName,
    /// What it says.
    pub alarm: String,
    /// The head that was offered.
    pub note: String,
    /// When first, milliseconds since 1970.
    pub first_ms: i64,
    /// When last.
    pub last_ms: i64,
    /// How often.
    pub times: u64,
}

/// Decides about a push: what stands there, and the hashes of those offered entries that are stored already.
pub type Judge<'a> = dyn FnMut(&LogState, &[Hash]) -> Result<Growth, Refused> + 'a;

/// The hub's database. Every call is one durable transaction, and may block: callers on an event loop use a thread.
pub trait HubStore: Send + Sync {
    /// Opens a pairing code.
    ///
    /// # Errors
    /// [`StoreError`].
    fn open_code(&self, code_hash: [u8; 32], expires_ms: i64, tries: u32) -> Result<(), StoreError>;

    /// Pairs a kiosk if the code is open, and uses the code up; a wrong one costs every open code a try. Tells whether
    /// it was paired.
    ///
    /// # Errors
    /// [`StoreError`].
    fn pair(&self, pairing: &Pairing) -> Result<bool, StoreError>;

    /// Whose token this is.
    ///
    /// # Errors
    /// [`StoreError`].
    fn station_by_token(&self, token_hash: [u8; 32]) -> Result<Option<KnownStation>, StoreError>;

    /// All kiosks, by name.
    ///
    /// # Errors
    /// [`StoreError`].
    fn stations(&self) -> Result<Vec<KnownStation>, StoreError>;

    /// Takes a kiosk's token back. Tells whether there is such a kiosk.
    ///
    /// # Errors
    /// [`StoreError`].
    fn revoke(&self, station: &str, now_ms: i64) -> Result<bool, StoreError>;

    /// What is stored and vouched for of a journal; nothing of one that was never heard.
    ///
    /// # Errors
    /// [`StoreError`].
    fn log(&self, log: &LogName) -> Result<LogState, StoreError>;

    /// All journals.
    ///
    /// # Errors
    /// [`StoreError`].
    fn logs(&self) -> Result<Vec<KnownLog>, StoreError>;

    /// Has `judge` decide about `count` entries from number `from` on, and stores what it decides.
    ///
    /// # Errors
    /// [`StoreError`]; nothing is stored then. The inner error is the refusal, which was noted as an alarm.
    fn push(
        &self,
        log: &LogName,
        offered: (u64, u64),
        now_ms: i64,
        judge: &mut Judge<'_>,
    ) -> Result<Result<Pushed, Refusal>, StoreError>;

    /// Entries behind a place in the feed, in its order, `most` at the most and about `bytes_most` bytes; without
    /// those of one station, and without those held back. With the place up to which nothing more is to come.
    ///
    /// # Errors
    /// [`StoreError`].
    fn feed(&self, after: u64, but: &str, most: usize, bytes_most: usize) -> Result<(Vec<FeedEntry>, u64), StoreError>;

    /// Entries of one journal from this number on.
    ///
    /// # Errors
    /// [`StoreError`].
    fn entries(&self, log: &LogName, from: u64, most: usize) -> Result<Vec<LogEntry>, StoreError>;

    /// Writes what was worked out from entries of a journal.
    ///
    /// # Errors
    /// [`StoreError`].
    fn work_out(&self, log: &LogName, worked: &[WorkedOut], now_ms: i64) -> Result<(), StoreError>;

    /// Records of a kind from every station.
    ///
    /// # Errors
    /// [`StoreError`].
    fn records(&self, kind: &str) -> Result<Vec<StationRecord>, StoreError>;

    /// What is in quarantine, newest first.
    ///
    /// # Errors
    /// [`StoreError`].
    fn quarantine(&self, most: usize) -> Result<Vec<Quarantined>, StoreError>;

    /// The alarms, newest first.
    ///
    /// # Errors
    /// [`StoreError`].
    fn alarms(&self, most: usize) -> Result<Vec<Raised>, StoreError>;
}
