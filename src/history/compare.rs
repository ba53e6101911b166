//! Owns one part beside its last time and beside the others of its kind, and what those teach.

use super::{
    HistoryError, Store,
    fill::{identity, kind, name, time},
    store::part_of,
};
use crate::{
    profile::{CircuitKind, Profile},
    report::{self, Lesson, Record},
    verdict::LearnedReference,
};
use jiff::Timestamp;
use rusqlite::{OptionalExtension, params};
use schemars::JsonSchema;
use serde::Serialize;

/// A session of the same part, earlier.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Earlier {
    /// The journal's file.
    pub path: String,
    /// When it was begun, UTC.
    #[schemars(with = "String")]
    pub begun: Timestamp,
    /// The sentence in front of what was judged.
    pub headline: String,
}

/// One circuit beside its last time and the others of its kind. Resistances are in ohms, leads off, brought to 20 °C.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Beside {
    /// The circuit.
    pub circuit: String,
    /// Where it was read: component, harness or case.
    pub station: String,
    /// What it reads in this session.
    pub now: f64,
    /// What it read the last time.
    pub last: Option<f64>,
    /// Median of the other parts on which it was sound.
    pub median: Option<f64>,
    /// Their standard deviation; null for fewer than two.
    pub spread: Option<f64>,
    /// How many there are.
    pub parts: u32,
    /// How many of those standard deviations it is off.
    pub off: Option<f64>,
}

/// A session beside what is known.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Comparison {
    /// What tells this part from the others of its kind: serial number, vehicle, job or session.
    pub identity: String,
    /// The last session of the same part.
    pub last: Option<Earlier>,
    /// Its circuits, in the order of the profile.
    pub circuits: Vec<Beside>,
}

impl Store {
    /// What the circuits of a profile read on parts measured earlier, at 20 °C: of each part its latest session, without the part
    /// with this identity. Always to be called learned.
    ///
    /// # Errors
    /// [`HistoryError::Store`].
    pub fn learned(
        &self,
        profile: &Profile,
        without: Option<&str>,
    ) -> Result<Vec<LearnedReference>, HistoryError> {
        // With max(), SQLite takes the other columns from the row that has it.
        let mut figures = self.connection.prepare_cached(
            "SELECT circuit, station, pin, against, kind, ohms FROM figure
             WHERE sound = 1 AND session IN (
                 SELECT id FROM (SELECT id, max(begun) FROM session
                                 WHERE part = ?1 AND teaches = 1 AND identity <> ?2 GROUP BY identity))",
        )?;
        let mut rows = figures.query(params![profile.id, without.unwrap_or_default()])?;
        let kinds: Vec<(String, &CircuitKind)> =
            profile.circuits.iter().map(|circuit| (kind(&circuit.kind), &circuit.kind)).collect();
        let mut lessons = Vec::new();
        while let Some(row) = rows.next()? {
            let found = row.get_ref(4)?.as_str().map_err(rusqlite::Error::from)?;
            // Another kind than any of today's teaches nothing.
            let Some((_, kind)) = kinds.iter().find(|(name, _)| name == found) else { continue };
            let text = |at: usize| -> rusqlite::Result<String> { row.get(at) };
            lessons.push(Lesson {
                circuit: text(0)?.as_str().into(),
                station: part_of(&text(1)?),
                pin: text(2)?.as_str().into(),
                against: text(3)?.as_str().into(),
                kind: (*kind).clone(),
                ohms: row.get(5)?,
                sound: true,
            });
        }
        Ok(report::summaries(profile, lessons))
    }

    /// A session beside the last one of the same part, and beside the other parts of its kind.
    ///
    /// # Errors
    /// [`HistoryError::Store`].
    pub fn compare(&self, record: &Record) -> Result<Comparison, HistoryError> {
        let identity = identity(record);
        let last: Option<(i64, Earlier)> = self
            .connection
            .prepare_cached(
                "SELECT id, path, begun, headline FROM session
                 WHERE part = ?1 AND identity = ?2 AND begun < ?3 AND simulated = ?4 ORDER BY begun DESC LIMIT 1",
            )?
            .query_row(
                params![record.profile.id, identity, record.begun.as_millisecond(), record.simulated],
                |row| {
                    let earlier =
                        Earlier { path: row.get(1)?, begun: time(row.get(2)?), headline: row.get(3)? };
                    Ok((row.get(0)?, earlier))
                },
            )
            .optional()?;
        let learned = self.learned(&record.profile, Some(&identity))?;
        let mut circuits = Vec::new();
        for figure in report::figures(record) {
            let (circuit, station) = (figure.circuit.as_str().to_owned(), name(&figure.station));
            let before = match &last {
                Some((session, _)) => self
                    .connection
                    .prepare_cached(
                        "SELECT ohms FROM figure WHERE session = ?1 AND circuit = ?2 AND station = ?3",
                    )?
                    .query_row(params![session, circuit, station], |row| row.get(0))
                    .optional()?,
                None => None,
            };
            let reference =
                learned.iter().find(|one| one.circuit == figure.circuit && one.station == figure.station);
            let median = reference.map(|one| one.median.get());
            let spread = reference.and_then(|one| one.spread).map(|spread| spread.get());
            let off = match (median, spread) {
                (Some(median), Some(spread)) if spread > 0.0 => Some((figure.ohms - median) / spread),
                _ => None,
            };
            let (now, parts) = (figure.ohms, reference.map_or(0, |one| one.parts));
            circuits.push(Beside { circuit, station, now, last: before, median, spread, parts, off });
        }
        Ok(Comparison { identity, last: last.map(|(_, earlier)| earlier), circuits })
    }
}
