//! Owns what is told of the devices while a session runs.

use schemars::JsonSchema;
use serde::Serialize;

/// Something about microphone, keys and pedals.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Device {
    /// There is no microphone.
    NoMicrophone,
    /// The microphone listens while something is pressed.
    MicrophoneOnPressing,
    /// The microphone is open.
    MicrophoneOpen,
    /// The microphone was pulled out, or fails.
    MicrophoneGone,
    /// The microphone is there again.
    MicrophoneBack,
    /// What a device tells of itself.
    Told(String),
}
