//! Owns the profile of a part that nobody knows anything about: so many pins, one of them common or none.
//!
//! It is a text like any other profile, so that a journal holds it whole and a person can go on from it. Families are found
//! from the readings; nothing has limits.

use super::load::LARGEST;
use std::fmt::Write as _;

/// The most pins that an unknown part may have: a profile of them stays far below [`LARGEST`].
pub const MOST_PINS: u16 = 999;

/// Why a part cannot be described so.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum NoSuchPart {
    /// Fewer than two pins, or more than [`MOST_PINS`].
    #[error("a part has 2 to {MOST_PINS} pins, not {0}")]
    Pins(u16),
    /// The pin that stays is none of the part's.
    #[error("pin {stays} cannot stay: the part has pins 1 to {pins}")]
    Stays {
        /// The pin that was to stay.
        stays: u16,
        /// How many pins there are.
        pins: u16,
    },
    /// Without a pin that stays they are read in pairs.
    #[error("{0} pins do not make pairs: say which pin stays")]
    Odd(u16),
}

/// The text of the profile of an unknown part with pins 1 to `pins`. With a pin that stays every other pin is read against
/// it; without one pin 1 is read against 2, 3 against 4, and so on.
///
/// # Errors
/// [`NoSuchPart`] names what cannot be.
pub fn unknown(pins: u16, stays: Option<u16>) -> Result<String, NoSuchPart> {
    if !(2..=MOST_PINS).contains(&pins) {
        return Err(NoSuchPart::Pins(pins));
    }
    let circuits: Vec<(u16, u16)> = match stays {
        Some(stays) if !(1..=pins).contains(&stays) => return Err(NoSuchPart::Stays { stays, pins }),
        Some(stays) => (1..=pins).filter(|pin| *pin != stays).map(|pin| (pin, stays)).collect(),
        None if pins % 2 == 1 => return Err(NoSuchPart::Odd(pins)),
        None => (1..=pins).step_by(2).map(|pin| (pin, pin + 1)).collect(),
    };
    let mut text = HEAD
        .replace("PINS", &pins.to_string())
        .replace("STAYS", &stays.map_or_else(|| "in-pairs".to_owned(), |stays| format!("against-{stays}")));
    let mut line = |line: std::fmt::Arguments<'_>| {
        text.write_fmt(line).expect("a String takes everything");
        text.push('\n');
    };
    for (pin, against) in circuits {
        line(format_args!(
            "\n[[circuit]]\nid = \"circuit-{pin}\"\nname = {{ en = \"circuit {pin}\", de = \"Kreis {pin}\" }}\npin = {pin}\nagainst = {against}\nkind = \"resistor\""
        ));
    }
    debug_assert!((text.len() as u64) < LARGEST);
    Ok(text)
}

const HEAD: &str = r#"# A part that nobody described: made by the program from the number of its pins. Nothing in it comes from its maker.

version = 2
id = "unknown-part-PINS-STAYS"
title = { en = "Unknown part with PINS pins", de = "Unbekanntes Teil mit PINS Pins" }
invented = false
source = { en = "nobody: only the number of pins is known", de = "niemand: nur die Zahl der Pins ist bekannt" }
families_from_readings = true

cautions = [
    { en = "Nobody described this part: the vehicle maker's service information says what is on its pins. Find that out first.", de = "Niemand hat dieses Teil beschrieben: was auf seinen Pins liegt, sagen die Unterlagen des Fahrzeugherstellers. Erst dort nachsehen." },
    { en = "No ohmmeter on live circuits, nor on electronics that its maker does not allow it on.", de = "Kein Ohmmeter an Kreisen unter Spannung, und an keiner Elektronik, deren Hersteller es nicht erlaubt." },
    { en = "Use the right terminal adapter: never force a probe into a terminal.", de = "Mit dem passenden Adapter messen: nie eine Spitze in einen Kontakt zwängen." },
]

further_checks = [
    { en = "What is on these pins, and what it should read: the maker's service information.", de = "Was auf diesen Pins liegt und wie viel es haben soll: die Unterlagen des Herstellers." },
]
"#;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::profile;

    #[test]
    fn an_unknown_part_is_a_profile_that_passes_every_check() {
        for (pins, stays, circuits) in
            [(2, None, 1), (16, Some(16), 15), (12, Some(1), 11), (40, None, 20), (MOST_PINS, Some(500), 998)]
        {
            let text = unknown(pins, stays).unwrap();
            let part =
                profile::parse("unknown", &text).unwrap_or_else(|fault| panic!("{}", fault.rendered(110)));
            assert!(part.families_from_readings && part.families.is_empty() && !part.invented);
            assert_eq!((part.connector.pins.len(), part.circuits.len()), (usize::from(pins), circuits));
            assert!(part.circuits.iter().all(|circuit| circuit.window.is_none()));
        }
    }

    #[test]
    fn what_cannot_be_is_refused() {
        assert_eq!(unknown(1, None), Err(NoSuchPart::Pins(1)));
        assert_eq!(unknown(1000, Some(1)), Err(NoSuchPart::Pins(1000)));
        assert_eq!(unknown(12, Some(13)), Err(NoSuchPart::Stays { stays: 13, pins: 12 }));
        assert_eq!(unknown(7, None), Err(NoSuchPart::Odd(7)));
    }
}
