//! Owns hearing: sound in, words of several opinions out, and whether they may be taken. Never the meaning of words.
//!
//! ```text
//! AudioSource ─► 16 kHz mono ─► Gate (is somebody speaking?) ─► Recognisers ─► accept ─► session::Hearing
//! ```
//!
//! Everything that decides ([`accept`], [`gate`]) works on values and builds without the feature `voice`; microphone,
//! resampling and recogniser are behind it. [`Listener`] ties them together on one thread.

pub mod accept;
pub mod advice;
pub mod audio;
pub mod clips;
pub mod doubt;
pub mod ear;
mod error;
pub mod figures;
#[cfg(feature = "voice")]
pub mod files;
pub mod gain;
pub mod gate;
pub mod listener;
pub mod loss;
pub mod meaning;
#[cfg(feature = "voice")]
pub mod microphone;
pub mod model;
pub mod recognise;
#[cfg(feature = "voice")]
pub mod resample;
pub mod sound_check;
pub mod tap;
pub mod virtual_sound;
#[cfg(feature = "voice")]
pub mod voice;
#[cfg(feature = "voice")]
pub mod wav;
pub mod weigh;

pub use audio::{AudioSource, AudioStream, RATE};
pub use ear::Follows;
pub use error::HearError;
pub use gate::Door;
#[cfg(feature = "voice")]
pub use listener::Config;
pub use listener::{HearEvent, Heard, Levels, Listener, Trouble};
pub use meaning::Parse;
#[cfg(feature = "voice")]
pub use microphone::Microphone;
pub use model::ModelFolder;
#[cfg(feature = "voice")]
pub use voice::Model;
#[cfg(feature = "voice")]
pub use wav::WavSource;
