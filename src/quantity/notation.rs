//! Owns the ways in which a value is written: `4.7 kohm`, `4,7 k`, `4k7`, `4R7`, `1M5`, `20 °C`, `68 °F`, `8 %`.
//!
//! A letter in place of the point is the notation of IEC 60062 (R, k, M; from memory). Point and comma both mark the fraction;
//! thousands are not parted. A capital M is a million and a small m a thousandth, as on a display.

use super::{Decimal, Prefix, Unit};

/// What stands behind a number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Measure {
    /// A unit that readings have.
    Unit(Unit),
    /// Degrees Fahrenheit.
    Fahrenheit,
    /// Percent.
    Percent,
}

/// A value as written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Written {
    /// The digits, with the point where point, comma or letter stood.
    pub number: Decimal,
    /// The prefix, where one was written. `4R7` has [`Prefix::One`].
    pub prefix: Option<Prefix>,
    /// The unit, where one was written.
    pub measure: Option<Measure>,
}

impl Written {
    /// The number with its prefix applied, in the unit itself.
    #[must_use]
    pub fn value(&self) -> f64 {
        self.number.to_f64() * self.prefix.map_or(1.0, Prefix::factor)
    }
}

/// Units as they are written, the longer ones first. Case counts for the single letters alone.
const MEASURES: [(&str, Measure); 18] = [
    ("ohms", Measure::Unit(Unit::Ohm)),
    ("ohm", Measure::Unit(Unit::Ohm)),
    ("\u{3a9}", Measure::Unit(Unit::Ohm)),
    ("\u{2126}", Measure::Unit(Unit::Ohm)),
    ("\u{3c9}", Measure::Unit(Unit::Ohm)),
    ("volts", Measure::Unit(Unit::Volt)),
    ("volt", Measure::Unit(Unit::Volt)),
    ("amperes", Measure::Unit(Unit::Ampere)),
    ("ampere", Measure::Unit(Unit::Ampere)),
    ("°c", Measure::Unit(Unit::Celsius)),
    ("°f", Measure::Fahrenheit),
    ("degc", Measure::Unit(Unit::Celsius)),
    ("degf", Measure::Fahrenheit),
    ("%", Measure::Percent),
    ("v", Measure::Unit(Unit::Volt)),
    ("a", Measure::Unit(Unit::Ampere)),
    ("c", Measure::Unit(Unit::Celsius)),
    ("f", Measure::Fahrenheit),
];

/// Letters that multiply, the longer ones first. They stand behind the number, or in place of its point.
const PREFIXES: [(&str, Prefix); 7] = [
    ("meg", Prefix::Mega),
    ("Meg", Prefix::Mega),
    ("M", Prefix::Mega),
    ("k", Prefix::Kilo),
    ("K", Prefix::Kilo),
    ("m", Prefix::Milli),
    ("R", Prefix::One),
];

/// Reads a value as it is written. None for anything else.
///
/// ```
/// use bothhands::quantity::notation::read;
/// for (written, value) in [("4k7", 4700.0), ("4,7 k", 4700.0), ("4R7", 4.7), ("1M5", 1.5e6), ("5.2 ohm", 5.2), ("0R22", 0.22)] {
///     assert!((read(written).unwrap().value() - value).abs() < 1e-6, "{written}");
/// }
/// assert!(read("4k7k").is_none() && read("k").is_none() && read("1.2.3").is_none());
/// ```
#[must_use]
pub fn read(text: &str) -> Option<Written> {
    let text = text.trim();
    if text.len() > 40 {
        return None;
    }
    let (rest, measure) = measured(text);
    let rest = rest.trim_end();
    let (digits, prefix) = prefixed(rest)?;
    let number: Decimal = digits.replacen(',', ".", 1).parse().ok()?;
    // Only what is measured in ohms, volts and amperes is multiplied.
    let multiplied =
        !matches!(measure, Some(Measure::Percent | Measure::Fahrenheit | Measure::Unit(Unit::Celsius)));
    (prefix.is_none() || multiplied).then_some(Written { number, prefix, measure })
}

/// The text without its unit.
fn measured(text: &str) -> (&str, Option<Measure>) {
    for (name, measure) in MEASURES {
        let at = text.len().checked_sub(name.len()).filter(|at| text.is_char_boundary(*at));
        if let Some(at) = at
            && at > 0
            && text[at..].to_lowercase() == *name.to_lowercase()
        {
            return (&text[..at], Some(measure));
        }
    }
    (text, None)
}

/// The digits with a point for the letter that stood there, and what the letter means.
fn prefixed(text: &str) -> Option<(String, Option<Prefix>)> {
    for (letter, prefix) in PREFIXES {
        let Some((before, after)) = text.split_once(letter) else { continue };
        if after.is_empty() {
            // `4R` is 4 ohms, `4.7k` is 4700.
            return Some((before.trim_end().to_owned(), Some(prefix)));
        }
        let digits = |part: &str| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit());
        return (digits(before.trim_start_matches('-')) && digits(after))
            .then(|| (format!("{before}.{after}"), Some(prefix)));
    }
    Some((text.to_owned(), None))
}

/// Degrees Fahrenheit as degrees Celsius.
#[must_use]
pub fn celsius(fahrenheit: f64) -> f64 {
    (fahrenheit - 32.0) * 5.0 / 9.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn shown(text: &str) -> Option<(String, Option<Prefix>, Option<Measure>)> {
        read(text).map(|written| (written.number.to_string(), written.prefix, written.measure))
    }

    #[test]
    fn values_in_every_notation() {
        let ohm = Some(Measure::Unit(Unit::Ohm));
        for (text, number, prefix, measure) in [
            ("5.2", "5.2", None, None),
            ("5,20", "5.20", None, None),
            ("5.2 ohm", "5.2", None, ohm),
            ("5.2Ω", "5.2", None, ohm),
            ("4k7", "4.7", Some(Prefix::Kilo), None),
            ("4K7", "4.7", Some(Prefix::Kilo), None),
            ("4,7 k", "4.7", Some(Prefix::Kilo), None),
            ("4.7 kΩ", "4.7", Some(Prefix::Kilo), ohm),
            ("4k7 ohm", "4.7", Some(Prefix::Kilo), ohm),
            ("4R7", "4.7", Some(Prefix::One), None),
            ("0R22", "0.22", Some(Prefix::One), None),
            ("47R", "47", Some(Prefix::One), None),
            ("1M5", "1.5", Some(Prefix::Mega), None),
            ("1 Mohm", "1", Some(Prefix::Mega), ohm),
            ("1.2 meg", "1.2", Some(Prefix::Mega), None),
            ("120 mV", "120", Some(Prefix::Milli), Some(Measure::Unit(Unit::Volt))),
            ("12.6 V", "12.6", None, Some(Measure::Unit(Unit::Volt))),
            ("-20 °C", "-20", None, Some(Measure::Unit(Unit::Celsius))),
            ("68 °F", "68", None, Some(Measure::Fahrenheit)),
            ("68F", "68", None, Some(Measure::Fahrenheit)),
            ("8 %", "8", None, Some(Measure::Percent)),
        ] {
            assert_eq!(shown(text), Some((number.to_owned(), prefix, measure)), "{text}");
        }
    }

    #[test]
    fn what_is_no_value_is_none() {
        for text in [
            "",
            "k",
            "ohm",
            "4k7k",
            "4.7k7",
            "4 7",
            "1,000,000",
            "k7",
            "4k-7",
            "8 k%",
            "20 k°C",
            "five",
            "4k7.1",
        ] {
            assert_eq!(shown(text), None, "{text}");
        }
    }

    /// Fixed points of the two scales: freezing and boiling water, and where both meet.
    #[test]
    fn fahrenheit() {
        for (f, c) in [(32.0, 0.0), (212.0, 100.0), (-40.0, -40.0), (68.0, 20.0)] {
            assert!((celsius(f) - c).abs() < 1e-9);
        }
    }

    proptest! {
        #[test]
        fn never_panics(text in "\\PC{0,24}|[0-9kKmMR.,% °CFΩ-]{0,12}") {
            let _ = read(&text);
        }

        #[test]
        fn both_notations_are_one_value(whole in 0u32..1000, fraction in 0u32..100) {
            let letter = read(&format!("{whole}k{fraction:02}")).unwrap();
            let comma = read(&format!("{whole},{fraction:02} k")).unwrap();
            prop_assert_eq!(letter, comma);
        }
    }
}
