//! Owns the trial: simulated parts with known faults, to measure how often the engine is right.
//!
//! [`worlds`], [`structures`] and [`rivals`] (what is simulated, and whom the engine is held against) were written and
//! committed before the engine that they judge, and are not tuned to it. [`run`] holds every part against all of them.

pub mod random;
pub mod rivals;
mod run;
mod show;
mod stage;
pub mod structures;
pub mod worlds;

pub use run::{Cell, Results, StructureRow, run};
pub use show::{markdown, plot};
