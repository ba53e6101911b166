//! Owns a table of pins as a spreadsheet writes it (CSV): a line for each pin, its first line names the columns.
//!
//! Needed are `pin` and `name`; `against`, `kind`, `reads`, `tolerance`, `like` and `connector` may be there, in any order and by other
//! usual names, English or German. Comma, semicolon and tab part the fields. A line without a name is a pin that nobody measures.

use super::draft::{Draft, DraftCircuit, Made};
use crate::profile::{WINDOW_ADVICE, window_in_ohms};
use schemars::JsonSchema;
use serde::Serialize;

/// The most lines of a table.
const MOST_LINES: usize = 2000;

/// What is wrong with a table: where, and what to write instead.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum TableFault {
    /// It has no line that names columns.
    Empty,
    /// It is no CSV: a quote without end, or no UTF-8.
    NoTable {
        /// The line, from 1.
        line: u64,
    },
    /// It is longer than any part.
    TooLong {
        /// The most lines that are read.
        most: usize,
    },
    /// A column that has to be there.
    ColumnMissing {
        /// What it is called.
        column: String,
        /// The columns that there are.
        there: String,
    },
    /// A column that nobody knows.
    ColumnUnknown {
        /// Which column, from 1.
        column: usize,
        /// What it is called.
        name: String,
    },
    /// A column that is there twice.
    ColumnTwice {
        /// Which column, from 1.
        column: usize,
        /// What it is called.
        name: String,
    },
    /// A field that means nothing there, or breaks a rule of profiles.
    Field {
        /// The line, from 1.
        line: u64,
        /// Which column, from 1; 0 for a column that is not there.
        column: usize,
        /// What the column is called.
        name: String,
        /// What is wrong.
        what: String,
        /// What to write instead.
        advice: String,
    },
    /// A fault of the whole.
    Whole {
        /// What is wrong.
        what: String,
        /// What to write instead.
        advice: String,
    },
}

/// What holds for all lines that do not say otherwise.
#[derive(Debug, Clone, Default)]
pub struct Taken {
    /// What a person calls the part.
    pub title: String,
    /// Where the figures come from.
    pub source: String,
    /// The pin that one probe stays on.
    pub common: Option<String>,
    /// What circuits are made of, as in the column `kind`.
    pub kind: Option<String>,
}

/// A column by its meaning, and how it may be called.
const COLUMNS: [(&str, &[&str]); 8] = [
    ("pin", &["pin", "terminal", "cavity", "kontakt", "klemme"]),
    ("name", &["name", "circuit", "function", "label", "description", "kreis", "funktion", "bezeichnung"]),
    ("against", &["against", "common", "return", "ground", "to", "gegen", "masse", "rückleitung"]),
    ("kind", &["kind", "type", "made of", "art", "typ"]),
    (
        "reads",
        &[
            "reads",
            "window",
            "nominal",
            "resistance",
            "ohm",
            "ohms",
            "value",
            "soll",
            "widerstand",
            "nennwert",
        ],
    ),
    ("tolerance", &["tolerance", "+-", "±", "toleranz"]),
    ("like", &["like", "same as", "wie"]),
    ("connector", &["connector", "plug", "stecker"]),
];

/// What circuits are made of, by the words that people use.
const KINDS: [(&str, &[&str]); 4] = [
    (
        "copper-coil",
        &[
            "copper-coil",
            "coil",
            "winding",
            "valve",
            "solenoid",
            "injector",
            "motor",
            "spule",
            "wicklung",
            "ventil",
        ],
    ),
    (
        "resistor",
        &["resistor", "resistance", "track", "switch", "sensor", "heater", "lamp", "widerstand", "schalter"],
    ),
    ("wire", &["wire", "feed", "earth", "ground", "supply", "leitung", "masse", "plus"]),
    ("data-bus", &["data-bus", "data bus", "bus", "datenbus"]),
];

/// The draft that a table gives, already by the rules of every profile.
///
/// # Errors
/// Every fault, in the order of the table.
pub fn table(text: &str, taken: &Taken) -> Result<Draft, Vec<TableFault>> {
    let text = text.trim_start_matches('\u{feff}');
    let head = text.lines().find(|line| !line.trim().is_empty()).ok_or_else(|| vec![TableFault::Empty])?;
    let count = |sign: char| head.matches(sign).count();
    let delimiter = [';', '\t', ','].into_iter().max_by_key(|sign| count(*sign)).unwrap_or(',');
    let mut reader = csv::ReaderBuilder::new()
        .delimiter(u8::try_from(delimiter).unwrap_or(b','))
        .has_headers(false)
        .flexible(true)
        .trim(csv::Trim::All)
        .from_reader(text.as_bytes());
    let mut rows: Vec<(u64, csv::StringRecord)> = Vec::new();
    for row in reader.records() {
        match row {
            Ok(row) => rows.push((line_of(text, row.position()), row)),
            Err(fault) => {
                return Err(vec![TableFault::NoTable {
                    line: fault.position().map_or(1, csv::Position::line),
                }]);
            }
        }
        if rows.len() > MOST_LINES {
            return Err(vec![TableFault::TooLong { most: MOST_LINES }]);
        }
    }
    let (_, head) = rows.first().ok_or_else(|| vec![TableFault::Empty])?;
    let columns = Columns::of(head)?;
    let mut draft = Draft {
        title: taken.title.clone(),
        source: taken.source.clone(),
        common: taken.common.clone(),
        ..Draft::default()
    };
    let mut faults = Vec::new();
    for (line, row) in rows.iter().skip(1).filter(|(_, row)| row.iter().any(|field| !field.is_empty())) {
        columns.line(*line, row, taken, &mut draft, &mut faults);
    }
    if faults.is_empty()
        && let Err(found) = draft.checked()
    {
        faults.extend(found.into_iter().map(|(fault, place, key)| {
            let (what, advice) = (fault.message, fault.advice.unwrap_or_default());
            match place.and_then(|place| draft.circuits[place].line) {
                Some(line) => columns.fault(line, &key, what, advice),
                None => TableFault::Whole { what, advice },
            }
        }));
    }
    if faults.is_empty() { Ok(draft) } else { Err(faults) }
}

/// The line that a record begins in: the reader's own place is before the empty lines that it passed over.
fn line_of(text: &str, position: Option<&csv::Position>) -> u64 {
    let Some(position) = position else { return 0 };
    let from = usize::try_from(position.byte()).unwrap_or(usize::MAX).min(text.len());
    let passed = text.as_bytes()[from..].iter().take_while(|byte| matches!(byte, b'\n' | b'\r'));
    position.line() + passed.filter(|byte| **byte == b'\n').count() as u64
}

/// Which column means what.
struct Columns {
    /// The meaning and the place of each.
    places: Vec<(&'static str, usize)>,
    /// What they are called in the table.
    names: Vec<String>,
}

impl Columns {
    fn of(head: &csv::StringRecord) -> Result<Self, Vec<TableFault>> {
        let names: Vec<String> = head.iter().map(str::to_owned).collect();
        let mut places: Vec<(&'static str, usize)> = Vec::new();
        let mut faults = Vec::new();
        for (at, name) in names.iter().enumerate().filter(|(_, name)| !name.is_empty()) {
            let lower = name.to_lowercase();
            // "Resistance (ohm)" is "resistance".
            let plain = lower.split(['(', '[']).next().unwrap_or_default().trim().to_owned();
            let known = COLUMNS
                .iter()
                .find(|(_, called)| called.contains(&lower.as_str()) || called.contains(&plain.as_str()));
            match known {
                Some((meaning, _)) if places.iter().any(|(known, _)| known == meaning) => {
                    faults.push(TableFault::ColumnTwice { column: at + 1, name: name.clone() });
                }
                Some((meaning, _)) => places.push((meaning, at)),
                None => faults.push(TableFault::ColumnUnknown { column: at + 1, name: name.clone() }),
            }
        }
        for needed in ["pin", "name"] {
            if !places.iter().any(|(meaning, _)| *meaning == needed) {
                faults.push(TableFault::ColumnMissing { column: needed.to_owned(), there: names.join(", ") });
            }
        }
        if faults.is_empty() { Ok(Self { places, names }) } else { Err(faults) }
    }

    fn place(&self, meaning: &str) -> Option<usize> {
        self.places.iter().find(|(known, _)| *known == meaning).map(|(_, at)| *at)
    }

    fn fault(&self, line: u64, meaning: &str, what: String, advice: String) -> TableFault {
        let meaning = if meaning == "window" { "reads" } else { meaning };
        let place = self.place(meaning);
        let name = place.map_or_else(|| meaning.to_owned(), |at| self.names[at].clone());
        TableFault::Field { line, column: place.map_or(0, |at| at + 1), name, what, advice }
    }

    fn line(
        &self,
        line: u64,
        row: &csv::StringRecord,
        taken: &Taken,
        draft: &mut Draft,
        faults: &mut Vec<TableFault>,
    ) {
        let field = |meaning: &str| {
            let text = self.place(meaning).and_then(|at| row.get(at)).unwrap_or_default();
            (!text.is_empty() && text != "-").then(|| text.to_owned())
        };
        let Some(pin) = field("pin") else {
            let advice = "every line names the pin that is probed".to_owned();
            return faults.push(self.fault(line, "pin", "the pin is missing".to_owned(), advice));
        };
        let connector = field("connector").map_or_else(String::new, |connector| format!("{connector}/"));
        let on = |pin: String| if pin.contains('/') { pin } else { format!("{connector}{pin}") };
        let is_name =
            |pin: &str| pin.len() <= 12 && pin.chars().all(|c| c.is_ascii_alphanumeric() || c == '/');
        for (key, pin) in [
            ("pin", Some(&pin)),
            ("against", field("against").as_ref()),
            ("connector", field("connector").as_ref()),
        ] {
            if let Some(pin) = pin.filter(|pin| !is_name(pin)) {
                let what = format!("\"{}\" is no name of a pin", pin.escape_debug());
                let advice =
                    "use one to four letters and digits: 4 or B2; of several connectors X1/4".to_owned();
                return faults.push(self.fault(line, key, what, advice));
            }
        }
        let Some(name) = field("name") else { return draft.further_pins.push((on(pin), None)) };
        let against = field("against").map(on);
        // The line that says what the common pin is says nothing to be measured.
        if against.is_none() && taken.common.as_deref().is_some_and(|common| common == on(pin.clone())) {
            return draft.further_pins.push((on(pin), Some(name)));
        }
        let made = match (field("like"), field("kind").or_else(|| taken.kind.clone())) {
            (Some(like), _) => {
                let known = draft.circuits.iter().position(|known| known.name.eq_ignore_ascii_case(&like));
                match known {
                    Some(place) => Made::Like(place),
                    None => {
                        let what = format!("no circuit above is called \"{like}\"");
                        let advice = "name one of an earlier line, as it is called there".to_owned();
                        return faults.push(self.fault(line, "like", what, advice));
                    }
                }
            }
            (None, Some(kind)) => {
                let lower = kind.to_lowercase();
                match KINDS.iter().find(|(_, called)| called.contains(&lower.as_str())) {
                    Some((kind, _)) => Made::Plain(kind),
                    None => {
                        let what = format!("\"{kind}\" says not what it is made of");
                        let advice = "write coil, resistor, wire or bus; sensors with figures are put in by hand afterwards".to_owned();
                        return faults.push(self.fault(line, "kind", what, advice));
                    }
                }
            }
            (None, None) => {
                let advice = "add a column kind with coil, resistor, wire or bus in each line, or say it once: --kind coil".to_owned();
                return faults.push(self.fault(
                    line,
                    "kind",
                    "it is not said what it is made of".to_owned(),
                    advice,
                ));
            }
        };
        let reads = match (field("reads"), field("tolerance")) {
            (Some(reads), Some(tolerance)) => {
                let spread = tolerance.trim_start_matches(['±', '+', '-', '/']).trim().to_owned();
                Some(format!("{reads} ± {spread}"))
            }
            (reads, _) => reads,
        };
        let window = match reads.map(|reads| window_in_ohms(&reads)).transpose() {
            Ok(window) => window,
            Err(what) => return faults.push(self.fault(line, "reads", what, WINDOW_ADVICE.to_owned())),
        };
        draft.circuits.push(DraftCircuit { name, pin: on(pin), against, made, window, line: Some(line) });
    }
}
