//! How long a judgement takes: one of a 40-circuit part with all its words, and classes alone for batches.
//!
//! `cargo bench --no-default-features --bench verdict`. Throughput is in readings.

use bothhands::{
    profile::{Circuit, CircuitKind, Connector, DropLimits, Family, Profile, Window},
    quantity::{Celsius, Interval, Ohms, Reading, Shown},
    verdict::{Contact, Evidence, Leads, Measurement, Station, classes, judge},
};
use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use std::hint::black_box;

const CIRCUITS: u32 = 40;

/// An invented part: 40 coils in `families` families, each circuit with a window.
fn profile(families: u32) -> Profile {
    let ohms = |value| Ohms::new(value).expect("finite");
    Profile {
        id: "bench".into(),
        title: "invented part".into(),
        invented: true,
        source: "invented".into(),
        connector: Connector { title: String::new(), seen_from: String::new(), pins: Vec::new() },
        families: (0..families)
            .map(|at| Family {
                id: format!("family-{at}").as_str().into(),
                title: format!("family {at}"),
                tolerance_percent: 3.0,
                contact: ohms(0.05),
            })
            .collect(),
        circuits: (0..CIRCUITS)
            .map(|at| Circuit {
                id: format!("coil-{at}").as_str().into(),
                name: format!("coil {at}"),
                kind: CircuitKind::CopperCoil,
                pin: format!("{at}").as_str().into(),
                against: "common".into(),
                family: Some(format!("family-{}", at * families / CIRCUITS).as_str().into()),
                window: Some(Window {
                    low: ohms(4.8),
                    high: ohms(5.6),
                    at: Celsius::new(20.0).expect("finite"),
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
            })
            .collect(),
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

/// One reading of each circuit, one of them off.
fn evidence() -> Evidence {
    let reading = |at: u32| {
        let text = if at == 7 { "3.31".to_owned() } else { format!("5.{}", 30 + (at * 7) % 19) };
        Reading::Value(Shown::ohms(text.parse().expect("a decimal")))
    };
    let celsius = |value| Celsius::new(value).expect("finite");
    Evidence {
        part_temperature: Interval::new(celsius(15.0), celsius(25.0)),
        leads: Leads::Shown(Shown::ohms("0.20".parse().expect("a decimal"))),
        measurements: (0..CIRCUITS)
            .map(|at| Measurement {
                id: at + 1,
                circuit: format!("coil-{at}").as_str().into(),
                station: Station::Component,
                reading: reading(at),
                contact: Contact::Usual,
            })
            .collect(),
        ..Evidence::none()
    }
}

fn bench(criterion: &mut Criterion) {
    let evidence = evidence();
    let mut group = criterion.benchmark_group("40 circuits");
    group.throughput(Throughput::Elements(u64::from(CIRCUITS)));
    for families in [5, 1] {
        let profile = profile(families);
        group.bench_function(format!("judgement with words, families: {families}"), |bencher| {
            bencher.iter(|| judge(black_box(&profile), None, black_box(&evidence)));
        });
        group.bench_function(format!("classes alone, families: {families}"), |bencher| {
            bencher.iter(|| classes(black_box(&profile), None, black_box(&evidence)));
        });
    }
    group.finish();
}

criterion_group!(benches, bench);
criterion_main!(benches);
