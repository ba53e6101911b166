//! Owns what a meter can show: a value with prefix and unit, over range, a wandering number, or nothing taken.

use super::Decimal;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::fmt;

/// The quantity that the meter is set to, by its unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Unit {
    /// Resistance.
    Ohm,
    /// Voltage.
    Volt,
    /// Current.
    Ampere,
    /// Temperature in degrees Celsius.
    Celsius,
}

impl Unit {
    /// The symbol, as written.
    #[must_use]
    pub fn symbol(self) -> &'static str {
        match self {
            Self::Ohm => "Ω",
            Self::Volt => "V",
            Self::Ampere => "A",
            Self::Celsius => "°C",
        }
    }
}

/// The decimal prefix in front of the unit, as shown on the display.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Prefix {
    /// A thousandth.
    Milli,
    /// No prefix.
    One,
    /// A thousand.
    Kilo,
    /// A million.
    Mega,
}

impl Prefix {
    /// What the shown number is multiplied by.
    #[must_use]
    pub fn factor(self) -> f64 {
        match self {
            Self::Milli => 1e-3,
            Self::One => 1.0,
            Self::Kilo => 1e3,
            Self::Mega => 1e6,
        }
    }

    /// The same as a power of ten.
    #[must_use]
    pub fn power(self) -> i32 {
        match self {
            Self::Milli => -3,
            Self::One => 0,
            Self::Kilo => 3,
            Self::Mega => 6,
        }
    }

    /// The letter, as written; empty for none.
    #[must_use]
    pub fn symbol(self) -> &'static str {
        match self {
            Self::Milli => "m",
            Self::One => "",
            Self::Kilo => "k",
            Self::Mega => "M",
        }
    }
}

/// A number exactly as the meter shows it, with prefix and unit: `4.72 kΩ`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Shown {
    /// The digits of the display.
    pub number: Decimal,
    /// The prefix of the display.
    pub prefix: Prefix,
    /// The unit of the display.
    pub unit: Unit,
}

impl Shown {
    /// A number of ohms without a prefix.
    #[must_use]
    pub fn ohms(number: Decimal) -> Self {
        Self { number, prefix: Prefix::One, unit: Unit::Ohm }
    }

    /// The value in the unit itself, prefix applied: 4.72 kΩ gives 4720.
    #[must_use]
    pub fn value(&self) -> f64 {
        self.number.to_f64() * self.prefix.factor()
    }

    /// The value of one step of the last shown digit, in the unit itself.
    #[must_use]
    pub fn step(&self) -> f64 {
        10f64.powi(-i32::from(self.number.places())) * self.prefix.factor()
    }
}

impl fmt::Display for Shown {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&format!("{} {}{}", self.number, self.prefix.symbol(), self.unit.symbol()))
    }
}

/// One reading: what the person saw on the meter.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Reading {
    /// The display showed a steady number.
    Value(Shown),
    /// The display showed its over-range sign. The end of the range, where it is known.
    OverRange {
        /// The highest value that the range could have shown.
        range: Option<Shown>,
    },
    /// The number would not settle.
    Unstable {
        /// The lowest number seen, where it was said.
        low: Option<Shown>,
        /// The highest number seen, where it was said.
        high: Option<Shown>,
    },
    /// No reading was taken here (skipped, terminal not reachable).
    NotTaken,
}

impl Reading {
    /// A reading from what its [`Display`](fmt::Display) gives; the range of an over range is not in it. None for any other text.
    #[must_use]
    pub fn read(text: &str) -> Option<Self> {
        match text {
            "over range" => Some(Self::OverRange { range: None }),
            "unstable" => Some(Self::Unstable { low: None, high: None }),
            "not taken" => Some(Self::NotTaken),
            _ => match text.strip_prefix("unstable, ").and_then(|ends| ends.split_once(" to ")) {
                Some((low, high)) => {
                    Some(Self::Unstable { low: Some(Shown::read(low)?), high: Some(Shown::read(high)?) })
                }
                None => Shown::read(text).map(Self::Value),
            },
        }
    }
}

impl Shown {
    fn read(text: &str) -> Option<Self> {
        let (number, unit) = text.split_once(' ')?;
        let number = number.parse().ok()?;
        let prefixes = [Prefix::One, Prefix::Milli, Prefix::Kilo, Prefix::Mega];
        let units = [Unit::Ohm, Unit::Volt, Unit::Ampere, Unit::Celsius];
        let mut all = prefixes.into_iter().flat_map(|prefix| units.map(|unit| (prefix, unit)));
        let (prefix, unit) =
            all.find(|(prefix, known)| unit.strip_prefix(prefix.symbol()) == Some(known.symbol()))?;
        Some(Self { number, prefix, unit })
    }
}

impl fmt::Display for Reading {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Value(shown) => f.pad(&shown.to_string()),
            Self::OverRange { .. } => f.pad("over range"),
            Self::Unstable { low: Some(low), high: Some(high) } => {
                f.pad(&format!("unstable, {low} to {high}"))
            }
            Self::Unstable { .. } => f.pad("unstable"),
            Self::NotTaken => f.pad("not taken"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shown_values() {
        let shown = Shown { number: "4.72".parse().unwrap(), prefix: Prefix::Kilo, unit: Unit::Ohm };
        assert!((shown.value() - 4720.0).abs() < 1e-9);
        assert!((shown.step() - 10.0).abs() < 1e-9);
        assert_eq!(shown.to_string(), "4.72 kΩ");
    }

    #[test]
    fn readings_come_back_from_their_text() {
        let shown = |text: &str, prefix, unit| Shown { number: text.parse().unwrap(), prefix, unit };
        let (low, high) =
            (shown("-0.30", Prefix::Milli, Unit::Volt), shown("1.0", Prefix::One, Unit::Celsius));
        for reading in [
            Reading::Value(shown("5.40", Prefix::One, Unit::Ohm)),
            Reading::Value(shown("4.72", Prefix::Kilo, Unit::Ohm)),
            Reading::Value(shown("32.40", Prefix::Mega, Unit::Ohm)),
            Reading::OverRange { range: None },
            Reading::Unstable { low: None, high: None },
            Reading::Unstable { low: Some(low), high: Some(high) },
            Reading::NotTaken,
        ] {
            assert_eq!(Reading::read(&reading.to_string()), Some(reading));
        }
        for text in ["", "5.40", "5.40 ", "Ω", "5.40 xΩ", "5,40 Ω", "unstable, 1 Ω", "over"] {
            assert_eq!(Reading::read(text), None, "{text}");
        }
    }

    #[test]
    fn readings_survive_json() {
        let value = Reading::Value(Shown::ohms("1.50".parse().unwrap()));
        let text = serde_json::to_string(&value).unwrap();
        assert_eq!(text, r#"{"value":{"number":"1.50","prefix":"one","unit":"ohm"}}"#);
        assert_eq!(serde_json::from_str::<Reading>(&text).unwrap(), value);
    }
}
