//! Promises that hold for any readings.

use super::fixture::*;
use crate::verdict::{Contact, Evidence, Leads, Refusal, Station, judge};
use proptest::prelude::*;

fn tenths(value: u32) -> String {
    format!("{}.{:02}", value / 100, value % 100)
}

fn evidence(values: &[u32], lead: u32) -> Evidence {
    let mut evidence = at_20();
    evidence.leads = Leads::Shown(shown(&tenths(lead)));
    for (at, value) in values.iter().enumerate() {
        add(&mut evidence, &coil(at), Contact::Usual, &tenths(value + lead));
    }
    evidence
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(128))]

    #[test]
    fn the_order_of_the_list_changes_nothing(values in proptest::collection::vec(0u32..1200, 1..12), turn in 0usize..12) {
        let profile = coils(12, 3.0, 0.05, Some((4.8, 5.6)));
        let first = evidence(&values, 20);
        let mut second = first.clone();
        second.measurements.rotate_left(turn % values.len());
        prop_assert_eq!(judge(&profile, None, &first), judge(&profile, None, &second));
    }

    #[test]
    fn a_common_lead_changes_nothing_after_zeroing(
        values in proptest::collection::vec(300u32..700, 1..12),
        lead in 1u32..25,
    ) {
        let profile = coils(12, 3.0, 0.05, Some((4.8, 5.6)));
        // A meter without a percentage: its uncertainty does not grow with the lead.
        let mut meter = meter();
        meter.ranges[0].percent = 0.0;
        let one = judge(&profile, Some(&meter), &evidence(&values, 0)).unwrap();
        let other = judge(&profile, Some(&meter), &evidence(&values, lead)).unwrap();
        for (a, b) in one.findings.iter().zip(&other.findings) {
            // Half an ohm of leads is itself a little more doubtful than none: nothing else changes.
            let off = |finding: &crate::verdict::Finding| finding.details.fault_probability.unwrap_or(0.0);
            prop_assert!((off(a) - off(b)).abs() < 0.2, "{} and {}", off(a), off(b));
            let (a, b) = (a.resistance.map(f64::from), b.resistance.map(f64::from));
            prop_assert!(a.zip(b).is_none_or(|(a, b)| (a - b).abs() < 1e-9));
        }
    }

    #[test]
    fn moving_away_from_the_peers_never_looks_better(
        values in proptest::collection::vec(400u32..700, 2..12),
        at in 0usize..12,
        more in 0u32..500,
    ) {
        let at = at % values.len();
        let profile = coils(12, 3.0, 0.05, None);
        let score = |values: &[u32]| {
            let judgement = judge(&profile, None, &evidence(values, 20)).unwrap();
            let finding = judgement.finding(&coil(at).as_str().into(), Station::Component).unwrap().clone();
            finding.peer_score.zip(finding.details.peers_expect.map(f64::from))
        };
        // Without a score the others disagree: that does not depend on this one.
        let Some((before, expected)) = score(&values) else { return Ok(()) };
        let mut moved = values.clone();
        let away = f64::from(values[at]) / 100.0 >= expected;
        moved[at] = if away { values[at] + more } else { values[at].saturating_sub(more) };
        prop_assert!(score(&moved).unwrap().0 >= before - 1e-9);
    }

    #[test]
    fn every_finding_explains_itself(values in proptest::collection::vec(0u32..1200, 1..12)) {
        let judgement = judge(&coils(12, 3.0, 0.05, Some((4.8, 5.6))), None, &evidence(&values, 20)).unwrap();
        for finding in &judgement.findings {
            prop_assert!(!finding.derivation.is_empty());
            prop_assert!(finding.derivation.iter().all(|step| said(&step.what).len() > 2 && !said(&step.how).contains('[')));
            prop_assert!(said(&finding.derivation.last().unwrap().how).starts_with(&said(&finding.class)));
        }
        let sum: f64 = judgement.conclusion.explanations.iter().map(|e| e.certainty).sum();
        prop_assert!((sum - 1.0).abs() < 1e-9);
    }
}

#[test]
fn refusals_name_what_is_wrong() {
    let profile = coils(3, 3.0, 0.05, None);
    let refused = |change: &dyn Fn(&mut Evidence)| {
        let mut evidence = at_20();
        coils_read(&mut evidence, &["5.40", "5.41"]);
        change(&mut evidence);
        judge(&profile, None, &evidence).unwrap_err()
    };
    assert!(matches!(
        refused(&|e| add(e, "coil-c", Contact::Usual, "-3.0")),
        Refusal::Negative { id: 3, .. }
    ));
    assert_eq!(refused(&|e| e.measurements[1].id = 1), Refusal::DuplicateId(1));
    let unknown = refused(&|e| add(e, "coil-z", Contact::Usual, "5.4"));
    assert_eq!(unknown.to_string(), "measurement 3: the profile \"test-part\" has no circuit \"coil-z\"");
    let volts = refused(&|e| {
        let mut volts = shown("5.4");
        volts.unit = crate::quantity::Unit::Volt;
        e.measurements[0].reading = crate::quantity::Reading::Value(volts);
    });
    assert_eq!(volts.to_string(), "measurement 1: 5.4 V is not in Ω");
    let hot = refused(&|e| e.part_temperature = Some(crate::quantity::Interval::exactly(celsius(900.0))));
    assert!(matches!(hot, Refusal::Temperature { .. }));
    let mut bare = coils(1, 3.0, 0.05, None);
    bare.families.clear();
    bare.circuits[0].family = None;
    assert!(matches!(judge(&bare, None, &at_20()), Err(Refusal::NothingToJudgeBy(_))));
}
