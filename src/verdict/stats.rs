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

/// The value that Student's t with `free` degrees of freedom exceeds with probability `tail` (between 0 and 0.5).
#[must_use]
pub fn student_above(tail: f64, free: f64) -> f64 {
    let tail = tail.clamp(1e-12, 0.5);
    let (mut low, mut high) = (0.0, 1.0);
    while student_tail(high, free) > tail && high < 1e12 {
        high *= 2.0;
    }
    for _ in 0..200 {
        let middle = 0.5 * (low + high);
        if student_tail(middle, free) > tail {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}

/// Probability that Student's t with `free` degrees of freedom is above `t` (at least 0).
#[must_use]
pub fn student_tail(t: f64, free: f64) -> f64 {
    0.5 * beta_share(free / (free + t * t), 0.5 * free, 0.5)
}

/// Regularised incomplete beta function by its continued fraction (Abramowitz and Stegun 26.5.8).
fn beta_share(x: f64, a: f64, b: f64) -> f64 {
    if x <= 0.0 {
        return 0.0;
    }
    if x >= 1.0 {
        return 1.0;
    }
    if x > (a + 1.0) / (a + b + 2.0) {
        return 1.0 - beta_share(1.0 - x, b, a);
    }
    let front = (ln_gamma(a + b) - ln_gamma(a) - ln_gamma(b) + a * x.ln() + b * (1.0 - x).ln()).exp() / a;
    // Lentz's method, with a guard against dividing by nothing.
    let guard = |value: f64| if value.abs() < 1e-300 { 1e-300 } else { value };
    let (mut c, mut d) = (1.0, 1.0 / guard(1.0 - (a + b) * x / (a + 1.0)));
    let mut sum = d;
    for m in 1..500 {
        let m = f64::from(m);
        for top in [
            m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m)),
            -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0)),
        ] {
            d = 1.0 / guard(1.0 + top * d);
            c = guard(1.0 + top / c);
            sum *= c * d;
        }
        if (c * d - 1.0).abs() < 1e-15 {
            break;
        }
    }
    front * sum
}

/// ln Γ for positive values (Lanczos, nine terms; relative error below 1e-13).
fn ln_gamma(x: f64) -> f64 {
    const TERMS: [f64; 9] = [
        0.999_999_999_999_809_9,
        676.520_368_121_885_1,
        -1_259.139_216_722_402_8,
        771.323_428_777_653_1,
        -176.615_029_162_140_6,
        12.507_343_278_686_905,
        -0.138_571_095_265_720_12,
        9.984_369_578_019_572e-6,
        1.505_632_735_149_311_6e-7,
    ];
    let x = x - 1.0;
    let sum = TERMS[1..].iter().zip(1u32..).fold(TERMS[0], |sum, (term, i)| sum + term / (x + f64::from(i)));
    let t = x + 7.5;
    0.5 * (2.0 * std::f64::consts::PI).ln() + (x + 0.5) * t.ln() - t + sum.ln()
}
