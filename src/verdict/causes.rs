//! Owns the split of what is wrong into causes: sums of the probabilities of the hypotheses, each shared out by what its
//! readings leave open. The shares are judgement (`posterior/MODEL.md`, "causes").

use super::{
    Cause, Class, Hypothesis, Station,
    analysis::{Analysis, Row},
    single::State,
};
use crate::profile::CircuitId;

/// The causes that one circuit's fault may have, in the order of the weights.
pub(super) const CAUSES: [Cause; 6] = [
    Cause::Component,
    Cause::Wiring,
    Cause::Connection,
    Cause::SharedReturn,
    Cause::ControlOrMechanical,
    Cause::Measurement,
];

/// A contact that cleaning does not cure the first time, and each time after (judgement).
const NOT_CURED: [f64; 2] = [0.12, 0.5];
/// A slip of probe or ear that comes again (judgement).
const SLIPS_AGAIN: f64 = 0.15;

/// What is behind one circuit that is off by itself; sums to 1.
pub(super) fn split(analysis: &Analysis<'_>, row: &Row<'_>) -> [f64; 6] {
    // Component, wiring, connection, shared, control, measurement. A contact only adds.
    let mut weights = match (&row.reduced.state, row.class) {
        (_, Class::Leakage) => [0.88, 0.0, 0.07, 0.0, 0.0, 0.05],
        (State::OverRange { .. }, _) | (_, Class::Open) => [0.36, 0.0, 0.46, 0.0, 0.0, 0.18],
        (State::Wandering { .. }, _) => [0.16, 0.0, 0.72, 0.0, 0.0, 0.12],
        (State::Number(number), _) => {
            let expected = row.weighed.expected.map(|expected| expected.0);
            match expected {
                Some(expected) if number.value < expected => [0.90, 0.0, 0.0, 0.0, 0.0, 0.10],
                _ => [0.36, 0.0, 0.54, 0.0, 0.0, 0.10],
            }
        }
        (State::NotTaken, _) => [0.4, 0.0, 0.4, 0.0, 0.0, 0.2],
    };
    match row.station {
        Station::Component | Station::Case => weights[1] = 0.01,
        Station::Harness => {
            let part = analysis.row(row.circuit, Station::Component).filter(|part| part.taken());
            match part.map(|part| part.weighed.off.unwrap_or(0.5)) {
                Some(off) => {
                    // What the part shows itself is the part's; the rest are wires and their terminals.
                    weights[0] *= off;
                    weights[1] = 0.7 * (1.0 - off) + 0.02;
                    weights[2] *= 0.5;
                }
                None => weights[1] = 0.3,
            }
        }
    }
    // What cleaning made less is a contact, if not all of it yet.
    let improved = row.reduced.cured && row.class.is_suspect();
    if improved {
        weights[2] *= 4.0;
    }
    for count in usize::from(improved)..row.reduced.cleaned.min(3) {
        weights[2] *= if count == 0 { NOT_CURED[0] } else { NOT_CURED[1] };
        weights[5] *= if count == 0 { SLIPS_AGAIN } else { 0.5 };
    }
    if analysis.evidence.codes.iter().any(|code| code.circuit.as_ref() == Some(&row.circuit.id)) {
        // A slip of the probe sets no code.
        weights[5] *= 0.2;
    }
    normalised(weights)
}

fn normalised(mut weights: [f64; 6]) -> [f64; 6] {
    let sum: f64 = weights.iter().sum::<f64>().max(1e-12);
    for weight in &mut weights {
        *weight /= sum;
    }
    weights
}

/// What is behind a hypothesis: weights in the order of [`CAUSES`] that sum to 1 at the most; what is left is
/// [`Cause::NothingFound`] for nothing, else [`Cause::Undetermined`].
pub(super) fn of(analysis: &Analysis<'_>, hypothesis: &Hypothesis) -> [f64; 6] {
    match hypothesis {
        Hypothesis::Nothing | Hypothesis::Disagree { .. } | Hypothesis::Other => [0.0; 6],
        Hypothesis::Faulty { circuits } => {
            let mut sum = [0.0; 6];
            for id in circuits {
                if let Some(row) = blamed(analysis, id) {
                    for (total, weight) in sum.iter_mut().zip(split(analysis, row)) {
                        *total += weight;
                    }
                }
            }
            normalised(sum)
        }
        Hypothesis::FamilyOff { .. } => [0.25, 0.0, 0.0, 0.15, 0.0, 0.60],
        Hypothesis::AllShorted { .. } => [0.30, 0.10, 0.0, 0.10, 0.0, 0.50],
        Hypothesis::SharedOpen { .. } | Hypothesis::SharedResistance { .. } => [0.0, 0.0, 0.0, 1.0, 0.0, 0.0],
        Hypothesis::LeadsBroken
        | Hypothesis::LeadZero { .. }
        | Hypothesis::Temperature { .. }
        | Hypothesis::Slip { .. } => [0.0, 0.0, 0.0, 0.0, 0.0, 1.0],
        Hypothesis::Swapped { .. } => [0.0, 0.35, 0.0, 0.0, 0.0, 0.65],
        Hypothesis::Joined { .. } => [0.60, 0.10, 0.25, 0.0, 0.0, 0.05],
        Hypothesis::PairContradicts { .. } => [0.0, 0.0, 0.35, 0.0, 0.0, 0.65],
        // Wet or dirty pins leak as well, until they were cleaned.
        Hypothesis::ToCase { circuits, .. } => {
            let cleaned = circuits.iter().all(|id| {
                analysis.rows.iter().any(|row| {
                    row.circuit.id == *id && row.station == Station::Case && row.reduced.cleaned > 0
                })
            });
            if cleaned { [0.90, 0.0, 0.07, 0.0, 0.0, 0.03] } else { [0.74, 0.0, 0.20, 0.0, 0.0, 0.06] }
        }
        Hypothesis::Cured { .. } => [0.0, 0.0, 0.97, 0.0, 0.0, 0.03],
        Hypothesis::Wire { .. } => [0.0, 0.72, 0.25, 0.0, 0.0, 0.03],
        Hypothesis::WireShared { .. } => [0.0, 0.40, 0.0, 0.60, 0.0, 0.0],
        Hypothesis::Load { .. } => [0.0, 0.80, 0.20, 0.0, 0.0, 0.0],
        Hypothesis::Elsewhere { circuits } => {
            let harness = circuits.iter().any(|id| {
                analysis.rows.iter().any(|row| {
                    row.circuit.id == *id && row.station == Station::Harness && row.weighed.off.is_some()
                })
            });
            if harness { [0.0, 0.10, 0.25, 0.0, 0.65, 0.0] } else { [0.0, 0.31, 0.31, 0.0, 0.38, 0.0] }
        }
        Hypothesis::Both { all } => {
            let mut sum = [0.0; 6];
            for one in all {
                for (total, weight) in sum.iter_mut().zip(of(analysis, one)) {
                    *total += weight;
                }
            }
            normalised(sum)
        }
    }
}

/// The row that speaks against a circuit most.
pub(super) fn blamed<'r, 'a>(analysis: &'r Analysis<'a>, id: &CircuitId) -> Option<&'r Row<'a>> {
    analysis
        .rows
        .iter()
        .filter(|row| row.circuit.id == *id && row.taken())
        .max_by(|a, b| a.weighed.own.total_cmp(&b.weighed.own))
}

/// The circuits that a hypothesis is about.
pub(super) fn circuits(hypothesis: &Hypothesis) -> Vec<CircuitId> {
    match hypothesis {
        Hypothesis::Nothing
        | Hypothesis::Other
        | Hypothesis::LeadsBroken
        | Hypothesis::LeadZero { .. }
        | Hypothesis::Temperature { .. } => Vec::new(),
        Hypothesis::Faulty { circuits }
        | Hypothesis::FamilyOff { circuits }
        | Hypothesis::Disagree { circuits }
        | Hypothesis::AllShorted { circuits }
        | Hypothesis::SharedOpen { circuits, .. }
        | Hypothesis::SharedResistance { circuits, .. }
        | Hypothesis::Joined { circuits }
        | Hypothesis::PairContradicts { circuits }
        | Hypothesis::Swapped { circuits }
        | Hypothesis::Slip { circuits }
        | Hypothesis::ToCase { circuits, .. }
        | Hypothesis::Cured { circuits }
        | Hypothesis::Wire { circuits }
        | Hypothesis::WireShared { circuits, .. }
        | Hypothesis::Load { circuits }
        | Hypothesis::Elsewhere { circuits } => circuits.clone(),
        Hypothesis::Both { all } => {
            let mut sum: Vec<CircuitId> = Vec::new();
            for id in all.iter().flat_map(circuits) {
                if !sum.contains(&id) {
                    sum.push(id);
                }
            }
            sum
        }
    }
}
