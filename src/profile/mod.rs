//! Owns what is known of a part: the TOML that people write, checked into types that the program may trust.
//!
//! [`model`] holds the checked types. Whoever holds a [`Profile`] knows that every circuit ends on pins that exist, every
//! window is the right way up and every name is unique: no other module checks that again.

pub mod model;

pub use model::*;
