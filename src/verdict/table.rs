//! Owns readings as a table: CSV text as people and spreadsheets write it, into measurements.
//!
//! The first line names the columns, in any order: `circuit` and `reading` must be there, `station` (component, harness,
//! case), `contact` (usual, cleaned, wiggled) and `id` may. A circuit is named as in the profile, by id or by name.
//! Without an `id` column the number of the line is the number of the measurement, so that messages lead back to it.
//! A reading is `5.21`, `4.7 k`, `5.2 ohm`, `over range` (or `OL`), `unstable`, `unstable 4.9 5.6`, or `not taken`. Lines that
//! are empty or begin with `#` are passed over. Fields are parted by commas; by semicolons or tabs where those part the first line.
//! Only then a comma may stand in decimals, and the same mark in all of them: 5,401 between commas could be two fields, or five thousand.
//!
//! The table that a record writes (`readings.csv`) is taken too: it is known by its columns `state` and `shown`; readings that were
//! withdrawn are left out, and what is not needed is passed over.

use super::{Contact, Measurement, Station};
use crate::{
    profile::{CircuitId, Profile},
    quantity::{Decimal, DecimalError, Prefix, Reading, Shown, Unit},
};

/// What is wrong with a table: line (from 1) and field are named.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum TableFault {
    /// There is no line that names the columns.
    #[error("the table is empty: its first line has to name the columns, such as circuit,reading")]
    Empty,
    /// A column that is not known, or is named twice.
    #[error("line {line}: the column \"{}\" is not known or named twice; known are {}", clipped(.name), COLUMNS.join(", "))]
    Column {
        /// The line.
        line: u32,
        /// The column as named.
        name: String,
    },
    /// A column that has to be there.
    #[error("line {line}: the column \"{name}\" is missing")]
    Missing {
        /// The line that names the columns.
        line: u32,
        /// The column.
        name: &'static str,
    },
    /// More or fewer fields than columns.
    #[error("line {line}: {found} fields where {columns} columns are named")]
    Fields {
        /// The line.
        line: u32,
        /// How many fields it has.
        found: usize,
        /// How many columns there are.
        columns: usize,
    },
    /// A quotation mark without its partner.
    #[error("line {line}: a quotation mark is not closed")]
    Quote {
        /// The line.
        line: u32,
    },
    /// A field that means nothing.
    #[error("line {line}, field \"{field}\": \"{}\" is not {expected}", clipped(.text))]
    Field {
        /// The line.
        line: u32,
        /// The field's column.
        field: &'static str,
        /// What is there.
        text: String,
        /// What could be there.
        expected: &'static str,
    },
    /// Decimals with a point and decimals with a comma in one table.
    #[error("line {line}: a comma and a point both stand in decimals of this table: write them all alike")]
    Mark {
        /// The line.
        line: u32,
    },
    /// A number that no display shows.
    #[error("line {line}, field \"reading\": {source}")]
    Number {
        /// The line.
        line: u32,
        /// Why.
        source: DecimalError,
    },
    /// A circuit that the profile does not have.
    #[error("line {line}, field \"circuit\": the profile \"{profile}\" has no circuit \"{}\"", clipped(.text))]
    Circuit {
        /// The line.
        line: u32,
        /// The circuit as named.
        text: String,
        /// The profile.
        profile: String,
    },
}

/// The longest piece of a text that is repeated in a message, in characters.
const CLIPPED: usize = 40;

/// A text of a file as it may be shown in a message: not long, and nothing in it that a terminal would obey.
fn clipped(text: &str) -> String {
    let shown = text.chars().take(CLIPPED).map(|c| if c.is_control() { '\u{fffd}' } else { c });
    let more = if text.chars().nth(CLIPPED).is_some() { "…" } else { "" };
    shown.collect::<String>() + more
}

const COLUMNS: [&str; 5] = ["id", "circuit", "station", "contact", "reading"];

/// Reads a table.
///
/// # Errors
/// The first [`TableFault`], with its line and field.
pub fn parse(profile: &Profile, text: &str) -> Result<Vec<Measurement>, TableFault> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let mut lines = (1u32..)
        .zip(text.lines())
        .filter(|(_, line)| !line.trim().is_empty() && !line.trim_start().starts_with('#'));
    let (head_line, head) = lines.next().ok_or(TableFault::Empty)?;
    let parted = separator(head);
    let head = fields(head_line, head, parted)?;
    if OWN.iter().all(|own| head.iter().any(|name| name == own)) {
        return own(profile, &head, parted, lines);
    }
    let mut mark = Mark::default();
    let mut places: [Option<usize>; COLUMNS.len()] = [None; COLUMNS.len()];
    for (at, name) in head.iter().enumerate() {
        let known = COLUMNS.iter().position(|column| column.eq_ignore_ascii_case(name));
        match known {
            Some(column) if places[column].is_none() => places[column] = Some(at),
            _ => return Err(TableFault::Column { line: head_line, name: name.clone() }),
        }
    }
    for (column, name) in [(1, "circuit"), (4, "reading")] {
        if places[column].is_none() {
            return Err(TableFault::Missing { line: head_line, name });
        }
    }
    lines
        .map(|(line, text)| {
            let mut fields = fields(line, text, parted)?;
            if fields.len() != head.len() {
                return Err(TableFault::Fields { line, found: fields.len(), columns: head.len() });
            }
            if let Some(at) = places[4].filter(|_| parted != ',') {
                fields[at] = mark.pointed(line, &fields[at])?;
            }
            let field = |column: usize| places[column].map_or("", |at| fields[at].as_str());
            measurement(profile, line, &field)
        })
        .collect()
}

fn measurement<'a>(
    profile: &Profile,
    line: u32,
    field: &impl Fn(usize) -> &'a str,
) -> Result<Measurement, TableFault> {
    measurement_of(profile, line, field, reading(line, field(4))?)
}

/// A measurement with this reading; what else there is to it by column.
fn measurement_of<'a>(
    profile: &Profile,
    line: u32,
    field: &impl Fn(usize) -> &'a str,
    reading: Reading,
) -> Result<Measurement, TableFault> {
    let wrong =
        |field, text: &str, expected| TableFault::Field { line, field, text: text.to_owned(), expected };
    let id = match field(0) {
        "" => line,
        text => text.parse().map_err(|_| wrong("id", text, "a whole number from 1 to 4294967295"))?,
    };
    let station = match field(2).to_ascii_lowercase().as_str() {
        "" | "component" => Station::Component,
        "harness" => Station::Harness,
        "case" => Station::Case,
        text => return Err(wrong("station", text, "component, harness or case")),
    };
    let contact = match field(3).to_ascii_lowercase().as_str() {
        "" | "usual" => Contact::Usual,
        "cleaned" => Contact::Cleaned,
        "wiggled" => Contact::Wiggled,
        text => return Err(wrong("contact", text, "usual, cleaned or wiggled")),
    };
    Ok(Measurement { id, circuit: circuit(profile, line, field(1))?, station, reading, contact })
}

fn circuit(profile: &Profile, line: u32, text: &str) -> Result<CircuitId, TableFault> {
    profile
        .circuits
        .iter()
        .find(|circuit| circuit.id.as_str() == text)
        .or_else(|| profile.circuits.iter().find(|circuit| circuit.name.eq_ignore_ascii_case(text)))
        .map(|circuit| circuit.id.clone())
        .ok_or_else(|| TableFault::Circuit { line, text: text.to_owned(), profile: profile.id.clone() })
}

/// A reading as it is written in a table.
///
/// # Errors
/// [`TableFault::Field`] or [`TableFault::Number`], naming `line`.
pub fn reading(line: u32, text: &str) -> Result<Reading, TableFault> {
    let low = text.trim().to_lowercase();
    let words: Vec<&str> = low.split_whitespace().collect();
    Ok(match words.as_slice() {
        ["ol" | "o.l" | "o.l."] | ["over", "range"] | ["over-range"] => Reading::OverRange { range: None },
        ["-" | "skipped"] | ["not", "taken"] | ["not-taken"] => Reading::NotTaken,
        ["unstable"] => Reading::Unstable { low: None, high: None },
        ["unstable", low, high] => Reading::Unstable {
            low: Some(shown(line, text, &[low])?),
            high: Some(shown(line, text, &[high])?),
        },
        words => Reading::Value(shown(line, text, words)?),
    })
}

/// A number in ohms as it is written in a table or on the command line: `5.21`, `4.7 k`, `0.20 ohm`.
///
/// # Errors
/// As [`reading`].
pub fn shown(line: u32, text: &str, words: &[&str]) -> Result<Shown, TableFault> {
    let wrong = || TableFault::Field {
        line,
        field: "reading",
        text: text.to_owned(),
        expected: "a reading such as 5.21, 4.7 k, over range, unstable or not taken",
    };
    // "4.7k", "4.7 k", "4.7 kohm", "4.7 kΩ" and "5 ohm" are all written by people.
    let joined = words.concat();
    let end = joined
        .char_indices()
        .find(|(at, letter)| {
            !(letter.is_ascii_digit() || *letter == '.' || (*at == 0 && "+-".contains(*letter)))
        })
        .map_or(joined.len(), |(at, _)| at);
    let (digits, unit) = joined.split_at(end);
    let prefix = match unit.trim_end_matches(['ω', 'Ω']).trim_end_matches("ohms").trim_end_matches("ohm") {
        "" => Prefix::One,
        "k" | "kilo" => Prefix::Kilo,
        // Lower case: mega is by far the likelier on a resistance range, but a thousandth is what the letter means.
        "mega" | "meg" => Prefix::Mega,
        "milli" => Prefix::Milli,
        "m" if text.contains('M') => Prefix::Mega,
        "m" if text.contains('m') => Prefix::Milli,
        _ => return Err(wrong()),
    };
    match digits.parse::<Decimal>() {
        Ok(number) => Ok(Shown { number, prefix, unit: Unit::Ohm }),
        Err(DecimalError::Syntax(_)) => Err(wrong()),
        Err(source) => Err(TableFault::Number { line, source }),
    }
}

/// Columns by which the table of a record is known.
const OWN: [&str; 3] = ["reading", "state", "shown"];

/// The table that a record writes.
fn own<'a>(
    profile: &Profile,
    head: &[String],
    parted: char,
    lines: impl Iterator<Item = (u32, &'a str)>,
) -> Result<Vec<Measurement>, TableFault> {
    let place = |name: &'static str| head.iter().position(|column| column == name);
    let mut all = Vec::new();
    for (line, text) in lines {
        let fields = fields(line, text, parted)?;
        if fields.len() != head.len() {
            return Err(TableFault::Fields { line, found: fields.len(), columns: head.len() });
        }
        let field = |name: &'static str| {
            let text = place(name).map_or("", |at| fields[at].as_str());
            // An apostrophe in front keeps a spreadsheet from working it out.
            text.strip_prefix('\'').unwrap_or(text)
        };
        if !field("withdrawn_utc").is_empty() {
            continue;
        }
        let wrong = |field: &'static str, text: &str, expected| TableFault::Field {
            line,
            field,
            text: text.to_owned(),
            expected,
        };
        let number = |name: &'static str| -> Result<Option<Shown>, TableFault> {
            let text = field(name);
            if text.is_empty() {
                return Ok(None);
            }
            let text = text.replace(',', ".");
            shown(line, &text, &[&text]).map(Some)
        };
        let reading = match field("state") {
            "value" => {
                let text = field("shown").replace(',', ".");
                let low = text.to_lowercase();
                Reading::Value(shown(line, &text, &low.split_whitespace().collect::<Vec<_>>())?)
            }
            "over-range" => Reading::OverRange { range: number("range_end")? },
            "unstable" => Reading::Unstable { low: number("low")?, high: number("high")? },
            "not-taken" => Reading::NotTaken,
            text => return Err(wrong("state", text, "value, over-range, unstable or not-taken")),
        };
        let columns = [field("reading"), field("circuit"), field("station"), field("contact"), ""];
        let measured = measurement_of(profile, line, &|column| columns[column], reading)?;
        all.push(measured);
    }
    Ok(all)
}

/// The mark that stands in the decimals of a table, once one was seen.
#[derive(Default)]
struct Mark(Option<char>);

impl Mark {
    /// A reading with a point in its decimals.
    fn pointed(&mut self, line: u32, text: &str) -> Result<String, TableFault> {
        for mark in ['.', ','].into_iter().filter(|mark| text.contains(*mark)) {
            // Over range may be written with points.
            let number = text.chars().any(|letter| letter.is_ascii_digit());
            if number && *self.0.get_or_insert(mark) != mark {
                return Err(TableFault::Mark { line });
            }
        }
        Ok(text.replace(',', "."))
    }
}

/// What parts the fields: semicolons or tabs where they part the first line and commas do not.
fn separator(head: &str) -> char {
    [';', '\t'].into_iter().find(|one| head.contains(*one) && !head.contains(',')).unwrap_or(',')
}

/// The fields of one line, quoted where they hold what parts them.
fn fields(line: u32, text: &str, parted: char) -> Result<Vec<String>, TableFault> {
    let mut all = Vec::new();
    let mut field = String::new();
    let mut quoted = false;
    let mut letters = text.trim_end_matches('\r').chars().peekable();
    while let Some(letter) = letters.next() {
        match (letter, quoted) {
            ('"', true) if letters.peek() == Some(&'"') => {
                letters.next();
                field.push('"');
            }
            ('"', _) => quoted = !quoted,
            (letter, false) if letter == parted => all.push(std::mem::take(&mut field).trim().to_owned()),
            (letter, _) => field.push(letter),
        }
    }
    if quoted {
        return Err(TableFault::Quote { line });
    }
    all.push(field.trim().to_owned());
    Ok(all)
}
