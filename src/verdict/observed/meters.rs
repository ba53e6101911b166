//! Owns whether the meter can tell the windows of this part at all.

use crate::verdict::{
    About, Observed,
    analysis::Analysis,
    meter::{self, trim},
};

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
                .filter(|other| {
                    other.window.as_ref().is_some_and(|w| (w.low.get(), w.high.get()) == limits)
                })
                .map(|other| other.id.clone())
                .collect(),
            measurements: Vec::new(),
            sound: Some(false),
            text: format!(
                "this meter cannot tell the window {} to {} Ω: in its {} Ω range it is sure to ± {} Ω, the window is ± {} \
                 Ω; like circuits can still be held against each other",
                trim(limits.0),
                trim(limits.1),
                trim(resolves.full_scale),
                trim(resolves.expanded),
                trim(resolves.half_width)
            ),
        });
    }
}
