//! An invented part and meter, and short ways to write evidence.

use crate::{
    profile::*,
    quantity::*,
    verdict::{Contact, Evidence, Leads, Measurement, Station},
    words::Words,
};
use std::sync::LazyLock;

/// The words, read once.
pub fn english() -> &'static Words {
    static ENGLISH: LazyLock<Words> = LazyLock::new(Words::english);
    &ENGLISH
}

/// What a value says in English.
pub fn said<T: serde::Serialize>(value: &T) -> String {
    english().text(value)
}

pub fn ohms(value: f64) -> Ohms {
    Ohms::new(value).unwrap()
}

pub fn celsius(value: f64) -> Celsius {
    Celsius::new(value).unwrap()
}

/// "5.2", "4.7 k", "ol", "-", "5.1~5.9".
pub fn reading(text: &str) -> Reading {
    match text {
        "ol" => Reading::OverRange { range: None },
        "-" => Reading::NotTaken,
        "~" => Reading::Unstable { low: None, high: None },
        _ => match text.split_once('~') {
            Some((low, high)) => Reading::Unstable { low: Some(shown(low)), high: Some(shown(high)) },
            None => Reading::Value(shown(text)),
        },
    }
}

pub fn shown(text: &str) -> Shown {
    let (number, prefix) = match text.strip_suffix(" k") {
        Some(number) => (number, Prefix::Kilo),
        None => (text, Prefix::One),
    };
    Shown { number: number.parse().unwrap(), prefix, unit: Unit::Ohm }
}

pub fn circuit(id: &str, family: Option<&str>, window: Option<(f64, f64)>) -> Circuit {
    Circuit {
        id: id.into(),
        name: id.replace('-', " "),
        kind: CircuitKind::CopperCoil,
        pin: id.into(),
        against: "16".into(),
        family: family.map(Into::into),
        window: window.map(|(low, high)| Window {
            low: ohms(low),
            high: ohms(high),
            at: celsius(20.0),
            source: "invented".into(),
        }),
        suppression: None,
        case_limit: None,
        never_ohmmeter: None,
        directly_switched: false,
        supply: None,
        harness: None,
        at_control: None,
        drop_limits: DropLimits::default(),
    }
}

/// A family of `count` coils named `coil-a` and on.
pub fn coils(count: usize, tolerance_percent: f64, contact: f64, window: Option<(f64, f64)>) -> Profile {
    let circuits: Vec<Circuit> = (0..count).map(|at| circuit(&coil(at), Some("coils"), window)).collect();
    let mut pins: Vec<Pin> = circuits
        .iter()
        .enumerate()
        .map(|(at, circuit)| Pin {
            name: circuit.pin.clone(),
            row: 1,
            column: u8::try_from(at + 1).unwrap(),
            label: None,
        })
        .collect();
    pins.push(Pin { name: "16".into(), row: 2, column: 1, label: None });
    Profile {
        id: "test-part".into(),
        title: "invented part".into(),
        invented: true,
        source: "invented".into(),
        connector: Connector { title: "connector".into(), seen_from: "the pins".into(), pins },
        families: vec![Family {
            id: "coils".into(),
            title: "coils".into(),
            tolerance_percent,
            contact: ohms(contact),
        }],
        circuits,
        gates: Vec::new(),
        cautions: Vec::new(),
        harness_gates: Vec::new(),
        case_gates: Vec::new(),
        codes: Vec::new(),
        drop_limits: DropLimits::default(),
        families_from_readings: false,
        further_checks: Vec::new(),
        fingerprint: String::new(),
    }
}

pub fn coil(at: usize) -> String {
    let letter = u8::try_from(at % 26).unwrap() + b'a';
    let round = if at < 26 { String::new() } else { (at / 26).to_string() };
    format!("coil-{}{round}", letter as char)
}

/// The invented valve block in short: eight coils of 5.2 Ω, a proportional coil, two sensors.
pub fn block() -> Profile {
    let mut profile = coils(8, 3.0, 0.05, Some((4.8, 5.6)));
    for (id, window) in [
        ("pressure-coil", (22.0, 26.0)),
        ("speed-sensor-1", (270.0, 330.0)),
        ("speed-sensor-2", (270.0, 330.0)),
    ] {
        profile.circuits.push(circuit(id, None, Some(window)));
        profile.connector.pins.push(Pin { name: id.into(), row: 2, column: 2, label: None });
    }
    profile
}

pub fn meter() -> Meter {
    let range = |full_scale, resolution, percent, digits| Range {
        unit: Unit::Ohm,
        full_scale,
        resolution,
        percent,
        digits,
    };
    Meter {
        id: "test-meter".into(),
        title: "invented meter".into(),
        invented: true,
        source: "invented".into(),
        category: "CAT III 600 V".into(),
        ranges: vec![
            range(60.0, 0.01, 0.3, 2.0),
            range(600.0, 0.1, 0.3, 2.0),
            range(6000.0, 1.0, 0.3, 2.0),
            range(6e7, 1e4, 2.0, 5.0),
        ],
        accurate_from: celsius(18.0),
        accurate_to: celsius(28.0),
        drift_per_k: 0.1,
        fingerprint: String::new(),
    }
}

pub fn at_20() -> Evidence {
    Evidence {
        part_temperature: Some(Interval::exactly(celsius(20.0))),
        leads: Leads::Shown(shown("0.20")),
        ..Evidence::none()
    }
}

/// Adds one reading at the part; its number is one more than the last.
pub fn add(evidence: &mut Evidence, circuit: &str, contact: Contact, text: &str) {
    add_at(evidence, circuit, Station::Component, contact, text);
}

pub fn add_at(evidence: &mut Evidence, circuit: &str, station: Station, contact: Contact, text: &str) {
    let id = evidence.measurements.iter().map(|m| m.id).max().unwrap_or(0) + 1;
    evidence.measurements.push(Measurement {
        id,
        circuit: circuit.into(),
        station,
        reading: reading(text),
        contact,
    });
}

/// Usual readings of `coil-a` and on.
pub fn coils_read(evidence: &mut Evidence, texts: &[&str]) {
    for (at, text) in texts.iter().enumerate() {
        add(evidence, &coil(at), Contact::Usual, text);
    }
}
