//! Owns readings against what the same circuits read on earlier parts. Learned, never published.

use crate::verdict::{
    About, Observation, Observed, Saying,
    analysis::{Analysis, Row},
    said::{decimal, figure},
    temperature,
};

/// A learned reference further away than this many of its standard uncertainties is mentioned.
pub const LEARNED_LIMIT: f64 = 3.0;

/// Distance of a row from a learned reference, in standard uncertainties.
pub(in crate::verdict) fn learned_score(analysis: &Analysis<'_>, row: &Row<'_>) -> Option<(f64, f64, u32)> {
    let number = row.number()?;
    let reference = analysis
        .evidence
        .further
        .references
        .iter()
        .find(|reference| reference.circuit == row.circuit.id && reference.station == row.station)?;
    let middle = 0.5 * (analysis.temperatures.0 + analysis.temperatures.1);
    let factor = |t: f64| temperature::factor(&row.circuit.kind, reference.at.get(), t);
    let expected = reference.median.get() * factor(middle);
    let parts = f64::from(reference.parts);
    // From one part alone the spread between parts is not known: a twentieth is taken (own assumption).
    let spread = reference.spread.map_or(0.05 * expected, |spread| spread.get() * factor(middle));
    let warm = reference.median.get()
        * (factor(analysis.temperatures.1) - factor(analysis.temperatures.0)).abs()
        / 12f64.sqrt();
    let uncertainty =
        (spread * spread * (1.0 + 1.0 / parts) + number.standard().powi(2) + warm * warm).sqrt().max(1e-9);
    Some(((number.value - expected).abs() / uncertainty, expected, reference.parts))
}

pub(super) fn learned(analysis: &Analysis<'_>, all: &mut Vec<Observed>) {
    for row in &analysis.rows {
        let Some((score, expected, parts)) = learned_score(analysis, row) else { continue };
        let Some(number) = row.number() else { continue };
        all.push(Observed {
            about: About::Learned,
            circuits: vec![row.circuit.id.clone()],
            measurements: row.reduced.ids.clone(),
            sound: None,
            text: Saying::Value(Observation::Learned {
                circuit: row.circuit.name.clone(),
                expected: figure(expected),
                parts,
                ohms: figure(number.value),
                far: (score > LEARNED_LIMIT).then(|| decimal(score, 1)),
            }),
        });
    }
}
