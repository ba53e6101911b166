//! Owns the form of a journal line.

use crate::{
    session::{Awaited, Event},
    verdict::Engine,
};
use jiff::Timestamp;
use serde::{Deserialize, Serialize};

/// Version of the journal's form. Raised when an older program could not read a newer journal. Since 2 the lines are chained.
pub const FORMAT: u32 = 2;
/// The first form whose lines are chained: see [`super::Protection`].
pub const CHAINED_SINCE: u32 = 2;

/// One line of a journal.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Line {
    /// Counts from 1 without gaps.
    pub seq: u64,
    /// When, UTC, by the system's clock.
    pub at: Timestamp,
    /// The reading that was waited for when it came in: an event is filed by this, whatever engine reads it later. None where
    /// none was waited for, and in journals of form 1.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub awaited: Option<Awaited>,
    /// SHA-256 of the sound clip that the event names, in hexadecimal. None where there is no clip, or it could not be read then.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub clip: Option<String>,
    /// What.
    pub entry: Entry,
}

impl Line {
    /// A line about no circuit and with no clip.
    #[must_use]
    pub fn new(seq: u64, at: Timestamp, entry: Entry) -> Self {
        Self { seq, at, awaited: None, clip: None, entry }
    }
}

/// What a line records.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Entry {
    /// First line: what is measured with what. Holds the texts of profile and meter, so that a journal is whole by itself.
    Opened(Box<Header>),
    /// Something happened that may change the state.
    Event(Event),
    /// Something was said aloud and shown. Changes nothing.
    Spoken {
        /// The words.
        text: String,
        /// The same as a value, whatever the language. None in journals that were written before there were values. Kept as data:
        /// it tells what was said, and decides nothing.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        message: Option<serde_json::Value>,
    },
    /// The session was concluded: what was judged then, and by what.
    Judged(Box<Judged>),
    /// This journal was made of what is sound in another one; written where something is lost, and at the end.
    Salvaged(Salvaged),
    /// Sound was taken away on purpose afterwards.
    Forgotten {
        /// The file names of the clips that are gone.
        clips: Vec<String>,
    },
    /// The session ended in an orderly way.
    Closed {
        /// Whether a conclusion was given.
        concluded: bool,
    },
}

impl Entry {
    /// The file name of the sound clip that it names.
    #[must_use]
    pub fn clip(&self) -> Option<&str> {
        match self {
            Self::Event(Event::Heard(hearing)) => hearing.clip.as_deref(),
            _ => None,
        }
    }
}

/// The head of a journal.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Header {
    /// [`FORMAT`] of the program that wrote it.
    pub format: u32,
    /// Version of the program that wrote it.
    pub program: String,
    /// Name of the profile.
    pub profile: String,
    /// SHA-256 of the profile's text.
    pub profile_fingerprint: String,
    /// The profile as read.
    pub profile_text: String,
    /// Name of the meter.
    pub meter: String,
    /// SHA-256 of the meter file's text.
    pub meter_fingerprint: String,
    /// The meter file as read.
    pub meter_text: String,
    /// What the person called this job (order number, vehicle), free text.
    pub job: Option<String>,
    /// What else is known of the job.
    #[serde(default, skip_serializing_if = "JobDetails::is_empty")]
    pub details: JobDetails,
    /// The time zone of the place (IANA name such as `Europe/Vienna`, or a fixed offset such as `+01`), to show local times by.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub zone: Option<String>,
    /// Ways in that were open ("voice and keys", "keys").
    pub ways: String,
    /// True where a simulated technician took part: stamped on every report.
    pub simulated: bool,
}

/// What is known of a job beside its name. All of it free text as the person gave it; nothing is worked out from it.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct JobDetails {
    /// Who measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub technician: Option<String>,
    /// The customer.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub customer: Option<String>,
    /// The vehicle: number plate, fleet number or identification number.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub vehicle: Option<String>,
    /// The order.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub order: Option<String>,
    /// Serial number of the part.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub part_serial: Option<String>,
    /// Serial number of the meter.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub meter_serial: Option<String>,
    /// When the meter was calibrated last.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Option<String>")]
    pub meter_calibrated: Option<jiff::civil::Date>,
}

impl JobDetails {
    /// Whether nothing is known.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }
}

/// What was judged when a session was concluded. Kept as data in the form of the engine that judged: another engine may not
/// know that form any more, and what it made of the readings stands all the same.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Judged {
    /// Which engine judged.
    pub engine: Engine,
    /// Its judgement.
    pub judgement: serde_json::Value,
}

/// What became of another journal when this one was made of it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Salvaged {
    /// File name of the other journal.
    pub from: String,
    /// SHA-256 of that whole file, as it was found.
    pub sha256: String,
    /// Lines that are lost here, by their place in that file, counted from 1. Empty in the entry at the end.
    pub lost: Vec<u64>,
}
