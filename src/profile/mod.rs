//! Owns what is known of a part: the TOML that people write, checked into types that the program may trust.
//!
//! [`model`] holds the checked types. Whoever holds a [`Profile`] knows that every circuit ends on pins that exist, every
//! window is the right way up and every name is unique: no other module checks that again.

mod build;
mod check;
mod faults;
mod find;
mod load;
pub mod model;
mod nearest;
mod raw;
mod raw_meter;
mod raw_part;

pub use faults::{Fault, Faults, ProfileError, What};
pub use find::{Available, Loaded, available, available_meters, find, find_meter};
pub use load::{LARGEST, load, load_meter, parse, parse_meter};
pub use model::*;
