//! Owns the course of a session: a state machine with events in and actions out, no I/O and no clock of its own.
//!
//! [`Session::step`] takes the time and one [`Event`], changes the [`State`] and returns what to do. The same events in
//! the same order give the same state, so that resuming is replaying. Where it goes:
//!
//! ```text
//! codes ─► gates ─► temperature ─► leads ─► round: circuit by circuit ─► first circuit again
//!            ▲                                                                   │
//!            └── after 30 minutes, and on resume            suspects read again ◄┘
//!                                                                   │
//!                    gates of that station ◄── yes ── the engine's next station is offered
//!                              │                                    │ none, or no
//!                       its readings ─► judged again         all read ─► "finish" ─► conclusion
//! ```
//!
//! What makes it ask is the sound and the form of what was said alone, never what a value means.

mod ask;
mod codes;
mod commands;
pub mod event;
mod flow;
mod fuller;
mod lines;
mod prepare;
mod state;
mod stations;
#[cfg(test)]
mod tests;

pub use ask::follow;
pub use event::*;
pub use flow::{Action, End, Kind, Session, VoiceChange};
pub use state::{
    Ask, Correction, Given, Input, Origin, Phase, Preparation, Prompts, Purpose, SaidTemperature, State,
    Taken, Task,
};
