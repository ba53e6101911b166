//! Owns the machine-readable form: everything in the record, profile and judgement included; and what was observed, read back from it.

use super::{Record, Stamp};
use crate::{
    quantity::{Celsius, Interval},
    verdict::{Contact, Evidence, Further, Leads, Measurement, Station, StoredCode},
};
use serde::{Deserialize, Serialize};
use serde_json::Value;

/// Version of the form. Raised when a reader of the older form could misread the newer one.
pub const JSON_FORMAT: u32 = 1;

/// What a document is called that holds a record.
const KIND: &str = "bothhands-record";

/// A measuring record of bothhands: what `bothhands report JOURNAL --as json` prints. Times are UTC (RFC 3339), quantities in their
/// base unit (ohms, volts, amperes, degrees Celsius), numbers that a display showed are text. Keys may be added: pass over those
/// that you do not know.
#[derive(Serialize, schemars::JsonSchema)]
#[schemars(title = "bothhands record")]
struct Document<'a> {
    /// Always "bothhands-record".
    kind: &'static str,
    /// Version of the form.
    format: u32,
    /// What has to be known before a figure of it is believed.
    stamps: Vec<Stamp>,
    /// The session.
    record: &'a Record,
}

/// The JSON Schema of what [`json`] gives.
#[must_use]
pub fn record_schema() -> schemars::Schema {
    schemars::generate::SchemaSettings::draft2020_12()
        .for_serialize()
        .into_generator()
        .into_root_schema_for::<Document<'static>>()
}

/// The record as JSON, indented. Times are UTC, quantities in their base unit (ohms, degrees Celsius), numbers that a
/// display showed are text, so that 1.50 stays 1.50.
///
/// # Panics
/// Never: a record holds no map with keys that are not text, and quantities are finite.
#[must_use]
pub fn json(record: &Record) -> String {
    let document = Document { kind: KIND, format: JSON_FORMAT, stamps: record.stamps(), record };
    let mut text = serde_json::to_string_pretty(&document).expect("a record has text keys only");
    text.push('\n');
    text
}

/// The parts of a record that were observed; all else in it is passed over.
#[derive(Deserialize)]
struct Read {
    leads: Vec<ReadLeads>,
    temperatures: Vec<ReadTemperature>,
    codes: Vec<StoredCode>,
    readings: Vec<ReadReading>,
    #[serde(default)]
    further: Further,
}

#[derive(Deserialize)]
struct ReadLeads {
    leads: Leads,
}

#[derive(Deserialize)]
struct ReadTemperature {
    interval: Option<Interval<Celsius>>,
}

#[derive(Deserialize)]
struct ReadReading {
    id: u32,
    circuit: crate::profile::CircuitId,
    station: Station,
    reading: crate::quantity::Reading,
    contact: Contact,
    withdrawn: Option<Value>,
}

/// What was observed, from the machine-readable form of a record; None where the text is no record. Withdrawn readings are left out.
///
/// # Errors
/// What is wrong with it, where it is a record of a form that this program does not know.
pub fn evidence_in(text: &str) -> Option<Result<Evidence, serde_json::Error>> {
    let document: Value = serde_json::from_str(text).ok()?;
    if document.get("kind")?.as_str()? != KIND {
        return None;
    }
    Some(Read::deserialize(document.get("record")?).map(Read::evidence))
}

impl Read {
    fn evidence(self) -> Evidence {
        let mut leads: Vec<Leads> = self.leads.into_iter().map(|given| given.leads).collect();
        let last = leads.pop();
        let measured = last.is_some_and(|leads| leads.shown().is_some());
        // As the session that took them counts them: all leads, and the part somewhere between the temperatures said.
        let lead_repeats = leads.iter().filter_map(|leads| leads.shown().filter(|_| measured)).collect();
        let said: Option<Vec<Interval<Celsius>>> =
            self.temperatures.into_iter().map(|said| said.interval).collect();
        let hull = |said: Vec<Interval<Celsius>>| {
            said.into_iter().reduce(|hull, next| Interval {
                low: if next.low < hull.low { next.low } else { hull.low },
                high: if next.high > hull.high { next.high } else { hull.high },
            })
        };
        let standing = self.readings.into_iter().filter(|one| one.withdrawn.is_none());
        let measurements = standing.map(|one| Measurement {
            id: one.id,
            circuit: one.circuit,
            station: one.station,
            reading: one.reading,
            contact: one.contact,
        });
        Evidence {
            part_temperature: said.and_then(hull),
            meter_temperature: None,
            leads: last.unwrap_or(Leads::Unknown),
            measurements: measurements.collect(),
            codes: self.codes,
            further: Further { lead_repeats, ..self.further },
        }
    }
}
