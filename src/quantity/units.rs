//! Owns the unit types: finite numbers with their unit, and intervals of them.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::fmt;

/// A number was NaN or infinite where a quantity needs a finite one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("a quantity must be a finite number")]
pub struct NotFinite;

macro_rules! unit_types {
    ($($(#[$doc:meta])* $name:ident $symbol:literal;)*) => {$(
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Serialize, Deserialize, JsonSchema)]
        #[serde(try_from = "f64")]
        pub struct $name(f64);

        impl $name {
            /// The symbol written after a number of this unit.
            pub const SYMBOL: &'static str = $symbol;

            /// Takes a finite number.
            ///
            /// # Errors
            /// [`NotFinite`] for NaN and the infinities.
            pub fn new(value: f64) -> Result<Self, NotFinite> {
                if value.is_finite() { Ok(Self(value)) } else { Err(NotFinite) }
            }

            /// The number in this unit.
            #[must_use]
            pub fn get(self) -> f64 {
                self.0
            }
        }

        impl TryFrom<f64> for $name {
            type Error = NotFinite;
            fn try_from(value: f64) -> Result<Self, NotFinite> {
                Self::new(value)
            }
        }

        impl From<$name> for f64 {
            fn from(value: $name) -> f64 {
                value.0
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                fmt::Display::fmt(&self.0, f)?;
                write!(f, " {}", $symbol)
            }
        }
    )*};
}

unit_types! {
    /// Electrical resistance in ohms.
    Ohms "Ω";
    /// Voltage in volts.
    Volts "V";
    /// Current in amperes.
    Amperes "A";
    /// A temperature in degrees Celsius.
    Celsius "°C";
    /// A difference of temperatures in kelvin.
    Kelvin "K";
}

/// A closed interval of a quantity: what is known of a value that was guessed or measured with a spread.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(rename = "Interval")]
pub struct Interval<T> {
    /// The lower end.
    pub low: T,
    /// The upper end, at least `low`.
    pub high: T,
}

impl<T: PartialOrd + Copy> Interval<T> {
    /// An interval from `low` to `high`; `None` when they are upside down.
    #[must_use]
    pub fn new(low: T, high: T) -> Option<Self> {
        (low <= high).then_some(Self { low, high })
    }

    /// The interval that holds one value alone.
    #[must_use]
    pub fn exactly(value: T) -> Self {
        Self { low: value, high: value }
    }

    /// Whether `value` lies within, the ends included.
    #[must_use]
    pub fn contains(&self, value: T) -> bool {
        self.low <= value && value <= self.high
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quantities_refuse_what_is_not_finite() {
        assert_eq!(Ohms::new(f64::NAN), Err(NotFinite));
        assert_eq!(Celsius::new(f64::INFINITY), Err(NotFinite));
        assert_eq!(Ohms::new(1.5).unwrap().get(), 1.5);
        assert_eq!(format!("{:.1}", Ohms::new(1.25).unwrap()), "1.2 Ω");
    }

    #[test]
    fn an_interval_is_never_upside_down() {
        assert!(Interval::new(2.0, 1.0).is_none());
        assert!(Interval::new(1.0, 2.0).unwrap().contains(2.0));
    }
}
