//! Owns the meter that talks: what it answers in SCPI, when its display stands still, and the thread that asks it.
//!
//! [`answer`] and [`still`] are pure, [`ask`] talks over a [`ask::Wire`], [`port`] is the rim: the device and its thread.

pub mod answer;
pub mod ask;
#[cfg(unix)]
mod device;
pub mod port;
pub mod still;
#[cfg(test)]
mod tests;
mod trouble;

pub use port::{BAUD, Came, Port, Query, Settings};
pub use trouble::MeterTrouble;

use crate::grammar::Spoken;

/// A reading that was taken from the meter.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Metered {
    /// What the meter sent, as sent.
    pub text: String,
    /// The same as a reading, as the display shows it.
    pub spoken: Spoken,
}
