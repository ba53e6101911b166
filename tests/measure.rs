//! The measuring command as its user meets it: a folder of real clips in, figures out; faults are named.
#![cfg(feature = "voice")]

use assert_cmd::Command;
use predicates::str::contains;
use std::path::Path;

const SPEECH: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/speech");

fn bothhands() -> Command {
    Command::cargo_bin("bothhands").unwrap()
}

/// Six clips of real people, and one of rain.
fn folder() -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    let list = std::fs::read_to_string(Path::new(SPEECH).join("transcripts.tsv")).unwrap();
    let rows: Vec<Vec<&str>> = list.lines().skip(1).map(|line| line.split('\t').collect()).collect();
    let mut lines = String::new();
    for row in rows
        .iter()
        .filter(|row| row[1] == "number")
        .take(6)
        .chain(rows.iter().filter(|row| row[1] == "noise").take(1))
    {
        std::fs::copy(Path::new(SPEECH).join(row[0]), folder.path().join(row[0])).unwrap();
        let words = if row[1] == "noise" { "" } else { row[2] };
        lines += &format!("{}\t{words}\n", row[0]);
    }
    std::fs::write(folder.path().join("transcripts.tsv"), lines).unwrap();
    folder
}

#[test]
fn figures_of_real_clips() {
    let folder = folder();
    let out = bothhands()
        .args(["measure", "--entry", "number", "--json", "--clips", "--jobs", "2"])
        .arg(folder.path())
        .assert()
        .success();
    let figures: serde_json::Value = serde_json::from_slice(&out.get_output().stdout).unwrap();
    assert_eq!((figures["clips"].as_u64(), figures["spoken"].as_u64()), (Some(7), Some(6)));
    for key in ["word_accuracy", "value_accuracy", "silently_wrong", "asked", "rejected", "false_readings"] {
        let share = figures[key].as_f64().unwrap();
        assert!((0.0..=1.0).contains(&share), "{key}: {share}");
    }
    // People speaking numbers clearly: the words are there, and nothing is wrong in silence.
    assert!(figures["word_accuracy"].as_f64().unwrap() > 0.9, "{figures}");
    assert_eq!(figures["silently_wrong"], 0.0);
    assert_eq!(figures["false_readings_count"], 0);
    assert!(figures["latency_ms"].as_f64().unwrap() > 200.0);
    assert!(figures["real_time_factor"].as_f64().unwrap() > 0.0);
    assert_eq!(figures["conditions"][0]["outcomes"].as_array().unwrap().len(), 7);
}

#[test]
fn noise_makes_a_condition_of_its_own_and_the_seed_its_sound() {
    let folder = folder();
    let run = || {
        let out = bothhands()
            .args(["measure", "--entry", "number", "--noise", "white,hum", "--snr", "20", "--seed", "3"])
            .arg(folder.path())
            .assert()
            .success();
        String::from_utf8(out.get_output().stdout.clone()).unwrap()
    };
    let table = run();
    for line in ["white 20 dB", "hum 20 dB", "all together"] {
        assert!(table.contains(line), "{table}");
    }
}

#[test]
fn what_cannot_be_measured_is_named() {
    let folder = tempfile::tempdir().unwrap();
    let measure = || {
        let mut command = bothhands();
        command.arg("measure").arg(folder.path());
        command
    };
    measure().assert().failure().stderr(contains("transcripts.tsv"));
    std::fs::write(folder.path().join("transcripts.tsv"), "a.wav\tfive\nb.wav\tsix\n").unwrap();
    std::fs::write(folder.path().join("a.wav"), "no sound at all").unwrap();
    measure().assert().failure().stderr(contains("line 2")).stderr(contains("b.wav"));
    std::fs::write(folder.path().join("transcripts.tsv"), "a.wav\tfive\n").unwrap();
    measure().assert().failure().stderr(contains("a.wav"));
    measure().args(["--band", "3400..300"]).assert().failure().stderr(contains("300..3400"));
    measure()
        .args(["--snr", "10", "--noise", "nothing.wav"])
        .assert()
        .failure()
        .stderr(contains("nothing.wav"));
}
