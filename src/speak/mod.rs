//! Owns speech out: lines to a voice, interruptible, with every utterance bounded in time. It never decides what to say.
//!
//! [`Voice`] is the edge; the system's voice, the one played on a loudspeaker that was named (feature `voice`), [`Silent`] and
//! [`Recording`] stand behind it.

mod form;
#[cfg(feature = "voice")]
mod loudspeaker;
#[cfg(feature = "voice")]
mod played;
#[cfg(feature = "voice")]
mod remote;
mod scales;
#[cfg(feature = "voice")]
mod system;

pub use form::{Symbol, spoken_form};
#[cfg(feature = "voice")]
pub use loudspeaker::{LoudspeakerError, loudspeakers};
#[cfg(feature = "voice")]
pub use played::played_voice;
pub use scales::Scales;
#[cfg(feature = "voice")]
pub use system::system_voice;

use crate::session::VoiceChange;
use crossbeam_channel::{Receiver, Sender, unbounded};
use schemars::JsonSchema;
use serde::Serialize;
use std::{
    sync::{Arc, Mutex, PoisonError},
    time::Instant,
};

/// What a voice tells.
#[derive(Debug, Clone, PartialEq)]
pub enum VoiceEvent {
    /// A line begins to sound.
    Began(Instant),
    /// Nothing more is being said, and nothing waits, after the order of that number.
    Quiet {
        /// The number of the last order that was carried out.
        after: u64,
    },
    /// The voice does not work as it should; the lines stay on the screen.
    Trouble(VoiceTrouble),
}

/// What is wrong with a voice, or was.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum VoiceTrouble {
    /// The system's voice was lost and is started again.
    Lost {
        /// What the system says.
        why: String,
    },
    /// It does not start.
    None {
        /// What the system says.
        why: String,
    },
    /// Pace or loudness cannot be changed.
    Unchanged {
        /// What the system says.
        why: String,
    },
    /// The loudspeaker is gone and looked for.
    LoudspeakerGone {
        /// What the system says.
        why: String,
    },
    /// The loudspeaker is there again.
    LoudspeakerBack,
    /// The loudspeaker had to wait for sound: the machine was too slow.
    RanDry {
        /// How often.
        times: u64,
    },
    /// A line could not be made into sound.
    NotSpoken {
        /// What the system says.
        why: String,
    },
}

/// Something that speaks. Orders are numbered from 1, so that an old "quiet" is not taken for a new one.
pub trait Voice: Send {
    /// Says a line after those that wait. Returns its number at once.
    fn say(&mut self, text: &str) -> u64;
    /// Stops at once and forgets what waits. Returns its number at once.
    fn hush(&mut self) -> u64;
    /// Changes loudness or pace from the next line on; false where it is at its limit already.
    fn change(&mut self, change: VoiceChange) -> bool;
    /// What it tells. Every `say` or `hush` is followed by a [`VoiceEvent::Quiet`] in the end, whatever happens.
    fn events(&self) -> &Receiver<VoiceEvent>;
}

/// A voice that says nothing: the lines on the screen are all.
#[derive(Debug)]
pub struct Silent {
    tell: Sender<VoiceEvent>,
    events: Receiver<VoiceEvent>,
    orders: u64,
}

impl Default for Silent {
    fn default() -> Self {
        let (tell, events) = unbounded();
        Self { tell, events, orders: 0 }
    }
}

impl Voice for Silent {
    fn say(&mut self, _: &str) -> u64 {
        self.hush()
    }

    fn hush(&mut self) -> u64 {
        self.orders += 1;
        // The receiver lives as long as this value.
        let _ = self.tell.send(VoiceEvent::Quiet { after: self.orders });
        self.orders
    }

    fn change(&mut self, _: VoiceChange) -> bool {
        true
    }

    fn events(&self) -> &Receiver<VoiceEvent> {
        &self.events
    }
}

/// A voice that writes down what it was given, for tests.
#[derive(Debug, Default)]
pub struct Recording {
    silent: Silent,
    lines: Arc<Mutex<Vec<String>>>,
}

impl Recording {
    /// The lines so far, shared with the voice.
    #[must_use]
    pub fn lines(&self) -> Arc<Mutex<Vec<String>>> {
        Arc::clone(&self.lines)
    }
}

impl Voice for Recording {
    fn say(&mut self, text: &str) -> u64 {
        self.lines.lock().unwrap_or_else(PoisonError::into_inner).push(text.to_owned());
        self.silent.say(text)
    }

    fn hush(&mut self) -> u64 {
        self.silent.hush()
    }

    fn change(&mut self, change: VoiceChange) -> bool {
        self.silent.change(change)
    }

    fn events(&self) -> &Receiver<VoiceEvent> {
        self.silent.events()
    }
}
