//! The `judge` and `trial` commands from outside.

use assert_cmd::Command;
use predicates::prelude::*;

fn bothhands() -> Command {
    Command::cargo_bin("bothhands").expect("the program is built with its tests")
}

fn judge() -> Command {
    let mut command = bothhands();
    command.args(["judge", "sweeper-valve-block"]);
    command
}

#[test]
fn a_table_becomes_findings_as_json() {
    let output = judge()
        .args(["tests/verdict_data/one-off.csv", "--meter", "handheld-60000", "--leads", "0.2"])
        .args(["--temperature", "15..25"])
        .assert()
        .success();
    let judgement: bothhands::verdict::Judgement =
        serde_json::from_slice(&output.get_output().stdout).unwrap();
    let headline = bothhands::words::Words::english().text(&judgement.conclusion.headline);
    assert!(headline.starts_with("Coil F failed: 3.10 ohms"), "{headline}");
    let finding = judgement.finding(&"coil-f".into(), bothhands::verdict::Station::Component).unwrap();
    assert!(finding.confirmed);
    assert_eq!(finding.measurements, [8, 11], "without ids the lines count");
}

#[test]
fn the_explanation_can_be_followed_by_hand() {
    judge()
        .args(["tests/verdict_data/one-off.csv", "--meter", "handheld-60000", "--leads", "0.2", "--explain"])
        .args(["--temperature", "20"])
        .assert()
        .success()
        .stdout(predicate::str::contains("3.3 − 0.2 = 3.1 Ω"))
        .stdout(predicate::str::contains("U = 2 × √(sum of squares)"))
        .stdout(predicate::str::contains("Cautions:"));
}

#[test]
fn json_from_standard_input_and_back() {
    let text = r#"{"part_temperature":null,"leads":"relative","measurements":[
        {"id":1,"circuit":"coil-a","reading":{"over-range":{"range":null}}}]}"#;
    judge().write_stdin(text).assert().success().stdout(predicate::str::contains("over-range-unchecked"));
}

#[test]
fn bad_input_is_named_with_line_and_field() {
    for (text, message) in [
        ("circuit,reading\ncoil-a,5.x\n", "line 2, field \"reading\": \"5.x\""),
        ("circuit,reading\ncoil-z,5.2\n", "line 2, field \"circuit\""),
        ("circuit,reading\n\ncoil-a\n", "line 3: 1 fields where 2 columns"),
        ("circuit,volts\n", "the column \"volts\" is not known"),
        ("circuit\n", "the column \"reading\" is missing"),
        ("id,circuit,reading\n0,coil-a,5.2\n", "numbered from 1"),
        ("", "the table is empty"),
        ("circuit,reading\ncoil-a,-5.2\n", "measurement 2: -5.2 Ω is below zero"),
        ("id,circuit,reading\n1,coil-a,5\n1,coil-b,5\n", "two observations have the number 1"),
        ("{\"leads\":\"relative\",\"measurement\":[]}", "unknown field"),
        ("{\"part_temperature\":null,\"leads\":\"relative\",\"measurements\":[],\n\"codes\":3}", "line 2"),
    ] {
        judge().write_stdin(text).assert().failure().stderr(predicate::str::contains(message));
    }
    // A field of any length, with anything in it, neither buries the message nor moves the cursor.
    let long = format!("circuit,reading\ncoil-a,\u{1b}[2J{}\n", "9".repeat(100_000));
    let output = judge().write_stdin(long).assert().failure().get_output().stderr.clone();
    assert!(output.len() < 500 && !output.contains(&0x1b));
    judge().args(["--temperature", "warm"]).write_stdin("circuit,reading\n").assert().failure();
    judge().args(["no-such-file.csv"]).assert().failure().stderr(predicate::str::contains("cannot be read"));
}

#[test]
fn the_same_seed_gives_the_same_trial() {
    let run = |seed: &str| {
        let output = bothhands().args(["trial", "--seed", seed, "--parts", "2", "--json"]).assert().success();
        serde_json::from_slice::<serde_json::Value>(&output.get_output().stdout).unwrap()
    };
    let first = run("7");
    assert_eq!(first, run("7"));
    assert_ne!(first["cells"], run("8")["cells"]);
}

/// Tables as spreadsheets of other countries write them, and refusals where a comma could mean two things.
#[test]
fn semicolons_and_decimal_commas_are_understood_where_they_mean_one_thing() {
    use bothhands::{profile, verdict::table};
    let part = profile::find("sweeper-valve-block").unwrap().value;
    let wanted =
        table::parse(&part, "circuit,reading\ncoil-a,5.21\ncoil-b,over range\ncoil-c,4.7 k\n").unwrap();
    for text in [
        "circuit;reading\ncoil-a;5,21\ncoil-b;over range\ncoil-c;4,7 k\n",
        "circuit;reading\r\ncoil-a;5.21\r\ncoil-b;O.L.\r\ncoil-c;4.7 k\r\n",
        "\u{feff}circuit\treading\ncoil-a\t5,21\ncoil-b\tover range\ncoil-c\t4,7 k\n",
        "circuit;reading\n\"coil-a\";\"5,21\"\ncoil-b;OL\ncoil-c;4,7k\n",
    ] {
        assert_eq!(table::parse(&part, text).unwrap(), wanted, "{text}");
    }
    for (text, fault) in [
        ("circuit,reading\ncoil-a,\"5,401\"\n", "line 2, field \"reading\""),
        ("circuit,reading\ncoil-a,5,401\n", "line 2: 3 fields where 2 columns"),
        ("circuit;reading\ncoil-a;5,401\ncoil-b;5.401\n", "line 3: a comma and a point both"),
        ("circuit;reading\ncoil-a;1.005,401\n", "line 2: a comma and a point both"),
    ] {
        let told = table::parse(&part, text).unwrap_err().to_string();
        assert!(told.contains(fault), "{text}: {told}");
    }
}
