//! Owns what the screen says of itself: labels and headings, as values. Lines of the session come worded.

use crate::{
    quantity::{Decimal, Prefix},
    verdict::Class,
};
use schemars::JsonSchema;
use serde::Serialize;

/// Who a line comes from: the word in front of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Who {
    /// A caution.
    Careful,
    /// A question.
    Asks,
    /// A prompt or an answer.
    Says,
    /// A line of the conclusion.
    Result,
    /// What was heard.
    Heard,
    /// What was typed.
    Typed,
    /// The meter on the line sent.
    Meter,
    /// Something about the devices.
    Notice,
}

/// A label of the screen.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Label {
    /// Where the journal lies.
    Journal {
        /// The path.
        path: String,
    },
    /// Where the page of the record lies.
    Report {
        /// The path.
        path: String,
    },
    /// The hash of the journal's last line, which stands for the whole journal.
    Mark {
        /// The hash, in hexadecimal digits.
        hash: String,
    },
    /// A journal that cannot be read was passed over.
    PassedOver {
        /// The path.
        path: String,
        /// What is wrong with it.
        why: String,
    },
    /// Heard, and not sure.
    HeardUnsure {
        /// The words of one decoding.
        first: String,
        /// Those of another, where they differ.
        second: Option<String>,
    },
    /// Heard, and it says nothing here.
    HeardNothing {
        /// The words.
        words: String,
    },
    /// The session is paused.
    StagePaused,
    /// Stored codes are asked for.
    StageCodes,
    /// Another station is offered.
    StageStation,
    /// Gates are gone through.
    StageMakeSafe {
        /// Which, from 1.
        place: usize,
        /// Of how many.
        of: usize,
    },
    /// The temperature of the part.
    StageTemperature,
    /// The leads.
    StageLeads,
    /// The readings.
    StageReading {
        /// Which, from 1.
        place: usize,
        /// Of how many.
        of: usize,
    },
    /// All read.
    StageAllRead,
    /// Over.
    StageEnded,
    /// Large: paused.
    LargePaused,
    /// Large: at the control unit's plug.
    LargeAtPlug,
    /// Large: to the case.
    LargeToCase,
    /// Large: a gate.
    LargeMakeSafe,
    /// Large: stored codes.
    LargeCodes,
    /// Large: another station?
    LargeGoThere,
    /// Large: the temperature.
    LargeTemperature,
    /// Large: the leads.
    LargeLeads,
    /// Large: all read.
    LargeAllRead,
    /// Large: over.
    LargeEnded,
    /// Large: a number.
    LargeNumber {
        /// The number on the display.
        number: Decimal,
        /// Its prefix.
        prefix: Prefix,
    },
    /// Large: over range.
    LargeOverRange,
    /// Large: a number that does not settle.
    LargeUnstable,
    /// Large: nothing was read.
    LargeNotTaken,
    /// Large: a verdict. Doubt is kept in it.
    LargeVerdict {
        /// The verdict.
        class: Class,
    },
    /// How many readings were taken.
    Progress {
        /// So many.
        done: usize,
        /// Of those planned so far.
        planned: usize,
    },
    /// In front of a part that does not exist.
    Invented,
    /// Above the pin.
    Pin,
    /// Below the pin.
    Against {
        /// The pin of the other probe.
        against: String,
        /// The circuit's name.
        circuit: String,
    },
    /// Both pins, in one line.
    Probe {
        /// The pin.
        pin: String,
        /// The pin of the other probe.
        against: String,
        /// The circuit's name.
        circuit: String,
    },
    /// The reading taken last.
    Last {
        /// The pin that it was read at.
        pin: String,
        /// The reading.
        reading: String,
        /// The verdict.
        verdict: String,
    },
    /// The same, without the pin.
    LastShort {
        /// The reading.
        reading: String,
        /// The verdict.
        verdict: String,
    },
    /// Nothing was read yet.
    LastNone,
    /// What the keys do.
    Keys,
    /// In front of what the ears are at.
    Hears,
    /// There are no ears.
    EarsNone,
    /// They are shut while the voice speaks.
    EarsOwnVoice,
    /// They are shut until something is pressed.
    EarsShut,
    /// They listen.
    EarsOpen,
    /// They listen, with levels in decibels against full scale.
    EarsLevels {
        /// Whether it is speech.
        speech: bool,
        /// The level now.
        level: i32,
        /// That of the room.
        room: i32,
        /// How many samples were lost.
        lost: u32,
    },
    /// Where the pin is.
    PlaceOfPin {
        /// The pin.
        pin: String,
        /// The place, in words.
        place: Option<String>,
    },
    /// From where the connector is drawn.
    SeenFrom {
        /// From where, in words.
        from: String,
    },
    /// What the signs at the pins mean.
    Legend,
}
