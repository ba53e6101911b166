//! Owns what can go wrong with the history, told so that a person knows what to do: it can always be made again.

use crate::journal::JournalError;
use std::path::PathBuf;

/// Why the history cannot be used.
#[derive(Debug, thiserror::Error, miette::Diagnostic)]
pub enum HistoryError {
    /// The store cannot be opened.
    #[error("the history in {} cannot be opened: {cause}", path.display())]
    #[diagnostic(help("it is made from the journals; make it anew with: bothhands history --rebuild"))]
    Open {
        /// The file.
        path: PathBuf,
        /// What SQLite said.
        cause: rusqlite::Error,
    },
    /// The store was made by a newer program.
    #[error("the history in {} has version {found}, this program knows up to {known}", path.display())]
    #[diagnostic(help(
        "use the newer program, or make the history anew for this one with: bothhands history --rebuild"
    ))]
    Newer {
        /// The file.
        path: PathBuf,
        /// Its version.
        found: u32,
        /// The newest version known here.
        known: u32,
    },
    /// The store cannot be read or written.
    #[error("the history cannot be used: {0}")]
    #[diagnostic(help("it is made from the journals; make it anew with: bothhands history --rebuild"))]
    Store(#[from] rusqlite::Error),
    /// A file of the store cannot be taken away.
    #[error("the history in {} cannot be made anew: {cause}", path.display())]
    Remove {
        /// The file.
        path: PathBuf,
        /// What the system said.
        cause: std::io::Error,
    },
    /// The folder of journals cannot be read.
    #[error(transparent)]
    #[diagnostic(transparent)]
    Journals(#[from] JournalError),
}

impl HistoryError {
    /// What is wrong, short enough to be spoken: without paths and advice.
    #[must_use]
    pub fn cause(&self) -> String {
        match self {
            Self::Open { cause, .. } | Self::Store(cause) => cause.to_string(),
            Self::Newer { .. } | Self::Remove { .. } | Self::Journals(_) => self.to_string(),
        }
    }
}
