//! Owns putting the reports of a session beside its journal.

use super::{Enclosed, Record, csv, html, html_with_sound, json, text};
use crate::{journal::write_whole, words::Words};
use std::{
    io,
    path::{Path, PathBuf},
};

/// A report could not be written. The session itself is safe in its journal.
#[derive(Debug, thiserror::Error)]
#[error("cannot write the report {}: {cause}. The journal is safe; free space or name another folder, then make the report again", path.display())]
pub struct ReportError {
    /// The file.
    pub path: PathBuf,
    /// What the system said.
    pub cause: io::Error,
}

/// Where the reports are.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Saved {
    /// The page.
    pub html: PathBuf,
    /// The summary.
    pub text: PathBuf,
    /// The table of readings.
    pub csv: PathBuf,
    /// The machine-readable form.
    pub json: PathBuf,
}

/// Writes all reports into `folder` (the session's own, so that the page finds `clips/`), each as a whole or not at all,
/// replacing older ones of the same session. Page and summary are in the language of `words`; table and machine-readable
/// form have none.
///
/// # Errors
/// [`ReportError`] for the first that could not be written.
pub fn save(folder: &Path, record: &Record, words: &Words) -> Result<Saved, ReportError> {
    let write = |name: &str, content: String| {
        let path = folder.join(name);
        match write_whole(&path, content.as_bytes()) {
            Ok(()) => Ok(path),
            Err(cause) => Err(ReportError { path, cause }),
        }
    };
    Ok(Saved {
        html: write("record.html", html(record, words))?,
        text: write("record.txt", text(record, words))?,
        csv: write("readings.csv", csv(record))?,
        json: write("record.json", json(record))?,
    })
}

/// Writes the page with the sound inside it into `folder`, as a whole or not at all, and returns its path and size in bytes.
///
/// # Errors
/// [`ReportError`] where it could not be written.
pub fn save_with_sound(
    folder: &Path,
    record: &Record,
    clips: &[Enclosed],
    words: &Words,
) -> Result<(PathBuf, usize), ReportError> {
    let path = folder.join("record-with-sound.html");
    let page = html_with_sound(record, clips, words);
    match write_whole(&path, page.as_bytes()) {
        Ok(()) => Ok((path, page.len())),
        Err(cause) => Err(ReportError { path, cause }),
    }
}
