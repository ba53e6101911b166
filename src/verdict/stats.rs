//! Owns the plain statistics: normal distribution, median, spread.

/// Probability that a standard normal value is below `z`. Absolute error below 1e-9.
///
/// By the series and the continued fraction of Abramowitz and Stegun (26.2.10, 26.2.14).
#[must_use]
pub fn normal_below(z: f64) -> f64 {
    if z.is_nan() {
        return f64::NAN;
    }
    let x = z.abs();
    if x > 38.0 {
        return if z > 0.0 { 1.0 } else { 0.0 };
    }
    let density = (-0.5 * x * x).exp() / (2.0 * std::f64::consts::PI).sqrt();
    let above = if x < 3.0 {
        let (mut term, mut sum, mut n) = (x, x, 1.0);
        while term > 1e-17 * sum {
            n += 2.0;
            term *= x * x / n;
            sum += term;
        }
        0.5 - density * sum
    } else {
        let mut fraction = x;
        for n in (1..=60).rev() {
            fraction = x + f64::from(n) / fraction;
        }
        density / fraction
    };
    if z > 0.0 { 1.0 - above } else { above }
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
