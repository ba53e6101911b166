//! Owns what is said about a file that cannot be used: every fault at once, with line, key and advice.

use miette::{Diagnostic, GraphicalReportHandler, GraphicalTheme, LabeledSpan, NamedSource, SourceCode};
use std::{fmt, ops::Range, path::PathBuf, sync::Arc};

/// What kind of file it is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum What {
    /// A profile: what is known of a part.
    Profile,
    /// A meter file.
    Meter,
}

impl fmt::Display for What {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(match self {
            Self::Profile => "profile",
            Self::Meter => "meter",
        })
    }
}

/// Why a profile or a meter cannot be used. `Display` is one sentence; as a [`Diagnostic`] it shows the places.
#[derive(Debug, thiserror::Error)]
pub enum ProfileError {
    /// The text was read and found faulty.
    #[error(transparent)]
    Faulty(Box<Faults>),
    /// The file cannot be read at all.
    #[error("the {what} {} cannot be read: {source}", .path.display())]
    Unreadable {
        /// What it was to be.
        what: What,
        /// The file.
        path: PathBuf,
        /// What the system says.
        source: std::io::Error,
    },
    /// The file is larger than any profile ([`super::LARGEST`]).
    #[error(
        "the {what} {name} is larger than {} KiB, the most that a {what} may have", super::LARGEST / 1024
    )]
    TooLarge {
        /// What it was to be.
        what: What,
        /// The file or name.
        name: String,
    },
    /// The file is no UTF-8 text.
    #[error("the {what} {name} is no UTF-8 text: line {line} has a byte that UTF-8 does not have")]
    NotText {
        /// What it was to be.
        what: What,
        /// The file or name.
        name: String,
        /// Where the first such byte is, counted from 1.
        line: usize,
    },
    /// The file was found by its name, but what is in it calls itself otherwise.
    #[error("the {what} in {} calls itself \"{id}\", not as its file is called", .path.display())]
    OtherId {
        /// What it was to be.
        what: What,
        /// The file.
        path: PathBuf,
        /// The identifier in it.
        id: String,
    },
    /// There is nothing of that name.
    #[error("there is no {what} \"{name}\"; there is {}", listed(.known))]
    NotFound {
        /// What was looked for.
        what: What,
        /// The name that was asked for.
        name: String,
        /// The names that exist.
        known: Vec<String>,
        /// The one of them that looks most like it.
        nearest: Option<String>,
        /// Where it was looked for, in order.
        looked: Vec<String>,
    },
}

fn listed(known: &[String]) -> String {
    if known.is_empty() { "none at all".to_owned() } else { known.join(", ") }
}

impl Diagnostic for ProfileError {
    fn help<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        let advice = match self {
            Self::Faulty(faults) => return faults.help(),
            Self::Unreadable { .. } => "check the name and whether you may read the file".to_owned(),
            Self::TooLarge { what, .. } => format!("is it a {what} at all? One is a few KiB of TOML text"),
            Self::OtherId { id, .. } => format!("rename the file to {id}.toml, or change `id` in it"),
            Self::NotText { .. } => "save it as UTF-8 in your editor".to_owned(),
            Self::NotFound { nearest, looked, .. } => {
                let nearest = nearest.as_ref().map(|name| format!("did you mean \"{name}\"? "));
                format!(
                    "{}looked in {}; a file elsewhere is named by its path, ending in .toml",
                    nearest.unwrap_or_default(),
                    looked.join(", ")
                )
            }
        };
        Some(Box::new(advice))
    }

    fn source_code(&self) -> Option<&dyn SourceCode> {
        match self {
            Self::Faulty(faults) => faults.source_code(),
            _ => None,
        }
    }

    fn related<'a>(&'a self) -> Option<Box<dyn Iterator<Item = &'a dyn Diagnostic> + 'a>> {
        match self {
            Self::Faulty(faults) => faults.related(),
            _ => None,
        }
    }
}

impl ProfileError {
    /// The faults, where the text was read and found faulty.
    #[must_use]
    pub fn faults(&self) -> Option<&Faults> {
        match self {
            Self::Faulty(faults) => Some(faults),
            _ => None,
        }
    }

    /// The error as shown to a person, without colours, no wider than `width` columns.
    #[must_use]
    pub fn rendered(&self, width: usize) -> String {
        let mut out = String::new();
        let handler = GraphicalReportHandler::new_themed(GraphicalTheme::unicode_nocolor())
            .without_cause_chain()
            .with_width(width)
            .with_links(false);
        if handler.render_report(&mut out, self).is_err() {
            return self.to_string();
        }
        let lines: Vec<&str> = out.lines().map(str::trim_end).collect();
        lines.join("\n") + "\n"
    }
}

/// So many faults are noted; a text with more is no profile that someone mistyped.
const MOST_FAULTS: usize = 200;

/// All faults of one file, in the order of the file. Never empty; where there are more than 200, the first 200 found.
#[derive(Debug, Clone)]
pub struct Faults {
    what: What,
    source: NamedSource<Arc<str>>,
    list: Vec<Fault>,
}

impl Faults {
    /// Sorts the faults and says each only once.
    pub(super) fn new(what: What, name: &str, text: &str, mut list: Vec<Fault>) -> Self {
        list.sort_by(|a, b| (a.span.start, &a.key, &a.message).cmp(&(b.span.start, &b.key, &b.message)));
        list.dedup_by(|a, b| a.span == b.span && a.message == b.message);
        Self { what, source: NamedSource::new(name, Arc::from(harmless(text))), list }
    }

    /// The faults, in the order of the file.
    #[must_use]
    pub fn list(&self) -> &[Fault] {
        &self.list
    }

    /// The file or name that they are about.
    #[must_use]
    pub fn name(&self) -> &str {
        self.source.name()
    }
}

impl fmt::Display for Faults {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "the {} {} cannot be used: ", self.what, self.name())?;
        match self.list.as_slice() {
            [] => write!(f, "it is faulty"),
            [only] => write!(f, "{only}"),
            [first, rest @ ..] => {
                let more = if rest.len() + 1 >= MOST_FAULTS { " or more" } else { "" };
                write!(f, "{} faults{more}, the first in {first}", rest.len() + 1)
            }
        }
    }
}

impl std::error::Error for Faults {}

impl Diagnostic for Faults {
    fn source_code(&self) -> Option<&dyn SourceCode> {
        Some(&self.source)
    }

    fn related<'a>(&'a self) -> Option<Box<dyn Iterator<Item = &'a dyn Diagnostic> + 'a>> {
        Some(Box::new(self.list.iter().map(|fault| fault as &dyn Diagnostic)))
    }
}

/// One fault: what is wrong where, and what to do about it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// The line, counted from 1.
    pub line: usize,
    /// The key, by the way that leads to it (`circuit[coil-c].window.low_ohm`); empty for the file as a whole.
    pub key: String,
    /// What is wrong.
    pub message: String,
    /// What to do.
    pub advice: Option<String>,
    span: Range<usize>,
    also: Vec<(Range<usize>, String)>,
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "line {}", self.line)?;
        if !self.key.is_empty() {
            write!(f, ", {}", self.key)?;
        }
        write!(f, ": {}", self.message)
    }
}

impl std::error::Error for Fault {}

impl Diagnostic for Fault {
    fn help<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        self.advice.as_ref().map(|advice| Box::new(advice) as Box<dyn fmt::Display>)
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        let here = LabeledSpan::new_primary_with_span(Some("here".to_owned()), self.span.clone());
        let also =
            self.also.iter().map(|(span, text)| LabeledSpan::new_with_span(Some(text.clone()), span.clone()));
        Some(Box::new(std::iter::once(here).chain(also)))
    }
}

/// The text without control characters that a terminal would obey; every byte keeps its place.
fn harmless(text: &str) -> String {
    let keep = |c: char| c == '\n' || c == '\r' || c == '\t' || !c.is_control();
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        if keep(c) { out.push(c) } else { (0..c.len_utf8()).for_each(|_| out.push('?')) }
    }
    out
}

/// A place in the text: where it stands and which key leads there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Spot {
    /// Byte range in the text.
    pub(super) span: Range<usize>,
    /// As in [`Fault::key`].
    pub(super) key: String,
}

/// Collects faults while a text is read and checked.
#[derive(Debug)]
pub(super) struct Found<'t> {
    text: &'t str,
    /// The language that texts are taken in where a file has several.
    pub(super) language: &'t str,
    list: Vec<Fault>,
    /// Which keys may stand where, as far as the reading came: what the format reference is compared with.
    #[cfg(test)]
    pub(super) known: std::collections::BTreeMap<String, Vec<&'static str>>,
}

impl<'t> Found<'t> {
    pub(super) fn new(text: &'t str, language: &'t str) -> Self {
        Self {
            text,
            language,
            list: Vec::new(),
            #[cfg(test)]
            known: std::collections::BTreeMap::new(),
        }
    }

    /// Notes a fault.
    pub(super) fn add(&mut self, spot: &Spot, message: impl Into<String>, advice: impl Into<String>) {
        self.put(spot, message.into(), advice.into(), Vec::new());
    }

    /// Notes a fault that a second place has a part in.
    pub(super) fn add_with(
        &mut self,
        spot: &Spot,
        message: impl Into<String>,
        advice: impl Into<String>,
        also: (&Spot, &str),
    ) {
        self.put(spot, message.into(), advice.into(), vec![(also.0.span.clone(), also.1.to_owned())]);
    }

    fn put(&mut self, spot: &Spot, message: String, advice: String, also: Vec<(Range<usize>, String)>) {
        if self.is_full() {
            return;
        }
        let start = spot.span.start.min(self.text.len());
        let line = 1 + self.text.as_bytes()[..start].iter().filter(|byte| **byte == b'\n').count();
        let (message, advice) = (harmless(&message), harmless(&advice));
        let advice = (!advice.is_empty()).then_some(advice);
        self.list.push(Fault {
            line,
            key: harmless(&spot.key),
            message,
            advice,
            span: spot.span.clone(),
            also,
        });
    }

    /// Whether nothing more is noted.
    pub(super) fn is_full(&self) -> bool {
        self.list.len() >= MOST_FAULTS
    }

    /// Takes back what was noted at exactly that key.
    pub(super) fn retract(&mut self, key: &str) {
        self.list.retain(|fault| fault.key != key);
    }

    /// Whether something was noted already at that key or below it: what follows from it is not said again.
    pub(super) fn has_below(&self, key: &str) -> bool {
        self.list.iter().any(|fault| {
            fault.key.strip_prefix(key).is_some_and(|rest| rest.is_empty() || rest.starts_with(['.', '[']))
        })
    }

    pub(super) fn into_list(self) -> Vec<Fault> {
        self.list
    }
}
