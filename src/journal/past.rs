//! Owns reading: lines one after the other, each checked; a torn end set aside; anything else refused with its line.

use super::{Entry, FORMAT, Header, JournalError, Line};
use serde::Deserialize;
use std::{
    borrow::Cow,
    fs::File,
    io::{BufRead, BufReader, Read},
    path::{Path, PathBuf},
};

/// The longest line that is read, in bytes. The first line holds two whole files; nothing of ours comes near this.
pub const MAX_LINE: u64 = 16 * 1024 * 1024;

/// A journal as read.
#[derive(Debug, Clone, PartialEq)]
pub struct Past {
    /// Where it was read from.
    pub path: PathBuf,
    /// What was measured with what: the first line.
    pub header: Header,
    /// All complete lines, the first line included, numbered without gaps.
    pub lines: Vec<Line>,
    /// What follows the last complete line, where something does. It was never acknowledged.
    pub torn: Option<Torn>,
}

/// The piece of a line that was being written when the power went.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Torn {
    /// Where it begins, in bytes from the start of the file: the length of what is whole.
    pub offset: u64,
    /// The bytes as found.
    pub bytes: Vec<u8>,
    /// The side file that [`super::Journal::reopen`] saved them to.
    pub saved: Option<PathBuf>,
}

impl Torn {
    /// The bytes as text, for showing.
    #[must_use]
    pub fn text(&self) -> Cow<'_, str> {
        String::from_utf8_lossy(&self.bytes)
    }
}

/// How a session stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ending {
    /// It broke off: no closing line.
    BrokenOff,
    /// It was closed without a conclusion, to be resumed.
    Stopped,
    /// It was closed with a conclusion.
    Concluded,
}

impl Past {
    /// How the session stands.
    #[must_use]
    pub fn ending(&self) -> Ending {
        self.lines.iter().fold(Ending::BrokenOff, |ending, line| match line.entry {
            Entry::Closed { concluded: true } => Ending::Concluded,
            Entry::Closed { concluded: false } => Ending::Stopped,
            Entry::Spoken { .. } => ending,
            Entry::Opened(_) | Entry::Event(_) => Ending::BrokenOff,
        })
    }

    /// Number of the last complete line.
    #[must_use]
    pub fn last_seq(&self) -> u64 {
        self.lines.last().map_or(0, |line| line.seq)
    }

    /// Makes sure that the journal was measured with this very profile (`id` and `fingerprint` of the checked profile).
    ///
    /// # Errors
    /// [`JournalError::OtherProfile`], which names both.
    pub fn require_profile(&self, id: &str, fingerprint: &str) -> Result<(), JournalError> {
        if self.header.profile == id && self.header.profile_fingerprint == fingerprint {
            return Ok(());
        }
        let short = |text: &str| text.chars().take(12).collect();
        Err(JournalError::OtherProfile {
            path: self.path.clone(),
            theirs: self.header.profile.clone(),
            theirs_fingerprint: short(&self.header.profile_fingerprint),
            ours: id.to_owned(),
            ours_fingerprint: short(fingerprint),
        })
    }
}

/// Reads a whole journal. It may be open for writing elsewhere: a line in the making shows as torn then.
///
/// # Errors
/// [`JournalError::File`] where it cannot be read, [`JournalError::NoHead`] without a complete first line,
/// [`JournalError::Newer`] from a newer program, [`JournalError::Line`] for a damaged, missing or foreign line.
pub fn read(path: &Path) -> Result<Past, JournalError> {
    let file = File::open(path).map_err(|cause| failed_to_read(path, cause))?;
    read_from(path, BufReader::new(file))
}

/// Reads a whole journal from `source`; `path` names it in errors.
pub(super) fn read_from(path: &Path, source: impl BufRead) -> Result<Past, JournalError> {
    let mut reader = Reader::new(path, source);
    let lines = reader.by_ref().collect::<Result<Vec<_>, _>>()?;
    let Some(Line { entry: Entry::Opened(header), .. }) = lines.first() else {
        return Err(JournalError::NoHead { path: path.to_owned() });
    };
    Ok(Past { path: path.to_owned(), header: (**header).clone(), lines, torn: reader.torn })
}

fn failed_to_read(path: &Path, cause: std::io::Error) -> JournalError {
    JournalError::File { doing: "read", path: path.to_owned(), cause }
}

/// Reads lines one by one, so that a long journal need not fit into memory. Ends after the first error.
#[derive(Debug)]
pub struct Reader<R> {
    path: PathBuf,
    source: R,
    line: u64,
    offset: u64,
    torn: Option<Torn>,
    ended: bool,
}

impl<R: BufRead> Reader<R> {
    /// Reads from `source`; `path` names it in errors.
    pub fn new(path: &Path, source: R) -> Self {
        Self { path: path.to_owned(), source, line: 0, offset: 0, torn: None, ended: false }
    }

    /// The torn end, once all lines were read.
    #[must_use]
    pub fn torn(&self) -> Option<&Torn> {
        self.torn.as_ref()
    }

    fn next_line(&mut self) -> Result<Option<Line>, JournalError> {
        let mut bytes = Vec::new();
        let read = self.source.by_ref().take(MAX_LINE).read_until(b'\n', &mut bytes);
        let length = read.map_err(|cause| failed_to_read(&self.path, cause))? as u64;
        if length == 0 {
            return Ok(None);
        }
        self.line += 1;
        let whole = bytes.last() == Some(&b'\n');
        if !whole && length == MAX_LINE {
            return Err(self.refuse(format!("longer than {MAX_LINE} bytes, so no journal of this program")));
        }
        // Complete JSON without its line feed is torn as well: the line feed is written and synced with the line.
        if !whole || (bytes.contains(&0) && self.at_end()?) {
            self.torn = Some(Torn { offset: self.offset, bytes, saved: None });
            return Ok(None);
        }
        let line = self.check(&bytes)?;
        self.offset += length;
        Ok(Some(line))
    }

    /// A page that never reached the disk reads as zero bytes, which no line of ours holds. Only the last line can be
    /// affected: all before it were synced.
    fn at_end(&mut self) -> Result<bool, JournalError> {
        let rest = self.source.fill_buf().map_err(|cause| failed_to_read(&self.path, cause))?;
        Ok(rest.is_empty())
    }

    fn check(&self, bytes: &[u8]) -> Result<Line, JournalError> {
        if self.line == 1 {
            self.check_format(bytes)?;
        }
        let line: Line =
            serde_json::from_slice(bytes.trim_ascii_end()).map_err(|error| self.refuse(told(&error)))?;
        if line.seq != self.line {
            return Err(self.refuse(format!("has number {}, expected {}", line.seq, self.line)));
        }
        match (&line.entry, self.line) {
            (Entry::Opened(_), 1) => Ok(line),
            (Entry::Opened(_), _) => Err(self.refuse("a second first line".to_owned())),
            (_, 1) => Err(self.refuse("a journal begins with an \"opened\" line, this does not".to_owned())),
            _ => Ok(line),
        }
    }

    /// Looks at the format alone, so that a newer journal is called newer and not damaged.
    fn check_format(&self, bytes: &[u8]) -> Result<(), JournalError> {
        #[derive(Deserialize)]
        struct First {
            entry: Opened,
        }
        #[derive(Deserialize)]
        struct Opened {
            opened: Format,
        }
        #[derive(Deserialize)]
        struct Format {
            format: u64,
        }
        let Ok(First { entry: Opened { opened: Format { format: found } } }) = serde_json::from_slice(bytes)
        else {
            return Err(self.refuse("a journal begins with an \"opened\" line, this does not".to_owned()));
        };
        match found {
            found if found > u64::from(FORMAT) => {
                Err(JournalError::Newer { path: self.path.clone(), found, known: FORMAT })
            }
            0 => Err(self.refuse("journal format 0 does not exist".to_owned())),
            _ => Ok(()),
        }
    }

    fn refuse(&self, why: String) -> JournalError {
        JournalError::Line { path: self.path.clone(), line: self.line, why }
    }
}

/// The parser's words without its own line count, which is 1 for every line.
fn told(error: &serde_json::Error) -> String {
    let text = error.to_string();
    let what = text.split(" at line ").next().unwrap_or_default();
    format!("not a journal line ({what}, character {})", error.column())
}

impl<R: BufRead> Iterator for Reader<R> {
    type Item = Result<Line, JournalError>;

    fn next(&mut self) -> Option<Self::Item> {
        if self.ended {
            return None;
        }
        let next = self.next_line().transpose();
        self.ended = !matches!(next, Some(Ok(_)));
        next
    }
}
