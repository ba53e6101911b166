//! Owns the temperatures that readings imply: of a family by its window, of a sensor by its curve.

use crate::{
    profile::CircuitKind,
    verdict::{
        About, Observation, Observed, Saying, Station,
        analysis::{Analysis, Row},
        said::figure,
        temperature,
    },
};

pub(super) fn temperatures(analysis: &Analysis<'_>, all: &mut Vec<Observed>) {
    for held in analysis.families.iter().filter(|held| held.station == Station::Component && held.sound >= 2)
    {
        let (Some(common), Some(family)) = (held.common, analysis.profile.families.get(held.family)) else {
            continue;
        };
        let members: Vec<&Row<'_>> = analysis
            .at(Station::Component)
            .filter(|row| row.circuit.family.as_ref() == Some(&family.id) && row.number().is_some())
            .collect();
        let Some((circuit, window)) =
            members.first().and_then(|row| Some((row.circuit, row.circuit.window.as_ref()?)))
        else {
            continue;
        };
        let shared = members[0].number().map_or(0.0, |number| number.shared);
        let at = |ohms: f64, known: f64| {
            temperature::temperature(&circuit.kind, ohms, Some((known, window.at.get())))
        };
        let middle = 0.5 * (window.low.get() + window.high.get());
        let (Some(likely), Some(low), Some(high)) = (
            at(common, middle),
            at(common - 2.0 * shared, window.high.get()),
            at(common + 2.0 * shared, window.low.get()),
        ) else {
            continue;
        };
        let (low, high) = (low.min(high), low.max(high));
        let said = analysis.evidence.part_temperature;
        let sound = said.map(|said| said.high.get() >= low && said.low.get() <= high);
        all.push(Observed {
            about: About::Temperature,
            circuits: members.iter().map(|row| row.circuit.id.clone()).collect(),
            measurements: members.iter().flat_map(|row| row.reduced.ids.clone()).collect(),
            sound,
            text: Saying::Value(Observation::FamilyTemperature {
                family: family.title.clone(),
                ohms: figure(common),
                likely: likely.round() as i32,
                low: low.round() as i32,
                high: high.round() as i32,
                agrees: sound,
            }),
        });
    }
    for row in analysis.rows.iter().filter(|row| row.station != Station::Case) {
        let Some(number) = row.number() else { continue };
        if !matches!(
            row.circuit.kind,
            CircuitKind::Platinum { .. }
                | CircuitKind::Thermistor { .. }
                | CircuitKind::ThermistorTable { .. }
        ) {
            continue;
        }
        let (circuit, ohms) = (row.circuit.name.clone(), figure(number.value));
        let text = match temperature::temperature(&row.circuit.kind, number.value, None) {
            Some(t) => Observation::SensorTemperature { circuit, ohms, celsius: t.round() as i32 },
            None => Observation::SensorNowhere { circuit, ohms },
        };
        all.push(Observed {
            about: About::Temperature,
            circuits: vec![row.circuit.id.clone()],
            measurements: row.reduced.ids.clone(),
            sound: None,
            text: Saying::Value(text),
        });
    }
}
