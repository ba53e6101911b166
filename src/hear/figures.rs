//! Owns what can be said of a stretch of sound in figures: level, loudest moment, overdriving, hum of the mains.

use super::{RATE, gate::SILENCE_DBFS};
use serde::Serialize;

/// The loudest moment is this long: a tenth of a second, as for the level of speech.
const MOMENT: usize = RATE as usize / 10;
/// At or beyond this a sample counts as being at the limit ...
const LIMIT: f32 = 0.98;
/// ... where so many follow each other: a lone peak is just loud.
const RUN: usize = 2;
/// Hum is looked for in pieces of half a second, at the multiples of the mains' frequency up to this, in Hz.
const PIECE: usize = RATE as usize / 2;
const HIGHEST_HUM: usize = 1000;

/// A stretch of sound in figures. Levels are of the mean power, in decibels against full scale (a full square wave has 0).
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Figures {
    /// Level of all of it.
    pub level_dbfs: f32,
    /// Level of its loudest tenth of a second.
    pub loudest_dbfs: f32,
    /// Share of samples that are cut at the limit, 0 to 1.
    pub clipped: f32,
    /// Share of the power at multiples of 50 or of 60 Hz, 0 to 1.
    pub hum: f32,
}

impl Figures {
    /// The figures of that sound (16 kHz mono); of nothing, those of silence.
    #[must_use]
    pub fn of(sound: &[f32]) -> Self {
        let loudest = sound.chunks(MOMENT).filter(|c| c.len() == MOMENT).map(power).fold(0.0, f64::max);
        let level = power(sound);
        Self {
            level_dbfs: dbfs(level),
            loudest_dbfs: dbfs(loudest.max(level)),
            clipped: clipped(sound),
            hum: hum(sound, 50).max(hum(sound, 60)),
        }
    }
}

#[expect(clippy::cast_precision_loss, reason = "lengths of sound are far below 2^52")]
fn power(sound: &[f32]) -> f64 {
    sound.iter().map(|s| f64::from(*s) * f64::from(*s)).sum::<f64>() / sound.len().max(1) as f64
}

fn dbfs(power: f64) -> f32 {
    #[expect(clippy::cast_possible_truncation, reason = "decibels")]
    let db = (10.0 * power.max(1e-12).log10()) as f32;
    db.max(SILENCE_DBFS)
}

#[expect(clippy::cast_precision_loss, reason = "counts of samples")]
fn clipped(sound: &[f32]) -> f32 {
    let (mut run, mut count) = (0, 0);
    for sample in sound {
        run = if sample.abs() >= LIMIT { run + 1 } else { 0 };
        match run {
            0 => {}
            RUN => count += RUN,
            r if r > RUN => count += 1,
            _ => {}
        }
    }
    count as f32 / sound.len().max(1) as f32
}

/// The share of the power that lies at multiples of that frequency, in the quietest piece: speech may come between.
fn hum(sound: &[f32], mains: usize) -> f32 {
    let quietest = sound.chunks_exact(PIECE).min_by(|a, b| power(a).total_cmp(&power(b)));
    let Some(piece) = quietest.filter(|p| power(p) > 1e-9) else { return 0.0 };
    #[expect(clippy::cast_precision_loss, reason = "counts of samples")]
    let window = |i: usize| 0.5 - 0.5 * (std::f64::consts::TAU * i as f64 / PIECE as f64).cos();
    let windowed: Vec<f64> = piece.iter().enumerate().map(|(i, s)| f64::from(*s) * window(i)).collect();
    let sum: f64 = (0..PIECE).map(window).sum();
    let squares: f64 = (0..PIECE).map(|i| window(i).powi(2)).sum();
    let all = windowed.iter().map(|s| s * s).sum::<f64>() / squares;
    let tones: f64 = (mains..=HIGHEST_HUM)
        .step_by(mains)
        .map(|hertz| {
            // Goertzel's recursion: one frequency of the Fourier transform.
            #[expect(clippy::cast_precision_loss, reason = "below 1000")]
            let angle = std::f64::consts::TAU * hertz as f64 / f64::from(RATE);
            let (mut last, mut before) = (0.0, 0.0);
            for sample in &windowed {
                (last, before) = (sample + 2.0 * angle.cos() * last - before, last);
            }
            // A tone of amplitude a gives (a/2 · sum of the window)², and has the power a²/2.
            2.0 * (last * last + before * before - 2.0 * angle.cos() * last * before) / (sum * sum)
        })
        .sum();
    #[expect(clippy::cast_possible_truncation, reason = "0 to 1")]
    let share = (tones / all.max(1e-20)).clamp(0.0, 1.0) as f32;
    share
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::spoil::{Noise, noise};

    fn tone(hertz: f32, amplitude: f32) -> Vec<f32> {
        (0..48_000).map(|i| amplitude * (std::f32::consts::TAU * hertz * i as f32 / 16_000.0).sin()).collect()
    }

    #[test]
    fn levels_are_of_the_mean_power() {
        // A sine of amplitude 0.1 has the power 0.005: -23 dB.
        let figures = Figures::of(&tone(440.0, 0.1));
        assert!((figures.level_dbfs + 23.0).abs() < 0.05, "{figures:?}");
        let mut moment = vec![0.0; 48_000];
        moment[16_000..17_600].copy_from_slice(&tone(440.0, 0.1)[..1600]);
        let figures = Figures::of(&moment);
        assert!((figures.loudest_dbfs + 23.0).abs() < 0.1, "{figures:?}");
        assert!((figures.level_dbfs + 23.0 + 14.77).abs() < 0.1, "a thirtieth of the time: {figures:?}");
        assert_eq!(Figures::of(&[]).level_dbfs, SILENCE_DBFS);
        assert_eq!(Figures::of(&[0.0; 9000]).hum, 0.0);
    }

    #[test]
    fn overdriven_samples_are_counted_and_lone_peaks_are_not() {
        let loud: Vec<f32> = tone(200.0, 2.0).iter().map(|s| s.clamp(-1.0, 1.0)).collect();
        // A sine of twice the limit is beyond it for two thirds of the time; near the limit (0.98) a little more.
        assert!((Figures::of(&loud).clipped - 0.67).abs() < 0.02, "{:?}", Figures::of(&loud));
        let mut peak = tone(200.0, 0.5);
        peak[777] = 1.0;
        assert_eq!(Figures::of(&peak).clipped, 0.0);
    }

    #[test]
    fn hum_is_told_from_other_noise() {
        for seed in 0..4 {
            let hum = Figures::of(&noise(&Noise::Hum, 3.0, -40.0, seed)).hum;
            assert!(hum > 0.8, "{hum}");
            let white = Figures::of(&noise(&Noise::White, 3.0, -40.0, seed)).hum;
            assert!(white < 0.1, "{white}");
            let engine = Figures::of(&noise(&Noise::Engine, 3.0, -40.0, seed)).hum;
            assert!(engine < 0.5, "{engine}");
        }
    }
}
