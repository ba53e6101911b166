//! Owns the simulated part and the simulated technician of the demo: values to be read, and words to be said.
//!
//! It knows what a person would know: the line that was said last, and what the invented part reads. It does not
//! see the session. Whatever it takes part in is stamped as simulated.

pub mod bench;
mod lessons;
pub mod pace;
mod part;
mod scenario;
mod technician;
#[cfg(feature = "voice")]
mod voice;
mod waits;

pub use bench::{Bench, BenchFault};
pub use lessons::{BenchLine, LESSONS, Lesson, LessonAbout};
pub use part::{SimulatedPart, display};
pub use scenario::{Scenario, ScenarioError, Slip};
pub use technician::Technician;
#[cfg(feature = "voice")]
pub use voice::Voice;
pub use waits::waits;
