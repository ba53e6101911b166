//! Owns the plain statistics: normal distribution, median, spread.

/// Probability that a standard normal value is below `z`. Relative error of either tail below 1e-8.
///
/// Hart's rational approximation (1968) as given by West (2005), and a continued fraction further out.
#[must_use]
pub fn normal_below(z: f64) -> f64 {
    if z.is_nan() {
        return f64::NAN;
    }
    let x = z.abs();
    let beyond = if x > 37.0 {
        0.0
    } else {
        let e = (-0.5 * x * x).exp();
        if x < 7.071_067_811_865_47 {
            let over = |terms: &[f64]| terms.iter().fold(0.0, |sum, term| sum * x + term);
            e * over(&[
                3.526_249_659_989_11e-2,
                0.700_383_064_443_688,
                6.373_962_203_531_65,
                33.912_866_078_383,
                112.079_291_497_871,
                221.213_596_169_931,
                220.206_867_912_376,
            ]) / over(&[
                8.838_834_764_831_84e-2,
                1.755_667_163_182_64,
                16.064_177_579_207,
                86.780_732_202_946_1,
                296.564_248_779_674,
                637.333_633_378_831,
                793.826_512_519_948,
                440.413_735_824_752,
            ])
        } else {
            let deep = [4.0, 3.0, 2.0, 1.0].iter().fold(x + 0.65, |below, n| x + n / below);
            e / deep / 2.506_628_274_631
        }
    };
    if z > 0.0 { 1.0 - beyond } else { beyond }
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

/// The value that Student's t with `free` degrees of freedom exceeds with probability `tail` (between 0 and 0.5).
#[must_use]
pub fn student_above(tail: f64, free: f64) -> f64 {
    let tail = tail.clamp(1e-12, 0.5);
    let scale =
        (ln_gamma(0.5 * (free + 1.0)) - ln_gamma(0.5 * free)).exp() / (free * std::f64::consts::PI).sqrt();
    let density = |t: f64| scale * (1.0 + t * t / free).powf(-0.5 * (free + 1.0));
    // The tail falls and is hollow upwards: Newton's steps from the left never pass the goal.
    let mut t = 0.0;
    for _ in 0..200 {
        let step = (student_tail(t, free) - tail) / density(t);
        t += step;
        if step <= 1e-14 * t {
            break;
        }
    }
    t
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
