use super::*;
use crate::profile::{faults::Found, raw_part};
use std::collections::BTreeSet;
use toml::de::DeTable;

/// The keys that the schema knows at a way of keys (`circuit.window`).
fn keys_at(root: &Value, way: &str) -> BTreeSet<String> {
    let mut here: Vec<&Value> = vec![root];
    for step in way.split('.').filter(|step| !step.is_empty()) {
        here = here
            .into_iter()
            .flat_map(|one| tables(root, one))
            .filter_map(|one| one["properties"].get(step))
            .collect();
    }
    let tables = here.into_iter().flat_map(|one| tables(root, one));
    tables.filter_map(|one| one["properties"].as_object()).flat_map(|all| all.keys().cloned()).collect()
}

/// All tables that a schema may stand for: through references, alternatives and lists.
fn tables<'a>(root: &'a Value, schema: &'a Value) -> Vec<&'a Value> {
    if let Some(name) = schema["$ref"].as_str() {
        return tables(root, &root["$defs"][name.trim_start_matches("#/$defs/")]);
    }
    let alternatives = ["anyOf", "oneOf"].into_iter().filter_map(|key| schema[key].as_array()).flatten();
    let inner = alternatives.chain(schema.get("items")).flat_map(|one| tables(root, one));
    let own = schema.get("properties").map(|_| schema);
    own.into_iter().chain(inner).collect()
}

/// Profiles that have every table somewhere.
const TEXTS: [&str; 3] = [
    include_str!("../../tests/profile_refusals/pump.toml"),
    include_str!("../../profiles/sweeper-valve-block.toml"),
    include_str!("../../profiles/sweeper-sensor-pack.toml"),
];

#[test]
fn schema_and_reader_know_the_same_keys() {
    let schema = schema();
    let mut ways = BTreeSet::new();
    for text in TEXTS {
        let mut found = Found::new(text, "en");
        let (table, _) = DeTable::parse_recoverable(text);
        raw_part::profile(table.get_ref(), &mut found);
        for (way, known) in &found.known {
            let known: BTreeSet<String> = known.iter().map(|key| (*key).to_owned()).collect();
            assert_eq!(keys_at(schema.as_value(), way), known, "at {way:?}");
            ways.insert(way.clone());
        }
    }
    let reached: Vec<&str> = ways.iter().map(String::as_str).collect();
    for way in ["", "connector", "connector.pins", "gate", "harness_gate", "code", "family", "circuit"] {
        assert!(reached.contains(&way), "{way} was not read");
    }
    for way in [
        "family.window",
        "circuit.kind",
        "circuit.kind.points",
        "circuit.suppression",
        "family.harness",
        "voltage_drop",
    ] {
        assert!(reached.contains(&way), "{way} was not read");
    }
}

#[test]
fn every_key_says_what_it_is_and_what_holds_without_it() {
    let reference = reference();
    for line in reference.lines().filter(|line| line.starts_with("| `")) {
        let cells: Vec<&str> = line.split(" | ").collect();
        assert!(cells.len() == 3 && cells[1].len() > 3, "{line}");
    }
    assert!(!reference.contains("null"), "{reference}");
}

/// The page that stands in the documentation is the one that the schema gives. With BOTHHANDS_WRITE_FORMAT set it is written.
#[test]
fn the_format_page_is_made_of_the_schema() {
    const BEGIN: &str = "<!-- made of the schema: from here -->\n";
    const END: &str = "<!-- to here -->\n";
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("src/profile/format.md");
    let page = std::fs::read_to_string(&path).unwrap();
    let (head, rest) = page.split_once(BEGIN).expect("the page has the mark");
    let (old, tail) = rest.split_once(END).expect("the page has the mark");
    if std::env::var_os("BOTHHANDS_WRITE_FORMAT").is_some() {
        std::fs::write(&path, format!("{head}{BEGIN}{}{END}{tail}", reference())).unwrap();
    } else {
        assert_eq!(old, reference(), "set BOTHHANDS_WRITE_FORMAT=1 to write it anew");
    }
}
