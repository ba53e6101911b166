//! Owns a number against its window: limits at the temperature of the part, guard band, probability of conformity.

use super::{single::Number, stats::normal_between, temperature};
use crate::profile::{Circuit, CircuitKind};

/// Temperatures that a part may have when nothing is known, in °C: winter morning to hot engine bay.
pub const UNKNOWN_TEMPERATURE: (f64, f64) = (-30.0, 120.0);

/// Two terminators side by side, in ohms: each 100 to 130 Ω, 120 nominal (ISO 11898-2, termination; the figures from
/// memory). Used for a data bus whose profile has no window.
pub const DATA_BUS: (f64, f64) = (50.0, 65.0);

/// Over an unknown temperature (and unknown leads) figures are taken at so many places, evenly.
const STEPS: usize = 33;

/// Limits over all temperatures that the part may have.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Limits {
    /// Lowest lower and highest upper limit.
    pub outer: (f64, f64),
    /// Highest lower and lowest upper limit; upside down where no value is sound at all temperatures.
    pub inner: (f64, f64),
    /// The temperatures.
    pub temperatures: (f64, f64),
    /// What wires may add at most.
    pub wires: f64,
    /// The limits at temperatures from the lowest to the highest; the first alone where the temperature is known.
    at: [(f64, f64); STEPS],
}

/// The limits of a circuit's window between two temperatures; `wires`: what wires may add at most.
pub(super) fn limits(circuit: &Circuit, temperatures: (f64, f64), wires: f64) -> Option<Limits> {
    let mut at = [(0.0, 0.0); STEPS];
    if let Some(window) = circuit.window.as_ref() {
        let width = temperatures.1 - temperatures.0;
        for (step, one) in at.iter_mut().enumerate() {
            if width == 0.0 && step > 0 {
                break;
            }
            let t = temperatures.0 + width * step as f64 / (STEPS - 1) as f64;
            let factor = temperature::factor(&circuit.kind, window.at.get(), t);
            *one = (window.low.get() * factor, window.high.get() * factor + wires);
        }
        if width == 0.0 {
            at = [at[0]; STEPS];
        }
    } else {
        // ISO 11898-2: each end 100 to 130 Ω (120 nominal); two of them side by side have 50 to 65 Ω.
        let bus = (circuit.kind == CircuitKind::DataBus).then_some(DATA_BUS)?;
        at = [(bus.0, bus.1 + wires); STEPS];
    }
    let (one, other) = (at[0], at[STEPS - 1]);
    Some(Limits {
        outer: (one.0.min(other.0), one.1.max(other.1)),
        inner: (one.0.max(other.0), one.1.min(other.1)),
        temperatures,
        wires,
        at,
    })
}

/// The limits of a circuit's window at one temperature; `wires`: what wires may add at most.
pub(super) fn at(circuit: &Circuit, celsius: f64, wires: f64) -> Option<(f64, f64)> {
    match &circuit.window {
        Some(window) => {
            let factor = temperature::factor(&circuit.kind, window.at.get(), celsius);
            Some((window.low.get() * factor, window.high.get() * factor + wires))
        }
        None => (circuit.kind == CircuitKind::DataBus).then_some((DATA_BUS.0, DATA_BUS.1 + wires)),
    }
}

/// Where a number stands against its window.
pub(super) use super::said::WindowStand as Stand;

/// A number against its limits.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Judged {
    /// Where it stands.
    pub stand: Stand,
    /// True where better knowledge of temperature or leads alone would settle it.
    pub unknown_decides: bool,
    /// True where the guard bands leave nothing between the limits, whatever is read.
    pub never: bool,
    /// Mean probability of conformity over the temperatures and leads that are possible.
    pub conforming: f64,
    /// Lowest and highest of it.
    pub between: (f64, f64),
    /// Probability that the circuit is off, from its window alone.
    pub odd: f64,
}

/// Judges a number (guard band w = U, non-binary: ILAC-G8:09/2019, 4.2.3; probability: JCGM 106:2012, 7.3 for one
/// limit, 7.4 for two; clauses from memory).
pub(super) fn judge(number: &Number, limits: &Limits) -> Judged {
    let expanded = number.expanded();
    let (low, high) = (number.value - number.leads.slack, number.value);
    // No resistance is below nothing: a lower limit of 0 is none, and what reads below is the uncertainty's.
    let one_sided = limits.outer.0 <= 0.0;
    let floor = |limit: f64| if one_sided { -2.0 * expanded } else { limit };
    let (inner, outer) = ((floor(limits.inner.0), limits.inner.1), (floor(limits.outer.0), limits.outer.1));
    let inside = |value: f64, limits: (f64, f64)| value >= limits.0 && value <= limits.1;
    let stand = if low - expanded >= inner.0 && high + expanded <= inner.1 {
        Stand::Within
    } else if high + expanded < outer.0 || low - expanded > outer.1 {
        Stand::Outside
    } else if inside(low, outer) || inside(high, outer) || (low < outer.0 && high > outer.1) {
        Stand::WithinDoubtful
    } else {
        Stand::OutsideDoubtful
    };
    let standard = number.standard().max(1e-12);
    let temperature_known = limits.temperatures.0 == limits.temperatures.1;
    let leads_known = number.leads.slack == 0.0;
    let (mut sum, mut least, mut most, mut count, mut density) = (0.0, 1.0f64, 0.0f64, 0u32, 0.0);
    for one in &limits.at[..if temperature_known { 1 } else { STEPS }] {
        for step in 0..if leads_known { 1 } else { STEPS } {
            let value = high - number.leads.slack * step as f64 / (STEPS - 1) as f64;
            let p = normal_between((floor(one.0) - value) / standard, (one.1 - value) / standard);
            sum += p;
            density += p / (one.1 - one.0).max(1e-9);
            least = least.min(p);
            most = most.max(p);
            count += 1;
        }
    }
    // 97.7 % is what a guard band of U = 2u leaves at one limit.
    let unknown_decides = !(temperature_known && leads_known)
        && matches!(stand, Stand::WithinDoubtful | Stand::OutsideDoubtful)
        && (most > 0.977 || least < 0.023);
    let sides = if one_sided { 1.0 } else { 2.0 };
    let never = limits.inner.1 - limits.inner.0 <= sides * expanded;
    let count = f64::from(count.max(1));
    Judged {
        stand,
        unknown_decides,
        never,
        conforming: sum / count,
        between: (least, most),
        odd: odd(limits, number.value, density / count),
    }
}

/// Probability that a circuit alone is off, from its window: sound values lie evenly within (`density`: mean density of
/// the reading, were it sound), odd ones in every octave of distance from its middle (own assumptions, as for families).
fn odd(limits: &Limits, value: f64, density: f64) -> f64 {
    let middle = (0.5 * (limits.outer.0 + limits.outer.1)).max(1e-9);
    let distance = ((value - middle).abs() / middle).clamp(0.05, 1.0);
    // The share of parts with a fault, spread over about eight circuits.
    let odd = 0.08 * 0.166_904 / distance / middle;
    odd / (odd + 0.92 * density)
}

/// What is left of a short at the most, in ohms: wires, terminals and contacts (common practice, no source). A sensor of
/// kilohms that reads a hundred ohms is off, and not shorted.
const OF_A_SHORT: f64 = 2.0;

/// Whether a number is nothing but leads and contact: near zero where the circuit is not.
pub(super) fn near_zero(circuit: &Circuit, number: &Number, expected: Option<f64>) -> bool {
    if circuit.kind == CircuitKind::Wire {
        return false;
    }
    let expanded = number.expanded();
    match expected {
        Some(expected) => {
            number.value < 0.1 * expected
                && number.value + expanded < 0.5 * expected
                && number.value <= OF_A_SHORT + expanded
        }
        None => number.value <= expanded && number.leads.slack == 0.0,
    }
}

/// What window and temperature lead to expect of a family's common value, as a middle and a standard uncertainty.
///
/// `tolerance`: that of single members, as a fraction: it is part of a window but not of its middle's spread.
pub(super) fn prior(
    circuit: &Circuit,
    limits: &Limits,
    number: &Number,
    tolerance: f64,
) -> Option<super::peers::Prior> {
    let ends = [limits.at[0], limits.at[STEPS - 1]];
    let middles = ends.map(|(low, high)| 0.5 * (low + high));
    let half = ends.iter().map(|(low, high)| 0.5 * (high - low)).fold(0.0, f64::max);
    circuit.window.as_ref()?;
    let centre = 0.5 * (middles[0] + middles[1]);
    let member = tolerance * centre;
    let batch = (half * half - member * member).max(0.25 * half * half) / 3.0;
    let temperature = (middles[1] - middles[0]).powi(2) / 12.0;
    // Leads that were not measured only add: the number is at least the circuit.
    let slack = number.leads.slack;
    Some(super::peers::Prior {
        centre: centre + 0.5 * slack,
        standard: (batch + temperature + number.shared.powi(2) + slack * slack / 12.0).sqrt(),
    })
}
