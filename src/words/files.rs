//! Owns the Fluent files: those that come with the program, those of a folder, and what is wrong with one.

use fluent_bundle::{FluentResource, FluentValue, concurrent::FluentBundle};
use std::path::Path;
use unic_langid::LanguageIdentifier;

/// A file's name and text, for each language that comes with the program. Made by the build script from `grammars/`.
type BuiltIn = (&'static str, &'static [(&'static str, &'static str)]);

include!(concat!(env!("OUT_DIR"), "/fluent_files.rs"));

/// One Fluent file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Source {
    /// Its name, for people.
    pub file: String,
    /// Its text.
    pub text: String,
}

/// Why a language cannot be used.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Faulty {
    /// None of that name comes with the program.
    #[error("no language \"{language}\" comes with the program; there are: {known}", known = .known.join(", "))]
    NoSuchLanguage {
        /// What was asked for.
        language: String,
        /// Those that there are.
        known: Vec<String>,
    },
    /// The name is no language tag.
    #[error("\"{0}\" is no language tag such as en or pt-BR")]
    NoTag(String),
    /// A folder or file could not be read.
    #[error("{file}: {why}")]
    Unreadable {
        /// Which.
        file: String,
        /// What the system said.
        why: String,
    },
    /// A file is not Fluent, or says a message twice.
    #[error("{file}:{line}: {why}")]
    Syntax {
        /// Which.
        file: String,
        /// Where.
        line: usize,
        /// What is wrong.
        why: String,
    },
}

/// The languages that come with the program, by their tags.
#[must_use]
pub fn languages() -> Vec<&'static str> {
    LANGUAGES.iter().map(|(language, _)| *language).collect()
}

/// The files of a language that comes with the program.
pub(super) fn builtin(language: &str) -> Result<Vec<Source>, Faulty> {
    let found = LANGUAGES.iter().find(|(known, _)| *known == language);
    let (_, files) = found.ok_or_else(|| Faulty::NoSuchLanguage {
        language: language.to_owned(),
        known: languages().into_iter().map(str::to_owned).collect(),
    })?;
    let source = |&(name, text): &(&str, &str)| Source {
        file: format!("grammars/{language}/{name}"),
        text: text.to_owned(),
    };
    Ok(files.iter().map(source).collect())
}

/// The Fluent files of a folder, sorted by name.
pub(super) fn in_folder(folder: &Path) -> Result<Vec<Source>, Faulty> {
    let unreadable = |path: &Path, fault: std::io::Error| Faulty::Unreadable {
        file: path.display().to_string(),
        why: fault.to_string(),
    };
    let mut paths = Vec::new();
    for entry in std::fs::read_dir(folder).map_err(|fault| unreadable(folder, fault))? {
        let path = entry.map_err(|fault| unreadable(folder, fault))?.path();
        if path.extension().is_some_and(|kind| kind == "ftl") {
            paths.push(path);
        }
    }
    paths.sort();
    let read = |path: std::path::PathBuf| match std::fs::read_to_string(&path) {
        Ok(text) => Ok(Source { file: path.display().to_string(), text }),
        Err(fault) => Err(unreadable(&path, fault)),
    };
    paths.into_iter().map(read).collect()
}

/// The line of a place in a text, from 1.
pub(super) fn line_of(text: &str, at: usize) -> usize {
    text.as_bytes().iter().take(at).filter(|byte| **byte == b'\n').count() + 1
}

/// All files of a language in one bundle.
pub(super) fn bundle(language: &str, files: &[Source]) -> Result<FluentBundle<FluentResource>, Faulty> {
    let tag: LanguageIdentifier = language.parse().map_err(|_| Faulty::NoTag(language.to_owned()))?;
    let mut bundle = FluentBundle::new_concurrent(vec![tag]);
    // Marks around what is put in would be read aloud by some voices and seen in plain terminals.
    bundle.set_use_isolating(false);
    bundle
        .add_function("CAPITAL", |texts, _| match texts.first() {
            Some(FluentValue::String(text)) => FluentValue::String(super::capital(text).into()),
            Some(other) => other.clone(),
            None => FluentValue::Error,
        })
        .map_err(|_| Faulty::NoTag(language.to_owned()))?;
    for source in files {
        let resource = FluentResource::try_new(source.text.clone()).map_err(|(_, faults)| {
            let first = faults.first();
            Faulty::Syntax {
                file: source.file.clone(),
                line: first.map_or(1, |fault| line_of(&source.text, fault.pos.start)),
                why: first.map_or_else(|| "not Fluent".to_owned(), ToString::to_string),
            }
        })?;
        bundle.add_resource(resource).map_err(|faults| {
            let why = faults.first().map_or_else(String::new, ToString::to_string);
            let name = why.split('"').nth(1).unwrap_or_default().to_owned();
            let at = source.text.find(&format!("{name} =")).unwrap_or_default();
            Faulty::Syntax { file: source.file.clone(), line: line_of(&source.text, at), why }
        })?;
    }
    Ok(bundle)
}
