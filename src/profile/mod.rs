//! Owns what is known of a part: the TOML that people write, checked into types that the program may trust.
//!
//! [`model`] holds the checked types. Whoever holds a [`Profile`] knows that every circuit ends on pins that exist, every
//! window is the right way up and every name is unique: no other module checks that again. [`find`] and [`find_meter`]
//! take a name or a path, [`load`] a path, [`parse`] a text. A file that is not in order gives no half-valid value but
//! [`ProfileError`] with every fault at once, each with line, key and advice:
//!
//! ```
//! let text = std::fs::read_to_string("profiles/sweeper-valve-block.toml").unwrap();
//! assert_eq!(bothhands::profile::parse("block", &text).unwrap().circuits.len(), 11);
//!
//! let wrong = text.replace("pin = 3\nagainst = 16", "pin = 3\nagainst = 61").replace("tolerance_percent", "tolerance");
//! let error = bothhands::profile::parse("block", &wrong).unwrap_err();
//! let faults: Vec<String> = error.faults().unwrap().list().iter().map(ToString::to_string).collect();
//! assert!(faults[0].ends_with("family[main-coils].tolerance: unknown key `tolerance`"));
//! assert!(faults[1].ends_with("circuit[coil-c].against: the connector has no pin \"61\""));
//! ```
//!
//! The way of a text: the reader takes it key by key with the place of each value, the checks look at all that was
//! written, and only what passed them all becomes a value.
//!
#![doc = include_str!("format.md")]

mod build;
mod check;
mod describe;
mod doubts;
mod faults;
mod find;
mod load;
pub mod model;
mod nearest;
mod place;
mod raw;
mod raw_meter;
mod raw_part;
mod schema;
mod short;
mod unknown;
mod window_text;

pub use describe::describe;
pub use doubts::{ProfileDoubt, doubts};
pub use faults::{Fault, Faults, ProfileError, What};
pub use find::{Available, Loaded, available, available_meters, find, find_meter, personal_folder};
pub use load::{LARGEST, load, load_meter, parse, parse_in, parse_meter};
pub use model::*;
pub use place::place_of;
pub use schema::{reference, schema};
pub use short::{USUAL_CONTACT_OHM, USUAL_TOLERANCE_PERCENT, VERSION, slug};
pub use unknown::{MOST_PINS, NoSuchPart, unknown};
pub use window_text::{WINDOW_ADVICE, window_in_ohms};
