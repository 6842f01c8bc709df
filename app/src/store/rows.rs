//! Rows of the journal's tables, one at a time.

use super::{DerivedWrite, NewEntry, NumberedEntry, StoreError};
use rusqlite::{Connection, OptionalExtension, Row, Transaction, params};
use sparkout_core::journal::merkle::{self, Node};
use sparkout_core::journal::{Hash, Tree};

pub(super) fn node(connection: &Connection, (level, index): (u8, u64)) -> Result<Hash, StoreError> {
    let hash = connection
        .prepare_cached("SELECT hash FROM node WHERE level = ?1 AND idx = ?2")?
        .query_row(params![level, row_number(index)], |row| row.get::<_, [u8; 32]>(0))
        .optional()?;
    hash.map(Hash::from_bytes)
        .ok_or_else(|| StoreError::corrupt(format!("the hash of subtree {index} at level {level} is missing")))
}

/// SQLite's integers have a sign. No journal comes near the end of them, and a number beyond finds no row.
pub(super) fn row_number(number: u64) -> i64 {
    i64::try_from(number).unwrap_or(i64::MAX)
}

pub(super) fn numbered(row: &Row<'_>) -> rusqlite::Result<NumberedEntry> {
    Ok((row.get::<_, i64>(0)?.unsigned_abs(), row.get(1)?))
}

pub(super) fn read_entries(
    connection: &Connection,
    from_seq: u64,
    most: usize,
) -> Result<Vec<NumberedEntry>, StoreError> {
    let most = i64::try_from(most).unwrap_or(i64::MAX);
    let mut statement =
        connection.prepare_cached("SELECT seq, leaf FROM journal WHERE seq >= ?1 ORDER BY seq LIMIT ?2")?;
    let entries = statement.query_map(params![row_number(from_seq), most], numbered)?.collect::<Result<_, _>>()?;
    Ok(entries)
}

pub(super) fn write_entry(transaction: &Transaction<'_>, tree: &mut Tree, entry: &NewEntry) -> Result<(), StoreError> {
    let seq = row_number(tree.size() + 1);
    transaction
        .prepare_cached("INSERT INTO journal (seq, leaf) VALUES (?1, ?2)")?
        .execute(params![seq, entry.bytes])?;
    let mut nodes: Vec<Node> = Vec::new();
    tree.append_noting(merkle::leaf_hash(&entry.bytes), |node| nodes.push(node));
    for node in nodes {
        transaction.prepare_cached("INSERT INTO node (level, idx, hash) VALUES (?1, ?2, ?3)")?.execute(params![
            node.level,
            row_number(node.index),
            node.hash.as_bytes()
        ])?;
    }
    if let Some(visit) = &entry.visit {
        transaction
            .prepare_cached("INSERT INTO visit_entry (visit, seq) VALUES (?1, ?2)")?
            .execute(params![visit, seq])?;
    }
    Ok(())
}

pub(super) fn write_derived(transaction: &Transaction<'_>, seq: u64, write: &DerivedWrite) -> Result<(), StoreError> {
    match write {
        DerivedWrite::Put { kind, key, body } => transaction
            .prepare_cached("INSERT OR REPLACE INTO derived (kind, key, body, seq) VALUES (?1, ?2, ?3, ?4)")?
            .execute(params![kind, key, body, row_number(seq)])?,
        DerivedWrite::Remove { kind, key } => {
            transaction.prepare_cached("DELETE FROM derived WHERE kind = ?1 AND key = ?2")?.execute([kind, key])?
        }
        DerivedWrite::Pin { badge, hash: Some(hash) } => transaction
            .prepare_cached("INSERT OR REPLACE INTO pin (badge, hash) VALUES (?1, ?2)")?
            .execute([badge, hash.text()])?,
        DerivedWrite::Pin { badge, hash: None } => {
            transaction.prepare_cached("DELETE FROM pin WHERE badge = ?1")?.execute([badge])?
        }
    };
    Ok(())
}
