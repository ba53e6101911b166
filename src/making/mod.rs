//! Owns the making of a profile: from answers to questions, from a table of pins, or from what a session read.
//!
//! A [`Draft`] is what is known so far; [`Draft::text`] writes it in the short form, and [`Draft::checked`] reads that again by the
//! rules of every profile. So nothing is written that `check profile` would refuse. [`Dialogue`] is a fold over the answers: going
//! back is leaving the last one out.

mod dialogue;
mod draft;
mod learn;
mod message;
mod table;

pub use dialogue::Dialogue;
pub use draft::{Draft, DraftCircuit, Made};
pub use learn::{LearnedWords, learned};
pub use message::{Asked, MadeOf, NewPart};
pub use table::{TableFault, Taken, table};
