//! Journals of earlier programs keep their meaning: what was read, where, how it came in and what was said is today what it was
//! then. Their programs kept no conclusion, so they are judged by the present engine, and the record says so. Only the engine that
//! the old records were made by is held to their judgement.

mod keyed;

use keyed::bothhands as program;
use serde_json::Value;
use std::{fs, path::Path};

/// The engine that judged the old records: its name and version.
const JUDGED_BY: (Option<&str>, Option<u64>) = (Some("classes"), Some(1));

/// Says where something that stood in the old record is missing or otherwise in the new one.
fn missing(place: &str, old: &Value, new: &Value, found: &mut Vec<String>) {
    match (old, new) {
        (Value::Object(old), Value::Object(new)) => {
            for (key, value) in old {
                match new.get(key) {
                    Some(there) => missing(&format!("{place}.{key}"), value, there, found),
                    None => found.push(format!("{place}.{key} is gone")),
                }
            }
        }
        (Value::Array(old), Value::Array(new)) if old.len() == new.len() => {
            for (at, (old, new)) in old.iter().zip(new).enumerate() {
                missing(&format!("{place}[{at}]"), old, new, found);
            }
        }
        (old, new) if old == new => {}
        (old, new) => found.push(format!("{place}: was {old}, is {new}")),
    }
}

#[test]
fn the_record_of_an_old_journal_is_what_it_was() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/journals");
    for name in ["concluded", "killed", "resumed", "high-leads"] {
        let data = tempfile::tempdir().unwrap();
        let journal = data.path().join(format!("{name}.jsonl"));
        fs::copy(folder.join(format!("{name}.jsonl")), &journal).unwrap();
        let output =
            program(data.path()).arg("report").arg(&journal).args(["--as", "json"]).output().unwrap();
        assert!(output.status.success(), "{name}: {}", String::from_utf8_lossy(&output.stderr));
        let new: Value = serde_json::from_slice(&output.stdout).unwrap();
        let old: Value =
            serde_json::from_str(&fs::read_to_string(folder.join(format!("{name}.json"))).unwrap()).unwrap();
        let mut old = old;
        // It was left empty then, whatever had been read of the leads.
        old["record"].as_object_mut().unwrap().remove("further").expect("further observations");
        let basis = if old["record"]["ending"] == "concluded" { "not-kept" } else { "not-concluded" };
        assert_eq!(new["record"]["judged"]["basis"], basis, "{name}");
        assert!(new["record"]["mark"].is_null(), "{name}: it has no hashes");
        let engine = &new["record"]["judged"]["engine"];
        if (engine["name"].as_str(), engine["version"].as_u64()) != JUDGED_BY {
            old["record"].as_object_mut().unwrap().remove("judgement").expect("an old judgement");
        }
        // What stands over the record was told in English then, and is named now.
        let then = old.as_object_mut().unwrap().remove("stamps").unwrap();
        let words = bothhands::words::Words::english();
        let stamps: Vec<bothhands::report::Stamp> = serde_json::from_value(new["stamps"].clone()).unwrap();
        let now: Vec<String> = stamps.iter().map(|stamp| words.text(stamp)).collect();
        assert_eq!(then, serde_json::json!(now), "{name}");
        // So are remarks about readings, and notes.
        let mut new = new;
        let said = |value: &mut Value, words: &bothhands::words::Words| {
            let names = |value: &Value| -> Option<String> {
                let remark = serde_json::from_value::<bothhands::report::ReadingRemark>(value.clone());
                let noted = serde_json::from_value::<bothhands::report::Noted>(value.clone());
                remark.map(|one| words.text(&one)).ok().or_else(|| noted.map(|one| words.text(&one)).ok())
            };
            *value = names(value).unwrap_or_else(|| panic!("{value}")).into();
        };
        for reading in new["record"]["readings"].as_array_mut().unwrap() {
            reading["remarks"].as_array_mut().unwrap().iter_mut().for_each(|one| said(one, &words));
        }
        for note in new["record"]["notes"].as_array_mut().unwrap() {
            said(&mut note["text"], &words);
        }
        let mut found = Vec::new();
        missing(name, &old, &new, &mut found);
        assert!(found.is_empty(), "{}", found.join("\n"));
        // What was said then stands in the journal, in the words of then; reading it changes nothing of it.
        assert_eq!(fs::read(&journal).unwrap(), fs::read(folder.join(format!("{name}.jsonl"))).unwrap());
    }
}
