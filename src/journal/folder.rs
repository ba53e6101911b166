//! Owns where sessions lie, how they are named, and which one a plain `resume` means.

use super::{Ending, JournalError, Past, glance, read};
use jiff::Timestamp;
use std::{
    env,
    ffi::OsString,
    fs, io,
    path::{Path, PathBuf},
};

/// Environment variable that names the data folder.
pub const DATA_VARIABLE: &str = "BOTHHANDS_DATA";

/// The folder that sessions are kept in: `sessions` in the folder that [`DATA_VARIABLE`] names, else in the person's
/// data folder. It need not exist yet.
///
/// # Errors
/// [`JournalError::NoFolder`] where neither is known.
pub fn default_folder() -> Result<PathBuf, JournalError> {
    let home = || directories::ProjectDirs::from("", "", "bothhands").map(|dirs| dirs.data_dir().to_owned());
    sessions_folder(env::var_os(DATA_VARIABLE), home)
}

fn sessions_folder(
    named: Option<OsString>,
    home: impl FnOnce() -> Option<PathBuf>,
) -> Result<PathBuf, JournalError> {
    let named = named.filter(|name| !name.is_empty()).map(PathBuf::from);
    let data = named.or_else(home).ok_or(JournalError::NoFolder { variable: DATA_VARIABLE })?;
    Ok(data.join("sessions"))
}

/// Name of a session by time and profile: `2026-11-25T171200Z-sweeper-valve-block`. Sorted by name is sorted by time.
pub(super) fn session_name(at: Timestamp, profile: &str) -> Result<String, JournalError> {
    let fits = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
    if profile.is_empty() || profile.len() > 64 || !profile.chars().all(fits) {
        return Err(JournalError::ProfileName(profile.to_owned()));
    }
    Ok(format!("{}-{profile}", at.strftime("%Y-%m-%dT%H%M%SZ")))
}

/// The journals in a folder of sessions, oldest first. A folder that does not exist holds none.
///
/// # Errors
/// [`JournalError::File`] where the folder cannot be read.
pub fn sessions(folder: &Path) -> Result<Vec<PathBuf>, JournalError> {
    let mut found = Vec::new();
    for entry in list(folder)? {
        match list(&entry) {
            Ok(inside) => found.extend(inside.into_iter().filter(|path| is_journal(path))),
            Err(JournalError::File { cause, .. }) if cause.kind() == io::ErrorKind::NotADirectory => {}
            Err(error) => return Err(error),
        }
    }
    found.sort_by_cached_key(|path| path.file_stem().map(OsString::from));
    Ok(found)
}

/// What a plain `resume` goes on with.
#[derive(Debug, Default)]
pub struct Latest {
    /// The newest session that can be read and has no conclusion yet.
    pub open: Option<Past>,
    /// Newer journals that were passed over because they cannot be read, newest first: to be told, with the reason.
    pub passed_over: Vec<(PathBuf, JournalError)>,
}

/// The newest session that has no conclusion yet. Sessions cut off before their first line was whole are passed over:
/// nothing was recorded in them. Damaged ones are passed over too, and listed.
///
/// Of the others only the end is looked at; the one that is found is read whole.
///
/// # Errors
/// What [`sessions`] says.
pub fn latest(folder: &Path) -> Result<Latest, JournalError> {
    let mut found = Latest::default();
    for path in sessions(folder)?.into_iter().rev() {
        if matches!(glance(&path), Ok(Ending::Concluded)) {
            continue;
        }
        match read(&path) {
            Ok(past) if past.ending() == Ending::Concluded => {}
            Err(JournalError::NoHead { .. }) => {}
            Ok(past) => {
                found.open = Some(past);
                break;
            }
            Err(error) => found.passed_over.push((path, error)),
        }
    }
    Ok(found)
}

/// The journal that a person means who names `path`: the file itself, or the one journal in that folder.
///
/// # Errors
/// [`JournalError::NotOne`] for a folder with none or several, [`JournalError::File`] where it cannot be read.
pub fn locate(path: &Path) -> Result<PathBuf, JournalError> {
    if !path.is_dir() {
        return Ok(path.to_owned());
    }
    let mut found: Vec<_> = list(path)?.into_iter().filter(|path| is_journal(path)).collect();
    match (found.pop(), found.len()) {
        (Some(only), 0) => Ok(only),
        (last, more) => {
            Err(JournalError::NotOne { folder: path.to_owned(), found: more + usize::from(last.is_some()) })
        }
    }
}

fn is_journal(path: &Path) -> bool {
    path.extension().is_some_and(|extension| extension == "jsonl") && path.is_file()
}

fn list(folder: &Path) -> Result<Vec<PathBuf>, JournalError> {
    let failed = |cause| JournalError::File { doing: "list", path: folder.to_owned(), cause };
    match fs::read_dir(folder) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(Vec::new()),
        Err(cause) => Err(failed(cause)),
        Ok(entries) => {
            entries.map(|entry| entry.map(|entry| entry.path())).collect::<Result<_, _>>().map_err(failed)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_variable_wins_and_an_empty_one_counts_as_unset() {
        let home = || Some(PathBuf::from("/home/me/data"));
        assert_eq!(sessions_folder(Some("/d".into()), home).unwrap(), Path::new("/d/sessions"));
        assert_eq!(sessions_folder(Some("".into()), home).unwrap(), Path::new("/home/me/data/sessions"));
        let error = sessions_folder(None, || None).unwrap_err().to_string();
        assert!(error.contains("BOTHHANDS_DATA"), "{error}");
    }

    #[test]
    fn sessions_are_named_by_time_and_profile() {
        let at = "2026-11-25T17:12:00.9Z".parse().unwrap();
        assert_eq!(
            session_name(at, "sweeper-valve-block").unwrap(),
            "2026-11-25T171200Z-sweeper-valve-block"
        );
        for bad in ["", "../up", "a/b", "Grün", "UPPER", "a b", &"x".repeat(65)] {
            assert!(matches!(session_name(at, bad), Err(JournalError::ProfileName(_))), "{bad}");
        }
    }
}
