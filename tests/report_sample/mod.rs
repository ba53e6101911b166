//! A session made by hand: a part that does not exist, one open coil, one close to the limit, a correction, a break.

use bothhands::{
    journal::{Ending, JobDetails},
    profile::{
        Circuit, CircuitId, CircuitKind, Connector, DropLimits, Family, Gate, Harness, Meter, Pin, Profile,
        Range, Window,
    },
    quantity::{Amperes, Celsius, Interval, Ohms, Prefix, Reading, Shown, Unit, Volts},
    report::{
        Basis, Confirmation, Correction, Intake, JudgedBy, LeadZero, Note, PartTemperature, Record, Taken,
        Way, Withdrawal,
    },
    session::Opinion,
    verdict::{
        About, Advice, Cause, CheckAction, Class, Conclusion, Contact, Contribution, Details, Engine,
        EvaluationKind, Explanation, Finding, Further, Hypothesis, IfWrong, Judgement, Leads,
        LearnedReference, Level, LoadTest, NextCheck, Observed, Pattern, PatternKind, Reason, Relation,
        Station, Step, StoredCode, VoltageDrop, Weighed,
    },
};
use jiff::{Timestamp, ToSpan, tz};

fn ohms(value: f64) -> Ohms {
    Ohms::new(value).unwrap()
}

fn celsius(value: f64) -> Celsius {
    Celsius::new(value).unwrap()
}

fn shown(text: &str) -> Shown {
    Shown::ohms(text.parse().unwrap())
}

fn at(seconds: i64) -> Timestamp {
    "2026-11-25T16:12:00Z".parse::<Timestamp>().unwrap() + seconds.seconds()
}

fn spoken(words: &str, clip: u32) -> Intake {
    let opinion = |by: &str| Opinion {
        by: by.to_owned(),
        words: words.to_owned(),
        margin: Some(0.31),
        support: Some(0.31),
    };
    Intake {
        way: Way::Voice,
        typed: None,
        opinions: vec![opinion("phrases"), opinion("words")],
        clip: Some(format!("{clip:06}.wav")),
    }
}

fn typed(text: &str) -> Intake {
    Intake { way: Way::Keys, typed: Some(text.to_owned()), ..Intake::default() }
}

fn circuit(id: &str, name: &str, kind: CircuitKind, pin: &str, against: &str) -> Circuit {
    Circuit {
        id: id.into(),
        name: name.to_owned(),
        kind,
        pin: pin.into(),
        against: against.into(),
        family: None,
        window: None,
        suppression: None,
        case_limit: Some(ohms(1e6)),
        never_ohmmeter: None,
        directly_switched: false,
        supply: None,
        harness: None,
        at_control: None,
        drop_limits: DropLimits::default(),
    }
}

fn window(low: f64, high: f64) -> Option<Window> {
    Some(Window { low: ohms(low), high: ohms(high), at: celsius(20.0), source: "invented".to_owned() })
}

pub fn profile() -> Profile {
    let coils = ('A'..='H').zip(1..).map(|(letter, pin)| Circuit {
        family: Some("coils".into()),
        window: window(4.8, 5.6),
        harness: Some(Harness { conductor_mm2: 1.0, length_m: 4.0 }),
        ..circuit(
            &format!("coil-{}", letter.to_ascii_lowercase()),
            &format!("coil {letter}"),
            CircuitKind::CopperCoil,
            &pin.to_string(),
            "16",
        )
    });
    let others = [
        Circuit {
            window: window(22.0, 26.0),
            ..circuit("pressure", "pressure coil", CircuitKind::CopperCoil, "9", "10")
        },
        Circuit {
            window: window(210.0, 290.0),
            ..circuit("speed-in", "brush speed sensor", CircuitKind::CopperCoil, "11", "12")
        },
        Circuit {
            window: window(210.0, 290.0),
            ..circuit("speed-out", "fan speed sensor", CircuitKind::CopperCoil, "13", "14")
        },
    ];
    let pins = (1u8..=16).map(|number| Pin {
        name: number.to_string().as_str().into(),
        row: 1 + (number - 1) / 8,
        column: 1 + (number - 1) % 8,
        label: (number == 16).then(|| "coil supply".to_owned()),
    });
    let gate = |id: &str, instruction: &str, confirm: &str| Gate {
        id: id.to_owned(),
        instruction: instruction.to_owned(),
        confirm: confirm.to_owned(),
        wait_minutes: None,
    };
    Profile {
        id: "sweeper-valve-block".to_owned(),
        title: "Valve block of a street sweeper".to_owned(),
        invented: true,
        source: "Invented for examples and tests".to_owned(),
        connector: Connector {
            title: "16-pin connector".to_owned(),
            seen_from: "looking into the pins of the part".to_owned(),
            pins: pins.collect(),
        },
        families: vec![Family {
            id: "coils".into(),
            title: "coils A to H".to_owned(),
            tolerance_percent: 5.0,
            contact: ohms(0.05),
        }],
        circuits: coils.chain(others).collect(),
        gates: vec![
            gate("supply", "Key off and battery switch off, then wait five minutes.", "supply off"),
            gate("apart", "Unplug the connector of the valve block.", "connector apart"),
            gate("sockets", "Meter on ohms, leads in common and ohms.", "leads in ohms"),
        ],
        cautions: vec![
            "The hydraulic accumulator holds pressure with the engine off.".to_owned(),
            "No ohmmeter on airbag circuits.".to_owned(),
        ],
        harness_gates: Vec::new(),
        case_gates: Vec::new(),
        codes: Vec::new(),
        drop_limits: DropLimits::default(),
        families_from_readings: false,
        further_checks: vec!["Valve movement by hand pump.".to_owned()],
        fingerprint: "5eed".repeat(16),
    }
}

pub fn meter() -> Meter {
    let range = |full_scale: f64, resolution: f64| Range {
        unit: Unit::Ohm,
        full_scale,
        resolution,
        percent: 0.5,
        digits: 3.0,
    };
    Meter {
        id: "pocket".to_owned(),
        title: "Pocket multimeter".to_owned(),
        invented: true,
        source: "Invented for examples and tests".to_owned(),
        category: "CAT III 600 V".to_owned(),
        ranges: vec![range(60.0, 0.01), range(600.0, 0.1), range(6000.0, 1.0), range(6e7, 1e4)],
        accurate_from: celsius(18.0),
        accurate_to: celsius(28.0),
        drift_per_k: 0.1,
        fingerprint: "feed".repeat(16),
    }
}

fn taken(id: u32, seconds: i64, circuit: &str, reading: Reading, intake: Intake) -> Taken {
    Taken {
        id,
        seq: u64::from(id) + 20,
        at: at(seconds),
        circuit: circuit.into(),
        station: Station::Component,
        reading,
        contact: Contact::Usual,
        intake,
        remarks: Vec::new(),
        withdrawn: None,
    }
}

fn readings() -> Vec<Taken> {
    let value = |text: &str| Reading::Value(shown(text));
    let over = Reading::OverRange { range: Some(shown("60.00")) };
    let mut doubted = spoken("nine point three five", 12);
    doubted.opinions[1].words = "five point three five".to_owned();
    vec![
        taken(1, 140, "coil-a", value("5.38"), spoken("five point three eight", 7)),
        taken(2, 152, "coil-b", value("5.35"), spoken("five point three five", 8)),
        taken(3, 165, "coil-c", over, spoken("over range", 9)),
        taken(4, 178, "coil-d", value("5.41"), spoken("five point four one", 11)),
        Taken {
            withdrawn: Some(Withdrawal {
                at: at(199),
                correction: Correction::Wrong,
                replaced_by: Some(6),
                intake: spoken("wrong five point three five", 13),
            }),
            ..taken(5, 191, "coil-e", value("9.35"), doubted)
        },
        taken(6, 199, "coil-e", value("5.35"), spoken("wrong five point three five", 13)),
        taken(7, 214, "coil-f", value("5.63"), spoken("five point six three", 15)),
        taken(8, 226, "coil-g", value("5.37"), typed("5.37")),
        taken(9, 238, "coil-h", value("5.40"), typed("5.40")),
        taken(10, 251, "pressure", value("24.31"), spoken("twenty four point three one", 18)),
        Taken {
            remarks: vec!["would not settle, wire held still".into()],
            ..taken(
                11,
                280,
                "speed-in",
                Reading::Unstable { low: Some(shown("231.0")), high: Some(shown("262.4")) },
                spoken("unstable", 20),
            )
        },
        Taken { contact: Contact::Cleaned, ..taken(12, 330, "coil-c", over, spoken("over range", 22)) },
        Taken {
            station: Station::Case,
            ..taken(
                13,
                352,
                "coil-a",
                Reading::Value(Shown {
                    number: "32.40".parse().unwrap(),
                    prefix: Prefix::Mega,
                    unit: Unit::Ohm,
                }),
                typed("32.40 M"),
            )
        },
        Taken {
            remarks: vec!["first circuit again, to see whether leads or contact moved".into()],
            ..taken(14, 375, "coil-a", value("5.39"), spoken("five point three nine", 25))
        },
    ]
}

fn finding(circuit: &str, class: Class, resistance: Option<f64>, measurements: &[u32]) -> Finding {
    let derivation = resistance.map_or(Vec::new(), |value| {
        vec![
            Step {
                what: "leads off".into(),
                how: format!("{:.2} Ω − 0.18 Ω = {value:.2} Ω", value + 0.18).into(),
            },
            Step {
                what: "limits at 21 °C".into(),
                how: "4.80 Ω × (234.5 + 21) / (234.5 + 20) = 4.82 Ω".into(),
            },
        ]
    });
    Finding {
        circuit: circuit.into(),
        station: Station::Component,
        class,
        confirmed: false,
        resistance: resistance.map(ohms),
        uncertainty: resistance.map(|value| ohms(0.05 + value * 0.006)),
        limits: None,
        conforming: None,
        peer_score: None,
        measurements: measurements.to_vec(),
        derivation,
        details: Details::default(),
    }
}

fn contribution(source: &str, kind: EvaluationKind, how: &str, standard: f64) -> Contribution {
    Contribution { source: source.into(), kind, how: how.into(), standard: ohms(standard), shared: false }
}

fn further() -> Further {
    Further {
        lead_repeats: vec![shown("0.19"), shown("0.18")],
        relations: vec![Relation {
            id: 15,
            from: "3".into(),
            to: "4".into(),
            reading: Reading::OverRange { range: None },
        }],
        loads: vec![LoadTest {
            id: 16,
            circuit: "coil-c".into(),
            supply: Volts::new(24.6).unwrap(),
            at_load: Volts::new(24.31).unwrap(),
            current: Some(Amperes::new(0.9).unwrap()),
            limit: None,
        }],
        drops: vec![VoltageDrop {
            id: 17,
            joint: "earth stud to battery minus".to_owned(),
            circuit: None,
            reading: Reading::Value(Shown {
                number: "42".parse().unwrap(),
                prefix: Prefix::Milli,
                unit: Unit::Volt,
            }),
            current: None,
            limit: Some(Volts::new(0.2).unwrap()),
        }],
        references: vec![LearnedReference {
            circuit: "coil-c".into(),
            station: Station::Component,
            parts: 3,
            median: ohms(5.21),
            spread: Some(ohms(0.06)),
            at: celsius(20.0),
        }],
    }
}

fn judgement() -> Judgement {
    let limits = |low: f64, high: f64| Interval::new(ohms(low), ohms(high));
    let coil = |letter: &str, class, resistance, measurements: &[u32]| Finding {
        limits: limits(4.82, 5.62),
        ..finding(&format!("coil-{letter}"), class, resistance, measurements)
    };
    let findings = vec![
        coil("a", Class::Within, Some(5.20), &[1, 14]),
        Finding {
            station: Station::Case,
            uncertainty: Some(ohms(4.0e5)),
            derivation: Vec::new(),
            ..finding("coil-a", Class::NotJudged, Some(3.24e7), &[13])
        },
        coil("b", Class::Within, Some(5.17), &[2]),
        Finding { confirmed: true, ..coil("c", Class::Open, None, &[3, 12]) },
        coil("d", Class::Within, Some(5.23), &[4]),
        coil("e", Class::Within, Some(5.17), &[6]),
        Finding {
            conforming: Some(0.981),
            peer_score: Some(2.9),
            details: Details {
                budget: vec![
                    contribution("meter", EvaluationKind::B, "rectangular, half-width 0.058 Ω", 0.033),
                    contribution("contact", EvaluationKind::B, "rectangular, half-width 0.05 Ω", 0.029),
                ],
                conforming_between: Interval::new(0.91, 0.995),
                peer_limit: Some(3.7),
                peers_expect: Some(ohms(5.196)),
                cross_checks: vec!["Grubbs' test sees no outlier.".into()],
                notes: vec!["Close to the limit: a meter with finer steps would tell.".into()],
                ..Details::default()
            },
            resistance: Some(ohms(5.57)),
            ..coil("f", Class::WithinDoubtful, Some(5.57), &[7])
        },
        coil("g", Class::Within, Some(5.19), &[8]),
        coil("h", Class::Within, Some(5.22), &[9]),
        Finding { limits: limits(22.1, 26.1), ..finding("pressure", Class::Within, Some(24.13), &[10]) },
        Finding { limits: limits(210.8, 291.1), ..finding("speed-in", Class::Unstable, None, &[11]) },
        finding("speed-out", Class::NotTaken, None, &[]),
    ];
    let reason =
        |text: &str, measurements: &[u32]| Reason { text: text.into(), measurements: measurements.to_vec() };
    let explanation = |cause, circuits: &[&str], certainty, reasons_for, reasons_against| Explanation {
        cause,
        circuits: circuits.iter().map(|id| CircuitId::from(*id)).collect(),
        certainty,
        reasons_for,
        reasons_against,
    };
    Judgement {
        findings,
        patterns: vec![Pattern {
            kind: PatternKind::OneOutlier,
            circuits: vec!["coil-c".into()],
            text: "Coil C is open, the seven others lie between 5.17 Ω and 5.57 Ω.".into(),
        }],
        conclusion: Conclusion {
            level: Level::Probably,
            hypotheses: vec![
                Weighed {
                    hypothesis: Hypothesis::Faulty { circuits: vec!["coil-c".into()] },
                    probability: 0.94,
                },
                Weighed { hypothesis: Hypothesis::Nothing, probability: 0.06 },
            ],
            advice: Advice::MeasureAgain { circuits: vec!["coil-c".into()] },
            if_wrong: IfWrong::TimeLost,
            smallest_seen: Some(9.0),
            headline: "Coil C is open at the part: the valve block is faulty, the wiring was not measured."
                .into(),
            explanations: vec![
                explanation(
                    Cause::Component,
                    &["coil-c"],
                    0.86,
                    vec![
                        reason(
                            "Over range twice, the second time with the terminal looked at and cleaned.",
                            &[3, 12],
                        ),
                        reason(
                            "The common pin is good: seven coils read through it.",
                            &[1, 2, 4, 6, 7, 8, 9],
                        ),
                    ],
                    vec![],
                ),
                explanation(
                    Cause::Connection,
                    &["coil-c"],
                    0.14,
                    vec![reason("A pin that is pushed back reads open as well.", &[12])],
                    vec![reason("The terminal was looked at.", &[12])],
                ),
            ],
            not_excluded: vec![
                "The wiring of coil C: it was not measured through the harness.".into(),
                "The fan speed sensor: not measured.".into(),
            ],
            cautions: vec![
                "Sound ohms do not prove that a valve moves.".into(),
                "The conclusion is an aid, not an approval.".into(),
            ],
        },
        next_checks: vec![
            NextCheck {
                action: CheckAction::OtherStation,
                circuit: Some("coil-c".into()),
                station: Some(Station::Harness),
                text: "Measure coil C through the harness, at the control unit's end.".into(),
                why: "Tells a broken wire in addition to the open coil.".into(),
                gain: 0.4,
            },
            NextCheck {
                action: CheckAction::ReadAgain,
                circuit: Some("speed-in".into()),
                station: Some(Station::Component),
                text: "Read the brush speed sensor again with the wire held still.".into(),
                why: "It wandered by more than meter and contact explain.".into(),
                gain: 0.2,
            },
        ],
        observed: vec![
            Observed {
                about: About::StoredCode,
                circuits: vec!["coil-c".into()],
                measurements: vec![],
                sound: None,
                text: "the stored code 9907 names coil C (the circuit, not the part): the readings agree"
                    .into(),
            },
            Observed {
                about: About::VoltageDrop,
                circuits: vec!["coil-c".into()],
                measurements: vec![12],
                sound: Some(false),
                text: "earth stud loses 0.31 V ± 0.02, limit 0.15 V (by the profile: invented)".into(),
            },
        ],
    }
}

pub fn record() -> Record {
    let gates =
        profile().gates.into_iter().zip([(20, 1), (48, 2), (71, 3)]).map(|(gate, (seconds, clip))| {
            Confirmation {
                at: at(seconds),
                gate: gate.id,
                instruction: gate.instruction,
                intake: spoken(&gate.confirm, clip),
                phrase: gate.confirm,
            }
        });
    Record {
        session: "2026-11-25T161200Z-sweeper-valve-block".to_owned(),
        job: Some("Order 1187, sweeper 3".to_owned()),
        details: JobDetails {
            technician: Some("A. Invented".to_owned()),
            customer: None,
            vehicle: Some("sweeper 3".to_owned()),
            order: Some("1187".to_owned()),
            part_serial: Some("INVENTED-0042".to_owned()),
            meter_serial: None,
            meter_calibrated: Some(jiff::civil::date(2026, 3, 31)),
        },
        mark: Some("0123456789abcdef".repeat(4)),
        program: "0.1.0".to_owned(),
        profile: profile(),
        meter: meter(),
        ways: "voice and keys".to_owned(),
        simulated: true,
        begun: at(0),
        ended: at(402),
        ending: Ending::Concluded,
        zone: tz::TimeZone::fixed(tz::offset(1)),
        confirmations: gates.collect(),
        leads: vec![LeadZero {
            at: at(95),
            leads: Leads::Shown(shown("0.18")),
            intake: spoken("zero point one eight", 4),
        }],
        temperatures: vec![PartTemperature {
            at: at(112),
            interval: Interval::new(celsius(20.0), celsius(22.0)),
            intake: spoken("twenty one", 5),
        }],
        codes: vec![StoredCode {
            text: "E9907 valve C, no current".to_owned(),
            circuit: Some("coil-c".into()),
        }],
        readings: readings(),
        further: further(),
        notes: vec![Note { at: at(300), text: "Paused for 22 seconds.".into() }],
        judged: JudgedBy {
            engine: Engine { name: "classes".to_owned(), version: 1, program: "0.1.0".to_owned() },
            at: Some(at(401)),
            basis: Basis::Kept,
            kept: None,
        },
        judgement: judgement(),
        again: None,
    }
}
