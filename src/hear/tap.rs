//! Owns listening in: the sound of a source is handed on unchanged, and kept for whoever wants to measure it.

use super::{
    AudioSource, AudioStream, HearError, RATE,
    audio::{Got, Lost},
};
use std::{
    sync::{Arc, Mutex, PoisonError},
    time::Duration,
};

/// At most so much is kept: a minute. What is older is let go.
const KEPT: usize = 60 * RATE as usize;

/// What came through a source, since it was asked for last.
#[derive(Debug, Clone, Default)]
pub struct Tap(Arc<Mutex<Vec<f32>>>);

impl Tap {
    /// A tap into that source, and the source to listen to in its place.
    #[must_use]
    pub fn into(source: Box<dyn AudioSource>) -> (Self, Box<dyn AudioSource>) {
        let tap = Self::default();
        (tap.clone(), Box::new(Tapped { source, tap }))
    }

    /// The sound since the last call, at most the last minute: 16 kHz mono.
    #[must_use]
    pub fn take(&self) -> Vec<f32> {
        std::mem::take(&mut self.0.lock().unwrap_or_else(PoisonError::into_inner))
    }

    fn keep(&self, sound: &[f32]) {
        let mut kept = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        kept.extend_from_slice(sound);
        let over = kept.len().saturating_sub(KEPT);
        kept.drain(..over);
    }
}

struct Tapped {
    source: Box<dyn AudioSource>,
    tap: Tap,
}

impl AudioSource for Tapped {
    fn name(&self) -> String {
        self.source.name()
    }

    fn open(&mut self) -> Result<Box<dyn AudioStream>, HearError> {
        Ok(Box::new(TappedStream { stream: self.source.open()?, tap: self.tap.clone() }))
    }

    fn reopens(&self) -> bool {
        self.source.reopens()
    }
}

struct TappedStream {
    stream: Box<dyn AudioStream>,
    tap: Tap,
}

impl AudioStream for TappedStream {
    fn read(&mut self, out: &mut Vec<f32>, wait: Duration) -> Result<Got, Lost> {
        let from = out.len();
        let got = self.stream.read(out, wait);
        self.tap.keep(&out[from..]);
        got
    }

    fn dropped(&self) -> u64 {
        self.stream.dropped()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hear::audio::{ScriptedSource, Step};

    #[test]
    fn sound_comes_through_and_is_kept_up_to_a_minute() {
        let sound: Vec<f32> = (0..100).map(|i| i as f32 / 100.0).collect();
        let steps = [Step::Sound(sound.clone()), Step::Sound(sound.clone())];
        let (tap, mut source) = Tap::into(Box::new(ScriptedSource::new(steps)));
        let mut stream = source.open().unwrap();
        let mut out = Vec::new();
        while stream.read(&mut out, Duration::ZERO) == Ok(Got::Sound) {}
        assert_eq!(out, [sound.clone(), sound].concat());
        assert_eq!(tap.take(), out);
        assert!(tap.take().is_empty());
        tap.keep(&vec![0.1; KEPT]);
        tap.keep(&[0.2]);
        let kept = tap.take();
        assert_eq!((kept.len(), kept.last()), (KEPT, Some(&0.2)));
    }
}
