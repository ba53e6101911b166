//! Owns the quantities of the job: units as types, the exact decimal that a display shows, and what a reading is.
//!
//! Nothing else in the crate passes a bare `f64` across a module border: a resistance is [`Ohms`], a temperature
//! [`Celsius`]. What a meter shows stays an exact [`Decimal`] (so that `1.50` is not `1.5`: the places tell the range),
//! and becomes a floating number only where something is computed from it.

mod decimal;
pub mod notation;
mod reading;
mod units;

pub use decimal::{Decimal, DecimalError};
pub use reading::{Prefix, Reading, Shown, Unit};
pub use units::{Amperes, Celsius, Interval, Kelvin, NotFinite, Ohms, Volts};
