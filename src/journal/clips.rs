//! Owns the sound that a journal names: each clip as it is found beside it today.

use super::{Entry, JournalError, Line, Past, sha256};
use std::{
    collections::BTreeSet,
    fs, io,
    path::{Component, Path, PathBuf},
};

/// A clip as it is found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Sound {
    /// As it was heard: it has the hash that the journal has of it.
    Proved(Vec<u8>),
    /// There, but the journal has no hash of it.
    Unproved(Vec<u8>),
    /// There, and not what was heard.
    Changed,
    /// Not there, or under a name that leads out of the folder.
    Missing,
    /// Taken away on purpose, and the journal says so.
    Forgotten,
}

/// The clips that a journal names, line by line. Each is read when its turn comes, so that no more than one is in memory. Without
/// a hash nothing can be proved, so such a clip is read only where `unproved` asks for it; else it comes empty.
///
/// The third of each is [`JournalError::File`] where a clip is there and cannot be read.
pub fn clips(
    past: &Past,
    unproved: bool,
) -> impl Iterator<Item = (&Line, &str, Result<Sound, JournalError>)> {
    let forgotten: BTreeSet<&str> = past
        .lines
        .iter()
        .filter_map(|line| match &line.entry {
            Entry::Forgotten { clips } => Some(clips.iter().map(String::as_str)),
            _ => None,
        })
        .flatten()
        .collect();
    let folder = past.path.parent().unwrap_or(Path::new(".")).join("clips");
    past.lines.iter().filter_map(move |line| {
        let clip = line.entry.clip()?;
        let sound = match &line.clip {
            _ if forgotten.contains(clip) => Ok(Sound::Forgotten),
            None if !unproved => Ok(Sound::Unproved(Vec::new())),
            hash => read(&folder, clip).map(|bytes| match (bytes, hash) {
                (None, _) => Sound::Missing,
                (Some(bytes), None) => Sound::Unproved(bytes),
                (Some(bytes), Some(hash)) if sha256(&bytes) == *hash => Sound::Proved(bytes),
                (Some(_), Some(_)) => Sound::Changed,
            }),
        };
        Some((line, clip, sound))
    })
}

/// A clip's bytes; None where it is not there, or its name leads out of the folder.
fn read(folder: &Path, clip: &str) -> Result<Option<Vec<u8>>, JournalError> {
    let mut parts = Path::new(clip).components();
    if !matches!((parts.next(), parts.next()), (Some(Component::Normal(_)), None)) {
        return Ok(None);
    }
    let path: PathBuf = folder.join(clip);
    match fs::read(&path) {
        Ok(bytes) => Ok(Some(bytes)),
        Err(cause) if cause.kind() == io::ErrorKind::NotFound => Ok(None),
        Err(cause) => Err(JournalError::File { doing: "read", path, cause }),
    }
}
