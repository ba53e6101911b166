//! Owns the random numbers of the trial: the same seed gives the same parts on every machine.

/// SplitMix64 (Steele, Lea and Flood 2014): small, fast, and good enough for simulated parts. Not for secrets.
#[derive(Debug, Clone)]
pub struct Random(u64);

impl Random {
    /// Starts a sequence. Equal seeds give equal sequences.
    #[must_use]
    pub fn new(seed: u64) -> Self {
        Self(seed)
    }

    /// The next 64 random bits.
    pub fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// Evenly spread from 0 (included) to 1 (not included).
    pub fn unit(&mut self) -> f64 {
        // 53 bits: each double in the result is exact.
        (self.bits() >> 11) as f64 / (1u64 << 53) as f64
    }

    /// Evenly spread between −`half` and `half`.
    pub fn around_zero(&mut self, half: f64) -> f64 {
        (2.0 * self.unit() - 1.0) * half
    }

    /// Evenly spread between `low` and `high`.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }

    /// Normally distributed about 0 with standard deviation 1 (Box and Muller 1958, the cosine half).
    pub fn normal(&mut self) -> f64 {
        let radius = (-2.0 * (1.0 - self.unit()).ln()).sqrt();
        radius * (std::f64::consts::TAU * self.unit()).cos()
    }

    /// Exponentially distributed with mean 1.
    pub fn exponential(&mut self) -> f64 {
        -(1.0 - self.unit()).ln()
    }

    /// A whole number from 0 to `count` − 1; 0 when `count` is 0.
    pub fn below(&mut self, count: usize) -> usize {
        ((self.unit() * count as f64) as usize).min(count.saturating_sub(1))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// First outputs of SplitMix64 from seed 0, from memory of the published generator (as in its reference C code).
    #[test]
    fn gives_the_published_sequence() {
        let mut random = Random::new(0);
        assert_eq!(random.bits(), 0xE220_A839_7B1D_CDAF);
        assert_eq!(random.bits(), 0x6E78_9E6A_A1B9_65F4);
    }

    #[test]
    fn unit_has_the_mean_and_spread_of_an_even_distribution() {
        let mut random = Random::new(7);
        let values: Vec<f64> = (0..100_000).map(|_| random.unit()).collect();
        let mean = values.iter().sum::<f64>() / 1e5;
        let variance = values.iter().map(|v| (v - mean).powi(2)).sum::<f64>() / 1e5;
        assert!((mean - 0.5).abs() < 0.005 && (variance - 1.0 / 12.0).abs() < 0.001);
        assert!(values.iter().all(|v| (0.0..1.0).contains(v)));
    }

    #[test]
    fn normal_and_exponential_have_their_mean_and_spread() {
        let mut random = Random::new(11);
        for (draw, mean, variance) in
            [(Random::normal as fn(&mut Random) -> f64, 0.0, 1.0), (Random::exponential, 1.0, 1.0)]
        {
            let values: Vec<f64> = (0..100_000).map(|_| draw(&mut random)).collect();
            let of = values.iter().sum::<f64>() / 1e5;
            let spread = values.iter().map(|v| (v - of).powi(2)).sum::<f64>() / 1e5;
            assert!((of - mean).abs() < 0.02 && (spread - variance).abs() < 0.03, "{of} {spread}");
        }
    }
}
