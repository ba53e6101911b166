//! Owns how journals come into the store: those that are new or changed are read, those that are gone are taken out.

use super::{HistoryError, Store};
use crate::{
    journal::{self, Ending, JobDetails},
    quantity::{Reading, Unit},
    report::{self, Record},
    words::Words,
};
use jiff::Timestamp;
use rusqlite::{Transaction, params};
use serde::Serialize;
use std::{
    collections::HashMap,
    fs,
    path::{Path, PathBuf},
    time::UNIX_EPOCH,
};

/// What came of a look at the journals.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Refreshed {
    /// How many were read, being new or changed.
    pub read: usize,
    /// How many are gone and were taken out.
    pub gone: usize,
    /// Those that cannot be read, with the reason: they are missing in the history.
    pub unreadable: Vec<(PathBuf, String)>,
}

/// What tells whether a file changed: its size in bytes, and when it was written, in nanoseconds since 1970.
type Stamp = (i64, i64);

impl Store {
    /// Brings the store up to date with the journals in a folder. `record_of` makes the record of a journal; what it refuses is
    /// listed as unreadable, and looked at again when the file changes. The sentence in front is kept in these words.
    ///
    /// # Errors
    /// [`HistoryError::Store`], [`HistoryError::Journals`]; the store is as before then.
    pub fn refresh(
        &mut self,
        folder: &Path,
        record_of: &dyn Fn(&Path) -> Result<Record, String>,
        words: &Words,
    ) -> Result<Refreshed, HistoryError> {
        let mut known = self.stamps("session")?;
        let mut refused = self.stamps("unreadable")?;
        let transaction = self.connection.transaction()?;
        let mut found = Refreshed::default();
        for path in journal::sessions(folder)? {
            let name = path.to_string_lossy().into_owned();
            // Gone since the folder was listed: then it is gone for us too.
            let Some(stamp) = stamp(&path) else { continue };
            if known.remove(&name) == Some(stamp) || refused.remove(&name) == Some(stamp) {
                continue;
            }
            transaction.execute("DELETE FROM session WHERE path = ?1", [&name])?;
            transaction.execute("DELETE FROM unreadable WHERE path = ?1", [&name])?;
            match record_of(&path) {
                Ok(record) => {
                    insert(&transaction, &name, stamp, &record, words)?;
                    found.read += 1;
                }
                Err(why) => {
                    transaction.execute(
                        "INSERT INTO unreadable (path, size, modified, why) VALUES (?1, ?2, ?3, ?4)",
                        params![name, stamp.0, stamp.1, why],
                    )?;
                }
            }
        }
        // Only what lay in this folder: a store may be asked about several.
        let inside = |name: &&String| Path::new(name).starts_with(folder);
        for name in known.keys().filter(inside) {
            if stamp(Path::new(name)).is_none() {
                found.gone += transaction.execute("DELETE FROM session WHERE path = ?1", [name])?;
            }
        }
        for name in refused.keys().filter(inside) {
            if stamp(Path::new(name)).is_none() {
                transaction.execute("DELETE FROM unreadable WHERE path = ?1", [name])?;
            }
        }
        transaction.commit()?;
        let mut all = self.connection.prepare_cached("SELECT path, why FROM unreadable ORDER BY path")?;
        let rows = all.query_map([], |row| Ok((PathBuf::from(row.get::<_, String>(0)?), row.get(1)?)))?;
        found.unreadable = rows.collect::<Result<_, _>>()?;
        Ok(found)
    }

    fn stamps(&self, table: &str) -> Result<HashMap<String, Stamp>, HistoryError> {
        let mut all = self.connection.prepare(&format!("SELECT path, size, modified FROM {table}"))?;
        let rows = all.query_map([], |row| Ok((row.get(0)?, (row.get(1)?, row.get(2)?))))?;
        Ok(rows.collect::<Result<_, _>>()?)
    }
}

fn stamp(path: &Path) -> Option<Stamp> {
    let about = fs::metadata(path).ok()?;
    let since = about.modified().ok()?.duration_since(UNIX_EPOCH).unwrap_or_default();
    Some((i64::try_from(about.len()).ok()?, i64::try_from(since.as_nanos()).unwrap_or(i64::MAX)))
}

/// What tells one part from another of its kind.
pub(super) fn identity(record: &Record) -> String {
    identity_of(&record.details, record.job.as_deref())
        .unwrap_or_else(|| format!("session {}", record.session))
}

/// The same, where anything of the job tells it.
pub(super) fn identity_of(details: &JobDetails, job: Option<&str>) -> Option<String> {
    let plain =
        |text: Option<&str>| text.map(|text| text.trim().to_lowercase()).filter(|text| !text.is_empty());
    let serial = plain(details.part_serial.as_deref()).map(|text| format!("serial {text}"));
    let vehicle = || plain(details.vehicle.as_deref()).map(|text| format!("vehicle {text}"));
    let job = || plain(job).map(|text| format!("job {text}"));
    serial.or_else(vehicle).or_else(job)
}

fn insert(
    transaction: &Transaction<'_>,
    path: &str,
    stamp: Stamp,
    record: &Record,
    words: &Words,
) -> Result<(), HistoryError> {
    let details = &record.details;
    let ending = match record.ending {
        Ending::BrokenOff => "broken-off",
        Ending::Stopped => "stopped",
        Ending::Concluded => "concluded",
    };
    let headline = headline(record, words);
    let mut insert = transaction.prepare_cached(
        "INSERT INTO session (path, size, modified, name, mark, part, title, part_serial, meter, meter_serial, job, technician,
         customer, vehicle, order_number, begun, ended, ending, simulated, teaches, headline, engine, engine_version, identity,
         searched) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15, ?16, ?17, ?18, ?19, ?20, ?21, ?22,
         ?23, ?24, ?25)",
    )?;
    insert.execute(params![
        path,
        stamp.0,
        stamp.1,
        record.session,
        record.mark,
        record.profile.id,
        record.profile.title,
        details.part_serial,
        record.meter.id,
        details.meter_serial,
        record.job,
        details.technician,
        details.customer,
        details.vehicle,
        details.order,
        record.begun.as_millisecond(),
        record.ended.as_millisecond(),
        ending,
        record.simulated,
        report::teaches(record),
        headline,
        record.judged.engine.name,
        record.judged.engine.version,
        identity(record),
        searched(record, &headline, words),
    ])?;
    let session = transaction.last_insert_rowid();
    let mut insert = transaction.prepare_cached(
        "INSERT INTO reading (session, number, at, circuit, station, contact, shown, ohms, withdrawn)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9)",
    )?;
    for taken in &record.readings {
        let ohms = match taken.reading {
            Reading::Value(shown) if shown.unit == Unit::Ohm => Some(shown.value()),
            _ => None,
        };
        insert.execute(params![
            session,
            taken.id,
            taken.at.as_millisecond(),
            taken.circuit.as_str(),
            name(&taken.station),
            name(&taken.contact),
            taken.reading.to_string(),
            ohms,
            taken.withdrawn.is_some(),
        ])?;
    }
    let mut insert = transaction.prepare_cached(
        "INSERT OR REPLACE INTO figure (session, circuit, station, pin, against, kind, ohms, sound)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)",
    )?;
    for figure in report::figures(record) {
        insert.execute(params![
            session,
            figure.circuit.as_str(),
            name(&figure.station),
            figure.pin.as_str(),
            figure.against.as_str(),
            kind(&figure.kind),
            figure.ohms,
            figure.sound,
        ])?;
    }
    Ok(())
}

/// The sentence in front of what was judged then.
fn headline(record: &Record, words: &Words) -> String {
    let kept = record.judged.kept.as_ref().and_then(|kept| kept.headline.as_ref());
    words.text(kept.unwrap_or(&record.judgement.conclusion.headline))
}

fn searched(record: &Record, headline: &str, words: &Words) -> String {
    let notes: Vec<String> = record.notes.iter().map(|note| words.text(&note.text)).collect();
    let details = &record.details;
    let optional = [
        &record.job,
        &details.technician,
        &details.customer,
        &details.vehicle,
        &details.order,
        &details.part_serial,
        &details.meter_serial,
        &record.mark,
    ];
    let profile = &record.profile;
    let mut texts: Vec<&str> =
        vec![&record.session, &profile.id, &profile.title, &record.meter.id, &record.meter.title, headline];
    texts.extend(optional.into_iter().flatten().map(String::as_str));
    texts.extend(record.codes.iter().map(|code| code.text.as_str()));
    texts.extend(notes.iter().map(String::as_str));
    texts.extend(profile.circuits.iter().map(|circuit| circuit.name.as_str()));
    texts.join("\n").to_lowercase()
}

/// The name that a value has in journals.
pub(super) fn name(value: &impl Serialize) -> String {
    match serde_json::to_value(value) {
        Ok(serde_json::Value::String(name)) => name,
        _ => String::new(),
    }
}

/// The kind of a circuit, to be compared.
pub(super) fn kind(kind: &crate::profile::CircuitKind) -> String {
    serde_json::to_string(kind).unwrap_or_default()
}

/// A time as it is stored.
pub(super) fn time(milliseconds: i64) -> Timestamp {
    Timestamp::from_millisecond(milliseconds).unwrap_or(Timestamp::UNIX_EPOCH)
}
