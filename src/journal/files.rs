//! Owns how whole files reach the disk: folders synced, files replaced in one step or not at all.

use std::{
    fs::{self, File},
    io::{self, Write},
    path::{Path, PathBuf},
};

/// Makes a folder and those above it, each entry synced in its parent.
pub(super) fn make_folders(folder: &Path) -> io::Result<()> {
    if folder.as_os_str().is_empty() || folder.is_dir() {
        return Ok(());
    }
    let above = parent(folder);
    make_folders(&above)?;
    match fs::create_dir(folder) {
        Err(error) if error.kind() == io::ErrorKind::AlreadyExists && folder.is_dir() => Ok(()),
        Err(error) => Err(error),
        Ok(()) => sync_folder(&above),
    }
}

/// The folder that holds `path`; `.` for a bare name.
pub(super) fn parent(path: &Path) -> PathBuf {
    match path.parent() {
        Some(above) if !above.as_os_str().is_empty() => above.to_owned(),
        _ => PathBuf::from("."),
    }
}

/// Syncs the names in a folder, so that a new or renamed file is found again after a power failure.
pub(super) fn sync_folder(folder: &Path) -> io::Result<()> {
    // Elsewhere a folder cannot be opened as a file, and its names are kept by the file system's own journal.
    if cfg!(unix) { File::open(folder)?.sync_all() } else { Ok(()) }
}

/// Writes a file so that it is there as a whole or not at all: to a temporary file beside it, synced, then renamed.
/// An older file of that name is replaced in the same step.
///
/// # Errors
/// What the system said; the older file, if any, is unharmed then.
pub fn write_whole(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let folder = parent(path);
    make_folders(&folder)?;
    let name = path.file_name().ok_or_else(|| io::Error::from(io::ErrorKind::InvalidFilename))?;
    let mut temporary = std::ffi::OsString::from(".");
    temporary.push(name);
    temporary.push(format!(".{}.part", std::process::id()));
    let temporary = folder.join(temporary);
    let write = || {
        let mut file = File::create(&temporary)?;
        file.write_all(bytes)?;
        file.sync_all()?;
        fs::rename(&temporary, path)?;
        sync_folder(&folder)
    };
    write().inspect_err(|_| {
        // Only tidying up: the error that matters is the one returned.
        let _ = fs::remove_file(&temporary);
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_is_replaced_as_a_whole_and_leaves_nothing_beside_it() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("deep/er/page.html");
        write_whole(&path, b"one").unwrap();
        write_whole(&path, b"two").unwrap();
        assert_eq!(fs::read(&path).unwrap(), b"two");
        assert_eq!(fs::read_dir(path.parent().unwrap()).unwrap().count(), 1);
    }

    #[test]
    fn a_failed_write_leaves_the_target_and_no_temporary_file() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("page.html");
        fs::create_dir(&path).unwrap();
        assert!(write_whole(&path, b"one").is_err());
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
        assert!(write_whole(&path.join(".."), b"one").is_err());
    }
}
