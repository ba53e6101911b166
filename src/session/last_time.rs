//! Owns what an earlier session read at the circuit that is waited for: looked up once, before the session begins, and only said.

use super::{message::Info, state::State, step::Session};
use crate::{profile::CircuitId, quantity::Reading, verdict::Station};
use jiff::civil::Date;

/// What the history has of earlier sessions. Nothing of it is measured or judged.
#[derive(Debug, Clone, PartialEq, Default)]
pub enum LastTime {
    /// No history was made yet.
    #[default]
    NoHistory,
    /// The history cannot be used, and why.
    Trouble(String),
    /// It has no earlier session of this part, or of one of its kind.
    FirstTime,
    /// The last session before this one.
    Session(LastSession),
}

/// The last session before this one in which something was read.
#[derive(Debug, Clone, PartialEq)]
pub struct LastSession {
    /// The day on which it was begun.
    pub day: Date,
    /// Whether it is known to have been at this very part: by its serial number, else the vehicle, else the job.
    pub same_part: bool,
    /// What stood at its end for each circuit at each station.
    pub readings: Vec<(CircuitId, Station, Reading)>,
}

impl Session {
    /// What was read the last time at the circuit that is waited for; once all is read, at the one read last.
    pub(super) fn last_time(&self, state: &State) -> Info {
        let last = || state.standing().last().and_then(|taken| state.plan.get(taken.task));
        let Some(task) = state.current().or_else(last) else { return Info::NoPinIsWaiting };
        let circuit = self.called(state, &self.circuit(task).id);
        let found = match &*self.last_time {
            LastTime::NoHistory => return Info::NoHistory,
            LastTime::Trouble(why) => return Info::HistoryTrouble { why: why.clone() },
            LastTime::FirstTime => return Info::FirstTime,
            LastTime::Session(found) => found,
        };
        let (year, month, day) =
            (found.day.year().to_string(), found.day.month() as u8, found.day.day() as u8);
        let same_part = found.same_part;
        let at =
            |one: &&(CircuitId, Station, Reading)| one.0 == self.circuit(task).id && one.1 == task.station;
        match found.readings.iter().find(at) {
            Some((.., reading)) => Info::LastTime { circuit, reading: *reading, year, month, day, same_part },
            None => Info::NotReadLastTime { circuit, year, month, day, same_part },
        }
    }
}
