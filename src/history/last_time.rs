//! Owns what the last session before another one read, looked up without writing anything.

use super::{HistoryError, SCHEMA, Store, fill, store::part_of};
use crate::{
    journal::JobDetails,
    profile::CircuitId,
    quantity::Reading,
    session::{LastSession, LastTime},
    verdict::Station,
};
use jiff::{Timestamp, tz::TimeZone};
use rusqlite::{Connection, OpenFlags, OptionalExtension, params};
use std::{path::Path, time::Duration};

/// How long a session may wait for another program that writes to the store. Chosen here: nobody waits longer for an extra.
const PATIENCE: Duration = Duration::from_secs(1);

/// The session for which an earlier one is looked up.
#[derive(Debug, Clone, Copy)]
pub struct Sought<'a> {
    /// The profile's name.
    pub part: &'a str,
    /// What is known of the job.
    pub details: &'a JobDetails,
    /// What the job is called.
    pub job: Option<&'a str>,
    /// Its journal: a session is not its own last time.
    pub journal: &'a Path,
    /// When it was begun.
    pub begun: Timestamp,
    /// Whether a simulated technician takes part: sessions with and without one are kept apart.
    pub simulated: bool,
}

impl Store {
    /// Opens the store in a file to read it; nothing is made, migrated or written. None where there is none.
    ///
    /// # Errors
    /// As [`Store::open`]; a store that is older than this program's tables counts as none.
    pub fn open_to_read(path: &Path) -> Result<Option<Self>, HistoryError> {
        if !path.exists() {
            return Ok(None);
        }
        let failed = |cause| HistoryError::Open { path: path.to_owned(), cause };
        let flags = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX;
        let connection = Connection::open_with_flags(path, flags).map_err(failed)?;
        connection.busy_timeout(PATIENCE).map_err(failed)?;
        let found: u32 =
            connection.pragma_query_value(None, "user_version", |row| row.get(0)).map_err(failed)?;
        match found {
            SCHEMA => Ok(Some(Self { connection })),
            older if older < SCHEMA => Ok(None),
            newer => Err(HistoryError::Newer { path: path.to_owned(), found: newer, known: SCHEMA }),
        }
    }

    /// The last session before this one of the same part, else of the same kind, in which something was read.
    ///
    /// # Errors
    /// [`HistoryError::Store`].
    pub fn last_session(&self, sought: Sought<'_>) -> Result<Option<LastSession>, HistoryError> {
        let identity = fill::identity_of(sought.details, sought.job);
        let of_this_part = match identity {
            Some(identity) => self.newest(sought, Some(&identity))?,
            None => None,
        };
        let same_part = of_this_part.is_some();
        let found = match of_this_part {
            None => self.newest(sought, None)?,
            found => found,
        };
        let Some((session, begun)) = found else { return Ok(None) };
        let day = TimeZone::system().to_datetime(fill::time(begun)).date();
        Ok(Some(LastSession { day, same_part, readings: self.readings_at_the_end(session)? }))
    }

    /// The newest session before this one of that very part, or of any of its kind: its number, and when it was begun.
    fn newest(&self, sought: Sought<'_>, identity: Option<&str>) -> Result<Option<(i64, i64)>, HistoryError> {
        let journal = sought.journal.to_string_lossy();
        let found = self
            .connection
            .prepare_cached(
                "SELECT id, begun FROM session WHERE part = ?1 AND (?5 IS NULL OR identity = ?5) AND begun < ?2
                 AND simulated = ?3 AND path <> ?4
                 AND EXISTS (SELECT 1 FROM reading WHERE session = id AND withdrawn = 0)
                 ORDER BY begun DESC LIMIT 1",
            )?
            .query_row(
                params![sought.part, sought.begun.as_millisecond(), sought.simulated, journal, identity],
                |row| Ok((row.get(0)?, row.get(1)?)),
            )
            .optional()?;
        Ok(found)
    }

    /// What stood last for each circuit at each station.
    fn readings_at_the_end(&self, session: i64) -> Result<Vec<(CircuitId, Station, Reading)>, HistoryError> {
        let mut all = self.connection.prepare_cached(
            "SELECT circuit, station, shown FROM reading WHERE session = ?1 AND withdrawn = 0 ORDER BY number DESC",
        )?;
        let mut rows = all.query([session])?;
        let mut readings: Vec<(CircuitId, Station, Reading)> = Vec::new();
        while let Some(row) = rows.next()? {
            let circuit = CircuitId(row.get(0)?);
            let station = part_of(&row.get::<_, String>(1)?);
            // What another program wrote in another form is not guessed at.
            let Some(reading) = Reading::read(&row.get::<_, String>(2)?) else { continue };
            if !readings.iter().any(|(known, at, _)| *known == circuit && *at == station) {
                readings.push((circuit, station, reading));
            }
        }
        Ok(readings)
    }
}

/// What the history in a file has of the last time. Whatever is wrong with it is said when it is asked for, and stops nothing.
#[must_use]
pub fn last_time(path: &Path, sought: Sought<'_>) -> LastTime {
    let found = match Store::open_to_read(path) {
        Ok(None) => return LastTime::NoHistory,
        Ok(Some(store)) => store.last_session(sought),
        Err(error) => Err(error),
    };
    match found {
        Ok(Some(session)) => LastTime::Session(session),
        Ok(None) => LastTime::FirstTime,
        Err(error) => LastTime::Trouble(error.cause()),
    }
}
