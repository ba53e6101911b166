//! Owns what stands below the sentence in front: reasons, what several show together, what is not excluded, what to mind.

use super::Suspicion;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// What a reason says.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Grounds {
    /// None of the readings is off.
    NoneOff {
        /// How many readings.
        readings: usize,
        /// How likely, in percent; none where it is less than one.
        percent: Option<u32>,
    },
    /// Circuits were not read, or could not be judged.
    NotJudged {
        /// How likely, in percent.
        percent: Option<u32>,
    },
    /// Something may be wrong.
    Suspected {
        /// What.
        what: Suspicion,
        /// How likely, in percent.
        percent: Option<u32>,
    },
    /// Against a bad contact: cleaning changed nothing.
    StayedSo {
        /// The circuit's name.
        circuit: String,
    },
}

/// What several circuits show together.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Together {
    /// Something that may be wrong.
    Suspected(Suspicion),
    /// The first circuit read again differs.
    Drift {
        /// Its name.
        circuit: String,
        /// What it read first, in ohms.
        from: f64,
        /// What it read again.
        to: f64,
    },
}

/// What was not excluded.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum NotExcluded {
    /// A bad contact: the terminal was not cleaned.
    BadContact {
        /// The circuit's name.
        circuit: String,
    },
    /// The terminal itself, or a wire inside the part.
    TerminalOrInside {
        /// The circuit's name.
        circuit: String,
    },
    /// A bad contact: the check of it is not finished.
    ContactUnchecked {
        /// The circuit's name.
        circuit: String,
    },
    /// Circuits that were not measured.
    NotMeasured {
        /// Their names.
        circuits: Vec<String>,
    },
    /// Circuits with nothing to judge them by.
    NothingToJudgeBy {
        /// Their names.
        circuits: Vec<String>,
    },
    /// Circuits that no ohmmeter may touch.
    NoOhmmeter {
        /// Their names.
        circuits: Vec<String>,
    },
    /// The harness.
    Harness,
    /// Leakage to case.
    Leakage,
    /// Insulation at working voltage.
    Insulation,
    /// An intermittent contact.
    Intermittent,
    /// A contact that was cured and may fail again.
    MayFailAgain {
        /// The circuit's name.
        circuit: String,
    },
}

/// What is to be minded with a conclusion.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Caveat {
    /// Sound ohms do not prove that the part works.
    SoundOhms,
    /// An aid, not an approval.
    AnAid,
    /// There was no meter file.
    NoMeterFile {
        /// The accuracy taken, percent of the reading.
        percent: f64,
        /// And digits.
        digits: f64,
    },
    /// The temperature of the part is not known.
    NoTemperature,
    /// The leads were not measured.
    NoLeads,
    /// The leads read more than leads have.
    HighLeads {
        /// How much.
        ohms: f64,
    },
    /// The leads read otherwise each time.
    UnsteadyLeads {
        /// How far apart.
        ohms: f64,
    },
    /// A diode lies across a circuit.
    Diode,
}
