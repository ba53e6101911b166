//! Owns the arithmetic of sound that spoiling needs: second-order filters, resonances, a Fourier transform, a room.

use super::power_of;
use crate::{hear::RATE, random::Random};
use std::f64::consts::{PI, TAU};

/// Samples a second.
pub(super) const FS: f64 = RATE as f64;

/// A normally distributed number with mean 0 and variance 1 (Box and Muller 1958).
pub(super) fn normal(random: &mut Random) -> f64 {
    let radius = (-2.0 * (1.0 - random.unit()).ln()).sqrt();
    radius * (TAU * random.unit()).cos()
}

/// A second-order filter (direct form 2, transposed).
#[derive(Debug, Clone, Default)]
pub(super) struct Biquad {
    b: [f64; 3],
    a: [f64; 2],
    state: [f64; 2],
}

impl Biquad {
    /// Lets pass what is below that frequency; `q` 0.707 is a Butterworth filter. Coefficients of this and the next: the
    /// bilinear transform of the analogue prototypes (R. Bristow-Johnson's collection of formulas).
    pub fn low_pass(hertz: f64, q: f64) -> Self {
        let (sin, cos) = angle(hertz).sin_cos();
        let b = (1.0 - cos) / 2.0;
        Self::scaled([b, 2.0 * b, b], sin / (2.0 * q), cos)
    }

    /// Lets pass what is above that frequency.
    pub fn high_pass(hertz: f64, q: f64) -> Self {
        let (sin, cos) = angle(hertz).sin_cos();
        let b = f64::midpoint(1.0, cos);
        Self::scaled([b, -2.0 * b, b], sin / (2.0 * q), cos)
    }

    /// Lets pass a band around that frequency, of the width frequency / `q`, with 0 dB in its middle.
    pub fn band_pass(hertz: f64, q: f64) -> Self {
        let (sin, cos) = angle(hertz).sin_cos();
        let alpha = sin / (2.0 * q);
        Self::scaled([alpha, 0.0, -alpha], alpha, cos)
    }

    fn scaled(b: [f64; 3], alpha: f64, cos: f64) -> Self {
        let a0 = 1.0 + alpha;
        Self { b: b.map(|b| b / a0), a: [-2.0 * cos / a0, (1.0 - alpha) / a0], state: [0.0; 2] }
    }

    /// The same with another frequency, without a jump in what it holds.
    pub fn turn_to(&mut self, other: &Self) {
        self.b = other.b;
        self.a = other.a;
    }

    pub fn next(&mut self, input: f64) -> f64 {
        let output = self.b[0] * input + self.state[0];
        self.state[0] = self.b[1] * input - self.a[0] * output + self.state[1];
        self.state[1] = self.b[2] * input - self.a[1] * output;
        output
    }
}

/// The angle of a frequency, held a little within what the rate can carry.
fn angle(hertz: f64) -> f64 {
    TAU * hertz.clamp(1.0, FS * 0.49) / FS
}

/// Cuts what is outside of that band, 24 dB an octave (fourth-order Butterworth on each side).
pub(super) fn band(sound: &mut [f64], low: f64, high: f64) {
    // The two sections of a fourth-order Butterworth filter: q = 1 / (2 cos(π/8)) and 1 / (2 cos(3π/8)).
    let qs = [1.0, 3.0].map(|k| 0.5 / (k * PI / 8.0).cos());
    let mut filters = Vec::new();
    if low > 0.0 {
        filters.extend(qs.map(|q| Biquad::high_pass(low, q)));
    }
    if high < FS * 0.49 {
        filters.extend(qs.map(|q| Biquad::low_pass(high, q)));
    }
    for filter in &mut filters {
        sound.iter_mut().for_each(|s| *s = filter.next(*s));
    }
}

/// The sound in a room: the direct way, and after 2 ms a tail of noise that falls by 60 dB in that time (Polack's model of a
/// diffuse room). The tail is as strong as in a bay of 200 m³ with the mouth half a metre from the microphone: at the
/// critical distance, 0.057 √(volume / time) metres for a mouth that radiates evenly, both are equal (Kuttruff, Room
/// Acoustics; from memory).
pub(super) fn reverberate(sound: &[f64], seconds: f64, random: &mut Random) -> Vec<f64> {
    let seconds = seconds.clamp(0.01, 10.0);
    let critical = 0.057 * (200.0 / seconds).sqrt();
    let tail_power = (0.5 / critical).powi(2);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0.01 to 10 s")]
    let length = (seconds * FS) as usize;
    let gap = 32;
    // Power falls by 60 dB, a factor of 10^6, in the time.
    let fall = (-6.0 * 10_f64.ln() / 2.0 / (seconds * FS)).exp();
    let mut size = 1.0;
    let mut tail: Vec<f64> = (0..length)
        .map(|_| {
            size *= fall;
            normal(random) * size
        })
        .collect();
    let energy: f64 = tail.iter().map(|s| s * s).sum();
    let scale = (tail_power / energy.max(power_of(-200.0))).sqrt();
    tail.iter_mut().for_each(|s| *s *= scale);
    let late = convolve(sound, &tail);
    let mut out = sound.to_vec();
    out.iter_mut().skip(gap).zip(late).for_each(|(s, l)| *s += l);
    out
}

/// The convolution of both, as long as the first.
fn convolve(a: &[f64], b: &[f64]) -> Vec<f64> {
    let size = (a.len() + b.len()).next_power_of_two();
    // Both are real: one goes through the transform as the real, the other as the imaginary part.
    let mut both: Vec<(f64, f64)> =
        (0..size).map(|i| (a.get(i).copied().unwrap_or(0.0), b.get(i).copied().unwrap_or(0.0))).collect();
    transform(&mut both, 1.0);
    let product: Vec<(f64, f64)> = (0..size)
        .map(|k| {
            let (x, y) = (both[k], both[(size - k) % size]);
            let first = (f64::midpoint(x.0, y.0), (x.1 - y.1) / 2.0);
            let second = (f64::midpoint(x.1, y.1), (y.0 - x.0) / 2.0);
            (first.0 * second.0 - first.1 * second.1, first.0 * second.1 + first.1 * second.0)
        })
        .collect();
    both = product;
    transform(&mut both, -1.0);
    #[expect(clippy::cast_precision_loss, reason = "lengths of sound are far below 2^52")]
    let scale = 1.0 / size as f64;
    both.iter().take(a.len()).map(|s| s.0 * scale).collect()
}

/// The Fourier transform of a length that is a power of two, in place (Cooley and Tukey 1965). `sign` 1 there, −1 back.
pub(super) fn transform(values: &mut [(f64, f64)], sign: f64) {
    let size = values.len();
    let bits = size.trailing_zeros();
    for i in 0..size {
        let j = if bits == 0 { 0 } else { i.reverse_bits() >> (usize::BITS - bits) };
        if i < j {
            values.swap(i, j);
        }
    }
    let mut half = 1;
    while half < size {
        #[expect(clippy::cast_precision_loss, reason = "lengths of sound are far below 2^52")]
        let turns: Vec<(f64, f64)> =
            (0..half).map(|k| (-sign * PI * k as f64 / half as f64).sin_cos()).map(|(s, c)| (c, s)).collect();
        for block in values.chunks_exact_mut(2 * half) {
            let (low, high) = block.split_at_mut(half);
            for ((l, h), turn) in low.iter_mut().zip(high).zip(&turns) {
                let t = (h.0 * turn.0 - h.1 * turn.1, h.0 * turn.1 + h.1 * turn.0);
                *h = (l.0 - t.0, l.1 - t.1);
                *l = (l.0 + t.0, l.1 + t.1);
            }
        }
        half *= 2;
    }
}
