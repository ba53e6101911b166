//! Owns the plain statistics: normal distribution, Student's t, median, spread. The special functions are those of `statrs`.

use statrs::function::{beta::inv_beta_reg, erf::erfc};

/// Probability that a standard normal value is below `z`. Either tail is as exact as the complementary error function
/// of `statrs`.
#[must_use]
pub fn normal_below(z: f64) -> f64 {
    if z.is_nan() {
        return f64::NAN;
    }
    0.5 * erfc(-z * std::f64::consts::FRAC_1_SQRT_2)
}

/// Probability that a standard normal value lies between, to 1e-10: beyond 6.5 tails are taken for nothing.
#[must_use]
pub fn normal_between(low: f64, high: f64) -> f64 {
    if high < -6.5 || low > 6.5 {
        return 0.0;
    }
    let below = |z: f64| {
        if z < -6.5 {
            0.0
        } else if z > 6.5 {
            1.0
        } else {
            normal_below(z)
        }
    };
    (below(high) - below(low)).max(0.0)
}

/// The middle value; the mean of the two middle ones for an even count. None of nothing.
#[must_use]
pub fn median(values: &[f64]) -> Option<f64> {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    median_of_sorted(&sorted)
}

/// As [`median`], of values already in order.
#[must_use]
pub fn median_of_sorted(sorted: &[f64]) -> Option<f64> {
    let middle = sorted.len() / 2;
    match sorted.len() {
        0 => None,
        n if n % 2 == 1 => Some(sorted[middle]),
        _ => Some(0.5 * (sorted[middle - 1] + sorted[middle])),
    }
}

/// Median of the distances from the median, times 1.4826 (a normal distribution's standard deviation).
#[must_use]
pub fn mad(values: &[f64]) -> Option<f64> {
    let centre = median(values)?;
    let distances: Vec<f64> = values.iter().map(|value| (value - centre).abs()).collect();
    Some(1.4826 * median(&distances)?)
}

/// As [`mad`], of values already in order: no second sort, the distances on both sides of the middle are merged.
#[must_use]
pub fn mad_of_sorted(sorted: &[f64]) -> Option<f64> {
    let centre = median_of_sorted(sorted)?;
    let count = sorted.len();
    let (mut right, mut left) = (sorted.partition_point(|value| *value < centre), 0usize);
    left += right;
    let mut distances = (0.0, 0.0);
    for _ in 0..=count / 2 {
        let below = if left > 0 { centre - sorted[left - 1] } else { f64::INFINITY };
        let above = if right < count { sorted[right] - centre } else { f64::INFINITY };
        if below < above {
            left -= 1;
        } else {
            right += 1;
        }
        distances = (distances.1, below.min(above));
    }
    Some(1.4826 * if count % 2 == 1 { distances.1 } else { 0.5 * (distances.0 + distances.1) })
}

/// Mean; none of nothing.
#[must_use]
pub fn mean(values: &[f64]) -> Option<f64> {
    (!values.is_empty()).then(|| values.iter().sum::<f64>() / values.len() as f64)
}

/// Standard deviation of a sample (n − 1); none below two values.
#[must_use]
pub fn deviation(values: &[f64]) -> Option<f64> {
    let centre = mean(values)?;
    (values.len() > 1).then(|| {
        (values.iter().map(|value| (value - centre).powi(2)).sum::<f64>() / (values.len() - 1) as f64).sqrt()
    })
}

/// The value that Student's t with `free` degrees of freedom (above 0) exceeds with probability `tail` (between 0 and
/// 0.5).
#[must_use]
pub fn student_above(tail: f64, free: f64) -> f64 {
    let tail = tail.clamp(1e-12, 0.5);
    // t² is F-distributed: free / (free + t²) has the incomplete beta function for its distribution.
    let share = inv_beta_reg(0.5 * free, 0.5, 2.0 * tail);
    // From the other side, so that a share next to 1 keeps its digits.
    (free * (1.0 - share) / share).max(0.0).sqrt()
}
