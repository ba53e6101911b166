//! Owns the exact decimal number: digits and places as a display shows them, never rounded through binary.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize, Serializer};
use std::{fmt, str::FromStr};

/// A decimal number as shown: `digits / 10^places`, with its sign. `1.50` and `1.5` differ in [`Decimal::places`].
///
/// At most 12 digits and 9 places. Minus zero is kept as minus (`-0.0` is what a display shows below zero).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Deserialize, JsonSchema)]
#[serde(try_from = "String")]
#[schemars(into = "String")]
pub struct Decimal {
    negative: bool,
    digits: u64,
    places: u8,
}

/// Why a text is no decimal number.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum DecimalError {
    /// The text has something other than an optional sign, digits and one point.
    #[error("\"{0}\" is not a decimal number such as 1.50")]
    Syntax(String),
    /// More than 12 digits, or more than 9 after the point.
    #[error("\"{0}\" has more digits than a meter shows (12 in all, 9 after the point)")]
    TooLong(String),
}

impl Decimal {
    /// A number from its digits and how many of them stand after the point.
    ///
    /// # Errors
    /// [`DecimalError::TooLong`] for more than 12 digits or 9 places.
    pub fn new(negative: bool, digits: u64, places: u8) -> Result<Self, DecimalError> {
        if digits >= 1_000_000_000_000 || places > 9 {
            return Err(DecimalError::TooLong(format!("{digits}e-{places}")));
        }
        Ok(Self { negative, digits, places })
    }

    /// How many digits stand after the point.
    #[must_use]
    pub fn places(self) -> u8 {
        self.places
    }

    /// All digits as one whole number, without sign and point.
    #[must_use]
    pub fn digits(self) -> u64 {
        self.digits
    }

    /// Whether a minus was shown.
    #[must_use]
    pub fn is_negative(self) -> bool {
        self.negative
    }

    /// Whether every digit is zero.
    #[must_use]
    pub fn is_zero(self) -> bool {
        self.digits == 0
    }

    /// The number as floating point, for computing.
    #[must_use]
    pub fn to_f64(self) -> f64 {
        // Both are exact in binary (12 digits, at most 10^9), and a division is rounded once: the nearest double.
        let size = self.digits as f64 / 10f64.powi(i32::from(self.places));
        if self.negative { -size } else { size }
    }
}

impl fmt::Display for Decimal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let places = usize::from(self.places);
        let text = format!("{:0>width$}", self.digits, width = places + 1);
        let (whole, fraction) = text.split_at(text.len() - places);
        let sign = if self.negative { "-" } else { "" };
        let point = if places > 0 { "." } else { "" };
        f.pad(&format!("{sign}{whole}{point}{fraction}"))
    }
}

impl FromStr for Decimal {
    type Err = DecimalError;

    fn from_str(text: &str) -> Result<Self, DecimalError> {
        let syntax = || DecimalError::Syntax(text.to_owned());
        let (negative, body) = match text.as_bytes().first() {
            Some(b'-') => (true, &text[1..]),
            Some(b'+') => (false, &text[1..]),
            _ => (false, text),
        };
        let (whole, fraction) = body.split_once('.').unwrap_or((body, ""));
        let all = || whole.bytes().chain(fraction.bytes());
        if all().next().is_none() || !all().all(|b| b.is_ascii_digit()) {
            return Err(syntax());
        }
        if fraction.len() > 9 || all().skip_while(|b| *b == b'0').count() > 12 {
            return Err(DecimalError::TooLong(text.to_owned()));
        }
        let digits = all().fold(0u64, |sum, b| sum * 10 + u64::from(b - b'0'));
        Self::new(negative, digits, u8::try_from(fraction.len()).map_err(|_| syntax())?)
    }
}

impl TryFrom<String> for Decimal {
    type Error = DecimalError;
    fn try_from(text: String) -> Result<Self, DecimalError> {
        text.parse()
    }
}

// By its name, so that whoever writes it out can put in the decimal mark of a language.
impl Serialize for Decimal {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_newtype_struct("Decimal", &self.to_string())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn keeps_what_the_display_shows() {
        for text in ["1.50", "0", "0.0", "-0.0", "-0.5", "206", "0.002", "12.345"] {
            assert_eq!(text.parse::<Decimal>().unwrap().to_string(), text);
        }
        assert_eq!(".5".parse::<Decimal>().unwrap().to_string(), "0.5");
        assert_eq!("1.3".parse::<Decimal>().unwrap().to_f64(), 1.3);
    }

    #[test]
    fn refuses_what_no_display_shows() {
        for text in ["", "-", ".", "1.2.3", "1e3", "1,5", " 1", "--1", "NaN"] {
            assert!(matches!(text.parse::<Decimal>(), Err(DecimalError::Syntax(_))), "{text}");
        }
        for text in ["1234567890123", "0.1234567891"] {
            assert!(matches!(text.parse::<Decimal>(), Err(DecimalError::TooLong(_))), "{text}");
        }
    }

    proptest! {
        #[test]
        fn text_round_trip(negative: bool, digits in 0u64..1_000_000_000_000, places in 0u8..=9) {
            let number = Decimal::new(negative, digits, places).unwrap();
            prop_assert_eq!(number.to_string().parse::<Decimal>(), Ok(number));
            prop_assert_eq!(number.to_f64(), number.to_string().parse::<f64>().unwrap());
        }

        #[test]
        fn never_panics(text in "\\PC{0,20}") {
            let _ = text.parse::<Decimal>();
        }
    }
}
