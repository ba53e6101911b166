//! Owns when the microphone is open: always, or while the talk key or the pedal is pressed.

use std::time::{Duration, Instant};

/// How long it stays open after the pedal was let go: people let go with the last sound, and speech that breaks off without
/// silence after it is asked again.
const STAYS_OPEN: Duration = Duration::from_millis(400);

/// The microphone's door.
#[derive(Debug, Default)]
pub struct Talking {
    /// Whether it opens only on being pressed.
    push: bool,
    pressed: Pressed,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
enum Pressed {
    #[default]
    No,
    /// The pedal is down.
    Held,
    /// The pedal was let go: open until then.
    LetGo(Instant),
    /// The talk key was pressed: open until something was heard, or it is pressed again.
    Once,
}

impl Talking {
    /// `push`: it opens only while the talk key or the pedal is pressed.
    #[must_use]
    pub fn new(push: bool) -> Self {
        Self { push, pressed: Pressed::No }
    }

    /// Whether it is shut now.
    #[must_use]
    pub fn is_shut(&self) -> bool {
        self.push && self.pressed == Pressed::No
    }

    /// The pedal goes down (`true`) or up.
    pub fn pedal(&mut self, down: bool, now: Instant) {
        self.pressed = match (down, self.pressed) {
            (true, _) => Pressed::Held,
            (false, Pressed::Held) => Pressed::LetGo(now + STAYS_OPEN),
            (false, other) => other,
        };
    }

    /// The talk key is pressed: terminals do not tell when a key is let go.
    pub fn key(&mut self) {
        self.pressed = match self.pressed {
            Pressed::No => Pressed::Once,
            _ => Pressed::No,
        };
    }

    /// Speech was heard.
    pub fn heard(&mut self) {
        if self.pressed == Pressed::Once {
            self.pressed = Pressed::No;
        }
    }

    /// Time passes.
    pub fn tick(&mut self, now: Instant) {
        if matches!(self.pressed, Pressed::LetGo(until) if now >= until) {
            self.pressed = Pressed::No;
        }
    }

    /// Whether it opens only on being pressed.
    #[must_use]
    pub fn is_push(&self) -> bool {
        self.push
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_open_microphone_is_never_shut() {
        let mut talking = Talking::new(false);
        let now = Instant::now();
        talking.pedal(true, now);
        talking.pedal(false, now);
        talking.tick(now + STAYS_OPEN);
        talking.key();
        talking.heard();
        assert!(!talking.is_shut());
    }

    #[test]
    fn the_pedal_opens_it_while_held_and_a_moment_longer() {
        let mut talking = Talking::new(true);
        let now = Instant::now();
        assert!(talking.is_shut());
        talking.pedal(true, now);
        talking.heard();
        talking.tick(now + Duration::from_secs(60));
        assert!(!talking.is_shut());
        talking.pedal(false, now);
        talking.tick(now + STAYS_OPEN - Duration::from_millis(1));
        assert!(!talking.is_shut());
        talking.tick(now + STAYS_OPEN);
        assert!(talking.is_shut());
    }

    #[test]
    fn the_key_opens_it_for_one_thing_said() {
        let mut talking = Talking::new(true);
        talking.key();
        assert!(!talking.is_shut());
        talking.heard();
        assert!(talking.is_shut());
        talking.key();
        talking.key();
        assert!(talking.is_shut());
        // The pedal, pressed while the key's opening holds, takes over.
        talking.key();
        talking.pedal(true, Instant::now());
        talking.heard();
        assert!(!talking.is_shut());
    }
}
