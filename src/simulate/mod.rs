//! Owns the simulated part and the simulated technician of the demo: values to be read, and words to be said.
//!
//! It knows what a person would know: the line that was spoken last, and what the invented part reads. It does not
//! see the session. Whatever it takes part in is stamped as simulated.

mod part;
mod room;
mod scenario;
mod sound;
mod technician;

pub use part::SimulatedPart;
pub use room::Track;
pub use scenario::{Scenario, ScenarioError, Slip};
pub use sound::{PrivateSound, Side};
pub use technician::Technician;
