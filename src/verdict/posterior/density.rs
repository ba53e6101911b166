//! Owns the densities of one reading: sound, or off by an unknown amount.

use super::priors::{KINDS, LARGEST, MATTERS, SMALLEST};
use crate::verdict::stats::{normal_below, normal_between};

const ROOT_2_PI: f64 = 2.506_628_274_631_000_7;
/// An exponential with mean 1 as three normals: weight, mean, deviation.
const EXPONENTIAL: [(f64, f64, f64); 3] = [(0.50, 0.35, 0.22), (0.35, 1.15, 0.42), (0.15, 2.80, 1.10)];

/// What one reading brings with it, in ohms.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Blur {
    /// The display's step.
    pub step: f64,
    /// Mean of what the contact adds.
    pub contact: f64,
    /// Further standard uncertainty of its own.
    pub own: f64,
    /// How many probings were averaged.
    pub count: f64,
}

/// A normal density with rounding to `step`: the exact share of the step when it is coarse, else Sheppard's correction.
pub(super) fn rounded(x: f64, deviation: f64, step: f64) -> f64 {
    if step < 0.5 * deviation {
        let variance = deviation * deviation + step * step / 12.0;
        let z = x * x / variance;
        return if z > 1400.0 { 0.0 } else { (-0.5 * z).exp() / (ROOT_2_PI * variance.sqrt()) };
    }
    let (a, h) = (-x.abs() / deviation, 0.5 * step / deviation);
    normal_between(a - h, a + h) / step
}

/// A sound member's reading at place `m` with spread `s`, normal.
pub(super) fn sound(y: f64, m: f64, s: f64, blur: &Blur) -> f64 {
    let spread = (m * s).hypot(blur.own).max(1e-9);
    let tau = blur.contact;
    if tau < 0.5 * spread || blur.count > 1.5 {
        return rounded(y - m - tau, spread.hypot(tau / blur.count.sqrt()), blur.step);
    }
    EXPONENTIAL.iter().map(|(w, k, b)| w * rounded(y - m - k * tau, spread.hypot(b * tau), blur.step)).sum()
}

/// The same, even within ±√3 s.
pub(super) fn even(y: f64, m: f64, s: f64, blur: &Blur) -> f64 {
    let a = 3f64.sqrt() * m * s;
    let e = (blur.contact * blur.contact / blur.count + blur.step * blur.step / 12.0 + blur.own * blur.own)
        .sqrt()
        .max(1e-9);
    let x = (y - m - blur.contact).abs();
    normal_between((-x - a) / e, (-x + a) / e) / (2.0 * a.max(1e-12))
}

/// A circuit that is off, and the share of that which matters.
pub(super) fn off(y: f64, m: f64, s: f64, blur: &Blur) -> (f64, f64) {
    let noise = blur.contact * blur.contact / blur.count + blur.step * blur.step / 12.0 + blur.own * blur.own;
    let e = (s * s + noise / (m * m)).sqrt().max(1e-9);
    let x = (y - blur.contact) / m - 1.0;
    let size = x.abs();
    let z = (size - SMALLEST) / e;
    let edge = if z > 8.0 { 1.0 } else { normal_below(z) };
    // Beyond the ends of its span the density falls as a normal does.
    let beyond = if x < -1.0 { (-0.5 * ((x + 1.0) / e).powi(2)).exp() } else { 1.0 };
    let wide = size.max(0.7 * SMALLEST) * m;
    let (kind, span) =
        if x < 0.0 { (KINDS[0], (1.0 / SMALLEST).ln()) } else { (KINDS[1], (LARGEST / SMALLEST).ln()) };
    let matter = if z > 12.0 { 1.0 } else { normal_below((size - MATTERS) / e) / edge.max(1e-12) };
    (kind / span * edge * beyond / wide, matter.min(1.0))
}
