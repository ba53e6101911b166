//! Owns reading: lines one after the other, each checked; a torn end set aside; anything else refused with its line.

use super::{
    CHAINED_SINCE, Entry, FORMAT, Header, JournalError, Judged, Line,
    chain::{self, Broken},
};
use jiff::Timestamp;
use serde::Deserialize;
use std::{
    borrow::Cow,
    fs::File,
    io::{BufRead, BufReader, Read, Seek, SeekFrom},
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
    /// Whether a change of it would have shown.
    pub protection: Protection,
}

/// Whether the lines of a journal are chained by hashes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Protection {
    /// They are not: it was begun by an older program. A changed digit would not show.
    None,
    /// They are, and every line is as it was written.
    Chained {
        /// The hash of the last line: it stands for the whole journal. Whoever noted it elsewhere can tell any other journal from it.
        last: String,
    },
}

impl Protection {
    /// The hash of the last line, where there is one.
    #[must_use]
    pub fn last(&self) -> Option<&str> {
        match self {
            Self::None => None,
            Self::Chained { last } => Some(last),
        }
    }
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
        self.lines.iter().rev().find_map(|line| ending_by(&line.entry)).unwrap_or(Ending::BrokenOff)
    }

    /// What was judged when the session was concluded last, and when. None where it was not, or by an older program.
    #[must_use]
    pub fn judged(&self) -> Option<(Timestamp, &Judged)> {
        self.lines.iter().rev().find_map(|line| match &line.entry {
            Entry::Judged(judged) => Some((line.at, &**judged)),
            _ => None,
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

/// How a session stands that ends with this line; None where the line says nothing of it.
fn ending_by(entry: &Entry) -> Option<Ending> {
    match entry {
        Entry::Closed { concluded: true } => Some(Ending::Concluded),
        Entry::Closed { concluded: false } => Some(Ending::Stopped),
        Entry::Spoken { .. } | Entry::Forgotten { .. } | Entry::Salvaged(_) => None,
        Entry::Opened(_) | Entry::Event(_) | Entry::Judged(_) => Some(Ending::BrokenOff),
    }
}

/// How much of a journal's end is looked at, in bytes, to see how the session stands: a closing line and a few more.
const GLANCE: u64 = 4096;

/// How a session stands, by its last lines alone.
///
/// # Errors
/// [`JournalError::File`] where it cannot be read; [`JournalError::Line`] with line 0 where its end does not tell: [`read`] says then
/// what is the matter.
pub fn glance(path: &Path) -> Result<Ending, JournalError> {
    let failed = |cause| failed_to_read(path, cause);
    let mut file = File::open(path).map_err(failed)?;
    let length = file.metadata().map_err(failed)?.len();
    file.seek(SeekFrom::Start(length.saturating_sub(GLANCE))).map_err(failed)?;
    let mut end = Vec::new();
    file.take(GLANCE).read_to_end(&mut end).map_err(failed)?;
    // The first piece may be the rest of a line.
    let lines = end.split_inclusive(|byte| *byte == b'\n').skip(1);
    let lines: Vec<&[u8]> = lines.collect();
    for bytes in lines.iter().rev() {
        let Some(bytes) = bytes.strip_suffix(b"\n") else { break };
        let entry = match chain::open(bytes) {
            Ok(whole) => whole.line.entry,
            // Of the form before there was a chain.
            Err(Broken::NoHash) => match serde_json::from_slice::<Line>(bytes) {
                Ok(line) => line.entry,
                Err(_) => break,
            },
            Err(_) => break,
        };
        if let Some(ending) = ending_by(&entry) {
            return Ok(ending);
        }
    }
    Err(JournalError::Line {
        path: path.to_owned(),
        line: 0,
        why: "its end does not tell how it stands".to_owned(),
    })
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
    let protection = reader.last.map_or(Protection::None, |last| Protection::Chained { last });
    Ok(Past { path: path.to_owned(), header: (**header).clone(), lines, torn: reader.torn, protection })
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
    /// The form that the first line names.
    format: u64,
    /// The hash of the last line read, in a chained journal.
    last: Option<String>,
}

impl<R: BufRead> Reader<R> {
    /// Reads from `source`; `path` names it in errors.
    pub fn new(path: &Path, source: R) -> Self {
        Self {
            path: path.to_owned(),
            source,
            line: 0,
            offset: 0,
            torn: None,
            ended: false,
            format: 0,
            last: None,
        }
    }

    /// The torn end, once all lines were read.
    #[must_use]
    pub fn torn(&self) -> Option<&Torn> {
        self.torn.as_ref()
    }

    /// The hash of the last line read, in a chained journal.
    #[must_use]
    pub fn last_hash(&self) -> Option<&str> {
        self.last.as_deref()
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
        if (!whole || bytes.contains(&0)) && self.at_end()? {
            if self.is_chained() && !chain::is_torn(&bytes, self.offset, self.line, self.last.as_deref()) {
                return Err(self.refuse(TORN_OTHERWISE.to_owned()));
            }
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

    /// Whether the lines are chained. Before the first line it is not known: what is torn there has no form yet.
    fn is_chained(&self) -> bool {
        self.format >= u64::from(CHAINED_SINCE)
    }

    fn check(&mut self, bytes: &[u8]) -> Result<Line, JournalError> {
        if self.line == 1 {
            self.format = self.check_format(bytes)?;
        }
        let line = if self.is_chained() {
            self.chained(bytes.strip_suffix(b"\n").unwrap_or(bytes))?
        } else {
            serde_json::from_slice(bytes.trim_ascii_end()).map_err(|error| self.refuse(told(&error)))?
        };
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

    /// A line of the chain: whole by itself, and the next one after the line before.
    fn chained(&mut self, bytes: &[u8]) -> Result<Line, JournalError> {
        let whole = chain::open(bytes).map_err(|broken| {
            self.refuse(match broken {
                Broken::NoHash => {
                    "it does not end with its hash: something was changed or is missing".to_owned()
                }
                Broken::Changed => "it is not as it was written: its hash is another one".to_owned(),
                Broken::NoLine(error) => told(&error),
            })
        })?;
        if whole.line.seq == self.line && whole.before != self.last {
            return Err(self.refuse("the line before it is not the one that it was written after".to_owned()));
        }
        self.last = Some(whole.hash);
        Ok(whole.line)
    }

    /// Looks at the format alone, so that a newer journal is called newer and not damaged.
    fn check_format(&self, bytes: &[u8]) -> Result<u64, JournalError> {
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
            found => Ok(found),
        }
    }

    fn refuse(&self, why: String) -> JournalError {
        JournalError::Line { path: self.path.clone(), line: self.line, why }
    }
}

/// Said of an end that no power failure leaves.
const TORN_OTHERWISE: &str = "what stands here is not the beginning of the next line: it was changed or put there, not cut off \
                              by a power failure";

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
