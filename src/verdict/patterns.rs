//! Owns what several circuits show together.

use super::{
    Class, Pattern, PatternKind, Station,
    analysis::{Analysis, Row},
    meter::trim,
    peers, shared,
    single::State,
};

/// All patterns, the most telling first.
pub(super) fn find(analysis: &Analysis<'_>) -> Vec<Pattern> {
    let mut found = Vec::new();
    found.extend(everything_open(analysis));
    found.extend(shared::swapped(analysis));
    found.extend(shared::joined(analysis));
    found.extend(analysis.families.iter().filter_map(|held| shared::shifted(analysis, held)));
    found.extend(drift(analysis));
    for station in [Station::Component, Station::Harness] {
        for family in &analysis.profile.families {
            let rows: Vec<&Row<'_>> = analysis
                .at(station)
                .filter(|row| row.circuit.family.as_ref() == Some(&family.id) && row.taken())
                .collect();
            found.extend(undecided(&rows));
            found.extend(one_outlier(&rows));
        }
    }
    found
}

fn pattern(kind: PatternKind, rows: &[&Row<'_>], text: String) -> Pattern {
    Pattern { kind, circuits: rows.iter().map(|row| row.circuit.id.clone()).collect(), text }
}

fn everything_open(analysis: &Analysis<'_>) -> Option<Pattern> {
    let rows: Vec<&Row<'_>> =
        analysis.rows.iter().filter(|row| row.station != Station::Case && row.taken()).collect();
    let all = rows.len() >= 2 && rows.iter().all(|row| matches!(row.reduced.state, State::OverRange { .. }));
    all.then(|| {
        let common = rows[0].circuit.against.clone();
        let text = if rows.iter().all(|row| row.circuit.against == common) {
            format!("all {} circuits read are over range: common pin {common} or a lead is off", rows.len())
        } else {
            format!(
                "all {} circuits read are over range: a lead, the meter or the connector is off",
                rows.len()
            )
        };
        pattern(PatternKind::EverythingOpen, &rows, text)
    })
}

fn drift(analysis: &Analysis<'_>) -> Option<Pattern> {
    let first = analysis.evidence.measurements.iter().min_by_key(|m| m.id)?;
    let row =
        analysis.rows.iter().find(|row| row.circuit.id == first.circuit && row.station == first.station)?;
    let (from, to) = row.reduced.drift?;
    Some(pattern(
        PatternKind::Drift,
        &[row],
        format!(
            "{} read {} Ω first and {} Ω when read again: leads, temperature or contact moved in between",
            row.circuit.name,
            trim(from),
            trim(to)
        ),
    ))
}

fn undecided(rows: &[&Row<'_>]) -> Option<Pattern> {
    let disagree: Vec<&Row<'_>> = rows
        .iter()
        .filter(|row| row.held.is_some_and(|held| held.stand == peers::Stand::Undecided))
        .copied()
        .collect();
    (!disagree.is_empty()).then(|| {
        let values: Vec<String> = disagree
            .iter()
            .filter_map(|row| Some(format!("{} {} Ω", row.circuit.name, trim(row.number()?.value))))
            .collect();
        pattern(
            PatternKind::Undecided,
            &disagree,
            format!("{}: they disagree, and no majority says which is right", values.join(", ")),
        )
    })
}

fn one_outlier(rows: &[&Row<'_>]) -> Option<Pattern> {
    let (off, like): (Vec<&Row<'_>>, Vec<&Row<'_>>) =
        rows.iter().copied().partition(|row| row.class.is_suspect());
    let ([one], true) = (off.as_slice(), like.len() >= 2) else { return None };
    let others: Vec<f64> = like.iter().filter_map(|row| Some(row.number()?.value)).collect();
    let middle = super::stats::median(&others)?;
    let reads = match (&one.reduced.state, one.class) {
        (State::Number(number), _) => format!("reads {} Ω", trim(number.value)),
        (_, class) => format!("is {}", class.word()),
    };
    Some(pattern(
        PatternKind::OneOutlier,
        &[one],
        format!("{} {reads}, the {} others read about {} Ω", one.circuit.name, others.len(), trim(middle)),
    ))
}

/// Whether a class says that nothing flows.
pub(super) fn is_open(class: Class) -> bool {
    matches!(class, Class::Open | Class::OverRangeUnchecked)
}
