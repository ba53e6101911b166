//! Owns the table of readings as comma-separated values (RFC 4180), one row a reading, withdrawn ones included.

use super::{ReadingRemark, Record, Taken, wording};
use crate::{
    profile::{Circuit, CircuitId},
    quantity::{Ohms, Reading, Shown},
    verdict::{Finding, Saying, Station},
};
use std::{collections::HashMap, fmt::Display};

const COLUMNS: [&str; 40] = [
    "session",
    "simulated",
    "invented_part",
    "reading",
    "time_utc",
    "circuit",
    "circuit_name",
    "pin",
    "against",
    "station",
    "contact",
    "state",
    "shown",
    "value",
    "unit",
    "low",
    "high",
    "range_end",
    "way",
    "typed",
    "heard_first",
    "heard_second",
    "clip",
    "remarks",
    "withdrawn_utc",
    "withdrawn_by",
    "replaced_by",
    "verdict",
    "resistance_ohm",
    "heard_third",
    "part",
    "part_serial",
    "meter",
    "meter_serial",
    "job",
    "technician",
    "customer",
    "vehicle",
    "order",
    "mark",
];

/// All readings in the order taken. The number as shown stands in `shown`, the same in the unit itself in `value`; what
/// is not known is left empty, never 0. `verdict` and `resistance_ohm` are those of the circuit at that station, empty
/// for withdrawn readings; job, part and mark stand in every row, so that tables can be joined. Lines end with CR LF, as RFC 4180
/// asks. `bothhands judge` takes the table back: see [`crate::verdict::table`].
#[must_use]
pub fn csv(record: &Record) -> String {
    let found = Found::of(record);
    let rows = record.readings.iter().map(|taken| row(record, &found, taken));
    let head = COLUMNS.map(str::to_owned);
    std::iter::once(head).chain(rows).map(|row| row.map(|cell| quoted(&cell)).join(",") + "\r\n").collect()
}

/// Circuits and findings by name: looked up once for each reading.
struct Found<'a> {
    circuits: HashMap<&'a CircuitId, &'a Circuit>,
    findings: HashMap<(&'a CircuitId, Station), &'a Finding>,
}

impl<'a> Found<'a> {
    fn of(record: &'a Record) -> Self {
        let circuits = record.profile.circuits.iter().map(|circuit| (&circuit.id, circuit));
        let findings = record.judgement.findings.iter();
        Self {
            circuits: circuits.collect(),
            findings: findings.map(|finding| ((&finding.circuit, finding.station), finding)).collect(),
        }
    }
}

fn row(record: &Record, found: &Found<'_>, taken: &Taken) -> [String; COLUMNS.len()] {
    let circuit = found.circuits.get(&taken.circuit).copied();
    let judged = taken.withdrawn.is_none();
    let finding = found.findings.get(&(&taken.circuit, taken.station)).copied().filter(|_| judged);
    let details = &record.details;
    let known = |text: &Option<String>| maybe(text.as_deref().map(free));
    let (state, shown, low, high, range) = match taken.reading {
        Reading::Value(shown) => ("value", Some(shown), None, None, None),
        Reading::OverRange { range } => ("over-range", None, None, None, range),
        Reading::Unstable { low, high } => ("unstable", None, low, high, None),
        Reading::NotTaken => ("not-taken", None, None, None, None),
    };
    let unit = shown.or(low).or(high).or(range).map(|shown| shown.unit.symbol());
    let opinion = |at: usize| taken.intake.opinions.get(at).map(|opinion| free(&opinion.words));
    let withdrawn = taken.withdrawn.as_ref();
    [
        free(&record.session),
        record.simulated.to_string(),
        record.profile.invented.to_string(),
        taken.id.to_string(),
        taken.at.to_string(),
        free(taken.circuit.as_str()),
        maybe(circuit.map(|circuit| free(&circuit.name))),
        maybe(circuit.map(|circuit| free(circuit.pin.as_str()))),
        maybe(circuit.map(|circuit| free(circuit.against.as_str()))),
        name(&taken.station),
        name(&taken.contact),
        state.to_owned(),
        maybe(shown),
        maybe(shown.map(value)),
        maybe(unit),
        maybe(low.map(value)),
        maybe(high.map(value)),
        maybe(range.map(value)),
        name(&taken.intake.way),
        maybe(taken.intake.typed.as_deref().map(free)),
        maybe(opinion(0)),
        maybe(opinion(1)),
        maybe(taken.intake.clip.as_deref().map(free)),
        free(&taken.remarks.iter().map(remark).collect::<Vec<_>>().join("; ")),
        maybe(withdrawn.map(|how| how.at)),
        maybe(withdrawn.map(|how| name(&how.correction))),
        maybe(withdrawn.and_then(|how| how.replaced_by)),
        maybe(finding.map(|finding| name(&finding.class))),
        maybe(finding.and_then(|finding| finding.resistance).map(Ohms::get)),
        maybe(opinion(2)),
        free(&record.profile.id),
        known(&details.part_serial),
        free(&record.meter.id),
        known(&details.meter_serial),
        known(&record.job),
        known(&details.technician),
        known(&details.customer),
        known(&details.vehicle),
        known(&details.order),
        known(&record.mark),
    ]
}

fn maybe(value: Option<impl Display>) -> String {
    value.map_or(String::new(), |value| value.to_string())
}

/// The value in the unit itself, without the tail that binary fractions have: 0.0047 and not 0.004700000000000001.
fn value(shown: Shown) -> f64 {
    format!("{:.12e}", shown.value()).parse().unwrap_or(f64::NAN)
}

/// The name that a value has in journals.
fn name(value: &impl serde::Serialize) -> String {
    match serde_json::to_value(value) {
        Ok(serde_json::Value::String(name)) => name,
        _ => String::new(),
    }
}

/// Free text that a spreadsheet must not take for a formula: an apostrophe in front says so.
fn free(text: &str) -> String {
    let text = wording::plain(text);
    if text.starts_with(['=', '+', '-', '@']) { format!("'{text}") } else { text }
}

fn quoted(cell: &str) -> String {
    if cell.contains([',', '"', '\r', '\n']) || cell.trim() != cell {
        format!("\"{}\"", cell.replace('"', "\"\""))
    } else {
        cell.to_owned()
    }
}

/// A remark by its name, as all values of the table; what is a text as it stands.
fn remark(remark: &Saying<ReadingRemark>) -> String {
    match remark {
        Saying::Value(value) => name(value),
        Saying::Text(text) => text.clone(),
    }
}
