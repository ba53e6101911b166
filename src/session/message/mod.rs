//! Owns what a session says, as values: which line it is, with its arguments. The words are made of it elsewhere.
//!
//! A message is kept in the journal beside the line that was said, so that whoever reads the journal needs no language.

mod concluded;
mod info;
mod prepared;
mod prompt;
mod question;
mod readback;

pub use concluded::Concluded;
pub use info::{Help, Info};
pub use prepared::Prepared;
pub use prompt::{Aside, Instruction, OwnGate, Probed, Prompt};
pub use question::Question;
pub use readback::{ReadBack, Readout};

use super::cautions::OwnCaution;
use crate::grammar::{Command, Utterance};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A line, or several that are said in one breath.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Message {
    /// What to do now.
    Prompt(Prompt),
    /// What became of something that prepares for measuring: codes, gates, temperature, leads.
    Prepared(Prepared),
    /// A reading said back.
    ReadBack(ReadBack),
    /// A question about what was heard or typed.
    Question(Question),
    /// An answer to a command.
    Info(Info),
    /// What may be said now.
    Help(Help),
    /// A line of the conclusion.
    Concluded(Concluded),
    /// A caution of the profile, in its words.
    Caution(String),
    /// A caution of the program.
    OwnCaution(OwnCaution),
    /// One line and another.
    Then {
        /// Said first.
        first: Box<Message>,
        /// Said after it.
        then: Box<Message>,
    },
}

impl Message {
    /// This, and then another one where there is one.
    #[must_use]
    pub fn then(self, next: Option<Message>) -> Self {
        match next {
            Some(next) => Self::Then { first: Box::new(self), then: Box::new(next) },
            None => self,
        }
    }

    /// The line that ends the message: what is waited for.
    #[must_use]
    pub fn last(&self) -> &Self {
        match self {
            Self::Then { then, .. } => then.last(),
            other => other,
        }
    }

    /// Whether any of its lines fits.
    pub fn any(&self, fits: &impl Fn(&Self) -> bool) -> bool {
        match self {
            Self::Then { first, then } => first.any(fits) || then.any(fits),
            other => fits(other),
        }
    }
}

macro_rules! into_message {
    ($($kind:ident),*) => {$(
        impl From<$kind> for Message {
            fn from(one: $kind) -> Self {
                Self::$kind(one)
            }
        }
    )*};
}
into_message!(Prompt, Prepared, ReadBack, Question, Info, Help, Concluded);

/// Whether an utterance ends the session, so that it has a question of its own.
pub(super) fn ends(utterance: &Utterance) -> bool {
    matches!(utterance, Utterance::Command(Command::Finish | Command::Stop))
}
