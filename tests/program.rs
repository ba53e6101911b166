//! The program as its user meets it, by keys alone: a whole session, and every refusal with its sentence and exit code.

mod keyed;

use keyed::{Keyed, PREPARATION, SOUND, bothhands};
use predicates::prelude::*;
use std::fs;

#[test]
fn a_whole_session_by_keys_ends_with_a_conclusion_and_its_record() {
    let data = tempfile::tempdir().unwrap();
    let mut lines: Vec<&str> = PREPARATION.to_vec();
    lines.extend(&SOUND[..5]);
    // Coil F has shorted turns; it is read once more at the end, with its terminal cleaned.
    lines.extend(["2.916", "5.4", "w 5.405"]);
    lines.extend(&SOUND[7..]);
    lines.extend([SOUND[0], "2.914", "f"]);
    let input = lines.join("\n") + "\n";
    let output = bothhands(data.path())
        .args(["--profile", "sweeper-valve-block", "--meter", "handheld-60000", "--keys", "--plain"])
        .args(["--job", "<b>job</b> 7"])
        .write_stdin(input)
        .assert()
        .success();
    let shown = String::from_utf8(output.get_output().stdout.clone()).unwrap();
    assert!(shown.contains("says     2.916. Out. Pin 7, coil G."), "{shown}");
    assert!(shown.contains("says     5.405. In. Pin 8, coil H."), "{shown}");
    assert!(shown.contains("result   Coil F failed"), "{shown}");
    assert!(shown.contains("Not excluded"), "{shown}");
    // What it came to stands on the terminal at the end, with the place of the record under it.
    let end: Vec<&str> = shown.lines().rev().take(14).collect();
    assert!(end[0].starts_with("Report:  ") && end[1].starts_with("Journal: "), "{shown}");
    assert!(end.iter().any(|line| line.starts_with("Coil F failed")), "{shown}");
    let page = shown.lines().find_map(|line| line.strip_prefix("Report:  ")).expect("the page is named");
    let html = fs::read_to_string(page).unwrap();
    assert!(html.contains("Coil F failed") && html.contains("&lt;b&gt;job"), "the page says it, escaped");
    let journal =
        shown.lines().find_map(|line| line.strip_prefix("Journal: ")).expect("the journal is named");
    // The same journal gives the same record again, in every form.
    for (form, part) in
        [("text", "Coil F failed"), ("csv", "2.914"), ("json", "\"coil-f\""), ("html", "<html")]
    {
        bothhands(data.path())
            .args(["report", journal, "--as", form])
            .assert()
            .success()
            .stdout(predicate::str::contains(part));
    }
    // It has its conclusion: there is nothing to go on with.
    bothhands(data.path())
        .args(["resume", journal, "--keys", "--plain"])
        .assert()
        .failure()
        .stderr(predicate::str::contains("conclusion"));
}

/// Every line is journalled as the value that it is, and told so to a program that asks for it.
#[test]
fn lines_are_values_in_the_journal_and_beside_plain_lines() {
    let data = tempfile::tempdir().unwrap();
    let input = PREPARATION.join("\n") + "\n5.401\nq\ny\n";
    let run = |values: bool| {
        let mut command = bothhands(data.path());
        if values {
            command.env("BOTHHANDS_VALUES", "1");
        }
        let output = command
            .args(["--profile", "sweeper-valve-block", "--meter", "handheld-60000", "--keys", "--plain"])
            .write_stdin(input.clone())
            .assert()
            .success();
        String::from_utf8(output.get_output().stdout.clone()).unwrap()
    };
    let plain = run(false);
    assert!(!plain.contains("\nvalue "), "{plain}");
    let shown = run(true);
    let value =
        |line: &str| -> Option<serde_json::Value> { serde_json::from_str(line.strip_prefix("value ")?).ok() };
    let read_back = shown
        .lines()
        .filter_map(value)
        .find(|value| value["message"]["then"]["first"]["read-back"]["judged"]["class"] == "within");
    assert_eq!(read_back.expect("the read-back")["kind"], "answer", "{shown}");
    let without: String =
        shown.lines().filter(|line| !line.starts_with("value ")).map(|line| format!("{line}\n")).collect();
    assert!(without.contains("says     5.401. In. Pin 2, coil B.\n"), "{without}");
    let path = shown.lines().find_map(|line| line.split_once("Journal: ")).expect("the journal").1;
    let journal = fs::read_to_string(path).unwrap();
    assert!(
        journal.contains("\"message\":{\"prompt\":\"leads\"}") || journal.contains("\"prompt\":\"leads\"")
    );
    assert!(journal.contains("\"opened\":\"third\""), "the rules are noted");
}

#[test]
fn killed_at_any_point_it_goes_on_with_nothing_lost() {
    let all: Vec<&str> = PREPARATION.iter().chain(&SOUND[..6]).copied().collect();
    // In the gates, after the leads, and in the middle of the round.
    for kill_after in [3, PREPARATION.len(), PREPARATION.len() + 2, all.len()] {
        let data = tempfile::tempdir().unwrap();
        let mut session = Keyed::start(data.path(), &[]);
        let mut acknowledged = Vec::new();
        for line in &all[..kill_after] {
            acknowledged.push(session.answer_to(line));
        }
        session.kill();
        let mut resumed = Keyed::resume(data.path());
        let read = kill_after.saturating_sub(PREPARATION.len());
        // Whatever was acknowledged is there; safety, temperature and leads are taken anew.
        for line in PREPARATION {
            resumed.answer_to(line);
        }
        for (pin, shown) in keyed::WORDS.iter().zip(SOUND).take(read) {
            let answer = resumed.answer_to(&format!("what was pin {pin}"));
            assert!(
                answer.contains(shown),
                "killed after {kill_after}, pin {pin}: {answer} {acknowledged:?}"
            );
        }
        for line in &SOUND[read..] {
            resumed.answer_to(line);
        }
        let last = resumed.answer_to(SOUND[0]);
        assert!(last.contains("All read."), "killed after {kill_after}: {last}");
        let end = resumed.finish();
        assert!(end.contains("result   "), "{end}");
    }
}

#[test]
fn a_torn_last_line_is_set_aside_and_the_rest_goes_on() {
    let data = tempfile::tempdir().unwrap();
    let mut session = Keyed::start(data.path(), &[]);
    for line in PREPARATION.iter().chain(&SOUND[..2]) {
        session.answer_to(line);
    }
    let journal = session.journal.clone();
    // What was said is written once it was said: a moment after it is seen here.
    let said = || {
        fs::read_to_string(&journal).unwrap().lines().last().is_some_and(|line| line.contains("\"spoken\""))
    };
    while !said() {
        std::thread::sleep(std::time::Duration::from_millis(20));
    }
    session.kill();
    // As a power failure does: the line that was written last (what was said) ends in its middle.
    let file = fs::OpenOptions::new().write(true).open(&journal).unwrap();
    file.set_len(file.metadata().unwrap().len() - 40).unwrap();
    drop(file);
    let resumed = Keyed::resume(data.path());
    assert!(resumed.opening.contains("cut off"), "{}", resumed.opening);
    assert!(resumed.opening.contains("10 left"), "{}", resumed.opening);
}

#[test]
fn a_journal_of_another_profile_is_refused_by_name() {
    let data = tempfile::tempdir().unwrap();
    let mut session = Keyed::start(data.path(), &[]);
    session.answer_to(PREPARATION[0]);
    session.kill();
    bothhands(data.path())
        .args(["resume", "--profile", "sweeper-sensor-pack", "--keys", "--plain"])
        .assert()
        .failure()
        .stderr(
            predicate::str::contains("sweeper-valve-block")
                .and(predicate::str::contains("sweeper-sensor-pack")),
        );
}

#[test]
fn input_that_ends_early_is_an_error_that_says_how_to_go_on() {
    let data = tempfile::tempdir().unwrap();
    bothhands(data.path())
        .args(["--profile", "sweeper-valve-block", "--meter", "handheld-60000", "--keys", "--plain"])
        .write_stdin("brake set\n")
        .assert()
        .failure()
        .stderr(predicate::str::contains("bothhands resume"));
}

#[test]
fn what_is_missing_or_wrong_is_named() {
    let data = tempfile::tempdir().unwrap();
    let run = |args: &[&str]| {
        let assert = bothhands(data.path()).args(args).assert().failure();
        String::from_utf8(assert.get_output().stderr.clone()).unwrap()
    };
    let error = run(&["--keys"]);
    assert!(error.contains("--profile") && error.contains("four-injectors"), "{error}");
    let error = run(&["--profile", "sweeper-valve-block", "--keys"]);
    assert!(error.contains("--meter") && error.contains("handheld-6000"), "{error}");
    let error = run(&["--profile", "no-such-part", "--meter", "handheld-6000", "--keys"]);
    assert!(error.contains("no-such-part"), "{error}");
    let error = run(&["resume", "--keys"]);
    assert!(error.contains("no session"), "{error}");
    let error = run(&["report", "no-such-journal.jsonl"]);
    assert!(error.contains("no-such-journal.jsonl"), "{error}");

    let file = data.path().join("part.toml");
    let good = fs::read_to_string("profiles/sweeper-valve-block.toml").unwrap();
    for (from, to, wanted) in [
        ("pin = 2, row", "pin = 1, row", "pin"),
        ("low_ohm = 4.9, high_ohm = 5.5", "low_ohm = 5.9, high_ohm = 5.5", "low_ohm"),
        ("tolerance_percent = 4.0", "tolerance_pct = 4.0", "tolerance_pct"),
    ] {
        let broken = good.replacen(from, to, 1);
        assert_ne!(broken, good);
        fs::write(&file, broken.replace("sweeper-valve-block\"", "part\"")).unwrap();
        let error = run(&["--profile", file.to_str().unwrap(), "--meter", "handheld-6000", "--keys"]);
        assert!(error.contains("part.toml") && error.contains(wanted), "{from}: {error}");
    }
    let journal = data.path().join("journal.jsonl");
    fs::write(&journal, "{\"hello\":1}\n{}\n").unwrap();
    let error = run(&["report", journal.to_str().unwrap()]);
    assert!(error.contains("journal.jsonl"), "{error}");
}

#[test]
fn an_unwritable_folder_refuses_before_anything_starts() {
    let data = tempfile::tempdir().unwrap();
    // A file where the folder should be: unwritable for root, too.
    let blocked = data.path().join("blocked");
    fs::write(&blocked, "").unwrap();
    bothhands(&blocked)
        .args(["--profile", "sweeper-valve-block", "--meter", "handheld-60000", "--keys", "--plain"])
        .write_stdin("")
        .assert()
        .failure()
        .stdout(predicate::str::contains("Parking brake").not())
        .stderr(predicate::str::contains("blocked"));
}

#[test]
fn a_reader_that_is_gone_is_no_reason_to_panic() {
    let data = tempfile::tempdir().unwrap();
    let mut child = std::process::Command::new(assert_cmd::cargo::cargo_bin("bothhands"))
        .arg("card")
        .env("BOTHHANDS_DATA", data.path())
        .stdout(std::process::Stdio::piped())
        .stderr(std::process::Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let output = child.wait_with_output().unwrap();
    assert!(output.status.success() && output.stderr.is_empty(), "{output:?}");
}

#[test]
fn check_and_card_serve_before_a_session() {
    let data = tempfile::tempdir().unwrap();
    bothhands(data.path())
        .args(["check", "profile", "sweeper-valve-block"])
        .assert()
        .success()
        .stdout(predicate::str::contains("coil A"));
    bothhands(data.path()).args(["check", "meter"]).assert().success();
    bothhands(data.path()).args(["check", "grammar"]).assert().success();
    bothhands(data.path())
        .args(["check", "profile", "no-such-part"])
        .assert()
        .failure()
        .stdout(predicate::str::contains("BAD"));
    bothhands(data.path())
        .args(["card", "--profile", "sweeper-valve-block"])
        .assert()
        .success()
        .stdout(predicate::str::contains("over range").and(predicate::str::contains("supply off")));
    for command in ["", "demo", "resume", "check", "report", "card"] {
        if command == "demo" && cfg!(not(feature = "voice")) {
            continue;
        }
        bothhands(data.path())
            .args(command.split_whitespace())
            .arg("--help")
            .assert()
            .success()
            .stdout(predicate::str::contains("Example:"));
    }
}
