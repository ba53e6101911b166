//! Owns the way from a file or text to a checked value: size, encoding, syntax, then every check.

use super::{
    build, check,
    faults::{Fault, Faults, Found, ProfileError, Spot, What},
    model::{Meter, Profile},
    raw_meter, raw_part, short,
};
use crate::words::FIRST_LANGUAGE;
use sha2::{Digest, Sha256};
use std::{fmt::Write as _, fs::File, io::Read as _, path::Path};
use toml::de::DeTable;

/// The largest file that is read, in bytes: a profile has a few KiB.
pub const LARGEST: u64 = 1024 * 1024;

/// Loads and checks the profile in a file.
///
/// # Errors
/// [`ProfileError`]: the file cannot be read, is larger than [`LARGEST`], is no UTF-8, or has faults (all of them are in
/// the error).
pub fn load(path: &Path) -> Result<Profile, ProfileError> {
    let text = read(What::Profile, path)?;
    parse(&path.display().to_string(), &text)
}

/// Checks the text of a profile; `name` stands in messages for where it came from.
///
/// # Errors
/// As [`load`], without those of reading.
pub fn parse(name: &str, text: &str) -> Result<Profile, ProfileError> {
    parse_in(name, text, FIRST_LANGUAGE)
}

/// As [`parse`], with names, titles and cautions in a language (`de`) where the file has them in it.
///
/// # Errors
/// As [`parse`].
pub fn parse_in(name: &str, text: &str, language: &str) -> Result<Profile, ProfileError> {
    checked(What::Profile, name, text, language, |table, found| {
        let mut raw = raw_part::profile(table, found);
        short::expand(&mut raw, found);
        check::profile(&raw, found);
        build::profile(&raw, fingerprint(text))
    })
}

/// Loads and checks the meter in a file.
///
/// # Errors
/// As [`load`].
pub fn load_meter(path: &Path) -> Result<Meter, ProfileError> {
    let text = read(What::Meter, path)?;
    parse_meter(&path.display().to_string(), &text)
}

/// Checks the text of a meter file; `name` stands in messages for where it came from.
///
/// # Errors
/// As [`load`], without those of reading.
pub fn parse_meter(name: &str, text: &str) -> Result<Meter, ProfileError> {
    checked(What::Meter, name, text, FIRST_LANGUAGE, |table, found| {
        let raw = raw_meter::meter(table, found);
        check::meter(&raw, found);
        build::meter(&raw, fingerprint(text))
    })
}

/// SHA-256 of a text in hexadecimal.
fn fingerprint(text: &str) -> String {
    Sha256::digest(text.as_bytes()).iter().fold(String::with_capacity(64), |mut out, byte| {
        let _ = write!(out, "{byte:02x}"); // a String takes everything
        out
    })
}

fn checked<T>(
    what: What,
    name: &str,
    text: &str,
    language: &str,
    read: impl FnOnce(&DeTable<'_>, &mut Found) -> Option<T>,
) -> Result<T, ProfileError> {
    if text.len() as u64 > LARGEST {
        return Err(ProfileError::TooLarge { what, name: name.to_owned() });
    }
    let faulty = |list: Vec<Fault>| ProfileError::Faulty(Box::new(Faults::new(what, name, text, list)));
    let mut found = Found::new(text, language);
    let (table, errors) = DeTable::parse_recoverable(text);
    if !errors.is_empty() {
        // What was recovered may lack anything: to go on would report keys missing that are there.
        for error in errors {
            let span = error.span().unwrap_or(0..0);
            found.add(
                &Spot { span, key: String::new() },
                format!("no valid TOML: {}", error.message()),
                SYNTAX,
            );
        }
        return Err(faulty(found.into_list()));
    }
    let value = read(table.get_ref(), &mut found);
    let list = found.into_list();
    match value {
        Some(value) if list.is_empty() => Ok(value),
        _ => Err(faulty(list)),
    }
}

const SYNTAX: &str =
    "a line is `key = value`, [table] or [[list]]; texts stand in double quotes; # begins a comment";

/// Reads a file as text, never more than [`LARGEST`] bytes of it.
pub(super) fn read(what: What, path: &Path) -> Result<String, ProfileError> {
    let unreadable = |source| ProfileError::Unreadable { what, path: path.to_owned(), source };
    let name = || path.display().to_string();
    let file = File::open(path).map_err(unreadable)?;
    let mut bytes = Vec::new();
    file.take(LARGEST + 1).read_to_end(&mut bytes).map_err(unreadable)?;
    if bytes.len() as u64 > LARGEST {
        return Err(ProfileError::TooLarge { what, name: name() });
    }
    String::from_utf8(bytes).map_err(|error| {
        let good = &error.as_bytes()[..error.utf8_error().valid_up_to()];
        let line = 1 + good.iter().filter(|byte| **byte == b'\n').count();
        ProfileError::NotText { what, name: name(), line }
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// FIPS 180-4's example message "abc" (NIST, SHA-256 example with intermediate values).
    #[test]
    fn a_fingerprint_is_sha_256() {
        let known = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
        assert_eq!(fingerprint("abc"), known);
    }
}
