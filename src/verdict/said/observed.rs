//! Owns what further observations amount to, as values.

use crate::quantity::{Decimal, Reading};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// How a stored code and the readings go together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum CodeStand {
    /// It names a circuit that reads off.
    Agrees,
    /// It names a circuit that reads sound.
    Sound,
    /// It names a circuit that was not read, or could not be judged.
    NotRead,
    /// It names none of the profile.
    NamesNone,
}

/// Whose a limit is.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum LimitBy {
    /// It came with the observation.
    Given,
    /// The profile's.
    Profile {
        /// Its source.
        source: String,
    },
    /// Common practice.
    Practice,
}

/// A resistance under load.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct UnderLoad {
    /// Ohms.
    pub ohms: f64,
    /// At so many amperes.
    pub amperes: f64,
}

/// What the wires of a harness may add.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct WiresAdd {
    /// Cross-section.
    pub mm2: f64,
    /// Length.
    pub metres: f64,
    /// At most so many ohms.
    pub most: f64,
}

/// What an observation amounts to.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Observation {
    /// A stored code.
    Code {
        /// As the scan tool shows it.
        code: String,
        /// The circuit that it names.
        circuit: Option<String>,
        /// How the readings go with it.
        stand: CodeStand,
    },
    /// What earlier parts read.
    Learned {
        /// The circuit's name.
        circuit: String,
        /// What they read, in ohms.
        expected: f64,
        /// How many parts.
        parts: u32,
        /// What this one reads.
        ohms: f64,
        /// Where it is unlike that: how many standard uncertainties away.
        far: Option<Decimal>,
    },
    /// The meter cannot tell a window.
    TooCoarse {
        /// The window from.
        low: f64,
        /// To.
        high: f64,
        /// End of the range.
        full_scale: f64,
        /// How sure it is there.
        expanded: f64,
        /// Half the window.
        half_width: f64,
    },
    /// A reading between pins that are no circuits'.
    Pins {
        /// From.
        from: String,
        /// To.
        to: String,
        /// What was shown.
        reading: Reading,
    },
    /// A reading between two circuits' pins.
    Pair {
        /// The one.
        first: String,
        /// The other.
        second: String,
        /// What was shown.
        reading: Reading,
    },
    /// Two are joined.
    Joined {
        /// The one.
        first: String,
        /// The other.
        second: String,
        /// What was read, in ohms.
        ohms: f64,
    },
    /// Two that share no pin are joined.
    JoinedApart {
        /// The one.
        first: String,
        /// The other.
        second: String,
        /// What was read, in ohms.
        ohms: f64,
    },
    /// The sum of both, while each is over range against a pin.
    SumPinOpen {
        /// The one.
        first: String,
        /// The other.
        second: String,
        /// What was read, in ohms.
        ohms: f64,
        /// The pin.
        pin: String,
    },
    /// The sum of both.
    Sum {
        /// The one.
        first: String,
        /// The other.
        second: String,
        /// What was read, in ohms.
        ohms: f64,
    },
    /// Not the sum of both.
    NotSum {
        /// The one.
        first: String,
        /// The other.
        second: String,
        /// What was read, in ohms.
        ohms: f64,
        /// What the sum is.
        sum: f64,
    },
    /// Over range though both share a pin.
    OpenThoughShared {
        /// The one.
        first: String,
        /// The other.
        second: String,
        /// The pin.
        pin: String,
    },
    /// Over range, as circuits apart are.
    Apart {
        /// The one.
        first: String,
        /// The other.
        second: String,
    },
    /// The temperature that a family means.
    FamilyTemperature {
        /// Its title.
        family: String,
        /// What it has in common, in ohms.
        ohms: f64,
        /// About how many degrees Celsius.
        likely: i32,
        /// From, by the window.
        low: i32,
        /// To.
        high: i32,
        /// Whether that goes with the temperature said; none where none was said.
        agrees: Option<bool>,
    },
    /// The temperature that a sensor reads.
    SensorTemperature {
        /// The circuit's name.
        circuit: String,
        /// In ohms.
        ohms: f64,
        /// In degrees Celsius.
        celsius: i32,
    },
    /// A sensor reads what it has at no temperature.
    SensorNowhere {
        /// The circuit's name.
        circuit: String,
        /// In ohms.
        ohms: f64,
    },
    /// A wire under load.
    Load {
        /// The circuit's name.
        circuit: String,
        /// Volts lost.
        lost: f64,
        /// How sure.
        expanded: f64,
        /// Of so many volts.
        supply: f64,
        /// The most that may be lost.
        limit: f64,
        /// Whose limit.
        by: LimitBy,
        /// As a resistance.
        at: Option<UnderLoad>,
    },
    /// A voltage drop.
    Drop {
        /// Over what.
        joint: String,
        /// Volts lost.
        lost: f64,
        /// How sure.
        expanded: f64,
        /// As a resistance.
        at: Option<UnderLoad>,
        /// The most that may be lost.
        limit: f64,
        /// Whose limit.
        by: LimitBy,
    },
    /// A voltage drop that wanders.
    DropWanders {
        /// Over what.
        joint: String,
        /// The most that may be lost.
        limit: f64,
        /// Whose limit.
        by: LimitBy,
    },
    /// A voltage drop over range.
    DropOverRange {
        /// Over what.
        joint: String,
        /// The most that may be lost.
        limit: f64,
        /// Whose limit.
        by: LimitBy,
    },
    /// A voltage drop that was not measured.
    DropNotMeasured {
        /// Over what.
        joint: String,
        /// The most that may be lost.
        limit: f64,
        /// Whose limit.
        by: LimitBy,
    },
    /// What the harness adds.
    Loop {
        /// The circuit's name.
        circuit: String,
        /// So many ohms.
        added: f64,
        /// How sure.
        expanded: f64,
        /// What its wires may add.
        wires: Option<WiresAdd>,
        /// Whether that is less than nothing, which cannot be.
        less: bool,
    },
}
