//! Owns which checks are worth doing next, the one that settles most first.

use super::{
    CheckAction, Class, NextCheck, Pattern, PatternKind, Station,
    analysis::{Analysis, Row, known_good_after},
    patterns::is_open,
    peers,
    single::State,
};
use crate::profile::Circuit;

/// All checks that could settle something, best first.
pub(super) fn checks(analysis: &Analysis<'_>, patterns: &[Pattern]) -> Vec<NextCheck> {
    let mut checks = Vec::new();
    let has = |kind| patterns.iter().any(|pattern: &Pattern| pattern.kind == kind);
    if has(PatternKind::EverythingOpen) {
        checks.push(other(
            CheckAction::ZeroLeads,
            None,
            "Hold the probes together and zero the leads, then probe the common pin again.",
            "everything is over range: a lead or the common pin is likelier than every circuit",
        ));
    }
    if analysis.rows.iter().any(|row| {
        row.number().is_some_and(|number| number.leads.slack == 0.0 && number.value < -number.expanded())
    }) {
        checks.push(other(
            CheckAction::ZeroLeads,
            None,
            "Hold the probes together and zero the leads again.",
            "less than nothing is left with the leads off: the lead reading was too high",
        ));
    }
    for row in analysis.rows.iter().filter(|row| is_open(row.class) && row.station != Station::Case) {
        over_range(analysis, row, &mut checks);
    }
    let mut suspects: Vec<&Row<'_>> = analysis
        .rows
        .iter()
        .filter(|row| row.class.is_suspect() && !row.confirmed && !is_open(row.class))
        .collect();
    suspects.sort_by(|a, b| rank(b).total_cmp(&rank(a)));
    for row in suspects {
        checks.push(other(
            CheckAction::CleanAndReadAgain,
            Some(row.circuit),
            &format!("Look at the terminal of {}, clean it, probe and read again.", row.circuit.name),
            "a bad contact reads like a bad part; a reading that stays is the part or its wire",
        ));
    }
    for row in analysis.rows.iter().filter(|row| {
        row.held.is_some_and(|held| held.stand == peers::Stand::Undecided) && !row.class.is_suspect()
    }) {
        if row.reduced.cleaned == 0 {
            checks.push(other(
                CheckAction::CleanAndReadAgain,
                Some(row.circuit),
                &format!("Look at the terminal of {}, clean it, probe and read again.", row.circuit.name),
                "members of the family disagree, and nothing says yet which is right",
            ));
        }
    }
    if has(PatternKind::Drift) {
        checks.push(other(
            CheckAction::ZeroLeads,
            None,
            "Zero the leads again, then read the first circuit once more.",
            "the first circuit read differently at the end",
        ));
    }
    if analysis.leads.slack > 0.0 && analysis.rows.iter().any(|row| row.number().is_some()) {
        checks.push(other(
            CheckAction::ZeroLeads,
            None,
            "Hold the probes together and say what the meter shows.",
            "the leads were not measured, so low resistances cannot be judged against their window",
        ));
    }
    for row in analysis.rows.iter().filter(|row| {
        row.confirmed
            && row.station == Station::Harness
            && analysis.row(row.circuit, Station::Component).is_none()
    }) {
        checks.push(other(
            CheckAction::OtherStation,
            Some(row.circuit),
            &format!("Measure {} at the part itself.", row.circuit.name),
            "it tells the part from its wires",
        ));
    }
    for text in &analysis.profile.further_checks {
        checks.push(other(CheckAction::Other, None, text, "named by the profile"));
    }
    checks
}

fn rank(row: &Row<'_>) -> f64 {
    row.held.and_then(|held| held.score).unwrap_or(0.0)
}

fn over_range(analysis: &Analysis<'_>, row: &Row<'_>, checks: &mut Vec<NextCheck>) {
    let State::OverRange { since_cleaned, first } = row.reduced.state else { return };
    let name = &row.circuit.name;
    if !known_good_after(analysis, row.circuit, first)
        && let Some(good) = known_good(analysis, row)
    {
        checks.push(other(
            CheckAction::ReadKnownGood,
            Some(good),
            &format!("Read {} again with the same leads.", good.name),
            &format!(
                "it read a number before: if it still does, leads and common pin are whole and {name} is open"
            ),
        ));
    }
    if row.class == Class::Open {
        return;
    }
    match since_cleaned {
        0 => checks.push(other(
            CheckAction::CleanAndReadAgain,
            Some(row.circuit),
            &format!("Look at the terminal of {name}, clean it, probe and read again."),
            "over range may be the contact alone",
        )),
        1 => checks.push(other(
            CheckAction::ReadAgain,
            Some(row.circuit),
            &format!("Probe {name} once more."),
            "over range once with the terminal cleaned; twice makes it open",
        )),
        _ => {}
    }
}

/// The circuit best fit to prove the leads: read as a number, not suspect, of the same family if there is one.
fn known_good<'a>(analysis: &Analysis<'a>, row: &Row<'_>) -> Option<&'a Circuit> {
    analysis
        .rows
        .iter()
        .filter(|other| {
            other.circuit.id != row.circuit.id
                && other.station == row.station
                && other.number().is_some()
                && !other.class.is_suspect()
        })
        .min_by_key(|other| {
            (
                other.circuit.against != row.circuit.against,
                other.circuit.family.is_none() || other.circuit.family != row.circuit.family,
            )
        })
        .map(|other| other.circuit)
}

fn other(action: CheckAction, circuit: Option<&Circuit>, text: &str, why: &str) -> NextCheck {
    NextCheck {
        action,
        circuit: circuit.map(|circuit| circuit.id.clone()),
        text: text.to_owned(),
        why: why.to_owned(),
    }
}
