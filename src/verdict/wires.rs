//! Owns what copper wires add: resistances by cross-section, as tables have them and as computed.

use super::temperature;
use crate::profile::CircuitKind;

/// Resistivity of annealed copper at 20 °C in Ω·mm²/m (IEC 60028: 1/58).
pub const COPPER_RESISTIVITY: f64 = 1.0 / 58.0;

/// Highest resistance of plain conductors at 20 °C in mΩ/m by cross-section in mm² (ISO 6722-1:2011, table of conductor
/// resistances, now in ISO 19642; the figures from memory).
#[expect(clippy::approx_constant, reason = "3.14 mΩ/m is what 6 mm² have")]
const TABLE: [(f64, f64); 14] = [
    (0.22, 84.8),
    (0.35, 54.4),
    (0.5, 37.1),
    (0.75, 24.7),
    (1.0, 18.5),
    (1.5, 12.7),
    (2.0, 9.42),
    (2.5, 7.60),
    (3.0, 6.15),
    (4.0, 4.71),
    (6.0, 3.14),
    (10.0, 1.82),
    (16.0, 1.16),
    (25.0, 0.743),
];

/// The most that a metre of conductor may have at 20 °C, in ohms: from the table, or for other sizes 18.5 mΩ/m for 1 mm² by
/// proportion. None for sizes that are not above zero.
#[must_use]
pub fn most_ohms_per_metre(mm2: f64) -> Option<f64> {
    if !(mm2.is_finite() && mm2 > 0.0) {
        return None;
    }
    let listed = TABLE.iter().find(|(size, _)| (size / mm2 - 1.0).abs() < 1e-6);
    Some(listed.map_or(18.5e-3 / mm2, |(_, milliohms)| milliohms * 1e-3))
}

/// Cross-section in mm² of a wire by its gauge number (ASTM B258: diameter 0.005 inch × 92^((36 − n)/39)). Sizes 0000 to 00
/// are −3 to −1.
#[must_use]
pub fn gauge_mm2(number: i32) -> f64 {
    let millimetres = 0.127 * 92f64.powf(f64::from(36 - number) / 39.0);
    std::f64::consts::FRAC_PI_4 * millimetres * millimetres
}

/// The most that two wires of that size and length may have together at a temperature in °C, in ohms; 0 where size or
/// length are not above zero.
#[must_use]
pub fn loop_at_most(mm2: f64, metres: f64, celsius: f64) -> f64 {
    let warm = temperature::factor(&CircuitKind::CopperCoil, 20.0, celsius);
    most_ohms_per_metre(mm2).map_or(0.0, |ohms| 2.0 * metres.max(0.0) * ohms * warm)
}
