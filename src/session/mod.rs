//! Owns the course of a session: a state machine with events in and actions out, no I/O and no clock of its own.
//!
//! [`Session::step`] takes the time and one [`Event`], changes the [`State`] and returns what to do. The same events in
//! the same order give the same state, so that resuming is replaying. Where it goes, one file for each phase:
//!
//! ```text
//! codes ─► gates ─► temperature ─► leads ─► readings: circuit by circuit ─► first circuit again
//!            ▲                                                                   │
//!            └── after 30 minutes, and on resume            suspects read again ◄┘
//!                                                                   │
//!               gates of that station ◄── yes ── offer: the engine's next station
//!                              │                                    │ none, or no
//!                       its readings ─► judged again         all read ─► "finish" ─► conclusion
//! ```
//!
//! What makes it ask is the sound and the form of what was said alone, never what a value means. What it says are values
//! ([`Message`]); the words are made of them elsewhere.

mod action;
mod all_read;
mod cautions;
mod codes;
mod commands;
mod display;
pub mod event;
mod gates;
mod info;
mod last_time;
mod leads;
pub mod message;
mod naming;
mod offer;
mod phases;
mod plan;
mod prepare;
mod questions;
mod readback;
mod reading;
mod rules;
mod state;
mod station_gates;
mod step;
mod temperature;
#[cfg(test)]
mod tests;
mod turn;
mod undo;
mod waiting;

pub use action::{Action, End, Kind, VoiceChange};
pub use all_read::conclusion;
pub use cautions::{EVERYWHERE, OwnCaution};
pub use display::{Shows, display_of, follow};
pub use event::*;
pub use last_time::{LastSession, LastTime};
pub use message::Message;
pub use readback::read_out;
pub use rules::Rules;
pub use state::{
    Ask, Awaited, Correction, Given, Guess, Input, Origin, Phase, Preparation, Prompts, Purpose, SaidAs,
    SaidTemperature, State, Taken, Task, Waiting,
};
pub use step::{PhraseClash, Session};
