//! Owns which checks are worth doing next, chosen by how much doubt each is expected to take away for its effort.
//!
//! The doubt about a suspect is the entropy of its causes ([`super::causes`]). A check has an outcome that each cause
//! makes more or less likely; what it is expected to take away is the mutual information between cause and outcome. The
//! likelihoods are judgement put into numbers (no source).

use super::{
    CheckAction, Class, NextCheck, Observed, Pattern, PatternKind, Station,
    analysis::{Analysis, Row, fault_probability, known_good_after, says_nothing},
    causes,
    observed::{Standing, standing},
    peers,
    single::State,
};
use crate::profile::Circuit;

/// Checks that are expected to take away less than this (in bits) are not proposed.
const LEAST: f64 = 0.02;

/// A check with the likelihood of its first outcome under each cause (component, wiring, connection, shared return,
/// control, measurement) and its effort in minutes.
struct Kind {
    outcome: [f64; 6],
    minutes: f64,
}

/// The reading goes back to normal.
const CLEAN: Kind = Kind { outcome: [0.02, 0.03, 0.85, 0.05, 0.05, 0.75], minutes: 2.0 };
/// The reading changes.
const AGAIN: Kind = Kind { outcome: [0.02, 0.03, 0.35, 0.03, 0.05, 0.65], minutes: 0.5 };
/// The known good circuit reads as before.
const KNOWN_GOOD: Kind = Kind { outcome: [0.99, 0.99, 0.97, 0.15, 0.99, 0.10], minutes: 0.5 };
/// It reads off at the part as well.
const AT_PART: Kind = Kind { outcome: [0.97, 0.03, 0.30, 0.30, 0.03, 0.40], minutes: 10.0 };
/// It reads off through the harness as well.
const THROUGH_HARNESS: Kind = Kind { outcome: [0.97, 0.95, 0.60, 0.90, 0.05, 0.30], minutes: 8.0 };
/// The leads read otherwise than before.
const LEADS: Kind = Kind { outcome: [0.02, 0.02, 0.02, 0.10, 0.02, 0.50], minutes: 0.5 };

/// Mutual information in bits between the causes and a check's outcome.
fn gain(weights: &[f64; 6], kind: &Kind) -> f64 {
    let entropy =
        |p: f64| if p <= 0.0 || p >= 1.0 { 0.0 } else { -p * p.log2() - (1.0 - p) * (1.0 - p).log2() };
    let mean: f64 = weights.iter().zip(kind.outcome).map(|(weight, p)| weight * p).sum();
    let left: f64 = weights.iter().zip(kind.outcome).map(|(weight, p)| weight * entropy(p)).sum();
    (entropy(mean) - left).max(0.0)
}

struct Proposed {
    check: NextCheck,
    /// Gain for effort; what is ranked by.
    rate: f64,
    /// Kept however small the gain: a step of a check that is under way.
    needed: bool,
}

/// All checks that could settle something, best first.
pub(super) fn checks(analysis: &Analysis<'_>, patterns: &[Pattern], observed: &[Observed]) -> Vec<NextCheck> {
    let mut all: Vec<Proposed> = Vec::new();
    for row in &analysis.rows {
        if let State::OverRange { beyond: Some(range), .. } = row.reduced.state
            && says_nothing(row, range)
        {
            propose(
                &mut all,
                CheckAction::ReadAgain,
                Some((row.circuit, row.station)),
                (0.5, 0.5),
                true,
                format!("Read {} again in a higher range.", row.circuit.name),
                "over the range that was set says only that it is more than that",
            );
            continue;
        }
        let undecided =
            row.held.is_some_and(|held| held.stand == peers::Stand::Undecided) && !row.class.is_suspect();
        if !row.class.is_suspect() && !undecided {
            continue;
        }
        let weights = causes::weigh(analysis, row, patterns, observed).weights;
        let off = fault_probability(row).unwrap_or(0.5).max(0.1);
        suspect(analysis, row, &weights, off, patterns, &mut all);
    }
    leads(analysis, patterns, &mut all);
    codes(analysis, &mut all);
    all.retain(|one| one.needed || one.check.gain >= LEAST);
    // Stable: equal ones stay in profile order.
    all.sort_by(|a, b| b.rate.total_cmp(&a.rate));
    let mut checks: Vec<NextCheck> = Vec::new();
    for one in all {
        let same = |known: &&NextCheck| {
            let place = |check: &NextCheck| (check.action, check.circuit.clone(), check.station);
            place(known) == place(&one.check)
        };
        if !checks.iter().any(|known| same(&known)) {
            checks.push(one.check);
        }
    }
    for text in &analysis.profile.further_checks {
        checks.push(NextCheck {
            action: CheckAction::Other,
            circuit: None,
            station: None,
            text: text.clone(),
            why: "named by the profile".to_owned(),
            gain: 0.0,
        });
    }
    checks
}

fn propose(
    all: &mut Vec<Proposed>,
    action: CheckAction,
    at: Option<(&Circuit, Station)>,
    (gain, minutes): (f64, f64),
    needed: bool,
    text: String,
    why: &str,
) {
    all.push(Proposed {
        check: NextCheck {
            action,
            circuit: at.map(|(circuit, _)| circuit.id.clone()),
            station: at.map(|(_, station)| station),
            text,
            why: why.to_owned(),
            gain,
        },
        rate: gain / minutes,
        needed,
    });
}

fn suspect(
    analysis: &Analysis<'_>,
    row: &Row<'_>,
    weights: &[f64; 6],
    off: f64,
    patterns: &[Pattern],
    all: &mut Vec<Proposed>,
) {
    let name = &row.circuit.name;
    let circuit = Some((row.circuit, row.station));
    let of = |kind: &Kind| (off * gain(weights, kind), kind.minutes);
    let everything = patterns.iter().any(|pattern| pattern.kind == PatternKind::EverythingOpen);
    let at_case = row.station == Station::Case;
    if let State::OverRange { since_cleaned, first, .. } = row.reduced.state
        && !at_case
    {
        if !known_good_after(analysis, row.circuit, first)
            && let Some(good) = known_good(analysis, row)
        {
            let (bits, minutes) = of(&KNOWN_GOOD);
            propose(
                all,
                CheckAction::ReadKnownGood,
                Some((good, row.station)),
                // Without it no contact check counts: never ranked behind the cleaning.
                (bits.max(0.3), minutes),
                true,
                format!("Read {} again with the same leads.", good.name),
                &format!("if it still reads a number, leads and common pin are whole and {name} is open"),
            );
        }
        match since_cleaned {
            _ if everything => {}
            0 => propose(
                all,
                CheckAction::CleanAndReadAgain,
                circuit,
                of(&CLEAN),
                true,
                format!("Look at the terminal of {name}, clean it, probe and read again."),
                "over range may be the contact alone",
            ),
            1 => propose(
                all,
                CheckAction::ReadAgain,
                circuit,
                of(&AGAIN),
                true,
                format!("Probe {name} once more."),
                "over range once with the terminal cleaned; twice makes it open",
            ),
            _ => {}
        }
    } else if row.reduced.cleaned == 0 && !alike(row) {
        propose(
            all,
            CheckAction::CleanAndReadAgain,
            circuit,
            of(&CLEAN),
            true,
            format!("Look at the terminal of {name}, clean it, probe and read again."),
            "a bad contact reads like a bad part; a reading that stays is the part or its wire",
        );
    }
    match row.station {
        Station::Harness if analysis.row(row.circuit, Station::Component).is_none() => propose(
            all,
            CheckAction::OtherStation,
            Some((row.circuit, Station::Component)),
            of(&AT_PART),
            false,
            format!("Measure {name} at the part itself."),
            "it tells the part from its wires",
        ),
        Station::Component if row.class == Class::Unstable && row.reduced.cleaned > 0 => propose(
            all,
            CheckAction::Other,
            circuit,
            of(&AGAIN),
            false,
            format!("Read {name} while the wire and the connector are moved."),
            "a number that changes as it is moved is an intermittent contact",
        ),
        _ => {}
    }
}

/// Whether a circuit is off against its window together with its family: then no terminal of its own is to blame.
pub(super) fn alike(row: &Row<'_>) -> bool {
    matches!(row.class, Class::Outside | Class::OutsideDoubtful)
        && row.held.is_some_and(|held| held.stand == peers::Stand::Like && !held.split_odd)
}

/// The circuit best fit to prove the leads: read as a number, not suspect, with the same common pin, of the same family.
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

fn leads(analysis: &Analysis<'_>, patterns: &[Pattern], all: &mut Vec<Proposed>) {
    let has = |kind| patterns.iter().any(|pattern: &Pattern| pattern.kind == kind);
    let mut zero = |gain: f64, text: &str, why: &str| {
        propose(all, CheckAction::ZeroLeads, None, (gain, LEADS.minutes), true, text.to_owned(), why);
    };
    if has(PatternKind::EverythingOpen) {
        zero(
            0.9,
            "Hold the probes together and zero the leads, then probe the common pin again.",
            "everything is over range: a lead or the common pin is likelier than every circuit",
        );
    }
    if analysis.rows.iter().any(|row| {
        row.number().is_some_and(|number| number.leads.slack == 0.0 && number.value < -number.expanded())
    }) {
        zero(
            0.8,
            "Hold the probes together and zero the leads again.",
            "less than nothing is left with the leads off: the lead reading was too high",
        );
    }
    if has(PatternKind::Drift) {
        zero(
            0.5,
            "Zero the leads again, then read the first circuit once more.",
            "the first circuit read differently at the end",
        );
    }
    if has(PatternKind::SharedOffset) {
        zero(
            0.4,
            "Hold the probes together and zero the leads again.",
            "all are off by one amount, as leads would do",
        );
    }
    if analysis.leads.off > super::single::LEADS_AT_MOST
        || (analysis.leads.count > 1 && analysis.leads.spread > 0.2)
    {
        zero(
            0.4,
            "Try other leads, or clean their tips and sockets, and zero them again.",
            "the leads read high, or otherwise each time: they may be damaged",
        );
    }
    if analysis.leads.slack > 0.0 && analysis.rows.iter().any(|row| row.number().is_some()) {
        zero(
            0.3,
            "Hold the probes together and say what the meter shows.",
            "the leads were not measured, so low resistances cannot be judged against their window",
        );
    }
    if has(PatternKind::SharedFactor) || analysis.rows.iter().filter(|row| alike(row)).count() > 1 {
        propose(
            all,
            CheckAction::Other,
            None,
            (0.5, 2.0),
            true,
            "Measure the temperature of the part itself.".to_owned(),
            "a whole family is off together, as temperature would do",
        );
    }
}

fn codes(analysis: &Analysis<'_>, all: &mut Vec<Proposed>) {
    for code in &analysis.evidence.codes {
        let Some(circuit) = code.circuit.as_ref().and_then(|id| analysis.profile.circuit(id)) else {
            continue;
        };
        if circuit.never_ohmmeter.is_some() {
            continue;
        }
        match standing(analysis, Some(&circuit.id)) {
            Standing::NotRead if analysis.row(circuit, Station::Component).is_none_or(|row| !row.taken()) => {
                propose(
                    all,
                    CheckAction::ReadAgain,
                    Some((circuit, Station::Component)),
                    (0.8, 0.5),
                    true,
                    format!("Read {}.", circuit.name),
                    "the stored code names it, and it was not read yet",
                )
            }
            Standing::Sound if analysis.row(circuit, Station::Harness).is_none() => {
                // Sound at the part: wiring, contact or control side are what is left.
                let left = [0.05, 0.30, 0.30, 0.05, 0.30, 0.0];
                propose(
                    all,
                    CheckAction::OtherStation,
                    Some((circuit, Station::Harness)),
                    (gain(&left, &THROUGH_HARNESS), THROUGH_HARNESS.minutes),
                    true,
                    format!("Measure {} through the harness, at the control unit's end.", circuit.name),
                    "the code names it and it reads sound at the part: the wires come next",
                );
            }
            Standing::Sound if analysis.row(circuit, Station::Case).is_none() => propose(
                all,
                CheckAction::OtherStation,
                Some((circuit, Station::Case)),
                (0.3, 4.0),
                true,
                format!("Measure {} at the part from its pin to the case, connector apart.", circuit.name),
                "sound at both ends: a short to case is left, then the wires by themselves",
            ),
            Standing::Sound => propose(
                all,
                CheckAction::Other,
                Some((circuit, Station::Harness)),
                (0.2, 10.0),
                true,
                format!(
                    "Both ends apart: the wires of {} against case, supply and neighbours; then its feeds and earths \
                     under load.",
                    circuit.name
                ),
                "the control unit is named only after these",
            ),
            _ => {}
        }
    }
}
