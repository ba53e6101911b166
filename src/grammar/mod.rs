//! Owns what may be said: words to [`Utterance`], values to spoken words, and the list of phrases for the recogniser.
//!
#![doc = include_str!("SPEC.md")]

mod card;
mod check;
mod context;
mod entry;
mod follow;
mod lexicon;
mod number;
mod parse;
mod phrases;
mod say;
mod source;
mod tokens;
pub mod utterance;
mod ways;

pub use context::Context;
pub use source::{Fault, GrammarError};
pub use utterance::*;

use lexicon::Lexicon;
use source::Source;
use std::{path::Path, sync::OnceLock};

/// Languages whose grammar comes with the program.
pub const LANGUAGES: [&str; 2] = ["en", "de"];

/// What may be said in one language, read from its three files and checked.
#[derive(Debug, Clone)]
pub struct Grammar {
    language: String,
    lexicon: Lexicon,
    /// Drawn once: they do not depend on the context.
    number_phrases: OnceLock<Vec<String>>,
    entry_phrases: OnceLock<Vec<String>>,
}

impl Grammar {
    /// The grammar of a language that comes with the program.
    ///
    /// # Errors
    /// [`GrammarError::NoSuchLanguage`] for any but [`LANGUAGES`].
    pub fn builtin(language: &str) -> Result<Self, GrammarError> {
        macro_rules! file {
            ($language:literal, $name:literal) => {
                Source {
                    file: concat!("grammars/", $language, "/", $name),
                    text: include_str!(concat!("../../grammars/", $language, "/", $name)),
                }
            };
        }
        macro_rules! files {
            ($language:literal) => {
                Self::read(
                    $language,
                    file!($language, "numbers.toml"),
                    file!($language, "states.toml"),
                    file!($language, "commands.toml"),
                )
            };
        }
        match language {
            "en" => files!("en"),
            "de" => files!("de"),
            _ => Err(GrammarError::NoSuchLanguage(language.to_owned())),
        }
    }

    /// The grammar in a folder: `numbers.toml`, `states.toml`, `commands.toml`.
    ///
    /// # Errors
    /// A file that cannot be read, or all the faults in them with file, line and key.
    pub fn load(folder: &Path) -> Result<Self, GrammarError> {
        let read = |name: &str| {
            let path = folder.join(name);
            match std::fs::read_to_string(&path) {
                Ok(text) => Ok((path.display().to_string(), text)),
                Err(source) => Err(GrammarError::Unreadable { path, source }),
            }
        };
        let [numbers, states, commands] =
            [read("numbers.toml")?, read("states.toml")?, read("commands.toml")?];
        let source = |(file, text)| Source { file, text };
        let language = folder.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
        Self::read(
            &language,
            source((&numbers.0, &numbers.1)),
            source((&states.0, &states.1)),
            source((&commands.0, &commands.1)),
        )
    }

    /// A phrase that the session waits for, in this language.
    #[must_use]
    pub fn own_phrase(&self, phrase: OwnPhrase) -> &str {
        self.lexicon.own_phrases.get(&phrase).map_or("", String::as_str)
    }

    /// The language's tag; of a folder its name.
    #[must_use]
    pub fn language(&self) -> &str {
        &self.language
    }

    fn read(language: &str, numbers: Source, states: Source, commands: Source) -> Result<Self, GrammarError> {
        let lexicon = Lexicon::read(numbers, states, commands).map_err(GrammarError::Faulty)?;
        Ok(Self {
            language: language.to_owned(),
            lexicon,
            number_phrases: OnceLock::new(),
            entry_phrases: OnceLock::new(),
        })
    }
}

#[cfg(test)]
mod check_tests;
#[cfg(test)]
mod german_tests;
#[cfg(test)]
mod tests;
