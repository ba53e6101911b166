//! Owns the read-back: what was taken, and what it means so far.

use crate::{
    quantity::{Decimal, Shown},
    verdict::Class,
};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A reading said back.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum ReadBack {
    /// What was read, and what it amounts to.
    Judged {
        /// What was read.
        reading: Readout,
        /// What this reading amounts to.
        class: Class,
    },
    /// The same, where this meter cannot tell inside from outside anywhere in the window.
    CannotTell {
        /// What was read.
        reading: Readout,
        /// What this reading amounts to.
        class: Class,
    },
    /// What was read, where the verdict would only repeat it.
    Alone {
        /// What was read.
        reading: Readout,
    },
    /// The circuit was left out.
    LeftOut,
    /// Taken although it was not heard clearly; the digits in doubt are known.
    MarkedDigits {
        /// The whole reading, unit included.
        reading: Readout,
        /// The digits as they were taken.
        digits: String,
        /// What this reading amounts to.
        class: Class,
    },
    /// Taken although it was not heard clearly.
    Marked {
        /// The whole reading, unit included.
        reading: Readout,
        /// What this reading amounts to.
        class: Class,
    },
    /// Another reading of this circuit said otherwise.
    Differs,
    /// What a verdict means for what happens next.
    Meaning {
        /// The verdict.
        class: Class,
    },
}

/// What the display showed, as it is said back.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Readout {
    /// A number in plain ohms: the number alone.
    Plain(Decimal),
    /// A number with its unit.
    Full(Shown),
    /// The display is over range.
    OverRange,
    /// The number does not settle.
    Unstable,
    /// No reading was taken.
    NotTaken,
}
