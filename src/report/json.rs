//! Owns the machine-readable form: everything in the record, profile and judgement included.

use super::{Record, Stamp};
use serde::Serialize;

/// Version of the form. Raised when a reader of the older form could misread the newer one.
pub const JSON_FORMAT: u32 = 1;

#[derive(Serialize)]
struct Document<'a> {
    kind: &'static str,
    format: u32,
    stamps: Vec<Stamp>,
    record: &'a Record,
}

/// The record as JSON, indented. Times are UTC, quantities in their base unit (ohms, degrees Celsius), numbers that a
/// display showed are text, so that 1.50 stays 1.50.
///
/// # Panics
/// Never: a record holds no map with keys that are not text, and quantities are finite.
#[must_use]
pub fn json(record: &Record) -> String {
    let document =
        Document { kind: "bothhands-record", format: JSON_FORMAT, stamps: record.stamps(), record };
    let mut text = serde_json::to_string_pretty(&document).expect("a record has text keys only");
    text.push('\n');
    text
}
