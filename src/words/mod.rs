//! Owns the words: makes text of the values that the deciding rooms return, out of the Fluent files of a language.
//!
//! A *message* is a variant of an enum (or a struct) that can be serialised. Its name in the files follows from its
//! type: `Step::CleanTerminal { circuit }` is `step-clean-terminal` with `$circuit`; the one value of a newtype variant
//! is `$it`; a struct `Moment` is `moment`. What stands inside another message is put into words first, so that
//! `$station` is the text of the message `station-…`; `$station-is` is its bare name, to select by. A list `$circuits` is joined as
//! the language joins lists, and `$circuits-count` is how many there are. What is absent is `none`.
//!
//! A message may have attributes: `.spoken`, where it sounds otherwise than it is written, and `.keyed`, for somebody who types
//! everything.
//!
//! Numbers carry the decimal mark of the language: decimals exactly as displayed, computed ones with four figures.
//!
//! It decides nothing: which message is due is settled before it comes here.

pub mod catalogue;
mod figures;
mod files;
mod worded;

pub use files::{Faulty, languages};
pub use worded::{Node, node_of};

use fluent_bundle::{FluentArgs, FluentResource, FluentValue, concurrent::FluentBundle};
use serde::Serialize;
use std::path::Path;

/// The language that every other falls back on.
pub const FIRST_LANGUAGE: &str = "en";

/// All that is said and shown, in one language.
pub struct Words {
    language: String,
    /// The language's own messages, then those of the first language.
    bundles: Vec<FluentBundle<FluentResource>>,
    decimal_mark: String,
    keys_alone: bool,
}

impl std::fmt::Debug for Words {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Words").field("language", &self.language).finish_non_exhaustive()
    }
}

impl Words {
    /// A language that comes with the program, by its tag (`en`, `de`).
    ///
    /// # Errors
    /// [`Faulty`] when there is no such language, or one of its files cannot be read as Fluent.
    pub fn builtin(language: &str) -> Result<Self, Faulty> {
        let own = files::builtin(language)?;
        let first = if language == FIRST_LANGUAGE { Vec::new() } else { files::builtin(FIRST_LANGUAGE)? };
        Self::of(language, own, first)
    }

    /// The first language. It comes with the program and is read by its tests.
    #[must_use]
    pub fn english() -> Self {
        Self::builtin(FIRST_LANGUAGE).expect("the first language is part of the program")
    }

    /// A language from a folder with Fluent files; what it lacks is taken from the first language. The folder's name
    /// is the language's tag.
    ///
    /// # Errors
    /// [`Faulty`] for a folder or file that cannot be read, or whose name is no language tag.
    pub fn load(folder: &Path) -> Result<Self, Faulty> {
        let language = folder.file_name().map(|name| name.to_string_lossy().into_owned()).unwrap_or_default();
        Self::of(&language, files::in_folder(folder)?, files::builtin(FIRST_LANGUAGE)?)
    }

    fn of(language: &str, own: Vec<files::Source>, first: Vec<files::Source>) -> Result<Self, Faulty> {
        let mut bundles = vec![files::bundle(language, &own)?];
        if !first.is_empty() {
            bundles.push(files::bundle(FIRST_LANGUAGE, &first)?);
        }
        let mut words =
            Self { language: language.to_owned(), bundles, decimal_mark: ".".to_owned(), keys_alone: false };
        if words.has("decimal-mark") {
            words.decimal_mark = words.message("decimal-mark", &FluentArgs::new(), false);
        }
        Ok(words)
    }

    /// The same for somebody who types everything: the attribute `.keyed` of a message goes before its text.
    #[must_use]
    pub fn for_keys_alone(self, keys_alone: bool) -> Self {
        Self { keys_alone, ..self }
    }

    /// The language's tag.
    #[must_use]
    pub fn language(&self) -> &str {
        &self.language
    }

    /// The sign between whole and fraction.
    #[must_use]
    pub fn decimal_mark(&self) -> &str {
        &self.decimal_mark
    }

    /// A value as it is written.
    #[must_use]
    pub fn text<T: Serialize + ?Sized>(&self, value: &T) -> String {
        self.render(&node_of(value), false)
    }

    /// A value as it is spoken: the attribute `.spoken` of its message where it has one, else as written.
    #[must_use]
    pub fn spoken<T: Serialize + ?Sized>(&self, value: &T) -> String {
        self.render(&node_of(value), true)
    }

    /// As [`Words::text`], with a capital letter in front: a value that opens a sentence.
    #[must_use]
    pub fn sentence<T: Serialize + ?Sized>(&self, value: &T) -> String {
        capital(&self.text(value))
    }

    /// Whether the language, or the first one, has that message.
    #[must_use]
    pub fn has(&self, id: &str) -> bool {
        self.bundles.iter().any(|bundle| bundle.has_message(id))
    }

    /// A node of values as text.
    #[must_use]
    pub fn render(&self, node: &Node, spoken: bool) -> String {
        match node {
            Node::Text(text) => text.clone(),
            Node::Whole(number) => number.to_string(),
            Node::Number(number) => self.marked(&figures::figures(*number)),
            Node::Decimal(text) => self.marked(text),
            Node::Flag(flag) => flag.to_string(),
            Node::Absent => "none".to_owned(),
            Node::List(parts) => {
                self.join(&parts.iter().map(|part| self.render(part, spoken)).collect::<Vec<_>>())
            }
            Node::Message { id, fields, .. } => self.message(id, &self.arguments(fields, spoken), spoken),
        }
    }

    /// Several texts joined as the language joins a list.
    #[must_use]
    pub fn join(&self, parts: &[String]) -> String {
        let pair = |id: &str, first: &str, second: &str| {
            let mut args = FluentArgs::new();
            args.set("first", first.to_owned());
            args.set("second", second.to_owned());
            self.message(id, &args, false)
        };
        match parts {
            [] => String::new(),
            [one] => one.clone(),
            [most @ .., last] => {
                let most = most
                    .iter()
                    .skip(1)
                    .fold(most[0].clone(), |so_far, next| pair("list-more", &so_far, next));
                pair("list-last", &most, last)
            }
        }
    }

    fn arguments(&self, fields: &[(String, Node)], spoken: bool) -> FluentArgs<'static> {
        let mut args = FluentArgs::new();
        for (name, node) in fields {
            match node {
                Node::Whole(number) => args.set(name.clone(), FluentValue::from(*number)),
                Node::Message { is, .. } => {
                    args.set(format!("{name}-is"), is.clone());
                    args.set(name.clone(), self.render(node, spoken));
                }
                Node::List(parts) => {
                    args.set(format!("{name}-count"), FluentValue::from(parts.len()));
                    args.set(name.clone(), self.render(node, spoken));
                }
                _ => args.set(name.clone(), self.render(node, spoken)),
            }
        }
        args
    }

    /// A message by its name. A name that no file has is shown as it is, in brackets: seen at once, and never a panic.
    fn message(&self, id: &str, args: &FluentArgs<'_>, spoken: bool) -> String {
        for bundle in &self.bundles {
            let Some(message) = bundle.get_message(id) else { continue };
            let named = |name: &str| message.get_attribute(name).map(|one| one.value());
            let keyed = if self.keys_alone { named("keyed") } else { None };
            let attribute = keyed.or_else(|| if spoken { named("spoken") } else { None });
            let Some(pattern) = attribute.or_else(|| message.value()) else { continue };
            let mut faults = Vec::new();
            return bundle.format_pattern(pattern, Some(args), &mut faults).into_owned();
        }
        format!("[{id}]")
    }

    /// A number with a point, its point as the language writes it.
    pub(crate) fn marked(&self, figures: &str) -> String {
        figures.replace('.', &self.decimal_mark)
    }
}

/// The text with a capital letter in front. In the files: `{ CAPITAL($circuit) }`.
pub(crate) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

#[cfg(test)]
mod tests;
