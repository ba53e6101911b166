//! Owns what the whole amounts to: explanations with their certainties, what was not excluded, what stands on every one.

use super::{
    Cause, Caveat, Class, Conclusion, Explanation, Grounds, Hypothesis, NotExcluded, Reason, Saying, Station,
    Suspicion,
    analysis::{Analysis, Row},
    causes::{self, CAUSES},
    headline, level,
    patterns::is_open,
    said::figure,
};
use crate::profile::CircuitId;

/// What stands on every conclusion.
pub const CAUTIONS: [Caveat; 2] = [Caveat::SoundOhms, Caveat::AnAid];

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
        headline: Saying::Value(headline::headline(analysis, level, &stories, smallest)),
        explanations,
        not_excluded: not_excluded(analysis, &suspects).into_iter().map(Saying::Value).collect(),
        cautions: cautions(analysis).into_iter().map(Saying::Value).collect(),
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

/// What a reason says, before it is known how likely.
enum Told {
    NoneOff,
    NotJudged,
    Suspected(Suspicion),
}

/// Causes with the sums of the probabilities of what they are behind.
fn explanations(analysis: &Analysis<'_>) -> Vec<Explanation> {
    let mut all: Vec<Explanation> = Vec::new();
    let mut add =
        |cause: Cause, certainty: f64, circuits: &[CircuitId], reason: &Told, measurements: Vec<u32>| {
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
            let percent = Some((100.0 * certainty).round() as u32).filter(|percent| *percent >= 1);
            let text = match reason {
                Told::NoneOff => Grounds::NoneOff { readings: measurements.len(), percent },
                Told::NotJudged => Grounds::NotJudged { percent },
                Told::Suspected(what) => Grounds::Suspected { what: what.clone(), percent },
            };
            one.reasons_for.push(Reason { text: Saying::Value(text), measurements });
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
        let reason = Told::Suspected(headline::short(analysis, &one.hypothesis));
        match &one.hypothesis {
            Hypothesis::Nothing => {
                if covered > 0.0 {
                    add(Cause::NothingFound, one.probability * covered, &[], &Told::NoneOff, every.clone());
                }
                if covered < 1.0 {
                    add(
                        Cause::Undetermined,
                        one.probability * (1.0 - covered),
                        &[],
                        &Told::NotJudged,
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
                text: Saying::Value(Grounds::StayedSo { circuit: row.circuit.name.clone() }),
                measurements: row.reduced.ids.clone(),
            });
        }
    }
}

fn not_excluded(analysis: &Analysis<'_>, suspects: &[&Row<'_>]) -> Vec<NotExcluded> {
    let mut list = Vec::new();
    let name = |row: &Row<'_>| row.circuit.name.clone();
    for row in suspects.iter().filter(|row| !row.confirmed && !is_open(row.class)) {
        list.push(NotExcluded::BadContact { circuit: name(row) });
    }
    for row in suspects.iter().filter(|row| is_open(row.class)) {
        list.push(if row.confirmed {
            NotExcluded::TerminalOrInside { circuit: name(row) }
        } else {
            NotExcluded::ContactUnchecked { circuit: name(row) }
        });
    }
    let names = |pick: &dyn Fn(&Row<'_>) -> bool| {
        let mut all: Vec<String> = Vec::new();
        for row in analysis.rows.iter().filter(|row| pick(row)) {
            if !all.contains(&row.circuit.name) {
                all.push(name(row));
            }
        }
        all
    };
    let missing = names(&|row| row.class == Class::NotTaken && row.circuit.never_ohmmeter.is_none());
    let unjudged = names(&|row| row.class == Class::NotJudged);
    let never = names(&|row| row.circuit.never_ohmmeter.is_some());
    if !missing.is_empty() {
        list.push(NotExcluded::NotMeasured { circuits: missing });
    }
    if !unjudged.is_empty() {
        list.push(NotExcluded::NothingToJudgeBy { circuits: unjudged });
    }
    if !never.is_empty() {
        list.push(NotExcluded::NoOhmmeter { circuits: never });
    }
    if !analysis.at(Station::Harness).any(Row::taken) {
        list.push(NotExcluded::Harness);
    }
    let case = analysis.at(Station::Case).any(Row::taken);
    list.push(if case { NotExcluded::Insulation } else { NotExcluded::Leakage });
    if analysis.rows.iter().any(|row| row.reduced.unsteady_before) {
        list.push(NotExcluded::Intermittent);
    }
    for row in analysis.rows.iter().filter(|row| row.reduced.cleaning_changed && !row.class.is_suspect()) {
        list.push(NotExcluded::MayFailAgain { circuit: name(row) });
    }
    list
}

fn cautions(analysis: &Analysis<'_>) -> Vec<Caveat> {
    let mut list = CAUTIONS.to_vec();
    if analysis.meter.is_none() {
        list.push(Caveat::NoMeterFile {
            percent: super::meter::ASSUMED_PERCENT,
            digits: super::meter::ASSUMED_DIGITS,
        });
    }
    if analysis.evidence.part_temperature.is_none() {
        list.push(Caveat::NoTemperature);
    }
    if analysis.leads.slack > 0.0 {
        list.push(Caveat::NoLeads);
    } else if analysis.leads.off > super::single::LEADS_AT_MOST {
        list.push(Caveat::HighLeads { ohms: figure(analysis.leads.off) });
    } else if analysis.leads.count > 1 && analysis.leads.spread > 0.2 {
        list.push(Caveat::UnsteadyLeads { ohms: figure(analysis.leads.spread) });
    }
    let diode = Some(crate::profile::Suppression::Diode);
    if analysis.rows.iter().any(|row| row.taken() && row.circuit.suppression == diode) {
        list.push(Caveat::Diode);
    }
    list
}
