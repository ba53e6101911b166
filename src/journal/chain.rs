//! Owns the chain: how a line is written so that any later change of it, or of a line before it, shows.
//!
//! A line is JSON whose first members are its number and `before`, the hash of the line before it, and whose last member is
//! `hash`: SHA-256 over the bytes of the line up to that member. So a line can be checked by itself, and in its place:
//!
//! ```text
//! {"seq":7,"before":"<hash of line 6>","at":...,"entry":...,"hash":"<SHA-256 of all before this member>"}
//! ```
//!
//! The chain shows what happened by chance, and every change by somebody who does not work it out anew from there to the end.
//! Against that somebody, and against lines cut off at the end, stands the last hash where it was noted elsewhere.

use super::{Entry, Line};
use crate::session::Awaited;
use jiff::Timestamp;
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};

/// The member that ends a line, without the hash itself.
const OPENS: &[u8] = b",\"hash\":\"";
/// What stands behind the hash.
const CLOSES: &[u8] = b"\"}";
/// Length of a hash in hexadecimal digits.
const DIGITS: usize = 64;
/// What a disk writes at once, in bytes: holes left by a power failure begin and end at multiples of it. 512 is the smallest in
/// use.
const SECTOR: u64 = 512;

/// How long the end of a line is, from the hash's member on.
pub(super) const TAIL: usize = OPENS.len() + DIGITS + CLOSES.len();

/// The end of a line with this hash.
pub(super) fn tail(hash: &str) -> String {
    format!(",\"hash\":\"{hash}\"}}")
}

/// SHA-256 in hexadecimal digits.
#[must_use]
pub fn sha256(bytes: &[u8]) -> String {
    const HEXADECIMAL: &[u8; 16] = b"0123456789abcdef";
    let digit = |nibble: u8| char::from(HEXADECIMAL[usize::from(nibble)]);
    Sha256::digest(bytes).iter().flat_map(|byte| [digit(byte >> 4), digit(byte & 15)]).collect()
}

/// A chained line as it stands in the file, up to its hash.
#[derive(Serialize)]
struct Written<'a> {
    seq: u64,
    #[serde(skip_serializing_if = "Option::is_none")]
    before: Option<&'a str>,
    at: Timestamp,
    #[serde(skip_serializing_if = "Option::is_none")]
    awaited: Option<&'a Awaited>,
    #[serde(skip_serializing_if = "Option::is_none")]
    clip: Option<&'a str>,
    entry: &'a Entry,
}

/// The same, read.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Stored {
    seq: u64,
    #[serde(default)]
    before: Option<String>,
    at: Timestamp,
    #[serde(default)]
    awaited: Option<Awaited>,
    #[serde(default)]
    clip: Option<String>,
    entry: Entry,
    #[serde(rename = "hash")]
    _hash: String,
}

/// What is wrong with a line of the chain.
#[derive(Debug)]
pub(super) enum Broken {
    /// It does not end with a hash.
    NoHash,
    /// Its hash is another one.
    Changed,
    /// Its hash is right, and it is no line of this form all the same.
    NoLine(serde_json::Error),
}

/// A line that is whole by itself.
#[derive(Debug)]
pub(super) struct Whole {
    pub line: Line,
    /// The hash of the line before, as this one names it.
    pub before: Option<String>,
    /// Its own hash.
    pub hash: String,
}

/// The line with its line feed, and its hash. `before` is the hash of the line before it; the first has none.
///
/// # Errors
/// Where the line would not read back: JSON has no number that is not finite.
pub(super) fn seal(line: &Line, before: Option<&str>) -> Result<(Vec<u8>, String), serde_json::Error> {
    let Line { seq, at, awaited, clip, entry } = line;
    let (awaited, clip) = (awaited.as_ref(), clip.as_deref());
    let mut bytes = serde_json::to_vec(&Written { seq: *seq, before, at: *at, awaited, clip, entry })?;
    bytes.pop();
    let hash = sha256(&bytes);
    bytes.extend(OPENS);
    bytes.extend(hash.as_bytes());
    bytes.extend(CLOSES);
    serde_json::from_slice::<Stored>(&bytes)?;
    bytes.push(b'\n');
    Ok((bytes, hash))
}

/// The line in these bytes (without line feed), where it is as it was written.
pub(super) fn open(bytes: &[u8]) -> Result<Whole, Broken> {
    let (content, hash) = parts(bytes).ok_or(Broken::NoHash)?;
    if sha256(content).as_bytes() != hash {
        return Err(Broken::Changed);
    }
    let stored: Stored = serde_json::from_slice(bytes).map_err(Broken::NoLine)?;
    let Stored { seq, before, at, awaited, clip, entry, _hash: hash } = stored;
    Ok(Whole { line: Line { seq, at, awaited, clip, entry }, before, hash })
}

/// What the hash is made of, and the hash as it stands.
pub(super) fn parts(bytes: &[u8]) -> Option<(&[u8], &[u8])> {
    let rest = bytes.strip_suffix(CLOSES)?;
    let (front, hash) = rest.split_at_checked(rest.len().checked_sub(DIGITS)?)?;
    Some((front.strip_suffix(OPENS)?, hash))
}

/// Whether what stands behind the last whole line is what a power failure leaves of the next one: its beginning, perhaps with
/// holes of zero bytes where sectors did not reach the disk. Anything else was put there, or changed.
///
/// `offset` is where the piece begins in the file, `seq` and `before` what the next line had to begin with.
pub(super) fn is_torn(piece: &[u8], offset: u64, seq: u64, before: Option<&str>) -> bool {
    let ended = piece.strip_suffix(b"\n").unwrap_or(piece);
    let expected = match before {
        Some(before) => format!("{{\"seq\":{seq},\"before\":\"{before}\",\"at\":\""),
        None => format!("{{\"seq\":{seq},\"at\":\""),
    };
    let begins = ended.iter().zip(expected.as_bytes()).all(|(found, wanted)| *found == 0 || found == wanted);
    // A whole line with something behind it was written and synced before that came.
    let holes = holes(ended, offset);
    let is_cut =
        piece.len() == ended.len() && !ended.contains(&0) && parts(ended).is_none_or(|_| open(ended).is_ok());
    let follows_a_line = (1..ended.len()).any(|end| ended[end - 1] == b'}' && open(&ended[..end]).is_ok());
    begins && !follows_a_line && (is_cut || holes)
}

/// Whether there are zero bytes, all of them where sectors can be missing.
fn holes(piece: &[u8], offset: u64) -> bool {
    let place = |at: usize| offset + at as u64;
    let mut at = 0;
    let mut found = false;
    while at < piece.len() {
        if piece[at] != 0 {
            at += 1;
            continue;
        }
        let end = piece[at..].iter().position(|byte| *byte != 0).map_or(piece.len(), |length| at + length);
        let begins = at == 0 || place(at).is_multiple_of(SECTOR);
        let ends = end == piece.len() || place(end).is_multiple_of(SECTOR);
        if !(begins && ends) {
            return false;
        }
        (found, at) = (true, end);
    }
    found
}
