//! Owns what is got out of a damaged journal: every line that is proved whole, in a new journal of its own. The old one is never touched.

use super::{
    CHAINED_SINCE, Entry, FORMAT, Header, Journal, JournalError, Line, Salvaged, chain,
    files::{make_folders, sync_folder},
    sha256,
};
use std::{
    fs, io,
    path::{Path, PathBuf},
};

/// The longest line in which one wrong byte is looked for, in bytes. Chosen here: the search takes 255 hashes for each byte.
const LONGEST_MENDED: usize = 4096;

/// What came of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Rescue {
    /// The new journal.
    pub path: PathBuf,
    /// How many lines were taken over.
    pub kept: u64,
    /// Lines in which one byte was wrong and is right again, proved by their hash; by their place in the old file, from 1.
    pub mended: Vec<u64>,
    /// Lines that are lost.
    pub lost: Vec<u64>,
    /// Bytes at the end that are no whole line.
    pub torn: u64,
    /// How many clips were taken over.
    pub clips: u64,
}

/// A line of the old file.
enum Piece {
    Sound(Box<Line>),
    Mended(Box<Line>),
    Lost,
}

/// Makes a new journal of what is sound in the one at `path`, in a folder of its own inside `folder`, with copies of the clips.
///
/// Of a chained journal each line is proved by its own hash; a line of up to 4 KB in which one byte is wrong is mended, since the
/// hash proves that too. Of an older journal, where nothing proves a line, the lines before the first damage are taken, and what
/// was said (which changes nothing) may be missing between them.
///
/// # Errors
/// [`JournalError::File`] where the old one cannot be read, [`JournalError::NoHead`] where its first line is lost: without it nobody
/// knows what was measured. What [`Journal::create_at`] and [`Journal::append`] say of the new one.
pub fn salvage(path: &Path, folder: &Path) -> Result<Rescue, JournalError> {
    let bytes =
        fs::read(path).map_err(|cause| JournalError::File { doing: "read", path: path.to_owned(), cause })?;
    let (pieces, torn) = pieces(&bytes);
    let Some(Piece::Sound(first) | Piece::Mended(first)) = pieces.first() else {
        return Err(JournalError::NoHead { path: path.to_owned() });
    };
    let Entry::Opened(header) = &first.entry else {
        return Err(JournalError::NoHead { path: path.to_owned() });
    };
    let chained = header.format >= CHAINED_SINCE;
    let header = Header { format: FORMAT, ..(**header).clone() };
    let mut journal = Journal::create_at(folder, first.at, &header)?;
    let mut rescue = Rescue {
        path: journal.path().to_owned(),
        kept: 1,
        mended: Vec::new(),
        lost: Vec::new(),
        torn,
        clips: 0,
    };
    let from = path.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
    let mark = |lost: &[u64]| {
        Entry::Salvaged(Salvaged { from: from.clone(), sha256: sha256(&bytes), lost: lost.to_vec() })
    };
    let (mut gap, mut at) = (Vec::new(), first.at);
    let mut given_up = false;
    for (number, piece) in (1..).zip(&pieces) {
        let line = match piece {
            Piece::Lost => None,
            // What came before changes what an event means; only a chained journal names the reading that it was for.
            Piece::Sound(line) | Piece::Mended(line) if !given_up => Some(line),
            Piece::Sound(_) | Piece::Mended(_) => None,
        };
        let Some(line) = line else {
            gap.push(number);
            rescue.lost.push(number);
            given_up = !chained;
            continue;
        };
        if let Piece::Mended(_) = piece {
            rescue.mended.push(number);
        }
        if number == 1 {
            continue;
        }
        if !gap.is_empty() {
            journal.append(line.at, mark(&gap))?;
            gap.clear();
        }
        journal.append_with(line.at, line.entry.clone(), line.awaited.clone(), line.clip.clone())?;
        (rescue.kept, at) = (rescue.kept + 1, line.at);
    }
    journal.append(at, mark(&gap))?;
    rescue.clips = copy_clips(path, &journal).map_err(|cause| JournalError::File {
        doing: "copy the clips to",
        path: journal.clips(),
        cause,
    })?;
    Ok(rescue)
}

/// The lines of a file, and how many bytes at its end are none.
fn pieces(bytes: &[u8]) -> (Vec<Piece>, u64) {
    let mut raw: Vec<&[u8]> = bytes.split(|byte| *byte == b'\n').collect();
    let torn = raw.pop().map_or(0, <[u8]>::len) as u64;
    let chained = raw.first().is_some_and(|first| chain::parts(first).is_some() || !is_line(first));
    let mut pieces = Vec::with_capacity(raw.len());
    for (at, line) in raw.iter().enumerate() {
        pieces.push(if chained { proved(line, raw.get(at + 1).copied()) } else { unproved(line) });
    }
    (pieces, torn)
}

fn is_line(bytes: &[u8]) -> bool {
    serde_json::from_slice::<Line>(bytes).is_ok()
}

fn unproved(bytes: &[u8]) -> Piece {
    serde_json::from_slice(bytes).map_or(Piece::Lost, |line| Piece::Sound(Box::new(line)))
}

/// A line by its own hash; else with one byte put right, proved by its hash or by the one that the next line names.
fn proved(bytes: &[u8], next: Option<&[u8]>) -> Piece {
    if let Ok(whole) = chain::open(bytes) {
        return Piece::Sound(Box::new(whole.line));
    }
    // Its own hash may be what is wrong: the next line has it too.
    if let Some(named) = next.and_then(|next| chain::open(next).ok()).and_then(|next| next.before)
        && let Some(cut) = bytes.len().checked_sub(chain::TAIL)
        && sha256(&bytes[..cut]) == named
    {
        let whole = chain::open(&[&bytes[..cut], chain::tail(&named).as_bytes()].concat());
        return whole.map_or(Piece::Lost, |whole| Piece::Mended(Box::new(whole.line)));
    }
    if bytes.len() > LONGEST_MENDED {
        return Piece::Lost;
    }
    let Some((content, hash)) = chain::parts(bytes) else { return Piece::Lost };
    let mut tried = content.to_vec();
    for at in 0..tried.len() {
        let found = tried[at];
        for bit in 1..=255u8 {
            tried[at] = found ^ bit;
            if sha256(&tried).as_bytes() == hash {
                let whole = chain::open(&[&tried[..], &bytes[content.len()..]].concat());
                return whole.map_or(Piece::Lost, |whole| Piece::Mended(Box::new(whole.line)));
            }
        }
        tried[at] = found;
    }
    Piece::Lost
}

/// Copies the clips beside the old journal to the new one.
fn copy_clips(old: &Path, journal: &Journal) -> io::Result<u64> {
    let from = old.parent().unwrap_or(Path::new(".")).join("clips");
    let to = journal.clips();
    make_folders(&to)?;
    let mut count = 0;
    let entries = match fs::read_dir(&from) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(0),
        other => other?,
    };
    for entry in entries {
        let entry = entry?;
        if entry.file_type()?.is_file() {
            fs::copy(entry.path(), to.join(entry.file_name()))?;
            count += 1;
        }
    }
    sync_folder(&to)?;
    Ok(count)
}
