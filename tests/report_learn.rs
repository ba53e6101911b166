//! What earlier sessions teach, and which of them teach nothing.

mod report_sample;

use bothhands::{
    journal::Ending,
    quantity::{Celsius, Interval, Ohms},
    report::{Record, learn},
    verdict::{Class, LearnedReference, Station},
};
use report_sample::{profile, record};

/// An earlier session on a part of its own, at a temperature, with what coil A read.
fn session(job: &str, begun: &str, celsius: f64, coil_a: f64) -> Record {
    let mut record = record();
    record.simulated = false;
    record.job = Some(job.to_owned());
    record.begun = begun.parse().unwrap();
    record.temperatures[0].interval = Some(Interval::exactly(Celsius::new(celsius).unwrap()));
    record.judgement.findings[0].resistance = Some(Ohms::new(coil_a).unwrap());
    record
}

fn three() -> Vec<Record> {
    vec![
        session("1", "2026-01-01T08:00:00Z", 20.0, 5.0),
        session("2", "2026-01-02T08:00:00Z", 20.0, 5.2),
        session("3", "2026-01-03T08:00:00Z", 20.0, 5.7),
    ]
}

fn coil_a(learned: &[LearnedReference]) -> &LearnedReference {
    learned.iter().find(|one| one.circuit.as_str() == "coil-a").expect("coil A was learned")
}

#[test]
fn median_and_spread_are_over_parts() {
    let learned = learn(&profile(), &three());
    let coil = coil_a(&learned);
    assert_eq!((coil.parts, coil.station, coil.at.get()), (3, Station::Component, 20.0));
    assert!((coil.median.get() - 5.2).abs() < 1e-9);
    // Mean 5.3; squares 0.09 + 0.01 + 0.16 = 0.26; over n - 1 = 2: 0.13.
    assert!((coil.spread.unwrap().get() - 0.13f64.sqrt()).abs() < 1e-9);
    let order: Vec<_> = learned.iter().map(|one| one.circuit.as_str()).collect();
    assert_eq!(order, ["coil-a", "coil-b", "coil-d", "coil-e", "coil-g", "coil-h", "pressure"]);
}

#[test]
fn one_part_has_no_spread_and_copper_is_brought_to_20_degrees() {
    let learned = learn(&profile(), &[session("1", "2026-01-01T08:00:00Z", 70.0, 6.09)]);
    let coil = coil_a(&learned);
    assert_eq!((coil.parts, coil.spread), (1, None));
    // (234.5 + 20) / (234.5 + 70) = 0.83580 (copper, IEC 60028).
    assert!((coil.median.get() - 6.09 * 254.5 / 304.5).abs() < 0.01, "{}", coil.median);
}

#[test]
fn the_same_part_counts_once_and_its_latest_session_is_taken() {
    let mut earlier = three();
    earlier.push(session(" 1 ", "2026-01-09T08:00:00Z", 20.0, 5.4));
    let learned = learn(&profile(), &earlier);
    let coil = coil_a(&learned);
    assert_eq!(coil.parts, 3);
    assert!((coil.median.get() - 5.4).abs() < 1e-9, "{}", coil.median);
}

#[test]
fn what_is_simulated_unfinished_doubtful_or_changed_teaches_nothing() {
    type Change = fn(&mut Record);
    let changes: [(&str, Change); 7] = [
        ("simulated", |record| record.simulated = true),
        ("broken off", |record| record.ending = Ending::BrokenOff),
        ("doubtful", |record| record.judgement.findings[0].class = Class::WithinDoubtful),
        ("not judged, with a fault on the part", |record| {
            record.judgement.findings[0].class = Class::NotJudged
        }),
        ("other pin", |record| record.profile.circuits[0].pin = "15".into()),
        ("no temperature", |record| record.temperatures.clear()),
        ("other profile", |record| record.profile.id = "other".to_owned()),
    ];
    for (name, change) in changes {
        let mut earlier = three();
        change(&mut earlier[2]);
        assert_eq!(coil_a(&learn(&profile(), &earlier)).parts, 2, "{name}");
    }
    assert!(learn(&profile(), &[]).is_empty());
}
