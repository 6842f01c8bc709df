//! Where labels go. A job exists only for a raster that reads back as what was meant, so no printer is ever sent another.

use super::bitmap::Bitmap;
use super::error::LabelError;
use super::readback::proof;
use crate::print::QueueError;
use sparkout_ui::words::PrinterTrouble;
use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use thiserror::Error;

/// A label to print, proved.
#[derive(Debug, Clone)]
pub struct LabelJob {
    name: String,
    visit: String,
    code: String,
    bitmap: Bitmap,
}

impl LabelJob {
    /// A job from a raster and the address that its code was meant to hold. The name becomes a file's or a queue entry's.
    ///
    /// # Errors
    /// [`LabelError`] when the raster does not read back as that address.
    pub fn proved(name: &str, bitmap: Bitmap, url: &str) -> Result<Self, LabelError> {
        proof(&bitmap, url)?;
        Ok(Self { name: file_name(name), visit: String::new(), code: url.to_owned(), bitmap })
    }

    /// The same as a visit's label, of which a queue then keeps one at a time.
    #[must_use]
    pub fn of_visit(self, visit: &str) -> Self {
        Self { visit: visit.to_owned(), ..self }
    }

    /// Its name.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The visit it is of; none for a label from the command line.
    pub fn visit(&self) -> &str {
        &self.visit
    }

    /// What its code says, as read back.
    pub fn code(&self) -> &str {
        &self.code
    }

    /// Its raster.
    pub const fn bitmap(&self) -> &Bitmap {
        &self.bitmap
    }
}

/// The longest name a job keeps.
const NAME_CHARACTERS_MOST: usize = 80;

/// Letters, digits and a few signs; a tag may hold `/`, which no file's name can.
fn file_name(name: &str) -> String {
    let plain = |character: char| {
        if character.is_ascii_alphanumeric() || matches!(character, '-' | '_' | '.') { character } else { '-' }
    };
    let name: String = name.chars().take(NAME_CHARACTERS_MOST).map(plain).collect();
    let name = name.trim_matches(['-', '.']).to_owned();
    if name.is_empty() { "label".to_owned() } else { name }
}

/// What became of a label that was handed over.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Printed {
    /// It is out.
    Out {
        /// The file.
        printed_to: String,
    },
    /// It is in the printer's queue, on the disk: [`LabelPrinter::progress`] tells what comes of it.
    Queued,
}

/// How far a queued label is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LabelProgress {
    /// What its code says.
    pub code: String,
    /// Which printer.
    pub to: String,
    /// How far it is.
    pub outcome: Outcome,
}

/// What came of a queued label.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Outcome {
    /// Not out yet.
    Waits {
        /// What it waits for, when it waits for somebody.
        trouble: Option<PrinterTrouble>,
    },
    /// The printer says that it is done; only the label's scan says more.
    Out,
    /// It may have come out or not.
    InDoubt,
    /// It will not come out.
    GivenUp {
        /// Why.
        trouble: PrinterTrouble,
    },
}

/// Why a label did not come out, in words that say what to do.
#[derive(Debug, Error)]
pub enum PrintError {
    /// The folder is not there.
    #[error("the label folder {} is not there; create it or set another", folder.display())]
    NoFolder {
        /// Which.
        folder: PathBuf,
    },
    /// Something else has its name.
    #[error("{} is not a folder; set a folder for labels", folder.display())]
    NotAFolder {
        /// Which.
        folder: PathBuf,
    },
    /// The folder, or the disk it lies on, takes no files from this program.
    #[error("the label folder {} cannot be written to; check its owner and that the disk is not read-only", folder.display())]
    NotWritable {
        /// Which.
        folder: PathBuf,
    },
    /// No room.
    #[error("the disk with the label folder {} is full; make room, then print again", folder.display())]
    DiskFull {
        /// Which.
        folder: PathBuf,
    },
    /// Anything else that the system says.
    #[error("the label could not be written to {}: {source}", folder.display())]
    Write {
        /// Where.
        folder: PathBuf,
        /// What the system says.
        source: io::Error,
    },
    /// The picture could not be put together.
    #[error(transparent)]
    Picture(#[from] LabelError),
    /// The queue could not take it.
    #[error(transparent)]
    Queue(#[from] QueueError),
}

/// What prints labels.
pub trait LabelPrinter {
    /// Prints one label and says where it came out.
    ///
    /// # Errors
    /// [`PrintError`]; the label is then not printed, and printing it again cannot make a second one.
    fn print(&mut self, job: &LabelJob) -> Result<Printed, PrintError>;

    /// Whether it would take a label now, as far as can be told without printing one.
    fn ready(&self) -> bool;

    /// How far the newest label of a visit is, where there is a queue and its outcome was not yet taken note of.
    fn progress(&self, _visit: &str) -> Option<LabelProgress> {
        None
    }

    /// The outcome of the newest label of a visit was taken note of.
    fn settled(&mut self, _visit: &str) {}
}

/// Writes labels as PNG files into a folder. A file is there whole or not at all, also when the power goes.
#[derive(Debug, Clone)]
pub struct FolderPrinter {
    folder: PathBuf,
}

impl FolderPrinter {
    /// A printer into this folder, which must exist when it prints.
    pub const fn new(folder: PathBuf) -> Self {
        Self { folder }
    }

    #[allow(
        clippy::wildcard_enum_match_arm,
        reason = "the system's kinds of error are open; the rest is told as it comes"
    )]
    fn told(&self, error: io::Error) -> PrintError {
        let folder = self.folder.clone();
        match error.kind() {
            io::ErrorKind::NotFound => PrintError::NoFolder { folder },
            io::ErrorKind::NotADirectory => PrintError::NotAFolder { folder },
            io::ErrorKind::PermissionDenied | io::ErrorKind::ReadOnlyFilesystem => PrintError::NotWritable { folder },
            io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded => PrintError::DiskFull { folder },
            _ => PrintError::Write { folder, source: error },
        }
    }
}

impl LabelPrinter for FolderPrinter {
    fn print(&mut self, job: &LabelJob) -> Result<Printed, PrintError> {
        let png = job.bitmap.png()?;
        let path = self.folder.join(format!("{}.png", job.name));
        let unfinished = self.folder.join(format!(".{}.png.unfinished", job.name));
        let written = write_whole(&self.folder, &unfinished, &path, &png);
        if written.is_err() {
            // What is left of it is of no use; that it cannot be removed is the same fault, told below.
            let _ = fs::remove_file(&unfinished);
        }
        written.map_err(|error| self.told(error))?;
        Ok(Printed::Out { printed_to: path.display().to_string() })
    }

    /// Asks the system and writes nothing: a file made every second would wear out the memory card that a kiosk lies on.
    fn ready(&self) -> bool {
        self.folder.is_dir() && can_be_written(&self.folder)
    }
}

#[cfg(unix)]
fn can_be_written(folder: &Path) -> bool {
    use rustix::fs::Access;
    rustix::fs::access(folder, Access::WRITE_OK | Access::EXEC_OK).is_ok()
}

#[cfg(not(unix))]
fn can_be_written(folder: &Path) -> bool {
    fs::metadata(folder).is_ok_and(|folder| !folder.permissions().readonly())
}

fn write_whole(folder: &Path, unfinished: &Path, path: &Path, bytes: &[u8]) -> io::Result<()> {
    if !fs::metadata(folder)?.is_dir() {
        return Err(io::Error::from(io::ErrorKind::NotADirectory));
    }
    let mut file = File::create(unfinished)?;
    file.write_all(bytes)?;
    file.sync_all()?;
    drop(file);
    fs::rename(unfinished, path)?;
    // The new name is durable only with the folder that holds it.
    File::open(folder)?.sync_all()
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::super::layout::LabelLayout;
    use super::super::render::{render, tests_content};
    use super::*;
    use sparkout_core::label::HubAddress;

    fn job(name: &str) -> LabelJob {
        let drawn =
            render(&tests_content(), &HubAddress::parse("hub.example").unwrap(), &LabelLayout::default()).unwrap();
        LabelJob::proved(name, drawn.bitmap, &drawn.url).unwrap()
    }

    #[test]
    fn whole_file_and_nothing_beside_it() {
        let folder = tempfile::tempdir().unwrap();
        let mut printer = FolderPrinter::new(folder.path().to_owned());
        let job = job("Q-114/../x");
        let file = folder.path().join("Q-114-..-x.png");
        let printed_to = file.display().to_string();
        assert_eq!(printer.print(&job).unwrap(), Printed::Out { printed_to });
        assert_eq!(Bitmap::from_png(&fs::read(&file).unwrap()).unwrap(), job.bitmap);
        printer.print(&job).unwrap();
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
    }

    #[test]
    fn faults_in_words() {
        let folder = tempfile::tempdir().unwrap();
        let absent = folder.path().join("absent");
        let refused = FolderPrinter::new(absent.clone()).print(&job("Q-114")).unwrap_err();
        assert!(matches!(refused, PrintError::NoFolder { .. }), "{refused}");
        assert!(refused.to_string().contains("create it"));
        fs::write(&absent, "a file").unwrap();
        let refused = FolderPrinter::new(absent).print(&job("Q-114")).unwrap_err();
        assert!(matches!(refused, PrintError::NotAFolder { .. }), "{refused}");
    }

    #[test]
    fn ready_is_looked_up_and_leaves_nothing_behind() {
        let folder = tempfile::tempdir().unwrap();
        let place = folder.path().join("labels");
        let printer = FolderPrinter::new(place.clone());
        assert!(!printer.ready(), "not there");
        fs::create_dir(&place).unwrap();
        assert!(printer.ready());
        assert_eq!(fs::read_dir(&place).unwrap().count(), 0);
        fs::remove_dir(&place).unwrap();
        fs::write(&place, "a file").unwrap();
        assert!(!printer.ready(), "no folder");
    }

    /// What the system reports cannot all be brought about in a test that runs as root; the words can be looked at.
    #[test]
    fn every_fault_says_what_to_do() {
        use io::ErrorKind;
        let printer = FolderPrinter::new(PathBuf::from("labels"));
        let table = [
            (ErrorKind::NotFound, "create it"),
            (ErrorKind::NotADirectory, "set a folder"),
            (ErrorKind::PermissionDenied, "check its owner"),
            (ErrorKind::ReadOnlyFilesystem, "not read-only"),
            (ErrorKind::StorageFull, "make room"),
            (ErrorKind::QuotaExceeded, "make room"),
            (ErrorKind::Interrupted, "could not be written"),
        ];
        for (kind, words) in table {
            let told = printer.told(io::Error::from(kind)).to_string();
            assert!(told.contains(words) && told.contains("labels"), "{told}");
        }
    }

    #[test]
    fn an_unproved_raster_makes_no_job() {
        assert!(matches!(
            LabelJob::proved("x", Bitmap::blank(495, 231, 203), "HTTPS://HUB/L/X"),
            Err(LabelError::NoCode)
        ));
    }

    #[test]
    fn names_of_files() {
        let table = [("Q-114", "Q-114"), ("(8004)06", "8004-06"), ("../..", "label"), ("", "label"), ("Ñ1", "1")];
        for (name, file) in table {
            assert_eq!(file_name(name), file);
        }
    }
}
