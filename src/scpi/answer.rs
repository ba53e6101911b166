//! Owns the reading of what a meter answers: numbers, over range, what it is set to, and its errors. Total: any text gives a value
//! or none.
//!
//! From memory, without the standards at hand. Numbers are those of IEEE 488.2-1992, 8.7.2 to 8.7.4: NR1 `+15`, NR2 `-1.50`, NR3
//! `+5.329E+00`. SCPI 1999, volume 1, 7.2.1: infinity is `9.9E37`, minus infinity `-9.9E37`, not a number `9.91E37`.

use crate::quantity::{Decimal, Unit};

/// A longer answer is no number.
const LONGEST: usize = 40;
/// More digits than any meter sends, and as many as fit.
const MOST_DIGITS: usize = 18;
/// What SCPI sends for infinity and for what is no number.
const INFINITY: f64 = 9.9e37;
const NOT_A_NUMBER: f64 = 9.91e37;
/// How far those may be off: some meters write them out of single precision, about 7 digits. Chosen here.
const NEARLY: f64 = 1e-6;
/// More than this no display shows. Chosen here.
const MOST: f64 = 1e15;

/// An answer to a question for a reading.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Answer {
    /// A number, exactly as sent.
    Number(Number),
    /// Infinity: the display is over range.
    OverRange,
    /// Not a number, minus infinity, or more than any display shows.
    NoNumber,
}

/// A number as sent: `digits * 10^exponent` and its sign.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Number {
    negative: bool,
    digits: u64,
    exponent: i32,
}

impl Number {
    /// For computing.
    #[must_use]
    pub fn value(self) -> f64 {
        let size = if self.exponent < 0 {
            self.digits as f64 / 10f64.powi(-self.exponent)
        } else {
            self.digits as f64 * 10f64.powi(self.exponent)
        };
        if self.negative { -size } else { size }
    }

    /// As a display shows it in units of `10^prefix` with at most so many places, rounded half up; fewer places where fewer were
    /// sent. None where a display has no room for it.
    #[must_use]
    pub fn shown(self, prefix: i32, places: u8) -> Option<Decimal> {
        let exponent = self.exponent - prefix;
        if exponent >= 0 {
            let factor = 10u64.checked_pow(u32::try_from(exponent).ok()?);
            let digits = if self.digits == 0 { 0 } else { self.digits.checked_mul(factor?)? };
            return Decimal::new(self.negative, digits, 0).ok();
        }
        let sent = exponent.unsigned_abs();
        let dropped = sent.saturating_sub(u32::from(places));
        let digits = match 10u64.checked_pow(dropped) {
            Some(unit) => self.digits / unit + u64::from(self.digits % unit >= unit.div_ceil(2) && unit > 1),
            // More places than a number has digits: nothing is left of it.
            None => 0,
        };
        Decimal::new(self.negative, digits, u8::try_from(sent - dropped).ok()?).ok()
    }
}

/// The answer in a line; none where it is none.
#[must_use]
pub fn answer(line: &str) -> Option<Answer> {
    let number = number(line)?;
    let value = number.value();
    let near = |other: f64| (value - other).abs() <= other * NEARLY;
    Some(if near(INFINITY) {
        Answer::OverRange
    } else if near(NOT_A_NUMBER) || value.abs() > MOST {
        Answer::NoNumber
    } else {
        Answer::Number(number)
    })
}

fn number(line: &str) -> Option<Number> {
    let text = line.trim();
    if text.len() > LONGEST {
        return None;
    }
    let (negative, text) = sign(text);
    let (mantissa, exponent) = match text.split_once(['E', 'e']) {
        Some((mantissa, exponent)) => (mantissa, whole(exponent)?),
        None => (text, 0),
    };
    let (before, after) = mantissa.split_once('.').unwrap_or((mantissa, ""));
    let digits = format!("{before}{after}");
    if digits.is_empty() || !digits.bytes().all(|sign| sign.is_ascii_digit()) {
        return None;
    }
    if digits.trim_start_matches('0').len() > MOST_DIGITS {
        return None;
    }
    let places = i32::try_from(after.len()).ok()?;
    Some(Number { negative, digits: digits.parse().ok()?, exponent: exponent - places })
}

fn sign(text: &str) -> (bool, &str) {
    match text.strip_prefix('-') {
        Some(rest) => (true, rest),
        None => (false, text.strip_prefix('+').unwrap_or(text)),
    }
}

/// A whole number of at most three digits, with or without a sign.
fn whole(text: &str) -> Option<i32> {
    let (negative, digits) = sign(text);
    let fits = (1..=3).contains(&digits.len()) && digits.bytes().all(|sign| sign.is_ascii_digit());
    let size: i32 = digits.parse().ok().filter(|_| fits)?;
    Some(if negative { -size } else { size })
}

/// What a meter is set to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Setup {
    /// The unit of what it measures; none for what has no unit here (capacitance, continuity, diodes).
    pub unit: Option<Unit>,
    /// One step of its last digit, where it says so.
    pub step: Option<f64>,
}

/// The answer to `CONF?`: `"RES +1.000000E+03,+1.000000E-03"`, function, range and resolution. None for what begins with no word.
#[must_use]
pub fn setup(line: &str) -> Option<Setup> {
    let text = line.trim().trim_matches('"').trim();
    let (function, parameters) = text.split_once([' ', ',']).unwrap_or((text, ""));
    let mut words = function.split(':').filter(|word| !word.is_empty());
    let mut word = words.next()?;
    // A meter may send the whole path: SENS:RES, SENS1:VOLT:DC.
    if word.to_ascii_uppercase().starts_with("SENS") {
        word = words.next()?;
    }
    let letters = |sign: u8| sign.is_ascii_alphanumeric();
    if !word.starts_with(|sign: char| sign.is_ascii_alphabetic()) || !word.bytes().all(letters) {
        return None;
    }
    let unit = match word.to_ascii_uppercase().as_str() {
        "RES" | "RESISTANCE" | "FRES" | "FRESISTANCE" => Some(Unit::Ohm),
        "VOLT" | "VOLTAGE" => Some(Unit::Volt),
        "CURR" | "CURRENT" => Some(Unit::Ampere),
        "TEMP" | "TEMPERATURE" => Some(Unit::Celsius),
        _ => None,
    };
    let step = parameters.split(',').nth(1).and_then(answer).and_then(|step| match step {
        Answer::Number(step) if step.value() > 0.0 => Some(step.value()),
        _ => None,
    });
    Some(Setup { unit, step })
}

/// The answer to `SYST:ERR?`, `-113,"Undefined header"`, where it tells of an error: `0,"No error"` is none.
#[must_use]
pub fn error(line: &str) -> Option<String> {
    let line = line.trim();
    let (code, _) = line.split_once(',')?;
    let (_, digits) = sign(code.trim());
    let number = !digits.is_empty() && digits.bytes().all(|sign| sign.is_ascii_digit());
    (number && digits.bytes().any(|sign| sign != b'0')).then(|| printable(line))
}

/// The beginning of what was sent, without signs that would steer a terminal.
#[must_use]
pub fn printable(text: &str) -> String {
    text.trim().chars().take(LONGEST).map(|sign| if sign.is_control() { '\u{fffd}' } else { sign }).collect()
}
