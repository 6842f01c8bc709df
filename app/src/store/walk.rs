//! The walk along the entries: each hashed again from its bytes, each stored hash and each signed root met where it
//! belongs, all of it read once from one end to the other.

use super::levels::{Levels, Prepared};
use super::read_only::ReadOnlyJournal;
use super::signatures::{Heads, Signed};
use super::verify::Finding;
use super::wall_clock::WallClock;
use sparkout_core::journal::merkle::{self, Node};
use sparkout_core::journal::{Hash, Tree};

/// The walk along the entries.
pub(super) struct Walk<'a> {
    journal: &'a ReadOnlyJournal,
    pub tree: Tree,
    /// The number that the next entry must have.
    expected: u64,
    /// The last size at which a signed root held.
    held: u64,
    pub heads: u64,
    /// The first entry since then whose stored hash does not fit, until a signed root tells which of both is wrong.
    suspect: Option<(u64, Hash)>,
    /// The first stored hash above the entries that does not fit.
    odd_node: Option<Node>,
    pub clock: WallClock,
    pub entry: Option<Finding>,
    /// What one entry completes; kept, so that a million entries ask for memory once.
    made: Vec<Node>,
    /// The heads that the key has not signed, in order.
    unsigned: Vec<u64>,
}

impl<'a> Walk<'a> {
    pub fn new(journal: &'a ReadOnlyJournal, unsigned: Vec<u64>) -> Self {
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
            made: Vec::new(),
            unsigned,
        }
    }

    /// Walks all entries and heads, and hands every head on to have its signature checked. Gives the roots at the wanted
    /// sizes, `None` where the journal does not get there.
    pub fn walk_all<const N: usize>(
        &mut self,
        wanted: [Option<u64>; N],
        signed: &mut Heads,
    ) -> rusqlite::Result<[Option<Hash>; N]> {
        let connection = self.journal.connection();
        let mut hashes = Prepared::new(connection)?;
        let mut hashes = hashes.read()?;
        let mut entries = connection.prepare("SELECT seq, leaf FROM journal ORDER BY seq")?;
        let mut entries = entries.query([])?;
        let mut heads = connection.prepare("SELECT size, root, signature FROM checkpoint ORDER BY size")?;
        let mut heads = heads.query_map([], |row| {
            let root = Hash::from_bytes(row.get(1)?);
            Ok(Signed { size: row.get::<_, i64>(0)?.unsigned_abs(), root, signature: row.get(2)? })
        })?;
        let mut next_head = || {
            let head = heads.next().transpose()?;
            if let Some(head) = &head {
                signed.take(head.clone());
            }
            Ok::<_, rusqlite::Error>(head)
        };
        let mut head = next_head()?;
        let mut roots = [None; N];
        loop {
            while let Some(here) = head.take_if(|head| head.size < self.expected) {
                self.meet_head(&here)?;
                head = next_head()?;
            }
            for (root, _) in roots.iter_mut().zip(wanted).filter(|(_, wanted)| *wanted == Some(self.tree.size())) {
                *root = Some(self.tree.root());
            }
            let Some(row) = entries.next()? else { break };
            self.meet_entry(row.get::<_, i64>(0)?.unsigned_abs(), row.get_ref(1)?.as_bytes()?, &mut hashes)?;
        }
        let mut newest = None;
        while let Some(beyond) = head {
            newest = Some(beyond.size);
            head = next_head()?;
        }
        self.meet_end(newest)?;
        Ok(roots)
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
        let leaf = merkle::leaf_hash(leaf);
        if self.entry.is_some() {
            // Behind the first entry that fails every hash is another; the walk goes on for the size and the root.
            self.tree.append(leaf);
            return Ok(());
        }
        self.made.clear();
        self.tree.append_noting(leaf, |node| self.made.push(node));
        for node in &self.made {
            let node = *node;
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

    fn meet_head(&mut self, head: &Signed) -> rusqlite::Result<()> {
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
