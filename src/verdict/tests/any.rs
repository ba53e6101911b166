//! Whatever is put in, something honest comes out: a refusal, or a judgement whose figures can be.

use super::fixture::*;
use crate::{
    profile::{CircuitKind, Harness, Profile, Suppression},
    quantity::*,
    report,
    verdict::{
        Cause, Contact, Evidence, Further, Leads, LearnedReference, LoadTest, Measurement, Relation, Station,
        StoredCode, VoltageDrop, judge, table,
    },
};
use proptest::{option, prelude::*, sample::select};

fn any_shown() -> impl Strategy<Value = Shown> {
    (
        any::<bool>(),
        prop_oneof![3 => 0u64..2000, 1 => 0u64..1_000_000_000_000],
        0u8..=9,
        select(vec![Prefix::Milli, Prefix::One, Prefix::One, Prefix::One, Prefix::Kilo, Prefix::Mega]),
        prop_oneof![12 => Just(Unit::Ohm), 1 => Just(Unit::Volt)],
    )
        .prop_map(|(negative, digits, places, prefix, unit)| Shown {
            number: Decimal::new(negative && digits % 16 == 0, digits, places).unwrap(),
            prefix,
            unit,
        })
}

fn any_reading() -> impl Strategy<Value = Reading> {
    prop_oneof![
        6 => any_shown().prop_map(Reading::Value),
        1 => option::of(any_shown()).prop_map(|range| Reading::OverRange { range }),
        1 => (option::of(any_shown()), option::of(any_shown()))
            .prop_map(|(low, high)| Reading::Unstable { low, high }),
        1 => Just(Reading::NotTaken),
    ]
}

fn any_circuit() -> impl Strategy<Value = String> {
    prop_oneof![12 => (0usize..12).prop_map(coil), 4 => select(vec!["wire", "bus", "ntc", "pt", "table"]).prop_map(str::to_owned),
        1 => Just("coil-z".to_owned())]
}

fn any_measurement() -> impl Strategy<Value = Measurement> {
    (
        0u32..400,
        any_circuit(),
        select(vec![Station::Component, Station::Component, Station::Harness, Station::Case]),
        any_reading(),
        select(vec![Contact::Usual, Contact::Usual, Contact::Cleaned, Contact::Wiggled]),
    )
        .prop_map(|(id, circuit, station, reading, contact)| Measurement {
            id,
            circuit: circuit.as_str().into(),
            station,
            reading,
            contact,
        })
}

fn any_temperature() -> impl Strategy<Value = Option<Interval<Celsius>>> {
    option::of(
        (-70.0..420.0f64, -5.0..100.0f64)
            .prop_map(|(low, width)| Interval { low: celsius(low), high: celsius(low + width) }),
    )
}

fn any_further() -> impl Strategy<Value = Further> {
    let pin = || select(vec!["coil-a", "coil-b", "coil-c", "16", "99"]);
    (
        proptest::collection::vec(any_shown(), 0..3),
        proptest::collection::vec((400u32..500, pin(), pin(), any_reading()), 0..2),
        proptest::collection::vec((500u32..600, any_circuit(), -1.0..30.0f64, -1.0..30.0f64), 0..2),
        proptest::collection::vec((600u32..700, any_reading(), option::of(any_circuit())), 0..2),
        proptest::collection::vec((any_circuit(), 0u32..4, -1.0..30.0f64, option::of(-0.1..3.0f64)), 0..2),
    )
        .prop_map(|(lead_repeats, relations, loads, drops, references)| Further {
            lead_repeats,
            relations: relations
                .into_iter()
                .map(|(id, from, to, reading)| Relation { id, from: from.into(), to: to.into(), reading })
                .collect(),
            loads: loads
                .into_iter()
                .map(|(id, circuit, supply, at_load)| LoadTest {
                    id,
                    circuit: circuit.as_str().into(),
                    supply: Volts::new(supply).unwrap(),
                    at_load: Volts::new(at_load).unwrap(),
                    current: None,
                    limit: None,
                })
                .collect(),
            drops: drops
                .into_iter()
                .map(|(id, reading, circuit)| VoltageDrop {
                    id,
                    joint: "joint".into(),
                    circuit: circuit.map(|circuit| circuit.as_str().into()),
                    reading,
                    current: None,
                    limit: None,
                })
                .collect(),
            references: references
                .into_iter()
                .map(|(circuit, parts, median, spread)| LearnedReference {
                    circuit: circuit.as_str().into(),
                    station: Station::Component,
                    parts,
                    median: ohms(median),
                    spread: spread.map(ohms),
                    at: celsius(20.0),
                })
                .collect(),
        })
}

fn any_evidence() -> impl Strategy<Value = Evidence> {
    (
        any_temperature(),
        any_temperature(),
        prop_oneof![any_shown().prop_map(Leads::Shown), Just(Leads::Relative), Just(Leads::Unknown)],
        proptest::collection::vec(any_measurement(), 0..20),
        proptest::collection::vec(option::of(any_circuit()), 0..2),
        any_further(),
    )
        .prop_map(|(part_temperature, meter_temperature, leads, measurements, codes, further)| {
            Evidence {
                part_temperature,
                meter_temperature,
                leads,
                measurements,
                codes: codes
                    .into_iter()
                    .map(|circuit| StoredCode {
                        text: "C1".into(),
                        circuit: circuit.map(|circuit| circuit.as_str().into()),
                    })
                    .collect(),
                further,
            }
        })
}

/// Every kind of circuit, and figures at the edge of what a profile may say.
fn everything(tolerance: f64, contact: f64, windows: bool) -> Profile {
    let mut profile = coils(12, tolerance, contact, windows.then_some((4.8, 5.6)));
    for circuit in &mut profile.circuits[6..] {
        circuit.harness = Some(Harness { conductor_mm2: 0.75, length_m: 4.0 });
        circuit.case_limit = Some(ohms(1e6));
        circuit.directly_switched = true;
        circuit.supply = Some(Volts::new(12.0).unwrap());
    }
    profile.circuits[1].suppression = Some(Suppression::Diode);
    profile.circuits[2].suppression = Some(Suppression::Resistor(ohms(560.0)));
    for (id, kind) in [
        ("wire", CircuitKind::Wire),
        ("bus", CircuitKind::DataBus),
        ("ntc", CircuitKind::Thermistor { r_ref: ohms(1e4), t_ref: celsius(25.0), b_k: 3950.0 }),
        ("pt", CircuitKind::Platinum { r0: ohms(100.0) }),
        (
            "table",
            CircuitKind::ThermistorTable {
                points: vec![(celsius(0.0), ohms(3e4)), (celsius(50.0), ohms(3e3))],
            },
        ),
    ] {
        profile.circuits.push(crate::profile::Circuit { kind, ..circuit(id, None, None) });
    }
    profile
}

proptest! {
    #![proptest_config(ProptestConfig { cases: ProptestConfig::default().cases.max(400), ..ProptestConfig::default() })]

    #[test]
    fn a_refusal_or_figures_that_can_be(
        evidence in any_evidence(),
        tolerance in select(vec![0.0, 3.0, 60.0]),
        contact in select(vec![0.0, 0.05]),
        windows: bool,
        with_meter: bool,
    ) {
        let profile = everything(tolerance, contact, windows);
        let meter = meter();
        let Ok(judgement) = judge(&profile, with_meter.then_some(&meter), &evidence) else { return Ok(()) };
        let sum: f64 = judgement.conclusion.explanations.iter().map(|e| e.certainty).sum();
        prop_assert!((sum - 1.0).abs() < 1e-9, "{sum}");
        prop_assert!(judgement.conclusion.explanations.iter().all(|e| (0.0..=1.0).contains(&e.certainty)));
        let first = &judgement.conclusion.explanations[0];
// A slip of the decimal point is settled by saying the number again: that may be as good as certain.
        let may_be_certain = matches!(first.cause, Cause::Undetermined | Cause::Measurement);
        prop_assert!(first.certainty < 0.98 || may_be_certain, "never quite certain: {first:?}");
        prop_assert!(!said(&judgement.conclusion.headline).contains('[') && judgement.conclusion.cautions.len() >= 2);
        let known = |id: &u32| evidence.measurements.iter().any(|m| m.id == *id);
        for finding in &judgement.findings {
            prop_assert!(finding.measurements.iter().all(known));
            for p in [finding.conforming, finding.details.fault_probability].into_iter().flatten() {
                prop_assert!((0.0..=1.0).contains(&p), "{finding:?}");
            }
            prop_assert!(finding.peer_score.is_none_or(|z| z.is_finite() && z >= 0.0));
            prop_assert!(finding.details.budget.iter().all(|line| line.standard.get() >= 0.0));
            prop_assert!(finding.derivation.len() >= 2);
            prop_assert!(report::budget(finding, english()).contains("expanded"));
        }
        prop_assert!(judgement.next_checks.iter().all(|check| check.gain.is_finite() && check.gain >= 0.0));
        let json = serde_json::to_string(&judgement).unwrap();
        prop_assert_eq!(serde_json::from_str::<crate::verdict::Judgement>(&json).unwrap().conclusion.headline,
            judgement.conclusion.headline.clone());
        prop_assert!(report::explain(&profile, &judgement, english()).contains(&said(&judgement.conclusion.headline)));
    }
}

proptest! {
    // Families without any order are the slowest to be judged: fewer of them.
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn units_change_nothing(values in proptest::collection::vec(4_000u64..7_000, 2..10)) {
        let profile = coils(12, 3.0, 0.05, Some((4.8, 5.6)));
        let judged = |prefix: Prefix, places: u8| {
            let mut evidence = at_20();
            for (at, value) in values.iter().enumerate() {
                evidence.measurements.push(Measurement {
                    id: u32::try_from(at).unwrap() + 1,
                    circuit: coil(at).as_str().into(),
                    station: Station::Component,
                    reading: Reading::Value(Shown {
                        number: Decimal::new(false, *value, places).unwrap(),
                        prefix,
                        unit: Unit::Ohm,
                    }),
                    contact: Contact::Usual,
                });
            }
            judge(&profile, None, &evidence).unwrap()
        };
        // 5.432 Ω, 5432 mΩ and 0.005432 kΩ.
        let one = judged(Prefix::One, 3);
        for other in [judged(Prefix::Milli, 0), judged(Prefix::Kilo, 6)] {
            for (a, b) in one.findings.iter().zip(&other.findings) {
                prop_assert_eq!(a.class, b.class);
                let apart = a.resistance.zip(b.resistance).map_or(0.0, |(a, b)| (a.get() - b.get()).abs());
                prop_assert!(apart < 1e-9);
            }
        }
    }
}

proptest! {
    #[test]
    fn no_table_panics(text in "(circuit|reading|id|station|contact|coil-a|5\\.2|,|\"|\n|OL|unstable|M|[ -~]){0,40}") {
        let _ = table::parse(&coils(3, 3.0, 0.05, None), &text);
    }
}
