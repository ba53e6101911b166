//! Owns the name of the engine: what a conclusion that is kept is known by.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Name of the engine: one posterior over all that may be wrong. The one before, "classes", classed each circuit by itself.
const NAME: &str = "posterior";
/// Raised with every change that can alter a judgement or its form.
const VERSION: u32 = 2;

/// An engine of judgement: two of the same name and version give the same judgement of the same readings.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Engine {
    /// Its name.
    pub name: String,
    /// Raised with every change that can alter a judgement or its form.
    pub version: u32,
    /// Version of the program that it was part of.
    pub program: String,
}

/// The engine of this program.
#[must_use]
pub fn engine() -> Engine {
    Engine { name: NAME.to_owned(), version: VERSION, program: env!("CARGO_PKG_VERSION").to_owned() }
}
