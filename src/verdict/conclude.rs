//! Owns what the whole amounts to: explanations with their certainties, what was not excluded, what stands on every one.

use super::{
    Cause, Class, Conclusion, Explanation, Hypothesis, Reason, Station,
    analysis::{Analysis, Row},
    causes::{self, CAUSES},
    headline, level,
    meter::trim,
    patterns::is_open,
};
use crate::profile::CircuitId;

/// What stands on every conclusion.
pub const CAUTIONS: [&str; 2] = [
    "Sound ohms do not prove that the part works: a valve may stick and a joint may fail under load.",
    "This is an aid to a skilled person, not an approval. The maker's service information comes first.",
];
/// Makes the conclusion.
pub(super) fn conclude(analysis: &Analysis<'_>) -> Conclusion {
    let stories = level::stories(analysis);
    let level = level::level(analysis, &stories);
    let explanations = explanations(analysis);
    let smallest = smallest_seen(analysis);
    let (advice, if_wrong) = level::advice(level, stories.first(), &explanations);
    let suspects: Vec<&Row<'_>> = analysis.rows.iter().filter(|row| row.class.is_suspect()).collect();
    Conclusion {
        level,
        hypotheses: analysis.hypotheses.iter().filter(|one| one.probability >= SHOWN).cloned().collect(),
        advice,
        if_wrong,
        smallest_seen: smallest.map(|share| 100.0 * share),
        headline: headline::headline(analysis, level, &stories, smallest),
        explanations,
        not_excluded: not_excluded(analysis, &suspects),
        cautions: cautions(analysis),
    }
}

/// Hypotheses below this are not listed.
const SHOWN: f64 = 0.001;

/// The largest of the circuits' smallest deviations that would have shown, as a share; none where nothing was judged.
fn smallest_seen(analysis: &Analysis<'_>) -> Option<f64> {
    analysis
        .rows
        .iter()
        .filter(|row| row.station != Station::Case && row.weighed.judged)
        .filter_map(|row| row.weighed.smallest)
        .reduce(f64::max)
}

fn ids(rows: &[&Row<'_>]) -> Vec<u32> {
    let mut all: Vec<u32> = rows.iter().flat_map(|row| row.reduced.ids.iter().copied()).collect();
    all.sort_unstable();
    all.dedup();
    all
}

/// Causes with the sums of the probabilities of what they are behind.
fn explanations(analysis: &Analysis<'_>) -> Vec<Explanation> {
    let mut all: Vec<Explanation> = Vec::new();
    let mut add =
        |cause: Cause, certainty: f64, circuits: &[CircuitId], reason: &str, measurements: Vec<u32>| {
            let at = all.iter().position(|known| known.cause == cause).unwrap_or_else(|| {
                all.push(Explanation {
                    cause,
                    circuits: Vec::new(),
                    certainty: 0.0,
                    reasons_for: Vec::new(),
                    reasons_against: Vec::new(),
                });
                all.len() - 1
            });
            let one = &mut all[at];
            one.certainty += certainty;
            if certainty < 0.01 && !one.reasons_for.is_empty() {
                return;
            }
            for id in circuits {
                if !one.circuits.contains(id) {
                    one.circuits.push(id.clone());
                }
            }
            let chance = (100.0 * certainty).round();
            one.reasons_for.push(Reason {
                text: if chance >= 1.0 { format!("{reason} ({chance:.0} %)") } else { reason.to_owned() },
                measurements,
            });
        };
    let taken: Vec<&Row<'_>> = analysis.rows.iter().filter(|row| row.taken()).collect();
    let every = ids(&taken);
    // What was not judged is not known to be sound.
    let read = level::read(analysis);
    let covered = if read.askable == 0 {
        0.0
    } else {
        read.taken.saturating_sub(read.open + read.unjudged) as f64 / read.askable as f64
    };
    for one in &analysis.hypotheses {
        let about = causes::circuits(&one.hypothesis);
        let rows: Vec<&Row<'_>> = about.iter().filter_map(|id| causes::blamed(analysis, id)).collect();
        let measurements = if rows.is_empty() { every.clone() } else { ids(&rows) };
        let reason = headline::short(analysis, &one.hypothesis);
        match &one.hypothesis {
            Hypothesis::Nothing => {
                let text = format!("{} readings, none of them off", every.len());
                if covered > 0.0 {
                    add(Cause::NothingFound, one.probability * covered, &[], &text, every.clone());
                }
                if covered < 1.0 {
                    add(
                        Cause::Undetermined,
                        one.probability * (1.0 - covered),
                        &[],
                        "circuits that were not read, or could not be judged",
                        Vec::new(),
                    );
                }
            }
            Hypothesis::Other | Hypothesis::Disagree { .. } => {
                add(Cause::Undetermined, one.probability, &about, &reason, measurements);
            }
            hypothesis => {
                for (cause, weight) in CAUSES.iter().zip(causes::of(analysis, hypothesis)) {
                    if weight * one.probability > 1e-6 {
                        add(*cause, weight * one.probability, &about, &reason, measurements.clone());
                    }
                }
            }
        }
    }
    for one in &mut all {
        one.reasons_for.truncate(6);
    }
    let sum: f64 = all.iter().map(|one| one.certainty).sum();
    let floor = 0.002 * sum;
    all.retain(|one| one.certainty >= floor);
    let sum: f64 = all.iter().map(|one| one.certainty).sum();
    for one in &mut all {
        one.certainty /= sum.max(1e-12);
        against(analysis, one);
    }
    all.sort_by(|a, b| b.certainty.total_cmp(&a.certainty));
    if all.is_empty() {
        all.push(Explanation {
            cause: Cause::Undetermined,
            circuits: Vec::new(),
            certainty: 1.0,
            reasons_for: Vec::new(),
            reasons_against: Vec::new(),
        });
    }
    all
}

/// What speaks against a cause.
fn against(analysis: &Analysis<'_>, one: &mut Explanation) {
    for id in &one.circuits {
        let Some(row) = causes::blamed(analysis, id) else { continue };
        if one.cause == Cause::Connection && row.reduced.cleaned > 0 && row.class.is_suspect() {
            one.reasons_against.push(Reason {
                text: format!("{} stayed so with the terminal cleaned and probed again", row.circuit.name),
                measurements: row.reduced.ids.clone(),
            });
        }
    }
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
