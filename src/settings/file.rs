//! Owns the settings file: where it lies, how it is read and refused, and the commented one that is written to begin with.

use super::Layer;
use std::{
    env, fs, io,
    io::Write,
    path::{Path, PathBuf},
};

/// Environment variable that names the settings file. Empty: none is read.
pub const VARIABLE: &str = "BOTHHANDS_SETTINGS";
/// The file as it is written: everything in it is a comment.
pub const DEFAULT: &str = include_str!("default.toml");
/// A file larger than this is no settings file.
const LARGEST: u64 = 256 * 1024;

/// Why the settings cannot be used.
#[derive(Debug, thiserror::Error, miette::Diagnostic)]
pub enum SettingsError {
    /// The file is there and cannot be read.
    #[error("the settings in {} cannot be read: {cause}", path.display())]
    Unreadable {
        /// The file.
        path: PathBuf,
        /// What the system says.
        cause: io::Error,
    },
    /// Something in it is wrong.
    #[error("{}, line {line}: {what}", path.display())]
    #[diagnostic(help(
        "correct it, or put a # before the line; bothhands settings --write FILE makes a fresh one"
    ))]
    Fault {
        /// The file.
        path: PathBuf,
        /// The line, from 1.
        line: usize,
        /// What is wrong.
        what: String,
    },
    /// A file is there already and is not written over.
    #[error("{} is there already and is not written over", path.display())]
    #[diagnostic(help("edit it, or move it away first"))]
    Exists {
        /// The file.
        path: PathBuf,
    },
    /// It cannot be written.
    #[error("{} cannot be written: {cause}", path.display())]
    Unwritable {
        /// The file.
        path: PathBuf,
        /// What the system says.
        cause: io::Error,
    },
    /// There is no usual place.
    #[error("there is no folder for settings: neither {VARIABLE} nor a home folder is known")]
    NoPlace,
}

/// Where the settings file is looked for: where [`VARIABLE`] says, else in the platform's folder for configuration.
#[must_use]
pub fn place() -> Option<PathBuf> {
    match env::var_os(VARIABLE) {
        Some(named) if named.is_empty() => None,
        Some(named) => Some(named.into()),
        None => directories::ProjectDirs::from("", "", "bothhands")
            .map(|folders| folders.config_dir().join("settings.toml")),
    }
}

/// What the file says. A file that is not there says nothing.
///
/// # Errors
/// [`SettingsError::Unreadable`] and [`SettingsError::Fault`].
pub fn read(path: &Path) -> Result<Option<Layer>, SettingsError> {
    let unreadable = |cause| SettingsError::Unreadable { path: path.to_owned(), cause };
    match fs::metadata(path) {
        Err(cause) if cause.kind() == io::ErrorKind::NotFound => return Ok(None),
        Err(cause) => return Err(unreadable(cause)),
        Ok(about) if about.len() > LARGEST => {
            return Err(unreadable(io::Error::other("it is far too large for a settings file")));
        }
        Ok(_) => {}
    }
    parse(path, &fs::read_to_string(path).map_err(unreadable)?).map(Some)
}

/// The settings in a text; `path` is named in errors.
///
/// # Errors
/// [`SettingsError::Fault`] with the line of the first thing that is wrong.
pub fn parse(path: &Path, text: &str) -> Result<Layer, SettingsError> {
    toml::from_str(text).map_err(|error| {
        let start = error.span().map_or(0, |span| span.start.min(text.len()));
        let line = text.as_bytes()[..start].iter().filter(|byte| **byte == b'\n').count() + 1;
        // The reader's message may go on over several lines.
        let what = error.message().split_whitespace().collect::<Vec<_>>().join(" ");
        SettingsError::Fault { path: path.to_owned(), line, what }
    })
}

/// Writes the commented file, where there is none yet.
///
/// # Errors
/// [`SettingsError::Exists`] and [`SettingsError::Unwritable`].
pub fn write(path: &Path) -> Result<(), SettingsError> {
    let failed = |cause: io::Error| match cause.kind() {
        io::ErrorKind::AlreadyExists => SettingsError::Exists { path: path.to_owned() },
        _ => SettingsError::Unwritable { path: path.to_owned(), cause },
    };
    if let Some(folder) = path.parent() {
        fs::create_dir_all(folder)
            .map_err(|cause| SettingsError::Unwritable { path: path.to_owned(), cause })?;
    }
    let mut file = fs::File::create_new(path).map_err(failed)?;
    file.write_all(DEFAULT.as_bytes()).and_then(|()| file.sync_all()).map_err(failed)
}
