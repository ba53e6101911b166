//! Owns whether the meter can tell the windows of this part at all.

use crate::verdict::{About, Observation, Observed, Saying, analysis::Analysis, meter, said::figure};

pub(super) fn resolution(analysis: &Analysis<'_>, all: &mut Vec<Observed>) {
    let Some(meter) = analysis.meter else { return };
    let mut seen: Vec<(f64, f64)> = Vec::new();
    for circuit in &analysis.profile.circuits {
        let Some(window) = &circuit.window else { continue };
        let limits = (window.low.get(), window.high.get());
        if seen.contains(&limits) {
            continue;
        }
        seen.push(limits);
        let Some(resolves) = meter::resolves(meter, limits.0, limits.1) else { continue };
        if resolves.can_pass {
            continue;
        }
        all.push(Observed {
            about: About::Meter,
            circuits: analysis
                .profile
                .circuits
                .iter()
                .filter(|other| other.window.as_ref().is_some_and(|w| (w.low.get(), w.high.get()) == limits))
                .map(|other| other.id.clone())
                .collect(),
            measurements: Vec::new(),
            sound: Some(false),
            text: Saying::Value(Observation::TooCoarse {
                low: figure(limits.0),
                high: figure(limits.1),
                full_scale: figure(resolves.full_scale),
                expanded: figure(resolves.expanded),
                half_width: figure(resolves.half_width),
            }),
        });
    }
}
