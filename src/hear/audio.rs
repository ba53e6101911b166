//! Owns the border to sound: a source that can be opened (again), and a stream of 16 kHz mono samples from it.

use super::HearError;
use std::{collections::VecDeque, time::Duration};

/// Samples a second that everything behind a source works with.
pub const RATE: u32 = 16_000;

/// Where sound comes from. Opened on the listening thread, and again after it was lost.
pub trait AudioSource: Send {
    /// Its name, as shown to the person.
    fn name(&self) -> String;

    /// Opens it.
    ///
    /// # Errors
    /// [`HearError`] where there is no such source or it cannot be used.
    fn open(&mut self) -> Result<Box<dyn AudioStream>, HearError>;

    /// Whether opening it again makes sense after it was lost.
    fn reopens(&self) -> bool {
        true
    }
}

/// An open source.
pub trait AudioStream {
    /// Waits at most `wait` for sound and appends all that there is to `out`: mono, [`RATE`], within −1 to 1.
    ///
    /// # Errors
    /// [`Lost`] when nothing more can come from this stream.
    fn read(&mut self, out: &mut Vec<f32>, wait: Duration) -> Result<Got, Lost>;

    /// Samples (at the rate of the device) that were lost so far because nobody fetched them in time.
    fn dropped(&self) -> u64 {
        0
    }
}

/// What a read gave.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Got {
    /// Samples were appended.
    Sound,
    /// Nothing came within the time.
    Nothing,
    /// The source has ended as planned (a file).
    End,
}

/// The source is gone: unplugged, or its server ended. The text is the system's.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{0}")]
pub struct Lost(pub String);

/// Makes samples safe for everything behind: finite and within −1 to 1.
#[must_use]
pub fn tame(sample: f32) -> f32 {
    if sample.is_finite() { sample.clamp(-1.0, 1.0) } else { 0.0 }
}

/// Sixteen-bit samples for the recogniser and for clips.
#[must_use]
pub fn to_i16(samples: &[f32]) -> Vec<i16> {
    #[expect(clippy::cast_possible_truncation, reason = "tamed to -1..1 before")]
    samples.iter().map(|s| (tame(*s) * 32767.0).round() as i16).collect()
}

/// A source that plays a script: for tests and simulations, without devices and without waiting.
#[derive(Debug, Default)]
pub struct ScriptedSource {
    /// What happens, in order.
    pub script: VecDeque<Step>,
}

/// One step of a [`ScriptedSource`].
#[derive(Debug, Clone)]
pub enum Step {
    /// These samples arrive.
    Sound(Vec<f32>),
    /// So many reads give nothing, each counting as a full wait.
    Nothing(u32),
    /// So many samples are lost before the next sound, and the stream knows it.
    Dropped(u64),
    /// The stream is lost; the next step is for the next opening.
    Lost(String),
    /// Opening fails.
    NoOpen(String),
}

impl ScriptedSource {
    /// A source with that script, which ends after it.
    #[must_use]
    pub fn new(script: impl IntoIterator<Item = Step>) -> Self {
        Self { script: script.into_iter().collect() }
    }
}

impl AudioSource for ScriptedSource {
    fn name(&self) -> String {
        "script".into()
    }

    fn open(&mut self) -> Result<Box<dyn AudioStream>, HearError> {
        if let Some(Step::NoOpen(why)) = self.script.front().cloned() {
            self.script.pop_front();
            return Err(HearError::NoMicrophone(why));
        }
        // The stream takes the steps up to its loss; what follows is for the next opening.
        let mut steps = VecDeque::new();
        while let Some(step) = self.script.pop_front() {
            let last = matches!(step, Step::Lost(_) | Step::NoOpen(_));
            if matches!(step, Step::NoOpen(_)) {
                self.script.push_front(step);
            } else {
                steps.push_back(step);
            }
            if last {
                break;
            }
        }
        Ok(Box::new(ScriptedStream { steps, dropped: 0 }))
    }
}

struct ScriptedStream {
    steps: VecDeque<Step>,
    dropped: u64,
}

impl AudioStream for ScriptedStream {
    fn read(&mut self, out: &mut Vec<f32>, _wait: Duration) -> Result<Got, Lost> {
        while let Some(Step::Dropped(n)) = self.steps.front() {
            self.dropped += n;
            self.steps.pop_front();
        }
        match self.steps.front_mut() {
            None | Some(Step::Dropped(_)) => Ok(Got::End),
            Some(Step::Nothing(n)) if *n > 1 => {
                *n -= 1;
                Ok(Got::Nothing)
            }
            Some(Step::Nothing(_)) => {
                self.steps.pop_front();
                Ok(Got::Nothing)
            }
            Some(Step::Sound(samples)) => {
                // In pieces as a device would, so that pieces need not match any frame length.
                let take = samples.len().min(331);
                out.extend(samples.drain(..take).map(tame));
                if samples.is_empty() {
                    self.steps.pop_front();
                }
                Ok(Got::Sound)
            }
            Some(Step::Lost(why) | Step::NoOpen(why)) => Err(Lost(why.clone())),
        }
    }

    fn dropped(&self) -> u64 {
        self.dropped
    }
}
