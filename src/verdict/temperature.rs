//! Owns how resistance and temperature go together, for each kind of circuit.

use crate::profile::CircuitKind;

/// Kelvin at 0 °C.
const ZERO_CELSIUS: f64 = 273.15;
/// The temperature at which the resistance of annealed copper, drawn on as a straight line, would be nothing, with its
/// sign turned: 1/0.00393 − 20 (IEC 60028). IEC 60034-1 and IEC 60076-1 use 235.
pub const COPPER: f64 = 234.5;
/// Platinum coefficients A, B and C of IEC 60751:2008, clause 4.
pub const PLATINUM: (f64, f64, f64) = (3.9083e-3, -5.775e-7, -4.183e-12);

/// What a circuit's resistance at one temperature is multiplied by to get it at another one.
///
/// Temperatures in °C. Always finite and above zero.
#[must_use]
pub fn factor(kind: &CircuitKind, from: f64, to: f64) -> f64 {
    let ratio = match kind {
        CircuitKind::CopperCoil | CircuitKind::Wire => (COPPER + to) / (COPPER + from),
        CircuitKind::Linear { alpha_per_k } => {
            (1.0 + alpha_per_k * (to - 20.0)) / (1.0 + alpha_per_k * (from - 20.0))
        }
        CircuitKind::Resistor | CircuitKind::DataBus => 1.0,
        CircuitKind::Platinum { .. } => platinum(to) / platinum(from),
        CircuitKind::Thermistor { b_k, .. } => {
            (b_k * (1.0 / (to + ZERO_CELSIUS) - 1.0 / (from + ZERO_CELSIUS))).exp()
        }
        CircuitKind::ThermistorTable { points } => (table(points, to) - table(points, from)).exp(),
    };
    // A coefficient that makes nothing or less of a resistance is outside of where its straight line holds.
    if ratio.is_finite() && ratio > 0.0 { ratio } else { 1.0 }
}

/// What a sound sensor of temperature reads, in ohms; none for circuits that are no such sensor.
#[must_use]
pub fn resistance(kind: &CircuitKind, celsius: f64) -> Option<f64> {
    let ohms = match kind {
        CircuitKind::Platinum { r0 } => r0.get() * platinum(celsius),
        CircuitKind::Thermistor { r_ref, t_ref, .. } => r_ref.get() * factor(kind, t_ref.get(), celsius),
        CircuitKind::ThermistorTable { points } => table(points, celsius).exp(),
        _ => return None,
    };
    ohms.is_finite().then_some(ohms)
}

/// The temperature in °C that a resistance means: for sensors by their curve, for others against a known pair of
/// resistance and temperature. None where it means none between −200 and 850 °C.
#[must_use]
pub fn temperature(kind: &CircuitKind, ohms: f64, known: Option<(f64, f64)>) -> Option<f64> {
    let celsius = match kind {
        CircuitKind::CopperCoil | CircuitKind::Wire => {
            let (r, t) = known?;
            ohms / r * (COPPER + t) - COPPER
        }
        CircuitKind::Linear { alpha_per_k } => {
            let (r, t) = known?;
            (ohms / r * (1.0 + alpha_per_k * (t - 20.0)) - 1.0) / alpha_per_k + 20.0
        }
        CircuitKind::Resistor | CircuitKind::DataBus => return None,
        CircuitKind::Thermistor { r_ref, t_ref, b_k } => {
            1.0 / (1.0 / (t_ref.get() + ZERO_CELSIUS) + (ohms / r_ref.get()).ln() / b_k) - ZERO_CELSIUS
        }
        CircuitKind::Platinum { .. } | CircuitKind::ThermistorTable { .. } => search(kind, ohms)?,
    };
    (-201.0..=851.0).contains(&celsius).then_some(celsius)
}

/// R(t)/R(0) of platinum, t in °C (IEC 60751:2008, clause 4; the cubic term only below zero).
fn platinum(t: f64) -> f64 {
    let (a, b, c) = PLATINUM;
    let cubic = if t < 0.0 { c * (t - 100.0) * t.powi(3) } else { 0.0 };
    1.0 + a * t + b * t * t + cubic
}

/// ln R from a table of rising temperatures, on straight lines in ln R against 1/T, drawn on past both ends.
fn table(points: &[(crate::quantity::Celsius, crate::quantity::Ohms)], celsius: f64) -> f64 {
    let place = |point: &(crate::quantity::Celsius, crate::quantity::Ohms)| {
        (1.0 / (point.0.get() + ZERO_CELSIUS), point.1.get().ln())
    };
    match points {
        [] => 0.0,
        [only] => only.1.get().ln(),
        _ => {
            let after = points.partition_point(|point| point.0.get() < celsius).clamp(1, points.len() - 1);
            let ((x0, y0), (x1, y1)) = (place(&points[after - 1]), place(&points[after]));
            y0 + (y1 - y0) * ((1.0 / (celsius + ZERO_CELSIUS)) - x0) / (x1 - x0)
        }
    }
}

/// Finds the temperature by halving: all curves here rise or fall all the way.
fn search(kind: &CircuitKind, ohms: f64) -> Option<f64> {
    // A kelvin beyond both ends: a table's rounded value there must not fall outside.
    let (mut low, mut high) = (-201.0, 851.0);
    let off = |t: f64| Some(resistance(kind, t)? - ohms);
    let (at_low, at_high) = (off(low)?, off(high)?);
    if at_low == 0.0 {
        return Some(low);
    }
    if at_low.signum() == at_high.signum() {
        return None;
    }
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if off(middle)?.signum() == at_low.signum() {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(0.5 * (low + high))
}
