//! Owns the answers to commands, and what may be said.

use crate::{
    quantity::{Interval, Ohms, Reading},
    verdict::{Class, NextWhy, Saying},
};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// An answer to a command.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Info {
    /// The session goes on after a break, everything being read.
    GoingOnAllRead,
    /// The session goes on after a break.
    GoingOn {
        /// How many circuits are not read yet.
        left: usize,
    },
    /// What was prepared no longer holds.
    PreparationIsOld,
    /// So many minutes of a waiting time are left.
    MinutesLeft {
        /// How many.
        left: u8,
    },
    /// A waiting time is over.
    TimePassed {
        /// How long it was, in minutes.
        minutes: u8,
        /// What to say.
        confirm: String,
    },
    /// Nobody has said anything for a while.
    StillHere,
    /// A typed line that means nothing here.
    NotUnderstood {
        /// The line.
        typed: String,
    },
    /// The session is paused.
    Paused,
    /// The pause is over.
    Resumed,
    /// Short lines from now on.
    ShortLines,
    /// Full lines from now on.
    FullLines,
    /// The last input is taken back.
    TakenBack,
    /// There is nothing more to take back.
    NothingToTakeBack,
    /// What was asked about is dropped.
    SayAgain,
    /// "No" takes nothing back.
    SayWrong,
    /// Gone back.
    Back,
    /// Left out.
    LeftOut,
    /// That cannot be done before the readings.
    NotYet,
    /// "Next" does not leave a circuit out.
    NotReadYet,
    /// Nothing was read yet.
    NothingReadYet,
    /// A pin has a name from now on.
    Named {
        /// The pin.
        pin: String,
        /// The name.
        name: String,
    },
    /// A name is another circuit's, too long, or cannot be said.
    NameNotTaken {
        /// The name.
        name: String,
    },
    /// No circuit is measured at that pin.
    NoCircuitAt {
        /// The pin.
        pin: String,
    },
    /// The voice has changed.
    LikeThis,
    /// The voice can go no further.
    AtLimit,
    /// The session is left open.
    Stopped,
    /// How far it is.
    Status {
        /// How many were read.
        read: usize,
        /// How many are left.
        left: usize,
    },
    /// Why a circuit has its verdict.
    Why {
        /// The circuit's name.
        circuit: String,
        /// The verdict.
        class: Class,
        /// The resistance, leads taken off.
        resistance: Option<Ohms>,
        /// Its window at this temperature.
        window: Option<Interval<Ohms>>,
        /// Whether it differs clearly from the circuits that should read like it.
        unlike: bool,
    },
    /// A circuit that was not judged.
    WhyNotJudged {
        /// The circuit's name.
        circuit: String,
    },
    /// The verdict engine refuses these readings.
    Refused {
        /// What it says.
        why: String,
    },
    /// Why a station is offered.
    OfferWhy {
        /// What the verdict engine says.
        why: Saying<NextWhy>,
    },
    /// What was read at a pin: the read-back follows.
    WhatWas {
        /// The pin.
        pin: String,
        /// The circuit's name.
        circuit: String,
    },
    /// Nothing was read at a pin.
    PinNotRead {
        /// The pin.
        pin: String,
    },
    /// No circuit is suspect so far.
    NoneStandsOut,
    /// Nothing can be compared yet.
    NothingToCompare,
    /// Where a pin is.
    WhereIs {
        /// The pin.
        pin: String,
        /// The place, in words.
        place: Option<String>,
    },
    /// No pin is waited for.
    NoPinIsWaiting,
    /// What an earlier session read here.
    LastTime {
        /// The circuit's name.
        circuit: String,
        /// What the meter showed then, leads included.
        reading: Reading,
        /// The year of that session.
        year: String,
        /// Its month.
        month: u8,
        /// Its day.
        day: u8,
        /// Whether it is known to have been this very part.
        same_part: bool,
    },
    /// An earlier session did not read it here.
    NotReadLastTime {
        /// The circuit's name.
        circuit: String,
        /// The year of that session.
        year: String,
        /// Its month.
        month: u8,
        /// Its day.
        day: u8,
        /// Whether it is known to have been this very part.
        same_part: bool,
    },
    /// There is no earlier session.
    FirstTime,
    /// No history was made yet.
    NoHistory,
    /// The history cannot be used.
    HistoryTrouble {
        /// What is wrong with it.
        why: String,
    },
}

/// What may be said now.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Help {
    /// At a gate.
    Gate {
        /// Its phrase.
        confirm: String,
    },
    /// At the temperature.
    Temperature,
    /// At a gate of a station.
    StationGate,
    /// At a question of yes or no.
    YesOrNo,
    /// At the number of a code.
    CodeNumber,
    /// With everything read.
    AllRead,
    /// At a reading.
    Reading,
}
