//! Owns finding earlier sessions with the same profile.

use super::{JournalError, Past, read, sessions};
use std::path::{Path, PathBuf};

/// Earlier sessions with one profile.
#[derive(Debug, Default)]
pub struct History {
    /// Those that could be read, oldest first. They may have used another text of the same profile.
    pub sessions: Vec<Past>,
    /// Journals that could not be read, with the reason: to be told, as what is in them is missing from the history.
    pub unreadable: Vec<(PathBuf, JournalError)>,
}

/// All sessions in `folder` with the profile `id`, without the one at `except` (the session that asks). Simulated sessions
/// are among them, their headers say so. A session cut off before its first line was whole is not: nothing is in it.
///
/// # Errors
/// [`JournalError::File`] where the folder cannot be read. A damaged journal is no error here: it is listed as unreadable.
pub fn history(folder: &Path, id: &str, except: Option<&Path>) -> Result<History, JournalError> {
    let mut history = History::default();
    for path in sessions(folder)? {
        if except.is_some_and(|except| is_same(&path, except)) {
            continue;
        }
        match read(&path) {
            Ok(past) if past.header.profile == id => history.sessions.push(past),
            Ok(_) | Err(JournalError::NoHead { .. }) => {}
            Err(error) => history.unreadable.push((path, error)),
        }
    }
    Ok(history)
}

fn is_same(one: &Path, other: &Path) -> bool {
    let whole = |path: &Path| path.canonicalize().unwrap_or_else(|_| path.to_owned());
    whole(one) == whole(other)
}
