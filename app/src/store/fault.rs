//! What can go wrong with the disk: few variants, each one something that the caller does differently. The plain
//! sentence is for the screen, the detail for the log.

use rusqlite::ErrorCode;
use std::path::PathBuf;
use thiserror::Error;

/// Why something was not stored or not read.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum StoreError {
    /// No room is left.
    #[error("the disk is full; this was not stored")]
    Full {
        /// What SQLite said.
        detail: String,
    },
    /// The disk, the folder or the file does not take writes.
    #[error("the disk does not take anything; this was not stored")]
    Unwritable {
        /// What SQLite or the system said.
        detail: String,
    },
    /// The file is not what was written.
    #[error("the journal's file is damaged")]
    Corrupt {
        /// What does not fit.
        detail: String,
    },
    /// A commit that had to be reported as failed was found on the disk after all. Nothing new was stored.
    #[error("entries from {from_seq} on are stored although they were reported as not stored; read the journal again")]
    Reload {
        /// The first such entry.
        from_seq: u64,
    },
    /// A fault of ours, or one that has no words of its own.
    #[error("the journal could not be written or read")]
    Other {
        /// What SQLite said.
        detail: String,
    },
}

/// Why the folder was not opened.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum OpenFailure {
    /// Another process has this folder.
    #[error("another sparkout is running on this folder")]
    InUse,
    /// The file was written by a newer version of this program. It was moved aside untouched.
    #[error(
        "the journal is of the newer version {found}, this program knows {known}; it was set aside as {}",
        set_aside.display()
    )]
    Newer {
        /// The file's version.
        found: i64,
        /// The newest version that this program knows.
        known: i64,
        /// Where the file is now.
        set_aside: PathBuf,
    },
    /// The file is damaged, or is no journal. It was moved aside untouched.
    #[error("the journal's file is damaged; it was set aside as {}", set_aside.display())]
    Corrupt {
        /// What does not fit.
        detail: String,
        /// Where the file is now.
        set_aside: PathBuf,
    },
    /// The folder or the file does not take writes, or a damaged file could not be moved aside.
    #[error("the journal's folder cannot be written to")]
    Unwritable {
        /// What the system said.
        detail: String,
    },
    /// No room is left for even an empty journal.
    #[error("the disk is full; the journal cannot be opened")]
    Full {
        /// What SQLite said.
        detail: String,
    },
    /// There is a journal, and the key that signs it is gone. Nothing was moved: with the key back it opens.
    #[error("the journal is there and its key {} is not; put the key back from the backup", file.display())]
    KeyMissing {
        /// Where the key belongs.
        file: PathBuf,
    },
    /// The key is not the journal's, or cannot be read. Nothing was moved.
    #[error("the key {} is not the one that signs this journal", file.display())]
    KeyUnusable {
        /// The key's file.
        file: PathBuf,
        /// What is wrong with it.
        detail: String,
    },
    /// The SQLite that this program was built with loses writes.
    #[error("this program was built with SQLite {found}, and needs {wanted} or newer")]
    SqliteTooOld {
        /// The version found.
        found: String,
        /// The oldest version without the fault.
        wanted: &'static str,
    },
}

impl StoreError {
    /// What the log is told beyond the plain sentence.
    pub fn detail(&self) -> &str {
        match self {
            Self::Full { detail } | Self::Unwritable { detail } | Self::Corrupt { detail } | Self::Other { detail } => {
                detail
            }
            Self::Reload { .. } => "",
        }
    }

    pub(super) fn corrupt(detail: impl Into<String>) -> Self {
        Self::Corrupt { detail: detail.into() }
    }
}

impl From<rusqlite::Error> for StoreError {
    fn from(error: rusqlite::Error) -> Self {
        let detail = error.to_string();
        let code = error.sqlite_error_code();
        let is = |codes: &[ErrorCode]| code.is_some_and(|code| codes.contains(&code));
        if is(&[ErrorCode::DiskFull]) {
            Self::Full { detail }
        } else if is(&[ErrorCode::DatabaseCorrupt, ErrorCode::NotADatabase]) {
            Self::Corrupt { detail }
        } else if is(&[
            ErrorCode::ReadOnly,
            ErrorCode::SystemIoFailure,
            ErrorCode::CannotOpen,
            ErrorCode::PermissionDenied,
            ErrorCode::NoLargeFileSupport,
        ]) {
            Self::Unwritable { detail }
        } else {
            Self::Other { detail }
        }
    }
}
