//! The print queue on the disk: which labels are asked for, and how far each is.

use super::Page;
use crate::label::bitmap::Bitmap;
use rusqlite::{Connection, OptionalExtension, params};
use std::path::Path;
use std::time::Duration;
use thiserror::Error;

/// The queue's file, beside the journal.
pub const QUEUE_FILE: &str = "print-queue.db";
/// Every release's change, in order; the number of those applied is the file's version.
const MIGRATIONS: [&str; 1] = [include_str!("../../../migrations/print_0001_queue.sql")];
/// The printer's thread and the kiosk's never hold it for longer than a row takes.
const BUSY_MOST: Duration = Duration::from_secs(5);

/// How far a page is, as far as it is known on this side.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Phase {
    /// Nothing was begun that could print.
    Waiting,
    /// The printer has a job of this number, without a page in it.
    Created(i32),
    /// The page is on its way into it, and may be there.
    Sending(i32),
    /// The printer has the page.
    Sent(i32),
    /// It may have come out or not.
    InDoubt,
    /// The printer says that it is done.
    Printed,
    /// It will not come out.
    GivenUp,
}

impl Phase {
    const fn parts(self) -> (&'static str, Option<i32>) {
        match self {
            Self::Waiting => ("waiting", None),
            Self::Created(job) => ("created", Some(job)),
            Self::Sending(job) => ("sending", Some(job)),
            Self::Sent(job) => ("sent", Some(job)),
            Self::InDoubt => ("in_doubt", None),
            Self::Printed => ("printed", None),
            Self::GivenUp => ("given_up", None),
        }
    }

    fn of(phase: &str, remote: Option<i32>) -> Option<Self> {
        Some(match (phase, remote) {
            ("waiting", None) => Self::Waiting,
            ("created", Some(job)) => Self::Created(job),
            ("sending", Some(job)) => Self::Sending(job),
            ("sent", Some(job)) => Self::Sent(job),
            ("in_doubt", None) => Self::InDoubt,
            ("printed", None) => Self::Printed,
            ("given_up", None) => Self::GivenUp,
            _ => return None,
        })
    }

    /// Whether the printer is still to be asked about it.
    pub const fn is_under_way(self) -> bool {
        matches!(self, Self::Waiting | Self::Created(_) | Self::Sending(_) | Self::Sent(_))
    }
}

/// One label of the queue.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Job {
    /// Its number, by which the queue knows it.
    pub number: i64,
    /// The visit it is of.
    pub visit: String,
    /// What its code says.
    pub code: String,
    /// How far it is.
    pub phase: Phase,
}

/// Why the queue could not be kept.
#[derive(Debug, Error)]
pub enum QueueError {
    /// What the disk says.
    #[error("the print queue cannot be kept: {0}")]
    Disk(#[from] rusqlite::Error),
    /// A raster that does not come out of the file as it went in.
    #[error("the print queue holds a label that cannot be read: {0}")]
    Raster(String),
    /// The label does not stand where it was thought to.
    #[error("the label is no longer as it was")]
    Withdrawn,
    /// Another version wrote it.
    #[error("the print queue has version {found}, and this program knows {known}")]
    Newer {
        /// The file's.
        found: i64,
        /// The newest known.
        known: i64,
    },
}

/// The queue.
#[derive(Debug)]
pub struct Queue(Connection);

impl Queue {
    /// Opens the queue of a folder, or makes it.
    ///
    /// # Errors
    /// [`QueueError`].
    pub fn open(folder: &Path) -> Result<Self, QueueError> {
        Self::over(Connection::open(folder.join(QUEUE_FILE))?)
    }

    fn over(mut connection: Connection) -> Result<Self, QueueError> {
        connection.busy_timeout(BUSY_MOST)?;
        // A row must be on the disk before the printer hears of the job: FULL, as for the journal.
        connection.pragma_update_and_check(None, "journal_mode", "WAL", |_| Ok(()))?;
        connection.pragma_update(None, "synchronous", "FULL")?;
        let found: i64 = connection.pragma_query_value(None, "user_version", |row| row.get(0))?;
        let known = MIGRATIONS.len() as i64;
        if found > known {
            return Err(QueueError::Newer { found, known });
        }
        for (number, sql) in (1_i64..).zip(MIGRATIONS).skip_while(|(number, _)| *number <= found) {
            let step = connection.transaction_with_behavior(rusqlite::TransactionBehavior::Immediate)?;
            step.execute_batch(sql)?;
            step.pragma_update(None, "user_version", number)?;
            step.commit()?;
        }
        Ok(Self(connection))
    }

    /// Takes a label up. A visit's label that its printer knows of stays the one; any other gives way to it.
    ///
    /// # Errors
    /// [`QueueError`]; nothing is asked for then.
    pub fn ask(&mut self, visit: &str, code: &str, page: &Page) -> Result<Job, QueueError> {
        let raster = page.bitmap.png().map_err(|error| QueueError::Raster(error.to_string()))?;
        let asked = self.0.transaction_with_behavior(rusqlite::TransactionBehavior::Immediate)?;
        asked.execute(
            "UPDATE print_job SET settled = 1 WHERE visit = ?1 AND phase IN ('in_doubt', 'given_up')",
            [visit],
        )?;
        // One that nothing was begun of gives way: its work may have been gone over once more, or its size been wrong.
        asked.execute(
            "UPDATE print_job SET phase = 'given_up', settled = 1 WHERE visit = ?1 AND phase = 'waiting'",
            [visit],
        )?;
        asked.execute(
            "INSERT OR IGNORE INTO print_job (visit, code, name, raster, phase) VALUES (?1, ?2, ?3, ?4, 'waiting')",
            params![visit, code, page.name, raster],
        )?;
        let job = latest(&asked, visit)?;
        asked.commit()?;
        job.ok_or_else(|| QueueError::Raster("the label that was just asked for is not there".to_owned()))
    }

    /// The newest label of a visit whose outcome nobody has taken note of.
    ///
    /// # Errors
    /// [`QueueError`].
    pub fn of_visit(&self, visit: &str) -> Result<Option<Job>, QueueError> {
        Ok(latest(&self.0, visit)?)
    }

    /// The oldest label that a printer is still to be asked about.
    ///
    /// # Errors
    /// [`QueueError`].
    pub fn next(&self) -> Result<Option<Job>, QueueError> {
        let sql = "SELECT number, visit, code, phase, remote FROM print_job
                   WHERE phase IN ('waiting', 'created', 'sending', 'sent') ORDER BY number LIMIT 1";
        Ok(self.0.prepare_cached(sql)?.query_row([], job).optional()?)
    }

    /// The page of a label.
    ///
    /// # Errors
    /// [`QueueError`].
    pub fn page(&self, number: i64) -> Result<Page, QueueError> {
        let sql = "SELECT name, raster FROM print_job WHERE number = ?1";
        let (name, raster): (String, Vec<u8>) =
            self.0.query_row(sql, [number], |row| Ok((row.get(0)?, row.get(1)?)))?;
        let bitmap = Bitmap::from_png(&raster).map_err(|error| QueueError::Raster(error.to_string()))?;
        // No two jobs have one name: a printer that counts anew after it was switched off is not taken at its number's word.
        Ok(Page { name: format!("{name}-{number}"), bitmap })
    }

    /// Writes down how far a label is; on the disk before it returns.
    ///
    /// # Errors
    /// [`QueueError`].
    /// [`QueueError::Withdrawn`] when it stands elsewhere than it was thought to: somebody else has it, or it is not wanted any more.
    pub fn keep(&mut self, number: i64, from: Phase, to: Phase) -> Result<(), QueueError> {
        let ((before, _), (name, remote)) = (from.parts(), to.parts());
        let sql = "UPDATE print_job SET phase = ?3, remote = ?4 WHERE number = ?1 AND phase = ?2";
        match self.0.execute(sql, params![number, before, name, remote])? {
            0 => Err(QueueError::Withdrawn),
            _ => Ok(()),
        }
    }

    /// What came of a label is known where it matters: it is kept no longer than the next start.
    ///
    /// # Errors
    /// [`QueueError`].
    pub fn settle(&mut self, number: i64) -> Result<(), QueueError> {
        self.0.execute("UPDATE print_job SET settled = 1 WHERE number = ?1", [number])?;
        Ok(())
    }

    /// Forgets what is settled.
    ///
    /// # Errors
    /// [`QueueError`].
    pub fn sweep(&mut self) -> Result<(), QueueError> {
        let sql = "DELETE FROM print_job WHERE settled = 1 AND phase IN ('in_doubt', 'printed', 'given_up')";
        self.0.execute(sql, [])?;
        Ok(())
    }
}

fn latest(connection: &Connection, visit: &str) -> rusqlite::Result<Option<Job>> {
    let sql = "SELECT number, visit, code, phase, remote FROM print_job
               WHERE visit = ?1 AND settled = 0 ORDER BY number DESC LIMIT 1";
    connection.prepare_cached(sql)?.query_row([visit], job).optional()
}

fn job(row: &rusqlite::Row<'_>) -> rusqlite::Result<Job> {
    let (phase, remote): (String, Option<i32>) = (row.get(3)?, row.get(4)?);
    // The table takes no other words; a file that was meddled with prints nothing blindly.
    let phase = Phase::of(&phase, remote).unwrap_or(Phase::InDoubt);
    Ok(Job { number: row.get(0)?, visit: row.get(1)?, code: row.get(2)?, phase })
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
    use super::super::tests::page;
    use super::*;

    #[test]
    fn a_label_is_asked_for_once_and_outlives_the_process() {
        let folder = tempfile::tempdir().unwrap();
        let mut queue = Queue::open(folder.path()).unwrap();
        let first = queue.ask("V1", "CODE", &page()).unwrap();
        let second = queue.ask("V1", "CODE", &page()).unwrap();
        assert_eq!(queue.next().unwrap().as_ref(), Some(&second), "pressed twice");
        assert!(matches!(queue.keep(first.number, Phase::Waiting, Phase::Created(7)), Err(QueueError::Withdrawn)));
        queue.keep(second.number, Phase::Waiting, Phase::Created(7)).unwrap();
        assert_eq!(queue.ask("V1", "CODE", &page()).unwrap().number, second.number, "under way at the printer");
        drop(queue);
        let mut queue = Queue::open(folder.path()).unwrap();
        queue.sweep().unwrap();
        let next = queue.next().unwrap().unwrap();
        assert_eq!((next.phase, next.code.as_str()), (Phase::Created(7), "CODE"));
        let kept = queue.page(next.number).unwrap();
        assert_eq!((kept.bitmap, kept.name), (page().bitmap, format!("{}-{}", page().name, next.number)));
    }

    #[test]
    fn what_is_in_doubt_gives_way_only_to_a_new_wish() {
        let folder = tempfile::tempdir().unwrap();
        let mut queue = Queue::open(folder.path()).unwrap();
        let first = queue.ask("V1", "CODE", &page()).unwrap();
        queue.keep(first.number, Phase::Waiting, Phase::InDoubt).unwrap();
        assert_eq!(queue.next().unwrap(), None, "nobody prints it a second time");
        assert_eq!(queue.of_visit("V1").unwrap().unwrap().phase, Phase::InDoubt);
        let again = queue.ask("V1", "CODE", &page()).unwrap();
        assert!(again.number > first.number && again.phase == Phase::Waiting);
        queue.keep(again.number, Phase::Waiting, Phase::Printed).unwrap();
        queue.settle(again.number).unwrap();
        assert_eq!(queue.of_visit("V1").unwrap(), None);
        queue.sweep().unwrap();
        assert_eq!(queue.0.query_row("SELECT count(*) FROM print_job", [], |row| row.get::<_, i64>(0)).unwrap(), 0);
    }

    #[test]
    fn a_label_that_says_what_is_no_longer_so_is_withdrawn() {
        let folder = tempfile::tempdir().unwrap();
        let mut queue = Queue::open(folder.path()).unwrap();
        let old = queue.ask("V1", "OLD", &page()).unwrap();
        let new = queue.ask("V1", "NEW", &page()).unwrap();
        assert_eq!((new.code.as_str(), queue.next().unwrap().unwrap().number), ("NEW", new.number));
        // The printer's thread had just taken the old one in hand.
        let late = queue.keep(old.number, Phase::Waiting, Phase::Created(1));
        assert!(matches!(late, Err(QueueError::Withdrawn)));
    }

    #[test]
    fn labels_come_in_the_order_in_which_they_were_asked_for() {
        let folder = tempfile::tempdir().unwrap();
        let mut queue = Queue::open(folder.path()).unwrap();
        for visit in ["V1", "V2", "V3"] {
            queue.ask(visit, "CODE", &page()).unwrap();
        }
        for visit in ["V1", "V2", "V3"] {
            let next = queue.next().unwrap().unwrap();
            assert_eq!(next.visit, visit);
            queue.keep(next.number, Phase::Waiting, Phase::Printed).unwrap();
        }
        assert_eq!(queue.next().unwrap(), None);
    }

    #[test]
    fn a_newer_file_is_left_alone() {
        let folder = tempfile::tempdir().unwrap();
        drop(Queue::open(folder.path()).unwrap());
        let connection = Connection::open(folder.path().join(QUEUE_FILE)).unwrap();
        connection.pragma_update(None, "user_version", 9).unwrap();
        drop(connection);
        assert!(matches!(Queue::open(folder.path()), Err(QueueError::Newer { found: 9, known: 1 })));
    }
}
