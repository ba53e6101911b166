//! Owns what several circuits show together.

use super::{
    Class, Hypothesis, Pattern, PatternKind, Saying, Together, analysis::Analysis, causes, headline, level,
    said::figure,
};

/// From this probability on a hypothesis is shown as a pattern.
const SHOWN: f64 = 0.3;

/// What several show together, by the posterior; and what moved while measuring.
pub(super) fn find(analysis: &Analysis<'_>) -> Vec<Pattern> {
    let mut found: Vec<Pattern> = Vec::new();
    for story in level::stories(analysis).iter().filter(|story| story.probability >= SHOWN) {
        of(analysis, &story.hypothesis, &mut found);
    }
    found.extend(drift(analysis));
    found
}

fn of(analysis: &Analysis<'_>, hypothesis: &Hypothesis, found: &mut Vec<Pattern>) {
    let kind = match hypothesis {
        Hypothesis::Faulty { circuits } if circuits.len() == 1 => PatternKind::OneOutlier,
        Hypothesis::SharedOpen { .. } | Hypothesis::LeadsBroken => PatternKind::EverythingOpen,
        Hypothesis::SharedResistance { .. } | Hypothesis::LeadZero { .. } | Hypothesis::WireShared { .. } => {
            PatternKind::SharedOffset
        }
        Hypothesis::FamilyOff { .. } | Hypothesis::Temperature { .. } => PatternKind::SharedFactor,
        Hypothesis::Joined { .. } => PatternKind::Joined,
        Hypothesis::Swapped { .. } => PatternKind::Swapped,
        Hypothesis::Disagree { .. } => PatternKind::Undecided,
        Hypothesis::Both { all } => return all.iter().for_each(|one| of(analysis, one, found)),
        _ => return,
    };
    found.push(Pattern {
        kind,
        circuits: causes::circuits(hypothesis),
        text: Saying::Value(Together::Suspected(headline::short(analysis, hypothesis))),
    });
}

fn drift(analysis: &Analysis<'_>) -> Option<Pattern> {
    let first = analysis.evidence.measurements.iter().min_by_key(|m| m.id)?;
    let row =
        analysis.rows.iter().find(|row| row.circuit.id == first.circuit && row.station == first.station)?;
    let (from, to) = row.reduced.drift?;
    Some(Pattern {
        kind: PatternKind::Drift,
        circuits: vec![row.circuit.id.clone()],
        text: Saying::Value(Together::Drift {
            circuit: row.circuit.name.clone(),
            from: figure(from),
            to: figure(to),
        }),
    })
}

/// Whether a class says that nothing flows.
pub(super) fn is_open(class: Class) -> bool {
    matches!(class, Class::Open | Class::OverRangeUnchecked)
}
