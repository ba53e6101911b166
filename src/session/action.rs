//! Owns what a session asks the rim to do.

use super::message::Message;
use serde::{Deserialize, Serialize};

/// What the rim is to do.
#[derive(Debug, Clone, PartialEq)]
pub enum Action {
    /// Say and show a line.
    Say {
        /// The line.
        message: Message,
        /// What kind of line it is.
        kind: Kind,
    },
    /// Change how the voice speaks.
    Voice(VoiceChange),
    /// The microphone is open (`false`), or listens while the talk key or the pedal is pressed.
    Microphone {
        /// Whether something has to be pressed.
        push: bool,
    },
    /// Take what the meter on the line shows, once it stands still.
    AskMeter,
    /// The session is over.
    End(End),
}

/// Changes of the voice.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum VoiceChange {
    /// Louder.
    Louder,
    /// More quietly.
    Quieter,
    /// Faster.
    Faster,
    /// More slowly.
    Slower,
}

/// Kinds of lines.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    /// Something that can hurt or mislead.
    Caution,
    /// What to do next.
    Prompt,
    /// Read-back or answer, with the next prompt.
    Answer,
    /// A question about what was heard.
    Question,
    /// The conclusion.
    Conclusion,
}

/// How a session ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum End {
    /// With a conclusion.
    Concluded,
    /// Left open, to be resumed.
    Left,
}
