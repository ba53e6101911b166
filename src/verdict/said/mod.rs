//! Owns what a judgement says, as values: which sentence it is, with its names and figures. The words are made of it elsewhere.

mod check;
mod conclusion;
mod derivation;
mod headline;
mod observed;

pub use check::{NextStep, NextWhy};
pub use conclusion::{Caveat, Grounds, NotExcluded, Together};
pub use derivation::{
    ClassReason, Derived, Evaluated, FamilyStand, FindingNote, Likelihood, LimitsAt, MemberDiffers,
    MeterAccuracy, OutlierTest, ReadingUsed, StepName, UncertaintySource, WanderWhy, WarmthRule, WindowStand,
    WindowWeighed,
};
pub use headline::{Does, Headline, NamedCircuits, Suspicion};

pub use observed::{CodeStand, LimitBy, Observation, UnderLoad, WiresAdd};

use super::meter::trim;
use crate::quantity::Decimal;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Something that is said: a value, or a text in the words that somebody chose. Programs of before kept English texts; a profile's
/// own checks are in its words.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(untagged)]
pub enum Saying<T> {
    /// Which sentence it is, to be put into the reader's language.
    Value(T),
    /// The words as they stand.
    Text(String),
}

impl<T> Saying<T> {
    /// The value, where it is one.
    pub fn value(&self) -> Option<&T> {
        match self {
            Self::Value(value) => Some(value),
            Self::Text(_) => None,
        }
    }
}

impl<T> From<String> for Saying<T> {
    fn from(text: String) -> Self {
        Self::Text(text)
    }
}

impl<T> From<&str> for Saying<T> {
    fn from(text: &str) -> Self {
        Self::Text(text.to_owned())
    }
}

/// A computed number with as many figures as are shown of it, so that what is kept is what is said.
pub(super) fn figure(value: f64) -> f64 {
    trim(value).parse().ok().filter(|number: &f64| number.is_finite()).unwrap_or(0.0)
}

/// A number with that many places; with fewer where it has more digits than a decimal holds.
pub(super) fn decimal(value: f64, places: usize) -> Decimal {
    let shown = (0..=places).rev().find_map(|places| format!("{value:.places$}").parse().ok());
    shown.unwrap_or_else(|| Decimal::new(value < 0.0, 999_999_999_999, 0).expect("twelve digits"))
}

impl Likelihood {
    /// As it is shown.
    pub(super) fn of(probability: f64) -> Self {
        match probability {
            p if p < 0.001 => Self::Under(decimal(0.001, 3)),
            p if p > 0.999 => Self::Over(decimal(0.999, 3)),
            p => Self::About(decimal(p, 3)),
        }
    }
}
