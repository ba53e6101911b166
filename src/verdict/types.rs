//! Owns what goes into a judgement and what comes out of it.

use crate::{
    profile::CircuitId,
    quantity::{Celsius, Interval, Ohms, Reading, Shown},
};
use serde::{Deserialize, Serialize};

use super::{
    Caveat, Derived, Details, Further, Grounds, Headline, NextStep, NextWhy, NotExcluded, Observed, Saying,
    StepName, Together, Weighed,
};

/// Where a circuit is measured.
#[derive(
    Debug,
    Clone,
    Copy,
    PartialEq,
    Eq,
    Hash,
    PartialOrd,
    Ord,
    Serialize,
    Deserialize,
    Default,
    schemars::JsonSchema,
)]
#[serde(rename_all = "kebab-case")]
pub enum Station {
    /// At the part itself, connector apart.
    #[default]
    Component,
    /// Through the harness, at the control unit's end.
    Harness,
    /// At the part, from the pin to the case, connector apart.
    Case,
}

/// How the resistance of leads and contacts is taken off.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Leads {
    /// Probes held together showed this; it is subtracted.
    Shown(Shown),
    /// The meter's relative mode took it off already.
    Relative,
    /// Not measured: carried as unknown, never assumed to be nothing.
    Unknown,
}

impl Leads {
    /// What the probes held together showed, where that was read.
    #[must_use]
    pub fn shown(&self) -> Option<Shown> {
        match self {
            Self::Shown(shown) => Some(*shown),
            Self::Relative | Self::Unknown => None,
        }
    }
}

/// How well a contact was made for a reading.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Default, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Contact {
    /// Probed as usual.
    #[default]
    Usual,
    /// The terminal was looked at, cleaned and probed again.
    Cleaned,
    /// The wire or connector was moved while reading.
    Wiggled,
}

/// One measurement.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Measurement {
    /// Unique within the evidence; later ones are larger.
    pub id: u32,
    /// Which circuit.
    pub circuit: CircuitId,
    /// Where.
    #[serde(default)]
    pub station: Station,
    /// What the meter showed.
    pub reading: Reading,
    /// How contact was made.
    #[serde(default)]
    pub contact: Contact,
}

/// A fault code stored by a control unit, by the circuit that it names.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StoredCode {
    /// The code as shown by the scan tool, free text.
    pub text: String,
    /// The circuit that it names, if it is one of the profile.
    pub circuit: Option<CircuitId>,
}

/// Everything that was observed, in one value: what [`super::judge`] judges.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Evidence {
    /// Temperature of the part, as an interval. None: unknown.
    pub part_temperature: Option<Interval<Celsius>>,
    /// Temperature of the surroundings of the meter. None: unknown.
    #[serde(default)]
    pub meter_temperature: Option<Interval<Celsius>>,
    /// The leads.
    pub leads: Leads,
    /// All measurements in the order taken. Superseded ones (said "wrong") are not here.
    pub measurements: Vec<Measurement>,
    /// Stored codes.
    #[serde(default)]
    pub codes: Vec<StoredCode>,
    /// What else was observed.
    #[serde(default)]
    pub further: Further,
}

impl Evidence {
    /// Nothing observed yet: no temperature, leads not measured.
    #[must_use]
    pub fn none() -> Self {
        Self {
            part_temperature: None,
            meter_temperature: None,
            leads: Leads::Unknown,
            measurements: Vec::new(),
            codes: Vec::new(),
            further: Further::default(),
        }
    }
}

/// What one circuit's readings amount to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Class {
    /// Within its window by more than the uncertainty, and like its peers.
    Within,
    /// Within, but closer to the limit than this meter can tell.
    WithinDoubtful,
    /// Outside, but closer to the limit than this meter can tell.
    OutsideDoubtful,
    /// Outside its window by more than the uncertainty.
    Outside,
    /// Inside its window (or without one) but unlike its family.
    UnlikePeers,
    /// Like its family; there is no window.
    LikePeers,
    /// Over range, contact not yet checked.
    OverRangeUnchecked,
    /// Open at this terminal or behind it: over range with contact checked.
    Open,
    /// Near zero after the leads are off.
    Shorted,
    /// The number wanders more than meter and contact explain.
    Unstable,
    /// Below the limit to case.
    Leakage,
    /// Measured; nothing to judge it by.
    NotJudged,
    /// Not measured.
    NotTaken,
}

impl Class {
    /// Whether it speaks against the circuit (or its measurement).
    #[must_use]
    pub fn is_suspect(self) -> bool {
        !matches!(
            self,
            Self::Within | Self::WithinDoubtful | Self::LikePeers | Self::NotJudged | Self::NotTaken
        )
    }
}

/// What is found about one circuit at one station.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
pub struct Finding {
    /// The circuit.
    pub circuit: CircuitId,
    /// The station.
    pub station: Station,
    /// What its readings amount to.
    pub class: Class,
    /// True once it was confirmed by a second reading with the terminal looked at and cleaned.
    pub confirmed: bool,
    /// The resistance with leads off, as measured, where there is a number.
    pub resistance: Option<Ohms>,
    /// Its expanded uncertainty (k = 2).
    pub uncertainty: Option<Ohms>,
    /// The limits at the temperature of the part.
    pub limits: Option<Interval<Ohms>>,
    /// Probability that a circuit which reads like this conforms to its window (JCGM 106:2012).
    pub conforming: Option<f64>,
    /// Modified z score against its family.
    pub peer_score: Option<f64>,
    /// The measurements that it rests on.
    pub measurements: Vec<u32>,
    /// How it was derived: a colleague can follow it by hand.
    pub derivation: Vec<Step>,
    /// The figures behind it.
    #[serde(default)]
    pub details: Details,
}

/// One line of a derivation.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
pub struct Step {
    /// What is computed ("leads off").
    pub what: Saying<StepName>,
    /// How, with the numbers put in, and the result with its unit.
    pub how: Saying<Derived>,
}

/// What is found about several circuits together.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
pub struct Pattern {
    /// What kind.
    pub kind: PatternKind,
    /// The circuits that show it.
    pub circuits: Vec<CircuitId>,
    /// What it says, with its numbers.
    pub text: Saying<Together>,
}

/// The kinds of patterns.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum PatternKind {
    /// One circuit against many.
    OneOutlier,
    /// A family shifted by one amount: shared return, leads or splice.
    SharedOffset,
    /// A family shifted by one factor: temperature or the wrong window.
    SharedFactor,
    /// Circuits joined, or their return shared.
    Joined,
    /// Values swapped between pins.
    Swapped,
    /// Everything open: common pin or lead off.
    EverythingOpen,
    /// Two members disagree and nothing says which is right.
    Undecided,
    /// The first circuit read again at the end differs: leads, temperature or contact moved.
    Drift,
}

/// What may explain the findings.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Cause {
    /// The part itself.
    Component,
    /// The wires.
    Wiring,
    /// A terminal or contact.
    Connection,
    /// A return or feed that circuits share.
    SharedReturn,
    /// The control unit, or something mechanical, or intermittent.
    ControlOrMechanical,
    /// The measurement.
    Measurement,
    /// Nothing found wrong.
    NothingFound,
    /// Not enough was measured to say.
    Undetermined,
}

/// One explanation with what speaks for and against it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
pub struct Explanation {
    /// The cause.
    pub cause: Cause,
    /// The circuits that it names.
    pub circuits: Vec<CircuitId>,
    /// How sure, between 0 and 1; all explanations together make 1.
    pub certainty: f64,
    /// Reasons for, each refers to measurements.
    pub reasons_for: Vec<Reason>,
    /// Reasons against.
    pub reasons_against: Vec<Reason>,
}

/// A reason and the measurements it rests on.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
pub struct Reason {
    /// What it says.
    pub text: Saying<Grounds>,
    /// The measurements.
    pub measurements: Vec<u32>,
}

/// A check worth doing next.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
pub struct NextCheck {
    /// What kind of check.
    pub action: CheckAction,
    /// At which circuit, where it is about one.
    pub circuit: Option<CircuitId>,
    /// Where, if a reading is to be taken.
    #[serde(default)]
    pub station: Option<Station>,
    /// What to do. A check that the profile names is in its words.
    pub text: Saying<NextStep>,
    /// Why it is worth doing.
    pub why: Saying<NextWhy>,
    /// How much of the doubt it is expected to take away, in bits, by the engine's own figures.
    #[serde(default)]
    pub gain: f64,
}

/// What a check does; the session carries out those that it can.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum CheckAction {
    /// Read the circuit again as it is.
    ReadAgain,
    /// Look at the terminal, clean it, probe and read again.
    CleanAndReadAgain,
    /// Read a circuit known to be good with the same leads.
    ReadKnownGood,
    /// Hold the probes together: zero the leads again.
    ZeroLeads,
    /// Take the probe or clip off the shared pin, clean it, put it on again and read the circuit.
    ReseatCommon,
    /// Read the circuit while its wire and connector are moved.
    Wiggle,
    /// Read from this circuit's pin to another's.
    PinToPin,
    /// Read two circuits in each other's place.
    Swap,
    /// Load the wire through a lamp or resistor, part and control unit unplugged.
    LoadTest,
    /// Voltage drop over its joints under load.
    Drop,
    /// Take the temperature of the part.
    TakeTemperature,
    /// Measure the same circuit at another station.
    OtherStation,
    /// Anything that the session cannot lead through.
    Other,
}

/// How sure what is said may sound. The bounds are in [`super::level`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, Default, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Level {
    /// At least 0.95, and confirmed by cleaning and probing again.
    Failed,
    /// At least 0.70.
    Probably,
    /// One of two or three.
    OneOf,
    /// Not with this meter or these readings.
    #[default]
    CannotTell,
    /// Nothing wrong, and each circuit was really judged.
    NothingFound,
    /// Nothing wrong so far; not everything was read, or can be judged.
    NothingSoFar,
    /// A bad contact that cleaning cured.
    CuredByCleaning,
}

/// What to do.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, Default, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Advice {
    /// The terminal: clean, tighten, replace.
    RepairTerminal {
        /// Whose.
        circuits: Vec<CircuitId>,
    },
    /// The wire or its splice.
    RepairWire {
        /// Whose.
        circuits: Vec<CircuitId>,
    },
    /// The part.
    ReplacePart {
        /// The circuits that say so.
        circuits: Vec<CircuitId>,
    },
    /// Supply, control unit, mechanics.
    LookAtControlSide {
        /// The circuits that the code names.
        circuits: Vec<CircuitId>,
    },
    /// Measure before anything is bought.
    MeasureAgain {
        /// What is in doubt.
        circuits: Vec<CircuitId>,
    },
    /// Nothing by these readings.
    #[default]
    Nothing,
}

/// What it costs if the advice is wrong.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Default, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum IfWrong {
    /// A part is paid for and does not cure.
    PartWasted,
    /// Work for nothing.
    #[default]
    TimeLost,
    /// The fault stays and is met again on the road.
    FaultStays,
    /// It comes back when the contact fails again.
    FaultReturns,
}

/// What the whole amounts to.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
pub struct Conclusion {
    /// How sure it may sound.
    #[serde(default)]
    pub level: Level,
    /// What may be wrong with its probability, likeliest first; sums to 1.
    #[serde(default)]
    pub hypotheses: Vec<Weighed>,
    /// What to do.
    #[serde(default)]
    pub advice: Advice,
    /// What it costs if that is wrong.
    #[serde(default)]
    pub if_wrong: IfWrong,
    /// The smallest deviation that would have shown at every circuit that was judged, in percent of its value.
    #[serde(default)]
    pub smallest_seen: Option<f64>,
    /// One sentence, spoken and shown first.
    pub headline: Saying<Headline>,
    /// Explanations, likeliest first. Never empty.
    pub explanations: Vec<Explanation>,
    /// What was not excluded.
    pub not_excluded: Vec<Saying<NotExcluded>>,
    /// What stands on every conclusion (sound ohms do not prove function; an aid, not an approval).
    pub cautions: Vec<Saying<Caveat>>,
}

/// The JSON Schema of a [`Judgement`], which `bothhands judge` prints.
#[must_use]
pub fn judgement_schema() -> schemars::Schema {
    schemars::generate::SchemaSettings::draft2020_12()
        .for_serialize()
        .into_generator()
        .into_root_schema_for::<Judgement>()
}

/// The whole judgement.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
pub struct Judgement {
    /// One for each circuit of the profile at each station measured, in profile order; circuits not measured at all have
    /// one at the component with [`Class::NotTaken`].
    pub findings: Vec<Finding>,
    /// What several show together.
    pub patterns: Vec<Pattern>,
    /// What it amounts to.
    pub conclusion: Conclusion,
    /// Checks, the one with the highest expected gain for its effort first.
    pub next_checks: Vec<NextCheck>,
    /// What the further observations amount to, and what the readings say beside the findings.
    #[serde(default)]
    pub observed: Vec<Observed>,
}

impl Judgement {
    /// The finding about a circuit at a station.
    #[must_use]
    pub fn finding(&self, circuit: &CircuitId, station: Station) -> Option<&Finding> {
        self.findings.iter().find(|finding| finding.circuit == *circuit && finding.station == station)
    }
}
