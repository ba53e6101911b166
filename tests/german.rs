//! A whole session by keys in German: what the session itself says has no English in it, and the English one no German.
//!
//! The shipped profile's own texts (gates, names of circuits) are in one language, so lines count from the leads on.

mod keyed;

use keyed::{Keyed, PREPARATION, SOUND};

/// Words that lines of one language have and those of the other never.
const ENGLISH: &[&str] = &[
    "the", "in", "out", "say", "says", "asks", "meter", "probes", "leads", "hold", "to", "read", "left",
    "paused",
];
const GERMAN: &[&str] = &[
    "der",
    "die",
    "das",
    "innerhalb",
    "sagen",
    "sagt",
    "fragt",
    "gegen",
    "noch",
    "alles",
    "messleitungen",
    "pause",
];

/// The lines of a session with every kind of answer, from the leads on.
fn transcript(language: &str, mark: &str) -> Vec<String> {
    let data = tempfile::tempdir().unwrap();
    let mut session = Keyed::start(data.path(), &["--language", language]);
    session.answer_to("n");
    for line in PREPARATION.iter().take(PREPARATION.len() - 1) {
        session.answer_to(line);
    }
    let typed = |shown: &str| shown.replace('.', mark);
    let mut lines = vec![session.answer_to(&typed(PREPARATION[PREPARATION.len() - 1]))];
    lines.push(session.answer_to(&typed(SOUND[0])));
    for line in ["-", &typed(SOUND[0]), "*"] {
        lines.push(session.answer_to(line));
    }
    for shown in &SOUND[2..] {
        lines.push(session.answer_to(&typed(shown)));
    }
    lines
}

fn words(line: &str) -> Vec<String> {
    line.to_lowercase().split(|letter: char| !letter.is_alphabetic()).map(str::to_owned).collect()
}

fn has(line: &str, list: &[&str]) -> Option<String> {
    words(line).into_iter().find(|word| list.contains(&word.as_str()))
}

#[test]
fn a_session_in_german_has_no_english_and_the_other_way_round() {
    let (german, english) = (transcript("de", ","), transcript("en", "."));
    assert_eq!(german.len(), english.len());
    for (ours, theirs) in german.iter().zip(&english) {
        assert_eq!(has(ours, ENGLISH), None, "{ours}");
        assert_eq!(has(theirs, GERMAN), None, "{theirs}");
        // The lists are no empty sieve.
        assert!(has(ours, GERMAN).is_some(), "{ours}");
        assert!(has(theirs, ENGLISH).is_some(), "{theirs}");
    }
    assert!(german[0].contains("Messleitungen 0,200"), "{}", german[0]);
    assert!(german[1].contains("5,401. Innerhalb."), "{}", german[1]);
    assert!(german.iter().any(|line| line.contains("Überlauf")));
}

#[test]
fn a_comma_is_understood_in_english_too() {
    let data = tempfile::tempdir().unwrap();
    let mut session = Keyed::start(data.path(), &["--language", "en"]);
    session.answer_to("n");
    for line in &PREPARATION[..PREPARATION.len() - 1] {
        session.answer_to(line);
    }
    assert!(session.answer_to("0,200").contains("Leads 0.200"));
    assert!(session.answer_to("5,401").contains("5.401. In."));
}

#[test]
fn a_language_that_is_not_there_is_named_with_those_that_are() {
    let data = tempfile::tempdir().unwrap();
    let run = keyed::bothhands(data.path())
        .args(["--profile", "sweeper-valve-block", "--meter", "handheld-60000", "--keys", "--language", "xx"])
        .output()
        .unwrap();
    let told = String::from_utf8_lossy(&run.stderr).replace(['\n', '│'], " ");
    assert!(!run.status.success() && told.contains("\"xx\"") && told.contains("en, de"), "{told}");
}
