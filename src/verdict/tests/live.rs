//! Courses as they happen under a vehicle, reading by reading.

use super::fixture::*;
use crate::verdict::{CheckAction, Class, Contact, Judgement, PatternKind, Station, judge};

fn class(judgement: &Judgement, circuit: &str) -> Class {
    judgement.finding(&circuit.into(), Station::Component).unwrap().class
}

#[test]
fn each_reading_is_judged_as_it_comes() {
    let (profile, meter, mut evidence) = (block(), meter(), at_20());
    let before = judge(&profile, Some(&meter), &evidence).unwrap();
    assert!(before.findings.iter().all(|finding| finding.class == Class::NotTaken));
    assert_eq!(said(&before.conclusion.headline), "Nothing measured yet.");
    for (at, text) in ["5.41", "5.38", "5.40", "5.43", "5.37"].iter().enumerate() {
        add(&mut evidence, &coil(at), Contact::Usual, text);
        let judgement = judge(&profile, Some(&meter), &evidence).unwrap();
        assert_eq!(said(&class(&judgement, &coil(at))), "in");
        assert_eq!(said(&judgement.conclusion.headline), format!("No fault so far: {} of 11 read.", at + 1));
    }
}

#[test]
fn one_that_reads_unlike_is_suspect_and_failed_once_cleaned() {
    let (profile, meter, mut evidence) = (block(), meter(), at_20());
    coils_read(&mut evidence, &["5.41", "5.38", "5.40", "5.43", "5.37", "3.30", "5.39", "5.42"]);
    let judgement = judge(&profile, Some(&meter), &evidence).unwrap();
    assert_eq!(said(&class(&judgement, "coil-f")), "out");
    assert_eq!(said(&judgement.conclusion.headline), "Coil f is probably off: 3.10 ohms, the others 5.20.");
    assert_eq!(judgement.patterns[0].kind, PatternKind::OneOutlier);
    assert_eq!(judgement.next_checks[0].action, CheckAction::CleanAndReadAgain);
    assert_eq!(judgement.next_checks[0].circuit.as_ref().unwrap().as_str(), "coil-f");

    add(&mut evidence, "coil-f", Contact::Cleaned, "3.31");
    let judgement = judge(&profile, Some(&meter), &evidence).unwrap();
    assert!(judgement.finding(&"coil-f".into(), Station::Component).unwrap().confirmed);
    assert_eq!(said(&judgement.conclusion.headline), "Coil f failed: 3.11 ohms, the others 5.20.");

    // Cleaning helped: it was the contact.
    evidence.measurements.pop();
    add(&mut evidence, "coil-f", Contact::Cleaned, "5.40");
    let judgement = judge(&profile, Some(&meter), &evidence).unwrap();
    assert_eq!(class(&judgement, "coil-f"), Class::Within);
    assert!(judgement.finding(&"coil-f".into(), Station::Component).unwrap().details.cleaning_changed_it);
}

/// Common practice, no source: a family around 1.3 to 1.8 Ω where one reads 7.2, 7.3, then 7.5 Ω cleaned.
#[test]
fn a_family_without_a_chart_is_its_own_reference() {
    let (profile, mut evidence) = (coils(6, 10.0, 0.1, None), at_20());
    coils_read(&mut evidence, &["1.7", "1.8", "1.7", "7.2", "1.8", "1.8"]);
    let judgement = judge(&profile, None, &evidence).unwrap();
    assert_eq!(class(&judgement, "coil-d"), Class::UnlikePeers);
    // 1.5 and 1.6 Ω with the leads off are alike.
    assert_eq!(class(&judgement, "coil-a"), Class::LikePeers);
    assert_eq!(class(&judgement, "coil-b"), Class::LikePeers);
    assert!(said(&judgement.conclusion.headline).starts_with("Coil d is probably off"));
    add(&mut evidence, "coil-d", Contact::Usual, "7.3");
    add(&mut evidence, "coil-d", Contact::Cleaned, "7.5");
    let judgement = judge(&profile, None, &evidence).unwrap();
    assert_eq!(class(&judgement, "coil-d"), Class::UnlikePeers);
    assert_eq!(said(&judgement.conclusion.headline), "Coil d failed: 7.3 ohms, the others 1.6.");
}

/// Common practice, no source: over range while another still reads 1.6 Ω with the same leads.
#[test]
fn over_range_is_open_only_after_the_contact_check() {
    let (profile, mut evidence) = (coils(4, 10.0, 0.1, None), at_20());
    coils_read(&mut evidence, &["1.8", "1.8", "ol"]);
    let now = |evidence: &_| judge(&profile, None, evidence).unwrap();
    let judgement = now(&evidence);
    assert_eq!(class(&judgement, "coil-c"), Class::OverRangeUnchecked);
    assert_eq!(judgement.next_checks[0].action, CheckAction::ReadKnownGood);
    assert_eq!(judgement.next_checks[0].circuit.as_ref().unwrap().as_str(), "coil-a");
    add(&mut evidence, "coil-a", Contact::Usual, "1.8");
    let judgement = now(&evidence);
    assert_eq!(judgement.next_checks[0].action, CheckAction::CleanAndReadAgain);
    assert_eq!(judgement.next_checks[0].circuit.as_ref().unwrap().as_str(), "coil-c");
    add(&mut evidence, "coil-c", Contact::Cleaned, "ol");
    assert_eq!(class(&now(&evidence), "coil-c"), Class::OverRangeUnchecked);
    // The proof is of before the terminal was cleaned: leads may have moved since.
    assert_eq!(now(&evidence).next_checks[0].action, CheckAction::ReadKnownGood);
    add(&mut evidence, "coil-a", Contact::Usual, "1.8");
    assert_eq!(now(&evidence).next_checks[0].action, CheckAction::ReadAgain);
    add(&mut evidence, "coil-c", Contact::Usual, "ol");
    let judgement = now(&evidence);
    assert_eq!(class(&judgement, "coil-c"), Class::Open);
    assert_eq!(said(&judgement.conclusion.headline), "Coil c failed: open at its terminal or behind it.");
}

#[test]
fn near_zero_is_shorted_and_a_wandering_number_unstable() {
    let (profile, meter, mut evidence) = (block(), meter(), at_20());
    coils_read(&mut evidence, &["5.40", "0.22", "4.90~5.90", "5.41"]);
    let judgement = judge(&profile, Some(&meter), &evidence).unwrap();
    assert_eq!(class(&judgement, "coil-b"), Class::Shorted);
    assert_eq!(class(&judgement, "coil-c"), Class::Unstable);
    // Repeats that lie further apart than contact and step explain.
    add(&mut evidence, "coil-d", Contact::Usual, "5.80");
    assert_eq!(class(&judge(&profile, Some(&meter), &evidence).unwrap(), "coil-d"), Class::Unstable);
    // A number that changes when the wire is moved.
    add(&mut evidence, "coil-a", Contact::Wiggled, "6.40");
    assert_eq!(class(&judge(&profile, Some(&meter), &evidence).unwrap(), "coil-a"), Class::Unstable);
}

#[test]
fn everything_over_range_is_the_common_pin_first() {
    let (profile, mut evidence) = (block(), at_20());
    coils_read(&mut evidence, &["ol", "ol", "ol"]);
    let judgement = judge(&profile, None, &evidence).unwrap();
    assert_eq!(judgement.patterns[0].kind, PatternKind::EverythingOpen);
    assert_eq!(
        said(&judgement.conclusion.headline),
        "Probably common pin 16 is open: the clip, its terminal, or behind it."
    );
    assert_eq!(judgement.next_checks[0].action, CheckAction::ZeroLeads);
}

#[test]
fn the_first_circuit_read_again_shows_drift() {
    let (profile, meter, mut evidence) = (block(), meter(), at_20());
    coils_read(&mut evidence, &["5.30", "5.31", "5.33", "5.35", "5.36", "5.38", "5.40", "5.41"]);
    add(&mut evidence, "coil-a", Contact::Usual, "5.52");
    let judgement = judge(&profile, Some(&meter), &evidence).unwrap();
    assert_eq!(judgement.patterns[0].kind, PatternKind::Drift);
    assert_eq!(class(&judgement, "coil-a"), Class::Within);
}

#[test]
fn without_temperature_peers_still_judge() {
    let (profile, meter, mut evidence) = (block(), meter(), at_20());
    evidence.part_temperature = None;
    coils_read(&mut evidence, &["6.41"]);
    // One alone at an unknown temperature: noted.
    assert_eq!(class(&judge(&profile, Some(&meter), &evidence).unwrap(), "coil-a"), Class::NotJudged);
    coils_read(&mut evidence, &["6.40", "6.38", "6.42", "6.41", "5.40"]);
    let judgement = judge(&profile, Some(&meter), &evidence).unwrap();
    assert_eq!(class(&judgement, "coil-b"), Class::LikePeers);
    assert_eq!(class(&judgement, "coil-e"), Class::UnlikePeers);
}

#[test]
fn two_that_disagree_are_both_not_named() {
    let (profile, mut evidence) = (coils(2, 3.0, 0.05, None), at_20());
    coils_read(&mut evidence, &["5.40", "3.10"]);
    let judgement = judge(&profile, None, &evidence).unwrap();
    assert!(judgement.findings.iter().all(|finding| finding.class == Class::NotJudged));
    assert_eq!(judgement.patterns[0].kind, PatternKind::Undecided);
    assert_eq!(judgement.next_checks[0].action, CheckAction::CleanAndReadAgain);
}
