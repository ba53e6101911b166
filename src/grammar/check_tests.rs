//! Checks that faulty grammar files are refused, with the place of every fault.

use super::*;

const FILES: [(&str, &str); 3] = [
    ("numbers.toml", include_str!("../../grammars/en/numbers.toml")),
    ("states.toml", include_str!("../../grammars/en/states.toml")),
    ("commands.toml", include_str!("../../grammars/en/commands.toml")),
];

/// The faults after a change of the English files, without the folder; the change must be one.
fn faults(file: &str, from: &str, to: &str) -> Vec<String> {
    let folder = tempfile::tempdir().unwrap();
    for (name, text) in FILES {
        let changed = if name == file { text.replacen(from, to, 1) } else { text.to_owned() };
        assert!(name != file || changed != text, "nothing to change in {file}");
        std::fs::write(folder.path().join(name), changed).unwrap();
    }
    let place = format!("{}/", folder.path().display());
    match Grammar::load(folder.path()) {
        Err(GrammarError::Faulty(faults)) => {
            faults.iter().map(|fault| fault.to_string().replace(&place, "")).collect()
        }
        other => panic!("expected faults, got {other:?}"),
    }
}

/// The line of the first place where a file has this text.
fn line(file: &str, text: &str) -> usize {
    let (_, all) = FILES.iter().find(|(name, _)| *name == file).unwrap();
    1 + all[..all.find(text).unwrap()].matches('\n').count()
}

fn one(file: &str, from: &str, to: &str, expected: &str) {
    let expected = format!("{file}:{}{expected}", line(file, from));
    assert_eq!(faults(file, from, to), [expected], "{from} -> {to}");
}

#[test]
fn faults_have_file_line_and_key() {
    one(
        "numbers.toml",
        "hundred = [\"hundred\"]",
        "hundred = [\"ten\"]",
        ": hundred: \"ten\" has another part in numbers already",
    );
    one(
        "numbers.toml",
        "[\"fifty\"]",
        "[\"Fifty\"]",
        ": tens: \"Fifty\" must be one word in lower case without punctuation",
    );
    one("numbers.toml", "to = \"two\"", "to = \"zwei\"", ": sounds-like: \"zwei\" is no word of a number");
    one(
        "numbers.toml",
        "\"tree\",\n    \"fower\"",
        "\"trees\",\n    \"fower\"",
        ": seldom: \"trees\" is no word of a number",
    );
    one("numbers.toml", "y = [\"y\"", "yy = [\"y\"", ": letters: a key must be one letter from a to z");
    one("states.toml", "\"drifting\"", "\"open line\"", ": unstable: \"open line\" means over-range already");
    one("commands.toml", "\"louder\"]", "\"quit\"]", ": command.louder: \"quit\" means command.stop already");
    one(
        "commands.toml",
        "\"skip this\"",
        "\"skip <pin>\"",
        ": command.skip: \"skip <pin>\" has a slot that this command does not take, or lacks one that it needs",
    );
    one(
        "commands.toml",
        "\"skip this\"",
        "\"skip  this\"",
        ": command.skip: words stand apart by one blank, and none is empty",
    );
}

#[test]
fn what_is_not_toml_or_not_known_is_refused() {
    let unknown = faults("states.toml", "[unstable]", "[unstable]\ncolour = 1");
    assert!(
        unknown[0].starts_with("states.toml:") && unknown[0].contains("unknown field `colour`"),
        "{unknown:?}"
    );
    let syntax = faults("commands.toml", "[[command]]", "[[command]");
    assert!(
        syntax[0].starts_with(&format!("commands.toml:{}: ", line("commands.toml", "[[command]]"))),
        "{syntax:?}"
    );
    let verb = faults("commands.toml", "does = \"next\"", "does = \"jump\"");
    assert!(verb[0].contains("unknown variant `jump`"), "{verb:?}");
    let missing = faults("numbers.toml", "minus = [\"minus\", \"negative\"]\n", "");
    assert!(missing[0].contains("missing field `minus`"), "{missing:?}");
}

#[test]
fn all_faults_come_at_once_and_every_command_is_needed() {
    let list = faults("commands.toml", "does = \"worst\"", "does = \"why\"");
    assert_eq!(
        list,
        [
            format!(
                "commands.toml:{}: command.why: stands twice; put all its phrases in one place",
                line("commands.toml", "does = \"worst\"")
            ),
            "commands.toml: command.worst: is missing: every command needs a way to be said".to_owned(),
        ]
    );
    let digits = faults("numbers.toml", "    [\"six\"],\n", "");
    assert!(digits[0].contains("digits: needs 10 lists of at least one word, has 9"), "{digits:?}");
}

#[test]
fn what_is_not_there() {
    let folder = tempfile::tempdir().unwrap();
    let error = Grammar::load(folder.path()).unwrap_err().to_string();
    assert!(error.contains("numbers.toml") && error.contains("a grammar folder needs"), "{error}");
    let error = Grammar::builtin("xx").unwrap_err().to_string();
    assert!(error.contains("\"xx\"") && error.contains("there are: en, de"), "{error}");
}
