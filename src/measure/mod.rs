//! Owns measuring the ears: clips whose words are known go the live way of hearing, and what came of them is counted.
//!
//! The sound of each clip, with a second of room before and some seconds behind it, runs through [`crate::hear::ear::Ear`] in the
//! pieces that a microphone gives: the same gate, opinions, acceptance and end of speech as live.

pub mod bounds;
pub mod list;
#[cfg(feature = "voice")]
pub mod run;
pub mod score;
pub mod spoil;
pub mod table;

pub use list::{ListError, Listed};
pub use score::{Heard, Scored, Tally, What};
