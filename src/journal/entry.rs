//! Owns the form of a journal line.

use crate::session::Event;
use jiff::Timestamp;
use serde::{Deserialize, Serialize};

/// Version of the journal's form. Raised when an older program could not read a newer journal.
pub const FORMAT: u32 = 1;

/// One line of a journal.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Line {
    /// Counts from 1 without gaps.
    pub seq: u64,
    /// When, UTC.
    pub at: Timestamp,
    /// What.
    pub entry: Entry,
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
    /// The session ended in an orderly way.
    Closed {
        /// Whether a conclusion was given.
        concluded: bool,
    },
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
    /// Ways in that were open ("voice and keys", "keys").
    pub ways: String,
    /// True where a simulated technician took part: stamped on every report.
    pub simulated: bool,
}
