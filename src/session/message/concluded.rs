//! Owns the lines of the conclusion, as they are spoken.

use crate::verdict::{Caveat, Grounds, Headline, NextStep, NotExcluded, Saying};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A line of the conclusion: what the verdict engine says, as values.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Concluded {
    /// What it amounts to.
    Headline(Saying<Headline>),
    /// A reason for it.
    Reason(Saying<Grounds>),
    /// What is not excluded.
    NotExcluded(Saying<NotExcluded>),
    /// The next check.
    Next(Saying<NextStep>),
    /// A caution that stands on every conclusion.
    Caution(Saying<Caveat>),
    /// The next check needs the power back on: what to mind then.
    PowerIsOn,
    /// There is none.
    None(String),
}
