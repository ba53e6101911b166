//! Owns the kinds of noise by name, and noise for itself at a level.

use super::{active_power, power, power_of, sources, voices};
use crate::{hear::RATE, random::Random};
use std::sync::Arc;

/// What makes the noise. All but the last are generated, from a seed, and never come round again; recorded noise longer
/// than its recording is put together from pieces that begin anywhere.
#[derive(Debug, Clone)]
pub enum Noise {
    /// A diesel engine idling: thump and knock of each firing, a little uneven, and the rush of air.
    Engine,
    /// A piston compressor: its strokes and valves, the motor, hissing air.
    Compressor,
    /// Blows on metal: struck at random, each ringing in its own tones.
    Bangs,
    /// Several people talking at once: from these clips, or from voices without words where there are none.
    Babble(Arc<[Arc<[f32]>]>),
    /// Mains hum of 50 or 60 Hz (the seed says which) with its harmonics.
    Hum,
    /// As strong at every frequency.
    White,
    /// A recording (16 kHz mono).
    Recorded(Arc<[f32]>),
}

/// Noise alone: so many seconds of it at that level (mean power against full scale, in dB: a full square wave has 0). Pieces
/// of a long noise have seeds of their own. Peaks that do not fit within full scale are cut, as a microphone cuts them: keep
/// blows at −30 dB or less.
#[must_use]
pub fn noise(kind: &Noise, seconds: f32, level_dbfs: f32, seed: u64) -> Vec<f32> {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "negative and absurd are 0")]
    let length = (f64::from(seconds) * f64::from(RATE)).round() as usize;
    let made = made(kind, length, seed);
    let scale = (power_of(f64::from(level_dbfs)) / power(&made).max(1e-30)).sqrt();
    #[expect(clippy::cast_possible_truncation, reason = "within -1..1")]
    made.iter().map(|s| (s * scale).clamp(-1.0, 1.0) as f32).collect()
}

/// So many samples of it, at any level. Only an empty or silent recording gives silence.
pub(super) fn made(kind: &Noise, length: usize, seed: u64) -> Vec<f64> {
    // Seeds that follow each other must not give sequences that follow each other.
    let mut random = Random::new(Random::new(seed).bits());
    match kind {
        Noise::Engine => sources::engine(length, &mut random),
        Noise::Compressor => sources::compressor(length, &mut random),
        Noise::Bangs => sources::bangs(length, &mut random),
        Noise::Hum => sources::hum(length, &mut random),
        Noise::White => sources::white(length, &mut random),
        Noise::Babble(clips) => {
            let clips: Vec<Vec<f64>> = clips.iter().filter_map(|clip| level(clip)).collect();
            if clips.is_empty() {
                voices::wordless(length, &mut random)
            } else {
                babble(&clips, length, &mut random)
            }
        }
        Noise::Recorded(recording) => recorded(recording, length, &mut random),
    }
}

/// A clip with the active power 1; none of silence.
fn level(clip: &[f32]) -> Option<Vec<f64>> {
    let clip: Vec<f64> = clip.iter().map(|s| f64::from(*s)).collect();
    let scale = 1.0 / active_power(&clip)?.sqrt();
    Some(clip.iter().map(|s| s * scale).collect())
}

/// Six people at a time, some nearer, each going from clip to clip.
fn babble(clips: &[Vec<f64>], length: usize, random: &mut Random) -> Vec<f64> {
    let mut out = vec![0.0; length];
    for _ in 0..6 {
        let near = super::amplitude_of(random.around_zero(3.0));
        // The first has begun before.
        let first = &clips[random.below(clips.len())];
        let mut clip = &first[random.below(first.len())..];
        let mut at = 0;
        while at < length {
            out[at..].iter_mut().zip(clip).for_each(|(o, s)| *o += s * near);
            at += clip.len().max(1);
            clip = &clips[random.below(clips.len())];
        }
    }
    out
}

/// Pieces of the recording, each from a place of its own, faded into each other over 20 ms.
fn recorded(recording: &[f32], length: usize, random: &mut Random) -> Vec<f64> {
    const FADE: usize = RATE as usize / 50;
    let finite = |s: f32| if s.is_finite() { f64::from(s) } else { 0.0 };
    let mut out = vec![0.0; length];
    if recording.len() <= 2 * FADE {
        // Too short for pieces: round and round.
        out.iter_mut().zip(recording.iter().cycle()).for_each(|(o, s)| *o = finite(*s));
        return out;
    }
    let mut at = 0;
    while at < length {
        // As much as possible of it at once, but from another place every time.
        let spare = recording.len().saturating_sub(length - at + FADE).max(recording.len() / 2);
        let start = random.below(spare.min(recording.len() - 2 * FADE));
        let piece = &recording[start..];
        let fade_in = if at == 0 { 0 } else { FADE };
        for (i, sample) in piece.iter().enumerate() {
            let Some(o) = out.get_mut(at + i) else { break };
            #[expect(clippy::cast_precision_loss, reason = "far below 2^52")]
            let part = |i: usize| i as f64 / FADE as f64;
            let left = piece.len() - 1 - i;
            // Powers add up to the same all through the change: the noises on both sides have nothing to do with each other.
            let weight = if i < fade_in { part(i).sqrt() } else { 1.0 }
                * if left < FADE { part(left).sqrt() } else { 1.0 };
            *o += finite(*sample) * weight;
        }
        at += piece.len() - FADE;
    }
    out
}
