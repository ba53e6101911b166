//! Owns what may be observed beyond the readings of circuits, and the figures behind a finding.

use crate::{
    profile::{CircuitId, PinName},
    quantity::{Amperes, Celsius, Interval, Ohms, Reading, Shown, Volts},
};
use serde::{Deserialize, Serialize};

use super::{Evaluated, FindingNote, Observation, OutlierTest, Saying, Station, UncertaintySource};

/// Observations that not every job has. All of them may be missing.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(default, deny_unknown_fields)]
pub struct Further {
    /// Further readings of the leads held together: show how well they repeat.
    pub lead_repeats: Vec<Shown>,
    /// Readings between two pins that are no circuit of the profile.
    pub relations: Vec<Relation>,
    /// Load tests of the wiring, part and control unit unplugged.
    pub loads: Vec<LoadTest>,
    /// Voltage drops over joints and wires, under load.
    pub drops: Vec<VoltageDrop>,
    /// What the same profile read on earlier parts. Always shown as learned.
    pub references: Vec<LearnedReference>,
}

/// A reading between two pins, to find circuits that are joined or share a return.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Relation {
    /// Unique among all observations.
    pub id: u32,
    /// One pin.
    pub from: PinName,
    /// The other.
    pub to: PinName,
    /// What the meter showed.
    pub reading: Reading,
}

/// A wire loaded through a lamp or a resistor, with part and control unit unplugged.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LoadTest {
    /// Unique among all observations.
    pub id: u32,
    /// The circuit whose wire was loaded.
    pub circuit: CircuitId,
    /// The supply while loaded.
    pub supply: Volts,
    /// The voltage over the load itself.
    pub at_load: Volts,
    /// The current through it, where it was measured.
    #[serde(default)]
    pub current: Option<Amperes>,
    /// How much may be lost in the wire and its joints together. None: the profile's limit for a wire, else 0.5 V (common
    /// practice, no source), said so.
    #[serde(default)]
    pub limit: Option<Volts>,
}

/// A voltage drop over one joint or wire, under load.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct VoltageDrop {
    /// Unique among all observations.
    pub id: u32,
    /// What was measured over ("earth stud to battery minus").
    pub joint: String,
    /// The circuit that it feeds or returns, if it is one of the profile.
    #[serde(default)]
    pub circuit: Option<CircuitId>,
    /// What the meter showed, in volts.
    pub reading: Reading,
    /// The current that flowed, where it is known.
    #[serde(default)]
    pub current: Option<Amperes>,
    /// The highest sound drop. None: the profile's limit for a joint, else 0.2 V (common practice, no source), said so.
    #[serde(default)]
    pub limit: Option<Volts>,
}

/// What a circuit read on earlier parts of the same profile.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LearnedReference {
    /// The circuit.
    pub circuit: CircuitId,
    /// The station.
    #[serde(default)]
    pub station: Station,
    /// How many parts it was learned from, at least 1.
    pub parts: u32,
    /// Their median, at the temperature `at`.
    pub median: Ohms,
    /// Their standard deviation between parts. None where one part alone was measured.
    #[serde(default)]
    pub spread: Option<Ohms>,
    /// The temperature that median and spread hold at.
    pub at: Celsius,
}

/// The figures behind a finding, beyond what is shown at once.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(default)]
pub struct Details {
    /// What the uncertainty is made of.
    pub budget: Vec<Contribution>,
    /// Lowest and highest probability of conformity over the temperatures that the part may have.
    pub conforming_between: Option<Interval<f64>>,
    /// The modified z score from which a member of a family of this size is unlike the others.
    pub peer_limit: Option<f64>,
    /// The value that the other members of the family lead to expect.
    pub peers_expect: Option<Ohms>,
    /// Where a learned reference was used: distance to it in its standard uncertainties. Learned, not published.
    pub learned_score: Option<f64>,
    /// True where the reading changed when the terminal was cleaned.
    pub cleaning_changed_it: bool,
    /// The temperature that the reading means, for sensors of temperature.
    pub temperature: Option<Celsius>,
    /// What other outlier tests say. They do not decide.
    pub cross_checks: Vec<Saying<OutlierTest>>,
    /// What else is to be known.
    pub notes: Vec<Saying<FindingNote>>,
    /// Probability that this circuit is electrically off, from its readings alone (not which cause it has).
    pub fault_probability: Option<f64>,
}

/// Something observed that is no finding about a circuit at a station.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
pub struct Observed {
    /// What it is about.
    pub about: About,
    /// The circuits that it concerns.
    pub circuits: Vec<CircuitId>,
    /// The observations that it rests on.
    pub measurements: Vec<u32>,
    /// Whether it is as it should be. None: not to be judged, or closer to the limit than the meter can tell.
    pub sound: Option<bool>,
    /// In one sentence, with its numbers.
    pub text: Saying<Observation>,
}

/// What an [`Observed`] is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize, schemars::JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum About {
    /// A wire under load.
    Load,
    /// The voltage lost over a joint.
    VoltageDrop,
    /// A reading between two pins.
    Relation,
    /// What the wires add between part and control unit.
    Loop,
    /// A stored code.
    StoredCode,
    /// What was learned from earlier parts.
    Learned,
    /// Whether the meter can tell a window.
    Meter,
    /// The temperature that readings imply.
    Temperature,
}

/// One line of an uncertainty budget (JCGM 100:2008, annex H.1 has the form).
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, schemars::JsonSchema)]
pub struct Contribution {
    /// What contributes ("meter", "contact").
    pub source: Saying<UncertaintySource>,
    /// How it was evaluated: A from repeats, B from anything else (JCGM 100:2008, 2.3.2 and 2.3.3).
    pub kind: EvaluationKind,
    /// Distribution and half-width.
    pub how: Saying<Evaluated>,
    /// Standard uncertainty.
    pub standard: Ohms,
    /// True where it is the same for all readings with this meter and these leads, and mostly cancels between peers.
    pub shared: bool,
}

/// How an uncertainty was evaluated.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, schemars::JsonSchema)]
pub enum EvaluationKind {
    /// From repeated readings.
    A,
    /// From specifications and bounds.
    B,
}
