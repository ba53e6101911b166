//! Owns the meaning of one stretch of speech (or of keys: they give the same values).

use crate::{
    profile::PinName,
    quantity::{Decimal, Prefix, Unit},
};
use serde::{Deserialize, Serialize};

/// What was meant. Voice and keys both produce this; the session knows nothing else.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Utterance {
    /// A reading, or a number that the session asked for.
    Reading(Spoken),
    /// A command.
    Command(Command),
    /// A serial or order number that was asked for: its digits.
    Entry(String),
    /// What is at a pin is called so from now on. Typed only: no recogniser hears words that it was not told.
    Naming {
        /// The pin.
        pin: PinName,
        /// The name.
        name: String,
    },
    /// A phrase that the profile or the session listed, such as a gate's confirmation ("supply off").
    Phrase(String),
}

/// Phrases that the session waits for by itself; their words are in `commands.toml`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum OwnPhrase {
    /// The part is cold.
    Cold,
    /// The part is warm.
    Warm,
    /// The part is hot.
    Hot,
    /// The temperature of the part is not known.
    NotSure,
    /// The part is connected again.
    PartConnected,
    /// The control unit is unplugged.
    ControlUnitUnplugged,
    /// There is no voltage at its plug.
    PlugDead,
    /// The meter read a known source, before.
    MeterProven,
    /// It read the known source again, after.
    MeterProvenAgain,
    /// The meter is back on ohms.
    BackOnOhms,
    /// Part and control unit are unplugged.
    PartApart,
    /// The meter is in its highest range.
    HighestRange,
    /// The part is unplugged again.
    PartApartAgain,
}

impl OwnPhrase {
    /// All of them.
    pub const ALL: [Self; 13] = [
        Self::Cold,
        Self::Warm,
        Self::Hot,
        Self::NotSure,
        Self::PartConnected,
        Self::ControlUnitUnplugged,
        Self::PlugDead,
        Self::MeterProven,
        Self::MeterProvenAgain,
        Self::BackOnOhms,
        Self::PartApart,
        Self::HighestRange,
        Self::PartApartAgain,
    ];
}

/// What can follow after what was said so far.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Follow {
    /// Nothing: it is whole.
    Nothing,
    /// Something may.
    Perhaps,
    /// Something must: it is the beginning of something that may be said.
    Surely,
}

/// A reading as spoken or typed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Spoken {
    /// A number, perhaps with prefix and unit.
    Number(SpokenNumber),
    /// The display is over range.
    OverRange,
    /// The number does not settle.
    Unstable,
}

/// A number with what was said around it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SpokenNumber {
    /// The digits. "four point seven k" has 4.7 here.
    pub number: Decimal,
    /// The prefix, where one was said.
    pub prefix: Option<Prefix>,
    /// The unit, where one was said.
    pub unit: Option<Unit>,
    /// How it was put.
    pub form: Form,
}

/// How a number was put: decides what has to be asked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Form {
    /// With a point ("one point five"), or typed.
    Pointed,
    /// A whole number in words ("two hundred and six", "fifteen").
    Whole,
    /// Two or more digits one after the other without a point ("one five"): 15, or 1.5 with the point forgotten.
    Digits,
    /// A lone "zero" or "oh": may be what is left of "o l".
    LoneZero,
    /// One digit alone, other than zero ("five").
    LoneDigit,
}

/// A command.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub enum Command {
    /// On to the next circuit (consents to what was read back).
    Next,
    /// Back by so many circuits, at least 1.
    Back(u8),
    /// Say the last line again.
    Repeat,
    /// What was read back is wrong; perhaps with the right value at once ("wrong, one point nine").
    Wrong(Option<Spoken>),
    /// Reopen a pin's reading, perhaps with the new value at once ("change pin four to one point five").
    Change {
        /// The pin.
        pin: PinName,
        /// The new value.
        reading: Option<Spoken>,
    },
    /// Leave this one out.
    Skip,
    /// Stop listening for readings until resumed.
    Pause,
    /// Go on after a pause.
    Resume,
    /// End the round now and conclude from what there is.
    Finish,
    /// End the session without a conclusion; it can be resumed.
    Stop,
    /// Yes ("correct" and "affirmative" too).
    Yes,
    /// No.
    No,
    /// What may be said now?
    Help,
    /// Where are we? ("how many left", "status")
    Status,
    /// Why that verdict?
    Why,
    /// What was that pin's reading?
    WhatWas(PinName),
    /// Which reading is the worst so far?
    Worst,
    /// What did an earlier session read here?
    LastTime,
    /// Where is that pin on the connector? None: the one that is waited for.
    WhereIs(Option<PinName>),
    /// Go on after a pause: words that nobody says by chance.
    Wake,
    /// Take what the meter on the line shows.
    TakeIt,
    /// Hold the probes together again: the reading of the leads is taken anew, the other readings stay.
    ZeroLeads,
    /// Say no more than is needed from now on.
    TalkLess,
    /// Say more from now on: where the pin is, what a verdict means.
    TalkMore,
    /// The microphone is open from now on.
    KeepListening,
    /// The microphone listens only while the talk key or the pedal is pressed from now on.
    PushToTalk,
    /// Speak louder.
    Louder,
    /// Speak more quietly.
    Quieter,
    /// Speak faster.
    Faster,
    /// Speak more slowly.
    Slower,
}
