//! Owns the rules about stored codes.

use super::{circuits::advice_for, of, refuse_repeats};
use crate::profile::{faults::Found, raw_part::RawProfile};

/// The most digits of a code: it has to be typed on a keypad, and said.
const MOST_DIGITS: usize = 6;

pub(super) fn numbers_are_digits(raw: &RawProfile, found: &mut Found) {
    for number in raw.codes.iter().filter_map(|code| code.number.as_ref()) {
        let digits = number.value.chars().all(|c| c.is_ascii_digit());
        let plain = digits && number.value.parse::<u32>().is_ok_and(|value| value > 0);
        if !plain || number.value.len() > MOST_DIGITS || number.value.starts_with('0') {
            found.add(
                &number.spot,
                format!("\"{}\" is no number of a code", number.value),
                format!("one to {MOST_DIGITS} digits without a leading zero: it is typed on a keypad"),
            );
        }
    }
}

pub(super) fn numbers_are_unique(raw: &RawProfile, found: &mut Found) {
    let numbers = raw.codes.iter().filter_map(|code| code.number.as_ref());
    refuse_repeats(
        numbers.map(|number| (number.value.as_str(), &number.spot)),
        found,
        |number| format!("there is a code {number} already"),
        "each code names one circuit; where it names two, leave it out and say so in `further_checks`",
    );
}

pub(super) fn name_known_circuits(raw: &RawProfile, found: &mut Found) {
    let known: Vec<&str> =
        raw.circuits.iter().filter_map(|circuit| of(circuit.id.as_ref())).map(String::as_str).collect();
    for circuit in raw.codes.iter().filter_map(|code| code.circuit.as_ref()) {
        if !known.contains(&circuit.value.as_str()) {
            let advice = advice_for(&circuit.value, &known);
            found.add(&circuit.spot, format!("there is no circuit \"{}\"", circuit.value), advice);
        }
    }
}
