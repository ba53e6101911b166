//! Owns the textbook outlier tests, as cross-checks: they do not decide, but a colleague may know them.

use super::stats;

/// Grubbs' test of one value against the others.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Grubbs {
    /// Place of the value furthest from the mean.
    pub at: usize,
    /// Its distance from the mean in standard deviations.
    pub g: f64,
    /// What G has to exceed (two-sided).
    pub critical: f64,
}

/// Grubbs' two-sided test at a level such as 0.05. None below three values, or where all are equal.
///
/// NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.17.1.
#[must_use]
pub fn grubbs(values: &[f64], level: f64) -> Option<Grubbs> {
    let (mean, deviation) = (stats::mean(values)?, stats::deviation(values)?);
    if values.len() < 3 || deviation <= 0.0 {
        return None;
    }
    let (at, g) = furthest(values, mean, deviation)?;
    let n = values.len() as f64;
    Some(Grubbs { at, g, critical: grubbs_critical(values.len(), level / (2.0 * n)) })
}

/// What G has to exceed for `count` values, with the given probability in the tail of Student's t.
#[must_use]
pub fn grubbs_critical(count: usize, tail: f64) -> f64 {
    let n = count as f64;
    let t = stats::student_above(tail, n - 2.0);
    (n - 1.0) / n.sqrt() * (t * t / (n - 2.0 + t * t)).sqrt()
}

/// The generalised extreme studentised deviate test (Rosner 1983): the places of the outliers, furthest first, at most
/// `most` of them.
///
/// NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.17.3.
#[must_use]
pub fn generalised_esd(values: &[f64], most: usize, level: f64) -> Vec<usize> {
    let mut left: Vec<(usize, f64)> = values.iter().copied().enumerate().collect();
    let n = values.len() as f64;
    let mut removed = Vec::new();
    let mut outliers = 0;
    for step in 1..=most.min(values.len().saturating_sub(2)) {
        let now: Vec<f64> = left.iter().map(|(_, value)| *value).collect();
        let (Some(mean), Some(deviation)) = (stats::mean(&now), stats::deviation(&now)) else { break };
        if deviation <= 0.0 {
            break;
        }
        let Some((place, r)) = furthest(&now, mean, deviation) else { break };
        let i = step as f64;
        let free = n - i - 1.0;
        if free < 1.0 {
            break;
        }
        let t = stats::student_above(level / (2.0 * (n - i + 1.0)), free);
        let critical = (n - i) * t / ((free + t * t) * (n - i + 1.0)).sqrt();
        removed.push(left.remove(place).0);
        if r > critical {
            outliers = step;
        }
    }
    removed.truncate(outliers);
    removed
}

fn furthest(values: &[f64], mean: f64, deviation: f64) -> Option<(usize, f64)> {
    values
        .iter()
        .map(|value| (value - mean).abs() / deviation)
        .enumerate()
        .max_by(|(_, a), (_, b)| a.total_cmp(b))
}
