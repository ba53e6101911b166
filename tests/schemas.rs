//! The forms for other programs: the schemas that are committed are those that the program makes, and what it prints fits them.

mod keyed;

use bothhands::{report, verdict};
use keyed::bothhands;
use serde_json::{Value, json};
use std::{fs, path::PathBuf};

/// The committed schema and the one that is made. With BOTHHANDS_WRITE_SCHEMAS set it is written.
fn schema(name: &str, made: Value) -> Value {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join(format!(".docs/{name}.schema.json"));
    let text = serde_json::to_string_pretty(&made).unwrap() + "\n";
    if std::env::var_os("BOTHHANDS_WRITE_SCHEMAS").is_some() {
        fs::write(&path, &text).unwrap();
    }
    let committed = fs::read_to_string(&path).unwrap();
    let differs = committed.lines().zip(text.lines()).find(|(one, other)| one != other);
    assert!(
        committed == text,
        "{name} differs, first in {differs:?}: run the test once with BOTHHANDS_WRITE_SCHEMAS=1, and look at the difference"
    );
    serde_json::from_str(&committed).unwrap()
}

fn record_schema() -> Value {
    schema("record", report::record_schema().to_value())
}

fn judgement_schema() -> Value {
    schema("judgement", verdict::judgement_schema().to_value())
}

/// A reader passes over keys that it does not know; here each has to be in the schema.
fn strict(schema: &mut Value) {
    match schema {
        Value::Object(object) => {
            if object.contains_key("properties") {
                object.insert("additionalProperties".to_owned(), false.into());
            }
            object.values_mut().for_each(strict);
        }
        Value::Array(list) => list.iter_mut().for_each(strict),
        _ => {}
    }
}

fn faults(mut schema: Value, document: &Value) -> Vec<String> {
    strict(&mut schema);
    let validator = jsonschema::validator_for(&schema).unwrap();
    validator.iter_errors(document).map(|fault| format!("{}: {fault}", fault.instance_path())).collect()
}

fn printed(arguments: &[&str]) -> Value {
    let data = tempfile::tempdir().unwrap();
    let output = bothhands(data.path()).args(arguments).assert().success();
    serde_json::from_slice(&output.get_output().stdout).unwrap()
}

#[test]
fn records_fit_their_schema() {
    let schema = record_schema();
    let journals = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/journals");
    for name in ["concluded", "high-leads", "killed", "resumed"] {
        let journal = journals.join(format!("{name}.jsonl"));
        for more in [&[][..], &["--judge-again"]] {
            let document = printed(&[&["report", journal.to_str().unwrap(), "--as", "json"], more].concat());
            assert_eq!(faults(schema.clone(), &document), [""; 0], "{name} {more:?}");
        }
    }
}

#[test]
fn judgements_fit_their_schema() {
    let schema = judgement_schema();
    let sound = "circuit,reading\ncoil-a,5.4\ncoil-b,5.4\ncoil-c,5.42\ncoil-d,5.39\n";
    let faults_in = "circuit,reading,station,contact\ncoil-a,over range,,\ncoil-a,over range,,cleaned\ncoil-b,5.4,,\n\
                     coil-c,2.9,,\ncoil-d,5.4,,wiggled\ncoil-e,unstable,,\ncoil-f,5.4,harness,\npressure-coil,0.2,,\n\
                     coil-g,not taken,,\ncoil-h,120 k,case,\n";
    for readings in [sound, faults_in] {
        for more in [&[][..], &["--leads", "0.2", "--temperature", "15..25", "--code", "P0001=coil-a"]] {
            let data = tempfile::tempdir().unwrap();
            let output = bothhands(data.path())
                .args(["judge", "sweeper-valve-block", "-"])
                .args(more)
                .write_stdin(readings)
                .assert()
                .success();
            let document: Value = serde_json::from_slice(&output.get_output().stdout).unwrap();
            assert_eq!(faults(schema.clone(), &document), [""; 0], "{readings} {more:?}");
        }
    }
}

/// What does not fit is found: a wrong type, a key too few, a key that nobody knows, a word that is none.
#[test]
fn what_does_not_fit_is_found() {
    let schema = record_schema();
    let journal = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/journals/concluded.jsonl");
    let document = printed(&["report", journal.to_str().unwrap(), "--as", "json"]);
    let spoiled = |way: &str, value: Option<Value>| {
        let mut document = document.clone();
        let (parent, key) = way.rsplit_once('/').unwrap();
        let object = document.pointer_mut(parent).unwrap().as_object_mut().unwrap();
        match value {
            Some(value) => object.insert(key.to_owned(), value),
            None => object.remove(key),
        };
        faults(schema.clone(), &document)
    };
    for (way, value) in [
        ("/record/readings/0/id", Some(json!("1"))),
        ("/record/readings/0/reading/value/number", Some(json!(5.4))),
        ("/record/ending", Some(json!("over"))),
        ("/record/judgement/conclusion/headline", None),
        ("/record/judgement/findings/0/resistance", Some(json!("5.2"))),
        ("/record/profile/circuits/0/colour", Some(json!("red"))),
        ("/record/begun", Some(json!(0))),
        ("/kind", None),
    ] {
        assert_ne!(spoiled(way, value), [""; 0], "{way}");
    }
}
