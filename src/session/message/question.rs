//! Owns the questions: about what was heard, what was typed, and whether to end.

use crate::quantity::{Decimal, Shown};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A question. What may have been meant is put in the words of the grammar, so that it can be said back.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Question {
    /// Was that meant?
    Confirm {
        /// What may have been meant.
        meant: String,
    },
    /// Said behind a question whose answer was not clear.
    YesOrNo,
    /// Which was meant?
    Which {
        /// What may have been meant.
        first: String,
        /// What else.
        second: String,
    },
    /// "Yes" to a question of two.
    SayWhich {
        /// What may have been meant.
        first: String,
        /// What else.
        second: String,
    },
    /// Say it digit by digit.
    DigitByDigit,
    /// Say it in other words.
    OtherWords,
    /// Voice does not do it: the keys.
    UseKeys,
    /// The keys for a question of yes and no.
    YesNoByKeys,
    /// Finish now?
    FinishNow {
        /// How many circuits are not read yet.
        left: usize,
    },
    /// Finish now, everything being read?
    FinishAllRead,
    /// Stop now?
    StopNow,
    /// A gate's phrase was not heard clearly.
    PhraseAgain {
        /// The phrase.
        confirm: String,
    },
    /// A gate's phrase was not heard clearly again.
    PhraseOrKeys {
        /// The phrase.
        confirm: String,
        /// What is typed in its place.
        code: String,
    },
    /// A gate's phrase is not heard: its number is typed.
    TypeCode {
        /// What is typed.
        code: String,
    },
    /// Nothing that may be said was heard.
    Again,
    /// Nothing that may be said was heard, a second time.
    AgainOrKeys,
    /// A value in volts or amperes.
    NotOhms,
    /// A value below zero.
    BelowZero,
    /// More than the meter's highest range.
    MoreThanMeterShows {
        /// What was said.
        shown: Shown,
    },
    /// More places than the display has.
    MorePlacesThanMeterShows {
        /// What was said.
        number: Decimal,
    },
    /// A reading is less than the leads alone.
    LessThanLeads {
        /// What the leads read.
        leads: Decimal,
    },
}
