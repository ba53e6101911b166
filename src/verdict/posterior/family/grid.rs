//! Owns where the sum over spread and place is taken: few points, and those where the readings are.

use super::{
    super::{density::Blur, priors::*},
    Setting,
};

/// One spread with its weight and the weights of the shapes that it has (normal, even).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spread {
    pub s: f64,
    pub weight: f64,
    pub shapes: [f64; 2],
}

/// The spreads: log-normal about tolerance/2.5, and one that is even and fills the tolerance.
pub fn spreads(tolerance: f64, coarse: bool) -> Vec<Spread> {
    let nodes = if coarse { 4 } else { 9 };
    let mut all: Vec<Spread> = (0..nodes)
        .map(|at| {
            let z = if coarse { -1.8 + 1.2 * f64::from(at) } else { -2.6 + 0.65 * f64::from(at) };
            let side = if z < 0.0 { SPREAD_DOWN } else { SPREAD_UP };
            Spread {
                s: tolerance / 2.5 * side.powf(z),
                weight: (-0.5 * z * z).exp() * side.ln(),
                shapes: SHAPES,
            }
        })
        .collect();
    let sum: f64 = all.iter().map(|one| one.weight).sum();
    for one in &mut all {
        one.weight *= (1.0 - FILLS) / sum;
    }
    all.push(Spread { s: tolerance / 3f64.sqrt(), weight: FILLS, shapes: [0.0, 1.0] });
    all
}

/// At the most so many stretches of places, and points in one.
const STRETCHES: usize = 10;
/// See [`STRETCHES`].
const POINTS: f64 = 64.0;

/// Where the place of the group is looked for, as logarithms, with the weights of the trapezoid rule. `values` are in
/// order; `blur` is the finest of the group.
pub fn places(values: &[f64], blur: &Blur, setting: &Setting, s: f64, soft: f64) -> Vec<(f64, f64)> {
    let noise = blur.contact.powi(2) / blur.count + blur.step.powi(2) / 12.0 + blur.own.powi(2);
    let wide = |value: f64| (s * s + noise / value.max(3.0 * blur.step).powi(2)).sqrt().min(0.5);
    // Stretches of values that lie close to each other: from, to, how many, how wide one reading is there.
    let mut stretches: Vec<(f64, f64, f64, f64)> = Vec::new();
    for value in values {
        let (t, e) = (value.ln(), wide(*value));
        match stretches.last_mut() {
            Some(last) if t - last.1 < 4.0 * e => {
                last.1 = t;
                last.2 += 1.0;
            }
            _ => stretches.push((t, t, 1.0, e)),
        }
    }
    if stretches.len() > STRETCHES {
        stretches.sort_by(|a, b| b.2.total_cmp(&a.2));
        stretches.truncate(STRETCHES);
    }
    let mut all: Vec<f64> = Vec::with_capacity(128);
    for (from, to, count, e) in stretches {
        // The mean of so many is known so well; edges of an even spread want finer steps than a normal one.
        let margin = 3.0 * e / count.min(9.0).sqrt();
        let (low, high) = (from - margin, to + margin);
        let step =
            if setting.coarse { 0.45f64.min(1.2 / count.sqrt()) } else { 0.15f64.min(0.8 / count.sqrt()) };
        let points = ((high - low) / (step * e)).ceil().clamp(6.0, POINTS);
        all.extend((0..=points as u32).map(|k| low + (high - low) * f64::from(k) / points));
    }
    if let (Some(first), Some(last)) = (setting.windows.first(), setting.windows.last()) {
        let low = first.0.min(last.0).max(1e-9).ln() - 2.5 * soft;
        let high = first.1.max(last.1).max(2e-9).ln() + 2.5 * soft;
        let count = match (setting.windows.len() > 1, setting.coarse) {
            (true, false) => 48,
            (true, true) => 24,
            (false, false) => 20,
            (false, true) => 10,
        };
        all.extend((0..=count).map(|k| low + (high - low) * f64::from(k) / f64::from(count)));
    }
    all.sort_unstable_by(f64::total_cmp);
    all.dedup_by(|a, b| (*a - *b).abs() < 1e-7);
    let n = all.len();
    (0..n)
        .map(|at| {
            let left = if at > 0 { all[at] - all[at - 1] } else { 0.0 };
            let right = if at + 1 < n { all[at + 1] - all[at] } else { 0.0 };
            (all[at], 0.5 * (left + right))
        })
        .filter(|one| one.1 > 0.0)
        .collect()
}
