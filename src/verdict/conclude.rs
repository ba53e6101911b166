//! Owns what the whole amounts to: explanations with their certainties, what was not excluded, what stands on every one.

use super::{
    Cause, Class, Conclusion, Explanation, Observed, Pattern, PatternKind, Reason, Station,
    analysis::{Analysis, Row, fault_probability},
    causes::{self, CAUSES, Weighing},
    headline,
    meter::trim,
    observed::{Standing, standing},
    patterns::is_open,
    peers,
};
use crate::profile::CircuitId;

/// What stands on every conclusion.
pub const CAUTIONS: [&str; 2] = [
    "Sound ohms do not prove that the part works: a valve may stick and a joint may fail under load.",
    "This is an aid to a skilled person, not an approval. The maker's service information comes first.",
];
/// No explanation is given more than this: ohms never settle everything.
const MOST_CERTAIN: f64 = 0.97;

/// Makes the conclusion.
pub(super) fn conclude(analysis: &Analysis<'_>, patterns: &[Pattern], observed: &[Observed]) -> Conclusion {
    let suspects: Vec<&Row<'_>> = analysis.rows.iter().filter(|row| row.class.is_suspect()).collect();
    let mut explanations = if suspects.is_empty() {
        nothing_off(analysis, observed)
    } else {
        something_off(analysis, &suspects, patterns, observed)
    };
    explanations.retain(|explanation| explanation.certainty >= 0.005);
    let sum: f64 = explanations.iter().map(|explanation| explanation.certainty).sum();
    for explanation in &mut explanations {
        explanation.certainty /= sum;
    }
    explanations.sort_by(|a, b| b.certainty.total_cmp(&a.certainty));
    Conclusion {
        headline: headline::headline(analysis, &suspects, patterns, &explanations),
        explanations,
        not_excluded: not_excluded(analysis, &suspects),
        cautions: cautions(analysis),
    }
}

fn ids(rows: &[&Row<'_>]) -> Vec<u32> {
    let mut all: Vec<u32> = rows.iter().flat_map(|row| row.reduced.ids.iter().copied()).collect();
    all.sort_unstable();
    all.dedup();
    all
}

fn circuits(rows: &[&Row<'_>]) -> Vec<CircuitId> {
    let mut all: Vec<CircuitId> = Vec::new();
    for row in rows {
        if !all.contains(&row.circuit.id) {
            all.push(row.circuit.id.clone());
        }
    }
    all
}

/// Probability that the suspects, and they alone, are off: statistics only.
fn set_probability(analysis: &Analysis<'_>, suspects: &[&Row<'_>], patterns: &[Pattern]) -> f64 {
    let shifted: Vec<&CircuitId> = patterns
        .iter()
        .filter(|pattern| matches!(pattern.kind, PatternKind::SharedFactor | PatternKind::SharedOffset))
        .flat_map(|pattern| &pattern.circuits)
        .collect();
    if patterns.iter().any(|pattern| pattern.kind == PatternKind::EverythingOpen) {
        // That something is off is certain; what, the causes say.
        return MOST_CERTAIN;
    }
    let mut probability = 1.0;
    for held in &analysis.families {
        let Some(family) = analysis.profile.families.get(held.family) else { continue };
        let mine = |row: &&Row<'_>| {
            row.station == held.station
                && row.circuit.family.as_ref() == Some(&family.id)
                && row.held.is_some()
        };
        let of_family: Vec<&Row<'_>> =
            suspects.iter().filter(|row| mine(row) && !shifted.contains(&&row.circuit.id)).copied().collect();
        if of_family.is_empty() {
            continue;
        }
        let odd = |row: &Row<'_>| row.held.is_some_and(|held| held.split_odd);
        let same = of_family.iter().all(|row| odd(row))
            && analysis.rows.iter().filter(|row| mine(row) && odd(row)).count() == of_family.len();
        probability *= if same {
            held.split
        } else {
            of_family.iter().map(|row| fault_probability(row).unwrap_or(0.5)).fold(1.0, f64::min)
        };
    }
    for row in suspects.iter().filter(|row| row.held.is_none() || shifted.contains(&&row.circuit.id)) {
        probability *= match row.class {
            _ if shifted.contains(&&row.circuit.id) => 0.99,
            _ => fault_probability(row).unwrap_or(0.5),
        };
    }
    probability.min(MOST_CERTAIN)
}

fn something_off(
    analysis: &Analysis<'_>,
    suspects: &[&Row<'_>],
    patterns: &[Pattern],
    observed: &[Observed],
) -> Vec<Explanation> {
    let probability = set_probability(analysis, suspects, patterns);
    let weighed: Vec<(&Row<'_>, Weighing)> =
        suspects.iter().map(|row| (*row, causes::weigh(analysis, row, patterns, observed))).collect();
    let count = weighed.len() as f64;
    let mut all: Vec<Explanation> = CAUSES
        .iter()
        .enumerate()
        .map(|(at, cause)| {
            let share = weighed.iter().map(|(_, weighing)| weighing.weights[at]).sum::<f64>() / count;
            // Circuits for which this cause plays no part are not named by it.
            let most = weighed.iter().map(|(_, weighing)| weighing.weights[at]).fold(0.0, f64::max);
            let named: Vec<&(&Row<'_>, Weighing)> =
                weighed.iter().filter(|(_, weighing)| weighing.weights[at] >= 0.3 * most).collect();
            let rows: Vec<&Row<'_>> = named.iter().map(|(row, _)| *row).collect();
            let mut reasons_for: Vec<Reason> = named
                .iter()
                .map(|(row, _)| Reason {
                    text: format!("{}: {}", row.circuit.name, headline::does(analysis, row)),
                    measurements: row.reduced.ids.clone(),
                })
                .collect();
            let mut reasons_against = Vec::new();
            for (_, weighing) in &named {
                for (moved, speaks_for, reason) in &weighing.reasons {
                    if moved != cause {
                        continue;
                    }
                    let list = if *speaks_for { &mut reasons_for } else { &mut reasons_against };
                    match list.iter_mut().find(|known: &&mut Reason| known.text == reason.text) {
                        Some(known) => known.measurements.extend(&reason.measurements),
                        None => list.push(reason.clone()),
                    }
                }
            }
            for reason in reasons_for.iter_mut().chain(&mut reasons_against) {
                reason.measurements.sort_unstable();
                reason.measurements.dedup();
            }
            Explanation {
                cause: *cause,
                circuits: circuits(&rows),
                certainty: probability * share,
                reasons_for,
                reasons_against,
            }
        })
        .collect();
    all.push(Explanation {
        cause: Cause::Undetermined,
        circuits: Vec::new(),
        certainty: 1.0 - probability,
        reasons_for: vec![Reason {
            text: "what was read leaves room for others, for more of them, or for none to be off".to_owned(),
            measurements: ids(suspects),
        }],
        reasons_against: Vec::new(),
    });
    all
}

fn nothing_off(analysis: &Analysis<'_>, observed: &[Observed]) -> Vec<Explanation> {
    let taken: Vec<&Row<'_>> = analysis.rows.iter().filter(|row| row.taken()).collect();
    let disagree: Vec<&Row<'_>> = analysis
        .rows
        .iter()
        .filter(|row| row.held.is_some_and(|held| held.stand == peers::Stand::Undecided))
        .collect();
    let askable = analysis.profile.circuits.iter().filter(|circuit| circuit.never_ohmmeter.is_none());
    let judged = askable.clone().filter(|circuit| {
        let of = |row: &&Row<'_>| row.circuit.id == circuit.id;
        analysis.rows.iter().filter(of).any(|row| !matches!(row.class, Class::NotTaken | Class::NotJudged))
    });
    let coverage = judged.count() as f64 / askable.count().max(1) as f64;
    let some_odd = analysis.families.iter().map(|held| 1.0 - held.none).fold(0.0, f64::max).min(0.99);
    let known = coverage * (1.0 - some_odd);
    let one = |cause, rows: &[&Row<'_>], certainty: f64, text: &str| Explanation {
        cause,
        circuits: circuits(rows),
        certainty,
        reasons_for: vec![Reason { text: text.to_owned(), measurements: ids(rows) }],
        reasons_against: Vec::new(),
    };
    let mut all = Vec::new();
    if !disagree.is_empty() {
        all.push(one(
            Cause::Undetermined,
            &disagree,
            coverage * some_odd,
            "members of a family disagree, and no majority says which is right",
        ));
    }
    let rest = 1.0 - known - if disagree.is_empty() { 0.0 } else { coverage * some_odd };
    if rest > 0.0 {
        let text = if coverage < 1.0 {
            "not everything was measured, or could be judged"
        } else {
            "a small fault may hide in what meter, contact and tolerance allow"
        };
        all.push(one(Cause::Undetermined, &[], rest, text));
    }
    let code: Vec<&Row<'_>> = analysis
        .rows
        .iter()
        .filter(|row| {
            row.taken()
                && analysis.evidence.codes.iter().any(|code| {
                    code.circuit.as_ref() == Some(&row.circuit.id)
                        && standing(analysis, code.circuit.as_ref()) == Standing::Sound
                })
        })
        .collect();
    let bad_drop = observed.iter().find(|one| {
        matches!(one.about, super::About::Load | super::About::VoltageDrop | super::About::Loop)
            && one.sound == Some(false)
    });
    // Sound readings with a code still there, or with a bad joint under load: the fault is elsewhere.
    let mut nothing = known;
    if let Some(drop) = bad_drop {
        all.push(Explanation {
            cause: Cause::Wiring,
            circuits: drop.circuits.clone(),
            certainty: 0.8 * known,
            reasons_for: vec![Reason { text: drop.text.clone(), measurements: drop.measurements.clone() }],
            reasons_against: Vec::new(),
        });
        nothing *= 0.2;
    }
    if !code.is_empty() {
        let harness = code.iter().any(|row| row.station == Station::Harness);
        let (control, wiring, connection) = if harness { (0.6, 0.1, 0.25) } else { (0.35, 0.3, 0.3) };
        for (cause, share, text) in [
            (
                Cause::ControlOrMechanical,
                control,
                if harness {
                    "a stored code names the circuit, and it reads sound at the part and through the harness: feeds and \
                     earths under load are still to be checked before the control unit is named"
                } else {
                    "a stored code names the circuit, and it reads sound at the part"
                },
            ),
            (Cause::Wiring, wiring, "a stored code names the circuit: the fault may be in its wires"),
            (
                Cause::Connection,
                connection,
                "a stored code names the circuit: the fault may come and go in a contact",
            ),
        ] {
            let mut explanation = one(cause, &code, nothing * share, text);
            if cause == Cause::Wiring && harness {
                explanation.reasons_against.push(Reason {
                    text: "through the harness it reads sound".to_owned(),
                    measurements: ids(&code),
                });
            }
            all.push(explanation);
        }
        nothing *= 0.05;
    }
    if nothing > 0.0 {
        all.push(one(
            Cause::NothingFound,
            &[],
            nothing.min(MOST_CERTAIN),
            &format!("{} readings, none of them off", ids(&taken).len()),
        ));
    }
    all
}

fn not_excluded(analysis: &Analysis<'_>, suspects: &[&Row<'_>]) -> Vec<String> {
    let mut list = Vec::new();
    for row in suspects.iter().filter(|row| !row.confirmed && !is_open(row.class)) {
        list.push(format!(
            "A bad contact at {}: its terminal was not cleaned and probed again.",
            row.circuit.name
        ));
    }
    for row in suspects.iter().filter(|row| is_open(row.class)) {
        list.push(if row.confirmed {
            format!("{}: the terminal itself, or a wire behind it inside the part.", row.circuit.name)
        } else {
            format!("A bad contact at {}: the contact check is not finished.", row.circuit.name)
        });
    }
    let names = |pick: &dyn Fn(&Row<'_>) -> bool| {
        let mut all: Vec<&str> = Vec::new();
        for row in analysis.rows.iter().filter(|row| pick(row)) {
            if !all.contains(&row.circuit.name.as_str()) {
                all.push(&row.circuit.name);
            }
        }
        all.join(", ")
    };
    let missing = names(&|row| row.class == Class::NotTaken && row.circuit.never_ohmmeter.is_none());
    if !missing.is_empty() {
        list.push(format!("Not measured: {missing}."));
    }
    let unjudged = names(&|row| row.class == Class::NotJudged);
    if !unjudged.is_empty() {
        list.push(format!("Measured, but nothing to judge by: {unjudged}."));
    }
    let never = names(&|row| row.circuit.never_ohmmeter.is_some());
    if !never.is_empty() {
        list.push(format!("No ohmmeter may touch: {never}."));
    }
    if !analysis.at(Station::Harness).any(Row::taken) {
        list.push("The harness: nothing was measured through it.".to_owned());
    }
    if !analysis.at(Station::Case).any(Row::taken) {
        list.push("Leakage to case: not measured.".to_owned());
    } else {
        list.push("Insulation at working voltage: a meter's few volts do not prove it.".to_owned());
    }
    if analysis.rows.iter().any(|row| row.reduced.unsteady_before) {
        list.push("An intermittent contact: a circuit was unsteady before it read a number.".to_owned());
    }
    for row in analysis.rows.iter().filter(|row| row.reduced.cleaning_changed && !row.class.is_suspect()) {
        list.push(format!(
            "{} read otherwise before its terminal was cleaned: the contact may fail again.",
            row.circuit.name
        ));
    }
    list
}

fn cautions(analysis: &Analysis<'_>) -> Vec<String> {
    let mut list: Vec<String> = CAUTIONS.iter().map(|text| (*text).to_owned()).collect();
    if analysis.meter.is_none() {
        list.push(format!(
            "No meter file: its accuracy was taken for ±({} % + {} digits).",
            super::meter::ASSUMED_PERCENT,
            super::meter::ASSUMED_DIGITS
        ));
    }
    if analysis.evidence.part_temperature.is_none() {
        list.push("The temperature of the part is not known; windows were widened for it.".to_owned());
    }
    if analysis.leads.slack > 0.0 {
        list.push("The leads were not measured.".to_owned());
    } else if analysis.leads.off > super::single::LEADS_AT_MOST {
        list.push(format!("The leads read {} Ω: they may be damaged.", trim(analysis.leads.off)));
    } else if analysis.leads.count > 1 && analysis.leads.spread > 0.2 {
        list.push(format!(
            "The leads read up to {} Ω apart: they may be damaged.",
            trim(analysis.leads.spread)
        ));
    }
    if analysis
        .rows
        .iter()
        .any(|row| row.taken() && row.circuit.suppression == Some(crate::profile::Suppression::Diode))
    {
        list.push(
            "A suppression diode lies across a circuit: which probe is where changes what it reads."
                .to_owned(),
        );
    }
    list
}
