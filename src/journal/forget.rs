//! Owns taking sound away on purpose: the journal says so first, then the clips go. What was read and said stays.

use super::{Entry, Journal, JournalError, Past};
use jiff::Timestamp;
use std::{
    collections::BTreeSet,
    fs, io,
    path::{Path, PathBuf},
};

/// Takes the clips of one session away, and leaves a mark of it in the chain. Returns their names; none where there were none.
///
/// # Errors
/// [`JournalError::InUse`] while the session runs, what [`super::read`] says, and [`JournalError::File`] where a clip cannot be taken
/// away: the mark stands then, and doing it again goes on.
pub fn forget(path: &Path) -> Result<Vec<String>, JournalError> {
    let folder = clips_of(path);
    let names = names(&folder)?;
    if names.is_empty() {
        return Ok(names);
    }
    let (mut journal, past) = Journal::reopen(path)?;
    let marked = forgotten(&past);
    let new: Vec<String> = names.iter().filter(|name| !marked.contains(*name)).cloned().collect();
    if !new.is_empty() {
        journal.append(Timestamp::now(), Entry::Forgotten { clips: new })?;
    }
    for name in &names {
        let clip = folder.join(name);
        match fs::remove_file(&clip) {
            Err(cause) if cause.kind() != io::ErrorKind::NotFound => {
                return Err(JournalError::File { doing: "take away", path: clip, cause });
            }
            _ => {}
        }
    }
    Ok(names)
}

/// Whether a session has clips at all.
///
/// # Errors
/// [`JournalError::File`] where the folder cannot be read.
pub fn has_clips(path: &Path) -> Result<bool, JournalError> {
    Ok(!names(&clips_of(path))?.is_empty())
}

fn clips_of(path: &Path) -> PathBuf {
    path.parent().unwrap_or(Path::new(".")).join("clips")
}

fn forgotten(past: &Past) -> BTreeSet<String> {
    let clips = past.lines.iter().filter_map(|line| match &line.entry {
        Entry::Forgotten { clips } => Some(clips.clone()),
        _ => None,
    });
    clips.flatten().collect()
}

/// The files in a folder of clips, by name.
fn names(folder: &Path) -> Result<Vec<String>, JournalError> {
    let failed = |cause| JournalError::File { doing: "list", path: folder.to_owned(), cause };
    let entries = match fs::read_dir(folder) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(Vec::new()),
        other => other.map_err(failed)?,
    };
    let mut names = Vec::new();
    for entry in entries {
        let entry = entry.map_err(failed)?;
        if entry.file_type().map_err(failed)?.is_file() {
            names.push(entry.file_name().to_string_lossy().into_owned());
        }
    }
    names.sort();
    Ok(names)
}
