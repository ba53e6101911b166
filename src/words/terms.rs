//! Owns the short forms of terms that several rooms show: for a drawing, a narrow column, large letters.

use crate::verdict::{Class, Station};
use schemars::JsonSchema;
use serde::Serialize;

/// A term in as few words as a drawing or a narrow column has room for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Brief {
    /// What a circuit came to.
    Class(Class),
    /// Where it was measured.
    Station(Station),
}

/// A term in the word or two that can be written large.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Large {
    /// What a circuit came to.
    Class(Class),
}
