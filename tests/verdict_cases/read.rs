//! Owns how a case is read from its TOML table and made into what the engine takes.
//!
//! A reading is written as a person would jot it down: `A 5.40`, `A OL cleaned`, `left 10.2 harness`. `A` to `H` are
//! coils A to H; `P`, `S` and `U` are the odd circuits of the shipped valve block.

use bothhands::{
    profile::{self, Meter, Profile},
    quantity::{Celsius, Interval, Ohms, Prefix, Reading, Shown, Unit, Volts},
    verdict::{
        Evidence, Leads, LearnedReference, LoadTest, Relation, Station, StoredCode, VoltageDrop, table,
    },
};
use serde::Deserialize;
use std::{collections::BTreeMap, path::Path};
use toml::{Table, Value};

/// One case as it stands in its file.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Case {
    /// What it is, in a line.
    pub name: String,
    /// Which of the kinds of mistakes it is like, if any: 1 headline, 2 impossible zero, 3 repeats, 4 shared pin, 5 proof
    /// of an open, 6 spread, 7 coarse reading, 8 network, 9 evidence, 10 probability, 11 digits; above: further groups.
    #[serde(default)]
    pub kind: u32,
    /// A shipped profile ...
    profile: Option<String>,
    /// ... or a part of `parts.toml`.
    part: Option<String>,
    /// The meter; "none": not said.
    meter: Option<String>,
    /// The lead zero as shown, "relative" or "unknown".
    leads: Option<String>,
    /// Of the part: 20, 15..25 or "unknown".
    temperature: Option<String>,
    /// Around the meter.
    meter_temperature: Option<String>,
    /// In the order taken.
    readings: String,
    /// Stored codes: "text=circuit", or a number of the profile.
    #[serde(default)]
    codes: Vec<String>,
    /// Further readings of the leads held together.
    #[serde(default)]
    lead_repeats: Vec<String>,
    /// "pin pin ohms".
    #[serde(default)]
    relations: Vec<String>,
    /// "circuit supply at-load", in volts.
    #[serde(default)]
    loads: Vec<String>,
    /// "joint=volts".
    #[serde(default)]
    drops: Vec<String>,
    /// "circuit parts median spread temperature".
    #[serde(default)]
    learned: Vec<String>,
    /// Levels that an expert would accept.
    pub level: String,
    /// Circuits that have to be named as suspect.
    #[serde(default)]
    pub named: String,
    /// Circuits that must not be: a list, "others" (all that are not under `named`) or "all".
    #[serde(default)]
    pub not_named: String,
    /// One of these has to lead.
    #[serde(default)]
    pub cause: String,
    /// None of these may lead.
    #[serde(default)]
    pub never: String,
    /// One of these has to be among the first three checks.
    #[serde(default)]
    pub next: String,
    /// Why, with the source.
    pub why: String,
    /// Of which file; whether held apart.
    #[serde(skip)]
    pub file: String,
    #[serde(skip)]
    pub held: bool,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    #[serde(default)]
    usual: Usual,
    case: Vec<Case>,
}

/// What holds for the cases of a file that do not say otherwise.
#[derive(Default, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
struct Usual {
    profile: Option<String>,
    part: Option<String>,
    meter: Option<String>,
    leads: Option<String>,
    temperature: Option<String>,
}

/// Reads every case of the folder, held-apart ones last.
pub fn cases(folder: &Path) -> Vec<Case> {
    let mut all = Vec::new();
    for (held, folder) in [(false, folder.to_owned()), (true, folder.join("held"))] {
        let mut files: Vec<_> = std::fs::read_dir(&folder)
            .expect("the folder is there")
            .map(|entry| entry.expect("readable").path())
            .filter(|path| path.extension().is_some_and(|end| end == "toml"))
            .filter(|path| path.file_name().is_some_and(|name| name != "parts.toml"))
            .collect();
        files.sort();
        for path in files {
            let text = std::fs::read_to_string(&path).expect("readable");
            let file: File =
                toml::from_str(&text).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
            let stem = path.file_stem().expect("a name").to_string_lossy().into_owned();
            all.extend(file.case.into_iter().map(|mut case| {
                if case.profile.is_none() && case.part.is_none() {
                    (case.profile, case.part) = (file.usual.profile.clone(), file.usual.part.clone());
                }
                case.meter = case.meter.or_else(|| file.usual.meter.clone());
                case.leads = case.leads.or_else(|| file.usual.leads.clone());
                case.temperature = case.temperature.or_else(|| file.usual.temperature.clone());
                (case.file, case.held) = (stem.clone(), held);
                case
            }));
        }
    }
    all
}

impl Case {
    /// Profile, meter and evidence as `judge` takes them.
    pub fn staged(&self, parts: &BTreeMap<String, Profile>) -> (Profile, Option<Meter>, Evidence) {
        let profile = match (&self.profile, &self.part) {
            (Some(name), None) => profile::find(name).expect("it ships").value,
            (None, Some(part)) => {
                parts.get(part).unwrap_or_else(|| panic!("{}: no part {part}", self.name)).clone()
            }
            _ => panic!("{}: one of profile and part", self.name),
        };
        let meter = match self.meter.as_deref().unwrap_or("handheld-60000") {
            "none" => None,
            name => Some(profile::find_meter(name).expect("it ships").value),
        };
        let measurements = table::parse(&profile, &self.table(&profile))
            .unwrap_or_else(|fault| panic!("{}: {fault}", self.name));
        let mut evidence = Evidence {
            part_temperature: self.between(self.temperature.as_deref().unwrap_or("20")),
            meter_temperature: self.meter_temperature.as_deref().and_then(|text| self.between(text)),
            leads: match self.leads.as_deref().unwrap_or("0.200") {
                "relative" => Leads::Relative,
                "unknown" => Leads::Unknown,
                text => Leads::Shown(ohms(text)),
            },
            measurements,
            codes: self.codes.iter().map(|code| stored(&profile, code)).collect(),
            ..Evidence::none()
        };
        self.further(&profile, &mut evidence);
        (profile, meter, evidence)
    }

    /// The readings as the table that `judge` reads.
    pub fn table(&self, profile: &Profile) -> String {
        let mut text = "circuit,reading,station,contact\n".to_owned();
        for one in self.readings.split(',').map(str::trim).filter(|one| !one.is_empty()) {
            let mut words: Vec<&str> = one.split_whitespace().collect();
            let mut take = |of: &[&'static str]| {
                let found = of.iter().find(|word| words.contains(word)).copied();
                words.retain(|word| Some(*word) != found);
                found.unwrap_or("")
            };
            let contact = take(&["cleaned", "wiggled"]);
            let station = take(&["harness", "case"]);
            text += &format!("{},{},{station},{contact}\n", circuit(profile, words[0]), words[1..].join(" "));
        }
        text
    }

    /// What was measured, in a line, to try it again by hand.
    pub fn inputs(&self) -> String {
        let of = self.profile.as_deref().or(self.part.as_deref()).unwrap_or("?");
        let mut line = format!(
            "{of}, meter {}, leads {}, temperature {}: {}",
            self.meter.as_deref().unwrap_or("handheld-60000"),
            self.leads.as_deref().unwrap_or("0.200"),
            self.temperature.as_deref().unwrap_or("20"),
            self.readings
        );
        for (name, list) in [
            ("codes", &self.codes),
            ("leads again", &self.lead_repeats),
            ("pin to pin", &self.relations),
            ("loads", &self.loads),
            ("drops", &self.drops),
            ("learned", &self.learned),
        ] {
            if !list.is_empty() {
                line += &format!("; {name} {}", list.join(", "));
            }
        }
        line
    }

    /// Circuits of a list as ids.
    pub fn ids(&self, profile: &Profile, list: &str) -> Vec<String> {
        list.split_whitespace().map(|word| circuit(profile, word)).collect()
    }

    fn between(&self, text: &str) -> Option<Interval<Celsius>> {
        if text == "unknown" {
            return None;
        }
        let (low, high) = text.split_once("..").unwrap_or((text, text));
        let one = |text: &str| Celsius::new(text.parse().expect("a number")).expect("finite");
        Some(Interval::new(one(low), one(high)).unwrap_or_else(|| panic!("{}: {text}", self.name)))
    }

    fn further(&self, profile: &Profile, evidence: &mut Evidence) {
        let mut ids = 1000u32..;
        let mut id = || ids.next().expect("few observations");
        let further = &mut evidence.further;
        further.lead_repeats = self.lead_repeats.iter().map(|text| ohms(text)).collect();
        for text in &self.relations {
            let words: Vec<&str> = text.split_whitespace().collect();
            let reading = match words[2] {
                "OL" => Reading::OverRange { range: None },
                number => Reading::Value(ohms(number)),
            };
            further.relations.push(Relation {
                id: id(),
                from: words[0].into(),
                to: words[1].into(),
                reading,
            });
        }
        for text in &self.loads {
            let words: Vec<&str> = text.split_whitespace().collect();
            let volts = |text: &str| Volts::new(text.parse().expect("volts")).expect("finite");
            further.loads.push(LoadTest {
                id: id(),
                circuit: circuit(profile, words[0]).as_str().into(),
                supply: volts(words[1]),
                at_load: volts(words[2]),
                current: None,
                limit: None,
            });
        }
        for text in &self.drops {
            let (joint, volts) = text.split_once('=').expect("joint=volts");
            let number = volts.parse().expect("a number");
            further.drops.push(VoltageDrop {
                id: id(),
                joint: joint.to_owned(),
                circuit: None,
                reading: Reading::Value(Shown { number, prefix: Prefix::One, unit: Unit::Volt }),
                current: None,
                limit: None,
            });
        }
        for text in &self.learned {
            let words: Vec<&str> = text.split_whitespace().collect();
            let number = |at: usize| words[at].parse::<f64>().expect("a number");
            further.references.push(LearnedReference {
                circuit: circuit(profile, words[0]).as_str().into(),
                station: Station::Component,
                parts: words[1].parse().expect("a count"),
                median: Ohms::new(number(2)).expect("finite"),
                spread: Some(Ohms::new(number(3)).expect("finite")),
                at: Celsius::new(number(4)).expect("finite"),
            });
        }
    }
}

fn ohms(text: &str) -> Shown {
    table::shown(0, text, &[text]).unwrap_or_else(|fault| panic!("{fault}"))
}

fn stored(profile: &Profile, text: &str) -> StoredCode {
    let (text, named) = match text.split_once('=') {
        Some((text, circuit)) => (text, Some(circuit.into())),
        None => {
            let known = profile.codes.iter().find(|code| code.number == text);
            (text, known.map(|code| code.circuit.clone()))
        }
    };
    StoredCode { text: text.to_owned(), circuit: named }
}

/// A circuit's id from what is jotted down.
fn circuit(profile: &Profile, word: &str) -> String {
    let odd = match word {
        "P" => "pressure-coil".to_owned(),
        "S" => "fan-speed-sensor".to_owned(),
        "U" => "pump-speed-sensor".to_owned(),
        word => format!("coil-{}", word.to_lowercase()),
    };
    let known = |id: &str| profile.circuits.iter().any(|circuit| circuit.id.as_str() == id);
    if known(word) { word.to_owned() } else { odd }
}

/// The invented parts of `parts.toml`, as whole profiles.
pub fn parts(folder: &Path) -> BTreeMap<String, Profile> {
    let text = std::fs::read_to_string(folder.join("parts.toml")).expect("parts.toml is there");
    let table: Table = toml::from_str(&text).unwrap_or_else(|error| panic!("parts.toml: {error}"));
    let of = |value: &Value| value.as_table().expect("a table").clone();
    of(&table["part"])
        .iter()
        .map(|(name, part)| {
            let text = toml::to_string(&whole(name, &of(part))).expect("a table");
            let profile = profile::parse(name, &text).unwrap_or_else(|error| {
                panic!(
                    "part {name}: {error}\n{:?}\n{text}",
                    error.faults().map(|faults| faults.list().to_vec())
                )
            });
            (name.clone(), profile)
        })
        .collect()
}

/// A profile around a part: what each must have is added.
fn whole(name: &str, part: &Table) -> Table {
    let text = |text: &str| Value::String(text.to_owned());
    let mut circuits: Vec<Table> = part.get("circuits").map_or(Vec::new(), |list| {
        list.as_array()
            .expect("a list")
            .iter()
            .map(|one| one.as_table().expect("a circuit").clone())
            .collect()
    });
    if let Some(members) = part.get("members") {
        let members: Vec<&str> = members.as_str().expect("ids").split_whitespace().collect();
        let shared = part["shared"].as_bool().expect("true or false");
        for (at, id) in members.iter().enumerate() {
            let (pin, against) = if shared { (at + 1, members.len() + 1) } else { (2 * at + 1, 2 * at + 2) };
            let mut one = Table::new();
            one.insert("id".to_owned(), text(id));
            one.insert("pin".to_owned(), text(&pin.to_string()));
            one.insert("against".to_owned(), text(&against.to_string()));
            one.insert("family".to_owned(), text("set"));
            circuits.push(one);
        }
    }
    let mut pins: Vec<String> = Vec::new();
    for circuit in &mut circuits {
        let id = circuit["id"].as_str().expect("an id").to_owned();
        circuit.insert("name".to_owned(), text(&id.replace('-', " ")));
        for end in ["pin", "against"] {
            let pin = match &circuit[end] {
                Value::String(pin) => pin.clone(),
                other => other.to_string(),
            };
            if !pins.contains(&pin) {
                pins.push(pin);
            }
        }
    }
    let pins = pins
        .iter()
        .zip(1i64..)
        .map(|(pin, column)| {
            Value::Table(Table::from_iter([
                ("pin".to_owned(), text(pin)),
                ("row".to_owned(), Value::Integer(1)),
                ("column".to_owned(), Value::Integer(column)),
            ]))
        })
        .collect();
    let mut all = Table::from_iter([
        ("id".to_owned(), text(name)),
        ("title".to_owned(), text(name)),
        ("invented".to_owned(), Value::Boolean(true)),
        ("source".to_owned(), text("invented")),
        ("cautions".to_owned(), Value::Array(vec![text("Stop rather than guess.")])),
        (
            "connector".to_owned(),
            Value::Table(Table::from_iter([
                ("title".to_owned(), text("plug")),
                ("seen_from".to_owned(), text("looking into the pins")),
                ("pins".to_owned(), Value::Array(pins)),
            ])),
        ),
        (
            "gate".to_owned(),
            Value::Array(vec![Value::Table(Table::from_iter([
                ("id".to_owned(), text("supply-off")),
                ("instruction".to_owned(), text("Supply off.")),
                ("confirm".to_owned(), text("supply off")),
            ]))]),
        ),
        ("circuit".to_owned(), Value::Array(circuits.into_iter().map(Value::Table).collect())),
    ]);
    if let Some(family) = part.get("family") {
        let mut family = family.as_table().expect("a family").clone();
        family.insert("id".to_owned(), text("set"));
        family.insert("title".to_owned(), text("all of them"));
        all.insert("family".to_owned(), Value::Array(vec![Value::Table(family)]));
    }
    all
}
