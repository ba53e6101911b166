//! Owns readings between two pins that are no circuit: joined, in a row through their return, or apart.

use crate::{
    profile::{Circuit, PinName},
    quantity::Reading,
    verdict::{
        About, Observation, Observed, Saying, Station, analysis::Analysis, patterns, said::figure, window,
    },
};

pub(super) fn relations(analysis: &Analysis<'_>, all: &mut Vec<Observed>) {
    for relation in &analysis.evidence.further.relations {
        let on = |pin: &PinName| analysis.profile.circuits.iter().find(|circuit| circuit.pin == *pin);
        let (Some(one), Some(other)) = (on(&relation.from), on(&relation.to)) else {
            all.push(plain(
                relation.id,
                &[],
                None,
                Observation::Pins {
                    from: relation.from.to_string(),
                    to: relation.to.to_string(),
                    reading: relation.reading,
                },
            ));
            continue;
        };
        let value = match relation.reading {
            Reading::Value(shown) => Some(shown.value() - analysis.leads.off),
            _ => None,
        };
        let (first, second) = (one.name.clone(), other.name.clone());
        let circuits = [one, other];
        let expected = |circuit: &Circuit| expected(analysis, circuit);
        let sum = expected(one).zip(expected(other)).map(|(a, b)| a + b);
        let same_return = one.against == other.against;
        let near = |value: f64, sum: f64| (value - sum).abs() <= 0.15 * sum + 0.3;
        let (sound, text) = match (value, sum, same_return) {
            (Some(value), Some(sum), _) if value < 0.1 * sum => {
                (Some(false), Observation::Joined { first, second, ohms: figure(value) })
            }
            (Some(value), Some(sum), true) if near(value, sum) => {
                let open = |circuit: &Circuit| {
                    analysis.row(circuit, Station::Component).is_some_and(|row| patterns::is_open(row.class))
                };
                let ohms = figure(value);
                if open(one) && open(other) {
                    let pin = one.against.to_string();
                    (Some(false), Observation::SumPinOpen { first, second, ohms, pin })
                } else {
                    (Some(true), Observation::Sum { first, second, ohms })
                }
            }
            (Some(value), Some(sum), true) => {
                (Some(false), Observation::NotSum { first, second, ohms: figure(value), sum: figure(sum) })
            }
            (None, _, true) if matches!(relation.reading, Reading::OverRange { .. }) => {
                let pin = one.against.to_string();
                (Some(false), Observation::OpenThoughShared { first, second, pin })
            }
            (None, _, false) if matches!(relation.reading, Reading::OverRange { .. }) => {
                (Some(true), Observation::Apart { first, second })
            }
            (Some(value), _, false) => {
                (Some(false), Observation::JoinedApart { first, second, ohms: figure(value) })
            }
            _ => (None, Observation::Pair { first, second, reading: relation.reading }),
        };
        all.push(plain(relation.id, &circuits, sound, text));
    }
}

fn plain(id: u32, circuits: &[&Circuit], sound: Option<bool>, text: Observation) -> Observed {
    Observed {
        about: About::Relation,
        circuits: circuits.iter().map(|circuit| circuit.id.clone()).collect(),
        measurements: vec![id],
        sound,
        text: Saying::Value(text),
    }
}

/// What a circuit should read at the part: what its family has in common, else the middle of its window.
pub(in crate::verdict) fn expected(analysis: &Analysis<'_>, circuit: &Circuit) -> Option<f64> {
    let family = circuit.family.as_ref().and_then(|family| {
        let place = analysis.profile.families.iter().position(|known| known.id == *family)?;
        analysis
            .families
            .iter()
            .find(|held| held.family == place && held.station == Station::Component && held.sound >= 2)?
            .common
    });
    family.or_else(|| {
        let limits = window::limits(circuit, analysis.temperatures, 0.0)?;
        Some(0.5 * (limits.outer.0 + limits.outer.1))
    })
}
