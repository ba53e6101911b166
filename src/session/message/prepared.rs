//! Owns what is said back before measuring: codes, gates, temperature, leads.

use crate::{
    quantity::{Decimal, Reading},
    session::state::Guess,
};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// What became of something that prepares for measuring.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Prepared {
    /// No code is stored.
    NoCode,
    /// The codes were left out.
    CodesLeftOut,
    /// That is not a valid code.
    NotACode,
    /// A code that names a circuit.
    CodeNames {
        /// The code.
        number: String,
        /// The circuit's name.
        circuit: String,
    },
    /// A code that names no circuit of the profile.
    CodeNamesNothing {
        /// The code.
        number: String,
    },
    /// A gate was confirmed.
    GateDone {
        /// Its phrase.
        confirm: String,
    },
    /// A waiting time was confirmed before it was over here.
    PassedByWord {
        /// The gate's phrase.
        confirm: String,
        /// Whole minutes that were timed here.
        timed: u8,
        /// How many there had to be.
        of: u8,
    },
    /// The phrase of another gate.
    NotThatGate,
    /// A gate is never left out.
    NeverLeftOut,
    /// A gate of a station is never left out; the reading behind it can be.
    NeverLeftOutSayNo {
        /// The circuit's name.
        circuit: String,
    },
    /// A temperature.
    Degrees {
        /// In degrees Celsius.
        degrees: Decimal,
    },
    /// A guessed temperature.
    Guessed {
        /// The guess.
        guess: Guess,
    },
    /// The temperature is not known.
    TemperatureUnknown,
    /// That is no temperature.
    NoTemperature,
    /// Nobody has a part that cold or hot.
    NotBelieved {
        /// What was said.
        degrees: Decimal,
    },
    /// What the leads read.
    LeadsTaken {
        /// The number on the display.
        leads: Decimal,
    },
    /// What the leads read, twice high.
    LeadsHigh {
        /// The number on the display.
        leads: Decimal,
    },
    /// The leads are open.
    LeadsOpen,
    /// High or moving: sent back once.
    LeadsDoubted {
        /// What was read.
        reading: Reading,
    },
    /// Too much for any leads: not taken.
    LeadsRefused {
        /// What was read.
        reading: Reading,
    },
    /// They do not settle.
    LeadsUnknown,
    /// They were left out.
    LeadsNotMeasured,
}
