//! Owns what can go wrong with a journal, told so that a person knows what happened, where, and what to do.

use std::{io, path::PathBuf};

/// Why a journal could not be made, written or read. The text holds the cause, so it is complete by itself.
#[derive(Debug, thiserror::Error, miette::Diagnostic)]
pub enum JournalError {
    /// The folder for sessions cannot be made or written to.
    #[error(
        "cannot keep a journal in {}: {cause}. Nothing was started. Choose a folder that you may write to, or free \
         space on it",
        folder.display()
    )]
    Folder {
        /// The folder.
        folder: PathBuf,
        /// What the system said.
        cause: io::Error,
    },
    /// No home folder is known and none was named.
    #[error("no folder for journals is known: set {variable} to a folder that you may write to")]
    NoFolder {
        /// The environment variable that names one.
        variable: &'static str,
    },
    /// A profile's name cannot be part of a file name.
    #[error(
        "cannot name a journal after profile \"{0}\": use lower case letters, digits and dashes, at most 64"
    )]
    ProfileName(String),
    /// Another program has this journal open for writing.
    #[error("{} is being written by another running session. Close that one first", path.display())]
    InUse {
        /// The journal.
        path: PathBuf,
    },
    /// A file could not be opened, read, locked or repaired.
    #[error("cannot {doing} {}: {cause}", path.display())]
    File {
        /// What was tried ("read", "lock").
        doing: &'static str,
        /// The file.
        path: PathBuf,
        /// What the system said.
        cause: io::Error,
    },
    /// An entry would read back differently, or not at all (a number that is not finite). Nothing was written.
    #[error("entry {seq} cannot be kept in {}: {cause}. It was not written", path.display())]
    NotKeepable {
        /// The journal.
        path: PathBuf,
        /// The number that the line would have had.
        seq: u64,
        /// Why.
        cause: serde_json::Error,
    },
    /// A line was not written and is not acknowledged; the file is as before it. The same entry may be appended again.
    #[error(
        "entry {seq} was not written to {}: {cause}. Everything before it is safe. Free space, then say or type it again",
        path.display()
    )]
    NotWritten {
        /// The journal.
        path: PathBuf,
        /// The number that the line would have had.
        seq: u64,
        /// What the system said.
        cause: io::Error,
    },
    /// The journal can no longer be trusted to hold what is written; nothing more is taken. Resume from it later.
    #[error(
        "entry {seq} is not safe in {}: {why}. Everything acknowledged before it was synced. Stop here, look after the \
         disk, then resume",
        path.display()
    )]
    Broken {
        /// The journal.
        path: PathBuf,
        /// The first number that is not acknowledged.
        seq: u64,
        /// What happened.
        why: String,
    },
    /// The journal has no complete first line: it was cut while being made, and nothing had been acknowledged.
    #[error("{} has no complete first line, so nothing was recorded in it. Start a new session", path.display())]
    NoHead {
        /// The journal.
        path: PathBuf,
    },
    /// The file was written by a newer program.
    #[error(
        "{} has journal format {found}, this program reads format {known}. Use the newer program that wrote it",
        path.display()
    )]
    Newer {
        /// The journal.
        path: PathBuf,
        /// Its format.
        found: u64,
        /// The newest format known here.
        known: u32,
    },
    /// A line other than a torn last one is damaged, out of order or not of this form.
    #[error("{}, line {line}: {why}. Keep a copy of the file before mending anything", path.display())]
    Line {
        /// The journal.
        path: PathBuf,
        /// Counts from 1.
        line: u64,
        /// What is wrong with it.
        why: String,
    },
    /// The journal belongs to another profile, or to another text of the same profile.
    #[error(
        "{} was measured with profile \"{theirs}\" (fingerprint {theirs_fingerprint}), not with \"{ours}\" (fingerprint \
         {ours_fingerprint}). Resume it with the profile that it was begun with",
        path.display()
    )]
    OtherProfile {
        /// The journal.
        path: PathBuf,
        /// The journal's profile.
        theirs: String,
        /// Its fingerprint, the first twelve digits.
        theirs_fingerprint: String,
        /// The profile asked for.
        ours: String,
        /// Its fingerprint, the first twelve digits.
        ours_fingerprint: String,
    },
    /// A folder was named that holds no journal, or more than one.
    #[error("{} holds {found} journals (files ending in .jsonl); name one", folder.display())]
    NotOne {
        /// The folder.
        folder: PathBuf,
        /// How many.
        found: usize,
    },
}

impl JournalError {
    /// Whether the journal goes on as if nothing had been tried, so that the same entry may be appended again.
    #[must_use]
    pub fn may_retry(&self) -> bool {
        matches!(self, Self::NotWritten { .. } | Self::NotKeepable { .. })
    }
}
