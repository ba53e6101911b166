//! Several circuits and stations together: patterns, localisation, loads, codes, learned figures.

use super::fixture::*;
use crate::{
    profile::{CircuitKind, Harness, Suppression},
    quantity::{Interval, Volts},
    verdict::*,
};

fn now(profile: &crate::profile::Profile, evidence: &Evidence) -> Judgement {
    judge(profile, Some(&meter()), evidence).unwrap()
}

fn kinds(judgement: &Judgement) -> Vec<PatternKind> {
    judgement.patterns.iter().map(|pattern| pattern.kind).collect()
}

fn first_cause(judgement: &Judgement) -> Cause {
    judgement.conclusion.explanations[0].cause
}

#[test]
fn a_family_off_by_one_amount_is_the_shared_return() {
    let (profile, mut evidence) = (block(), at_20());
    // Every coil reads 1.50 Ω too much; the pressure coil on the same return as well.
    coils_read(&mut evidence, &["6.90", "6.88", "6.91", "6.93", "6.87", "6.90", "6.92", "6.89"]);
    add(&mut evidence, "pressure-coil", Contact::Usual, "25.70");
    let judgement = now(&profile, &evidence);
    assert!(kinds(&judgement).contains(&PatternKind::SharedOffset), "{:?}", judgement.patterns);
    assert_eq!(first_cause(&judgement), Cause::SharedReturn);
    let headline = said(&judgement.conclusion.headline);
    assert!(headline.contains("common pin 16 adds 1.5"), "{headline}");
}

#[test]
fn a_family_off_by_one_factor_is_temperature() {
    let (profile, mut evidence) = (block(), at_20());
    // 30 % more everywhere, as copper at about 96 °C has, while 20 °C was said.
    coils_read(&mut evidence, &["6.96", "6.94", "6.97", "6.99", "6.93", "6.96", "6.98", "6.95"]);
    add(&mut evidence, "pressure-coil", Contact::Usual, "31.40");
    let judgement = now(&profile, &evidence);
    assert!(kinds(&judgement).contains(&PatternKind::SharedFactor), "{:?}", judgement.patterns);
    assert_eq!(first_cause(&judgement), Cause::Measurement);
    let implied = judgement.observed.iter().find(|one| one.about == About::Temperature).unwrap();
    assert_eq!(implied.sound, Some(false));
    // Said rightly, nothing is off.
    evidence.part_temperature = Interval::new(celsius(90.0), celsius(100.0));
    let judgement = now(&profile, &evidence);
    assert!(judgement.findings.iter().all(|finding| !finding.class.is_suspect()));
    assert_eq!(
        judgement.observed.iter().find(|one| one.about == About::Temperature).unwrap().sound,
        Some(true)
    );
}

#[test]
fn two_that_read_half_are_joined() {
    let (profile, mut evidence) = (block(), at_20());
    coils_read(&mut evidence, &["5.40", "5.38", "2.81", "5.43", "2.79", "5.40", "5.42", "5.39"]);
    let judgement = now(&profile, &evidence);
    assert!(kinds(&judgement).contains(&PatternKind::Joined));
    assert_eq!(said(&judgement.conclusion.headline), "Probably coil c and coil e are joined.");
}

#[test]
fn two_that_read_each_others_value_are_swapped() {
    let (profile, mut evidence) = (block(), at_20());
    coils_read(&mut evidence, &["5.40", "24.10", "5.41", "5.43", "5.38", "5.40", "5.42", "5.39"]);
    add(&mut evidence, "pressure-coil", Contact::Usual, "5.37");
    let judgement = now(&profile, &evidence);
    assert!(kinds(&judgement).contains(&PatternKind::Swapped));
    assert_eq!(said(&judgement.conclusion.headline), "Probably coil b and pressure coil are swapped.");
    // At the part itself that is most often the probe on the neighbour's pin; never two failed coils.
    assert_eq!(first_cause(&judgement), Cause::Measurement);
}

#[test]
fn both_over_range_but_the_sum_between_them_is_the_common_pin() {
    let (profile, mut evidence) = (block(), at_20());
    coils_read(&mut evidence, &["ol", "ol"]);
    evidence.further.relations.push(Relation {
        id: 50,
        from: "coil-a".into(),
        to: "coil-b".into(),
        reading: reading("10.60"),
    });
    let judgement = now(&profile, &evidence);
    let relation = judgement.observed.iter().find(|one| one.about == About::Relation).unwrap();
    assert_eq!(relation.sound, Some(false));
    assert!(said(&relation.text).contains("pin 16"), "{relation:?}");
    assert_eq!(first_cause(&judgement), Cause::SharedReturn);
}

/// The decision table of part against harness.
#[test]
fn stations_tell_the_part_from_its_wires() {
    let mut profile = block();
    profile.circuits[2].harness = Some(Harness { conductor_mm2: 0.75, length_m: 4.0 });
    let start = || {
        let mut evidence = at_20();
        for at in 0..8 {
            add(&mut evidence, &coil(at), Contact::Usual, "5.40");
        }
        evidence
    };
    // Sound at the part, off through the harness.
    let mut evidence = start();
    add_at(&mut evidence, "coil-c", Station::Harness, Contact::Usual, "9.70");
    add_at(&mut evidence, "coil-c", Station::Harness, Contact::Cleaned, "9.71");
    let judgement = now(&profile, &evidence);
    assert_eq!(first_cause(&judgement), Cause::Wiring);
    assert!(said(&judgement.conclusion.headline).contains("he wiring of coil c"));
    let wires = judgement.observed.iter().find(|one| one.about == About::Loop).unwrap();
    assert_eq!(wires.sound, Some(false));
    // The loop as the wire table has it: 2 × 4 m × 18.5 mΩ/m / 0.75 = 0.197 Ω.
    let mut evidence = start();
    add_at(&mut evidence, "coil-c", Station::Harness, Contact::Usual, "5.58");
    let judgement = now(&profile, &evidence);
    assert_eq!(judgement.observed.iter().find(|one| one.about == About::Loop).unwrap().sound, Some(true));
    assert_eq!(first_cause(&judgement), Cause::NothingFound);
    assert!(judgement.conclusion.explanations[0].certainty < 0.75, "three circuits were not measured");
    // Off at both: the part.
    let mut evidence = at_20();
    for at in 0..8 {
        add(&mut evidence, &coil(at), Contact::Usual, if at == 2 { "9.50" } else { "5.40" });
    }
    add_at(&mut evidence, "coil-c", Station::Harness, Contact::Usual, "9.70");
    add(&mut evidence, "coil-c", Contact::Cleaned, "9.51");
    let judgement = now(&profile, &evidence);
    assert_eq!(first_cause(&judgement), Cause::Component);
    // Off through the harness, not measured at the part: that is next.
    let mut evidence = at_20();
    add_at(&mut evidence, "coil-c", Station::Harness, Contact::Usual, "9.70");
    add_at(&mut evidence, "coil-c", Station::Harness, Contact::Cleaned, "9.70");
    let judgement = now(&profile, &evidence);
    assert_eq!(judgement.next_checks[0].action, CheckAction::OtherStation);
}

#[test]
fn a_stored_code_with_sound_readings_leads_away_from_the_part() {
    let (profile, mut evidence) = (coils(4, 3.0, 0.05, Some((4.8, 5.6))), at_20());
    evidence.codes.push(StoredCode { text: "C17".into(), circuit: Some("coil-b".into()) });
    let judgement = now(&profile, &evidence);
    assert_eq!(judgement.next_checks[0].action, CheckAction::ReadAgain, "the code's circuit first");
    coils_read(&mut evidence, &["5.40", "5.41", "5.39", "5.40"]);
    let judgement = now(&profile, &evidence);
    assert_eq!(judgement.next_checks[0].action, CheckAction::OtherStation);
    for at in 0..4 {
        add_at(&mut evidence, &coil(at), Station::Harness, Contact::Usual, "5.45");
    }
    let judgement = now(&profile, &evidence);
    assert_eq!(first_cause(&judgement), Cause::ControlOrMechanical);
    // A code that names what reads off makes a slip of the probe less likely.
    let mut off = at_20();
    coils_read(&mut off, &["5.40", "9.50", "5.39", "5.40"]);
    let certainty = |evidence: &Evidence| {
        let explanations = now(&profile, evidence).conclusion.explanations;
        explanations.iter().find(|e| e.cause == Cause::Measurement).unwrap().certainty
    };
    let without = certainty(&off);
    off.codes.clone_from(&evidence.codes);
    assert!(certainty(&off) < without);
}

#[test]
fn leakage_only_with_a_limit_and_never_below_what_can_be_told() {
    let mut profile = coils(2, 3.0, 0.05, Some((4.8, 5.6)));
    let mut evidence = at_20();
    add_at(&mut evidence, "coil-a", Station::Case, Contact::Usual, "4.7 k");
    let class = |profile: &_, evidence: &_| {
        now(profile, evidence).finding(&"coil-a".into(), Station::Case).unwrap().class
    };
    assert_eq!(class(&profile, &evidence), Class::NotJudged);
    profile.circuits[0].case_limit = Some(ohms(1e6));
    assert_eq!(class(&profile, &evidence), Class::Leakage);
    evidence.measurements.clear();
    add_at(&mut evidence, "coil-a", Station::Case, Contact::Usual, "ol");
    assert_eq!(class(&profile, &evidence), Class::Within);
}

/// ISO 11898-2: 120 Ω at each end of the bus, 60 Ω with both; from memory of the figures.
#[test]
fn the_bus_without_a_window_is_judged_by_its_terminators() {
    let mut profile = coils(2, 3.0, 0.05, None);
    let mut bus = circuit("bus", None, None);
    bus.kind = CircuitKind::DataBus;
    profile.circuits.push(bus);
    let class = |text: &str| {
        let mut evidence = at_20();
        add(&mut evidence, "bus", Contact::Usual, text);
        let finding = now(&profile, &evidence).finding(&"bus".into(), Station::Component).unwrap().clone();
        (finding.class, finding.details.notes.iter().map(said).collect::<Vec<_>>().join(" "))
    };
    assert_eq!(class("60.4").0, Class::Within);
    let (one, note) = class("120.3");
    assert_eq!(one, Class::Outside);
    assert!(note.contains("terminators of the bus is missing"), "{note}");
    assert_eq!(class("0.5").0, Class::Shorted);
    assert!(class("40.1").1.contains("More than two"));
}

#[test]
fn an_open_coil_reads_its_suppression_resistor() {
    let mut profile = coils(3, 3.0, 0.05, Some((4.8, 5.6)));
    profile.circuits[1].suppression = Some(Suppression::Resistor(ohms(560.0)));
    let mut evidence = at_20();
    coils_read(&mut evidence, &["5.40", "561.2", "5.39"]);
    let finding =
        |evidence: &_| now(&profile, evidence).finding(&"coil-b".into(), Station::Component).unwrap().clone();
    assert_eq!(finding(&evidence).class, Class::Outside);
    add(&mut evidence, "coil-b", Contact::Cleaned, "561.2");
    assert_eq!(finding(&evidence).class, Class::Open);
    assert!(said(&finding(&evidence).details.notes[0]).contains("560"));
}

#[test]
fn wiring_under_load_and_joints() {
    let (profile, mut evidence) = (coils(2, 3.0, 0.05, Some((4.8, 5.6))), at_20());
    coils_read(&mut evidence, &["5.40", "5.41"]);
    let volts = |value: f64| Volts::new(value).unwrap();
    evidence.further.loads.push(LoadTest {
        id: 60,
        circuit: "coil-a".into(),
        supply: volts(12.6),
        at_load: volts(9.8),
        current: None,
        limit: Some(volts(0.5)),
    });
    let mut over = shown("0.12");
    over.unit = crate::quantity::Unit::Volt;
    evidence.further.drops.push(VoltageDrop {
        id: 61,
        joint: "earth stud".into(),
        circuit: None,
        reading: crate::quantity::Reading::Value(over),
        current: None,
        limit: None,
    });
    let judgement = now(&profile, &evidence);
    let sound = |about| judgement.observed.iter().find(|one| one.about == about).unwrap().sound;
    assert_eq!(sound(About::Load), Some(false));
    assert_eq!(sound(About::VoltageDrop), Some(true));
    assert_eq!(first_cause(&judgement), Cause::Wiring);
    evidence.further.loads[0].at_load = volts(15.0);
    assert!(matches!(judge(&profile, None, &evidence), Err(Refusal::LoadAboveSupply { id: 60, .. })));
}

#[test]
fn what_was_learned_is_shown_as_learned_and_changes_no_class() {
    let (profile, mut evidence) = (coils(3, 3.0, 0.05, None), at_20());
    coils_read(&mut evidence, &["7.40", "7.41", "7.39"]);
    let before = now(&profile, &evidence);
    evidence.further.references.push(LearnedReference {
        circuit: "coil-a".into(),
        station: Station::Component,
        parts: 6,
        median: ohms(5.2),
        spread: Some(ohms(0.08)),
        at: celsius(20.0),
    });
    let after = now(&profile, &evidence);
    assert_eq!(before.findings[0].class, after.findings[0].class);
    let learned = after.observed.iter().find(|one| one.about == About::Learned).unwrap();
    assert!(
        said(&learned.text).starts_with("learned, not published") && said(&learned.text).contains("unlike")
    );
    assert!(after.findings[0].details.learned_score.unwrap() > 10.0);
}

#[test]
fn a_coarse_meter_is_told_and_the_peers_judge() {
    let (profile, mut evidence) = (block(), at_20());
    let mut coarse = meter();
    coarse.ranges.retain(|range| range.full_scale > 100.0);
    coarse.ranges[0].digits = 5.0;
    evidence.leads = Leads::Shown(shown("0.2"));
    coils_read(&mut evidence, &["5.4", "5.4", "5.5", "5.4", "5.4", "5.4", "5.4", "3.3"]);
    let judgement = judge(&profile, Some(&coarse), &evidence).unwrap();
    assert!(judgement.observed.iter().any(|one| one.about == About::Meter && one.sound == Some(false)));
    // The error of its digits is in the leads as well, and cancels but for a fifth.
    assert_eq!(judgement.findings[0].class, Class::Within);
    assert!(judgement.findings[7].class.is_suspect());
}

#[test]
fn three_name_one_only_where_the_other_two_agree() {
    let profile = coils(3, 3.0, 0.05, None);
    let classes = |texts: &[&str]| {
        let mut evidence = at_20();
        coils_read(&mut evidence, texts);
        now(&profile, &evidence).findings.iter().map(|finding| finding.class).collect::<Vec<_>>()
    };
    assert_eq!(classes(&["5.40", "3.30", "5.42"])[1], Class::UnlikePeers);
    assert!(!classes(&["5.40", "3.30", "9.80"]).contains(&Class::UnlikePeers));
    // Two against two: nobody is named.
    let profile = coils(4, 3.0, 0.05, None);
    let mut evidence = at_20();
    coils_read(&mut evidence, &["5.40", "5.41", "9.80", "9.81"]);
    let judgement = now(&profile, &evidence);
    assert!(judgement.findings.iter().all(|finding| !finding.class.is_suspect()));
    assert!(kinds(&judgement).contains(&PatternKind::Undecided));
}

#[test]
fn agreeing_repeats_shrink_only_the_random_part() {
    let profile = coils(2, 3.0, 0.05, Some((4.8, 5.6)));
    let mut evidence = at_20();
    let budget = |evidence: &Evidence| {
        let finding = now(&profile, evidence).findings[0].clone();
        let part = |shared: bool| {
            let lines = finding.details.budget.iter().filter(|line| line.shared == shared);
            lines.map(|line| line.standard.get().powi(2)).sum::<f64>().sqrt()
        };
        (part(true), part(false), finding.uncertainty.unwrap().get())
    };
    add(&mut evidence, "coil-a", Contact::Usual, "5.40");
    let one = budget(&evidence);
    for text in ["5.40", "5.41", "5.40"] {
        add(&mut evidence, "coil-a", Contact::Usual, text);
    }
    let four = budget(&evidence);
    assert!((four.0 - one.0).abs() < 1e-4, "the meter's own stays");
    assert!((four.1 - one.1 / 2.0).abs() < 1e-9, "the random part is halved by four");
    assert!(four.2 < one.2);
    // U is twice the root of the sum of squares of the budget.
    assert!((four.2 - 2.0 * four.0.hypot(four.1)).abs() < 1e-9);
    // Two that differ, within what contact may do, widen it.
    let mut apart = at_20();
    add(&mut apart, "coil-a", Contact::Usual, "5.36");
    add(&mut apart, "coil-a", Contact::Usual, "5.46");
    assert!(budget(&apart).1 > one.1);
}

/// A family just outside of its window, alike: nobody is sent to clean eight terminals.
#[test]
fn a_family_off_together_is_not_cleaned_one_by_one() {
    let (profile, mut evidence) = (block(), at_20());
    coils_read(&mut evidence, &["5.85", "5.84", "5.86", "5.85", "5.84", "5.86", "5.85", "5.84"]);
    let judgement = now(&profile, &evidence);
    assert!(judgement.findings[0].class.is_suspect());
    assert!(judgement.next_checks.iter().all(|check| check.action != CheckAction::CleanAndReadAgain));
    // By a hair: zero, temperature or window are likelier than eight coils.
    assert_ne!(judgement.conclusion.explanations[0].cause, Cause::Component);
}

#[test]
fn leads_that_read_high_are_a_finding_of_their_own() {
    let (profile, mut evidence) = (block(), at_20());
    evidence.leads = Leads::Shown(shown("3.40"));
    coils_read(&mut evidence, &["8.60"]);
    let judgement = now(&profile, &evidence);
    assert!(judgement.next_checks.iter().any(|check| said(&check.text).starts_with("Try other leads")));
    assert!(judgement.conclusion.cautions.iter().any(|text| said(text).contains("damaged")));
}
