//! A part that nobody described: measured by keys, named while measuring, its families found, and what was learned used on the next one.

mod keyed;

use keyed::{Keyed, PREPARATION, bothhands};
use std::path::Path;

/// Eleven circuits against pin 12: eight coils of which the seventh is shorted in part, a stronger coil, two sensors.
const FIRST: [&str; 11] =
    ["5.401", "5.398", "5.420", "5.385", "5.411", "5.390", "2.916", "5.414", "24.301", "331.20", "599.57"];
/// Another such part: its third coil is open.
const SECOND: [&str; 11] =
    ["5.381", "5.388", "*", "5.395", "5.401", "5.380", "5.377", "5.404", "24.101", "329.90", "590.12"];

/// The pin that a line asks for: the last one that it names and that is read.
fn asked(line: &str) -> Option<usize> {
    let starts = line.match_indices("in ").filter(|(at, _)| line[..*at].ends_with(['P', 'p']));
    let pins = starts.filter_map(|(at, _)| {
        let digits: String = line[at + 3..].chars().take_while(char::is_ascii_digit).collect();
        digits.parse::<usize>().ok()
    });
    pins.filter(|pin| (1..=11).contains(pin)).last()
}

/// Makes safe, gives the names, and reads whatever pin is asked for until all is read.
fn measure(session: &mut Keyed, names: &[&str], shown: &[&str; 11]) -> String {
    let mut line = PREPARATION.iter().map(|line| session.answer_to(line)).last().unwrap();
    for name in names {
        line = session.answer_to(name);
    }
    for _ in 0..40 {
        if line.contains("All read") {
            return line;
        }
        let pin = asked(&line).unwrap_or_else(|| panic!("no pin is asked for: {line}"));
        line = session.answer_to(shown[pin - 1]);
    }
    panic!("it does not end: {line}");
}

fn learned(journal: &Path) -> std::path::PathBuf {
    journal.with_file_name("learned.toml")
}

#[test]
fn what_one_part_taught_judges_the_next_one() {
    let data = tempfile::tempdir().unwrap();
    let args = ["--pins", "12", "--common", "12", "--meter", "handheld-60000", "--keys", "--plain"];
    let mut session = Keyed::run(data.path(), args.into_iter());
    let names = ["1 = coil A", "9=Main valve", "2 = coil A", "3 = "];
    let mut line = PREPARATION.iter().map(|line| session.answer_to(line)).last().unwrap();
    for (name, said) in names.iter().zip([
        "Pin 1 is coil A. Pin 1 to pin 12, coil A.",
        "Pin 9 is Main valve.",
        "\u{201c}coil A\u{201d} is no name here",
        "is not understood",
    ]) {
        line = session.answer_to(name);
        assert!(line.contains(said), "{line}");
    }
    for _ in 0..40 {
        if line.contains("All read") {
            break;
        }
        // What was not understood is asked for again by "repeat".
        line = match asked(&line) {
            Some(pin) => session.answer_to(FIRST[pin - 1]),
            None => session.answer_to(FIRST[0]),
        };
    }
    let journal = session.journal.clone();
    let end = session.finish();
    assert!(end.contains("Circuit 7 failed"), "{end}");
    assert!(end.contains("Main valve"), "{end}");
    let text = std::fs::read_to_string(learned(&journal)).unwrap();
    assert!(text.starts_with("# LEARNED from one part in session "), "{text}");
    assert!(text.contains("like = \"coil A\"") && text.contains("name = \"Main valve\""), "{text}");
    let checked = bothhands(data.path()).args(["check", "profile"]).arg(learned(&journal)).output().unwrap();
    assert!(checked.status.success(), "{}", String::from_utf8_lossy(&checked.stdout));

    let profile = learned(&journal).display().to_string();
    let args = ["--profile", &profile, "--meter", "handheld-60000", "--keys", "--plain"];
    let mut session = Keyed::run(data.path(), args.into_iter());
    measure(&mut session, &[], &SECOND);
    let end = session.finish();
    let headline = end.lines().find(|line| line.contains("ircuit 3")).unwrap_or_default();
    assert!(headline.contains("open") || headline.contains("failed"), "{end}");
    assert!(end.contains("no maker's figures"), "the record says where the limits come from: {end}");
}

/// Without a profile and without a terminal somebody is told what to write.
#[test]
fn a_script_without_a_part_is_told_what_to_write() {
    let data = tempfile::tempdir().unwrap();
    let output =
        bothhands(data.path()).args(["--meter", "handheld-6000", "--keys"]).write_stdin("").output().unwrap();
    assert!(!output.status.success());
    assert!(String::from_utf8_lossy(&output.stderr).contains("--profile"));
}
