//! Owns the gain towards the level that the networks know: slow, only upward, by speech alone. Pure.
//!
//! The networks and the scorer of speech were trained on usual levels; a quiet microphone must not make a person unheard. The room, the
//! gate and the sound check go by raw levels. Noise is not lifted into speech: the scorer's gain waits until the room is known and keeps the
//! room far below speech, and a stretch is lifted only by as much as it stands out of its room.

/// The loudest tenth of a second is brought to this, in decibels against full scale.
const TARGET_DBFS: f32 = -20.0;
/// Never more than this, in decibels.
const MOST_DB: f32 = 24.0;
/// The room may not be lifted above this for the scorer, in decibels against full scale: its noise is no speech. At -50 talk 20 dB below
/// the person kept the gate open.
const ROOM_DBFS: f32 = -62.0;
/// Frames until the room is known (half a second); until then nothing is lifted. The gate's first level is digital silence.
const UNKNOWN_FRAMES: u32 = 32;
/// A stretch is lifted by what it rises above its room beyond this, in decibels; chosen here. Speech 25 dB above a quiet room gets
/// 13 dB, noise that is hardly louder than the room gets nothing.
const STANDS_OUT_DB: f32 = 12.0;
/// What was loud is forgotten by so much a frame, in decibels (6 dB a second).
const FALL_DB: f32 = 0.096;

/// The gain that a sound whose loudest part is at this level needs, in decibels, 0 to 24.
#[must_use]
pub fn needed(loudest_dbfs: f32) -> f32 {
    (TARGET_DBFS - loudest_dbfs).clamp(0.0, MOST_DB)
}

/// The gain of a stretch with that loudest part in that room, of a person known to speak at `voice_dbfs`, in decibels, 0 to 24.
#[must_use]
pub fn of_stretch(loudest_dbfs: f32, room_dbfs: f32, voice_dbfs: Option<f32>) -> f32 {
    let stands_out = (loudest_dbfs - room_dbfs - STANDS_OUT_DB).max(0.0);
    // Somebody farther off is not lifted to where the person is.
    needed(voice_dbfs.map_or(loudest_dbfs, |voice| loudest_dbfs.max(voice))).min(stands_out)
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
    frames: u32,
}

impl Default for Gain {
    fn default() -> Self {
        Self { loudest: TARGET_DBFS - MOST_DB, frames: 0 }
    }
}

impl Gain {
    /// The factor for the next frame, of this level, in a room of that level (decibels against full scale).
    pub fn frame(&mut self, level_dbfs: f32, room_dbfs: f32) -> f32 {
        self.loudest = (self.loudest - FALL_DB).max(level_dbfs).max(TARGET_DBFS - MOST_DB);
        self.frames = self.frames.saturating_add(1);
        if self.frames <= UNKNOWN_FRAMES {
            return 1.0;
        }
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
    fn a_stretch_is_lifted_by_what_it_stands_out() {
        for (loudest, room, voice, db) in [
            (-43.0, -75.0, None, 20.0),
            (-43.0, -60.0, None, 5.0),
            (-43.0, -50.0, None, 0.0),
            (-15.0, -75.0, None, 0.0),
            (-43.0, -75.0, Some(-25.0), 5.0),
            (-30.0, -75.0, Some(-40.0), 10.0),
        ] {
            assert_eq!(of_stretch(loudest, room, voice), db, "{loudest} {room} {voice:?}");
        }
    }

    #[test]
    fn loud_sound_is_followed_at_once_and_silence_slowly() {
        let mut gain = Gain::default();
        for _ in 0..UNKNOWN_FRAMES {
            assert_eq!(gain.frame(-45.0, -90.0), 1.0, "the room is not known yet");
        }
        assert!(gain.frame(-60.0, -80.0) > 7.0);
        assert_eq!(gain.frame(-10.0, -80.0), 1.0);
        // A second later: still as for speech at -16 dB.
        let later: Vec<f32> = (0..62).map(|_| gain.frame(-60.0, -80.0)).collect();
        assert_eq!(later.last(), Some(&1.0));
        assert_eq!(gain.frame(-45.0, -45.0), 1.0, "a loud room is not lifted");
    }
}
