//! Owns the short form of a window: `"5.2 ohm ± 8 %"`, `"4.9 to 5.5 ohm"`, `"at most 0.5 ohm"`, each with `at 23 °C` or without.

use super::{faults::Found, raw::At, raw_part::RawWindow};
use crate::quantity::{
    Unit,
    notation::{self, Measure, Written},
};

/// Where nothing is said, the limits hold at this temperature, in degrees Celsius: that of resistance tables (IEC 60028).
const USUAL_C: f64 = 20.0;
/// The upper end of a window that is open upwards, in ohms: the highest that the format has.
const HIGHEST_OHM: f64 = 1e9;
/// What to write as a window in short, for advice.
pub const WINDOW_ADVICE: &str = "write \"5.2 ohm ± 8 %\" (+- does as well), \"4.9 to 5.5 ohm\", \"at most 0.5 ohm\" or \"at least 1 Mohm\"; \
                   then perhaps \"at 23 °C\"";

/// The window that a text stands for. Its source is the profile's.
pub(super) fn read(text: &At<String>, found: &mut Found) -> Option<RawWindow> {
    match limits(&text.value) {
        Ok((low, high, at_c, percent)) => {
            let here = |value: f64| Some(At { value, spot: text.spot.clone() });
            Some(RawWindow {
                low_ohm: here(low),
                high_ohm: here(high),
                at_c: here(at_c),
                source: None,
                half_width_percent: percent,
                spot: text.spot.clone(),
            })
        }
        Err(what) => {
            found.add(&text.spot, what, WINDOW_ADVICE);
            None
        }
    }
}

/// A window in short as somebody types it who was asked for ohms: where the unit is left out, it is put in.
///
/// # Errors
/// What is wrong with it, in a sentence without a full stop.
pub fn window_in_ohms(typed: &str) -> Result<String, String> {
    let typed = typed.trim();
    let Err(what) = limits(typed) else { return Ok(typed.to_owned()) };
    let (body, at) =
        typed.split_once(" at ").map_or((typed, String::new()), |(body, at)| (body, format!(" at {at}")));
    let signed = ["±", "+/-", "+-"].iter().find_map(|sign| body.split_once(sign).map(|parts| (parts, sign)));
    let with = match signed {
        Some(((middle, spread), sign)) => {
            let middle =
                if ohms(middle).is_ok() { middle.to_owned() } else { format!("{} ohm ", middle.trim()) };
            let spread = if value(spread).is_ok_and(|one| one.measure.is_none()) {
                format!("{spread} ohm")
            } else {
                spread.to_owned()
            };
            format!("{middle}{sign}{spread}{at}")
        }
        None => format!("{body} ohm{at}"),
    };
    limits(&with).map(|_| with).map_err(|_| what)
}

/// Low and high in ohms, at which temperature, and the half-width in percent where it was written so.
fn limits(text: &str) -> Result<(f64, f64, f64, Option<f64>), String> {
    let text = text.trim();
    let (ohms_text, at_c) = match text.rsplit_once(" at ") {
        Some((before, at)) if !at.trim_start().starts_with(['m', 'l']) => (before, degrees(at)?),
        _ => (text, USUAL_C),
    };
    let lower = ohms_text.to_lowercase();
    for (words, least) in [("at most ", false), ("at least ", true)] {
        if lower.starts_with(words) {
            let bound = ohms(&ohms_text[words.len()..])?;
            let (low, high) = if least { (bound, HIGHEST_OHM) } else { (0.0, bound) };
            return Ok((low, high, at_c, None));
        }
    }
    for sign in ["±", "+/-", "+-"] {
        let Some((middle, spread)) = ohms_text.split_once(sign) else { continue };
        let middle = ohms(middle)?;
        let written = value(spread)?;
        let (half, percent) = match written.measure {
            Some(Measure::Percent) => (middle * written.value() / 100.0, Some(written.value())),
            Some(Measure::Unit(Unit::Ohm)) => (written.value(), None),
            _ => return Err(format!("\"{}\" has neither % nor ohm behind it", spread.trim())),
        };
        // Rounded to twelve figures: 5.2 less 8 % is 4.784, not 4.7840000000000007.
        return Ok((tidy(middle - half), tidy(middle + half), at_c, percent));
    }
    for sign in [" to ", "..", " - ", "–", "-"] {
        let Some((low, high)) = ohms_text.split_once(sign) else { continue };
        let (high_written, low_written) = (value(high)?, value(low)?);
        if high_written.measure != Some(Measure::Unit(Unit::Ohm)) {
            return Err(format!("\"{}\" has no ohm behind it", high.trim()));
        }
        // "4.9 to 5.5 kohm": a number alone takes prefix and unit of the other.
        let factor = high_written.prefix.map_or(1.0, crate::quantity::Prefix::factor);
        let low = match (low_written.measure, low_written.prefix) {
            (None, None) => low_written.value() * factor,
            (None | Some(Measure::Unit(Unit::Ohm)), _) => low_written.value(),
            _ => return Err(format!("\"{}\" is no resistance", low.trim())),
        };
        return Ok((tidy(low), tidy(high_written.value()), at_c, None));
    }
    Err(match notation::read(ohms_text) {
        Some(_) => format!("\"{text}\" is one value: how far may a sound one be from it?"),
        None => format!("\"{text}\" is no window"),
    })
}

fn value(text: &str) -> Result<Written, String> {
    notation::read(text).ok_or_else(|| format!("\"{}\" is no value", text.trim()))
}

fn ohms(text: &str) -> Result<f64, String> {
    let written = value(text)?;
    match (written.measure, written.prefix) {
        (Some(Measure::Unit(Unit::Ohm)), _) => Ok(written.value()),
        // 4k7 and 4R7 are resistances by themselves.
        (None, Some(_)) => Ok(written.value()),
        _ => Err(format!("\"{}\" has no ohm behind it", text.trim())),
    }
}

fn degrees(text: &str) -> Result<f64, String> {
    let written = value(text)?;
    match written.measure {
        Some(Measure::Unit(Unit::Celsius)) => Ok(written.value()),
        Some(Measure::Fahrenheit) => Ok(tidy(notation::celsius(written.value()))),
        _ => Err(format!("\"{}\" is no temperature: 23 °C or 73 °F", text.trim())),
    }
}

fn tidy(value: f64) -> f64 {
    format!("{value:.11e}").parse().unwrap_or(value)
}

#[cfg(test)]
mod tests {
    use super::limits;

    #[test]
    fn windows_in_short() {
        for (text, low, high, at_c) in [
            ("5.2 ohm ± 8 %", 4.784, 5.616, 20.0),
            ("5,2 Ω +- 8%", 4.784, 5.616, 20.0),
            ("5.2 ohm +/- 0.3 ohm at 23 °C", 4.9, 5.5, 23.0),
            ("4.9 to 5.5 ohm", 4.9, 5.5, 20.0),
            ("4.9 .. 5.5 ohm at 68 °F", 4.9, 5.5, 20.0),
            ("1.9 to 2.3 kohm", 1900.0, 2300.0, 20.0),
            ("900 ohm to 1.1 kohm", 900.0, 1100.0, 20.0),
            ("4k7 ± 5 %", 4465.0, 4935.0, 20.0),
            ("at most 0.5 ohm", 0.0, 0.5, 20.0),
            ("at least 1 Mohm at 25 °C", 1e6, 1e9, 25.0),
        ] {
            let read = limits(text).unwrap_or_else(|what| panic!("{text}: {what}"));
            assert_eq!((read.0, read.1, read.2), (low, high, at_c), "{text}");
        }
    }

    #[test]
    fn the_unit_may_be_left_out_where_ohms_are_asked_for() {
        for (typed, window) in [
            ("5.2 ohm ± 8 %", "5.2 ohm ± 8 %"),
            ("5.2 +- 8 %", "5.2 ohm +- 8 %"),
            ("5,2+-0,4", "5,2 ohm +-0,4 ohm"),
            ("4.9 to 5.5", "4.9 to 5.5 ohm"),
            ("4.9-5.5", "4.9-5.5 ohm"),
            ("1.9..2.3k at 25 °C", "1.9..2.3k ohm at 25 °C"),
            ("at most 0.5", "at most 0.5 ohm"),
        ] {
            assert_eq!(super::window_in_ohms(typed).as_deref(), Ok(window), "{typed}");
        }
        assert_eq!(
            super::window_in_ohms("5.2").unwrap_err(),
            "\"5.2\" is one value: how far may a sound one be from it?"
        );
        assert!(super::window_in_ohms("nobody knows").is_err());
    }

    #[test]
    fn what_is_no_window_says_why() {
        for (text, what) in [
            ("5.2 ohm", "\"5.2 ohm\" is one value: how far may a sound one be from it?"),
            ("5.2 ± 8 %", "\"5.2\" has no ohm behind it"),
            ("5.2 ohm ± 8", "\"8\" has neither % nor ohm behind it"),
            ("4.9 to 5.5", "\"5.5\" has no ohm behind it"),
            ("about five", "\"about five\" is no window"),
            ("5.2 ohm ± 8 % at warm", "\"warm\" is no value"),
            ("5.2 ohm ± 8 % at 23", "\"23\" is no temperature: 23 °C or 73 °F"),
        ] {
            assert_eq!(limits(text).unwrap_err(), what);
        }
    }
}
