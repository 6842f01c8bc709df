//! The stored hashes read along with the entries, each level once from its beginning: a look-up for each of them
//! would cost several times what the hashing does.

use rusqlite::{Connection, Rows, Statement};
use sparkout_core::journal::Hash;

/// No tree is higher.
const LEVELS: u8 = 63;

/// A statement for each level; what [`Levels`] reads through.
pub struct Prepared<'c>(Vec<Statement<'c>>);

/// One place in each level, which only moves on.
pub struct Levels<'p>(Vec<Level<'p>>);

struct Level<'p> {
    rows: Rows<'p>,
    next: Option<(u64, Hash)>,
}

impl<'c> Prepared<'c> {
    /// # Errors
    /// When the file has no such table.
    pub fn new(connection: &'c Connection) -> rusqlite::Result<Self> {
        let sql = "SELECT idx, hash FROM node WHERE level = ?1 ORDER BY idx";
        (0..LEVELS).map(|_| connection.prepare(sql)).collect::<Result<_, _>>().map(Self)
    }

    /// At the beginning of every level.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn read(&mut self) -> rusqlite::Result<Levels<'_>> {
        (0..LEVELS)
            .zip(&mut self.0)
            .map(|(level, statement)| begin(level, statement))
            .collect::<Result<_, _>>()
            .map(Levels)
    }
}

fn begin<'p>(level: u8, statement: &'p mut Statement<'_>) -> rusqlite::Result<Level<'p>> {
    let mut begun = Level { rows: statement.query([level])?, next: None };
    begun.step()?;
    Ok(begun)
}

impl Level<'_> {
    fn step(&mut self) -> rusqlite::Result<()> {
        self.next = match self.rows.next()? {
            Some(row) => Some((row.get::<_, i64>(0)?.unsigned_abs(), Hash::from_bytes(row.get(1)?))),
            None => None,
        };
        Ok(())
    }
}

impl Levels<'_> {
    /// The hash stored for a subtree; `None` when there is none. Places are asked for in rising order on each level.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn take(&mut self, level: u8, index: u64) -> rusqlite::Result<Option<Hash>> {
        let Some(level) = self.0.get_mut(usize::from(level)) else { return Ok(None) };
        while level.next.is_some_and(|(at, _)| at < index) {
            level.step()?;
        }
        match level.next {
            Some((at, hash)) if at == index => {
                level.step()?;
                Ok(Some(hash))
            }
            Some(_) | None => Ok(None),
        }
    }
}
