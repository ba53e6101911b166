//! Owns the table of readings as comma-separated values (RFC 4180), one row a reading, withdrawn ones included.

use super::{Record, Taken, wording};
use crate::quantity::{Ohms, Reading, Shown};
use std::fmt::Display;

const COLUMNS: [&str; 29] = [
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
];

/// All readings in the order taken. The number as shown stands in `shown`, the same in the unit itself in `value`; what
/// is not known is left empty, never 0. `verdict` and `resistance_ohm` are those of the circuit at that station, empty
/// for withdrawn readings. Lines end with CR LF, as RFC 4180 asks.
#[must_use]
pub fn csv(record: &Record) -> String {
    let rows = record.readings.iter().map(|taken| row(record, taken));
    let head = COLUMNS.map(str::to_owned);
    std::iter::once(head).chain(rows).map(|row| row.map(|cell| quoted(&cell)).join(",") + "\r\n").collect()
}

fn row(record: &Record, taken: &Taken) -> [String; COLUMNS.len()] {
    let circuit = record.profile.circuit(&taken.circuit);
    let judged = taken.withdrawn.is_none();
    let finding = record.judgement.finding(&taken.circuit, taken.station).filter(|_| judged);
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
        free(&wording::circuit_name(&record.profile, &taken.circuit)),
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
        free(&taken.remarks.join("; ")),
        maybe(withdrawn.map(|how| how.at)),
        maybe(withdrawn.map(|how| name(&how.correction))),
        maybe(withdrawn.and_then(|how| how.replaced_by)),
        maybe(finding.map(|finding| name(&finding.class))),
        maybe(finding.and_then(|finding| finding.resistance).map(Ohms::get)),
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
