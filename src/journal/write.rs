//! Owns writing: one line at a time, synced before it is acknowledged, taken back where it could not be written.

use super::{
    CHAINED_SINCE, Entry, Header, JournalError, Line, Past, Torn, chain,
    files::{make_folders, parent, sync_folder},
    folder::session_name,
    past::read_from,
};
use crate::session::Awaited;
use jiff::Timestamp;
use std::{
    fs::{self, File, OpenOptions, TryLockError},
    io::{self, BufReader, Seek, Write},
    path::{Path, PathBuf},
};

/// A journal open for writing. Locked against a second writer until dropped.
#[derive(Debug)]
pub struct Journal {
    path: PathBuf,
    tail: Tail<File>,
}

impl Journal {
    /// Opens a new journal now. See [`Journal::create_at`].
    ///
    /// # Errors
    /// As [`Journal::create_at`].
    pub fn create(folder: &Path, header: &Header) -> Result<Self, JournalError> {
        Self::create_at(folder, Timestamp::now(), header)
    }

    /// Opens a new journal in a folder of its own below `folder`, with `clips` beside it and `header` as its first line.
    /// Nothing that exists is touched: a second session of the same second gets a name with `-2` after it.
    ///
    /// # Errors
    /// [`JournalError::Folder`] where the folder cannot be made or written to, [`JournalError::ProfileName`] for a profile
    /// that cannot be part of a file name, and what [`Journal::append`] says about the first line.
    pub fn create_at(folder: &Path, at: Timestamp, header: &Header) -> Result<Self, JournalError> {
        let name = session_name(at, &header.profile)?;
        let failed = |cause| JournalError::Folder { folder: folder.to_owned(), cause };
        make_folders(folder).map_err(failed)?;
        let (session, name) = new_folder(folder, &name).map_err(failed)?;
        Self::begin(folder, &session, &name, at, header).map_err(|error| {
            remove_begun(&session, &name);
            match error {
                JournalError::NotWritten { cause, .. } => failed(cause),
                other => other,
            }
        })
    }

    fn begin(
        folder: &Path,
        session: &Path,
        name: &str,
        at: Timestamp,
        header: &Header,
    ) -> Result<Self, JournalError> {
        let failed = |cause| JournalError::Folder { folder: folder.to_owned(), cause };
        let path = session.join(format!("{name}.jsonl"));
        fs::create_dir(session.join("clips")).map_err(failed)?;
        let file = OpenOptions::new().read(true).append(true).create_new(true).open(&path).map_err(failed)?;
        lock(&file, &path)?;
        let mut journal = Self { path, tail: Tail::new(file, Place::BEGIN, header.format >= CHAINED_SINCE) };
        journal.append(at, Entry::Opened(Box::new(header.clone())))?;
        sync_folder(session).and_then(|()| sync_folder(folder)).map_err(failed)?;
        Ok(journal)
    }

    /// Opens a journal again to go on writing. A torn end is saved to a side file (named in [`Torn::saved`]) and then cut
    /// off, so that the next line follows the last complete one.
    ///
    /// # Errors
    /// [`JournalError::InUse`] while another session writes it, what [`super::read`] says about its lines, and
    /// [`JournalError::File`] where it cannot be opened for writing or mended. Nothing is changed then, except that the
    /// side file may exist.
    pub fn reopen(path: &Path) -> Result<(Self, Past), JournalError> {
        let failed = |doing| move |cause| JournalError::File { doing, path: path.to_owned(), cause };
        let file =
            OpenOptions::new().read(true).append(true).open(path).map_err(failed("open for writing"))?;
        lock(&file, path)?;
        let mut past = read_from(path, BufReader::new(&file))?;
        let length = match &mut past.torn {
            Some(torn) => mend(&file, path, torn).map_err(failed("mend the end of"))?,
            None => (&file).stream_position().map_err(failed("read"))?,
        };
        let last = past.protection.last().map(str::to_owned);
        let chained = last.is_some();
        let tail = Tail::new(file, Place { length, seq: past.last_seq(), hash: last }, chained);
        Ok((Self { path: path.to_owned(), tail }, past))
    }

    /// Writes one line and syncs it. Only after this has returned a number may the entry be acknowledged.
    ///
    /// # Errors
    /// [`JournalError::NotWritten`] (disk full): the file is as before, the same entry may be tried again.
    /// [`JournalError::NotKeepable`]: the entry holds a number that is not finite. [`JournalError::Broken`]: the disk did
    /// not confirm, or the file was changed or deleted by someone else; every later append fails too.
    pub fn append(&mut self, at: Timestamp, entry: Entry) -> Result<u64, JournalError> {
        self.append_with(at, entry, None, None)
    }

    /// The same, with the reading that was waited for and the hash of the clip that the entry names.
    ///
    /// # Errors
    /// As [`Journal::append`].
    pub fn append_with(
        &mut self,
        at: Timestamp,
        entry: Entry,
        awaited: Option<Awaited>,
        clip: Option<String>,
    ) -> Result<u64, JournalError> {
        let seq = self.tail.place.seq + 1;
        let path = || self.path.clone();
        self.tail.append(Line { seq, at, awaited, clip, entry }).map_err(|failure| match failure {
            Failure::NotKeepable(cause) => JournalError::NotKeepable { path: path(), seq, cause },
            Failure::TakenBack(cause) => JournalError::NotWritten { path: path(), seq, cause },
            Failure::Broken(why) => JournalError::Broken { path: path(), seq, why },
        })
    }

    /// The journal's file.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// The session's folder.
    #[must_use]
    pub fn folder(&self) -> PathBuf {
        parent(&self.path)
    }

    /// The folder for sound clips, beside the journal.
    #[must_use]
    pub fn clips(&self) -> PathBuf {
        self.folder().join("clips")
    }

    /// Number of the last line written.
    #[must_use]
    pub fn last_seq(&self) -> u64 {
        self.tail.place.seq
    }

    /// The hash of the last line written: it stands for the whole journal. None in a journal of the form before there were hashes.
    #[must_use]
    pub fn last_hash(&self) -> Option<&str> {
        self.tail.place.hash.as_deref()
    }
}

fn new_folder(above: &Path, name: &str) -> io::Result<(PathBuf, String)> {
    let names = std::iter::once(name.to_owned()).chain((2..=9).map(|n| format!("{name}-{n}")));
    for name in names {
        let folder = above.join(&name);
        match fs::create_dir(&folder) {
            Ok(()) => return Ok((folder, name)),
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {}
            Err(error) => return Err(error),
        }
    }
    Err(io::Error::new(io::ErrorKind::AlreadyExists, format!("ten sessions named {name} exist already")))
}

/// Tidies up after a session that could not begin. Only what it made itself, and only while nothing else is in there.
fn remove_begun(session: &Path, name: &str) {
    let _ = fs::remove_file(session.join(format!("{name}.jsonl")));
    let _ = fs::remove_dir(session.join("clips"));
    let _ = fs::remove_dir(session);
}

fn lock(file: &File, path: &Path) -> Result<(), JournalError> {
    file.try_lock().map_err(|error| match error {
        TryLockError::WouldBlock => JournalError::InUse { path: path.to_owned() },
        TryLockError::Error(cause) => JournalError::File { doing: "lock", path: path.to_owned(), cause },
    })
}

/// Saves the torn end to a side file, then cuts it off. Returns the length that is left.
fn mend(file: &File, path: &Path, torn: &mut Torn) -> io::Result<u64> {
    let mut numbers = 1..1000;
    let (side, mut copy) = loop {
        let number = numbers.next().ok_or(io::ErrorKind::AlreadyExists)?;
        let mut side = path.as_os_str().to_owned();
        side.push(format!(".torn-{number}"));
        match OpenOptions::new().write(true).create_new(true).open(&side) {
            Ok(copy) => break (PathBuf::from(side), copy),
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {}
            Err(error) => return Err(error),
        }
    };
    copy.write_all(&torn.bytes)?;
    copy.sync_all()?;
    sync_folder(&parent(path))?;
    file.set_len(torn.offset)?;
    file.sync_all()?;
    torn.saved = Some(side);
    Ok(torn.offset)
}

/// What the end of a journal needs of a file. Apart from the real file there is one for tests, which fails on demand.
trait Storage {
    /// Writes all bytes at the end; on failure some of them may be there.
    fn write(&mut self, bytes: &[u8]) -> io::Result<()>;
    /// Returns once everything written is on the disk.
    fn sync(&mut self) -> io::Result<()>;
    /// Cuts the file to this length.
    fn cut(&mut self, length: u64) -> io::Result<()>;
    /// Its length, or none once it has no name any more.
    fn length(&self) -> io::Result<Option<u64>>;
}

impl Storage for File {
    fn write(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.write_all(bytes)
    }

    fn sync(&mut self) -> io::Result<()> {
        self.sync_data()
    }

    fn cut(&mut self, length: u64) -> io::Result<()> {
        self.set_len(length)?;
        self.sync_all()
    }

    fn length(&self) -> io::Result<Option<u64>> {
        let about = self.metadata()?;
        #[cfg(unix)]
        if std::os::unix::fs::MetadataExt::nlink(&about) == 0 {
            return Ok(None);
        }
        Ok(Some(about.len()))
    }
}

#[derive(Debug)]
enum Failure {
    NotKeepable(serde_json::Error),
    TakenBack(io::Error),
    Broken(String),
}

/// How far a journal is acknowledged.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Place {
    /// Its length in bytes.
    length: u64,
    /// The number of the last line.
    seq: u64,
    /// The hash of the last line, where lines are chained.
    hash: Option<String>,
}

impl Place {
    const BEGIN: Self = Self { length: 0, seq: 0, hash: None };
}

/// The writing end: knows how far the whole part goes, and whether it can still be trusted.
#[derive(Debug)]
struct Tail<S> {
    storage: S,
    place: Place,
    chained: bool,
    broken: Option<String>,
}

impl<S: Storage> Tail<S> {
    fn new(storage: S, place: Place, chained: bool) -> Self {
        Self { storage, place, chained, broken: None }
    }

    /// Writes the line with the number after the last one.
    fn append(&mut self, line: Line) -> Result<u64, Failure> {
        if let Some(why) = &self.broken {
            return Err(Failure::Broken(why.clone()));
        }
        let (bytes, hash) = self.to_bytes(&line).map_err(Failure::NotKeepable)?;
        let length = self.place.length + bytes.len() as u64;
        if let Err(cause) = self.storage.write(&bytes) {
            return match self.storage.cut(self.place.length) {
                Ok(()) => Err(Failure::TakenBack(cause)),
                Err(cut) => Err(self.break_off(format!("{cause}; its pieces could not be cut off: {cut}"))),
            };
        }
        // After a failed sync the system may have dropped the bytes and may call the next sync a success: nothing more
        // can be promised through this file.
        if let Err(cause) = self.storage.sync() {
            let _ = self.storage.cut(self.place.length);
            return Err(self.break_off(format!("the disk did not confirm it: {cause}")));
        }
        match self.storage.length() {
            Ok(Some(found)) if found == length => {}
            Ok(None) => return Err(self.break_off("the file was deleted while in use".to_owned())),
            Ok(Some(_)) => return Err(self.break_off("the file was changed by another program".to_owned())),
            Err(cause) => return Err(self.break_off(cause.to_string())),
        }
        // Only now: what was not acknowledged is no link of the chain.
        self.place = Place { length, seq: line.seq, hash };
        Ok(line.seq)
    }

    /// One line with its line feed, made sure to be readable again, and its hash where lines are chained.
    fn to_bytes(&self, line: &Line) -> Result<(Vec<u8>, Option<String>), serde_json::Error> {
        if self.chained {
            let (bytes, hash) = chain::seal(line, self.place.hash.as_deref())?;
            return Ok((bytes, Some(hash)));
        }
        // JSON has no NaN, which would come back as an error.
        let mut bytes = serde_json::to_vec(line)?;
        serde_json::from_slice::<Line>(&bytes)?;
        bytes.push(b'\n');
        Ok((bytes, None))
    }

    fn break_off(&mut self, why: String) -> Failure {
        self.broken = Some(why.clone());
        Failure::Broken(why)
    }
}

#[cfg(test)]
mod tests;
