//! Owns the grammar files as written: strict reading of the TOML, with file, line and key for every fault.

use super::OwnPhrase;
use crate::quantity::{Prefix, Unit};
use serde::{Deserialize, de::DeserializeOwned};
use std::{collections::BTreeMap, fmt, path::PathBuf};
use toml::Spanned;

/// A word or phrase with its place in the file.
pub(super) type Text = Spanned<String>;

/// `numbers.toml`.
#[derive(Debug, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(super) struct Numbers {
    pub build: Build,
    pub digits: Spanned<Vec<Vec<Text>>>,
    pub teens: Spanned<Vec<Vec<Text>>>,
    pub tens: Spanned<Vec<Vec<Text>>>,
    pub hundred: Vec<Text>,
    pub thousand: Vec<Text>,
    pub million: Vec<Text>,
    pub point: Vec<Text>,
    pub minus: Vec<Text>,
    pub and: Vec<Text>,
    pub article: Vec<Text>,
    pub half: Vec<Text>,
    pub double: Vec<Text>,
    pub triple: Vec<Text>,
    pub seldom: Vec<Text>,
    pub fillers: Vec<Text>,
    pub corrections: Vec<Text>,
    pub weak_corrections: Vec<Text>,
    #[serde(default)]
    pub stands_for: BTreeMap<Text, Text>,
    pub sounds_like: BTreeMap<Text, Text>,
    pub letters: BTreeMap<Text, Vec<Text>>,
    pub prefix: Vec<PrefixWords>,
    pub unit: Vec<UnitWords>,
}

/// Which of the two comes first in 21 to 99.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(super) enum Order {
    /// "thirty two"
    TensUnits,
    /// "two and thirty"
    UnitsAndTens,
}

/// How numbers are put together from their words.
#[derive(Debug, Clone, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(super) struct Build {
    /// The order in 21 to 99.
    pub order: Order,
    /// Whether a number below a million is written as one word.
    pub one_word: bool,
    /// Whether "and" stands between a hundred or thousand and what is less than a hundred.
    pub and_after_scale: bool,
    /// The word for one within a larger number ("ein" in "einhundert"); else as by itself.
    #[serde(default)]
    pub one_within: Option<String>,
    /// The word for one before a million.
    #[serde(default)]
    pub one_million: Option<String>,
    /// The word for one before a unit.
    #[serde(default)]
    pub one_unit: Option<String>,
}

/// Words of a prefix that may stand alone.
#[derive(Debug, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(super) struct PrefixWords {
    pub prefix: Prefix,
    pub words: Vec<Text>,
}

/// Words of a unit.
#[derive(Debug, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(super) struct UnitWords {
    pub unit: Unit,
    pub words: Vec<Text>,
    #[serde(default)]
    pub with: BTreeMap<Prefix, Vec<Text>>,
    #[serde(default)]
    pub then: Vec<Text>,
}

/// `states.toml`.
#[derive(Debug, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(super) struct States {
    pub not_taken: String,
    pub over_range: State,
    pub unstable: State,
}

/// How a state of the display is said.
#[derive(Debug, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(super) struct State {
    pub card: String,
    pub phrases: Vec<Text>,
    #[serde(default)]
    pub also: Vec<Text>,
}

/// `commands.toml`.
#[derive(Debug, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(super) struct Commands {
    pub card: CardWords,
    pub phrase: BTreeMap<OwnPhrase, Text>,
    pub command: Vec<CommandWords>,
}

/// Headings of the printed page.
#[derive(Debug, Clone, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(super) struct CardWords {
    pub title: String,
    pub readings: String,
    pub correction: String,
    pub commands: String,
    pub confirmations: String,
}

/// How a command is said.
#[derive(Debug, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub(super) struct CommandWords {
    pub does: Spanned<Does>,
    pub card: String,
    pub phrases: Vec<Text>,
    #[serde(default)]
    pub also: Vec<Text>,
}

macro_rules! does {
    ($($name:ident),* $(,)?) => {
        /// What a command does; the names used in `commands.toml`.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Deserialize)]
        #[serde(rename_all = "kebab-case")]
        pub(super) enum Does { $($name),* }
        impl Does {
            pub(super) const ALL: &[Self] = &[$(Self::$name),*];
        }
    };
}
does! {
    Next, Back, Repeat, Wrong, Change, Skip, Pause, Resume, Finish, Stop, Yes, No, Help, Status, Why, WhatWas, Worst, LastTime,
    WhereIs, Wake, TalkLess, TalkMore, KeepListening, PushToTalk, Louder, Quieter, Faster, Slower, ZeroLeads,
    TakeIt,
}

/// One fault of a grammar file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// The file, as it was opened.
    pub file: String,
    /// The line, from 1. Zero where the whole file is meant.
    pub line: usize,
    /// The key, where one can be named (`digits`, `command.back`).
    pub key: String,
    /// What is wrong and what to do.
    pub message: String,
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.file)?;
        if self.line > 0 {
            write!(f, ":{}", self.line)?;
        }
        if !self.key.is_empty() {
            write!(f, ": {}", self.key)?;
        }
        write!(f, ": {}", self.message)
    }
}

/// Why a grammar cannot be used.
#[derive(Debug, thiserror::Error, miette::Diagnostic)]
pub enum GrammarError {
    /// No grammar of that language is built in.
    #[error(
        "no grammar \"{0}\" is built in (there are: {list}); give a folder with numbers.toml, states.toml, commands.toml",
        list = super::LANGUAGES.join(", ")
    )]
    NoSuchLanguage(String),
    /// A file of the folder cannot be read.
    #[error("cannot read {}: {source}; a grammar folder needs numbers.toml, states.toml and commands.toml", path.display())]
    Unreadable {
        /// The file.
        path: PathBuf,
        /// Why.
        source: std::io::Error,
    },
    /// The files were read but are not right; every fault found is listed.
    #[error("the grammar cannot be used:\n{}", .0.iter().map(|fault| format!("  {fault}")).collect::<Vec<_>>().join("\n"))]
    Faulty(Vec<Fault>),
}

/// A file with its name, to turn places into lines.
#[derive(Debug, Clone, Copy)]
pub(super) struct Source<'a> {
    pub file: &'a str,
    pub text: &'a str,
}

impl Source<'_> {
    /// A fault at a byte of the file.
    pub(super) fn fault(&self, at: usize, key: &str, message: impl Into<String>) -> Fault {
        let line = 1 + self.text.bytes().take(at).filter(|byte| *byte == b'\n').count();
        Fault { file: self.file.to_owned(), line, key: key.to_owned(), message: message.into() }
    }

    /// Reads the file; unknown keys and wrong types are faults with their line.
    pub(super) fn read<T: DeserializeOwned>(&self) -> Result<T, Fault> {
        toml::from_str(self.text).map_err(|error| match error.span() {
            Some(span) => self.fault(span.start, "", error.message()),
            None => Fault { line: 0, ..self.fault(0, "", error.message()) },
        })
    }
}
