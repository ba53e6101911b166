//! Owns how stored codes and readings go together.

use super::name;
use crate::{
    profile::CircuitId,
    verdict::{
        About, Class, CodeStand, Observation, Observed, Saying,
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
        let circuit = code.circuit.as_ref().map(|id| name(analysis, id).to_owned());
        let stand = match standing(analysis, code.circuit.as_ref()) {
            Standing::Agrees => CodeStand::Agrees,
            Standing::Sound => CodeStand::Sound,
            Standing::NotRead => CodeStand::NotRead,
            Standing::NamesNone => CodeStand::NamesNone,
        };
        all.push(Observed {
            about: About::StoredCode,
            circuits: code.circuit.iter().cloned().collect(),
            measurements: Vec::new(),
            sound: None,
            text: Saying::Value(Observation::Code { code: code.text.clone(), circuit, stand }),
        });
    }
}
