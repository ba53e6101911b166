//! Owns what is asked and told while a profile is made, as values.

use schemars::JsonSchema;
use serde::Serialize;

/// What a circuit is made of, in the order in which a keypad chooses it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum MadeOf {
    /// A copper winding: 1.
    Coil,
    /// A resistor, a track, a switch cluster: 2.
    Resistor,
    /// A plain connection: 3.
    Wire,
    /// A terminated data bus: 4.
    DataBus,
    /// A platinum sensor: 5.
    Platinum,
    /// A thermistor by a table: 6.
    Thermistor,
    /// No ohmmeter may touch it: 7.
    Never,
}

impl MadeOf {
    /// All of them, as they are counted.
    pub const ALL: [Self; 7] = [
        Self::Coil,
        Self::Resistor,
        Self::Wire,
        Self::DataBus,
        Self::Platinum,
        Self::Thermistor,
        Self::Never,
    ];
}

/// A question while a profile is made.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Asked {
    /// What the part is called.
    Title,
    /// Where the figures come from.
    Source,
    /// The pin that one probe stays on.
    Common,
    /// The first pins.
    FirstPins,
    /// The next pins, or that this was all.
    NextPins,
    /// The pin that they are measured against.
    Against {
        /// The pins.
        pins: String,
    },
    /// What is at one pin.
    Name {
        /// The pin.
        pin: String,
    },
    /// What is at several.
    Names {
        /// How many.
        count: usize,
    },
    /// What it is made of.
    MadeOf {
        /// The choices.
        choices: Vec<Choice>,
    },
    /// The same, and it may be as the one before.
    MadeOfOrLike {
        /// The choices.
        choices: Vec<Choice>,
        /// The one before.
        like: String,
    },
    /// Ohms at 0 °C.
    Platinum,
    /// Temperatures and ohms.
    Points,
    /// Why nobody may measure it.
    Reason,
    /// What a sound one reads.
    Reads,
}

/// A numbered choice.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Choice {
    /// What is typed.
    pub number: usize,
    /// What it means.
    pub made_of: MadeOf,
}

/// What is told while a profile is made.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum NewPart {
    /// How it goes.
    Hello,
    /// A question.
    Asked(Asked),
    /// What was taken in.
    Added {
        /// The circuits' names.
        circuits: Vec<String>,
    },
    /// Nothing is asked before.
    AtTheBeginning,
    /// An answer is needed.
    Needed,
    /// No such choice.
    NoSuchChoice,
    /// No pins.
    NoPins {
        /// What was typed.
        typed: String,
    },
    /// No resistance.
    NoOhms {
        /// What was typed.
        typed: String,
    },
    /// No table of temperatures.
    NoPoints {
        /// What was typed.
        typed: String,
    },
    /// The answer breaks a rule of profiles.
    Refused {
        /// What is wrong.
        what: String,
        /// What to write instead.
        advice: String,
    },
    /// The profile is there.
    Written {
        /// The file.
        path: String,
    },
    /// How it is used.
    StartWith {
        /// The name or file to give.
        profile: String,
    },
    /// Where figures come from that nobody else told.
    OwnMeasurements,
    /// What a learned part is called.
    LearnedTitle {
        /// How many pins it has.
        pins: usize,
    },
    /// Where a learned profile comes from.
    LearnedSource {
        /// The session.
        session: String,
    },
    /// What stands at the top of a learned profile.
    LearnedComment {
        /// The session.
        session: String,
    },
    /// A profile was learned.
    Learned {
        /// The file.
        path: String,
    },
    /// The input ended too early.
    Unfinished,
    /// There is such a file.
    Exists {
        /// The file.
        path: String,
    },
}
