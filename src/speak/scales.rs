//! Owns how fast and how loud: the scales of the voice and the steps that commands go on them.

use crate::session::VoiceChange;

/// Steps of pace. Of loudness they are larger: less is not noticed.
const FASTER: f32 = 20.0;
const LOUDER: f32 = 30.0;
/// Softer than this nobody hears it.
const SOFTEST: f32 = -60.0;

/// Where the voice stands on its scales.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scales {
    /// Pace, from -100 (slow) to 100 (fast).
    pub pace: f32,
    /// Loudness, from -100 (quiet) to 100 (full).
    pub volume: f32,
}

impl Scales {
    /// Goes one step; false where it was at the end already.
    pub fn change(&mut self, change: VoiceChange) -> bool {
        let before = *self;
        match change {
            VoiceChange::Faster => self.pace = (self.pace + FASTER).min(100.0),
            VoiceChange::Slower => self.pace = (self.pace - FASTER).max(-100.0),
            VoiceChange::Louder => self.volume = (self.volume + LOUDER).min(100.0),
            VoiceChange::Quieter => self.volume = (self.volume - LOUDER).max(SOFTEST.min(self.volume)),
        }
        *self != before
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn steps_end_at_the_ends() {
        let mut scales = Scales { pace: 90.0, volume: 100.0 };
        assert!(!scales.change(VoiceChange::Louder));
        assert!(scales.change(VoiceChange::Faster));
        assert!(!scales.change(VoiceChange::Faster));
        let steps = (0..20).filter(|_| scales.change(VoiceChange::Quieter)).count();
        assert_eq!((steps, scales.volume), (6, SOFTEST));
        // Set lower by the settings: it stays there.
        scales.volume = -90.0;
        assert!(!scales.change(VoiceChange::Quieter));
        assert_eq!(scales.volume, -90.0);
        assert!((0..10).all(|_| scales.change(VoiceChange::Slower)));
        assert_eq!(scales.pace, -100.0);
    }
}
