//! Owns how stored codes and readings go together.

use super::name;
use crate::{
    profile::CircuitId,
    verdict::{
        About, Class, Observed,
        analysis::{Analysis, Row},
    },
};

/// How a stored code and the readings go together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::verdict) enum Standing {
    /// It names a circuit that reads off.
    Agrees,
    /// It names a circuit that reads sound.
    Sound,
    /// It names a circuit that was not read, or could not be judged.
    NotRead,
    /// It names none of the profile.
    NamesNone,
}

pub(in crate::verdict) fn standing(analysis: &Analysis<'_>, circuit: Option<&CircuitId>) -> Standing {
    let Some(circuit) = circuit else { return Standing::NamesNone };
    let rows: Vec<&Row<'_>> = analysis.rows.iter().filter(|row| row.circuit.id == *circuit).collect();
    if rows.iter().any(|row| row.class.is_suspect()) {
        Standing::Agrees
    } else if rows.iter().any(|row| !matches!(row.class, Class::NotTaken | Class::NotJudged)) {
        Standing::Sound
    } else {
        Standing::NotRead
    }
}

pub(super) fn codes(analysis: &Analysis<'_>, all: &mut Vec<Observed>) {
    for code in &analysis.evidence.codes {
        let about = code.circuit.as_ref().map_or("no circuit of this part", |id| name(analysis, id));
        let stand = match standing(analysis, code.circuit.as_ref()) {
            Standing::Agrees => "the readings agree",
            Standing::Sound => "the readings at that circuit are sound so far",
            Standing::NotRead => "it was not read yet, or could not be judged",
            Standing::NamesNone => "it does not say which circuit to look at",
        };
        all.push(Observed {
            about: About::StoredCode,
            circuits: code.circuit.iter().cloned().collect(),
            measurements: Vec::new(),
            sound: None,
            text: format!("the stored code {} names {about} (the circuit, not the part): {stand}", code.text),
        });
    }
}
