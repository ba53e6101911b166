//! Owns the way from a simulated part to what the engine is given: profile, meter and evidence as a session would have.

use super::model::{Setting, Simulated};
use crate::{
    profile::{Circuit, CircuitKind, Connector, DropLimits, Family, Meter, Profile, Range, Window},
    quantity::{Celsius, Decimal, Interval, Ohms, Reading, Shown, Unit},
    verdict::{Contact, Evidence, Leads, Measurement, Station},
};

/// A finite number as a quantity.
fn ohms(value: f64) -> Ohms {
    Ohms::new(value).expect("the trial's numbers are finite")
}

fn celsius(value: f64) -> Celsius {
    Celsius::new(value).expect("the trial's numbers are finite")
}

/// What is known of a part of that setting.
pub fn profile(setting: &Setting) -> Profile {
    let part = setting.part;
    let circuits = (0..setting.size)
        .map(|at| Circuit {
            id: format!("circuit-{at}").as_str().into(),
            name: format!("circuit {at}"),
            kind: CircuitKind::CopperCoil,
            pin: format!("{at}").as_str().into(),
            against: "common".into(),
            family: Some("all".into()),
            window: Some(Window {
                low: ohms(part.nominal * (1.0 - part.window)),
                high: ohms(part.nominal * (1.0 + part.window)),
                at: celsius(20.0),
                source: "simulated".into(),
            }),
            suppression: None,
            case_limit: None,
            never_ohmmeter: None,
            directly_switched: false,
            supply: None,
            harness: None,
            at_control: None,
            drop_limits: DropLimits::default(),
        })
        .collect();
    Profile {
        id: "simulated".into(),
        title: "simulated part".into(),
        invented: true,
        source: "simulated".into(),
        connector: Connector { title: String::new(), seen_from: String::new(), pins: Vec::new() },
        families: vec![Family {
            id: "all".into(),
            title: "all".into(),
            tolerance_percent: part.member * 100.0,
            contact: ohms(setting.contact),
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

/// The meter of that setting.
pub fn meter(setting: &Setting) -> Meter {
    let kind = setting.meter;
    let range = |full_scale, factor| Range {
        unit: Unit::Ohm,
        full_scale,
        resolution: kind.resolution * factor,
        percent: kind.percent,
        digits: kind.digits,
    };
    Meter {
        id: kind.name.into(),
        title: kind.name.into(),
        invented: true,
        source: "simulated".into(),
        category: String::new(),
        ranges: vec![range(100.0, 1.0), range(10_000.0, 10.0)],
        accurate_from: celsius(-40.0),
        accurate_to: celsius(80.0),
        drift_per_k: 0.0,
        fingerprint: String::new(),
    }
}

fn shown(value: f64, step: f64) -> Shown {
    let places = if step < 0.05 { 2u8 } else { u8::from(step < 0.5) };
    let digits = (value * 10f64.powi(i32::from(places))).round().max(0.0) as u64;
    Shown::ohms(Decimal::new(false, digits, places).expect("a few thousand ohms at most"))
}

/// What was observed at a part.
pub fn evidence(part: &Simulated, profile: &Profile) -> Evidence {
    let setting = &part.setting;
    let by = setting.temperature_by;
    let measurements = part
        .shown
        .iter()
        .zip(&profile.circuits)
        .zip(1u32..)
        .map(|((value, circuit), id)| Measurement {
            id,
            circuit: circuit.id.clone(),
            station: Station::Component,
            reading: Reading::Value(shown(*value, setting.step(*value))),
            contact: Contact::Usual,
        })
        .collect();
    Evidence {
        part_temperature: Interval::new(
            celsius(part.said_temperature - by),
            celsius(part.said_temperature + by),
        ),
        leads: Leads::Shown(shown(part.leads_shown, setting.step(part.leads_shown))),
        measurements,
        ..Evidence::none()
    }
}
