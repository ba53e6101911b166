//! Owns the trial: simulated parts with known faults, to measure how often the engine is right.
//!
//! [`model`] (what is simulated) was written and committed before the engine that it judges, and is not tuned to it.
//! [`run`] holds every part against the engine and against three ways in which people judge by hand.

pub mod model;
mod rivals;
mod run;
mod show;
mod stage;

pub use run::{Cell, FaultRow, Results, run};
pub use show::{markdown, plot};
