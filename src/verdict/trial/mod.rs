//! Owns the trial: simulated parts with known faults, to measure how often the engine is right.
//!
//! [`model`] (what is simulated) was written and committed before the engine that it judges, and is not tuned to it.

pub mod model;
pub mod random;
