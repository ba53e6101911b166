//! Every profile and meter that comes with the project loads, says that it is invented, and can be said and heard.

use bothhands::grammar::{Context, Grammar, Utterance};
use bothhands::profile::{self, CircuitId, CircuitKind, FamilyId, PinName, Profile};
use std::{
    collections::HashSet,
    fs,
    path::{Path, PathBuf},
};

fn project() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn toml_files(folder: &str) -> Vec<PathBuf> {
    let entries = fs::read_dir(project().join(folder)).expect("the folder is part of the project");
    let mut files: Vec<PathBuf> = entries
        .map(|entry| entry.expect("it can be listed").path())
        .filter(|path| path.extension().is_some_and(|extension| extension == "toml"))
        .collect();
    files.sort();
    files
}

fn profiles() -> Vec<Profile> {
    let load = |path: &PathBuf| profile::load(path).unwrap_or_else(|error| panic!("{}", error.rendered(110)));
    toml_files("profiles").iter().map(load).collect()
}

/// From the project's own file, whatever a person keeps under the same name.
fn shipped(id: &str) -> Profile {
    let path = project().join("profiles").join(format!("{id}.toml"));
    profile::load(&path).unwrap_or_else(|error| panic!("{}", error.rendered(110)))
}

/// The words that the recogniser's model knows.
fn model_words() -> HashSet<String> {
    let text =
        fs::read_to_string(project().join("grammars/en/ears/graph/words.txt")).expect("the model is there");
    text.lines().filter_map(|line| line.split(' ').next()).map(str::to_owned).collect()
}

#[test]
fn every_profile_loads_is_called_as_its_file_and_says_that_it_is_invented() {
    let files = toml_files("profiles");
    assert!(files.len() >= 2);
    for (path, profile) in files.iter().zip(profiles()) {
        assert_eq!(path.file_stem().unwrap().to_str(), Some(profile.id.as_str()));
        assert!(profile.invented, "{}", profile.id);
        assert!(fs::read_to_string(path).unwrap().starts_with("# INVENTED"), "{}", profile.id);
    }
}

#[test]
fn every_meter_loads_is_called_as_its_file_and_says_that_it_is_invented() {
    let files = toml_files("profiles/meters");
    assert!(files.len() >= 3);
    for path in files {
        let meter = profile::load_meter(&path).unwrap_or_else(|error| panic!("{}", error.rendered(110)));
        assert_eq!(path.file_stem().unwrap().to_str(), Some(meter.id.as_str()));
        assert!(meter.invented, "{}", meter.id);
        assert!(fs::read_to_string(&path).unwrap().starts_with("# INVENTED"), "{}", meter.id);
    }
}

#[test]
fn the_recogniser_knows_every_word_of_every_confirmation() {
    let words = model_words();
    for profile in profiles() {
        for gate in profile.gates.iter().chain(&profile.harness_gates).chain(&profile.case_gates) {
            for word in gate.confirm.split(' ') {
                assert!(words.contains(word), "{}: \"{word}\" of \"{}\"", profile.id, gate.confirm);
            }
        }
    }
}

#[test]
fn the_recogniser_knows_every_word_of_every_name_of_a_circuit_that_is_measured() {
    let words = model_words();
    for profile in profiles() {
        for circuit in profile.circuits.iter().filter(|circuit| circuit.never_ohmmeter.is_none()) {
            for word in circuit.name.to_lowercase().split(' ') {
                assert!(words.contains(word), "{}: \"{word}\" of \"{}\"", profile.id, circuit.name);
            }
        }
    }
}

/// A confirmation that also meant a reading or a command would be one or the other by chance.
#[test]
fn confirmations_mean_nothing_else() {
    let grammar = Grammar::builtin("en").expect("it comes with the program");
    for profile in profiles() {
        let here = Context::of_profile(&profile);
        let elsewhere = Context { phrases: Vec::new(), ..here.clone() };
        for gate in &profile.gates {
            let heard = grammar.parse(&gate.confirm, &here);
            assert_eq!(heard, Some(Utterance::Phrase(gate.confirm.clone())), "{}", profile.id);
            assert_eq!(grammar.parse(&gate.confirm, &elsewhere), None, "{}: {}", profile.id, gate.confirm);
        }
    }
}

#[test]
fn every_pin_of_a_shipped_profile_has_a_label_and_every_window_a_source() {
    for profile in profiles() {
        assert!(profile.connector.pins.iter().all(|pin| pin.label.is_some()));
        assert!(profile.circuits.iter().filter_map(|c| c.window.as_ref()).all(|w| !w.source.is_empty()));
    }
}

#[test]
fn the_valve_block_is_what_the_rest_of_the_project_counts_on() {
    let block = shipped("sweeper-valve-block");
    assert_eq!(block.connector.pins.len(), 16);
    assert_eq!(block.connector.pins.iter().map(|pin| (pin.row, pin.column)).max(), Some((2, 8)));
    let coils = FamilyId::from("main-coils");
    let members: Vec<_> = block.members(&coils).collect();
    assert_eq!(members.len(), 8);
    for (index, coil) in members.iter().enumerate() {
        assert_eq!(coil.pin, PinName((index + 1).to_string()));
        assert_eq!(coil.against, PinName::from("16"));
        assert_eq!(coil.kind, CircuitKind::CopperCoil);
        let window = coil.window.as_ref().expect("from the family");
        assert!(window.low.get() < 5.2 && 5.2 < window.high.get() && window.at.get() == 20.0);
        assert_eq!(coil.harness.as_ref().map(|harness| harness.length_m), Some(4.2));
    }
    assert_eq!(block.circuits.len(), 11);
    let pressure = block.circuit(&CircuitId::from("pressure-coil")).unwrap();
    assert!(pressure.family.is_none() && pressure.window.as_ref().unwrap().low.get() > 20.0);
    assert!(!pressure.directly_switched && pressure.supply.is_none());
}

#[test]
fn the_sensor_pack_has_every_kind_that_the_valve_block_lacks() {
    let pack = shipped("sweeper-sensor-pack");
    let kind = |id: &str| &pack.circuit(&CircuitId::from(id)).unwrap().kind;
    assert!(matches!(kind("exhaust-sensor"), CircuitKind::Platinum { r0 } if r0.get() == 1000.0));
    assert!(matches!(kind("oil-sensor"), CircuitKind::ThermistorTable { points } if points.len() == 7));
    assert!(matches!(kind("air-sensor"), CircuitKind::Thermistor { b_k, .. } if *b_k == 3500.0));
    assert!(matches!(kind("data-bus"), CircuitKind::DataBus));
    assert!(matches!(kind("shield"), CircuitKind::Wire));
    // IEC 60751, table of resistances: a Pt100 has 107.79 ohms at 20 degrees Celsius, so a Pt1000 ten times that.
    let window = pack.circuit(&CircuitId::from("exhaust-sensor")).unwrap().window.as_ref().unwrap();
    assert!(window.at.get() == 20.0 && window.low.get() < 1077.9 && 1077.9 < window.high.get());
    let squib = pack.circuit(&CircuitId::from("extinguisher-squib")).unwrap();
    assert!(squib.never_ohmmeter.is_some() && squib.window.is_none());
}

#[test]
fn what_is_found_carries_its_text() {
    let path = project().join("profiles/sweeper-valve-block.toml");
    let text = fs::read_to_string(&path).unwrap();
    let found = profile::find(path.to_str().unwrap()).unwrap();
    assert_eq!(found.text, text);
    assert_eq!(found.value, profile::parse("again", &text).unwrap());
    assert_eq!(found.path, Some(path));
}

#[test]
fn the_fingerprint_is_the_sha256_of_the_file_as_read() {
    let text = "# a comment changes the fingerprint\n".to_owned()
        + &fs::read_to_string(project().join("profiles/meters/handheld-6000.toml")).unwrap();
    let with = profile::parse_meter("with", &text).unwrap();
    let without = profile::parse_meter("without", text.split_once('\n').unwrap().1).unwrap();
    assert_ne!(with.fingerprint, without.fingerprint);
    assert_eq!(with.fingerprint.len(), 64);
    assert!(with.fingerprint.bytes().all(|byte| byte.is_ascii_digit() || (b'a'..=b'f').contains(&byte)));
}

/// The reference is complete for meters: each key that the reader asks for stands in it. For profiles it is made of the schema, which
/// is held beside the reader where both are.
#[test]
fn the_format_reference_names_every_key() {
    let reference = include_str!("../src/profile/format.md");
    let readers = [include_str!("../src/profile/raw_meter.rs")];
    let mut keys = 0;
    for line in readers.iter().flat_map(|reader| reader.lines()) {
        // Keys are the texts that are asked for: `section.number("row", ...)`, `full_scale: "full_scale_ohm",`.
        let asked =
            ["text(", "label(", "number(", "count(", "flag(", "texts(", "section(", "sections(", "_any("];
        let asks = asked.iter().any(|ask| line.contains(&format!("{ask}\"")));
        let lists = ["list: \"", "full_scale: \"", "resolution: \""].iter().any(|key| line.contains(key));
        if asks || lists {
            let key = line.split('"').nth(1).expect("there is a quote");
            let named = [format!("`{key}`"), format!("[{key}]"), format!("`{{ {key} =")];
            assert!(named.iter().any(|name| reference.contains(name)), "`{key}` is not in format.md");
            keys += 1;
        }
    }
    assert!(keys > 15, "{keys} keys found: does the pattern still fit the readers?");
    let kinds = include_str!("../src/profile/check/kinds.rs");
    let kinds = kinds.split_once("KINDS: [&str; 8] =").and_then(|(_, rest)| rest.split_once("];")).unwrap().0;
    assert_eq!(kinds.matches('"').count(), 16);
    for kind in kinds.split('"').skip(1).step_by(2) {
        assert!(reference.contains(&format!("| `name = \"{kind}\"` |")), "kind {kind} is not in format.md");
    }
}

#[test]
fn descriptions_show_pins_circuits_and_gates() {
    for profile in profiles() {
        insta::assert_snapshot!(format!("description-of-{}", profile.id), profile::describe(&profile));
    }
}

/// One gate alone is warned about, and so is "dead" without a proof of the meter before and after; nothing that comes along is doubtful.
#[test]
fn what_comes_along_is_not_doubtful_and_a_trivial_profile_is() {
    use bothhands::profile::{ProfileDoubt, doubts};
    for profile in profiles() {
        assert_eq!(doubts(&profile), [], "{}", profile.id);
    }
    let mut block = shipped("sweeper-valve-block");
    block.gates.retain(|gate| gate.id != "meter-proven-again");
    assert_eq!(doubts(&block), [ProfileDoubt::DeadUnproven { gate: "circuit-dead".to_owned() }]);
    block.gates.truncate(1);
    assert_eq!(doubts(&block), [ProfileDoubt::OneGate { confirm: "brake set".to_owned() }]);
}
