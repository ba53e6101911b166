//! Owns noticing that sound was lost on the way to us although nobody says so: less of it came than time passed. Pure.
//!
//! A sound server that is not served in time drops what does not fit, silently; a hole in "one four six one eight" makes
//! another number of it. Sound that is only late catches up again; what is lost never comes.

use std::collections::VecDeque;

/// Compares the sound that came with the time that passed.
#[derive(Debug, Clone)]
pub struct LossWatch {
    /// How far sound was behind time when all was well, in seconds.
    base: Option<f64>,
    /// How far it was behind lately: (time, seconds behind).
    recent: VecDeque<(f64, f64)>,
}

/// Behind by this much for as long as [`LATELY_S`] is lost.
const LOST_S: f64 = 0.06;
/// Shorter than the silence that ends speech: a hole in a word is known before the word is judged.
const LATELY_S: f64 = 0.35;
/// Clocks of sound devices differ from ours by less than this share; slow drift is followed.
const DRIFT: f64 = 0.001;

impl Default for LossWatch {
    fn default() -> Self {
        Self::new()
    }
}

impl LossWatch {
    /// Nothing came yet.
    #[must_use]
    pub fn new() -> Self {
        Self { base: None, recent: VecDeque::new() }
    }

    /// All the sound that is there was fetched at `time_s` and makes `sound_s` in all, both counted from the first sound:
    /// how much was lost since the last time, in seconds; mostly zero.
    pub fn note(&mut self, time_s: f64, sound_s: f64) -> f64 {
        let behind = time_s - sound_s;
        let last = self.recent.back().map_or(time_s, |(t, _)| *t);
        self.recent.push_back((time_s, behind));
        while self.recent.len() > 1 && self.recent.front().is_some_and(|(t, _)| time_s - t > LATELY_S) {
            self.recent.pop_front();
        }
        let lately = self.recent.iter().map(|(_, b)| *b).fold(f64::INFINITY, f64::min);
        let base = self.base.get_or_insert(lately);
        if lately <= *base {
            *base = lately;
        } else if lately - *base > LOST_S && time_s - self.recent[0].0 > LATELY_S * 0.7 {
            let lost = lately - *base;
            *base = lately;
            return lost;
        } else {
            *base += (lately - *base).min((time_s - last).max(0.0) * DRIFT);
        }
        0.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Blocks of 50 ms; `arrives` gives for each block its time of arrival, or none where it is lost.
    fn lost(arrives: impl Fn(usize) -> Option<f64>) -> f64 {
        let mut watch = LossWatch::new();
        let (mut sound, mut lost, mut time) = (0.0, 0.0, 0.0_f64);
        for block in 0..2000 {
            if let Some(at) = arrives(block) {
                time = time.max(at);
                sound += 0.05;
                lost += watch.note(time, sound);
            }
        }
        lost
    }

    #[test]
    fn in_time_late_or_drifting_is_not_lost() {
        let due = |block: usize| (block + 1) as f64 * 0.05;
        assert_eq!(lost(|b| Some(due(b))), 0.0);
        // Jitter of up to 40 ms.
        assert_eq!(lost(|b| Some(due(b) + (b * 7 % 5) as f64 * 0.01)), 0.0);
        // A stall of a second, after which all comes at once.
        assert_eq!(lost(|b| Some(if (500..520).contains(&b) { due(520) } else { due(b) })), 0.0);
        // A device clock that is 0.05 % slow.
        assert_eq!(lost(|b| Some(due(b) * 1.0005)), 0.0);
    }

    #[test]
    fn what_never_comes_is_lost() {
        let due = |block: usize| (block + 1) as f64 * 0.05;
        let found = lost(|b| (!(500..506).contains(&b)).then_some(due(b)));
        assert!((found - 0.3).abs() < 0.02, "{found}");
        // Two holes are two losses.
        let found = lost(|b| (!(500..502).contains(&b) && !(900..904).contains(&b)).then_some(due(b)));
        assert!((found - 0.3).abs() < 0.02, "{found}");
    }
}
