//! Owns the lines of the conclusion, as they are spoken.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A line of the conclusion, in the words of the verdict engine.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Concluded {
    /// What it amounts to.
    Headline(String),
    /// A reason for it.
    Reason(String),
    /// What is not excluded.
    NotExcluded(String),
    /// The next check.
    Next(String),
    /// A caution that stands on every conclusion.
    Caution(String),
    /// The next check needs the power back on: what to mind then.
    PowerIsOn,
    /// There is none.
    None(String),
}
