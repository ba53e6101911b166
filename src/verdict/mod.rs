//! Owns the judgement: physics and statistics from readings to findings, patterns and a conclusion.
//!
//! Pure: [`judge`] is a function of a profile, a meter and the evidence. Voice, keys, batch, report and simulator all
//! call it; none of them judges by itself. It does not know who asked, how a reading was taken in, or how it is shown.

pub mod trial;
pub mod types;

pub use types::*;
