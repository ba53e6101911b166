//! Owns what the reports say, as values: headings, names of columns and facts, and the sentences of page, summary and sheet.
//! They are put into words by [`super::wording`], out of `report.ftl` of the reader's language.

use super::{Correction, Way};
use crate::{
    profile::CircuitKind,
    quantity::Reading,
    verdict::{Class, IfWrong, Station},
};
use schemars::JsonSchema;
use serde::Serialize;

/// What stands over a part of a report.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Heading {
    Record,
    Sheet,
    FilledSheet,
    Conclusion,
    Pins,
    Circuits,
    Alike,
    Readings,
    Further,
    Preparation,
    Codes,
    CautionsGiven,
    Derivations,
    Patterns,
    Observed,
    NextChecks,
    NotExcluded,
    Cautions,
    LessLikely,
    BeforeMeasuring,
    FurtherChecks,
    OtherSound,
}

/// The name of a fact or of a column.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Name {
    Job,
    Part,
    When,
    Meter,
    TakenBy,
    Session,
    Profile,
    Fingerprint,
    MeterFigures,
    Program,
    Technician,
    Customer,
    Vehicle,
    Order,
    PartSerial,
    MeterSerial,
    MeterCalibrated,
    JournalMark,
    FiguresFrom,
    Mark,
    Circuit,
    Verdict,
    Pins,
    Where,
    Resistance,
    Limits,
    AgainstLimits,
    Readings,
    Number,
    Time,
    Shown,
    CameIn,
    Listen,
    What,
    Why,
    Sound,
    Range,
    AtThePart,
    Again,
    Harness,
    Case,
    Confirmed,
    Leads,
    PartTemperature,
    Note,
    // Lines to fill in on the blank sheet.
    OrderAndVehicle,
    WhoAndWhen,
    StoredCodes,
    TemperatureOfThePart,
    ProbesTogether,
    FirstAgain,
}

/// What has to be known before a figure of a record is believed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, serde::Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Stamp {
    /// A simulated technician took part.
    Simulated,
    /// The part does not exist.
    InventedPart,
    /// The meter does not exist.
    InventedMeter,
    /// The journal ends without an end.
    BrokenOff,
    /// Stopped before a conclusion.
    Stopped,
}

/// How likely something is, as whole per cent. The ends are kept for certainty, which a judgement from measurements
/// never has.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Share {
    NotKnown,
    Over,
    Under,
    About(u32),
}

impl Share {
    pub(crate) fn of(share: f64) -> Self {
        match share * 100.0 {
            percent if percent.is_nan() => Self::NotKnown,
            percent if percent > 99.0 => Self::Over,
            percent if percent < 1.0 => Self::Under,
            percent => Self::About(percent.round() as u32),
        }
    }
}

/// What a circuit is, in a word.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Sort {
    CopperCoil,
    Linear,
    Resistor,
    Platinum,
    Thermistor,
    DataBus,
    Wire,
}

impl From<&CircuitKind> for Sort {
    fn from(kind: &CircuitKind) -> Self {
        match kind {
            CircuitKind::CopperCoil => Self::CopperCoil,
            CircuitKind::Linear { .. } => Self::Linear,
            CircuitKind::Resistor => Self::Resistor,
            CircuitKind::Platinum { .. } => Self::Platinum,
            CircuitKind::Thermistor { .. } | CircuitKind::ThermistorTable { .. } => Self::Thermistor,
            CircuitKind::DataBus => Self::DataBus,
            CircuitKind::Wire => Self::Wire,
        }
    }
}

/// What to do, with the names of circuits.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum ToDo {
    RepairTerminal(Vec<String>),
    RepairWire(Vec<String>),
    ReplacePart(Vec<String>),
    LookAtControlSide(Vec<String>),
    MeasureAgain(Vec<String>),
}

/// The word under a pin in the drawing: two short words at most.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum PinWord {
    Class(Class),
    Common,
    CommonPin,
    Return,
    NoOhmmeter,
    Unused,
}

/// The sentences. Numbers come in as text, with their digits and the decimal mark settled.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub(crate) enum Sentence {
    /// Stands at the end of every report.
    AnAid,
    Nothing,
    InOrder(Option<bool>),
    SpanOf {
        low: String,
        high: String,
    },
    Unstable {
        low: String,
        high: String,
    },
    Reading(Reading),
    /// Where a reading was taken, for narrow columns.
    Place {
        station: Station,
    },
    Confirmed,
    Verdict {
        class: Class,
        confirmed: bool,
    },
    Cleaned,
    Wiggled,
    ToCase {
        pin: String,
    },
    AtPlug {
        pin: String,
        against: String,
    },
    Period {
        from: String,
        to: String,
        zone: String,
    },
    Day {
        year: String,
        month: String,
        day: String,
    },
    DayAndTime {
        day: String,
        time: String,
    },
    RestsOn {
        readings: Vec<u32>,
    },
    /// As [`Sentence::RestsOn`], the numbers made elsewhere.
    RestsOnLinks {
        readings: Vec<u32>,
        links: String,
    },
    For,
    Against,
    AlternativelyHeard {
        first: String,
        second: String,
    },
    Correction {
        words: String,
    },
    Withdrawn {
        at: String,
        by: Correction,
        way: Way,
        replaced_by: Option<u32>,
    },
    Quoted {
        text: String,
    },
    NotKnown,
    CodeNames {
        code: String,
        circuit: Option<String>,
    },
    // The figures behind a verdict.
    Conforms {
        share: Share,
        least: Option<Share>,
        most: Option<Share>,
    },
    PeerScore {
        score: String,
        limit: Option<String>,
        expected: Option<String>,
    },
    Means {
        temperature: String,
    },
    LearnedScore {
        score: String,
    },
    CleaningChangedIt,
    WhatToDo {
        what: ToDo,
        if_wrong: IfWrong,
    },
    Outcome {
        sound: u32,
        circuits: u32,
        off: Vec<String>,
        doubtful: Vec<String>,
        not_taken: u32,
    },
    // Further observations.
    LeadsAgain,
    Between {
        from: String,
        to: String,
    },
    LoadOf {
        circuit: String,
        limit: Option<String>,
    },
    LoadShown {
        at_load: String,
        supply: String,
        current: Option<String>,
    },
    DropOver {
        joint: String,
        circuit: Option<String>,
        limit: Option<String>,
    },
    DropShown {
        reading: String,
        current: Option<String>,
    },
    LearnedFrom {
        parts: u32,
        circuit: String,
        station: Station,
    },
    LearnedValue {
        median: String,
        at: String,
        spread: Option<String>,
    },
    // The page.
    Title {
        name: String,
    },
    SheetTitle {
        name: String,
    },
    ResistanceHint,
    HeardHint,
    OtherSoundHint,
    AlikeHint,
    MapLabel,
    MapKey,
    BlankMapKey,
    AlikeLabel {
        family: String,
    },
    // The sheet.
    WriteHint,
    CopperHint,
    ShouldReadAlike {
        family: String,
        percent: String,
    },
    NoOhmmeterHere {
        why: String,
    },
    NoFigure,
    At {
        temperature: String,
    },
    UpTo {
        end: String,
    },
    Steps {
        step: String,
    },
    DropLimitJoint {
        limit: String,
        source: String,
    },
    DropLimitWire {
        limit: String,
        source: String,
    },
    KnownCode {
        number: String,
        meaning: Option<String>,
        circuit: String,
    },
    ProfileFingerprint {
        profile: String,
        fingerprint: String,
    },
}
