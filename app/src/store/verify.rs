//! Proving that a journal is what was signed: every entry hashed again from its bytes, every head recomputed and its
//! signature checked, and the whole against a head that another machine has kept. What an entry says plays no part.

use super::journal::Station;
use super::keys;
use super::read_only::{ReadOnlyJournal, Unreadable};
use super::signatures::{self, Heads};
use super::walk::Walk;
use super::wall_clock::Turned;
use super::{journal, restore, schema};
use sparkout_core::journal::checkpoint::NoteError;
use sparkout_core::journal::{Checkpoint, Hash, SignedCheckpoint};
use thiserror::Error;

/// Something that is not as it was signed.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum Finding {
    /// A number is missing between others.
    #[error("entry {seq} is missing: entry {next} follows entry {}", seq - 1)]
    Missing {
        /// The first number missing.
        seq: u64,
        /// The number that stands in its place.
        next: u64,
    },
    /// Other bytes than those that were hashed.
    #[error("entry {seq} was changed: its bytes are not those that were hashed and signed")]
    Changed {
        /// The entry.
        seq: u64,
    },
    /// The bytes of another entry.
    #[error("entry {seq} was replaced: it holds what was entry {was}, so entries were reordered, dropped or copied")]
    Reordered {
        /// The entry.
        seq: u64,
        /// Which entry these bytes were.
        was: u64,
    },
    /// The hashes were made to fit, the signed root was not.
    #[error("one of {} was changed, and its stored hash with it: the root signed there is another", span(*from, *to))]
    ChangedAmong {
        /// The first that may be it.
        from: u64,
        /// The last that may be it.
        to: u64,
    },
    /// A stored hash of entries that are themselves as signed.
    #[error("the stored hash of {} is wrong; what it was made of is as it was signed", span(*from, *to))]
    StoredHash {
        /// The first entry that the hash covers.
        from: u64,
        /// The last.
        to: u64,
    },
    /// The end is gone.
    #[error("{} missing: cut from the end, after it had been signed", span(*from, *to))]
    Cut {
        /// The first that is gone.
        from: u64,
        /// The last known of.
        to: u64,
    },
    /// More entries than signed ones.
    #[error("{} added without the station's key: no signed head covers it", span(*from, *to))]
    Unsigned {
        /// The first.
        from: u64,
        /// The last.
        to: u64,
    },
    /// Not even the head of an empty journal.
    #[error("there is no signed head")]
    NoHead,
    /// A head with a signature that does not fit.
    #[error("the head of {size} entries is not signed by the station's key")]
    HeadForged {
        /// The head's size.
        size: u64,
    },
    /// An entry says that this log goes on from another one, and what stands before it is not that log.
    #[error("entry {seq} names the log that this one goes on from, and the entries before it are not that log's")]
    OtherParent {
        /// The entry that says so.
        seq: u64,
    },
    /// The checkpoint from elsewhere is of another log.
    #[error("the checkpoint is of the log {theirs}, and this file is the log {ours}")]
    OtherLog {
        /// The checkpoint's origin.
        theirs: String,
        /// The file's origin.
        ours: String,
    },
    /// The checkpoint from elsewhere is not signed by the key in the file.
    #[error(
        "the checkpoint kept elsewhere and this file do not have the same key ({reason}): the file was rebuilt with \
         another key, or the checkpoint is forged"
    )]
    OtherKey {
        /// What is wrong with the signature.
        reason: NoteError,
    },
    /// Fewer entries than another machine has vouched for.
    #[error("cut: the file ends at entry {size}, and entries up to {vouched} were vouched for elsewhere")]
    ElsewhereCut {
        /// Entries in the file.
        size: u64,
        /// Entries vouched for.
        vouched: u64,
    },
    /// As many entries as another machine has vouched for, and not the same.
    #[error("forked: the file's {size} entries are not the {size} that were vouched for elsewhere")]
    ElsewhereForked {
        /// Entries in both.
        size: u64,
    },
    /// More entries than another machine has vouched for, and another beginning.
    #[error("rewritten: entries 1 to {vouched} are not those that were vouched for elsewhere")]
    ElsewhereRewritten {
        /// Entries vouched for.
        vouched: u64,
    },
}

/// What was found out about a journal.
#[derive(Debug)]
pub struct Report {
    /// The log's name.
    pub origin: String,
    /// The key that signs it, as the line that other verifiers take.
    pub key: String,
    /// The entries that are there.
    pub size: u64,
    /// The root over them, recomputed.
    pub root: Hash,
    /// Heads whose root and signature hold.
    pub heads: u64,
    /// The log that this one goes on from, where it is one that was put back.
    pub parent: Option<Checkpoint>,
    /// Up to which entry another machine's checkpoint holds; `None` without one, or when it does not hold.
    pub vouched: Option<u64>,
    /// Tables and guards that are not as this program makes them: no proof of a change, but of meddling.
    pub altered: Vec<String>,
    /// Where the clock on the wall was turned, the first of them, and how often in all: no proof of anything, and to
    /// be asked about.
    pub turned: (Vec<Turned>, usize),
    /// What fails, the first entry that does first.
    pub findings: Vec<Finding>,
}

/// Verifies the whole journal, against a checkpoint kept elsewhere where there is one.
///
/// # Errors
/// [`Unreadable`] when the file cannot be read to its end; what could be read then proves nothing.
pub fn verify(journal: &ReadOnlyJournal, elsewhere: Option<&SignedCheckpoint>) -> Result<Report, Unreadable> {
    let fault = |error| journal.unreadable(error);
    let foreign = |what: String| Unreadable::Foreign { file: journal.file().to_owned(), what };
    let station = journal::station(journal.connection()).map_err(|error| foreign(error.detail().to_owned()))?;
    let station = station.ok_or_else(|| foreign("it does not say which station's it is".to_owned()))?;
    let parent = restore::parent(journal.connection()).map_err(fault)?;
    let wanted = [elsewhere.map(|note| note.checkpoint().size), parent.as_ref().map(|(seq, _)| seq - 1)];
    let along = |heads: &mut Heads| {
        let mut walk = Walk::new(journal, Vec::new());
        walk.walk_all(wanted, heads).map(|roots| (walk, roots))
    };
    let (walked, unsigned) = signatures::check_along(&station, along);
    let (mut walk, mut roots) = walked.map_err(fault)?;
    let forged = unsigned.first().map(|size| Finding::HeadForged { size: *size });
    if forged.is_some() {
        // A head that the key has not signed says nothing about the entries: they are walked again without it.
        walk = Walk::new(journal, unsigned);
        roots = walk.walk_all(wanted, &mut Heads::checked_before()).map_err(fault)?;
    }
    let [vouched_root, parent_root] = roots;
    let other_parent = parent
        .as_ref()
        .filter(|(seq, parent)| parent.size != seq - 1 || parent_root != Some(parent.root))
        .map(|(seq, _)| Finding::OtherParent { seq: *seq });
    let against = elsewhere.map(|note| against(note, &station, walk.tree.size(), vouched_root));
    let altered = schema::altered(journal.connection()).map_err(fault)?;
    let vouched = match against {
        Some(Ok(size)) => Some(size),
        Some(Err(_)) | None => None,
    };
    let mut findings: Vec<Finding> = walk.entry.into_iter().chain(forged).chain(other_parent).collect();
    findings.extend(against.and_then(Result::err));
    Ok(Report {
        key: station.key.verifier_line(),
        origin: station.origin.clone(),
        size: walk.tree.size(),
        root: walk.tree.root(),
        heads: walk.heads,
        parent: parent.map(|(_, parent)| parent),
        vouched,
        altered,
        turned: walk.clock.noticed(),
        findings,
    })
}

/// One entry or several, in words.
pub(super) fn span(from: u64, to: u64) -> String {
    if from == to { format!("entry {from}") } else { format!("entries {from} to {to}") }
}

fn against(note: &SignedCheckpoint, station: &Station, size: u64, root: Option<Hash>) -> Result<u64, Finding> {
    let Checkpoint { origin, size: vouched, root: wanted } = note.checkpoint().clone();
    if origin != station.origin {
        return Err(Finding::OtherLog { theirs: origin, ours: station.origin.clone() });
    }
    let check = |text: &[u8], signature: &[u8; 64]| keys::is_signed_by(station.key.public_key(), text, signature);
    note.verify(&station.key, check).map_err(|reason| Finding::OtherKey { reason })?;
    match root {
        None => Err(Finding::ElsewhereCut { size, vouched }),
        Some(root) if root == wanted => Ok(vouched),
        Some(_) if vouched == size => Err(Finding::ElsewhereForked { size }),
        Some(_) => Err(Finding::ElsewhereRewritten { vouched }),
    }
}
