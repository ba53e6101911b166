//! Owns the densities of one reading: sound, or off by an unknown amount. What depends on place and spread alone is worked
//! out once for all readings that bring the same with them ([`Local`]).

use super::priors::{KINDS, LARGEST, MATTERS, SMALLEST};

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

/// Probability that a standard normal value is below `z`, to 1e-9: beyond 8 tails are taken for nothing. Hart's
/// approximation as in [`crate::verdict::stats::normal_below`], written out, since this is what most time goes into.
pub(super) fn below(z: f64) -> f64 {
    if z <= -8.0 {
        return 0.0;
    }
    if z >= 8.0 {
        return 1.0;
    }
    let x = z.abs();
    let e = (-0.5 * x * x).exp();
    let tail = if x < 7.07 {
        let a = 3.526_249_659_989_11e-2 * x + 0.700_383_064_443_688;
        let a = ((a * x + 6.373_962_203_531_65) * x + 33.912_866_078_383) * x + 112.079_291_497_871;
        let a = (a * x + 221.213_596_169_931) * x + 220.206_867_912_376;
        let b = (8.838_834_764_831_84e-2 * x + 1.755_667_163_182_64) * x + 16.064_177_579_207;
        let b = ((b * x + 86.780_732_202_946_1) * x + 296.564_248_779_674) * x + 637.333_633_378_831;
        let b = (b * x + 793.826_512_519_948) * x + 440.413_735_824_752;
        e * a / b
    } else {
        0.0
    };
    if z > 0.0 { 1.0 - tail } else { tail }
}

/// Probability between, to 1e-9.
pub(super) fn between(low: f64, high: f64) -> f64 {
    if high <= -8.0 || low >= 8.0 { 0.0 } else { (below(high) - below(low)).max(0.0) }
}

/// A normal density with rounding to `step`: the exact share of the step when it is coarse, else Sheppard's correction.
pub(super) fn rounded(x: f64, deviation: f64, step: f64) -> f64 {
    let mut bell = Bell::default();
    bell.go(1.0, 0.0, deviation, step);
    bell.at(x)
}

fn root(a: f64, b: f64) -> f64 {
    (a * a + b * b).sqrt()
}

/// A normal density with rounding, ready to be used often.
#[derive(Debug, Clone, Copy, Default)]
struct Bell {
    middle: f64,
    /// One over its deviation.
    sharp: f64,
    height: f64,
    /// Half a step in deviations; 0 where the step is fine.
    half: f64,
}

impl Bell {
    fn go(&mut self, weight: f64, middle: f64, deviation: f64, step: f64) {
        self.middle = middle;
        if step < 0.5 * deviation {
            let wide = (deviation * deviation + step * step / 12.0).sqrt();
            self.sharp = 1.0 / wide;
            self.height = weight / (ROOT_2_PI * wide);
            self.half = 0.0;
        } else {
            self.sharp = 1.0 / deviation;
            self.height = weight / step;
            self.half = 0.5 * step / deviation;
        }
    }

    fn at(&self, x: f64) -> f64 {
        let z = (x - self.middle) * self.sharp;
        if self.half == 0.0 {
            let square = z * z;
            return if square > 1400.0 { 0.0 } else { self.height * (-0.5 * square).exp() };
        }
        let z = -z.abs();
        self.height * between(z - self.half, z + self.half)
    }
}

/// All that readings with one [`Blur`] need at one place and spread.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Local {
    place: f64,
    contact: f64,
    bells: [Bell; 3],
    count: usize,
    /// Even: half-width, one over the noise, one over the whole width.
    even: (f64, f64, f64),
    /// Off: one over the deviation of a share.
    sharp: f64,
}

impl Local {
    /// At place `m`, with the spread `s` (a share of it).
    pub fn new(m: f64, s: f64, blur: &Blur) -> Self {
        let mut local = Self::default();
        local.go(m, s, blur);
        local
    }

    /// The same, in place.
    pub fn go(&mut self, m: f64, s: f64, blur: &Blur) {
        let spread = root(m * s, blur.own).max(1e-9);
        let tau = blur.contact;
        if tau < 0.5 * spread || blur.count > 1.5 {
            self.count = 1;
            self.bells[0].go(1.0, m + tau, root(spread, tau / blur.count.sqrt()), blur.step);
        } else {
            self.count = 3;
            for (bell, (weight, mean, deviation)) in self.bells.iter_mut().zip(EXPONENTIAL) {
                bell.go(weight, m + mean * tau, root(spread, deviation * tau), blur.step);
            }
        }
        let noise = tau * tau / blur.count + blur.step * blur.step / 12.0 + blur.own * blur.own;
        let half = 1.732_050_807_568_877_2 * m * s;
        self.even = (half, 1.0 / noise.sqrt().max(1e-9), 1.0 / (2.0 * half.max(1e-12)));
        self.sharp = 1.0 / (s * s + noise / (m * m)).sqrt().max(1e-9);
        self.place = m;
        self.contact = tau;
    }

    /// Density of a sound member's reading, normal about the place.
    pub fn sound(&self, y: f64) -> f64 {
        if self.count == 1 {
            return self.bells[0].at(y);
        }
        self.bells[0].at(y) + self.bells[1].at(y) + self.bells[2].at(y)
    }

    /// The same, even within ±√3 s.
    pub fn even(&self, y: f64) -> f64 {
        let (half, sharp, height) = self.even;
        let x = (y - self.place - self.contact).abs();
        height * between((-x - half) * sharp, (-x + half) * sharp)
    }

    /// Of a circuit that is off, the share that matters.
    pub fn matters(&self, y: f64) -> f64 {
        let size = ((y - self.contact) / self.place - 1.0).abs();
        let edge = below((size - SMALLEST) * self.sharp);
        (below((size - MATTERS) * self.sharp) / edge.max(1e-12)).min(1.0)
    }

    /// A circuit that is off.
    pub fn off(&self, y: f64) -> f64 {
        let x = (y - self.contact) / self.place - 1.0;
        let size = x.abs();
        let edge = below((size - SMALLEST) * self.sharp);
        // Beyond the ends of its span the density falls as a normal does.
        let beyond = if x < -1.0 {
            (-0.5 * ((x + 1.0) * self.sharp).powi(2)).exp()
        } else if x > LARGEST {
            LARGEST / x
        } else {
            1.0
        };
        let wide = size.max(0.7 * SMALLEST) * self.place;
        let share = if x < 0.0 { SHARES.0 } else { SHARES.1 };
        share * edge * beyond / wide
    }
}

/// Weight of shorted turns and of added resistance over the logarithm's span of each.
const SHARES: (f64, f64) = (KINDS[0] / LN_DOWN, KINDS[1] / LN_UP);
/// ln(1 / [`SMALLEST`]) and ln([`LARGEST`] / [`SMALLEST`]): no logarithms in constants, so a test holds them.
const LN_DOWN: f64 = 2.995_732_273_553_991;
/// See [`LN_DOWN`].
const LN_UP: f64 = 7.600_902_459_542_082;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::verdict::stats::normal_below;

    #[test]
    fn logarithms_of_the_spans() {
        assert!((LN_DOWN - (1.0 / SMALLEST).ln()).abs() < 1e-12);
        assert!((LN_UP - (LARGEST / SMALLEST).ln()).abs() < 1e-12);
    }

    #[test]
    fn the_normal_distribution_written_out() {
        for at in -900..900 {
            let z = f64::from(at) / 100.3;
            assert!((below(z) - normal_below(z)).abs() < 1e-9, "{z}");
        }
    }

    /// Every density sums to 1 over all readings (off: below the largest added).
    #[test]
    fn densities_sum_to_one() {
        for blur in [
            Blur { step: 0.001, contact: 0.02, own: 0.0, count: 1.0 },
            Blur { step: 0.1, contact: 0.02, own: 0.0, count: 1.0 },
            Blur { step: 0.01, contact: 0.2, own: 0.01, count: 1.0 },
        ] {
            let local = Local::new(5.2, 0.016, &blur);
            let sum =
                |f: &dyn Fn(f64) -> f64| -> f64 { (0..8000).map(|k| 0.001 * f(0.001 * f64::from(k))).sum() };
            assert!((sum(&|y| local.sound(y)) - 1.0).abs() < 0.003);
            assert!((sum(&|y| local.even(y)) - 1.0).abs() < 0.003);
        }
    }
}
