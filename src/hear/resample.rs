//! Owns the way from any rate a device has to the 16 kHz that everything else works with.

use super::RATE;
use rubato::{Fft, FixedSync, Resampler, audioadapter_buffers::direct::InterleavedSlice};

/// Rates that are taken, in samples a second.
pub const RATES: std::ops::RangeInclusive<u32> = 4_000..=384_000;

/// Resamples a mono stream to [`RATE`].
pub struct ToRate {
    inner: Option<Fft<f32>>,
    waiting: Vec<f32>,
    result: Vec<f32>,
    /// What the filter delays, still to be taken off the beginning.
    skip: usize,
}

impl std::fmt::Debug for ToRate {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("ToRate")
    }
}

impl ToRate {
    /// From that rate.
    ///
    /// # Errors
    /// A sentence where the rate is outside [`RATES`].
    pub fn new(rate: u32) -> Result<Self, String> {
        if !RATES.contains(&rate) {
            return Err(format!("{rate} samples a second is outside {} to {}", RATES.start(), RATES.end()));
        }
        let inner = if rate == RATE {
            None
        } else {
            // About 10 ms at a time.
            let fft = Fft::new(rate as usize, RATE as usize, rate as usize / 100, 1, FixedSync::Input)
                .map_err(|e| e.to_string())?;
            Some(fft)
        };
        let (size, skip) = inner.as_ref().map_or((0, 0), |f| (f.output_frames_max(), f.output_delay()));
        Ok(Self { inner, waiting: Vec::new(), result: vec![0.0; size], skip })
    }

    /// Takes samples and appends what is ready.
    pub fn push(&mut self, samples: &[f32], out: &mut Vec<f32>) {
        let Some(fft) = self.inner.as_mut() else {
            out.extend_from_slice(samples);
            return;
        };
        self.waiting.extend_from_slice(samples);
        let mut at = 0;
        loop {
            let need = fft.input_frames_next();
            let Some(chunk) = self.waiting.get(at..at + need) else { break };
            let capacity = self.result.len();
            let made = match (
                InterleavedSlice::new(chunk, 1, need),
                InterleavedSlice::new_mut(&mut self.result, 1, capacity),
            ) {
                (Ok(from), Ok(mut to)) => {
                    fft.process_into_buffer(&from, &mut to, None).map_or(0, |(_, made)| made)
                }
                _ => 0,
            };
            let skip = self.skip.min(made);
            self.skip -= skip;
            out.extend_from_slice(&self.result[skip..made]);
            at += need;
        }
        self.waiting.drain(..at);
    }

    /// Appends what is still inside (the end of a file).
    pub fn finish(&mut self, out: &mut Vec<f32>) {
        if let Some(fft) = &self.inner {
            let more = fft.input_frames_next() * 2 + fft.output_delay() * 30;
            self.push(&vec![0.0; more], out);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tone(rate: u32, hertz: f32, seconds: f32) -> Vec<f32> {
        let n = (rate as f32 * seconds) as usize;
        (0..n).map(|i| 0.5 * (std::f32::consts::TAU * hertz * i as f32 / rate as f32).sin()).collect()
    }

    fn rms(samples: &[f32]) -> f32 {
        (samples.iter().map(|s| s * s).sum::<f32>() / samples.len() as f32).sqrt()
    }

    #[test]
    fn a_tone_keeps_its_length_level_and_pitch_from_any_rate() {
        for rate in [8_000, 11_025, 16_000, 22_050, 32_000, 44_100, 48_000, 96_000, 192_000] {
            let mut to = ToRate::new(rate).unwrap();
            let mut out = Vec::new();
            for piece in tone(rate, 1000.0, 1.0).chunks(777) {
                to.push(piece, &mut out);
            }
            to.finish(&mut out);
            assert!(out.len() >= 16_000, "{rate}: {}", out.len());
            let middle = &out[2000..14_000];
            assert!((rms(middle) - 0.5 / 2_f32.sqrt()).abs() < 0.01, "{rate}: {}", rms(middle));
            // Against the same tone made at 16 kHz: no shift in time beyond one sample (which would give 0.14).
            let same = tone(16_000, 1000.0, 1.0);
            let error: Vec<f32> = middle.iter().zip(&same[2000..]).map(|(a, b)| a - b).collect();
            assert!(rms(&error) < 0.14, "{rate}: {}", rms(&error));
        }
    }

    #[test]
    fn what_16_khz_cannot_hold_is_filtered_out() {
        let mut to = ToRate::new(48_000).unwrap();
        let mut out = Vec::new();
        to.push(&tone(48_000, 11_000.0, 1.0), &mut out);
        assert!(rms(&out[1000..]) < 0.001, "{}", rms(&out[1000..]));
    }

    #[test]
    fn senseless_rates_are_refused() {
        assert!(ToRate::new(0).is_err());
        assert!(ToRate::new(1_000_000).is_err());
    }
}
