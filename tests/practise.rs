//! The practice bench by keys: somebody types what the meter shows, concludes, and is told what that was worth.

mod keyed;

use std::io::{BufRead, BufReader, Write};

/// Measures what is on the bench as the session leads, answers `verdict` when asked, and gives all that was shown.
fn practised(data: &std::path::Path, args: &[&str], verdict: &str) -> String {
    let mut child = keyed::led(data).arg("practise").args(args).spawn().unwrap();
    let mut to = child.stdin.take().unwrap();
    let mut all = String::new();
    let mut asked_where = false;
    for line in BufReader::new(child.stdout.take().unwrap()).lines().map_while(Result::ok) {
        all.push_str(&line);
        all.push('\n');
        let answer = if let Some(shown) = line.strip_prefix("meter    ") {
            // Once the bench is asked itself; the session does not hear of it.
            if !std::mem::replace(&mut asked_where, true) {
                writeln!(to, "where").unwrap();
            }
            let typed = shown.trim_end_matches('Ω').trim().replace(" k", "k").replace(" M", "meg");
            Some(if typed == "over range" { "*".to_owned() } else { typed })
        } else if let Some((_, code)) = line.split_once("[type ") {
            Some(code.trim_end_matches(']').to_owned())
        } else if line.contains("Temperature of the part in degrees?") {
            let at = all.split_once(" °C. The bench").unwrap().0.rsplit_once("It is at ").unwrap().1;
            Some(at.to_owned())
        } else if line.starts_with("says") && line.contains("All read") {
            Some("f".to_owned())
        } else if line.starts_with("Your verdict first.") {
            Some(verdict.to_owned())
        } else if line.starts_with("says") && (line.contains("Yes or no") || line.contains("Say yes or no")) {
            Some("--".to_owned())
        } else if line.starts_with("asks") {
            // A doubtful form is said again, a question about the leads is answered with no.
            Some("--".to_owned())
        } else {
            None
        };
        if let Some(answer) = answer {
            // It may have ended.
            let _ = writeln!(to, "{answer}");
        }
    }
    assert!(child.wait().unwrap().success(), "{all}");
    all
}

#[test]
fn chosen_faults_are_found_and_dirt_is_no_fault() {
    let data = tempfile::tempdir().unwrap();
    let args = ["sweeper-valve-block", "--fault", "coil-c=open", "--fault", "6=dirty", "--seed", "3"];
    let all = practised(data.path(), &args, "coil C");
    assert!(all.contains("SIMULATED: Valve block"), "{all}");
    assert!(all.contains("The probes are held together."), "the bench says where they are: {all}");
    assert!(all.contains("Coil C"), "{all}");
    assert!(all.contains("What was wrong: coil C, open and coil F, a dirty terminal."), "{all}");
    assert!(
        all.contains("Score: 1 found, 0 missed, 0 replaced for nothing, 0 misread, 0 needless readings."),
        "{all}"
    );
    // The record is stamped.
    let journals = std::fs::read_dir(data.path().join("sessions")).unwrap().flatten();
    let pages: Vec<String> = journals
        .filter_map(|folder| std::fs::read_to_string(folder.path().join("record.html")).ok())
        .collect();
    assert!(pages.len() == 1 && pages[0].to_lowercase().contains("simulated"), "the page says so");
}

#[test]
fn a_wrong_verdict_is_told() {
    let data = tempfile::tempdir().unwrap();
    let args = ["four-injectors", "--fault", "injector-2=open", "--seed", "5"];
    let all = practised(data.path(), &args, "injector one, 7");
    assert!(all.contains("Score: 0 found, 1 missed, 2 replaced for nothing"), "{all}");
    assert!(all.contains("Missed: injector two. Sound: injector one and injector four."), "{all}");
}

#[test]
fn every_lesson_can_be_measured_to_its_end() {
    for lesson in ["1", "2", "3", "4", "5", "6"] {
        let data = tempfile::tempdir().unwrap();
        let all = practised(data.path(), &["--lesson", lesson, "--seed", "11"], "");
        assert!(
            all.contains("Score: 0 found,") && all.contains(" 0 misread, 0 needless"),
            "lesson {lesson}: {all}"
        );
        assert!(all.contains("What was wrong: "), "lesson {lesson}: {all}");
    }
}
