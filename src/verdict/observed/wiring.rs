//! Owns the wires under load, the drops over their joints, and what they add between both ends.

use super::name;
use crate::{
    profile::DropLimit,
    quantity::{Amperes, Decimal, Prefix, Reading, Shown, Unit, Volts},
    verdict::{
        About, LimitBy, Observation, Observed, Saying, Station, UnderLoad, WiresAdd, analysis::Analysis,
        meter, said::figure, wires,
    },
};

/// The most that one joint may lose where no maker's limit is given, in volts (common practice, no source: 0.1 to 0.2).
pub const DROP_AT_A_JOINT: f64 = 0.2;
/// The most that a wire with its joints may lose where no maker's limit is given, in volts (common practice, no source).
pub const DROP_OF_A_WIRE: f64 = 0.5;

pub(super) fn loads(analysis: &Analysis<'_>, all: &mut Vec<Observed>) {
    for load in &analysis.evidence.further.loads {
        let lost = load.supply.get() - load.at_load.get();
        let known = analysis.profile.circuit(&load.circuit).and_then(|one| one.drop_limits.wire.as_ref());
        let (limit, by) = limit(load.limit, known, DROP_OF_A_WIRE);
        let expanded = expanded_of_difference(analysis, load.supply, load.at_load);
        let at = load.current.map(Amperes::get).map(|current| under(lost, current));
        all.push(Observed {
            about: About::Load,
            circuits: vec![load.circuit.clone()],
            measurements: vec![load.id],
            sound: stand(lost, expanded, limit),
            text: Saying::Value(Observation::Load {
                circuit: name(analysis, &load.circuit).to_owned(),
                lost: figure(lost),
                expanded: figure(expanded),
                supply: figure(load.supply.get()),
                limit: figure(limit),
                by,
                at,
            }),
        });
    }
}

pub(super) fn drops(analysis: &Analysis<'_>, all: &mut Vec<Observed>) {
    for drop in &analysis.evidence.further.drops {
        let circuit = drop.circuit.as_ref().and_then(|id| analysis.profile.circuit(id));
        let limits = circuit.map_or(&analysis.profile.drop_limits, |circuit| &circuit.drop_limits);
        let (limit, by) = limit(drop.limit, limits.joint.as_ref(), DROP_AT_A_JOINT);
        let (joint, most) = (drop.joint.clone(), figure(limit));
        let (sound, text) = match &drop.reading {
            Reading::Value(shown) => {
                let lost = shown.value().abs();
                let accuracy = meter::accuracy(analysis.meter, shown, analysis.evidence.meter_temperature);
                let expanded = 2.0 * (accuracy.half / 3f64.sqrt()).hypot(accuracy.step / 12f64.sqrt());
                let sound = stand(lost, expanded, limit);
                let at = drop.current.map(|current| under(lost, current.get()));
                let (lost, expanded) = (figure(lost), figure(expanded));
                (sound, Observation::Drop { joint, lost, expanded, at, limit: most, by })
            }
            Reading::Unstable { .. } => (Some(false), Observation::DropWanders { joint, limit: most, by }),
            Reading::OverRange { .. } => (None, Observation::DropOverRange { joint, limit: most, by }),
            Reading::NotTaken => (None, Observation::DropNotMeasured { joint, limit: most, by }),
        };
        all.push(Observed {
            about: About::VoltageDrop,
            circuits: drop.circuit.iter().cloned().collect(),
            measurements: vec![drop.id],
            sound,
            text: Saying::Value(text),
        });
    }
}

/// A loss as a resistance.
fn under(lost: f64, current: f64) -> UnderLoad {
    UnderLoad { ohms: figure(lost / current), amperes: figure(current) }
}

/// The limit that came with the observation, else the profile's, else common practice; and whose it is.
fn limit(given: Option<Volts>, known: Option<&DropLimit>, practice: f64) -> (f64, LimitBy) {
    match (given, known) {
        (Some(limit), _) => (limit.get(), LimitBy::Given),
        (None, Some(known)) => (known.volts.get(), LimitBy::Profile { source: known.source.to_string() }),
        (None, None) => (practice, LimitBy::Practice),
    }
}

/// Whether a loss keeps its limit; none where it is closer to it than the meter can tell.
fn stand(lost: f64, expanded: f64, limit: f64) -> Option<bool> {
    if lost + expanded <= limit {
        Some(true)
    } else if lost - expanded > limit {
        Some(false)
    } else {
        None
    }
}

/// Expanded uncertainty (k = 2) of the difference of two voltages read one after the other with one meter, taken as read
/// to 0.01 V. A gain error is the same for both and acts on their difference; last digits and offsets do not cancel
/// (JCGM 100:2008, 5.1.2 and 5.2.2, both limits of correlation).
fn expanded_of_difference(analysis: &Analysis<'_>, one: Volts, other: Volts) -> f64 {
    let of = |volts: Volts| {
        // A display has no more digits than that; beyond, only the range is looked for.
        let hundredths = (volts.get().abs() * 100.0).round().min(1e9) as u64;
        let number = Decimal::new(false, hundredths, 2).expect("ten digits, two places: a display");
        let shown = Shown { number, prefix: Prefix::One, unit: Unit::Volt };
        meter::accuracy(analysis.meter, &shown, analysis.evidence.meter_temperature)
    };
    let (a, b) = (of(one), of(other));
    let gain = (one.get() - other.get()).abs() * a.percent.max(b.percent) / 100.0 * a.widened;
    let digits = |of: &meter::Accuracy| of.digits * of.resolution * of.widened;
    let variance = (gain.powi(2) + digits(&a).powi(2) + digits(&b).powi(2)) / 3.0
        + (a.step.powi(2) + b.step.powi(2)) / 12.0;
    2.0 * variance.sqrt()
}

pub(super) fn loops(analysis: &Analysis<'_>, all: &mut Vec<Observed>) {
    for harness in analysis.at(Station::Harness) {
        let Some(part) = analysis.row(harness.circuit, Station::Component) else { continue };
        let (Some(through), Some(at)) = (harness.number(), part.number()) else { continue };
        let added = through.value - at.value;
        let expanded = 2.0 * through.random.hypot(at.random);
        let mut known = None;
        let sound = harness.circuit.harness.as_ref().map(|wires| {
            let most = wires::loop_at_most(wires.conductor_mm2, wires.length_m, analysis.temperatures.1)
                + 2.0 * through.contact_bound;
            known = Some(WiresAdd { mm2: wires.conductor_mm2, metres: wires.length_m, most: figure(most) });
            added - expanded <= most && added + expanded >= 0.0
        });
        let less = added + expanded < 0.0;
        all.push(Observed {
            about: About::Loop,
            circuits: vec![harness.circuit.id.clone()],
            measurements: part.reduced.ids.iter().chain(&harness.reduced.ids).copied().collect(),
            sound: if less { Some(false) } else { sound },
            text: Saying::Value(Observation::Loop {
                circuit: harness.circuit.name.clone(),
                added: figure(added),
                expanded: figure(expanded),
                wires: known,
                less,
            }),
        });
    }
}
