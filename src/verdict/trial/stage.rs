//! Owns the way from a simulated part to what the engine is given: profile, meter and evidence as a session would have.

use super::{
    structures::{Read, SIZE},
    worlds::{CONTACT, NOMINAL, SAID, Simulated, TOLERANCE, WINDOW, World, step},
};
use crate::{
    profile::{self, Meter, Profile},
    quantity::{Celsius, Decimal, Interval, Reading, Shown},
    verdict::{Contact, Evidence, Leads, Measurement, Station},
};
use std::fmt::Write as _;

/// What is known of a part of that many like circuits on one common pin; `alone`: with one more circuit on pins of its own.
pub fn profile(size: usize, window: bool, alone: bool) -> Profile {
    let mut text = "id = \"simulated\"\ntitle = \"simulated part\"\ninvented = true\nsource = \"simulated\"\n\
                    cautions = [\"Simulated.\"]\n[connector]\ntitle = \"plug\"\nseen_from = \"the pins\"\npins = [\n"
        .to_owned();
    let pins = size + 1 + if alone { 2 } else { 0 };
    for pin in 1..=pins {
        let _ = writeln!(text, "{{ pin = {pin}, row = 1, column = {pin} }},");
    }
    let _ = writeln!(
        text,
        "]\n[[gate]]\nid = \"supply-off\"\ninstruction = \"Supply off.\"\nconfirm = \"supply off\"\n\
         [[family]]\nid = \"all\"\ntitle = \"all\"\ntolerance_percent = {:.3}\ncontact_ohm = {CONTACT}\n\
         kind = \"copper-coil\"\ncase_limit_ohm = 1000000\nharness = {{ conductor_mm2 = 0.75, length_m = 4.2 }}",
        TOLERANCE * 100.0
    );
    if window {
        let (low, high) = (NOMINAL * (1.0 - WINDOW), NOMINAL * (1.0 + WINDOW));
        let _ = writeln!(
            text,
            "window = {{ low_ohm = {low:.4}, high_ohm = {high:.4}, at_c = 20, source = \"simulated\" }}"
        );
    }
    for pin in 1..=size {
        let _ = writeln!(
            text,
            "[[circuit]]\nid = \"circuit-{pin}\"\nname = \"circuit {pin}\"\npin = {pin}\nagainst = {}\nfamily = \"all\"",
            size + 1
        );
    }
    if alone {
        let _ = writeln!(
            text,
            "[[circuit]]\nid = \"alone\"\nname = \"lone circuit\"\npin = {}\nagainst = {}\nkind = \"copper-coil\"\n\
             window = {{ low_ohm = 22.5, high_ohm = 25.5, at_c = 20, source = \"simulated\" }}",
            size + 2,
            size + 3
        );
    }
    profile::parse("simulated", &text).unwrap_or_else(|error| panic!("the trial's own profile: {error}"))
}

/// The meter of that world.
pub fn meter(world: World) -> Meter {
    let (percent, digits) = if world.cheap { (1.0, 1) } else { (0.3, 20) };
    let (counts, step) = if world.cheap { (2000, 0.1) } else { (60_000, 0.001) };
    let mut text = format!(
        "id = \"simulated\"\ntitle = \"simulated meter\"\ninvented = true\nsource = \"simulated\"\n\
         category = \"CAT III 600 V\"\ncounts = {counts}\naccurate_from_c = 0\naccurate_to_c = 50\ndrift_per_k = 0.05\n"
    );
    for range in 0..4 {
        let step = step * 10f64.powi(range);
        let full = step * f64::from(counts - 1);
        let _ = writeln!(
            text,
            "[[resistance]]\nfull_scale_ohm = {full:.4}\nresolution_ohm = {step}\npercent = {percent:.1}\ndigits = {digits}"
        );
    }
    profile::parse_meter("simulated", &text).unwrap_or_else(|error| panic!("the trial's own meter: {error}"))
}

fn shown(value: f64, step: f64) -> Shown {
    let places = if step < 0.01 { 3u8 } else { 1 };
    let digits = (value * 10f64.powi(i32::from(places))).round() as u64;
    Shown::ohms(Decimal::new(false, digits, places).expect("a few hundred ohms at most"))
}

fn reading(value: f64, step: f64) -> Reading {
    if value.is_infinite() { Reading::OverRange { range: None } } else { Reading::Value(shown(value, step)) }
}

fn temperature(by: f64) -> Option<Interval<Celsius>> {
    let celsius = |value| Celsius::new(value).expect("finite");
    Interval::new(celsius(SAID - by), celsius(SAID + by))
}

/// What was observed at a part of a family.
pub fn evidence(world: World, part: &Simulated, profile: &Profile) -> Evidence {
    let step = step(world);
    let measurements = part
        .shown
        .iter()
        .zip(&profile.circuits)
        .zip(1u32..)
        .map(|((value, circuit), id)| Measurement {
            id,
            circuit: circuit.id.clone(),
            station: Station::Component,
            reading: reading(*value, step),
            contact: Contact::Usual,
        })
        .collect();
    Evidence {
        part_temperature: temperature(world.temperature_by),
        leads: Leads::Shown(shown(part.leads, step)),
        measurements,
        ..Evidence::none()
    }
}

/// What was observed at a part whose fault lies in its structure.
pub fn evidence_of_structure(world: World, read: &Read, profile: &Profile) -> Evidence {
    let step = step(world);
    let component =
        read.component.iter().enumerate().map(|(at, value)| (at, *value, Station::Component, false));
    let case = read.case.iter().enumerate().map(|(at, value)| (at, *value, Station::Case, false));
    let harness = read.harness.iter().map(|(at, value, cleaned)| (*at, *value, Station::Harness, *cleaned));
    let measurements = component
        .chain(case.filter(|(at, ..)| *at < SIZE))
        .chain(harness)
        .zip(1u32..)
        .map(|((at, value, station, cleaned), id)| Measurement {
            id,
            circuit: profile.circuits[at].id.clone(),
            station,
            reading: reading(value, step),
            contact: if cleaned { Contact::Cleaned } else { Contact::Usual },
        })
        .collect();
    let mut evidence = Evidence {
        part_temperature: temperature(world.temperature_by),
        leads: Leads::Shown(shown(read.leads, step)),
        measurements,
        ..Evidence::none()
    };
    evidence.further.lead_repeats = read.leads_again.map(|value| shown(value, step)).into_iter().collect();
    evidence
}
