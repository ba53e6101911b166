//! Owns the gain towards the level that the networks know: slow, only upward, from the first word. Pure.
//!
//! The networks and the scorer of speech were trained on usual levels; a quiet microphone must not make a person unheard. The room, the
//! gate and the sound check go by raw levels. Gain follows loud sound at once and silence slowly.

/// The loudest tenth of a second is brought to this, in decibels against full scale.
const TARGET_DBFS: f32 = -20.0;
/// Never more than this, in decibels.
const MOST_DB: f32 = 24.0;
/// The room may not be lifted above this for the scorer, in decibels against full scale: its noise is no speech.
const ROOM_DBFS: f32 = -62.0;
/// What was loud is forgotten by so much a frame, in decibels (6 dB a second).
const FALL_DB: f32 = 0.096;

/// The gain that a sound whose loudest part is at this level needs, in decibels, 0 to 24.
#[must_use]
pub fn needed(loudest_dbfs: f32) -> f32 {
    (TARGET_DBFS - loudest_dbfs).clamp(0.0, MOST_DB)
}

/// The factor of a gain in decibels.
#[must_use]
pub fn factor(db: f32) -> f32 {
    10_f32.powf(db / 20.0)
}

/// Gain for the scorer of speech, which hears every frame.
#[derive(Debug, Clone, Copy)]
pub struct Gain {
    loudest: f32,
}

impl Default for Gain {
    fn default() -> Self {
        Self { loudest: TARGET_DBFS - MOST_DB }
    }
}

impl Gain {
    /// The factor for the next frame, of this level, in a room of that level (decibels against full scale).
    pub fn frame(&mut self, level_dbfs: f32, room_dbfs: f32) -> f32 {
        self.loudest = (self.loudest - FALL_DB).max(level_dbfs).max(TARGET_DBFS - MOST_DB);
        factor(needed(self.loudest).min((ROOM_DBFS - room_dbfs).max(0.0)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_upward_and_not_without_end() {
        for (level, db) in [(0.0, 0.0), (-20.0, 0.0), (-30.0, 10.0), (-44.0, 24.0), (-80.0, 24.0)] {
            assert_eq!(needed(level), db, "{level}");
        }
        assert!((factor(20.0) - 10.0).abs() < 1e-4);
    }

    #[test]
    fn loud_sound_is_followed_at_once_and_silence_slowly() {
        let mut gain = Gain::default();
        assert!(gain.frame(-60.0, -80.0) > 15.0);
        assert_eq!(gain.frame(-10.0, -80.0), 1.0);
        // A second later: still as for speech at -16 dB.
        let later: Vec<f32> = (0..62).map(|_| gain.frame(-60.0, -80.0)).collect();
        assert_eq!(later.last(), Some(&1.0));
        assert_eq!(Gain::default().frame(-45.0, -45.0), 1.0, "a loud room is not lifted");
    }
}
