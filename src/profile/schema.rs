//! Owns the description of a profile's file: the JSON Schema that editors complete and check by, and the reference made of it.
//!
//! The types here are never filled: the reader is written by hand, so that all faults come at once ([`super::load`]). A test holds
//! both together: a key that one of them knows and the other does not fails it. In a field's comment, what holds when the key is
//! left out stands behind "Left out:".

use schemars::{JsonSchema, Schema, SchemaGenerator, generate::SchemaSettings};
use serde_json::Value;
use std::{collections::BTreeMap, fmt::Write as _};

/// A profile: what is known of a part that has pins.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields, title = "bothhands profile")]
#[allow(dead_code, reason = "only its schema is used")]
struct ProfileFile {
    /// Version of the format: 2. Left out: read as well; older files have none.
    #[schemars(range(min = 1, max = 2))]
    version: Option<u8>,
    /// Identifier; the file is called as it. Left out: made of `title`.
    id: Option<Identifier>,
    /// What a person calls the part.
    title: Text,
    /// `true` where the part does not exist: every screen, sheet and report says so. Left out: `false`.
    invented: Option<bool>,
    /// Where the figures come from.
    source: Text,
    /// Shown and spoken at the start, at least one. Left out: the usual ones.
    cautions: Option<Vec<Text>>,
    /// For the conclusion. Left out: none.
    further_checks: Option<Vec<Text>>,
    /// `true` where nobody knows which circuits are alike: families are then found from the readings, and called found. Only without
    /// `[[family]]`. Left out: `false`.
    families_from_readings: Option<bool>,
    /// The pin that one probe stays on, for all circuits that have no `against`. Left out: each circuit has its own.
    common: Option<Label>,
    /// Limits for the whole part, below. Left out: common practice is taken, and said to be.
    voltage_drop: Option<Drop>,
    /// The connector; where there are several, each a `[[connector]]` with an `id`. Left out: made of the pins that the circuits name.
    connector: Option<OneOrMore<Connector>>,
    /// What has to be safe before measuring, below. Left out: the usual nine.
    gate: Option<Vec<Gate>>,
    /// What has to be safe before measuring at the control unit's plug; the keys are those of a gate. Left out: the program's own.
    harness_gate: Option<Vec<Gate>>,
    /// What has to be safe before measuring from a pin to the case; the keys are those of a gate. Left out: the program's own.
    case_gate: Option<Vec<Gate>>,
    /// Codes that a control unit may have stored. Left out: codes are not asked for.
    code: Option<Vec<Code>>,
    /// Circuits that should read alike. Left out: none but those made by `like`.
    family: Option<Vec<Family>>,
    /// The circuits, in the order in which they are measured; at least one that may be measured.
    circuit: Vec<Circuit>,
}

/// Lower case letters a to z, digits and single dashes between them, at most 40 characters.
#[derive(JsonSchema)]
#[allow(dead_code, reason = "only its schema is used")]
struct Identifier(#[schemars(regex(pattern = "^[a-z0-9]+(-[a-z0-9]+)*$"), length(max = 40))] String);

/// A text, or one for each language: `{ en = "coil A", de = "Spule A" }`.
#[derive(JsonSchema)]
#[schemars(untagged)]
#[allow(dead_code, reason = "only its schema is used")]
enum Text {
    One(#[schemars(length(min = 1, max = 600))] String),
    Languages(BTreeMap<String, String>),
}

/// A name as moulded or printed: one to four letters and digits (`4`, `"B2"`), of several connectors `"X1/4"`.
#[derive(JsonSchema)]
#[schemars(untagged)]
#[allow(dead_code, reason = "only its schema is used")]
enum Label {
    Text(String),
    Number(u32),
}

#[derive(JsonSchema)]
#[schemars(untagged)]
#[allow(dead_code, reason = "only its schema is used")]
enum OneOrMore<T> {
    One(T),
    More(Vec<T>),
}

/// A connector, as seen from the side that is probed.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
#[allow(dead_code, reason = "only its schema is used")]
struct Connector {
    /// Its name where there are several: pins are then called `X1/4`. Left out: there is one.
    id: Option<Label>,
    /// What a person calls it. Left out: the title of the profile.
    title: Option<Text>,
    /// From where the pins are drawn, in words. Left out: only where no pin has a place.
    seen_from: Option<Text>,
    /// The pins: a name each, or a table each. Left out: those that the circuits name.
    pins: Option<Vec<PinOrName>>,
}

#[derive(JsonSchema)]
#[schemars(untagged)]
#[allow(dead_code, reason = "only its schema is used")]
enum PinOrName {
    Name(Label),
    Pin(Pin),
}

/// One pin.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
#[allow(dead_code, reason = "only its schema is used")]
struct Pin {
    /// Its name, unique, upper and lower case and leading zeros aside.
    pin: Label,
    /// 1 to 255, from the top. Left out: nobody knows; then no pin has one, and the picture is a list.
    row: Option<u8>,
    /// 1 to 255, from the left; no two pins at one place. Left out: with `row`.
    column: Option<u8>,
    /// What the pin is for. Left out: nothing is shown.
    label: Option<Text>,
}

/// Something to be made safe, confirmed by a phrase. The three lists of gates share no `id`; within each no phrase occurs twice.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
#[allow(dead_code, reason = "only its schema is used")]
struct Gate {
    /// Identifier, unique among the gates.
    id: Identifier,
    /// What to do, spoken and shown.
    instruction: Text,
    /// Two to five lower case words that say what was done, unique; the recogniser has to know them.
    confirm: String,
    /// So many minutes have to pass, 1 to 255; they are timed aloud. Left out: nothing to wait for.
    wait_minutes: Option<u8>,
}

/// A code that a control unit may have stored.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
#[allow(dead_code, reason = "only its schema is used")]
struct Code {
    /// What the scan tool shows and a keypad types: one to six digits, unique.
    number: Label,
    /// Identifier of the circuit that it names.
    circuit: Identifier,
    /// What it says, in the maker's words. Left out: nothing is shown.
    meaning: Option<Text>,
}

/// Circuits that should read alike: each is the others' reference.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
#[allow(dead_code, reason = "only its schema is used")]
struct Family {
    /// Identifier, unique among the families; two circuits or more name it, all of one kind.
    id: Identifier,
    /// What a person calls it.
    title: Text,
    /// How far sound members may differ from their common value: half-width in percent, above 0, at most 50. Left out: what the
    /// window says in percent, else 4 (common practice, no source).
    tolerance_percent: Option<f64>,
    /// How much probing alone changes a reading: half-width, 0.001 to 10 Ω. Left out: 0.05 (common practice, no source).
    contact_ohm: Option<f64>,
    #[schemars(flatten)]
    shared: Shared,
}

/// One circuit: two pins and what is between them.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
#[allow(dead_code, reason = "only its schema is used")]
struct Circuit {
    /// Identifier, unique among the circuits. Left out: made of `name`.
    id: Option<Identifier>,
    /// Spoken before every reading: at most 40 characters, different from the others by ear.
    name: Text,
    /// The pin that is probed. Where several circuits are probed there, each is spoken of by its name or both its ends: `c 2-3 5.1`.
    pin: Label,
    /// The pin that it is measured against; no other circuit lies between the same two pins. Left out: `common`.
    against: Option<Label>,
    /// Identifier of its family. Left out: that of the circuit that it is `like`, else none.
    family: Option<Identifier>,
    /// Name or identifier of another circuit that it is made as: it has its figures, and both are of one family. Left out: it has its
    /// own figures.
    like: Option<String>,
    /// Why no ohmmeter may touch it; then it has no `window`, `family` or `case_limit_ohm`, and is never asked for. Left out: it is
    /// measured.
    never_ohmmeter: Option<Text>,
    /// Its end in the control unit's plug, one to four letters and digits. Left out: it is asked for by the circuit's name.
    control_pin: Option<Label>,
    /// The other end there; both or none. Left out: with `control_pin`.
    control_against: Option<Label>,
    #[schemars(flatten)]
    shared: Shared,
}

/// Keys that stand in a family for all its members, or in a circuit for itself; a circuit's own go before those of its family.
#[derive(JsonSchema)]
#[allow(dead_code, reason = "only its schema is used")]
struct Shared {
    /// What it is made of, below. Left out: one of the two needs it, unless `never_ohmmeter` stands there.
    kind: Option<KindOrName>,
    /// What a sound one reads. In a family all members have one, or none has. Left out: it is not judged by a window.
    window: Option<WindowOrText>,
    /// What lies across the coil: `"none"`, `"diode"`, or `{ resistor_ohm = 560 }` (1 Ω to 1 MΩ, above the window). Left out: none.
    suppression: Option<Suppression>,
    /// To the case, less is leakage: 100 Ω to 1 GΩ. Left out: reported, not judged.
    case_limit_ohm: Option<f64>,
    /// The wires between part and control unit. Left out: not known.
    harness: Option<Harness>,
    /// `true` where supply voltage is switched straight onto it, so that current is voltage by resistance. Left out: `false`.
    directly_switched: Option<bool>,
    /// That voltage, 1 to 1500 V; needed with `directly_switched`, refused without; above 60 V only with `never_ohmmeter`. Left out:
    /// none.
    supply_v: Option<f64>,
    /// Limits of its own, below. Left out: those of its family, else of the whole part.
    voltage_drop: Option<Drop>,
}

#[derive(JsonSchema)]
#[schemars(untagged)]
#[allow(dead_code, reason = "only its schema is used")]
enum WindowOrText {
    /// `"5.2 ohm ± 8 %"` (`+-` does as well), `"5.2 ohm ± 0.4 ohm"`, `"4.9 to 5.5 ohm"`, `"at most 0.5 ohm"`, `"at least 1 Mohm"`;
    /// behind it perhaps `at 23 °C`, else 20 °C. 4k7 and 4,7 k are taken as well. Its source is the profile's.
    Short(String),
    Full(Window),
}

/// What a sound circuit reads, in figures. In short: `window = "5.2 ohm ± 8 %"`, `"4.9 to 5.5 ohm"`, `"at most 0.5 ohm"` or
/// `"at least 1 Mohm"`, behind it perhaps `at 23 °C` (else 20 °C); its source is then the profile's.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
#[allow(dead_code, reason = "only its schema is used")]
struct Window {
    /// The lowest sound value; above 0, except for kind `wire`.
    low_ohm: f64,
    /// The highest sound value, above `low_ohm`, up to 1 GΩ.
    high_ohm: f64,
    /// The part temperature that they hold at, −60 to 200 °C.
    at_c: f64,
    /// Who says so.
    source: Text,
}

#[derive(JsonSchema)]
#[schemars(untagged)]
#[allow(dead_code, reason = "only its schema is used")]
enum Suppression {
    Named(String),
    Resistor(SuppressionResistor),
}

/// A resistor across a coil.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
#[allow(dead_code, reason = "only its schema is used")]
struct SuppressionResistor {
    /// The resistor alone.
    resistor_ohm: f64,
}

/// The wires between part and control unit.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
#[allow(dead_code, reason = "only its schema is used")]
struct Harness {
    /// Copper cross-section of one wire, 0.05 to 120 mm².
    conductor_mm2: f64,
    /// Length of one wire, 0.05 to 100 m; the loop is twice that.
    length_m: f64,
}

/// The most that may be lost under load. Of two limits each is taken from the nearest table that has it: circuit, family, whole part.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
#[allow(dead_code, reason = "only its schema is used")]
struct Drop {
    /// Over one joint, 0.001 to 5 V; one of the two is needed. Left out: 0.2 V, common practice without a source, and said to be.
    joint_v: Option<f64>,
    /// Over a wire with its joints, 0.001 to 5 V. Left out: 0.5 V, in the same way.
    wire_v: Option<f64>,
    /// Who says so.
    source: Text,
}

#[derive(JsonSchema)]
#[schemars(untagged)]
#[allow(dead_code, reason = "only its schema is used")]
enum KindOrName {
    Name(KindName),
    Kind(Kind),
}

#[derive(JsonSchema)]
#[schemars(rename_all = "kebab-case")]
#[allow(dead_code, reason = "only its schema is used")]
enum KindName {
    /// A copper winding: no figures.
    CopperCoil,
    /// A conductor with a linear temperature coefficient: `alpha_per_k`.
    Linear,
    /// Hardly changes with temperature: no figures.
    Resistor,
    /// A platinum sensor after IEC 60751: `r0_ohm`.
    Platinum,
    /// By the B-equation: `r_ohm` at `at_c`, and `b_k`.
    Thermistor,
    /// By table: `points`.
    ThermistorTable,
    /// Two wires of a terminated data bus: no figures.
    DataBus,
    /// A plain connection: no figures.
    Wire,
}

/// What a circuit is made of: a name alone (`kind = "copper-coil"`), or a table with the figures that the name needs
/// (`kind = { name = "platinum", r0_ohm = 1000.0 }`). Where a thermistor's figures and its window speak of the same temperature, they
/// agree; the window's temperature lies within the table.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
#[allow(dead_code, reason = "only its schema is used")]
struct Kind {
    /// Which of the kinds.
    name: KindName,
    /// For `linear`: at 20 °C, −0.01 to 0.02. Left out: only of other kinds.
    alpha_per_k: Option<f64>,
    /// For `platinum`: at 0 °C, 1 Ω to 100 kΩ. Left out: only of other kinds.
    r0_ohm: Option<f64>,
    /// For `thermistor`: 0.1 Ω to 100 MΩ. Left out: only of other kinds.
    r_ohm: Option<f64>,
    /// For `thermistor`: the temperature of `r_ohm`, −60 to 200 °C. Left out: only of other kinds.
    at_c: Option<f64>,
    /// For `thermistor`: 100 to 20 000 K. Left out: only of other kinds.
    b_k: Option<f64>,
    /// For `thermistor-table`: two or more, temperatures rising, resistances only falling or only rising. Left out: only of other kinds.
    points: Option<Vec<Point>>,
}

/// A point of a thermistor's table.
#[derive(JsonSchema)]
#[schemars(deny_unknown_fields)]
#[allow(dead_code, reason = "only its schema is used")]
struct Point {
    /// −100 to 1000 °C.
    at_c: f64,
    /// 0.1 Ω to 100 MΩ.
    ohm: f64,
}

/// The JSON Schema of a profile (draft 2020-12), for editors that complete and check TOML by one.
#[must_use]
pub fn schema() -> Schema {
    generator().into_root_schema_for::<ProfileFile>()
}

fn generator() -> SchemaGenerator {
    SchemaSettings::draft2020_12().into_generator()
}

/// The tables of the reference, in the order in which a reader needs them: heading and type.
const TABLES: [(&str, &str); 12] = [
    ("Profile", ""),
    ("`[[circuit]]`", "Circuit"),
    ("Shared keys, in a family or in a circuit", "Shared"),
    ("`window`", "Window"),
    ("`kind`", "Kind"),
    ("`points`", "Point"),
    ("`[[family]]`", "Family"),
    ("`[connector]`", "Connector"),
    ("`pins`", "Pin"),
    ("`[[gate]]`, `[[harness_gate]]`, `[[case_gate]]`", "Gate"),
    ("`[[code]]`", "Code"),
    ("`voltage_drop`, `harness`, `suppression`", "Drop Harness SuppressionResistor"),
];

/// The reference of the format, made of the schema, as Markdown.
#[must_use]
pub fn reference() -> String {
    let mut generator = generator();
    generator.subschema_for::<Shared>();
    let shared = keys(generator.definitions().get("Shared").unwrap_or(&Value::Null)).collect::<Vec<_>>();
    let shared: Vec<String> = shared.into_iter().map(|(key, _, _)| key.to_owned()).collect();
    let shared_schema = generator.definitions().get("Shared").cloned().unwrap_or_default();
    let root = schema();
    let mut out = String::new();
    for (heading, names) in TABLES {
        let mark = if names.is_empty() { "##" } else { "###" };
        let _ = writeln!(out, "{mark} {heading}\n"); // a String takes everything
        let names: Vec<&str> = if names.is_empty() { vec![""] } else { names.split(' ').collect() };
        for name in names {
            let schema = match name {
                "" => root.as_value(),
                "Shared" => &shared_schema,
                name => &root.as_value()["$defs"][name],
            };
            let text = schema["description"].as_str().unwrap_or_default().replace('\n', " ");
            let _ = writeln!(out, "{text}\n\n| key | what it is | if left out |\n|---|---|---|");
            let has_shared = name == "Family" || name == "Circuit";
            let own = keys(schema).filter(|(key, ..)| !has_shared || !shared.iter().any(|one| one == key));
            for (key, what, left_out) in own {
                let _ = writeln!(out, "| `{key}` | {what} | {left_out} |");
            }
            if has_shared {
                let _ = writeln!(out, "| shared keys | see there | as there |");
            }
            if name == "Kind" {
                for kind in root.as_value()["$defs"]["KindName"]["oneOf"].as_array().into_iter().flatten() {
                    let text = kind["description"].as_str().unwrap_or_default().replace('\n', " ");
                    let _ = writeln!(out, "| `name = {}` | {text} | |", kind["const"]);
                }
            }
            out.push('\n');
        }
    }
    out
}

/// Each key of a table: what it is, and what holds where it is left out. Those that are needed come first.
fn keys(schema: &Value) -> impl Iterator<Item = (&str, String, String)> {
    let needed: Vec<&str> =
        schema["required"].as_array().into_iter().flatten().filter_map(Value::as_str).collect();
    let properties = schema["properties"].as_object();
    let mut all: Vec<_> = properties
        .into_iter()
        .flatten()
        .map(|(key, one)| {
            let text = one["description"].as_str().unwrap_or_default().replace('\n', " ");
            let (what, left_out) = text.split_once(" Left out: ").unwrap_or((&text, "needed"));
            let tidy = |part: &str| part.trim_end_matches('.').to_owned();
            (!needed.contains(&key.as_str()), (key.as_str(), tidy(what), tidy(left_out)))
        })
        .collect();
    all.sort_by_key(|(later, _)| *later);
    all.into_iter().map(|(_, row)| row)
}

#[cfg(test)]
#[path = "schema_tests.rs"]
mod tests;
