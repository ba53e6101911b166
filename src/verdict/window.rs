//! Owns a number against its window: limits at the temperature of the part, guard band, probability of conformity.

use super::{single::Number, stats::normal_below, temperature};
use crate::profile::{Circuit, CircuitKind};

/// Temperatures that a part may have when nothing is known, in °C: winter morning to hot engine bay.
pub const UNKNOWN_TEMPERATURE: (f64, f64) = (-30.0, 120.0);

/// Two terminators side by side, in ohms: each 100 to 130 Ω, 120 nominal (ISO 11898-2, termination; the figures from
/// memory). Used for a data bus whose profile has no window.
pub const DATA_BUS: (f64, f64) = (50.0, 65.0);

/// Limits over all temperatures that the part may have.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Limits {
    /// Lowest lower and highest upper limit.
    pub outer: (f64, f64),
    /// Highest lower and lowest upper limit; upside down where no value is sound at all temperatures.
    pub inner: (f64, f64),
    /// The temperatures.
    pub temperatures: (f64, f64),
}

/// The limits of a circuit's window between two temperatures.
pub(super) fn limits(circuit: &Circuit, temperatures: (f64, f64)) -> Option<Limits> {
    let Some(window) = circuit.window.as_ref() else {
        // ISO 11898-2: each end 100 to 130 Ω (120 nominal); two of them side by side have 50 to 65 Ω.
        let bus = (circuit.kind == CircuitKind::DataBus).then_some(DATA_BUS)?;
        return Some(Limits { outer: bus, inner: bus, temperatures });
    };
    let at = |t: f64| {
        let factor = temperature::factor(&circuit.kind, window.at.get(), t);
        (window.low.get() * factor, window.high.get() * factor)
    };
    let (one, other) = (at(temperatures.0), at(temperatures.1));
    Some(Limits {
        outer: (one.0.min(other.0), one.1.max(other.1)),
        inner: (one.0.max(other.0), one.1.min(other.1)),
        temperatures,
    })
}

impl Limits {
    /// Adds what wires may add at most: they widen upwards.
    pub fn with_wires(mut self, at_most: f64) -> Self {
        self.outer.1 += at_most;
        self
    }
}

/// Where a number stands against its window.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Stand {
    /// Inside by more than U, whatever is not known.
    Within,
    /// Inside, but closer than U to a limit.
    WithinDoubtful,
    /// Outside, but closer than U to a limit.
    OutsideDoubtful,
    /// Outside by more than U, whatever is not known.
    Outside,
}

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
}

/// Judges a number (guard band w = U, non-binary: ILAC-G8:09/2019, 4.2.3; probability: JCGM 106:2012, 7.2 and 7.3).
pub(super) fn judge(circuit: &Circuit, number: &Number, limits: &Limits) -> Judged {
    let expanded = number.expanded();
    let (low, high) = (number.value - number.leads.slack, number.value);
    let inside = |value: f64, limits: (f64, f64)| value >= limits.0 && value <= limits.1;
    let stand = if low - expanded >= limits.inner.0 && high + expanded <= limits.inner.1 {
        Stand::Within
    } else if high + expanded < limits.outer.0 || low - expanded > limits.outer.1 {
        Stand::Outside
    } else if inside(low, limits.outer)
        || inside(high, limits.outer)
        || (low < limits.outer.0 && high > limits.outer.1)
    {
        Stand::WithinDoubtful
    } else {
        Stand::OutsideDoubtful
    };
    let standard = number.standard().max(1e-12);
    let at = |t: f64, value: f64| {
        let one = at_temperature(circuit, limits, t);
        normal_below((one.1 - value) / standard) - normal_below((one.0 - value) / standard)
    };
    const STEPS: u32 = 8;
    let (mut sum, mut least, mut most, mut count) = (0.0, 1.0f64, 0.0f64, 0u32);
    let temperature_known = limits.temperatures.0 == limits.temperatures.1;
    let leads_known = number.leads.slack == 0.0;
    for t_step in 0..if temperature_known { 1 } else { STEPS + 1 } {
        let t = limits.temperatures.0
            + (limits.temperatures.1 - limits.temperatures.0) * f64::from(t_step) / f64::from(STEPS);
        for l_step in 0..if leads_known { 1 } else { STEPS + 1 } {
            let p = at(t, high - number.leads.slack * f64::from(l_step) / f64::from(STEPS)).clamp(0.0, 1.0);
            sum += p;
            least = least.min(p);
            most = most.max(p);
            count += 1;
        }
    }
    // 97.7 % is what a guard band of U = 2u leaves at one limit.
    let unknown_decides = !(temperature_known && leads_known)
        && matches!(stand, Stand::WithinDoubtful | Stand::OutsideDoubtful)
        && (most > 0.977 || least < 0.023);
    let never = limits.inner.1 - limits.inner.0 <= 2.0 * expanded;
    Judged {
        stand,
        unknown_decides,
        never,
        conforming: sum / f64::from(count.max(1)),
        between: (least, most),
    }
}

fn at_temperature(circuit: &Circuit, limits: &Limits, t: f64) -> (f64, f64) {
    let Some(window) = circuit.window.as_ref() else { return limits.outer };
    let factor = temperature::factor(&circuit.kind, window.at.get(), t);
    // What wires add to the outer limit is added here as well.
    let wires = limits.outer.1
        - [limits.temperatures.0, limits.temperatures.1]
            .map(|t| window.high.get() * temperature::factor(&circuit.kind, window.at.get(), t))
            .into_iter()
            .fold(f64::NEG_INFINITY, f64::max);
    (window.low.get() * factor, window.high.get() * factor + wires.max(0.0))
}

/// Probability that a circuit alone is off, from its window: sound values lie evenly within, odd ones in every octave of
/// distance from its middle (own assumptions, as for families).
pub(super) fn odd(circuit: &Circuit, number: &Number, limits: &Limits) -> f64 {
    const STEPS: u32 = 8;
    let standard = number.standard().max(1e-12);
    let mut sound = 0.0;
    let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
    for step in 0..=STEPS {
        let share = f64::from(step) / f64::from(STEPS);
        let t = limits.temperatures.0 + (limits.temperatures.1 - limits.temperatures.0) * share;
        let value = number.value - number.leads.slack * share;
        let one = at_temperature(circuit, limits, t);
        let inside = normal_below((one.1 - value) / standard) - normal_below((one.0 - value) / standard);
        sound += inside.max(0.0) / (one.1 - one.0).max(1e-9) / f64::from(STEPS + 1);
        (low, high) = (low.min(one.0), high.max(one.1));
    }
    let middle = (0.5 * (low + high)).max(1e-9);
    let distance = ((number.value - middle).abs() / middle).clamp(0.05, 1.0);
    // The share of parts with a fault, spread over about eight circuits.
    let odd = 0.08 * 0.166_904 / distance / middle;
    odd / (odd + 0.92 * sound)
}

/// Whether a number is nothing but leads and contact: near zero where the circuit is not.
pub(super) fn near_zero(circuit: &Circuit, number: &Number, expected: Option<f64>) -> bool {
    if circuit.kind == CircuitKind::Wire {
        return false;
    }
    let expanded = number.expanded();
    match expected {
        Some(expected) => number.value < 0.1 * expected && number.value + expanded < 0.5 * expected,
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
    let ends = [limits.temperatures.0, limits.temperatures.1].map(|t| at_temperature(circuit, limits, t));
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
