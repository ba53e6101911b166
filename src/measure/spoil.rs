//! Owns the conditions under which speech is heard: noise, a room, another talker, a narrow band, gain, overdriving.
//!
//! Everything is made from a seed: the same clip, conditions and seed give the same samples. The order is that of the
//! world: mouth and other talker stand in the room, noise joins them at the microphone, then come the microphone's band,
//! its gain and its limit.
//!
//! **Signal to noise.** The ratio of the power of the speech where somebody speaks (frames of 20 ms within 30 dB of the
//! loudest) to the power of the noise over the whole clip, both unweighted and before the band is cut. ITU-T P.56
//! (method B), the usual way, finds the active part with an envelope instead, bridges pauses of up to 0.2 s and takes the
//! threshold 15.9 dB below the level that it finds (from memory of the recommendation): its level of the same speech is lower
//! by the share of short pauses, and so is the ratio.

mod dsp;
mod noise;
mod sources;
mod voices;

pub use noise::{Noise, noise};

use crate::{hear::RATE, random::Random};
use std::sync::Arc;

/// Speech is taken as active in frames of this many samples (20 ms).
const FRAME: usize = RATE as usize / 50;
/// ... whose power is within this factor (30 dB) of the loudest frame's.
const ACTIVE: f64 = 1e-3;
/// What speech would have where a clip has none: 26 dB below full scale, the level at which speech is commonly kept for tests
/// (ITU-T P.800 and others; from memory).
const NOMINAL_DB: f64 = -26.0;
/// A clip whose loudest frame is below this is taken as silence, in dB against full scale.
const SILENT_DB: f64 = -80.0;

/// How a clip is spoiled. The default leaves it as it is.
#[derive(Debug, Clone, Default)]
pub struct Conditions {
    /// Noise, and how many dB the speech is above it (module doc).
    pub noise: Option<(Noise, f32)>,
    /// The time in which the sound in the room falls by 60 dB, in seconds; a bay of concrete has 0.5 to 1.5.
    pub reverb_s: Option<f32>,
    /// The band that the microphone lets through, in Hz from 0 to 8000, lower limit first: (300, 3400) is a telephone.
    pub band: Option<(f32, f32)>,
    /// Louder (positive) or quieter, in dB, the noise with the speech. Where the result would not fit within full scale, it is
    /// set as loud as fits: only `clip_db` distorts.
    pub gain_db: f32,
    /// Somebody else who talks, and how many dB below the speech. Begins anywhere and goes on in a circle.
    pub talker: Option<(Arc<[f32]>, f32)>,
    /// Overdriven: the loudest peak would be this many dB over full scale, and is cut there.
    pub clip_db: Option<f32>,
}

impl Conditions {
    /// The clip (16 kHz mono) as it is heard under these conditions; as long as it came, finite, within −1 to 1.
    #[must_use]
    pub fn apply(&self, clean: &[f32], seed: u64) -> Vec<f32> {
        let mut random = Random::new(seed);
        let seeds = [random.bits(), random.bits(), random.bits()];
        let mut sound: Vec<f64> =
            clean.iter().map(|s| if s.is_finite() { f64::from(*s) } else { 0.0 }).collect();
        let speech = sound.clone();
        if let Some((other, below_db)) = &self.talker {
            let level = active_power(&speech).unwrap_or_else(|| power_of(NOMINAL_DB));
            let wanted = level * power_of(-f64::from(*below_db));
            add_talker(&mut sound, other, wanted, &mut Random::new(seeds[0]));
        }
        // The room turns mouth and other talker alike; its speech alone is what noise is set against.
        let alone = if let Some(seconds) = self.reverb_s.filter(|s| *s > 0.0) {
            sound = dsp::reverberate(&sound, f64::from(seconds), &mut Random::new(seeds[1]));
            dsp::reverberate(&speech, f64::from(seconds), &mut Random::new(seeds[1]))
        } else {
            speech
        };
        if let Some((kind, snr_db)) = &self.noise {
            let level = active_power(&alone).unwrap_or_else(|| power_of(NOMINAL_DB));
            let made = noise::made(kind, sound.len(), seeds[2]);
            let scale = (level * power_of(-f64::from(*snr_db)) / power(&made).max(1e-30)).sqrt();
            sound.iter_mut().zip(made).for_each(|(s, n)| *s += n * scale);
        }
        if let Some((low, high)) = self.band {
            dsp::band(&mut sound, f64::from(low), f64::from(high));
        }
        let gain = amplitude_of(f64::from(self.gain_db));
        sound.iter_mut().for_each(|s| *s *= gain);
        let peak = sound.iter().fold(0.0_f64, |peak, s| peak.max(s.abs()));
        let scale = match self.clip_db {
            Some(over) if peak > 0.0 => amplitude_of(f64::from(over).max(0.0)) / peak,
            _ if peak > 1.0 => 1.0 / peak,
            _ => 1.0,
        };
        #[expect(clippy::cast_possible_truncation, reason = "within -1..1")]
        sound.iter().map(|s| (s * scale).clamp(-1.0, 1.0) as f32).collect()
    }
}

/// Adds the other talker with that power while talking, from anywhere in it.
fn add_talker(sound: &mut [f64], other: &[f32], wanted: f64, random: &mut Random) {
    let other: Vec<f64> = other.iter().map(|s| f64::from(*s)).collect();
    let Some(has) = active_power(&other) else { return };
    let scale = (wanted / has).sqrt();
    let start = random.below(other.len());
    sound.iter_mut().zip(other.iter().cycle().skip(start)).for_each(|(s, o)| *s += o * scale);
}

/// Mean power of the frames where somebody speaks (see the module doc); none where there is only silence.
fn active_power(sound: &[f64]) -> Option<f64> {
    let frames: Vec<f64> = sound.chunks(FRAME).map(power).collect();
    let loudest = frames.iter().copied().fold(0.0, f64::max);
    if loudest <= power_of(SILENT_DB) {
        return None;
    }
    let (mut sum, mut count) = (0.0, 0.0);
    for frame in frames.into_iter().filter(|f| *f >= loudest * ACTIVE) {
        sum += frame;
        count += 1.0;
    }
    Some(sum / count)
}

/// Mean power, 0 for nothing. A full square wave has 1.
fn power(sound: &[f64]) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "lengths of sound are far below 2^52")]
    let length = sound.len().max(1) as f64;
    sound.iter().map(|s| s * s).sum::<f64>() / length
}

fn power_of(db: f64) -> f64 {
    10_f64.powf(db / 10.0)
}

fn amplitude_of(db: f64) -> f64 {
    10_f64.powf(db / 20.0)
}

#[cfg(test)]
mod tests;
