//! Owns the store's file: its tables by version, opened, migrated, made anew.

use super::HistoryError;
use crate::verdict::Station;
use rusqlite::Connection;
use std::{
    fs, io,
    path::{Path, PathBuf},
    time::Duration,
};

/// What makes each version of the tables from the one before. A step that was released is never changed; a new one is added.
const STEPS: [&str; 1] = [include_str!("schema-1.sql")];

/// The version of the tables that this program makes, as it stands in SQLite's `user_version`.
pub const SCHEMA: u32 = STEPS.len() as u32;

/// How long to wait for another program that writes to the same store. Chosen here.
const PATIENCE: Duration = Duration::from_secs(10);

/// The store.
#[derive(Debug)]
pub struct Store {
    pub(super) connection: Connection,
}

impl Store {
    /// Opens the store in a file, made where there is none, brought to [`SCHEMA`] where it is older.
    ///
    /// # Errors
    /// [`HistoryError::Open`] where it is no store or cannot be made, [`HistoryError::Newer`] where a newer program made it.
    pub fn open(path: &Path) -> Result<Self, HistoryError> {
        let failed = |cause| HistoryError::Open { path: path.to_owned(), cause };
        let connection = Connection::open(path).map_err(failed)?;
        Self::of(connection, path)
    }

    /// A store in memory, for as long as it lives.
    ///
    /// # Errors
    /// As [`Store::open`].
    pub fn in_memory() -> Result<Self, HistoryError> {
        let path = Path::new(":memory:");
        let failed = |cause| HistoryError::Open { path: path.to_owned(), cause };
        Self::of(Connection::open_in_memory().map_err(failed)?, path)
    }

    /// Throws the store in a file away, so that [`Store::open`] makes it anew.
    ///
    /// # Errors
    /// [`HistoryError::Remove`].
    pub fn remove(path: &Path) -> Result<(), HistoryError> {
        for ending in ["", "-wal", "-shm"] {
            let mut file = path.as_os_str().to_owned();
            file.push(ending);
            let file = PathBuf::from(file);
            match fs::remove_file(&file) {
                Err(cause) if cause.kind() != io::ErrorKind::NotFound => {
                    return Err(HistoryError::Remove { path: file, cause });
                }
                _ => {}
            }
        }
        Ok(())
    }

    fn of(mut connection: Connection, path: &Path) -> Result<Self, HistoryError> {
        let failed = |cause| HistoryError::Open { path: path.to_owned(), cause };
        connection.busy_timeout(PATIENCE).map_err(failed)?;
        // The answer is the mode that is in force: in memory there is none of this.
        connection
            .query_row("PRAGMA journal_mode = WAL", [], |row| row.get::<_, String>(0))
            .map_err(failed)?;
        connection.pragma_update(None, "synchronous", "NORMAL").map_err(failed)?;
        connection.pragma_update(None, "foreign_keys", true).map_err(failed)?;
        let migration =
            connection.transaction_with_behavior(rusqlite::TransactionBehavior::Immediate).map_err(failed)?;
        let found: u32 =
            migration.pragma_query_value(None, "user_version", |row| row.get(0)).map_err(failed)?;
        if found > SCHEMA {
            return Err(HistoryError::Newer { path: path.to_owned(), found, known: SCHEMA });
        }
        for (version, step) in (1..).zip(STEPS).skip(found as usize) {
            migration.execute_batch(step).map_err(failed)?;
            migration.pragma_update(None, "user_version", version).map_err(failed)?;
        }
        migration.commit().map_err(failed)?;
        Ok(Self { connection })
    }
}

/// The station that has a name in the store.
pub(super) fn part_of(name: &str) -> Station {
    match name {
        "harness" => Station::Harness,
        "case" => Station::Case,
        _ => Station::Component,
    }
}
