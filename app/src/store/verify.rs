//! Proving that a journal is what was signed: every entry hashed again from its bytes, every head recomputed and its
//! signature checked, and the whole against a head that another machine has kept. What an entry says plays no part.

use super::journal::Station;
use super::keys;
use super::levels::{Levels, Prepared};
use super::read_only::{ReadOnlyJournal, Unreadable};
use super::wall_clock::{Turned, WallClock};
use super::{journal, schema, signatures};
use sparkout_core::journal::checkpoint::NoteError;
use sparkout_core::journal::merkle::{self, Node};
use sparkout_core::journal::{Checkpoint, Hash, SignedCheckpoint, Tree};
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

struct StoredHead {
    size: u64,
    root: Hash,
}

/// The walk along the entries.
struct Walk<'a> {
    journal: &'a ReadOnlyJournal,
    tree: Tree,
    /// The number that the next entry must have.
    expected: u64,
    /// The last size at which a signed root held.
    held: u64,
    heads: u64,
    /// The first entry since then whose stored hash does not fit, until a signed root tells which of both is wrong.
    suspect: Option<(u64, Hash)>,
    /// The first stored hash above the entries that does not fit.
    odd_node: Option<Node>,
    clock: WallClock,
    entry: Option<Finding>,
    /// The heads that the key has not signed, in order.
    unsigned: Vec<u64>,
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
    let unsigned = signatures::forged(journal.connection(), &station).map_err(fault)?;
    let forged = unsigned.first().map(|size| Finding::HeadForged { size: *size });
    let mut walk = Walk::new(journal, unsigned);
    let vouched_size = elsewhere.map(|note| note.checkpoint().size);
    let vouched_root = walk.walk_all(vouched_size).map_err(fault)?;
    let against = elsewhere.map(|note| against(note, &station, walk.tree.size(), vouched_root));
    let altered = schema::altered(journal.connection()).map_err(fault)?;
    let vouched = match against {
        Some(Ok(size)) => Some(size),
        Some(Err(_)) | None => None,
    };
    let mut findings: Vec<Finding> = walk.entry.into_iter().chain(forged).collect();
    findings.extend(against.and_then(Result::err));
    Ok(Report {
        key: station.key.verifier_line(),
        origin: station.origin.clone(),
        size: walk.tree.size(),
        root: walk.tree.root(),
        heads: walk.heads,
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

impl<'a> Walk<'a> {
    fn new(journal: &'a ReadOnlyJournal, unsigned: Vec<u64>) -> Self {
        Self {
            journal,
            tree: Tree::new(),
            expected: 1,
            held: 0,
            heads: 0,
            suspect: None,
            odd_node: None,
            clock: WallClock::default(),
            entry: None,
            unsigned,
        }
    }

    /// Walks all entries and heads; gives the root at the wanted size, `None` when the journal does not get there.
    fn walk_all(&mut self, wanted: Option<u64>) -> rusqlite::Result<Option<Hash>> {
        let connection = self.journal.connection();
        let mut hashes = Prepared::new(connection)?;
        let mut hashes = hashes.read()?;
        let mut entries = connection.prepare("SELECT seq, leaf FROM journal ORDER BY seq")?;
        let mut entries = entries.query([])?;
        let mut heads = connection.prepare("SELECT size, root FROM checkpoint ORDER BY size")?;
        let mut heads = heads.query_map([], |row| {
            let root = Hash::from_bytes(row.get(1)?);
            Ok(StoredHead { size: row.get::<_, i64>(0)?.unsigned_abs(), root })
        })?;
        let mut head = heads.next().transpose()?;
        let mut root = None;
        loop {
            while let Some(here) = head.take_if(|head| head.size < self.expected) {
                self.meet_head(&here)?;
                head = heads.next().transpose()?;
            }
            if wanted == Some(self.tree.size()) {
                root = Some(self.tree.root());
            }
            let Some(row) = entries.next()? else { break };
            self.meet_entry(row.get::<_, i64>(0)?.unsigned_abs(), row.get_ref(1)?.as_bytes()?, &mut hashes)?;
        }
        let mut newest = None;
        while let Some(beyond) = head {
            newest = Some(beyond.size);
            head = heads.next().transpose()?;
        }
        self.meet_end(newest)?;
        Ok(root)
    }

    fn meet_entry(&mut self, seq: u64, leaf: &[u8], hashes: &mut Levels<'_>) -> rusqlite::Result<()> {
        if seq != self.expected {
            if self.suspect.is_some() {
                self.name_the_changed(seq)?;
            }
            self.note(Finding::Missing { seq: self.expected, next: seq });
        }
        self.expected = seq + 1;
        self.clock.meet(seq, leaf);
        let mut made = Vec::new();
        self.tree.append_noting(merkle::leaf_hash(leaf), |node| made.push(node));
        if self.entry.is_some() {
            // Behind the first entry that fails every hash is another; the walk goes on for the size and the root.
            return Ok(());
        }
        for node in made {
            if hashes.take(node.level, node.index)? == Some(node.hash) {
                continue;
            }
            if node.level == 0 {
                self.suspect.get_or_insert((seq, node.hash));
            } else if self.suspect.is_none() {
                self.odd_node.get_or_insert(node);
            }
        }
        Ok(())
    }

    fn meet_head(&mut self, head: &StoredHead) -> rusqlite::Result<()> {
        if self.unsigned.binary_search(&head.size).is_ok() {
            // A head that the key has not signed says nothing about the entries.
            return Ok(());
        }
        if self.tree.size() == head.size && self.tree.root() == head.root {
            self.heads += 1;
            self.held = head.size;
            let odd = self.odd_node.take();
            let odd = self.suspect.take().map(|(seq, hash)| Node { level: 0, index: seq - 1, hash }).or(odd);
            if let Some(Node { level, index, hash: _ }) = odd {
                self.note(Finding::StoredHash { from: (index << level) + 1, to: (index + 1) << level });
            }
            return Ok(());
        }
        self.name_the_changed(head.size)
    }

    /// The signed root does not hold: names the entry, or the span that it lies in.
    fn name_the_changed(&mut self, to: u64) -> rusqlite::Result<()> {
        if self.entry.is_some() {
            return Ok(());
        }
        let from = self.held + 1;
        let finding = match self.suspect {
            Some((seq, hash)) => match self.whose(hash)? {
                Some(was) => Finding::Reordered { seq, was },
                None => Finding::Changed { seq },
            },
            None if from >= to => Finding::Changed { seq: to },
            None => Finding::ChangedAmong { from, to },
        };
        self.note(finding);
        Ok(())
    }

    fn meet_end(&mut self, newest_beyond: Option<u64>) -> rusqlite::Result<()> {
        let last = self.expected - 1;
        if let Some(to) = newest_beyond {
            // Entries before the cut that no head covers any more are named first, if they do not fit.
            if self.suspect.is_some() {
                self.name_the_changed(last)?;
            }
            self.note(Finding::Cut { from: last + 1, to });
        } else if self.held < last {
            if self.suspect.is_some_and(|(seq, _)| seq <= self.newest_hashed().unwrap_or(0)) {
                self.name_the_changed(last)?;
            }
            self.note(Finding::Unsigned { from: self.held + 1, to: last });
        } else if self.heads == 0 {
            self.note(Finding::NoHead);
        }
        Ok(())
    }

    /// Keeps the first finding about entries: those after it follow from it.
    fn note(&mut self, finding: Finding) {
        self.entry.get_or_insert(finding);
    }

    /// Which entry had this hash, looked for only once something is wrong.
    fn whose(&self, hash: Hash) -> rusqlite::Result<Option<u64>> {
        let sql = "SELECT idx FROM node WHERE level = 0 AND hash = ?1 ORDER BY idx LIMIT 1";
        let mut statement = self.journal.connection().prepare(sql)?;
        let mut rows = statement.query([hash.as_bytes()])?;
        rows.next()?.map(|row| row.get::<_, i64>(0).map(|index| index.unsigned_abs() + 1)).transpose()
    }

    fn newest_hashed(&self) -> Option<u64> {
        let sql = "SELECT max(idx) + 1 FROM node WHERE level = 0";
        let newest = self.journal.connection().query_row(sql, [], |row| row.get::<_, Option<i64>>(0));
        newest.ok().flatten().map(i64::unsigned_abs)
    }
}
