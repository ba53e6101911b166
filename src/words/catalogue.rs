//! Owns the list of all messages that there are, taken from the types themselves, and what files lack beside it.

use super::{
    files::{self, Faulty, Source, line_of},
    worded::{kebab, kebab_key},
};
use fluent_syntax::ast;
use schemars::{
    JsonSchema,
    generate::{SchemaGenerator, SchemaSettings},
};
use serde_json::Value;
use std::{
    collections::{BTreeMap, BTreeSet},
    fmt,
    path::Path,
};

/// One message that the program may say.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Entry {
    /// Its name in the files.
    pub id: String,
    /// The names of its arguments, without the dollar sign.
    pub arguments: BTreeSet<String>,
}

/// What is wrong with a language's files beside the messages that there are.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Fault {
    /// A message that no file has.
    Missing {
        /// The language.
        language: String,
        /// The message.
        entry: Entry,
    },
    /// A message that nothing says.
    Superfluous {
        /// The file.
        file: String,
        /// The line, from 1.
        line: usize,
        /// The message.
        id: String,
    },
    /// An argument that the message does not have.
    Argument {
        /// The file.
        file: String,
        /// The line of the message, from 1.
        line: usize,
        /// The argument.
        argument: String,
        /// The message as it is.
        entry: Entry,
    },
}

fn listed(arguments: &BTreeSet<String>) -> String {
    match arguments.len() {
        0 => "none".to_owned(),
        _ => arguments.iter().map(|name| format!("${name}")).collect::<Vec<_>>().join(", "),
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Missing { language, entry } => {
                write!(f, "{language}: {} is missing (arguments: {})", entry.id, listed(&entry.arguments))
            }
            Self::Superfluous { file, line, id } => write!(f, "{file}:{line}: nothing says {id}"),
            Self::Argument { file, line, argument, entry } => write!(
                f,
                "{file}:{line}: {} has no argument ${argument}; it has {}",
                entry.id,
                listed(&entry.arguments)
            ),
        }
    }
}

/// Messages that the words room itself asks for.
const OWN: [&str; 3] = ["decimal-mark", "list-more", "list-last"];

/// A generator for [`of`].
#[must_use]
pub fn generator() -> SchemaGenerator {
    SchemaSettings::draft2020_12().into_generator()
}

/// All messages that the program may say.
#[must_use]
pub fn all() -> Vec<Entry> {
    let mut generator = generator();
    register(&mut generator);
    of(&generator)
}

/// Every type that is put into words, the outermost ones; what stands in them follows by itself.
fn register(generator: &mut SchemaGenerator) {
    fn worded<T: JsonSchema>(generator: &mut SchemaGenerator) {
        generator.subschema_for::<T>();
    }
    worded::<crate::quantity::Reading>(generator);
    worded::<crate::quantity::Interval<crate::quantity::Ohms>>(generator);
    worded::<crate::quantity::Celsius>(generator);
    worded::<crate::quantity::Volts>(generator);
    worded::<crate::quantity::Amperes>(generator);
    worded::<crate::quantity::Kelvin>(generator);
    worded::<crate::session::Message>(generator);
    worded::<crate::session::message::Aside>(generator);
    worded::<crate::session::PhraseClash>(generator);
    worded::<crate::profile::ProfileDoubt>(generator);
    worded::<crate::report::said::Heading>(generator);
    worded::<crate::report::said::Name>(generator);
    worded::<crate::report::Stamp>(generator);
    worded::<crate::report::ReadingRemark>(generator);
    worded::<crate::report::Noted>(generator);
    worded::<crate::report::said::Share>(generator);
    worded::<crate::report::said::Sort>(generator);
    worded::<crate::report::said::PinWord>(generator);
    worded::<crate::report::said::Sentence>(generator);
    worded::<crate::report::NoSound>(generator);
    worded::<crate::verdict::Leads>(generator);
    worded::<crate::verdict::Cause>(generator);
    worded::<crate::verdict::PatternKind>(generator);
    worded::<crate::verdict::About>(generator);
    worded::<crate::verdict::StepName>(generator);
    worded::<crate::verdict::Derived>(generator);
    worded::<crate::verdict::FindingNote>(generator);
    worded::<crate::verdict::OutlierTest>(generator);
    worded::<crate::verdict::Observation>(generator);
    worded::<crate::report::explain::Explained>(generator);
    worded::<crate::verdict::Headline>(generator);
    worded::<crate::verdict::Grounds>(generator);
    worded::<crate::verdict::Together>(generator);
    worded::<crate::verdict::NotExcluded>(generator);
    worded::<crate::verdict::Caveat>(generator);
    worded::<crate::verdict::NextStep>(generator);
    worded::<crate::verdict::NextWhy>(generator);
    worded::<crate::live::Device>(generator);
    worded::<crate::scpi::MeterTrouble>(generator);
    worded::<crate::screen::Label>(generator);
    worded::<crate::screen::Who>(generator);
    worded::<crate::settings::places::Located>(generator);
    worded::<crate::making::NewPart>(generator);
    worded::<crate::making::TableFault>(generator);
    worded::<crate::simulate::BenchLine>(generator);
    worded::<crate::journal::Proof>(generator);
    worded::<crate::report::JudgedLine>(generator);
    worded::<crate::report::Difference>(generator);
    worded::<crate::cli::Told>(generator);
    worded::<crate::speak::Symbol>(generator);
    worded::<crate::start::StartQuestion>(generator);
    worded::<crate::start::StartLine>(generator);
    worded::<crate::start::StartNote>(generator);
    worded::<crate::start::Ready>(generator);
    worded::<crate::speak::VoiceTrouble>(generator);
}

/// The messages of all types that a generator was shown.
#[must_use]
pub fn of(generator: &SchemaGenerator) -> Vec<Entry> {
    let mut entries = BTreeMap::new();
    for (name, schema) in generator.definitions() {
        let name = kebab(name);
        let mut add = |id: String, arguments: BTreeSet<String>| {
            entries.insert(id, arguments);
        };
        for schema in schema.get("oneOf").and_then(Value::as_array).map_or_else(Vec::new, Clone::clone) {
            variants(&name, &schema, &mut add);
        }
        match schema.get("type").and_then(Value::as_str) {
            Some("string") => variants(&name, schema, &mut add),
            Some("object") if schema.get("properties").is_some() => add(name.clone(), keys(schema)),
            // A named number: a quantity with its unit.
            Some("number" | "integer") => add(name.clone(), BTreeSet::from(["it".to_owned()])),
            _ => {}
        }
    }
    entries.into_iter().map(|(id, arguments)| Entry { id, arguments }).collect()
}

/// The variants that one part of an enum's schema describes.
fn variants(name: &str, schema: &Value, add: &mut impl FnMut(String, BTreeSet<String>)) {
    let unit = schema.get("enum").and_then(Value::as_array).into_iter().flatten().chain(schema.get("const"));
    for variant in unit.filter_map(Value::as_str) {
        add(format!("{name}-{variant}"), BTreeSet::new());
    }
    let properties = schema.get("properties").and_then(Value::as_object);
    for (variant, inner) in properties.into_iter().flatten() {
        let arguments = if inner.get("properties").is_some() {
            keys(inner)
        } else if let Some(several) = inner.get("prefixItems").and_then(Value::as_array) {
            ["first", "second", "third", "fourth", "fifth"]
                .into_iter()
                .take(several.len())
                .map(str::to_owned)
                .collect()
        } else if inner.get("type").and_then(Value::as_str) == Some("object") && inner.get("$ref").is_none() {
            BTreeSet::new()
        } else {
            BTreeSet::from(["it".to_owned()])
        };
        add(format!("{name}-{variant}"), arguments);
    }
}

fn keys(schema: &Value) -> BTreeSet<String> {
    let properties = schema.get("properties").and_then(Value::as_object);
    properties.into_iter().flatten().map(|(key, _)| kebab_key(key)).collect()
}

/// What a language that comes with the program lacks, or has too much.
///
/// # Errors
/// [`Faulty`] when there is no such language.
pub fn faults(language: &str) -> Result<Vec<Fault>, Faulty> {
    Ok(compare(&all(), language, &files::builtin(language)?))
}

/// The same for a language in a folder.
///
/// # Errors
/// [`Faulty`] for what cannot be read.
pub fn faults_in(folder: &Path) -> Result<Vec<Fault>, Faulty> {
    Ok(compare(&all(), &folder.display().to_string(), &files::in_folder(folder)?))
}

/// The files of a language beside the messages that there are. Files that are not Fluent were refused before.
pub(super) fn compare(known: &[Entry], language: &str, sources: &[Source]) -> Vec<Fault> {
    let by_id: BTreeMap<&str, &Entry> = known.iter().map(|entry| (entry.id.as_str(), entry)).collect();
    let mut said = BTreeSet::new();
    let mut referred: BTreeSet<String> = OWN.iter().map(|id| (*id).to_owned()).collect();
    let mut found = Vec::new();
    for source in sources {
        let resource = match fluent_syntax::parser::parse(source.text.as_str()) {
            Ok(resource) | Err((resource, _)) => resource,
        };
        for entry in &resource.body {
            let (id, patterns, is_message) = match entry {
                ast::Entry::Message(message) => (
                    message.id.name,
                    message
                        .value
                        .iter()
                        .chain(message.attributes.iter().map(|one| &one.value))
                        .collect::<Vec<_>>(),
                    true,
                ),
                ast::Entry::Term(term) => (term.id.name, vec![&term.value], false),
                _ => continue,
            };
            let mut used = Used::default();
            patterns.into_iter().for_each(|pattern| used.pattern(pattern));
            referred.extend(used.messages);
            if is_message {
                said.insert(id.to_owned());
                found.push((source, id.to_owned(), used.variables));
            }
        }
    }
    let mut faults: Vec<Fault> = known
        .iter()
        .filter(|entry| !said.contains(&entry.id))
        .map(|entry| Fault::Missing { language: language.to_owned(), entry: entry.clone() })
        .collect();
    for (source, id, variables) in found {
        let at = if source.text.starts_with(&format!("{id} =")) {
            0
        } else {
            source.text.find(&format!("\n{id} =")).map_or(0, |at| at + 1)
        };
        let (file, line) = (source.file.clone(), line_of(&source.text, at));
        match by_id.get(id.as_str()) {
            Some(entry) => {
                for argument in variables {
                    let plain = argument.strip_suffix("-is").or_else(|| argument.strip_suffix("-count"));
                    let has = |name: &str| entry.arguments.contains(name);
                    if !has(&argument) && !plain.is_some_and(has) {
                        let (file, entry) = (file.clone(), (*entry).clone());
                        faults.push(Fault::Argument { file, line, argument, entry });
                    }
                }
            }
            None if referred.contains(&id) => {}
            None => faults.push(Fault::Superfluous { file, line, id }),
        }
    }
    faults
}

/// What a pattern refers to.
#[derive(Default)]
struct Used {
    variables: BTreeSet<String>,
    messages: BTreeSet<String>,
}

impl Used {
    fn pattern(&mut self, pattern: &ast::Pattern<&str>) {
        for element in &pattern.elements {
            if let ast::PatternElement::Placeable { expression } = element {
                self.expression(expression);
            }
        }
    }

    fn expression(&mut self, expression: &ast::Expression<&str>) {
        match expression {
            ast::Expression::Select { selector, variants } => {
                self.inline(selector);
                variants.iter().for_each(|variant| self.pattern(&variant.value));
            }
            ast::Expression::Inline(inline) => self.inline(inline),
        }
    }

    fn inline(&mut self, inline: &ast::InlineExpression<&str>) {
        match inline {
            ast::InlineExpression::VariableReference { id } => {
                self.variables.insert(id.name.to_owned());
            }
            ast::InlineExpression::MessageReference { id, .. } => {
                self.messages.insert(id.name.to_owned());
            }
            ast::InlineExpression::Placeable { expression } => self.expression(expression),
            ast::InlineExpression::FunctionReference { arguments, .. } => {
                arguments.positional.iter().for_each(|one| self.inline(one));
            }
            _ => {}
        }
    }
}
