//! Owns the course of a session: a state machine with events in and actions out, no I/O and no clock of its own.

pub mod event;

pub use event::*;
