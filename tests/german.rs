//! A whole session by keys in German: what the session itself says has no English in it, and the English one no German.
//!
//! The shipped profile's gates are confirmed in one language, so lines count from the leads on.

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

/// Words that a conclusion in one language has and one in the other never.
const CONCLUDED_IN_ENGLISH: &[&str] = &[
    "the",
    "is",
    "are",
    "of",
    "not",
    "its",
    "reads",
    "others",
    "ohms",
    "probably",
    "measured",
    "terminal",
    "clean",
    "again",
    "readings",
    "leads",
    "sound",
    "bad",
    "failed",
    "limits",
    "range",
    "mean",
    "uncertainty",
    "yet",
    "why",
];
const CONCLUDED_IN_GERMAN: &[&str] = &[
    "der",
    "die",
    "das",
    "ist",
    "nicht",
    "kontakt",
    "messen",
    "wahrscheinlich",
    "anderen",
    "messleitungen",
    "und",
    "bauteil",
    "gemessen",
    "grenzen",
    "unsicherheit",
    "warum",
];

/// The parts of a page between marks, without its tags.
fn part(page: &str, from: &str, to: &str) -> String {
    let (_, after) = page.split_once(from).unwrap_or_else(|| panic!("{from} in {page}"));
    let inside = after.split_once(to).map_or(after, |(inside, _)| inside);
    inside
        .split('<')
        .map(|piece| piece.split_once('>').map_or(piece, |(_, text)| text))
        .collect::<Vec<_>>()
        .join(" ")
}

/// The same session to its end with one coil that is off and one that is over range: what is concluded, its page and its
/// summary. Of the profile it has the names and further checks, in its language.
fn concluded(language: &str, mark: &str) -> Vec<(&'static str, String)> {
    let data = tempfile::tempdir().unwrap();
    let mut session = Keyed::start(data.path(), &["--language", language]);
    session.answer_to("n");
    for line in PREPARATION {
        session.answer_to(&line.replace('.', mark));
    }
    for (at, shown) in SOUND.iter().enumerate() {
        let typed = match at {
            2 => "*".to_owned(),
            5 => "3.300".replace('.', mark),
            _ => shown.replace('.', mark),
        };
        session.answer_to(&typed);
    }
    let journal = session.journal.clone();
    // Circuits are to be read again: it asks whether to finish all the same.
    session.answer_to("f");
    let all = session.finish();
    let spoken = all.split_once(if language == "de" { "MESSPROTOKOLL" } else { "MEASURING RECORD" });
    let spoken = spoken.map(|(before, _)| before.to_owned()).unwrap_or_else(|| panic!("{all}"));
    let report = |form: &str| {
        let mut run = keyed::bothhands(data.path());
        run.env("BOTHHANDS_LANGUAGE", language).arg("report").arg(&journal).args(["--as", form]);
        let output = run.output().unwrap();
        assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
        String::from_utf8(output.stdout).unwrap()
    };
    let (page, summary) = (report("html"), report("text"));
    let circuits = if language == "de" { "\nSTROMKREISE\n" } else { "\nCIRCUITS\n" };
    let conclusion = if language == "de" { "\nERGEBNIS\n" } else { "\nCONCLUSION\n" };
    // The profile tells in English where its figures are from.
    let source = |text: String| text.replace("(invented)", "");
    vec![
        ("spoken", spoken),
        ("page", part(&page, "<section class=\"conclusion\">", "</section>")),
        ("derivations", source(part(&page, "<div class=\"derivations\">", "</section>"))),
        ("summary", part(&summary, conclusion, circuits)),
    ]
}

/// Whether a number with that mark stands in it.
fn has_number(text: &str, mark: char) -> bool {
    let letters: Vec<char> = text.chars().collect();
    letters.windows(3).any(|three| three[1] == mark && three[0].is_ascii_digit() && three[2].is_ascii_digit())
}

#[test]
fn a_conclusion_in_german_has_no_english_and_the_other_way_round() {
    let (german, english) = (concluded("de", ","), concluded("en", "."));
    for ((place, ours), (_, theirs)) in german.iter().zip(&english) {
        assert_eq!(has(ours, CONCLUDED_IN_ENGLISH), None, "{place}: {ours}");
        assert_eq!(has(theirs, CONCLUDED_IN_GERMAN), None, "{place}: {theirs}");
        let found = |text: &str, list: &[&str]| {
            list.iter().filter(|word| words(text).contains(&(**word).to_owned())).count()
        };
        assert!(found(ours, CONCLUDED_IN_GERMAN) > 4, "{place}: {ours}");
        assert!(found(theirs, CONCLUDED_IN_ENGLISH) > 4, "{place}: {theirs}");
        // Numbers have the language's mark, and never the other's.
        assert!(!has_number(ours, '.') && !has_number(theirs, ','), "{place}: {ours} {theirs}");
        assert!(
            *place == "spoken" || has_number(ours, ',') && has_number(theirs, '.'),
            "{place}: {ours} {theirs}"
        );
    }
}
