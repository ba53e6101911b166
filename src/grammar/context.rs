//! Owns what may be said now beyond the grammar's own words: phrases that are waited for, names of pins and circuits.

use crate::profile::{PinName, Profile};

/// What may be said now beyond the grammar's own words.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Context {
    /// Phrases that are understood as they stand ("supply off"), before anything else. Lower case.
    pub phrases: Vec<String>,
    /// Pins that may be named.
    pub pins: Vec<PinName>,
    /// Circuits that may be named ("coil c"), with the pin that each is probed at; both ends (`2-3`) where others are probed there too.
    pub circuits: Vec<(String, PinName)>,
    /// A serial or order number is waited for: numbers are strings of digits, no amounts.
    pub entry: bool,
    /// A meter is on a line: "take it" is listened for. Without one it would only be taken for something else.
    pub metered: bool,
}

impl Context {
    /// Pins and circuits of a profile, and the phrases that confirm its gates, those of stations included.
    #[must_use]
    pub fn of_profile(profile: &Profile) -> Self {
        Self {
            phrases: (profile.gates.iter().chain(&profile.harness_gates).chain(&profile.case_gates))
                .map(|gate| gate.confirm.to_lowercase())
                .collect(),
            pins: profile.connector.pins.iter().map(|pin| pin.name.clone()).collect(),
            circuits: profile
                .circuits
                .iter()
                .map(|circuit| {
                    // Where several are probed at one pin, each is called by both its ends.
                    let alone = profile.circuits.iter().filter(|other| other.pin == circuit.pin).count() == 1;
                    let pin = if alone { circuit.pin.clone() } else { circuit.ends() };
                    (circuit.name.to_lowercase(), pin)
                })
                .collect(),
            entry: false,
            metered: false,
        }
    }
}
