//! Owns the log that cannot be lost: append-only JSON lines, one entry each, synced before anything is acknowledged.
//!
//! A session has a folder of its own, named by time and profile: the journal in it, `clips/` beside it, and the texts of
//! profile and meter inside the journal's first line, so that the folder is whole by itself. [`Journal`] writes, [`read`]
//! reads. State, screen, report and resume are folds over [`Past::lines`].
//!
//! What is promised, and how it is kept:
//! - *Acknowledged means stored.* [`Journal::append`] returns only after the line and the file's length were synced.
//! - *Nothing is guessed.* A line cut by a power failure is set aside as it is; any other damage is refused with its line.
//! - *Nothing is overwritten.* A new journal is a new file; a torn end is copied to a side file before it is cut off.
//! - *No change unseen.* Each line carries the hash of the line before and its own, each clip has its hash in the line that names
//!   it ([`Protection`]).
//! - *One writer.* The file is locked while it is open for writing; readers are not held up.

mod chain;
mod clips;
pub mod entry;
mod error;
mod files;
mod folder;
mod forget;
mod history;
mod past;
mod salvage;
mod verify;
mod write;

pub use chain::sha256;
pub use clips::{Sound, clips};
pub use entry::*;
pub use error::JournalError;
pub use files::write_whole;
pub use folder::{DATA_VARIABLE, Latest, default_folder, latest, locate, sessions};
pub use forget::{forget, has_clips};
pub use history::{History, history};
pub use past::{Ending, MAX_LINE, Past, Protection, Reader, Torn, glance, read};
pub use salvage::{Rescue, salvage};
pub use verify::{LEAST_DIGITS, Proof, verify};
pub use write::Journal;
