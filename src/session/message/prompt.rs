//! Owns the prompts: what to do now, and what is shown beside it.

use crate::verdict::Station;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// What to do now.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Prompt {
    /// Did the scan tool show a code?
    Codes,
    /// The number of the first code.
    CodeNumber,
    /// The number of another code.
    AnotherCode,
    /// Make something safe, and confirm it by its phrase.
    Gate {
        /// What to do.
        instruction: Instruction,
        /// What to say when it is done.
        confirm: String,
    },
    /// Wait, timed aloud, and confirm it by its phrase; or say it because the time has passed already.
    TimedGate {
        /// What to do.
        instruction: Instruction,
        /// How long, in minutes.
        minutes: u8,
        /// What to say when the time has passed.
        confirm: String,
    },
    /// A gate was answered by something else than its phrase.
    SayWhatWasDone {
        /// What to say.
        confirm: String,
    },
    /// The temperature of the part.
    Temperature,
    /// Hold the probes together.
    Leads,
    /// How to say what the probes show.
    LeadsInFull,
    /// Probe a circuit.
    Take {
        /// Where the probes go.
        probed: Probed,
        /// The circuit's name.
        circuit: String,
    },
    /// Probe it once more.
    OnceMore {
        /// Where the probes go.
        probed: Probed,
        /// The circuit's name.
        circuit: String,
    },
    /// Probe it once more, its terminal cleaned.
    OnceMoreCleaned {
        /// Where the probes go.
        probed: Probed,
        /// The circuit's name.
        circuit: String,
    },
    /// Probe a sound circuit with the same leads.
    SameLeads {
        /// Where the probes go.
        probed: Probed,
        /// The circuit's name.
        circuit: String,
    },
    /// Probe a sound circuit there, for comparison.
    ForComparison {
        /// Where the probes go.
        probed: Probed,
        /// The circuit's name.
        circuit: String,
    },
    /// Where the pin is on its connector, and what to do there.
    Place {
        /// The place, in words.
        place: String,
    },
    /// Another station is worth going to.
    Offer {
        /// The circuit's name.
        circuit: String,
        /// Where it would be measured.
        station: Station,
    },
    /// Everything was read.
    AllRead,
}

/// What to do at a gate.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Instruction {
    /// As the profile puts it.
    Written(String),
    /// A gate that the program has of its own.
    Own(OwnGate),
}

/// Gates that the program has of its own, for stations where the profile has none.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum OwnGate {
    /// Before the harness: the part connected again.
    PartConnected,
    /// Before the harness: the control unit unplugged.
    ControlUnitUnplugged,
    /// Before the harness: no voltage at that plug.
    PlugDead,
    /// Before the harness: the meter proven on a known source.
    MeterProven,
    /// Before the harness: the meter proven once more.
    MeterProvenAgain,
    /// Before the harness: back on ohms.
    BackOnOhms,
    /// Before the case: everything apart.
    PartApart,
    /// Before the case: the meter's highest range.
    HighestRange,
    /// Back at the part: its connector apart.
    PartApartAgain,
}

impl OwnGate {
    /// Its name, as in records.
    #[must_use]
    pub fn id(self) -> &'static str {
        match self {
            Self::PartConnected => "part-connected",
            Self::ControlUnitUnplugged => "control-unit-unplugged",
            Self::PlugDead => "plug-dead",
            Self::MeterProven => "plug-meter-proven",
            Self::MeterProvenAgain => "plug-meter-proven-again",
            Self::BackOnOhms => "plug-meter-on-ohms",
            Self::PartApart => "part-apart",
            Self::HighestRange => "highest-range",
            Self::PartApartAgain => "part-apart-again",
        }
    }
}

/// Where the probes go.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Probed {
    /// Both probes move.
    Pins {
        /// The pin of the part.
        pin: String,
        /// The pin of the other probe.
        against: String,
    },
    /// The other probe stays.
    Pin {
        /// The pin of the part.
        pin: String,
    },
    /// In the control unit's plug.
    PlugPins {
        /// The plug's pin.
        pin: String,
        /// The plug's pin of the other probe.
        against: String,
    },
    /// In the control unit's plug, whose pins the profile does not tell.
    Plug,
    /// From a pin of the part to the case.
    ToCase {
        /// The pin of the part.
        pin: String,
    },
}

impl Probed {
    /// The pin of the part that is probed; none at the control unit's plug.
    #[must_use]
    pub fn pin(&self) -> Option<&str> {
        match self {
            Self::Pins { pin, .. } | Self::Pin { pin } | Self::ToCase { pin } => Some(pin),
            Self::PlugPins { .. } | Self::Plug => None,
        }
    }
}

impl Prompt {
    /// Where the probes go, where a reading is asked for.
    #[must_use]
    pub fn probed(&self) -> Option<&Probed> {
        match self {
            Self::Take { probed, .. }
            | Self::OnceMore { probed, .. }
            | Self::OnceMoreCleaned { probed, .. }
            | Self::SameLeads { probed, .. }
            | Self::ForComparison { probed, .. } => Some(probed),
            _ => None,
        }
    }
}

impl Prompt {
    /// The same with another name for the circuit.
    #[must_use]
    pub fn calling(mut self, name: String) -> Self {
        match &mut self {
            Self::Take { circuit, .. }
            | Self::OnceMore { circuit, .. }
            | Self::OnceMoreCleaned { circuit, .. }
            | Self::SameLeads { circuit, .. }
            | Self::ForComparison { circuit, .. } => *circuit = name,
            _ => {}
        }
        self
    }
}

/// What is shown beside the prompt and not spoken.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Aside {
    /// The number that confirms the gate on a keypad.
    TypeCode {
        /// The number.
        code: String,
    },
    /// How to say on a keypad that the temperature is not known.
    NotSureByKey,
    /// How to finish on a keypad.
    FinishByKey,
}
